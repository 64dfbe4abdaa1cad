package slug

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// unattended is the time of cutting to nothing up to which it is named without
// a doubt in the answer, one hour: common practice, no source.
const unattended unit.Time = 3600

type form struct {
	_                                   [0]func() // never compared, so no code for comparing is made
	book                                *book.Book
	machine, material, dielectric, hold string
	width, length, thickness, wire, gap unit.Length
	area                                unit.Area
	areaGiven, gapGiven                 bool
	bore                                unit.Length
	pressure                            unit.Stress
	hit                                 unit.Area
	factor                              unit.Ratio
	shear                               unit.Stress
	grip                                unit.Force
	rate                                unit.AreaRate
	skims                               unit.Count
	skimFeed                            unit.Speed
	shared                              unit.Percent
	step                                unit.Length
	row                                 book.Row
	density                             unit.Density
	mass                                unit.Mass
	weight, flush, need                 unit.Force
	tab, kerf                           unit.Length
	tabTime, nothing                    unit.Time
	falls, held, advice                 string
}

// Calculator declares the slug calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "slug", Title: "Slug and tab", Question: "What happens to the slug, and how do I hold it?",
		Summary: "The slug's mass, whether it falls through or wedges, the force and the tab that hold it, the tab cut, and cutting the opening to nothing.",
		Tables:  []string{"dielectrics", "machines", "materials", "gaps", "rates"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -\ngroup Slug")
	calc.Ask(f, &in.width, `width: Narrowest width of the slug
		mark slug
		is 12 mm
		keys mm in; in
		usual 0.3 mm to 200 mm
		above 0 mm: a slug has a width
		max 1000 mm: no machine holds this`)
	calc.Ask(f, &in.length, `length: Its longest way across
		mark by
		is 20 mm
		keys mm in; in
		usual 0.3 mm to 300 mm
		above 0 mm: a slug has a length
		max 2000 mm: no machine holds this`)
	calc.AskGiven(f, &in.area, &in.areaGiven, `area: Its area seen from above
		help Leave it empty for width times length.
		keys mm² in²; in²
		usual 0.1 mm² to 50000 mm²
		above 0 mm²: a slug has an area
		max 1000000 mm²: no machine holds this
		ranges`)
	calc.AskThickness(f, &in.thickness)
	calc.AskGiven(f, &in.bore, new(bool), `bore: Bore of the lower nozzle
		group Holding
		help From the machine's card or its manual.
		keys mm in; in
		usual 1 mm to 12 mm
		min 0 mm: a bore is not negative
		max 100 mm: this is no nozzle`).Fallback = in.card
	calc.AskChoice(f, &in.hold, `hold: Held by
		option tab: a tab
		option magnet: magnets or glue
		option clamp: a clamp or wedge
		option nothing: nothing`)
	calc.Ask(f, &in.pressure, `pressure: Flushing pressure
		is 0.3 to 1 MPa
		keys MPa psi; psi
		usual 0 MPa to 2 MPa
		min 0 MPa: suction is taken as 0 here
		max 10 MPa: no flushing pump gives this
		ranges`)
	calc.Ask(f, &in.hit, `hit: Area that the jet presses on
		is 10 to 40 mm²
		help The bore of the nearer nozzle (28 mm² for 6 mm), and much more where the jet spreads under a wide slug: type yours.
		keys mm² in²; in²
		usual 1 mm² to 200 mm²
		min 0 mm²: an area is not negative
		max 100000 mm²: no jet is this wide
		ranges`)
	calc.Ask(f, &in.factor, `factor: Safety factor
		is 3
		help On weight and flushing together. Ours, a convention.
		usual 1.5 to 10
		min 1: less than 1 falls
		max 100: this is no factor`)
	calc.AskGiven(f, &in.shear, new(bool), `shear: Strength of the tab in shear
		if hold tab
		advanced
		help Leave it empty for the material's. Brittle work has none that counts.
		keys MPa ksi; ksi
		usual 50 MPa to 600 MPa
		min 0 MPa: a strength is not negative
		max 3000 MPa: no work material has this
		ranges`).Fallback = in.strength
	calc.AskGiven(f, &in.grip, new(bool), `grip: Force that magnets, glue or clamp bear
		if hold magnet clamp
		help Measured with a spring balance, wet.
		keys N lbf; lbf
		usual 1 N to 500 N
		min 0 N: a force has no sign here
		max 100000 N: no clamp in a tank bears this
		ranges`)
	calc.AskWire(f, in.book, &in.wire).Group = "Cutting it free"
	calc.AskDielectric(f, &in.dielectric)
	calc.AskGap(f, &in.gap, &in.gapGiven, "gap: Spark gap of roughing, each side\nadvanced", func() calc.Fallback {
		return calc.GapOf(in.book, book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}, "rough")
	})
	calc.AskGiven(f, &in.rate, new(bool), `rate: Area rate of the tab cut
		help Leave it empty for the table of area rates.
		keys mm²/min in²/h; in²/h
		usual 0.1 mm²/min to 400 mm²/min
		above 0 mm²/min: then it never ends
		max 2000 mm²/min: no wire cuts this fast
		ranges`).Fallback = in.tableRate
	calc.Ask(f, &in.skims, `skims: Skims over the tab
		advanced
		is 2
		usual 0 to 5
		min 0: none is 0
		max 10: no tab wants more`)
	calc.Ask(f, &in.skimFeed, `skim-feed: Feed of a skim
		advanced
		is 3 to 8 mm/min
		keys mm/min in/min; in/min
		usual 0.5 mm/min to 20 mm/min
		above 0 mm/min: then it never ends
		max 200 mm/min: no skim runs this fast
		ranges`)
	calc.Ask(f, &in.shared, `shared: Neighbouring passes share, when cut to nothing
		advanced
		is 20 to 40 %
		keys %
		usual 10 % to 50 %
		min 0 %: passes side by side share nothing
		below 100 %: then nothing new is cut
		ranges`)
	calc.Ask(f, &in.step, `step: Witness of the tab
		advanced
		is 2 to 10 µm
		help The step that stays where the tab was. Common practice, no source.
		keys small
		usual 0 µm to 30 µm
		min 0 µm: a step has no sign here
		max 1 mm: this is stock
		ranges`)
}

