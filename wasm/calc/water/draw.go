package water

import (
	"math"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// Both drawings are a scale at the foot with one named row above another.
const (
	wide         = 360.0
	scaleL, endR = 20.0, 340.0
	rowHeight    = 44.0
)

// rows draws ranges on one scale. Weight is the pattern of the bar: open,
// hatched, filled, so that they differ in grey too.
type rows struct {
	d  *figure.Drawing
	at func(float64) float64 // 0 to 1 along the scale
	y  float64
}

func (r *rows) row(name string, v unit.Range, weight uint8) {
	r.d.Label(scaleL, r.y-14, name, -1)
	r.d.Bars = append(r.d.Bars, figure.Bar{At: figure.Point{X: scaleL, Y: r.y}, Length: endR - scaleL, Height: 11,
		From: r.at(v.Low), To: r.at(v.High), Likely: r.at(v.Likely), Weight: weight})
	r.y += rowHeight
}

// tick marks a place of the scale and names it.
func (r *rows) tick(v float64, name string) {
	x := scaleL + r.at(v)*(endR-scaleL)
	r.d.Line(figure.Thin, x, r.y-5, x, r.y+5)
	anchor := 0
	if x == scaleL {
		anchor = -1
	} else if x == endR {
		anchor = 1
	}
	r.d.Label(x, r.y+21, name, anchor)
}

// draw sets pure water, open water, the usual range, tap water and this water on
// one logarithmic scale.
func (in *form) draw(r *calc.Result) *figure.Drawing {
	k, floor := r.Of("conductivity-25"), r.Of("floor")
	text := func(v unit.Range) string { return calc.SayRange(unit.ConductivityKind, v, r.System) }
	d := figure.New("Conductivity at 25 °C, each step ten times the last",
		"A scale in µS/cm. Pure water stands at "+text(unit.Exactly(float64(in.pure25)))+", water open to the air at "+text(floor)+", the usual range for this work from "+
			text(unit.Exactly(float64(in.low)))+" to "+text(unit.Exactly(float64(in.high)))+", tap water at some hundreds. This water reads "+text(k)+".", wide, 306, false)
	g := &rows{d: d, y: 30, at: func(k float64) float64 { return (math.Log10(min(max(k, 0.01), 1000)) + 2) / 5 }}
	g.row("pure water", unit.Exactly(float64(in.pure25)), 0)
	g.row("water open to the air", floor, 0)
	g.row("usual for this work", unit.Range{Low: float64(in.low), Likely: in.targetRow.Num("target_likely_uscm"), High: float64(in.high)}, 1)
	// Tap water of 100 to 800 µS/cm: common practice, no source.
	g.row("tap water, for comparison", unit.Range{Low: 100, Likely: 300, High: 800}, 0)
	g.row("this water", k, 2)
	g.y -= 10
	d.Line(figure.Thin, scaleL, g.y, endR, g.y)
	v := 0.01
	for _, name := range []string{"0.01", "0.1", "1", "10", "100", "1000"} {
		g.tick(v, name)
		v *= 10
	}
	d.Label(endR, g.y+43, "µS/cm", 1)
	return d
}

// drawOil sets the categories and this oil on a scale of flash points.
func (in *form) drawOil(r *calc.Result) *figure.Drawing {
	s := r.System
	at := func(c float64) string { return calc.Say(unit.Temperature(c), s) }
	alt := "A scale of flash points. Categories 1 and 2 lie below " + at(23) + ", category 3 from there to " + at(60) + ", category 4 up to " + at(93) + ", no category above."
	if in.flashGiven {
		alt += " This oil stands at " + calc.SayRange(unit.TemperatureKind, in.flashRange(r), s) + "."
	}
	d := figure.New("Flash points and the categories of the globally harmonised system", alt, wide, 150, true)
	g := &rows{d: d, y: 96, at: func(c float64) float64 { return min(max(c, 0), 140) / 140 }}
	names := []string{"1, 2", "3", "4", "none"}
	edges := []float64{0, 23, 60, 93, 140}
	for i, name := range names {
		x0, x1 := scaleL+g.at(edges[i])*(endR-scaleL), scaleL+g.at(edges[i+1])*(endR-scaleL)
		box := figure.Path{Line: figure.Thin, From: figure.Point{X: x0, Y: 84}, Closed: true, Segs: []figure.Segment{
			{To: figure.Point{X: x1, Y: 84}}, {To: figure.Point{X: x1, Y: 96}}, {To: figure.Point{X: x0, Y: 96}}}}
		d.Add(box)
		if i == 1 || i == 2 {
			box.Hatch = i == 1
			box.Fill = i == 2
			d.Add(box)
		}
		d.Label((x0+x1)/2, 76, name, 0)
	}
	for _, c := range edges[1:4] {
		g.tick(c, unit.Number(unit.In(unit.TemperatureKind, c, unit.TemperatureKind.Style(s).Unit), unit.Style{Decimals: 1, Trim: true}))
	}
	d.Label(endR, g.y+43, "flash point, "+unit.TemperatureKind.Style(s).Unit, 1)
	if in.flashGiven {
		g.y = 40
		g.row("this oil", in.flashRange(r), 2)
	}
	return d
}
