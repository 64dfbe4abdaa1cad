package bow

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = in.forward() && !in.loadGiven
	a.Used(in.row)
	switch {
	case !in.forward():
		a.Headline = r.Text("A barrel of {measured:small} tells a load of {load-found} across the wall")
		a.Lead = r.Text("At the same setting it makes {barrel-other} on {plan} of height with {other}. As measured, the wire stands off by {bend}: what is more than the barrel is shift and lean.")
		a.Note("The load is right for this setting, stock and flushing only. Check it once on a second height before you plan with it.")
		a.Note("A barrel from debris or stress gives a load too, and a false one. If a repeated last pass at the same offset does not make the wall straighter, it was not bow.")
	case in.full():
		a.Headline = r.Text("It trails by {bend.high:small} at most, if the load is right")
		a.Lead = r.Text("A straight wall shows none of it. Up to {inside.high:small} stay in an inside right angle.")
		if in.path() > 0 {
			a.Lead += r.Text(" The arc's radius comes out by {arc-error}.")
		}
		a.Note("In a full cut sparks stand on both sides alike and in front. The load points back along the path: it makes trailing, and no barrel.")
		a.Note(r.Text("A skim with {skim-load} and {other} trails {bend-skim}. It takes what stayed in inside corners, and meets that much more metal there. What outside corners and bosses have lost is made good only if the skims have more stock than that."))
	default:
		a.Headline = r.Text("Up to {barrel.high:small} of barrel on each wall, if the load is right")
		a.Lead = r.Text("The load is taken wholly across the wall. At the rims the wire stands off by {rim-lower} below and {rim-upper} above, which moves the whole wall. An offset takes out what is alike at both rims, and never the barrel.")
		a.Note("The sign is not sure. Sparks and vapour push the wire off and leave the wall full at mid-height; the electric field pulls it in and leaves it hollow.")
	}
	if in.forward() {
		in.sayCorner(r, a)
	}
	in.sayHelp(r, a)
	in.sayLimits(r, a)
	a.Cites(`klocke-2004; abstract; with wires of 20 to 50 µm the process force is no longer small against the tension
		sarkar-2011; place not seen; the force of the gap found from the trailing @ from trailing that papers report`)
	in.draw(r, a)
}

// sayCorner says what the numbers of corner and arc hold for.
func (in *form) sayCorner(r *calc.Result, a *calc.Answer) {
	f := r.Of("bend").High
	a.Note("Corner and arc take the whole load as trailing and leave it constant. In a corner the gap's force drops, so less stays: upper bounds, for right angles only.")
	a.Note(r.Text("An outside corner loses {outside} if the path rolls round it, and next to nothing if the path is mitred. Real wash-out comes from the changed gap, over-burn and swinging: this sum does not predict it."))
	path := float64(in.path())
	switch {
	case path <= 0:
		a.Note("The hole's radius is not more than the offset: the path has no arc there, and the wire turns as in a corner.")
	case 3*f > path:
		a.Note(r.Text("The path's radius, {1}, is not large against the trailing. The arc behaves like a corner, and its error is an end and no estimate.", calc.Put(in.path(), "mm", 4)))
	default:
		a.Note("A boss and a hole both come out small: the trailing wire runs inside the circle of its path. Twice this on the diameter.")
	}
	if f > float64(in.offset) {
		a.Note("The wire trails by more than its offset. The bound for the corner no longer says what stays.")
	}
}

// sayHelp says what tension and guides buy.
func (in *form) sayHelp(r *calc.Result, a *calc.Answer) {
	less := r.Of("less")
	if less.Low >= 0 {
		a.Note(r.Text("From {tension} to {other} the bend falls by {less}, whatever the load is. The wire then bears {share-other} of its cold breaking load: 20 to 35 % in roughing and 30 to 50 % in skims are common practice, no source."))
	} else {
		a.Note("The other tension is lower, or may be: the bend grows with it.")
	}
	if in.across() && (r.Of("lean").Low != 0 || r.Of("lean").High != 0) {
		a.Note(r.Text("The guides stand unequally far off. So the shift is not the same at both rims and the wall leans by {lean}: closing the farther guide takes it away. Opposite walls lean as mirror images."))
	}
	if share := max(r.Of("share").High, r.Of("share-other").High); share > 100 {
		a.Verdict, a.Headline = calc.No, "No, a weak wire of this kind breaks at such a tension"
		a.Caution("CAUTION", "The tension is above the cold breaking load of the table. A broken wire whips: keep doors and guards shut as the machine's manual says.")
	} else if share > 60 {
		a.Caution("CAUTION", "More than 60 % of the breaking load holds only a cold wire. A broken wire whips: keep doors and guards shut as the machine's manual says.")
	}
}

