package taper

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                         [0]func() // never compared, so no code for comparing is made
	book                                      *book.Book
	machine, corner, opens                    string
	height, land                              unit.Length
	tau, theta                                unit.Angle
	radius, wire, gap                         unit.Length
	below, above                              unit.Length
	travel                                    unit.Length
	travelGiven                               bool
	shift, lower, upper, sum                  unit.Length
	bottom, top, smaller, level, gouge, centr unit.Length
	true, limit, sure                         unit.Angle
	verdict, temper                           string
	kind                                      string
	row                                       book.Row
	tension                                   unit.Force
	pivot                                     unit.Length
	real, springy                             unit.Angle
}

// Calculator declares the taper calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "taper", Title: "Taper", Question: "How far do the guides move for this taper, and does the corner survive?",
		Summary: "Shift over the height, guide shifts, radii at both faces, true tilt in a corner, what the wire's stiffness does to the angle, and the machine's limit.",
		Tables:  []string{"machines taper_flat_deg taper_flat_mm taper_tall_deg taper_tall_mm", "wiretypes name uts_*_mpa young_likely_gpa"},
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
	calc.Ask(f, &in.tau, `taper: Taper, each side
		group Wall
		is 1°
		help From the vertical.
		keys ° ′
		usual 0.25° to 30°
		min 0°: the angle is taken without its sign
		max 60°: no guides lean this far
		ranges`)
	calc.AskThickness(f, &in.height)
	calc.Ask(f, &in.land, `land: Straight land
		advanced
		is 0 mm
		help The height that stays vertical.
		keys mm in; in
		usual 0 mm to 10 mm
		min 0 mm: a land is not negative
		max 1000 mm: no machine takes more`)
	calc.AskChoice(f, &in.opens, "opens: The opening widens\noption down: downwards\noption up: upwards")
	calc.AskChoice(f, &in.corner, "corner: Corner\ngroup Corner\noption conical: conical, its radius grows\noption constant: the same radius at both faces\noption sharp: sharp")
	calc.Ask(f, &in.radius, `radius: Radius at the narrow face
		mark R
		unless corner sharp
		is 0.5 mm
		keys length
		usual 0.05 mm to 10 mm
		min 0 mm: a radius is not negative
		max 1000 mm: a radius this large is no corner
		ranges`)
	calc.Ask(f, &in.theta, `angle: Angle of the corner
		mark -
		is 90°
		keys °
		usual 30° to 170°
		min 5°: below this the corner is a slit
		max 175°: above this the two walls are nearly one
		ranges`)
	calc.Ask(f, &in.wire, `wire: Wire
		group Machine's geometry
		is 0.25 mm
		keys length
		usual 0.05 mm to 0.33 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this
		card wire_from_mm wire_to_mm`)
	calc.Ask(f, &in.gap, `gap: Spark gap, each side
		is 10 to 30 µm
		keys small
		usual 2 µm to 60 µm
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide
		ranges`)
	calc.Ask(f, &in.below, `below: Lower guide below the part
		is 5 mm
		keys mm in; in
		usual 1 mm to 40 mm
		min 0 mm: the guide stands outside the part
		max 500 mm: no machine reaches this
		ranges`)
	calc.Ask(f, &in.above, `above: Upper guide above the part
		is 5 mm
		keys mm in; in
		usual 1 mm to 60 mm
		min 0 mm: the guide stands outside the part
		max 500 mm: no machine reaches this
		ranges`)
	calc.AskGiven(f, &in.travel, &in.travelGiven, `travel: Travel of the upper guide, each way
		advanced
		help From the machine's manual. Leave it empty to take the travel that the card's two points show.
		keys mm in; in
		usual 5 mm to 100 mm
		above 0 mm: without travel there is no taper
		max 1000 mm: no machine reaches this`)
	calc.AskRows(f, in.book, "wiretypes", &in.kind, "kind: What the wire is made of\ngroup The wire's stiffness")
	calc.AskGiven(f, &in.tension, new(bool), `tension: Tension
		help At the wire, by gauge. Left empty, it is 20 to 35 % of the cold breaking load, common practice.
		keys N gf lbf; lbf
		usual 1 N to 25 N
		above 0 N: a slack wire has no angle
		max 1000 N: no cutting wire holds this
		ranges
		card tension_from_n tension_to_n`).Fallback = in.pull
}

