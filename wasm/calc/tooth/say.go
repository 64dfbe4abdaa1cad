package tooth

import (
	"math"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.gapGiven
	name := calc.WireName(in.wire, r.System)
	v := r.Pick("verdict")
	switch {
	case len(v.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the gap stays at {1} or less", calc.Put(in.most-in.wire/2, smallUnit(r.System), 1))
	case v.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, "Yes, "+name+" reaches the root"
	default:
		a.Verdict, a.Headline = calc.No, "No, "+name+" does not reach the root"
	}
	a.Lead = r.Text("It leaves R {radius-left}; the tooth allows {reach}, and {decides} decides.")
	if in.largest == "none" {
		a.Lead += " None of the wires listed is sure to reach it."
	} else if in.largest != calc.Put(in.wire, "mm", 3) {
		a.Lead += " Largest wire that is sure to: " + in.largest + "."
	}
	a.Note(r.Text("The space is {narrowest} wide where the involute begins, at a diameter of {narrowest-at}, and a disc of {disc} touches both flanks and the floor. The smallest concave radius is {root-radius}."))
	if in.gear.Internal {
		a.Note("The space of an internal gear narrows outward and its walls are not parallel: a wire that enters the mouth may still stop short of the floor.")
	} else if in.gear.Root < in.gear.Base() {
		a.Note("The root lies below the base circle. There the flank is no involute; it is taken as radial here, and a hob or a shaper cuts another curve. The drawing's contour decides.")
	}
	if in.filletGiven && in.fillet == 0 {
		a.Note(r.Text("A sharp root is never cut sharp: {uncut} stays in each corner of {corner-angle}. Ask for a radius of {radius-left.high} or more."))
	}
	if r.Could("undercut", "yes") {
		a.Note("A rack would undercut these teeth. A wire does not: it cuts what is drawn, so the mating gear may want the undercut drawn.")
	}
	if in.gear.Internal {
		a.Note(r.Text("Size between pins of {pin}: {pins}."))
	} else {
		a.Note(r.Text("Size over pins of {pin}: {pins}. After a skim measure at the same place again: each flank moves by the error of the offset, so the space grows by twice that."))
	}
	a.Note("The wire leaves the tooth's own outline: no hob, no tool of its own. The offset must be less than the radius at the root for every pass, and roughing, with its larger offset, is the first to fail.")
	a.Cites(`iso-21771; relations from memory; involute, tooth and space widths
		iso-53; profiles from memory; dedendum and tip radius of the rack
		van-keuren-pins; place not seen; sizes over pins @ pins of
		kalpakjian-schmid; wire EDM text, place not seen; kerf = wire + 2 × gap`)
	in.table(r, a)
	in.draw(r, a)
}

func smallUnit(s unit.System) string {
	if s == unit.Inch {
		return "thou"
	}
	return "µm"
}

// table holds each wire's radius against what the tooth allows.
func (in *form) table(r *calc.Result, a *calc.Answer) {
	st := unit.LengthKind.Style(r.System)
	top := float64(in.most) * 1.6
	axis := &calc.Axis{High: top, Mark: float64(in.most), HasMark: true, Head: "0 to " + unit.Print(unit.LengthKind, top, st)}
	t := calc.Table{Title: "Wires and this tooth", Columns: []calc.Column{{Head: "Wire"}, {Head: "Radius left", Right: true}, {Head: axis.Head, Axis: axis}, {Head: "Reaches it", Right: true}},
		Note: "The line is the largest wire radius and gap that the tooth allows."}
	for i, d := range in.wires {
		g := in.gaps[i]
		if in.gapGiven {
			g = unit.Exactly(float64(in.gap))
		}
		left := unit.Range{Low: float64(d)/2 + g.Low, Likely: float64(d)/2 + g.Likely, High: float64(d)/2 + g.High}
		if left.Low > top {
			break
		}
		word := "yes"
		if in.able(unit.Length(left.Low)) == "no" {
			word = "no"
		} else if in.able(unit.Length(left.High)) == "no" {
			word = "not sure"
		}
		shown := unit.Range{Low: left.Low, Likely: min(left.Likely, top), High: min(left.High, top)}
		t.Rows = append(t.Rows, []calc.Cell{{Text: calc.WireName(d, r.System)}, {Text: unit.Print(unit.LengthKind, left.Likely, st)}, {Range: &shown}, {Text: word, Strong: word != "yes"}})
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, t)
	}
}

