package figure

import "math"

// Axis is one axis of a plot: its ends, whether it counts in decades, and the
// places that are named.
type Axis struct {
	Low, High float64
	Log       bool
	At        []float64
	Names     []string
	Name      string // what it measures, with its unit
}

// share is where a value stands, from 0 to 1; beyond the ends it goes on.
func (a Axis) share(v float64) float64 {
	if a.Log {
		return math.Log(v/a.Low) / math.Log(a.High/a.Low)
	}
	return (v - a.Low) / (a.High - a.Low)
}

// Plot is a law drawn over what it depends on.
type Plot struct {
	D      *Drawing
	X, Y   Axis
	x0, x1 float64 // of the frame on the drawing
	y0, y1 float64 // top and foot
}

// NewPlot draws the frame and its ticks on a drawing of 360 by 300 units.
func NewPlot(d *Drawing, x, y Axis) *Plot {
	p := &Plot{D: d, X: x, Y: y, x0: 52, x1: 340, y0: 40, y1: 240}
	p.D.Line(Thin, p.x0, p.y1, p.x1, p.y1)
	p.D.Line(Thin, p.x0, p.y0, p.x0, p.y1)
	for i, v := range x.At {
		at := p.At(v, y.Low)
		d.Line(Thin, at.X, p.y1, at.X, p.y1+5)
		d.Label(at.X, p.y1+21, x.Names[i], 0)
	}
	for i, v := range y.At {
		at := p.At(x.Low, v)
		d.Line(Thin, p.x0-5, at.Y, p.x0, at.Y)
		d.Label(p.x0-9, at.Y+5, y.Names[i], 1)
	}
	d.Label(p.x1, p.y1+43, x.Name, 1)
	d.Label(12, 20, y.Name, -1)
	return p
}

// At is the place of a pair of values.
func (p *Plot) At(x, y float64) Point {
	return Point{p.x0 + p.X.share(x)*(p.x1-p.x0), p.y1 - p.Y.share(y)*(p.y1-p.y0)}
}

// Curve draws a line through values, cut off where it leaves the frame.
func (p *Plot) Curve(kind Line, xs, ys []float64) {
	var run []Point
	flush := func() {
		p.D.Poly(kind, false, run...)
		run = nil
	}
	for i := range xs {
		at := p.At(xs[i], ys[i])
		if at.Y < p.y0-1e-9 || at.Y > p.y1+1e-9 {
			flush()
			continue
		}
		run = append(run, at)
	}
	flush()
}

// Mark draws the reader's point with its range upright through it.
func (p *Plot) Mark(x, low, likely, high float64) {
	clamp := func(v float64) float64 { return math.Min(p.y1, math.Max(p.y0, p.At(x, v).Y)) }
	at := p.At(x, likely)
	p.D.Line(Accent, at.X, clamp(low), at.X, clamp(high))
	if at.Y >= p.y0 && at.Y <= p.y1 {
		p.D.Circle(Outline, at.X, at.Y, 5, true)
	}
}

// Level draws a line across at a value, with a word at its right end.
func (p *Plot) Level(y float64, text string) {
	at := p.At(p.X.High, y)
	if at.Y < p.y0 || at.Y > p.y1 {
		return
	}
	p.D.Line(Centre, p.x0, at.Y, p.x1, at.Y)
	p.D.Label(p.x1, at.Y-6, text, 1)
}