func (in *form) card() calc.Fallback {
	r, ok := in.book.Find("machines", in.machine)
	if !ok {
		return calc.Fallback{Range: unit.Exactly(6), Note: "taken as 6 mm: choose a machine, or measure"}
	}
	return calc.Fallback{Range: unit.Exactly(r.Num("bore_mm")), Rows: []book.Row{r}, Note: "from the machine's card: " + calc.Put(unit.Length(r.Num("bore_mm")), "mm", 2)}
}

func (in *form) strength() calc.Fallback {
	r, _ := in.book.Find("materials", in.material)
	v := r.Num("shear_likely_mpa")
	if v == 0 {
		return calc.Fallback{Rows: []book.Row{r}, Note: "brittle: nothing is counted on"}
	}
	return calc.Fallback{Range: unit.Range{Low: v * 0.7, Likely: v, High: v * 1.3}, Rows: []book.Row{r}, Note: "from the table, give or take 30 %: " + calc.Put(unit.Stress(v), "MPa", 0)}
}

func (in *form) tableRate() calc.Fallback {
	r, rows, note := in.book.Rate(in.material, in.wire)
	if len(rows) == 0 {
		return calc.Fallback{Note: "no table row fits: type a rate"}
	}
	if row, ok := in.book.Find("dielectrics", in.dielectric); ok && in.dielectric == "oil" {
		r, rows, note = calc.Times(r, row.Range("rate", "n0", 1)), append(rows, row), note+", a fifth to a half of it in oil"
	}
	return calc.Fallback{Range: r, Rows: rows, Note: note}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.mass, "mass: Mass of the slug\nmain\nrises area")
	calc.Tell(f, &in.weight, "weight: Its weight\nrises area")
	calc.Tell(f, &in.flush, "flush: Force of the jet\nrises pressure hit")
	calc.Tell(f, &in.need, "force: Force to hold, with the factor\nmain\nrises area pressure hit\ndigits 1")
	calc.TellChoice(f, &in.falls, "falls: Cut loose it\nword falls-through: falls through the lower nozzle\nword wedges: wedges in the lower nozzle\nword stays: stays on top of the nozzle and blocks it")
	calc.TellChoice(f, &in.held, "held: Held\nword yes: yes\nword no: no\nword not-asked: the holding force was not given")
	calc.Tell(f, &in.tab, "tab: Tab that bears it\nrises area pressure hit\nfalls shear").Applies = func() bool { return in.hold == "tab" && in.shear > 0 }
	calc.Tell(f, &in.tabTime, "tab-time: Time of the tab cut, 2 mm, with skims\nunit min 2\nfalls rate skim-feed")
	calc.Tell(f, &in.kerf, "kerf: Kerf\nrises gap")
	calc.Tell(f, &in.nothing, "nothing: Time to cut it to nothing\nunit h 2\nrises area shared\nfalls rate gap")
	calc.TellChoice(f, &in.advice, "advice: Do this\nword tab: leave a tab and cut it free under watch\nword hold: hold it, cut it free under watch\nword nothing: cut it to nothing")
}

