package water

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	book                    *book.Book
	dielectric, compensated string
	material                string
	k                       unit.Conductivity
	t, flash                unit.Temperature
	flashGiven              bool
	v                       unit.Voltage
	gap                     unit.Length

	k25, resistivity, pure, floor unit.Conductivity
	leak                          unit.CurrentDensity
	target, ghs, clp              string
	floorRow, targetRow           book.Row
}

// Calculator declares the water calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "water", Title: "Dielectric", Question: "What does the water's reading mean?",
		Summary: "Conductivity and resistivity, at 25 °C and as read, what pure and open water read, the current that leaks between the sparks, and what oil changes.",
		Tables:  []string{"waters", "airwater", "purewater"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	water := func() bool { return in.dielectric == "water" }
	calc.BindChoice(f, &in.dielectric, calc.Field{Name: "dielectric", Label: "Dielectric", Group: "Dielectric", Default: "water",
		Options: []calc.Option{{Value: "water", Label: "water"}, {Value: "oil", Label: "oil"}}})
	calc.Bind(f, &in.k, calc.Field{Name: "conductivity", Label: "Reading of the meter", Default: "10 µS/cm", Ranges: true, ShowIf: water,
		Keys: []string{"µS/cm", "kΩ·cm", "MΩ·cm"}, Usual: [2]string{"0.06 µS/cm", "100 µS/cm"},
		Limits: []calc.Limit{calc.Above("0 µS/cm", "every water conducts a little"), calc.AtMost("100000 µS/cm", "this is sea water and more")}})
	calc.Bind(f, &in.t, calc.Field{Name: "temperature", Label: "Temperature of the water", Default: "25 °C", Ranges: true, ShowIf: water,
		Keys: []string{"°C", "°F"}, InchKey: "°F", Usual: [2]string{"15 °C", "40 °C"},
		Limits: []calc.Limit{calc.AtLeast("1 °C", "water freezes below"), calc.AtMost("100 °C", "water boils above")}})
	calc.BindChoice(f, &in.compensated, calc.Field{Name: "compensated", Label: "The meter corrects to 25 °C", Default: "yes", ShowIf: water,
		Options: []calc.Option{{Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}}})
	calc.BindChoice(f, &in.material, calc.Field{Name: "material", Label: "Work", Default: "steel", ShowIf: water, Options: []calc.Option{
		{Value: "steel", Label: "steel"}, {Value: "steel-fine", Label: "steel, fine finish"}, {Value: "carbide", Label: "carbide"},
		{Value: "aluminium", Label: "aluminium"}, {Value: "copper", Label: "copper"}, {Value: "titanium", Label: "titanium"}}})
	calc.Bind(f, &in.v, calc.Field{Name: "voltage", Label: "Mean voltage across the gap", Group: "Gap", Default: "40 V", Ranges: true, ShowIf: water,
		Help: "Zero for pulses of zero mean.", Keys: []string{"V"}, Usual: [2]string{"0.5 V", "80 V"},
		Limits: []calc.Limit{calc.AtLeast("0 V", "the sign is that of the work and is taken as plus"), calc.AtMost("400 V", "no generator for this work holds more across the gap on average")}})
	calc.Bind(f, &in.gap, calc.Field{Name: "gap", Label: "Spark gap, each side", Default: "30 µm", Ranges: true, ShowIf: water,
		Keys: []string{"µm", "mm", "thou", "tenths"}, InchKey: "thou", Usual: [2]string{"2 µm", "70 µm"},
		Limits: []calc.Limit{calc.AtLeast("0.5 µm", "below this the wire touches"), calc.AtMost("1 mm", "no spark crosses a gap this wide")}})
	calc.BindGiven(f, &in.flash, &in.flashGiven, calc.Field{Name: "flash", Label: "Flash point of the oil", ShowIf: func() bool { return in.dielectric == "oil" },
		Help: "From the safety data sheet.", Keys: []string{"°C", "°F"}, InchKey: "°F", Usual: [2]string{"55 °C", "140 °C"},
		Limits: []calc.Limit{calc.AtLeast("-50 °C", "no dielectric has a lower one"), calc.AtMost("400 °C", "no dielectric has a higher one")}})
}

