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
	across                              unit.Length
	areaGiven, acrossGiven, gapGiven    bool
	leave, lever, side                  unit.Length
	leverGiven, sideGiven, bendGiven    bool
	bend                                unit.Stress
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
	shears, bends, twists               unit.Length
	tab, kerf                           unit.Length
	tabTime, nothing                    unit.Time
	falls, held, advice                 string
}

// Calculator declares the slug calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "slug", Title: "Slug and tab", Question: "What happens to the slug, and how do I hold it?",
		Summary: "The slug's mass, whether it enters the lower nozzle, wedges or stays, the force and the tab that hold it, the tab cut, and cutting the opening to nothing.",
		Tables:  []string{"law", "machines bore_mm", "materials name density_likely_gcm3 shear_likely_mpa"},
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
	calc.Ask(f, &in.length, `length: Its length, square to the width
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
	calc.AskGiven(f, &in.across, &in.acrossGiven, `across: Its longest way across
		help Leave it empty for the diagonal of width by length. Of a round slug it is the diameter.
		keys mm in; in
		usual 0.3 mm to 300 mm
		above 0 mm: a slug has a width
		max 3000 mm: no machine holds this`)
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
	calc.Ask(f, &in.leave, `leave: Length of the tab that is left
		is 2 mm
		if hold tab
		help Along the contour. Two millimetres are common practice for small and middle slugs.
		keys mm in; in
		usual 0.5 mm to 20 mm
		above 0 mm: then there is no tab
		max 500 mm: this is no tab`)
	calc.AskGiven(f, &in.lever, &in.leverGiven, `lever: From the tab to where the jet presses
		if hold tab
		help Square to the wall that the tab stands on. Leave it empty for half the narrowest width, the middle of a slug whose tab is on a long side; the nozzle over the far wall makes it the whole way.
		keys mm in; in
		usual 0.5 mm to 200 mm
		min 0 mm: a lever has no sign here
		max 2000 mm: no machine holds this`)
	calc.AskGiven(f, &in.side, &in.sideGiven, `side: Beside the tab to where the jet presses
		if hold tab
		help Along the wall, which twists the tab. Leave it empty for a quarter of the length; in the corner of a slug it is half.
		keys mm in; in
		usual 0 mm to 200 mm
		min 0 mm: a lever has no sign here
		max 2000 mm: no machine holds this`)
	calc.AskGiven(f, &in.shear, new(bool), `shear: Strength of the tab in shear
		if hold tab
		advanced
		help Leave it empty for the material's. Brittle work has none that counts.
		keys MPa ksi; ksi
		usual 50 MPa to 600 MPa
		min 0 MPa: a strength is not negative
		max 3000 MPa: no work material has this
		ranges`).Fallback = in.strength
	calc.AskGiven(f, &in.bend, &in.bendGiven, `bend: Strength of the tab in bending
		if hold tab
		advanced
		help Where it begins to yield in tension. Leave it empty for √3 times that in shear.
		keys MPa ksi; ksi
		usual 100 MPa to 2000 MPa
		min 0 MPa: a strength is not negative
		max 5000 MPa: no work material has this`)
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
		return calc.GapOf(in.book, in.cut(), "rough")
	})
	calc.AskGiven(f, &in.rate, new(bool), `rate: Area rate of the tab cut
		help Leave it empty to take the law's.
		keys mm²/min in²/h; in²/h
		usual 0.1 mm²/min to 400 mm²/min
		above 0 mm²/min: then it never ends
		max 2000 mm²/min: no wire cuts this fast
		ranges`).Fallback = func() calc.Fallback { return calc.RateOf(in.book, in.cut()) }
	calc.Ask(f, &in.skims, `skims: Skims over the tab
		advanced
		is 2
		usual 0 to 5
		min 0: none is 0
		max 10: no tab wants more`)
	calc.AskGiven(f, &in.skimFeed, new(bool), `skim-feed: Feed of a skim
		advanced
		help Leave it empty to take the law's.
		keys mm/min in/min; in/min
		usual 0.5 mm/min to 20 mm/min
		above 0 mm/min: then it never ends
		max 200 mm/min: no skim runs this fast
		ranges`).Fallback = func() calc.Fallback {
		return calc.LawOf(in.book).Plan(in.cut(), int(in.skims)+1).ToldSkims()
	}
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

// cut is what the law is asked about.
func (in *form) cut() book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.mass, "mass: Mass of the slug\nmain\nrises area")
	calc.Tell(f, &in.weight, "weight: Its weight\nrises area")
	calc.Tell(f, &in.flush, "flush: Force of the jet\nrises pressure hit")
	calc.Tell(f, &in.need, "force: Force to hold, with the factor\nmain\nrises area pressure hit\ndigits 1")
	calc.TellChoice(f, &in.falls, "falls: Cut loose it\nword enters: enters the nozzle and stands on the guide\nword wedges: wedges in the lower nozzle\nword stays: stays on top of the nozzle and blocks it")
	calc.TellChoice(f, &in.held, "held: Held\nword yes: yes\nword no: no\nword only-if: only if the jet is weak\nword not-sure: only at the high end of the strength\nword not-asked: the holding force was not given")
	calc.Tell(f, &in.tab, "tab: Tab that bears it\nmain\nrises area pressure hit\nfalls shear").Applies = in.bears
	calc.Tell(f, &in.shears, "shear-tab: Of it, in shear\nrises area pressure hit\nfalls shear").Applies = in.bears
	calc.Tell(f, &in.bends, "bend-tab: Of it, bent by the jet\nrises area pressure hit\nfalls shear").Applies = in.bears
	calc.Tell(f, &in.twists, "twist-tab: Of it, twisted by the jet\nrises area pressure hit\nfalls shear").Applies = in.bears
	calc.Tell(f, &in.tabTime, "tab-time: Time of the tab cut, with skims\nunit min 2\nfalls rate skim-feed")
	calc.Tell(f, &in.kerf, "kerf: Kerf\nrises gap")
	calc.Tell(f, &in.nothing, "nothing: Time to cut it to nothing\nunit h 2\nrises area shared\nfalls rate gap")
	calc.TellChoice(f, &in.advice, "advice: Do this\nword tab: leave a tab and cut it free under watch\nword hold: hold it, cut it free under watch\nword nothing: cut it to nothing")
}

// bears tells whether there is a tab whose strength counts.
func (in *form) bears() bool { return in.hold == "tab" && in.shear > 0 }

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
	lever, side, across, bend := in.taken()
	in.shears = Shear(in.need, in.shear, in.thickness)
	in.bends = Bend(in.need, lever, bend, in.thickness)
	in.twists = Twist(in.need, side, in.shear, in.thickness)
	in.tab = max(in.shears, in.bends, in.twists)
	in.tabTime = Cut(in.leave, in.thickness, in.rate) + unit.Time(float64(in.skims)*float64(in.leave)/float64(in.skimFeed)*60)
	in.nothing = Nothing(area, in.thickness, in.rate, in.kerf, in.shared)
	in.falls = "stays"
	if in.width < in.bore {
		in.falls = "wedges"
		if across < in.bore {
			in.falls = "enters"
		}
	}
	in.held = "not-asked"
	switch {
	case in.bears():
		in.held = either(in.leave >= in.tab)
	case in.hold != "tab" && in.hold != "nothing" && in.grip > 0:
		in.held = either(in.grip >= in.need)
	}
	in.advice = "hold"
	switch {
	case in.hold == "nothing" || in.falls != "stays" && in.nothing < unattended:
		in.advice = "nothing"
	case in.hold == "tab":
		in.advice = "tab"
	}
	if p.Stepping() {
		in.work(p)
	}
}

func either(held bool) string {
	if held {
		return "yes"
	}
	return "no"
}

// taken is what stands in for the fields that were left empty: the jet at the
// middle of a slug whose tab is on a long side, and halfway to its corner; the
// diagonal; the strength in bending that belongs to the one in shear.
func (in *form) taken() (lever, side, across unit.Length, bend unit.Stress) {
	lever, side, across, bend = in.width/2, in.length/4, Across(in.width, in.length), yield*in.shear
	if in.leverGiven {
		lever = in.lever
	}
	if in.sideGiven {
		side = in.side
	}
	if in.acrossGiven {
		across = in.across
	}
	if in.bendGiven {
		bend = in.bend
	}
	return lever, side, across, bend
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
	lever, side, across, bend := in.taken()
	p.Work(`mass | mass | ρ A T | {1} × {2} × {thickness} | definition
		flush | force of the jet | p A | {pressure:MPa 3} × {hit} | mechanics
		force | force to hold | factor × (weight + jet) | {factor} × ({weight} + {flush}) | mechanics
		falls = {3} | longest way across | √(w² + l²), or as given | √(({width})² + ({length})²) | geometry
		shear-tab | in shear | F / (τ T) | {force} / ({shear} × {thickness}) | mechanics
		bend-tab | bent about the tab | 6 F e / (σ T²) | 6 × {force} × {4} / ({5} × ({thickness})²) | roark
		twist-tab | twisted about the tab | τ = F s × torsion of the section l by T, solved for l | {force} × {6} at {shear} | roark
		tab | tab that bears it | the longest of the three | {shear-tab}, {bend-tab}, {twist-tab} | mechanics
		tab-time | tab cut | l × T / A' + skims × l / feed | {leave} × {thickness} / {rate} + {skims} × {leave} / {skim-feed} | definition
		nothing | cut to nothing | A T / (A' b (1 - shared)) | {2} × {thickness} / ({rate} × {kerf} × (1 - {shared})) | kalpakjian-schmid`,
		calc.Put(in.density, "g/cm³", 3), calc.Put(in.above(), "mm²", 3), calc.Put(across, "mm", 3), calc.Put(lever, "mm", 3), calc.Put(bend, "MPa", 0), calc.Put(side, "mm", 3))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = true
	a.Headline = r.Text("The slug weighs {mass} and, cut loose, {falls}")
	a.Lead = r.Text("Hold it with {force:N 1}: {factor} times its weight and the jet. Do this: {advice}.")
	if in.bears() {
		a.Lead = r.Text("Hold it with {force:N 1}: {factor} times its weight and the jet. The tab must be {tab} long, and 2 mm at least. Do this: {advice}.")
		a.Note(r.Text("The longest of shear, bending and twist counts. Bending goes with the square of the thickness, so a thin plate wants a long tab; at two thirds of that length it folds. Levers not typed are those of a tab in the middle of a long side; with the nozzle over the far wall the tab must be twice as long."))
	}
	if r.Could("held", "no") {
		a.Verdict, a.Headline = calc.No, r.Text("No, {grip} does not hold {force:N 1}")
		a.Lead = r.Text("The slug weighs {mass}; cut loose it {falls}. Leave a tab, add clamps, or lower the flushing for the last millimetres.")
		if in.bears() {
			a.Headline = r.Text("No, a tab of {leave} is too short: {tab} is wanted")
			a.Lead = r.Text("The slug weighs {mass}; cut loose it {falls}. Leave a longer tab, or two of them far apart, add a clamp or a bridge plate, or lower the flushing for the last millimetres.")
		}
		if r.Could("held", "yes") { // some of the ranges hold, some do not
			how, when := "only-if", "the jet is weak"
			if r.Of("flush").IsPoint() {
				how, when = "not-sure", "the strength is at its high end"
			}
			a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if {1}: {grip} against {force:N 1}", when)
			if in.bears() {
				a.Headline = r.Text("Only if {1}: {leave} of tab, and {tab} may be wanted", when)
			}
			r.Instead(a, "held", how)
		}
	}
	a.Used(in.row)
	if in.row.Cell("shear_likely_mpa") == "0" {
		a.Note("Brittle work: the tab is cut, never broken. A tab of carbide, graphite or diamond that breaks takes a piece of the part with it. What it bears is not counted on: clamp or glue the slug before the last cut.")
		a.Caution("WARNING", "A brittle slug that drops or snaps can strike the wire, the nozzle or a hand. Hold it before the last cut, and follow the machine's manual.")
	} else {
		a.Note("Stop before the tab, hold the slug, then cut the tab with the machine watched and the flushing low. A tab is cut, not broken, where its step counts.")
	}
	switch {
	case r.Could("falls", "enters"):
		a.Note(r.Text("Smaller than the bore of {bore} all ways round, the slug enters the nozzle and stands on the wire guide: the worst case. It blocks the lower jet, shorts the wire, and scratches or breaks the guide. Cut the opening to nothing, or leave the piece larger than the bore, hold it and lift it out."))
	case r.Could("falls", "wedges"):
		a.Note(r.Text("The slug is narrower than the lower nozzle's bore of {bore} but longer: tilted it wedges there, and the next move of the axes bends the nozzle or shorts the wire. Hold it and lift it out, or cut the opening to nothing."))
	default:
		a.Note(r.Text("The slug is wider than the bore of {bore}: it stays on the nozzle, pressed up by the lower jet, and can short the wire against the wall. Lift it out at the stop, before an axis moves."))
	}
	a.Note(r.Text("Tab cut of {leave} with {skims} skims: {tab-time}. It leaves a step of {step:small}; lay it on a flat that can be stoned, not on a corner or a tooth."))
	a.Note(r.Text("Cut to nothing, without a slug: {nothing} with {shared} of each pass shared. It is the way for openings that nothing can hold or catch, and it needs nobody beside it at the end."))
	a.Cites("kalpakjian-schmid; wire EDM text, place not seen; volume rate of a wire cut")
	if in.bears() {
		a.Cites("roark; bending and torsion of a solid rectangle, from memory, place not seen; length of the tab")
	}
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
