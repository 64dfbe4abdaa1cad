package water

import (
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = true
	if !in.water() {
		in.sayOil(r, a)
		return
	}
	s := r.System
	k := r.Of("conductivity-25")
	target := r.Pick("target")
	work := ""
	for _, m := range materials() {
		if m.Value == in.material {
			work = m.Label
		}
	}
	a.Headline = calc.SayRange(unit.ConductivityKind, k, s) + " at 25 °C"
	if len(target.All) == 1 {
		a.Headline += ", " + target.Likely.Value + " the usual range"
	}
	a.Lead = "That is " + unit.PrintRange(unit.ConductivityKind, k, ohms(k)) + ". Usual for " + work + ": " + unit.Fixed(float64(in.low), places(in.low)) + " to " +
		calc.Put(in.high, "µS/cm", 3) + "; this is " + labels(target) + ". At most " + calc.SayRange(unit.CurrentDensityKind, r.Of("leak"), s) + " leaks between the sparks."
	a.Used(in.targetRow)
	a.Used(in.book.Table("purewater").Rows...)
	in.sayReading(r, a)
	a.Note("The leakage current is an upper bound: bubbles, films and overpotential make it smaller, and pulses of zero mean take it away. It is proportional to the conductivity and to the mean voltage.")
	a.Note("Oil conducts so little, 10⁹ to 10¹² Ω·m, that practically no current leaks: no electrolysis and a smaller gap. The price is a slower cut and a fire load.")
	a.Caution("CAUTION", "Resin, filters and sludge hold copper, zinc, nickel and cobalt: hazardous waste unless an assay says otherwise. Fines of titanium, magnesium or aluminium can make hydrogen. The safety data sheet, the machine's manual and local rules decide.")
	a.Cite("light-2005", "abstract; other temperatures from memory, place not seen", "pure water by temperature, and what a trace of salt does")
	a.Cite("morash-1994", "place not seen", "pure water at 100 °C")
	a.Cite("light-1995", "excerpt", "water open to the air")
	a.Cite("iso-7888", "from memory", "2 % per kelvin for water with salts")
	a.Cites("iso-3696; from memory; grades of laboratory water @ of the laboratory standard")
	a.Figure = in.draw(r)
}

// sayReading says what the reading itself means and where it stops meaning much.
func (in *form) sayReading(r *calc.Result, a *calc.Answer) {
	k, floor := r.Of("conductivity-25"), r.Of("floor")
	if k.Low < floor.High {
		reads := calc.Put(unit.Conductivity(floor.High), "µS/cm", 2)
		if low := unit.Number(floor.Low, unit.Style{Decimals: 2, Trim: true}); !floor.IsPoint() {
			reads = low + " to " + reads
		}
		a.Note("Water open to the air takes up carbon dioxide and reads " + reads +
			". A set point below that holds only while a resin loop polishes the water all the time.")
	}
	in.sayTemperature(a)
	low, high := Salt(unit.Conductivity(k.Low), in.pure25), Salt(unit.Conductivity(k.High), in.pure25)
	salt := unit.Fixed(low, 1)
	if above := unit.Fixed(high, 1); above != salt {
		salt += " to " + above
	} else if high < 0.1 {
		salt = unit.Number(high, unit.Style{Decimals: 4, Trim: true})
	}
	a.Note("Dissolved salt that would read the same: about " + salt + " mg of sodium chloride in a litre.")
	if grade := r.Pick("grade"); len(grade.All) == 1 && grade.Likely.Value != "none" {
		a.Note("By conductivity alone this would pass as " + grade.Likely.Label + " of the laboratory standard. That standard asks for more than conductivity.")
	}
}

func (in *form) sayTemperature(a *calc.Answer) {
	a.Note("Conductivity and temperature of one meter belong together: write both down from the same moment, and compare readings at 25 °C only.")
	if in.compensated == "yes" {
		a.Note("The meter has corrected the reading to 25 °C, so nothing is corrected here. Check in its manual which change for each kelvin it uses.")
	} else {
		a.Note("The reading is corrected to 25 °C with " + calc.Put(in.alpha, "%", 2) + " for each kelvin. Tank water has 1.9 to 2.1 %. Ultrapure water has about 5.5 % near 25 °C, and more when it is colder.")
	}
	if in.compensated == "no" && in.alpha <= saltWater && in.k25 < 1 {
		a.Note("So clean a water changes faster than water with salts: its own ions count. Below 1 µS/cm use a meter that corrects for that, or read at 25 °C.")
	}
	a.Note("Pure water between the temperatures of the table is our own interpolation: the logarithm of the conductivity over 1/T.")
}

func (in *form) sayOil(r *calc.Result, a *calc.Answer) {
	s := r.System
	a.Headline = "Oil: practically no current leaks"
	a.Lead = "At " + calc.Say(in.v, s) + " across " + calc.Put(in.gap, gapUnit(s), 2) + " it is at most " + current(in.leak) +
		": the resistivity is 10⁹ to 10¹² Ω·m. The gap is smaller, carbide keeps its cobalt, steel does not rust. The cut is slower, and oil burns."
	a.Used(in.oil)
	a.Note("Conductivity, resistivity, the floor of open water, the resin and the usual range of the water do not apply to oil.")
	if in.flashGiven {
		a.Note("A flash point of " + calc.SayRange(unit.TemperatureKind, in.flashRange(r), s) + ": " + labels(r.Pick("ghs")) + " in the globally harmonised system; " + labels(r.Pick("clp")) +
			" in the European regulation; " + labels(r.Pick("nfpa")) + " in older editions of the American fire code.")
		a.Note("Exactly 60 °C still is category 3, exactly 93 °C still is category 4. The European regulation stops at 60 °C; gas oil, diesel and light heating oil of 55 to 75 °C may count as category 3 there.")
		a.Note("Fire does not read the list. Keep the oil well below its flash point, as the machine's manual says; a fine mist can burn below it.")
	} else {
		a.Note("Type the flash point from the safety data sheet to see the classes.")
	}
	a.Caution("DANGER", "Dielectric oil burns. Keep the level over the cut that the machine's manual demands, and no interlock or extinguisher defeated. The safety data sheet and local rules decide about unattended running.")
	a.Caution("DANGER", "Most dielectric oils may be fatal if swallowed and enter the airways (H304). Do not make the person vomit; go to a hospital at once. The safety data sheet decides.")
	a.Cites(`ghs; flammable liquids; flash-point categories @ in the globally harmonised system
		clp; annex I; categories 1 to 3 only @ in the European regulation
		nfpa-30; from memory; older classes @ of the American fire code`)
	a.Figure = in.drawOil(r)
}

func (in *form) flashRange(r *calc.Result) unit.Range {
	if f := r.In("flash"); f != (unit.Range{}) {
		return f
	}
	return unit.Exactly(float64(in.flash))
}

func gapUnit(s unit.System) string {
	if s == unit.Inch {
		return "thou"
	}
	return "µm"
}

// ohms is the resistivity unit in which a conductivity is a handy number.
func ohms(k unit.Range) unit.Style {
	if k.Likely <= 1 {
		return unit.Style{Unit: "MΩ·cm", Decimals: 2, Trim: true}
	}
	return unit.Style{Unit: "kΩ·cm", Decimals: 2, Trim: true}
}

// places is how many decimals a limit of a table needs.
func places(k unit.Conductivity) int {
	if k == unit.Conductivity(int(k)) {
		return 0
	}
	return 1
}

func labels(p calc.Pick) string {
	var out []string
	for _, o := range p.All {
		out = append(out, o.Label)
	}
	return strings.Join(out, " or ")
}
