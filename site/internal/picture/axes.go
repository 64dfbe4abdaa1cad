package picture

import "kerfbook/wasm/figure"

// axes draws the five axes at the two heads.
func axes() *figure.Drawing {
	d := figure.New("X and Y move the work against both guides, U and V the upper guide alone, Z the upper head. Not to scale.",
		"The wire leans from the lower guide to the upper one. The table with the work moves in X and Y. The upper guide moves in U and V beside them, and the upper head in Z. The program's plane is the lower face of the work, with distances to both guides.",
		400, 300, false)
	p := func(x, y float64) figure.Point { return figure.Point{X: x, Y: y} }
	// Upper head with guide, and the axes beside it.
	box(d, figure.Outline, 196, 40, 276, 84)
	hatched(d, 106, 130, 176, 196)
	hatched(d, 214, 130, 284, 196)
	box(d, figure.Outline, 140, 232, 220, 268)
	d.Line(figure.Accent, 180, 232, 236, 84)
	d.Line(figure.Centre, 180, 20, 180, 292)
	// Program's plane and span.
	d.Line(figure.Hidden, 20, 196, 380, 196)
	d.Label(292, 212, "program's", -1)
	d.Label(292, 229, "plane", -1)
	// U, V and Z.
	pipe(d, p(276, 62), p(326, 62))
	d.Label(334, 67, "U, V", -1)
	pipe(d, p(236, 40), p(236, 14))
	d.Label(246, 24, "Z", -1)
	// X and Y on the table.
	pipe(d, p(284, 163), p(326, 163))
	d.Label(334, 168, "X, Y", -1)
	// Distances.
	d.Line(figure.Thin, 20, 84, 196, 84)
	d.Line(figure.Thin, 20, 130, 106, 130)
	d.Line(figure.Thin, 20, 232, 140, 232)
	for _, y := range [][2]float64{{84, 130}, {130, 196}, {196, 232}} {
		d.Line(figure.Thin, 50, y[0], 50, y[1])
		head(d, 50, y[0], 0, -1)
		head(d, 50, y[1], 0, 1)
	}
	d.Label(58, 112, "a", -1)
	d.Label(58, 219, "z", -1)
	d.Label(58, 168, "T", -1)
	return d
}
