package picture

import "kerfbook/wasm/figure"

// way draws the wire's way in numbers and the fluid's in letters, as the page on
// the machine names them.
func way() *figure.Drawing {
	d := figure.New("The wire's way, 1 to 15, and the fluid's, A to K. Not to scale.",
		"From the top: spool, brake, tension roller and upper roller; in the upper head threading tube, contact, guide and nozzle; the work in the tank; below it nozzle, guide, contact and lower roller; to the left the pull rollers and the bin. The fluid runs from the tank over its edge to the dirty tank, through pump and filter to the clean tank with resin, chiller and measuring cell, and from there through the flushing pump to both nozzles.",
		400, 664, false)
	wirePath(d)
	fluidPath(d)
	return d
}

func wirePath(d *figure.Drawing) {
	// Spool, brake, tension roller, upper roller.
	d.Circle(figure.Outline, 70, 56, 32, false)
	d.Circle(figure.Wire, 70, 56, 26, true)
	d.Circle(figure.Outline, 70, 56, 8, false)
	d.Circle(figure.Outline, 150, 46, 16, false)
	d.Circle(figure.Outline, 182, 92, 12, false)
	d.Circle(figure.Outline, 210, 46, 16, false)
	// The wire itself, over the rollers and down.
	d.Add(figure.Path{Line: figure.Accent, From: figure.Point{X: 70, Y: 30}, Segs: []figure.Segment{
		{To: figure.Point{X: 150, Y: 30}}, {To: figure.Point{X: 166, Y: 46}, R: 16, Sweep: true},
		{To: figure.Point{X: 170, Y: 92}}, {To: figure.Point{X: 194, Y: 92}, R: 12},
		{To: figure.Point{X: 194, Y: 46}}, {To: figure.Point{X: 226, Y: 46}, R: 16, Sweep: true},
		{To: figure.Point{X: 226, Y: 404}}, {To: figure.Point{X: 210, Y: 420}, R: 16, Sweep: true},
		{To: figure.Point{X: 30, Y: 420}}}})
	// Upper head: tube, contact, guide, nozzle.
	box(d, figure.Outline, 220, 118, 223, 144)
	box(d, figure.Outline, 229, 118, 232, 144)
	box(d, figure.Outline, 228, 156, 244, 170)
	box(d, figure.Outline, 216, 180, 223.5, 190)
	box(d, figure.Outline, 228.5, 180, 236, 190)
	nozzle(d, 226, 196, 224)
	// The work with the slot behind the wire.
	hatched(d, 118, 230, 221, 296)
	hatched(d, 231, 230, 298, 296)
	// Lower head: nozzle, guide, contact, roller.
	nozzle(d, 226, 330, 302)
	box(d, figure.Outline, 216, 338, 223.5, 348)
	box(d, figure.Outline, 228.5, 338, 236, 348)
	box(d, figure.Outline, 228, 360, 244, 374)
	d.Circle(figure.Outline, 210, 404, 16, false)
	// Pull rollers and bin.
	d.Circle(figure.Outline, 52, 408, 12, false)
	d.Circle(figure.Outline, 52, 432, 12, false)
	d.Poly(figure.Outline, false, figure.Point{X: 8, Y: 440}, figure.Point{X: 8, Y: 474}, figure.Point{X: 34, Y: 474}, figure.Point{X: 34, Y: 440})
	d.Poly(figure.Wire, false, figure.Point{X: 12, Y: 468}, figure.Point{X: 24, Y: 456}, figure.Point{X: 18, Y: 470}, figure.Point{X: 30, Y: 460})
	head(d, 28, 420, -1, 0)

	balloon(d, "1", 22, 22, 44, 38)
	balloon(d, "2", 118, 62, 134, 50)
	balloon(d, "3", 150, 98, 170, 98)
	balloon(d, "4", 256, 30, 225, 38)
	balloon(d, "5", 170, 131, 220, 131)
	balloon(d, "6", 278, 158, 244, 162)
	balloon(d, "7", 150, 160, 216, 184)
	balloon(d, "8", 128, 198, 208, 206)
	balloon(d, "9", 170, 263, 196, 263)
	balloon(d, "10", 150, 318, 208, 318)
	balloon(d, "11", 128, 344, 216, 344)
	balloon(d, "12", 278, 368, 244, 368)
	balloon(d, "13", 160, 382, 196, 396)
	balloon(d, "14", 22, 396, 41, 403)
	balloon(d, "15", 62, 464, 34, 464)
}