// pull is the usual tension of roughing, from the wire's strength.
func (in *form) pull() calc.Fallback {
	r, ok := in.book.Find("wiretypes", in.kind)
	if !ok {
		return calc.Fallback{Note: "no table row fits: type a tension"}
	}
	area := math.Pi / 4 * float64(in.wire*in.wire)
	v := unit.Range{Low: 0.2 * area * r.Num("uts_low_mpa"), Likely: 0.275 * area * r.Num("uts_likely_mpa"), High: 0.35 * area * r.Num("uts_high_mpa")}
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: "20 to 35 % of what breaks it cold, common practice: " + unit.PrintRange(unit.ForceKind, v, unit.Style{Unit: "N", Decimals: 2})}
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.verdict, "verdict: Can the machine and the corner take it\nword yes: Yes\nword ask: Ask: the card does not vouch for it\nword angle: No, the angle is too steep\nword corner: No, the corner is too small")
	calc.Tell(f, &in.shift, "shift: The wall leans over its height by\nmain\nrises taper")
	calc.Tell(f, &in.lower, "guide-lower: Shift at the lower guide\nfalls taper below\ndigits 4")
	calc.Tell(f, &in.upper, "guide-upper: Shift at the upper guide\nrises taper above\ndigits 4")
	calc.Tell(f, &in.sum, "guides: Both guides against each other\nrises taper below above")
	calc.Tell(f, &in.bottom, "radius-narrow: Radius at the narrow face\nrises radius").Applies = in.round
	calc.Tell(f, &in.top, "radius-wide: Radius at the wide face\nrises radius taper").Applies = in.round
	calc.Tell(f, &in.smaller, "radius-inward: Radius at the far face, taper inward\nrises radius\nfalls taper").Applies = func() bool { return in.corner == "conical" }
	calc.Tell(f, &in.level, "reach: Wire radius and gap, measured level\nrises taper gap")
	calc.Tell(f, &in.gouge, "least: Least radius that is not gouged\nrises gap").Applies = in.round
	calc.Tell(f, &in.centr, "centre: Centre of the corner moves by\nrises taper\nfalls angle").Applies = func() bool { return in.corner == "constant" }
	calc.Tell(f, &in.true, "true-tilt: True tilt of the wire in a sharp corner\nunit ° 4\nrises taper\nfalls angle")
	calc.Tell(f, &in.limit, "limit: Steepest taper of the machine here\nunit ° 2\nfalls below above").Applies = func() bool { return in.limit > 0 }
	calc.Tell(f, &in.sure, "limit-sure: Steepest taper that the card vouches for here\nunit ° 2\nfalls below above").Applies = func() bool { return in.sure > 0 }
	calc.Tell(f, &in.pivot, "pivot: Stiffness moves each pivot towards the part by, at most\nunit mm 2\nfalls tension")
	calc.Tell(f, &in.real, "angle-stiff: Angle of the wall if the guides clamp the wire\nunit ° 3\nrises taper\nfalls tension below above")
	calc.Tell(f, &in.springy, "springy: The wire springs back at the guides up to\nunit ° 1\nfalls tension")
	calc.TellChoice(f, &in.temper, "temper: Wire temper\nword hard: hard\nword half-hard: half-hard\nword soft: soft")
}

func (in *form) round() bool { return in.corner != "sharp" }

