package carbide

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

type form struct {
	_                    [0]func() // never compared, so no code for comparing is made
	book                 *book.Book
	cobalt               unit.Percent
	grain                string
	weighed              unit.Density
	weighedGiven         bool
	hardness             unit.Hardness
	expansion            unit.Expansion
	heat                 unit.HeatConductivity
	given                [3]bool // hardness, expansion, heat were typed
	density              unit.Density
	volume, fromDensity  unit.Percent
	depth, growth        unit.Length
	cutting              string
	expanded             unit.Expansion
	conducts             unit.HeatConductivity
	hard                 unit.Hardness
	grainFrom, grainUpTo unit.Length
}

// Calculator declares the carbide calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "carbide", Title: "Carbide grade", Question: "What do the cobalt and the grain of this carbide mean for cutting?",
		Summary: "Density, volume share of the binder, hardness, grain class, expansion and heat conduction by cobalt content, and the cobalt from a weighed piece.",
		Tables:  []string{"cobalt hardness_hv submicron_hv heat_*_wmk expansion_*_ppmk", "grains name from_um to_um"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.Ask(f, &in.cobalt, `cobalt: Cobalt in the carbide, by mass
		mark cobalt
		group Grade
		is 10 %
		keys %
		usual 3 % to 25 %
		min 0.5 %: binderless grades are another material
		max 40 %: no grade for tools holds more`)
	calc.AskRows(f, in.book, "grains", &in.grain, "grain: Grain\nis medium\nhelp Ask for the size in µm: suppliers use these words for other sizes.")
	calc.AskGiven(f, &in.weighed, &in.weighedGiven, `weighed: Density, weighed or from the certificate
		help Weigh it in air and in water to learn the cobalt of an unknown piece. Leave it empty otherwise.
		keys g/cm³ kg/m³
		usual 13 g/cm³ to 15.3 g/cm³
		min 8.9 g/cm³: cobalt alone weighs this
		max 15.63 g/cm³: tungsten carbide without a binder weighs this
		ranges`)
	calc.AskGiven(f, &in.hardness, &in.given[0], `hardness: Hardness
		group From the supplier's sheet
		advanced
		help Leave it empty to take the table's range.
		keys HV
		usual 700 HV to 2300 HV
		above 0 HV: a carbide is hard
		max 4000 HV: this is harder than the pure carbide
		ranges`).Fallback = in.hardnessFrom
	calc.AskGiven(f, &in.expansion, &in.given[1], `expansion: Expansion
		advanced
		help Leave it empty to take the table's range.
		keys ppm/K ppm/°F; ppm/°F
		usual 4 ppm/K to 8 ppm/K
		above 0 ppm/K: carbide grows with heat
		max 30 ppm/K: this is no carbide
		ranges`).Fallback = func() calc.Fallback { return in.from("expansion", "ppmk", unit.ExpansionKind, "ppm/K") }
	calc.AskGiven(f, &in.heat, &in.given[2], `heat: Heat conductivity
		advanced
		help Leave it empty to take the table's range.
		keys W/(m·K)
		usual 50 W/(m·K) to 120 W/(m·K)
		above 0 W/(m·K): every metal conducts heat
		max 300 W/(m·K): this is no carbide
		ranges`).Fallback = func() calc.Fallback { return in.from("heat", "wmk", unit.HeatConductivityKind, "W/(m·K)") }
}

var none = calc.Fallback{Note: "the table has nothing for this grade: type a value"}

// from takes a range of the table at this cobalt content.
func (in *form) from(stem, suffix string, k unit.Kind, name string) calc.Fallback {
	a, b, far, ok := laws.Between(in.book.Table("cobalt"), in.cobalt)
	if !ok {
		return none
	}
	x, y := a.Range(stem, suffix, 1), b.Range(stem, suffix, 1)
	v := unit.Range{Low: laws.Mix(x.Low, y.Low, far), Likely: laws.Mix(x.Likely, y.Likely, far), High: laws.Mix(x.High, y.High, far)}
	return calc.Fallback{Range: v, Rows: []book.Row{a, b}, Note: calc.FromTable(k, v, name)}
}

