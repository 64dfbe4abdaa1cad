package inspect

import (
	"math"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// draw shows the gauge in the slot or corner to scale, or the lengths of a reading.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	switch {
	case in.what == "finish":
		d := figure.New("Length that a reading needs and length that is free", r.Text("A bar for the stylus travel of {traverse} over one for the free length of {length}."), 360, 180, false)
		top := figure.Nice(max(r.Of("traverse").High, float64(in.length)))
		s := figure.NewScale(d, 0, top, false, 40)
		t, l := r.Of("traverse"), float64(in.length)
		s.Row(r.Text("stylus travel {traverse}"), 0, t.Likely, t.High, 1)
		s.Row(r.Text("free {length}"), 0, l, l, 2)
		s.Close("", []float64{0, top}, []string{"0", calc.Say(unit.Length(top), r.System)})
		a.Figure = d
	case in.what == "corner":
		a.Figure = in.corner(r)
	default:
		a.Figure = in.slot(r)
	}
}

func (in *form) slot(r *calc.Result) *figure.Drawing {
	d := figure.New("The gauge in the slot, to scale", r.Text("A slot of {width} between two hatched walls. {1}.", in.gauge(r)), 360, 220, true)
	w := float64(in.width)
	k := 110 / w
	if in.method != "optical" {
		k = 110 / max(w, float64(in.ball))
	}
	const x, y = 120.0, 104.0
	for _, s := range [...]float64{-1, 1} {
		at := x + s*w*k/2
		d.Add(figure.Path{From: figure.Point{X: at, Y: 20}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: at, Y: 180}}, {To: figure.Point{X: at + s*26, Y: 180}}, {To: figure.Point{X: at + s*26, Y: 20}}}})
		d.Line(figure.Outline, at, 20, at, 180)
		if in.method == "optical" {
			d.Line(figure.Accent, at, y-20, at, y+20)
		}
	}
	if in.method != "optical" {
		d.Circle(figure.Accent, x, y, float64(in.ball)*k/2, false)
	}
	d.Label(x, 208, r.Text("slot {width.likely}"), 0)
	in.name(d, r)
	return d
}

// gauge tells in words what is drawn.
func (in *form) gauge(r *calc.Result) string {
	switch in.method {
	case "ball":
		return r.Text("A ball of {ball}")
	case "pin":
		return r.Text("A pin of {ball}")
	}
	return "A lens reads both edges"
}

// name writes the gauge beside the drawing.
func (in *form) name(d *figure.Drawing, r *calc.Result) {
	d.Label(246, 60, map[string]string{"ball": "ball", "pin": "pin", "optical": "lens"}[in.method], -1)
	if in.method != "optical" {
		d.Label(246, 80, r.Text("{ball}"), -1)
	}
}

func (in *form) corner(r *calc.Result) *figure.Drawing {
	d := figure.New("The gauge in the corner, to scale", r.Text("An inside corner of {angle} with a radius of {radius}. {1}.", in.gauge(r)), 360, 240, true)
	half := float64(in.theta) * math.Pi / 360
	s, c := math.Sin(half), math.Cos(half)
	fillet, ball := float64(in.radius), 0.0
	if in.method != "optical" {
		ball = float64(in.ball) / 2
	}
	m := max(fillet, ball)
	long := m*c/s + 0.6*m // of each wall, from the sharp corner
	k := min(200/(m/s+m), 94/(long*s), 200/(long*c))
	x, y := 20.0, 110.0
	at := func(t, side float64) figure.Point { return figure.Point{X: x + k*t*c, Y: y + side*k*t*s} }
	t := fillet * c / s
	d.Add(figure.Path{Line: figure.Outline, From: at(long, -1), Segs: []figure.Segment{{To: at(t, -1)}, {To: at(t, 1), R: k * fillet}, {To: at(long, 1)}}})
	d.Line(figure.Centre, x, y, x+k*(m/s+m), y)
	if ball > 0 {
		centre := ball / s // touches both walls
		if ball < fillet {
			centre = fillet/s - fillet + ball // touches the floor
		}
		d.Circle(figure.Accent, x+k*centre, y, k*ball, false)
	}
	d.Label(246, 120, "radius", -1)
	d.Label(246, 140, r.Text("{radius.likely}"), -1)
	in.name(d, r)
	return d
}