func (in *form) point(p *calc.Point) {
	if in.row.Table == "" {
		in.row, _ = in.book.Find("materials", in.material)
		in.density = unit.Density(in.row.Num("density_likely_gcm3"))
	}
	area := in.above()
	in.mass = Mass(in.density, area, in.thickness)
	in.weight, in.flush = Weight(in.mass), Flush(in.pressure, in.hit)
	in.need = unit.Force(in.factor) * (in.weight + in.flush)
	in.kerf = in.wire + 2*in.gap
	in.tab = Tab(in.need, in.shear, in.thickness)
	in.tabTime = Cut(2, in.thickness, in.rate) + unit.Time(float64(in.skims)*2/float64(in.skimFeed)*60)
	in.nothing = Nothing(area, in.thickness, in.rate, in.kerf, in.shared)
	in.falls = "stays"
	if in.width < in.bore {
		in.falls = "wedges"
		if in.length < in.bore { // the longest way across
			in.falls = "falls-through"
		}
	}
	in.held = "not-asked"
	if in.hold == "tab" && in.shear > 0 || in.hold != "tab" && in.hold != "nothing" && in.grip > 0 {
		in.held = "yes"
		if in.hold != "tab" && in.grip < in.need {
			in.held = "no"
		}
	}
	in.advice = "hold"
	switch {
	case in.hold == "nothing" || in.falls == "wedges" && in.nothing < unattended:
		in.advice = "nothing"
	case in.hold == "tab":
		in.advice = "tab"
	}
	if p.Stepping() {
		in.work(p)
	}
}