// draw shows one tooth space with the wire as deep as it goes, to scale, its
// floor downward.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	g := in.gear
	where := "reaches the floor"
	if in.verdict == "no" {
		where = "stands off the root"
	}
	d := figure.New("The tooth space with the wire in it, to scale", r.Text("One tooth space, its floor downward: {narrowest} wide where the involute begins. The wire of {wire} with its gap {1}.", where), 360, 280, true)
	rf, ra := g.Root/2, float64(in.tip)/2
	sign := 1.0 // the floor is down: y grows outward for external, inward for internal
	if g.Internal {
		sign = -1
	}
	tall := math.Abs(ra - rf)
	wide := math.Max(g.Chord(float64(in.tip)), g.Chord(g.Root)) + 0.6*float64(in.m)
	k := math.Min(170/wide, 180/(tall+0.35*float64(in.m)))
	at := func(radius, angle float64) figure.Point {
		return figure.Point{X: 110 + radius*math.Sin(angle)*k, Y: 226 - sign*(radius*math.Cos(angle)-rf)*k}
	}
	const steps = 14
	start := rf
	if !g.Internal {
		start = math.Max(rf, g.Base()/2)
	}
	flank := func(side float64) []figure.Point {
		var pts []figure.Point
		for i := range steps + 1 {
			radius := start + (ra-start)*float64(i)/steps
			pts = append(pts, at(radius, side*g.half(2*radius)))
		}
		if start > rf {
			pts = append([]figure.Point{at(rf, side*g.half(2*start))}, pts...)
		}
		return pts
	}
	left, right := flank(-1), flank(1)
	var all []figure.Point
	for i := len(left) - 1; i >= 0; i-- {
		all = append(all, left[i])
	}
	floor := g.half(2 * start)
	for i := 1; i < 6; i++ {
		all = append(all, at(rf, -floor+2*floor*float64(i)/6))
	}
	all = append(all, right...)
	path := figure.Path{From: all[0]}
	for _, p := range all[1:] {
		path.Segs = append(path.Segs, figure.Segment{To: p})
	}
	hatch := path
	hatch.Hatch, hatch.Closed = true, true
	edge := 30.0
	hatch.Segs = append(append([]figure.Segment{}, path.Segs...), figure.Segment{To: figure.Point{X: math.Min(206, all[len(all)-1].X+edge), Y: all[len(all)-1].Y}},
		figure.Segment{To: figure.Point{X: math.Min(206, all[len(all)-1].X+edge), Y: 246}}, figure.Segment{To: figure.Point{X: math.Max(14, all[0].X-edge), Y: 246}}, figure.Segment{To: figure.Point{X: math.Max(14, all[0].X-edge), Y: all[0].Y}})
	d.Add(hatch)
	path.Line = figure.Outline
	d.Add(path)
	reach := float64(in.reach)
	c := g.centre(reach)
	if g.Internal {
		c = math.Min(c, rf-reach)
	} else {
		c = math.Max(c, rf+reach)
	}
	if p := at(c, 0); p.Y-reach*k > 8 {
		d.Circle(figure.Hidden, p.X, p.Y, reach*k, false)
		d.Circle(figure.Wire, p.X, p.Y, float64(in.wire)/2*k, true)
		d.Cross(p.X, p.Y, float64(in.wire)/2*k, 5)
	}
	for i, t := range [...]string{"narrowest", r.Text("{narrowest:mm 4}"), "tooth allows R", r.Text("{reach:mm 4}"), "wire leaves R", r.Text("{radius-left.likely:mm 4}")} {
		d.Label(222, 70+float64(i)*22+float64(i/2)*12, t, -1)
	}
	a.Figure = d
}