func (in *form) point(p *calc.Point) {
	h := max(0, in.height-in.land)
	in.shift = Shift(h, in.tau)
	in.lower, in.upper = -Shift(in.below, in.tau), Shift(in.height+in.above, in.tau)
	in.sum = in.upper - in.lower
	in.bottom, in.top = in.radius, in.radius
	if in.corner == "conical" {
		in.top = in.radius + in.shift
	}
	in.smaller = in.radius - in.shift
	r := in.wire/2 + in.gap
	in.level = Level(r, in.tau)
	in.gouge = r * unit.Length(Gouge(in.tau, in.theta))
	in.centr = Centre(h, in.tau, in.theta)
	in.true = True(in.tau, in.theta)
	in.sure, in.limit = in.machineLimit()
	if in.row.Table == "" {
		in.row, _ = in.book.Find("wiretypes", in.kind)
	}
	young := unit.Stress(in.row.Num("young_likely_gpa") * 1000)
	in.pivot = Pivot(young, in.wire, in.tension)
	in.real = Clamped(in.tau, in.height+in.below+in.above, in.pivot)
	in.springy = Springs(young, unit.Stress(in.row.Num("uts_likely_mpa")), in.wire, in.tension)
	steep := in.tau
	if in.corner != "conical" {
		steep = in.true
	}
	in.verdict = "yes"
	switch {
	case in.limit > 0 && steep > in.limit+1e-9:
		in.verdict = "angle"
	case in.sure > 0 && steep > in.sure+1e-9:
		in.verdict = "ask"
	}
	switch {
	case in.verdict == "angle":
	case in.corner == "conical" && in.radius < in.level || in.corner == "constant" && in.radius < in.gouge:
		in.verdict = "corner"
	}
	in.temper = "hard"
	if steep > 15 {
		in.temper = "soft"
	} else if steep > 7 {
		in.temper = "half-hard"
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	h := max(0, in.height-in.land)
	p.Work(`shift | the wall leans by | H tan τ | {1} × tan {taper} | geometry
		guide-lower | shift at the lower guide | -z tan τ | -{below} × tan {taper} | geometry
		guide-upper | shift at the upper guide | (T + z) tan τ | ({thickness} + {above}) × tan {taper} | geometry
		radius-wide | radius at the wide face | {2} | {3} | geometry
		reach | wire radius and gap, level | (d/2 + g) / cos τ | ({wire} / 2 + {gap}) / cos {taper} | geometry
		true-tilt | true tilt in a sharp corner | arctan(tan τ / sin(θ/2)) | arctan(tan {taper} / sin({angle} / 2)) | geometry
		pivot | the wire bends over a length of | λ = √(E I / T), I = π d⁴ / 64 | √({4} × π × ({wire})⁴ / 64 / {tension}) | mechanics
		angle-stiff | angle of the wall, both guides clamping | arctan(S tan τ / (S - 2 λ)), S between the guides | arctan({5} × tan {taper} / ({5} - 2 × {pivot})) | mechanics
		springy | springs back up to | arctan((σ - T/A) / (2 √(E T/A))), σ the strength | σ = {6}, E = {4} | mechanics
		centre | centre moves along the bisector | H tan τ / sin(θ/2) | {1} × tan {taper} / sin({angle} / 2) | geometry`,
		calc.Put(h, "mm", 4), map[bool]string{true: "ρ + H tan τ", false: "ρ"}[in.corner == "conical"], map[bool]string{true: calc.Put(in.radius, "mm", 4) + " + " + calc.Put(in.shift, "mm", 4), false: calc.Put(in.radius, "mm", 4)}[in.corner == "conical"], calc.Put(unit.Stress(in.row.Num("young_likely_gpa")*1000), "MPa", 0), calc.Put(in.height+in.below+in.above, "mm", 3), calc.Put(unit.Stress(in.row.Num("uts_likely_mpa")), "MPa", 0))
}

// machineLimit is the steepest taper over this span: of the typed travel and what
// the card's guides lean, or of the card alone; sure is what the card vouches for,
// 0 where no card has a say.
func (in *form) machineLimit() (sure, most unit.Angle) {
	free := in.above + in.below
	c, ok := in.book.Find("machines", in.machine)
	switch {
	case in.travelGiven && ok:
		return 0, min(Limit(in.travel, in.height+free), points(&c).lean)
	case in.travelGiven:
		return 0, Limit(in.travel, in.height+free)
	case !ok:
		return 0, 0
	}
	return points(&c).at(in.height, free)
}

func points(c *book.Row) Card {
	return CardOf(unit.Angle(c.Num("taper_flat_deg")), unit.Angle(c.Num("taper_tall_deg")), unit.Length(c.Num("taper_flat_mm")), unit.Length(c.Num("taper_tall_mm")))
}

// OfCard is the steepest taper of a machine card at a height, with the guides as
// close as the card's points have them.
func OfCard(c *book.Row, height unit.Length) unit.Angle {
	_, most := points(c).at(height, cardFree)
	return most
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	v := r.Pick("verdict")
	switch {
	case len(v.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, "Only if the values stay at the good end"
	case v.Likely.Value == "yes" && in.limit == 0:
		a.Headline = r.Text("The wall leans {shift} over the height")
	case v.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: the wall leans {shift} over the height")
	case v.Likely.Value == "ask":
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the machine keeps its travel at this height: its card vouches for {limit-sure}")
	case v.Likely.Value == "angle":
		a.Verdict, a.Headline = calc.No, r.Text("No, the machine leans {limit} at most over this span")
	default:
		a.Verdict, a.Headline = calc.No, r.Text("No, at the narrow face the corner needs {reach}")
	}
	a.Lead = r.Text("The guides move against each other by {guides}. In a sharp corner of {angle} the wire leans {true-tilt}, more than the walls do.")
	if in.machine == "any" && !in.travelGiven {
		a.Note("No machine is chosen and no travel typed: whether a machine leans this far is not judged. Its manual says it, and for which height.")
	}
	switch in.corner {
	case "conical":
		a.Note(r.Text("A conical corner grows from {radius-narrow} to {radius-wide}. The narrow face needs {reach}, the wire's half width measured level; the true bound, {least}, lies close to it."))
		if r.Of("radius-inward").Low < 0 {
			a.Note(r.Text("Leaning inward from this radius the far face would come out at {radius-inward}: it cannot be. Give the radius at the narrow face."))
		}
	case "constant":
		a.Note(r.Text("A corner of the same radius at both faces is no cone: its centre moves {centre} along the bisector, and the wire leans {true-tilt} there."))
	default:
		a.Note(r.Text("A sharp tapered corner makes the wire lean {true-tilt}: hold this against the machine's limit, not the wall's angle."))
	}
	a.Used(in.row)
	if in.land > 0 {
		a.Note(r.Text("The land of {land} is cut straight first or last as a contour of its own; the relief starts below it."))
	}
	a.Note(r.Text("Wire: {temper}. Hard wire up to 7°, half-hard to 15°, soft above: common practice, no source. This wire springs back at the guides up to {springy}; steeper, it yields there and the pivots move less."))
	a.Note(r.Text("A stiff wire leaves each guide straight and bends over {pivot}. Where the guides clamp it, both pivots move that much towards the part, and the wall comes out at {angle-stiff}: too steep. Play in the guides works the other way. A test cut tells."))
	if r.Of("limit-sure").High > 0 {
		a.Note("Each of the card's two points shows a travel, with both guides 5 mm off. Between their heights it lies in between; only the smaller is vouched for.")
	}
	a.Note("Skims on a taper see another gap over the height, and flushing is poor on the open side. Expect a rougher face, and go slower.")
	a.Cites("plaza-2009; excerpt; wire mechanics govern the error of the angle @ A stiff wire leaves each guide straight")
	in.draw(r, a)
}

// draw shows the part from the side with the leaning wire.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("The leaning wire, from the side; angle drawn larger where it is small", r.Text("A part {thickness} tall between a lower and an upper guide. The wire leans {taper}; over the part it shifts by {shift}."), 360, 300, false)
	lean := math.Tan(math.Max(6, math.Min(28, float64(in.tau))) * math.Pi / 180)
	const top, bottom = 84.0, 196.0
	x := func(y float64) float64 { return 96 + (bottom-y)*lean }
	if in.opens == "down" {
		x = func(y float64) float64 { return 96 + (y-top)*lean }
	}
	d.Poly(figure.Outline, true, figure.Point{X: x(top) + 12, Y: top}, figure.Point{X: 196, Y: top}, figure.Point{X: 196, Y: bottom}, figure.Point{X: x(bottom) + 12, Y: bottom})
	d.Add(figure.Path{From: figure.Point{X: x(top) + 12, Y: top}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: 196, Y: top}}, {To: figure.Point{X: 196, Y: bottom}}, {To: figure.Point{X: x(bottom) + 12, Y: bottom}}}})
	d.Line(figure.Accent, x(40), 40, x(240), 240)
	for _, y := range [...]float64{40, 240} {
		d.Circle(figure.Outline, x(y), y, 5, false)
	}
	near := x(bottom)
	if in.opens == "down" {
		near = x(top)
	}
	d.Line(figure.Centre, near, 30, near, 252)
	d.Label(212, 46, "upper guide", -1)
	d.Label(212, 66, r.Text("{guide-upper.likely:mm 4}"), -1)
	d.Label(212, 130, "leans by", -1)
	d.Label(212, 150, r.Text("{shift.likely:mm 4}"), -1)
	d.Label(212, 224, "lower guide", -1)
	d.Label(212, 244, r.Text("{guide-lower.likely:mm 4}"), -1)
	d.Label(20, 288, r.Text("T {thickness:mm 2}, taper {taper.likely:° 3}"), -1)
	a.Figure = d
}
