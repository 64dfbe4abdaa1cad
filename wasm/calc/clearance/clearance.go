package clearance

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                              [0]func() // never compared, so no code for comparing is made
	book                           *book.Book
	group, job                     string
	sheet, size, around            unit.Length
	aroundGiven, allowed           bool
	allowance                      unit.Percent
	shear                          unit.Stress
	offset, corner, kerf           unit.Length
	cornerGiven                    bool
	plate, grind                   unit.Length
	relief                         unit.Angle
	side, total, punch, die        unit.Length
	punchOffset, dieOffset, rPunch unit.Length
	force                          unit.Force
	tilt                           unit.Angle
	straight, grown                unit.Length
	pair                           string
}

// Calculator declares the clearance calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "clearance", Title: "Punch and die", Question: "How much clearance, and which offsets for punch and die?",
		Summary: "Clearance on each side, punch and die sizes, both offsets from one contour, blanking force, and punch and die from one slot.",
		Tables:  []string{"clearances name share_*_pct"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.job, `job: What is wanted
		group Sheet
		option blanking: the piece that falls out
		option piercing: the hole that stays`)
	calc.AskRows(f, in.book, "clearances", &in.group, "group: Sheet metal\nis group-3")
	calc.Ask(f, &in.sheet, `sheet: Thickness of the sheet
		mark sheet
		is 0.5 mm
		keys mm in; in
		usual 0.05 mm to 6 mm
		above 0 mm: a sheet has a thickness
		max 50 mm: this is plate`)
	calc.AskGiven(f, &in.allowance, &in.allowed, `allowance: Clearance, share of the thickness, each side
		help Leave it empty to take the table. Charts often print both sides together.
		keys %
		usual 0.5 % to 15 %
		min 0 %: clearance on each side is not negative
		max 50 %: the sheet would be drawn, not cut
		ranges`).Fallback = in.table
	calc.Ask(f, &in.size, `size: Size of the part
		mark size
		is 10 mm
		keys length
		usual 0.5 mm to 200 mm
		above 0 mm: a part has a size
		max 5000 mm: no press takes this`)
	calc.AskGiven(f, &in.around, &in.aroundGiven, `around: Length of the cut edge
		help Leave it empty for a round part of that size.
		keys mm in; in
		usual 1 mm to 2000 mm
		above 0 mm: an edge has a length
		max 100000 mm: no press takes this`)
	calc.Ask(f, &in.shear, `shear: Shear strength of the sheet
		is 310 MPa
		help About 0.7 of the tensile strength.
		keys MPa ksi; ksi
		usual 50 MPa to 900 MPa
		above 0 MPa: then nothing has to be cut
		max 3000 MPa: no sheet has this
		ranges`)
	calc.Ask(f, &in.offset, `offset: Offset of the finishing pass
		group Wire
		is 0.137 mm
		help Half the wire and the gap of the pass that leaves the wall: see the pass plan.
		keys length
		usual 0.012 mm to 0.25 mm
		above 0 mm: a wire has a radius
		max 2 mm: no plan for wire needs more
		ranges`)
	calc.AskGiven(f, &in.corner, &in.cornerGiven, `corner: Inside radius of the die's corner
		keys length
		usual 0.02 mm to 5 mm
		min 0 mm: a radius is not negative
		max 1000 mm: a radius this large is no corner`)
	calc.Ask(f, &in.kerf, `kerf: Kerf, when one slot gives both
		group Punch and die from one plate
		is 0.31 mm
		help Taken level, at the face of the plate.
		keys length
		usual 0.03 mm to 0.45 mm
		above 0 mm: a kerf has a width
		max 3 mm: no wire leaves this
		ranges`)
	calc.Ask(f, &in.plate, `plate: Thickness of the plate
		is 20 mm
		keys mm in; in
		usual 2 mm to 100 mm
		above 0 mm: a plate has a thickness
		max 1000 mm: no machine takes more`)
	calc.Ask(f, &in.relief, `relief: Relief of the die, each side
		advanced
		is 0.25 to 1°
		keys °
		usual 0.1° to 1.5°
		min 0°: a straight land is 0
		max 30°: this is a funnel
		ranges`)
	calc.Ask(f, &in.grind, `grind: Ground away over its life
		advanced
		is 2 mm
		keys mm in; in
		usual 0.1 mm to 10 mm
		min 0 mm: grinding takes away
		max 500 mm: nothing is left`)
}