func (in *form) answers(f *calc.Form) {
	water := func() bool { return in.dielectric == "water" }
	falls := []string{}
	calc.Value(f, &in.k25, calc.Out{Name: "conductivity-25", Label: "Conductivity at 25 °C", Main: true, Applies: water, Rises: []string{"conductivity"}, Falls: append(falls, "temperature")})
	calc.Value(f, &in.resistivity, calc.Out{Name: "resistivity", Label: "Resistivity at 25 °C", Unit: "kΩ·cm", Decimals: 3, Applies: water, Rises: []string{"conductivity"}, Falls: append(falls, "temperature")})
	calc.Value(f, &in.pure, calc.Out{Name: "pure", Label: "The purest water at this temperature", Unit: "µS/cm", Decimals: 4, Applies: water, Rises: []string{"temperature"}})
	calc.Value(f, &in.floor, calc.Out{Name: "floor", Label: "Water open to the air", Applies: water})
	calc.Value(f, &in.leak, calc.Out{Name: "leak", Label: "Leakage current, at most", Applies: water, Rises: []string{"conductivity", "voltage"}, Falls: []string{"gap", "temperature"}})
	calc.Choose(f, &in.target, calc.Out{Name: "target", Label: "Against the usual range for this work", Words: []calc.Option{
		{Value: "below", Label: "below it"}, {Value: "inside", Label: "inside it"}, {Value: "above", Label: "above it"}, {Value: "none", Label: "does not apply"}}})
	class := []calc.Option{{Value: "none", Label: "not a flammable liquid by this list"}, {Value: "not-asked", Label: "no flash point was given"}}
	calc.Choose(f, &in.ghs, calc.Out{Name: "ghs", Label: "Category in the globally harmonised system", Words: class})
	calc.Choose(f, &in.clp, calc.Out{Name: "clp", Label: "Category in the European regulation", Words: class})
}

func (in *form) point(p *calc.Point) {
	in.ghs, in.clp, in.target = "not-asked", "not-asked", "none"
	if in.flashGiven {
		in.ghs, in.clp = class(GHS(in.flash)), class(CLP(in.flash))
	}
	in.pure = in.purest(in.t)
	if in.dielectric == "oil" {
		return
	}
	// A compensated reading is one at 25 °C already; the purest water at the
	// water's own temperature bounds the other.
	in.k25 = in.k
	bound := in.purest(25)
	if in.compensated == "no" {
		in.k25, bound = At25(in.k, in.t, 0.02), in.pure
	}
	if float64(in.k) < float64(bound)*0.98 {
		p.Impossible("no water reads below " + calc.Put(bound, "µS/cm", 3) + " at this temperature: the ions of water itself carry that much")
	}
	in.resistivity = in.k25
	if in.floorRow.Table == "" {
		in.floorRow, _ = in.book.Find("airwater", "open tank")
		in.targetRow, _ = in.book.Find("waters", in.material)
	}
	in.floor = unit.Conductivity(in.floorRow.Num("floor_likely_uscm"))
	// What flows in the gap flows at the water's own temperature.
	own := in.k
	if in.compensated == "yes" {
		own = unit.Conductivity(float64(in.k) * (1 + 0.02*float64(in.t-25)))
	}
	in.leak = Leak(own, in.v, in.gap)
	switch {
	case float64(in.k25) < in.targetRow.Num("target_low_uscm"):
		in.target = "below"
	case float64(in.k25) > in.targetRow.Num("target_high_uscm"):
		in.target = "above"
	default:
		in.target = "inside"
	}
	if p.Stepping() {
		in.steps(p, own)
	}
}