// hardnessFrom takes the table's hardness with a twentieth either way: medium
// and submicron have a column, fine lies between them, the rest has none.
func (in *form) hardnessFrom() calc.Fallback {
	a, b, far, ok := laws.Between(in.book.Table("cobalt"), in.cobalt)
	if !ok {
		return none
	}
	column := func(name string) float64 {
		if a.Num(name) == 0 || b.Num(name) == 0 && far > 0 {
			return 0
		}
		return laws.Mix(a.Num(name), b.Num(name), far)
	}
	low, high := column("hardness_hv"), column("submicron_hv")
	switch in.grain {
	case "medium":
		high = low
	case "submicron":
		low = high
	case "fine":
	default:
		return none
	}
	if low == 0 || high == 0 {
		return none
	}
	v := unit.Range{Low: 0.95 * low, Likely: (low + high) / 2, High: 1.05 * high}
	return calc.Fallback{Range: v, Rows: []book.Row{a, b}, Note: calc.FromTable(unit.HardnessKind, v, "HV")}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.density, "density: Density, by the rule of mixtures\nmain\ndigits 2\ngiven")
	calc.Tell(f, &in.volume, "volume: Cobalt, by volume\nmain\ndigits 1")
	calc.Tell(f, &in.fromDensity, "from-density: Cobalt that the weighed density means\ndigits 1\nfalls weighed").Applies = func() bool { return in.weighedGiven }
	calc.Tell(f, &in.hard, "hardness: Vickers hardness\nrises hardness").Applies = func() bool { return in.hardness > 0 }
	calc.Tell(f, &in.grainFrom, "grain-from: Grain, above\nunit µm 1\ninch µin 0").Applies = func() bool { return in.grainFrom > 0 }
	calc.Tell(f, &in.grainUpTo, "grain-to: Grain, up to\nunit µm 1\ninch µin 0").Applies = func() bool { return in.grainUpTo > 0 }
	expands := func() bool { return in.expansion > 0 }
	calc.Tell(f, &in.expanded, "expansion: Expansion\nrises expansion").Applies = expands
	calc.Tell(f, &in.growth, "growth: Growth of 100 mm by one kelvin\nunit µm 2\ninch thou 4\nrises expansion").Applies = expands
	calc.Tell(f, &in.conducts, "heat: Heat conductivity\nrises heat").Applies = func() bool { return in.heat > 0 }
	calc.Tell(f, &in.depth, "depth: Depth without cobalt for each C/cm², at most\nunit µm 2\ninch thou 4")
	calc.TellChoice(f, &in.cutting, `cutting: In the cut
		word low: little binder: hard, slow to cut, edges chip
		word middle: a middle grade
		word high: much binder: tough, quicker to cut, more to dissolve`)
}

