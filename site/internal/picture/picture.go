// Package picture holds the handbook's drawings that no calculator makes: what a
// page numbers and then explains. A drawing here has no input and no number of
// the trade in it; whatever is computed is drawn by its calculator.
//
// It may import wasm/figure and the standard library's text packages only.
package picture

import (
	"slices"

	"kerfbook/wasm/figure"
)

// named is a drawing with the word by which a page asks for it.
type named struct {
	name string
	draw func() *figure.Drawing
}

// all lists every drawing, in order of name.
func all() []named {
	return []named{
		{"axes", axes},
		{"opening", opening},
		{"pulse", pulse},
		{"way", way},
	}
}

// Names lists the drawings in order.
func Names() []string {
	var out []string
	for _, n := range all() {
		out = append(out, n.name)
	}
	return out
}

// Find draws by name.
func Find(name string) (*figure.Drawing, bool) {
	list := all()
	i := slices.IndexFunc(list, func(n named) bool { return n.name == name })
	if i < 0 {
		return nil, false
	}
	return list[i].draw(), true
}

// balloon is a mark in a thin circle with a line to what it names.
func balloon(d *figure.Drawing, mark string, x, y, toX, toY float64) {
	const r = 11
	switch {
	case toY == y && toX > x:
		d.Line(figure.Thin, x+r, y, toX, toY)
	case toY == y:
		d.Line(figure.Thin, x-r, y, toX, toY)
	case toX == x && toY > y:
		d.Line(figure.Thin, x, y+r, toX, toY)
	case toX == x:
		d.Line(figure.Thin, x, y-r, toX, toY)
	case toX > x:
		d.Line(figure.Thin, x+r, y, toX, toY)
	default:
		d.Line(figure.Thin, x-r, y, toX, toY)
	}
	d.Circle(figure.Thin, x, y, r, false)
	d.Label(x, y+5, mark, 0)
}

// box is a closed rectangle.
func box(d *figure.Drawing, kind figure.Line, x0, y0, x1, y1 float64) {
	d.Poly(kind, true, figure.Point{X: x0, Y: y0}, figure.Point{X: x1, Y: y0}, figure.Point{X: x1, Y: y1}, figure.Point{X: x0, Y: y1})
}

// hatched is a rectangle of cut material with its outline.
func hatched(d *figure.Drawing, x0, y0, x1, y1 float64) {
	d.Add(figure.Path{Line: figure.Thin, Closed: true, Hatch: true, From: figure.Point{X: x0, Y: y0},
		Segs: []figure.Segment{{To: figure.Point{X: x1, Y: y0}}, {To: figure.Point{X: x1, Y: y1}}, {To: figure.Point{X: x0, Y: y1}}}})
	box(d, figure.Outline, x0, y0, x1, y1)
}

// head is an arrow head with its point at x, y that flies along dx, dy, one of
// which is 0 and the other 1 or -1.
func head(d *figure.Drawing, x, y, dx, dy float64) {
	const long, half = 9, 3.5
	d.Add(figure.Path{Line: figure.Thin, Closed: true, Fill: true, From: figure.Point{X: x, Y: y}, Segs: []figure.Segment{
		{To: figure.Point{X: x - dx*long - dy*half, Y: y - dy*long - dx*half}}, {To: figure.Point{X: x - dx*long + dy*half, Y: y - dy*long + dx*half}}}})
}

// pipe is a thin line with an arrow head at its end.
func pipe(d *figure.Drawing, pts ...figure.Point) {
	d.Poly(figure.Thin, false, pts...)
	a, z := pts[len(pts)-2], pts[len(pts)-1]
	head(d, z.X, z.Y, sign(z.X-a.X), sign(z.Y-a.Y))
}

func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