func (in *form) table() calc.Fallback {
	r, ok := in.book.Find("clearances", in.group)
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range("share", "pct", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.PercentKind, v, "%")}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.side, "clearance: Clearance on each side\nmain\nrises allowance")
	calc.Tell(f, &in.total, "total: Both sides together\nrises allowance")
	calc.Tell(f, &in.punch, "punch: Size of the punch\nmain\nfalls allowance")
	calc.Tell(f, &in.die, "die: Size of the die\nmain\nrises allowance")
	calc.Tell(f, &in.dieOffset, "die-offset: Offset of the die, inside the die's contour\nrises offset")
	calc.Tell(f, &in.punchOffset, "punch-offset: Offset of the punch, outside the same contour\nrises offset\nfalls allowance")
	calc.Tell(f, &in.rPunch, "punch-corner: Outside corner of the punch\nfalls allowance").Applies = func() bool { return in.cornerGiven }
	calc.Tell(f, &in.force, "force: Blanking force\nunit kN 3\ninch lbf 0\nrises shear")
	calc.TellChoice(f, &in.pair, "pair: Punch and die from one slot\nword tilt: yes, with the wire tilted\nword straight: yes, straight\nword no: no, the kerf is less than the clearance")
	calc.Tell(f, &in.straight, "straight: Clearance from one straight slot\nrises kerf")
	calc.Tell(f, &in.tilt, "tilt: Tilt for the clearance\nunit ° 4\nrises kerf\nfalls allowance").Applies = func() bool { return in.pair == "tilt" }
	calc.Tell(f, &in.grown, "grown: Die with relief opens by, both sides together\nunit µm 1\ninch thou 2\nrises relief")
}