// sayLimits says when not to trust it.
func (in *form) sayLimits(r *calc.Result, a *calc.Answer) {
	if in.forward() && !in.loadGiven {
		a.Note("The load is a guess over a decade, from trailing that papers report on other machines. Read the high end as a bound and the rest as nothing. A barrel on your own wall tells more: choose it above.")
	}
	if r.Of("stiff").High > 2 {
		a.Note(r.Text("The wire's own stiffness is {stiff} of the tension and no longer nothing. The real bend is smaller and the real frequency higher than a string's."))
	}
	if span := float64(in.below + in.thickness + in.above); r.Of("bend").High > span/50 {
		a.Note("The bend is more than a fiftieth of the span. The sums are for small slopes: read them as too much load or too little tension.")
	}
	a.Note(r.Text("The wire swings by itself at {frequency} between guides that hold it. Sparks come far faster; only changes of their rate can shake it. How far it swings is not computed."))
	a.Note("A bell mouth near the rims is not bow. Measure five heights, two of them near the rims, before you believe a barrel.")
}

// draw shows the wire between its guides, bent far more than it is.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	run, load := Run{in.below, in.thickness, in.above}, in.load
	if !in.forward() {
		load = in.found
	}
	const top, bottom, line, wide, edge = 40.0, 252.0, 120.0, 60.0, 204.0
	scale := (bottom - top) / float64(run.Span())
	most := float64(run.Bend(load, in.tension))
	side, larger := 0.0, "straight"
	if most > 0 {
		side = wide / most
		larger = r.Text("drawn {1} times larger", unit.Number(side/scale, unit.Style{Decimals: 0}))
	}
	at := func(z unit.Length) figure.Point {
		return figure.Point{X: line - side*float64(run.At(z, load, in.tension)), Y: bottom - scale*float64(z)}
	}
	d := figure.New("The wire between its guides; heights to scale, the bend far larger than it is", r.Text("A wire between two guides. It is straight over the free lengths, {below} below and {above} above, and curved over the part's {thickness}. It stands off by {bend}. The part's edge has the wire's shape, against a straight line through its rims."), 360, 290, false)
	d.Line(figure.Centre, line, top-14, line, bottom+14)
	var shape, wall []figure.Point
	shape = append(shape, at(0))
	const gap, parts = 9.0, 16
	for i := 0; i <= parts; i++ {
		p := at(in.below + in.thickness*unit.Length(i)/parts)
		shape, wall = append(shape, p), append(wall, figure.Point{X: p.X + gap, Y: p.Y})
	}
	shape = append(shape, at(run.Span()))
	first, last := wall[0], wall[parts]
	wall = append(wall, figure.Point{X: edge, Y: last.Y}, figure.Point{X: edge, Y: first.Y})
	d.Poly(figure.Outline, true, wall...)
	var segs []figure.Segment
	for _, p := range wall[1:] {
		segs = append(segs, figure.Segment{To: p})
	}
	d.Add(figure.Path{From: first, Closed: true, Hatch: true, Segs: segs})
	d.Line(figure.Thin, first.X, first.Y, last.X, last.Y)
	d.Poly(figure.Accent, false, shape...)
	d.Circle(figure.Outline, line, top, 5, true)
	d.Circle(figure.Outline, line, bottom, 5, true)
	for _, l := range [...]struct {
		y    float64
		text string
	}{{44, "upper guide"}, {64, "free {above.likely:mm 2}"}, {132, "part {thickness:mm 2}"}, {152, "stands off"}, {172, "{bend.likely:small}"}, {234, "free {below.likely:mm 2}"}, {254, "lower guide"}} {
		d.Label(218, l.y, r.Text(l.text), -1)
	}
	d.Label(20, 284, larger, -1)
	a.Figure = d
}