func (in *form) point(p *calc.Point) {
	in.density, in.volume = laws.CarbideDensity(in.cobalt), Volume(in.cobalt)
	if in.weighedGiven {
		in.fromDensity = Cobalt(in.weighed)
	}
	in.hard, in.expanded, in.conducts = in.hardness, in.expansion, in.heat
	in.growth = unit.Length(100 * float64(in.expansion) / 1e6)
	in.depth = laws.CobaltDepth(1, in.cobalt)
	g, _ := in.book.Find("grains", in.grain)
	in.grainFrom, in.grainUpTo = unit.Length(g.Num("from_um")/1000), unit.Length(g.Num("to_um")/1000)
	in.cutting = "middle"
	if in.cobalt <= 6 {
		in.cutting = "low"
	} else if in.cobalt > 12 {
		in.cutting = "high"
	}
	if p.Stepping() {
		p.Work(`density | density | 1 / (w/8.90 + (1 - w)/15.63) | w = {cobalt} | rule of mixtures
			volume | cobalt by volume | w ρ / 8.90 | {cobalt} × {density} / 8.90 | rule of mixtures
			from-density | cobalt from the weighed density | (1/ρ - 1/15.63) / (1/8.90 - 1/15.63) | ρ = {weighed} | rule of mixtures
			growth | growth of 100 mm | α L × 1 K | {expansion} × 100 mm × 1 K | definition
			depth | depth for 1 C/cm² | q E / (F w ρ) | 1 × 29.47 / (96485 × {cobalt} × {density}) | astm-g102`)
		if !in.given[0] && in.hardness > 0 {
			p.Work("hardness | hardness | the table's, a twentieth either way | {1} grain, {cobalt} | asm-carbides", in.grain)
		}
	}
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	low, high, _, ok := laws.Between(in.book.Table("cobalt"), in.cobalt)
	r.Give(a, "density", laws.Printed(in.book, in.cobalt))
	a.Headline = r.Text("{density}, {volume} of cobalt by volume")
	g, _ := in.book.Find("grains", in.grain)
	a.Used(g)
	if in.hardness > 0 {
		a.Lead = r.Text("Hardness {hardness}. ")
	}
	a.Lead += r.Text("In the cut: {cutting}.")
	if ok {
		a.Used(low, high)
		a.Note("The density is that of the rule; its range is what handbooks print. Mixed carbides of titanium or tantalum make it lighter: then the rule and this table do not hold.")
	} else {
		a.Note("The table goes from 3 to 25 % of cobalt. Outside it only the rules of density and of loss are given.")
	}
	in.sayGrain(r, a)
	if !in.given[1] && in.expansion > 0 {
		a.Note("The table's expansion is the mean from 20 to 400 °C. Near room temperature carbide grows somewhat less: take the supplier's value for a part of a few micrometres.")
	}
	if in.weighedGiven {
		a.Note(r.Text("The weighed density means {from-density} of cobalt, if nothing else is in it. An error of 0.1 g/cm³ in the weighing is an error of about 1 % of cobalt; pores make it look richer."))
		if w := r.Of("from-density"); float64(in.cobalt) < w.Low-1 || float64(in.cobalt) > w.High+1 {
			a.Note(r.Text("That does not agree with the {cobalt} above. The other answers stand for {cobalt}: ask which is right."))
		}
	}
	switch in.cutting {
	case "low":
		a.Note("Little binder: the rate falls, and the same charge empties a deeper layer. Keep water low in conductivity, or cut in oil, and let skims follow soon.")
	case "high":
		a.Note("Much binder: it cuts quicker and chips less. The whole mass of cobalt that can dissolve is larger, though each layer is emptied less deep.")
	default:
		a.Note("Between these: plan for the supplier's grade, not for its name.")
	}
	a.Note(r.Text("Each C/cm² that dissolves cobalt alone empties {depth}: an upper bound. The cobalt-loss calculator turns water, voltage and feed into a charge."))
	a.Note("Up to 6 % is called little here, above 12 % much: common practice, no source. The rate also falls as the grain coarsens; how much was not found as a number.")
	a.Cites(`asm-carbides; place not seen; density, hardness, expansion and heat conduction by cobalt content, from memory
		iso-4499-2; table of grain classes, place not seen; grain classes, from memory
		iso-3369; place not seen; how density is measured @ The weighed density means`)
	a.Caution("WARNING", "Cobalt dissolved in water and carbide sludge harm skin and lungs. Keep the sludge wet and wear gloves. The safety data sheet and local rules decide.")
	a.Figure = in.draw(r)
}

func (in *form) sayGrain(r *calc.Result, a *calc.Answer) {
	switch in.grain {
	case "medium", "submicron", "fine":
		if in.hardness == 0 {
			a.Note("The table has no hardness for this grade: ask the supplier.")
		} else if !in.given[0] {
			a.Note("Hardness stands with a twentieth either way, as tables differ. Fine grain is taken between medium and submicron.")
		}
	default:
		a.Note("The table has a hardness for medium and submicron grain only. At the same cobalt, finer grain is harder and coarser grain is tougher.")
	}
	if in.grain == "coarse" || in.grain == "extra-coarse" {
		a.Note("A grain as large as the radius or the web breaks out whole: do not ask for edges finer than the grain. Common practice, no source.")
	}
}

// draw shows the shares by mass and by volume as two bars.
func (in *form) draw(r *calc.Result) *figure.Drawing {
	d := figure.New("Cobalt and tungsten carbide, by mass and by volume", r.Text("Two bars of the same length. Cobalt takes {cobalt} of the first, by mass, and {volume} of the second, by volume."), 360, 210, true)
	for i, share := range [...]float64{float64(in.cobalt), float64(in.volume)} {
		y := 48 + 92*float64(i)
		x := 20 + 3.2*share
		d.Add(figure.Path{From: figure.Point{X: 20, Y: y}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: x, Y: y}}, {To: figure.Point{X: x, Y: y + 30}}, {To: figure.Point{X: 20, Y: y + 30}}}})
		d.Poly(figure.Outline, true, figure.Point{X: 20, Y: y}, figure.Point{X: 340, Y: y}, figure.Point{X: 340, Y: y + 30}, figure.Point{X: 20, Y: y + 30})
		d.Line(figure.Accent, x, y-5, x, y+35)
	}
	d.Label(20, 34, r.Text("by mass: cobalt {cobalt:% 1}"), -1)
	d.Label(20, 126, r.Text("by volume: cobalt {volume:% 1}"), -1)
	d.Label(340, 198, "the rest is tungsten carbide", 1)
	return d
}