func (in *form) point(p *calc.Point) {
	blanking := in.job == "blanking"
	in.side = Side(in.allowance, in.sheet)
	in.total = 2 * in.side
	in.punch, in.die = Punch(in.size, in.side, blanking), Die(in.size, in.side, blanking)
	in.dieOffset, in.punchOffset = in.offset, in.offset-in.side
	in.rPunch = max(0, in.corner-in.side)
	in.force = Force(in.shear, in.sheet, in.edge())
	in.straight = in.kerf
	in.tilt = Tilt(in.kerf, in.side, in.plate)
	in.pair = "tilt"
	switch {
	case in.kerf < in.side-1e-9:
		in.pair = "no"
	case in.kerf < in.side+1e-9:
		in.pair = "straight"
	}
	in.grown = Grown(in.grind, in.relief)
	if in.punch <= 0 {
		p.Impossible("the clearance on both sides is more than the part: the punch would have no size")
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	blanking := in.job == "blanking"
	p.Work(`clearance | clearance on each side | a t | {allowance} × {sheet} | groover-blanking
		punch | punch | {1} | {2} | groover-blanking
		die | die | {3} | {4} | groover-blanking
		punch-offset | offset of the punch from the die's contour | offset - c | {offset} - {clearance} | geometry
		punch-corner | outside corner of the punch | R - c, 0 at least | {corner} - {clearance} | geometry
		force | blanking force | S t L | {shear} × {sheet} × {5} | groover-blanking
		tilt | tilt of the wire | arctan((b - c) / T) | arctan(({kerf} - {clearance}) / {plate}) | geometry
		grown | opening after grinding | 2 g tan φ | 2 × {grind} × tan {relief} | geometry`,
		pick(blanking, "size - 2 c", "size of the hole"), pick(blanking, calc.Put(in.size, "mm", 4)+" - 2 × "+calc.Put(in.side, "mm", 4), calc.Put(in.size, "mm", 4)),
		pick(blanking, "size of the part", "size + 2 c"), pick(blanking, calc.Put(in.size, "mm", 4), calc.Put(in.size, "mm", 4)+" + 2 × "+calc.Put(in.side, "mm", 4)),
		calc.Put(in.edge(), "mm", 3))
}

// edge is the length of the cut edge, that of a round part when none is given.
func (in *form) edge() unit.Length {
	if in.aroundGiven {
		return in.around
	}
	return in.size * math.Pi
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.allowed
	a.Headline = r.Text("{clearance} of clearance on each side")
	a.Lead = r.Text("Both sides together {total}. The {1} has the part's size: punch {punch}, die {die}. Force {force}.", pick(in.job == "blanking", "die", "punch"))
	a.Note(r.Text("From one contour, that of the die: cut the die with an offset of {die-offset} on the inside, the punch with {punch-offset} on the outside. Two D values, one program."))
	if r.Of("punch-offset").Low < 0 {
		a.Note("The punch's offset comes out below zero: the clearance is more than the wire's reach, and the wire runs inside the die's contour. Most controls do not take it: draw the punch's own contour.")
	}
	if in.cornerGiven {
		a.Note(r.Text("With an inside radius of {corner} in the die, a punch corner of {punch-corner} keeps the clearance all round the corner. Left sharp, a punch corner of a right angle has less clearance on the bisector than on the walls, and strikes the die when the clearance is below 0.29 of that radius."))
	}
	switch r.Pick("pair").Likely.Value {
	case "tilt":
		a.Note(r.Text("From one plate and one slot: cut straight, the slug is a punch with {straight} of clearance, the whole kerf. Tilt the wire by {tilt} and slide the slug: its wide end meets the die's narrow end with {clearance}. The plate is taken as {plate} thick and both keep the tilt as relief."))
	case "no":
		a.Note("The kerf is less than the clearance wanted: punch and die do not come from one slot. Skim the slug or the die by the difference.")
	}
	a.Note(r.Text("A straight land keeps its size while it is ground. Without one, or once it is gone, {relief} of relief opens the die by {grown} over {grind} of grinding."))
	a.Note("Say “each side” or “both sides” every time a clearance is written. Land of 2 to 5 mm, relief of 0.25 to 1.5° on each side: common practice.")
	a.Caution("WARNING", "Press tools are guarded and set by trained people with the press locked out. The press's manual and local rules decide.")
	a.Cites("groover-blanking; §20.1, place not seen; allowance, sizes and force of blanking")
	in.draw(r, a)
}

// draw shows punch, sheet and die; the clearance is drawn wider than it is.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("Punch and die, section; clearance drawn wider than it is", r.Text("A punch of {punch} over a sheet of {sheet} and a die of {die}. Between punch and die stands {clearance} on each side."), 360, 276, false)
	const px, dx = 48.0, 62.0 // half widths of punch and die
	x := 180.0
	d.Poly(figure.Outline, false, figure.Point{X: x - px, Y: 40}, figure.Point{X: x - px, Y: 112}, figure.Point{X: x + px, Y: 112}, figure.Point{X: x + px, Y: 40})
	d.Add(figure.Path{From: figure.Point{X: x - px, Y: 40}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: x - px, Y: 112}}, {To: figure.Point{X: x + px, Y: 112}}, {To: figure.Point{X: x + px, Y: 40}}}})
	d.Poly(figure.Thin, true, figure.Point{X: 40, Y: 112}, figure.Point{X: 320, Y: 112}, figure.Point{X: 320, Y: 126}, figure.Point{X: 40, Y: 126})
	for _, s := range [...]float64{-1, 1} {
		pts := []figure.Point{{X: x + s*dx, Y: 126}, {X: x + s*140, Y: 126}, {X: x + s*140, Y: 196}, {X: x + s*(dx+10), Y: 196}, {X: x + s*dx, Y: 160}}
		d.Poly(figure.Outline, true, pts...)
		segs := []figure.Segment{}
		for _, p := range pts[1:] {
			segs = append(segs, figure.Segment{To: p})
		}
		d.Add(figure.Path{From: pts[0], Closed: true, Hatch: true, Segs: segs})
	}
	d.Line(figure.Thin, x+px, 112, x+px, 214)
	d.Line(figure.Thin, x+dx, 160, x+dx, 214)
	d.Label(x+dx+6, 218, r.Text("c {clearance.likely:mm 4}"), -1)
	d.Label(x, 26, r.Text("punch {punch.likely:mm 4}"), 0)
	d.Label(x, 244, r.Text("die {die.likely:mm 4}"), 0)
	d.Label(40, 104, "sheet", -1)
	d.Label(40, 268, r.Text("sheet {sheet:mm 3}"), -1)
	a.Figure = d
}
