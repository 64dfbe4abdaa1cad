package leach

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

func micrometres(r unit.Range, s unit.System) string {
	st := unit.Style{Unit: "µm", Decimals: 2, Trim: true}
	if s == unit.Inch {
		st = unit.Style{Unit: "thou", Decimals: 4, Trim: true}
	}
	return unit.PrintRange(unit.LengthKind, r, st)
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	s := r.System
	a.General = true
	density := laws.Printed(in.book, in.cobalt)
	if w := r.In("cobalt"); !w.IsPoint() {
		density.Low, density.High = laws.Printed(in.book, unit.Percent(w.High)).Low, laws.Printed(in.book, unit.Percent(w.Low)).High
	}
	r.Give(a, "density", density)
	depth := micrometres(r.Of("depth"), s)
	switch {
	case !r.Could("says", "depth"):
		a.Headline = "This bound says nothing here"
		a.Lead = "The charge is more than 10 C/cm². A layer that deep would hold back the current or fall off. Change the process instead: zero-mean pulses, cleaner water, a faster pass."
	case in.from == "pass" && in.mean == "zero":
		a.Headline = "Nothing from this cause"
		a.Lead = "With a mean voltage of zero no charge flows on balance. Soaking, stray current at the faces and the sparks themselves remain."
	default:
		a.Headline = "No more than " + micrometres(unit.Exactly(r.Of("depth").High), s)
		a.Lead = "Cobalt gone to a depth of " + depth + " at most. Real losses are smaller: bubbles, films and overpotential hold the current back."
		if r.Could("says", "nothing") {
			a.Note("At part of the range the charge is more than 10 C/cm², where this bound says nothing.")
		}
	}
	if in.mean == "zero" && in.from == "pass" {
		a.Note("Other causes: plain soaking in water that is slightly acid; stray current beside the bare wire at the top and bottom faces; recast and fine cracks from the sparks.")
	}
	a.Note("Common practice, no source: long stays in water bleach the binder, oil does not. Measured: plain soaking took less than 0.05 mg a day from 420 mm² of carbide, so the bath alone does little. What current adds is another matter.")
	a.Note("Less cobalt in the grade makes the depth larger for the same charge, because each layer holds less of it.")
	if in.removedGiven {
		switch p := r.Pick("removed-by-skims"); {
		case len(p.All) > 1:
			a.Note("Whether the later passes take it away depends on the range: " + p.When + ".")
		case p.Likely.Value == "yes":
			a.Note("The later passes take more than this depth, so they remove it.")
		case p.Likely.Value == "no":
			a.Note("The later passes take less than this depth: leave more stock for them, or make the first pass gentler.")
		}
	}
	if in.from == "soak" {
		a.Note("Pure cobalt would go back by " + unit.Fixed(PenetrationRate(float64(in.corrosion)*1e6, laws.CobaltWeight, laws.CobaltDense), 4) + " mm a year at this current.")
	}
	a.Caution("WARNING", "Cobalt dissolved in water and carbide sludge harm skin and lungs. Wear gloves, keep sludge wet, never blow it off with air. The safety data sheet and local rules decide about handling and waste.")
	a.Cite("astm-g102", "from memory", "Faraday's law for corrosion, equivalent weight of cobalt")
	a.Cites("tomlinson-molyneux-1991; abstract; cobalt dissolved from carbide in plain water @ plain soaking took less than")
	a.Figure = in.draw(s)
}

// draw shows grains of carbide with and without binder between them.
func (in *form) draw(s unit.System) *figure.Drawing {
	text := calc.Put(in.depth, "µm", 2)
	if s == unit.Inch {
		text = calc.Put(in.depth, "thou", 4)
	}
	if in.says == "nothing" {
		text = "no depth given"
	}
	d := figure.New("Grains of carbide at the wall, with and without binder; not to scale",
		"A section through the wall. Grains near the surface stand without binder, deeper ones are held by it. Depth without binder at most "+text+".", 360, 210, false)
	const left, top, right, bottom, edge = 18.0, 60.0, 230.0, 190.0, 108.0
	d.Line(figure.Outline, left, top, left, bottom)
	d.Add(figure.Path{From: figure.Point{X: edge, Y: top}, Closed: true, Hatch: true, Segs: []figure.Segment{
		{To: figure.Point{X: right, Y: top}}, {To: figure.Point{X: right, Y: bottom}}, {To: figure.Point{X: edge, Y: bottom}}}})
	for row := range 5 {
		for col := range 7 {
			x := left + 17 + float64(col)*30 + float64(row%2)*9
			y := top + 14 + float64(row)*26
			w := 11 + float64((row*7+col*3)%4)
			if x+w > right {
				continue
			}
			d.Add(figure.Path{Line: figure.Thin, Fill: true, From: figure.Point{X: x - w, Y: y - 4}, Closed: true, Segs: []figure.Segment{
				{To: figure.Point{X: x - 3, Y: y - 11}}, {To: figure.Point{X: x + w - 2, Y: y - 6}}, {To: figure.Point{X: x + w, Y: y + 5}}, {To: figure.Point{X: x + 2, Y: y + 11}}, {To: figure.Point{X: x - w + 2, Y: y + 7}}}})
		}
	}
	d.Line(figure.Hidden, edge, top-8, edge, bottom)
	d.Line(figure.Thin, left, 34, left, top)
	d.Line(figure.Thin, edge, 34, edge, top)
	d.Line(figure.Thin, left, 40, edge, 40)
	d.Label(left, 26, "without binder, at most "+text, -1)
	d.Point(244, 100, "binder", -1, 180, 118)
	d.Point(244, 150, "grain", -1, 215, 160)
	return d
}
