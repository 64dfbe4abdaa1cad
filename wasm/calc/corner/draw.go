package corner

import (
	"math"

	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// The drawing's size and where things may stand: the opening on the left, its
// vertex beside a column of labels on the right.
const (
	wide, high = 360.0, 298.0
	under      = 24.0 // for the gap's dimension, under the floor
	boxRight   = 200.0
	column     = 212.0
	margin     = 14.0
	band       = 18.0 // depth of the hatched material
)

// draw shows the wire in the corner at the likely gap, to scale, with the floor
// lying level and the other wall at the corner's angle.
func (in *form) draw(s unit.System, leaves unit.Range) *figure.Drawing {
	r := float64(in.leaves)
	h := half(in.angle)
	alt := "A corner of " + unit.Print(unit.AngleKind, float64(in.angle), unit.Style{Unit: "°", Decimals: 1, Trim: true}) + " with the wire in it. The wire, " + wireName(in.wire, s) +
		", stands a gap of " + small(float64(in.gap), s) + " off both walls and leaves a radius of " + length(leaves.Likely, s) + "."
	d := figure.New("The wire in the corner, to scale", alt, wide, high, true)
	if r <= 0 {
		return d
	}
	// Corner coordinates in millimetres: vertex at the origin, floor along +x,
	// y up; the wire's centre on the bisector.
	cx, cy := r/math.Tan(h), r
	run := cx + 1.9*r
	wall := func(t float64) (x, y float64) { return t * math.Cos(2*h), t * math.Sin(2*h) }
	ex, ey := wall(run)
	left, right := math.Min(0, ex), math.Max(run, math.Max(ex, cx+r))
	top := math.Max(ey, cy+r*1.15)
	k := math.Min((boxRight-2*margin-band)/(right-left), (high-2*margin-band-under)/top)
	ox, oy := margin+band-left*k, high-margin-band-under
	// The vertex stands on the right, beside the labels, so that no leader runs
	// over the wire to reach it.
	at := func(x, y float64) figure.Point { return figure.Point{X: margin + boxRight - ox - x*k, Y: oy - y*k} }

	tx, ty := wall(cx) // where the arc meets the inclined wall
	floorEnd, floorTouch, wallTouch, wallEnd := at(run, 0), at(cx, 0), at(tx, ty), at(ex, ey)
	arc := figure.Segment{To: wallTouch, R: r * k}
	nx, ny := -math.Sin(2*h), math.Cos(2*h) // outward normal of the inclined wall
	b := band / k
	outer := b / math.Tan(h)
	d.Add(figure.Path{From: floorEnd, Closed: true, Hatch: true, Segs: []figure.Segment{
		{To: floorTouch}, arc, {To: wallEnd}, {To: at(ex+nx*b, ey+ny*b)}, {To: at(-outer, -b)}, {To: at(run, -b)}}})
	d.Add(figure.Path{Line: figure.Outline, From: floorEnd, Segs: []figure.Segment{{To: floorTouch}, arc, {To: wallEnd}}})
	if !in.sharp && in.radius.Likely > 0 {
		in.drawPrint(d, at, h, k)
	}
	c := at(cx, cy)
	rw := float64(in.wire) / 2 * k
	d.Circle(figure.Hidden, c.X, c.Y, r*k, false)
	d.Circle(figure.Wire, c.X, c.Y, rw, true)
	d.Cross(c.X, c.Y, rw, 8)
	in.labels(d, s, leaves, c, rw, r*k, at, h)
	return d
}

// drawPrint draws the print's own radius as a thin arc, so that what is left
// stands beside what is asked.
func (in *form) drawPrint(d *figure.Drawing, at func(x, y float64) figure.Point, h, k float64) {
	R := float64(in.target())
	t := R / math.Tan(h)
	if R*k > 130 {
		return
	}
	a, b := at(t, 0), at(t*math.Cos(2*h), t*math.Sin(2*h))
	d.Add(figure.Path{Line: figure.Thin, From: a, Segs: []figure.Segment{{To: b, R: R * k}}})
}

func (in *form) labels(d *figure.Drawing, s unit.System, leaves unit.Range, c figure.Point, rw, rk float64, at func(x, y float64) figure.Point, h float64) {
	on := func(r, deg float64) (x, y float64) {
		a := deg * math.Pi / 180
		return c.X - r*math.Cos(a), c.Y - r*math.Sin(a)
	}
	y := 34.0
	next := func(text string, x, yTo float64) {
		d.Point(column, y, text, -1, x, yTo)
		y += 40
	}
	x, yy := on(rw*0.7, 130)
	next(wireName(in.wire, s), x, yy)
	bis := 180 + h*180/math.Pi
	x, yy = on(rk, bis)
	next("R "+length(leaves.Likely, s)+" left", x, yy)
	if !in.sharp && in.radius.Likely > 0 {
		R := float64(in.target())
		if R*rk/float64(in.leaves) <= 130 {
			m := R / math.Sin(h)
			p := at((m-R)*math.Cos(h), (m-R)*math.Sin(h))
			next("R "+length(R, s)+" print", p.X, p.Y)
		}
	}
	// The gap is dimensioned between the wire's lowest point and the floor.
	if in.gap > 0 {
		floor := at(0, 0).Y
		d.Dim(figure.Point{X: c.X, Y: c.Y + rw}, figure.Point{X: c.X, Y: floor}, -(rw + 14), "gap "+small(float64(in.gap), s), true)
	}
	v := at(0, 0)
	next("uncut "+length(float64(in.uncut), s), (v.X+c.X+rk*math.Cos(h))/2, (v.Y+c.Y+rk*math.Sin(h))/2)
}