// nozzle is a cone round the wire at x, its wide end at the first height.
func nozzle(d *figure.Drawing, x, wide, narrow float64) {
	d.Poly(figure.Outline, false, figure.Point{X: x - 20, Y: wide}, figure.Point{X: x - 20, Y: (wide + narrow) / 2}, figure.Point{X: x - 8, Y: narrow})
	d.Poly(figure.Outline, false, figure.Point{X: x + 20, Y: wide}, figure.Point{X: x + 20, Y: (wide + narrow) / 2}, figure.Point{X: x + 8, Y: narrow})
}

func fluidPath(d *figure.Drawing) {
	p := func(x, y float64) figure.Point { return figure.Point{X: x, Y: y} }
	// The tank, its level, and what runs over its edge.
	d.Poly(figure.Outline, false, p(96, 168), p(96, 412))
	d.Poly(figure.Outline, false, p(96, 428), p(96, 446), p(346, 446), p(346, 210))
	d.Line(figure.Hidden, 97, 212, 205, 212)
	d.Line(figure.Hidden, 247, 212, 352, 212)
	pipe(d, p(352, 212), p(352, 496))
	// Dirty tank, filter pump, filter, clean tank.
	d.Poly(figure.Outline, false, p(300, 480), p(300, 570), p(366, 570), p(366, 480))
	d.Circle(figure.Outline, 274, 552, 11, false)
	pipe(d, p(300, 552), p(285, 552))
	d.Poly(figure.Thin, false, p(263, 552), p(246, 552))
	head(d, 246, 552, -1, 0)
	hatched(d, 210, 492, 246, 570)
	pipe(d, p(210, 504), p(178, 504))
	d.Poly(figure.Outline, false, p(110, 480), p(110, 570), p(178, 570), p(178, 480))
	// Resin and chiller, each in a loop of its own.
	hatched(d, 30, 496, 60, 556)
	pipe(d, p(110, 510), p(60, 510))
	pipe(d, p(60, 544), p(110, 544))
	box(d, figure.Outline, 30, 598, 84, 638)
	pipe(d, p(122, 570), p(122, 608), p(84, 608))
	d.Poly(figure.Thin, false, p(84, 626), p(136, 626), p(136, 570))
	head(d, 136, 570, 0, -1)
	// The measuring cell hangs in the clean tank.
	d.Line(figure.Outline, 164, 474, 164, 526)
	d.Circle(figure.Outline, 164, 530, 4, true)
	// Flushing pump and the way up to both nozzles.
	d.Circle(figure.Outline, 166, 600, 11, false)
	d.Line(figure.Thin, 166, 570, 166, 589)
	pipe(d, p(166, 611), p(166, 646), p(386, 646), p(386, 190), p(252, 190), p(252, 200), p(246, 200))
	pipe(d, p(386, 322), p(246, 322))

	balloon(d, "A", 322, 250, 322, 212)
	balloon(d, "B", 326, 164, 348, 208)
	d.Label(333, 530, "C", 0)
	balloon(d, "D", 274, 580, 274, 563)
	balloon(d, "E", 228, 470, 228, 492)
	d.Label(130, 530, "F", 0)
	balloon(d, "G", 45, 580, 45, 556)
	d.Label(57, 623, "H", 0)
	balloon(d, "I", 204, 600, 177, 600)
	balloon(d, "J", 369, 300, 386, 300)
	balloon(d, "K", 150, 460, 164, 474)
}
