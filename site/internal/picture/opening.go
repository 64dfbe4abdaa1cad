package picture

import "kerfbook/wasm/figure"

// opening draws the contour of the die opening and of the punch in the page on a
// whole program, each with its start, its tab and its direction.
func opening() *figure.Drawing {
	d := figure.New("A die opening and a punch, each with its start, its tab and the direction of the first pass. Not to scale.",
		"Left, a rectangle with rounded corners, cut from a hole inside, counter-clockwise, up to a tab at the middle of the lower side. Right, a rectangle cut from a hole outside, clockwise, with a tab at the lower side between two short ways in and out.",
		400, 260, false)
	loop(d, 20, 50, 170, 160, 14)
	// The opening: hole, lead-in, tab.
	d.Circle(figure.Outline, 120, 112, 6, false)
	d.Line(figure.Accent, 120, 118, 120, 160)
	d.Line(figure.Thin, 92, 150, 92, 170)
	d.Line(figure.Thin, 120, 150, 120, 170)
	head(d, 145, 160, 1, 0)
	head(d, 170, 100, 0, -1)
	head(d, 80, 50, -1, 0)
	head(d, 20, 110, 0, 1)
	d.Label(110, 117, "start", 1)
	d.Label(106, 188, "tab", 0)
	d.Label(95, 236, "opening, G41", 0)
	// The punch: wire outside, clockwise.
	loop(d, 230, 50, 380, 160, 22)
	d.Circle(figure.Outline, 278, 206, 6, false)
	d.Line(figure.Accent, 278, 200, 278, 160)
	d.Line(figure.Accent, 332, 160, 332, 186)
	head(d, 250, 160, -1, 0)
	head(d, 230, 100, 0, -1)
	head(d, 320, 50, 1, 0)
	head(d, 380, 120, 0, 1)
	d.Label(305, 180, "tab", 0)
	d.Label(268, 196, "A", 1)
	d.Label(342, 186, "B", -1)
	d.Label(305, 236, "punch, G41", 0)
	return d
}

// loop is a rectangle with rounded corners.
func loop(d *figure.Drawing, x0, y0, x1, y1, r float64) {
	p := func(x, y float64) figure.Point { return figure.Point{X: x, Y: y} }
	arc := func(x, y float64) figure.Segment { return figure.Segment{To: p(x, y), R: r, Sweep: true} }
	line := func(x, y float64) figure.Segment { return figure.Segment{To: p(x, y)} }
	d.Add(figure.Path{Line: figure.Outline, Closed: true, From: p(x0+r, y0), Segs: []figure.Segment{
		line(x1-r, y0), arc(x1, y0+r), line(x1, y1-r), arc(x1-r, y1), line(x0+r, y1), arc(x0, y1-r), line(x0, y0+r), arc(x0+r, y0)}})
}