func class(c int) string {
	if c == 0 {
		return "none"
	}
	return "category " + strconv.Itoa(c)
}

// purest interpolates the table of pure water: the logarithm of the
// conductivity over the temperature. Between the few points of the table this
// is our reading and not the publication's.
func (in *form) purest(t unit.Temperature) unit.Conductivity {
	rows := in.book.Table("purewater").Rows
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		t0, t1 := a.Num("temperature_degc"), b.Num("temperature_degc")
		if float64(t) <= t1 || i == len(rows)-1 {
			share := (float64(t) - t0) / (t1 - t0)
			l0, l1 := math.Log(a.Num("pure_uscm")), math.Log(b.Num("pure_uscm"))
			return unit.Conductivity(math.Exp(l0 + (l1-l0)*share))
		}
	}
	return 0
}

func (in *form) steps(p *calc.Point, own unit.Conductivity) {
	if in.compensated == "no" {
		p.Step(calc.Step{For: "conductivity-25", Name: "conductivity at 25 °C", Formula: "κ / (1 + 0.02 (t - 25))",
			Put: calc.Put(in.k, "µS/cm", 4) + " / (1 + 0.02 × (" + calc.Put(in.t, "°C", 2) + " - 25))", Equals: calc.Put(in.k25, "µS/cm", 4), Source: "iso-7888"})
	}
	p.Step(calc.Step{For: "resistivity", Name: "resistivity", Formula: "1 / κ", Put: "1 / " + calc.Put(in.k25, "µS/cm", 4), Equals: calc.Put(in.k25, "kΩ·cm", 3)})
	p.Step(calc.Step{For: "leak", Name: "leakage current, at most", Formula: "κ V / g", Put: calc.Put(own, "µS/cm", 4) + " × " + calc.Put(in.v, "V", 3) + " / " + calc.Put(in.gap, "µm", 2),
		Equals: calc.Put(in.leak, "A/cm²", 5)})
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	s := r.System
	if in.dielectric == "oil" {
		in.sayOil(r, a)
		return
	}
	k := r.Of("conductivity-25")
	a.Headline = calc.SayRange(unit.ConductivityKind, k, s) + " at 25 °C"
	low, high := in.targetRow.Cell("target_low_uscm"), in.targetRow.Cell("target_high_uscm")
	pick := r.Pick("target")
	a.Lead = "Usual for this work: " + low + " to " + high + " µS/cm. This is " + both(pick) + ". At most " + calc.SayRange(unit.CurrentDensityKind, r.Of("leak"), s) + " leaks between the sparks."
	a.Used(in.targetRow, in.floorRow)
	for _, row := range in.book.Table("purewater").Rows {
		a.Used(row)
	}
	a.General = true
	fl := in.floorRow.Range("floor", "uscm", 1)
	if k.Low < fl.High {
		a.Note("Water open to the air takes up carbon dioxide and reads " + calc.Put(unit.Conductivity(fl.Low), "µS/cm", 2) + " to " + calc.Put(unit.Conductivity(fl.High), "µS/cm", 2) +
			". A set point below that holds only while the resin polishes the water all the time.")
	}
	a.Note("Salt that would read the same: about " + unit.Fixed(Salt(in.k25), 1) + " mg of sodium chloride in a litre.")
	a.Note("The leakage current is an upper bound: bubbles, films and overpotential make it smaller, and pulses of zero mean take it away. It is proportional to the conductivity and to the mean voltage.")
	a.Note("Oil conducts so little, 10⁹ to 10¹² Ω·m, that no current worth naming leaks. The price is a slower cut and a fire load.")
	a.Note("Between the temperatures of the table, pure water is interpolated by us on a logarithmic scale.")
	if grade := iso3696(k.High); grade != "" {
		a.Note("By conductivity alone this would pass as grade " + grade + " of the laboratory standard.")
	}
	a.Cite("light-2005", "abstract", "pure water at 25 °C")
	a.Cite("light-1995", "excerpt", "water open to the air")
	a.Cite("iso-7888", "from memory", "2 % per kelvin for water with salts")
	a.Cite("iso-3696", "from memory", "grades of laboratory water")
	a.Figure = in.draw(r)
}