// above is the slug's area from above, width times length when none is given.
func (in *form) above() unit.Area {
	if in.areaGiven {
		return in.area
	}
	return unit.Area(in.width * in.length)
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	p.Work(`mass | mass | ρ A T | {1} × {2} × {thickness} | definition
		flush | force of the jet | p A | {pressure:MPa 3} × {hit} | mechanics
		force | force to hold | factor × (weight + jet) | {factor} × ({weight} + {flush}) | mechanics
		tab | tab that bears it | F / (τ T) | {force} / ({shear} × {thickness}) | mechanics
		tab-time | tab cut | 2 mm × T / A' + skims × 2 mm / feed | 2 mm × {thickness} / {rate} + {skims} × 2 mm / {skim-feed} | definition
		nothing | cut to nothing | A T / (A' b (1 - shared)) | {2} × {thickness} / ({rate} × {kerf} × (1 - {shared})) | kalpakjian-schmid`,
		calc.Put(in.density, "g/cm³", 3), calc.Put(in.above(), "mm²", 3))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = true
	a.Headline = r.Text("The slug weighs {mass} and, cut loose, {falls}")
	a.Lead = r.Text("Hold it with {force:N 1}: {factor} times its weight and the jet. Do this: {advice}.")
	if in.hold == "tab" && in.shear > 0 {
		a.Lead = r.Text("Hold it with {force:N 1}: {factor} times its weight and the jet. In shear a tab of {tab} would bear that; the jet bends it too, so leave 2 mm or more. Do this: {advice}.")
	}
	if r.Could("held", "no") {
		a.Verdict, a.Headline = calc.No, r.Text("No, {grip} does not hold {force:N 1}")
		a.Lead = r.Text("The slug weighs {mass}; cut loose it {falls}. Leave a tab, add clamps, or lower the flushing for the last millimetres.")
	}
	a.Used(in.row)
	if in.row.Cell("shear_likely_mpa") == "0" {
		a.Note("Brittle work: the tab is cut, never broken. A tab of carbide, graphite or diamond that breaks takes a piece of the part with it. What it bears is not counted on: clamp or glue the slug before the last cut.")
		a.Caution("WARNING", "A brittle slug that drops or snaps can strike the wire, the nozzle or a hand. Hold it before the last cut, and follow the machine's manual.")
	} else {
		a.Note("Stop before the tab, hold the slug, then cut the tab with the machine watched and the flushing low. A tab is cut, not broken, where its step counts.")
	}
	switch {
	case r.Could("falls", "wedges"):
		a.Note(r.Text("The slug is narrower than the lower nozzle's bore of {bore} but longer: tilted it wedges there, and the next move of the axes bends the nozzle or shorts the wire."))
	case r.Could("falls", "falls-through"):
		a.Note(r.Text("The slug is smaller than the bore of {bore} both ways: it falls through, and many of them fill the arm or the drain. Empty it."))
	default:
		a.Note(r.Text("The slug is wider than the bore of {bore}: it stays on the nozzle, pressed up by the lower jet, and can short the wire against the wall."))
	}
	a.Note(r.Text("Tab cut of 2 mm with {skims} skims: {tab-time}. It leaves a step of {step:small}; lay it on a flat that can be stoned, not on a corner or a tooth."))
	a.Note(r.Text("Cut to nothing, without a slug: {nothing} with {shared} of each pass shared. It is the way for openings that nothing can hold or catch, and it needs nobody beside it at the end."))
	a.Cites("kalpakjian-schmid; wire EDM text, place not seen; volume rate of a wire cut")
	in.draw(r, a)
}

// draw sets the slug over the nozzle's bore, to scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("Slug over the lower nozzle, side view, widths to scale", r.Text("The slug, {width} wide, hangs in the plate over the lower nozzle, whose bore is {bore}. Cut loose it {falls}."), 360, 250, false)
	w, b := float64(in.width), float64(in.bore)
	k := 190 / max(w, b, 1e-9)
	half, hb := max(w*k/2, 2), max(b*k/2, 2)
	x := 130.0
	wall := max(half+6, 20)
	for _, s := range [...]float64{-1, 1} {
		d.Add(figure.Path{From: figure.Point{X: x + s*wall, Y: 40}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: x + s*(wall+20), Y: 40}}, {To: figure.Point{X: x + s*(wall+20), Y: 100}}, {To: figure.Point{X: x + s*wall, Y: 100}}}})
		d.Line(figure.Outline, x+s*wall, 40, x+s*wall, 100)
		edge := max(hb+14, 30)
		d.Poly(figure.Outline, true, figure.Point{X: x + s*hb, Y: 140}, figure.Point{X: x + s*edge, Y: 140}, figure.Point{X: x + s*(edge-6), Y: 176}, figure.Point{X: x + s*hb, Y: 176})
	}
	d.Poly(figure.Accent, true, figure.Point{X: x - half, Y: 40}, figure.Point{X: x + half, Y: 40}, figure.Point{X: x + half, Y: 100}, figure.Point{X: x - half, Y: 100})
	d.Line(figure.Centre, x, 26, x, 190)
	d.Label(252, 60, "slug", -1)
	d.Label(252, 80, r.Text("{width:mm 3}"), -1)
	d.Label(252, 152, "bore", -1)
	d.Label(252, 172, r.Text("{bore:mm 2}"), -1)
	d.Label(20, 216, "cut loose it", -1)
	d.Label(20, 236, r.Text("{falls}"), -1)
	a.Figure = d
}