// iso3696 is the grade by conductivity at 25 °C: 1 up to 0.1, 2 up to 1, 3 up to
// 5 µS/cm. From memory.
func iso3696(k float64) string {
	switch {
	case k <= 0.1:
		return "1"
	case k <= 1:
		return "2"
	case k <= 5:
		return "3"
	}
	return ""
}

func both(p calc.Pick) string {
	out := ""
	for i, o := range p.All {
		if i > 0 {
			out += " or "
		}
		out += o.Label
	}
	return out
}

func (in *form) sayOil(r *calc.Result, a *calc.Answer) {
	a.Headline = "Oil: no current worth naming leaks"
	a.Lead = "Its resistivity is 10⁹ to 10¹² Ω·m. The gap is smaller, carbide keeps its cobalt, steel does not rust. The cut is slower, and oil burns."
	if in.flashGiven {
		a.Note("A flash point of " + calc.Say(in.flash, r.System) + ": " + both(r.Pick("ghs")) + " in the globally harmonised system; " + both(r.Pick("clp")) + " in the European regulation.")
		a.Note("Exactly 60 °C still is category 3, exactly 93 °C still is category 4.")
	}
	a.Caution("DANGER", "Dielectric oil burns. Keep the level over the cut that the machine's manual demands, and no interlock or extinguisher defeated. The safety data sheet and local rules decide about unattended running.")
	a.Cite("ghs", "flammable liquids", "flash-point categories")
	a.Cite("clp", "annex I", "categories 1 to 3 only")
	a.Cite("leao-pashby-2004", "abstract", "water and oil compared")
	a.General = true
	a.Figure = in.draw(r)
}

// draw sets pure water, open water, the usual range and this water on one
// logarithmic scale.
func (in *form) draw(r *calc.Result) *figure.Drawing {
	d := figure.New("Conductivity, each step ten times the last",
		"A scale from the purest water to tap water. Marked are pure water, water open to the air, the usual range for this work, and this water.", 360, 230, false)
	const x0, x1 = 20.0, 340.0
	at := func(k float64) float64 { return (math.Log10(math.Max(0.01, math.Min(1000, k))) + 2) / 5 }
	const base = 196.0
	d.Line(figure.Thin, x0, base, x1, base)
	for i, name := range []string{"0.01", "0.1", "1", "10", "100", "1000"} {
		px := x0 + float64(i)/5*(x1-x0)
		d.Line(figure.Thin, px, base-5, px, base+5)
		anchor := 0
		if i == 0 {
			anchor = -1
		} else if i == 5 {
			anchor = 1
		}
		d.Label(px, base+22, name, anchor)
	}
	row := func(y float64, name string, lo, likely, hi float64, weight uint8) {
		d.Bars = append(d.Bars, figure.Bar{At: figure.Point{X: x0, Y: y}, Length: x1 - x0, Height: 12, From: at(lo), To: at(hi), Likely: at(likely), Weight: weight})
		d.Label(x0, y-15, name, -1)
	}
	row(38, "pure water", float64(in.pure), float64(in.pure), float64(in.pure), 0)
	fr, _ := in.book.Find("airwater", "open tank")
	row(82, "water open to the air", fr.Num("floor_low_uscm"), fr.Num("floor_likely_uscm"), fr.Num("floor_high_uscm"), 0)
	tr, _ := in.book.Find("waters", in.material)
	row(126, "usual for this work", tr.Num("target_low_uscm"), tr.Num("target_likely_uscm"), tr.Num("target_high_uscm"), 1)
	if in.dielectric == "water" {
		k := r.Of("conductivity-25")
		row(172, "this water", k.Low, k.Likely, k.High, 2)
	}
	return d
}
