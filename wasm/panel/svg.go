package panel

import (
	"math"

	"kerfbook/wasm/figure"
)

// textSize is the size of labels in drawing units: 15 px on a phone.
const textSize = 15.0

// advance is how wide a label is taken to be, a little more than the widest of
// the fonts named.
func advance(text string) float64 {
	w := 0.0
	for _, r := range text {
		switch {
		case r == ' ' || r == '.' || r == ',' || r == 'i' || r == 'l' || r == '|' || r == '°':
			w += 0.32
		case r == 'm' || r == 'w' || r == 'M' || r == 'W' || r == '⌀' || r == '–':
			w += 0.9
		default:
			w += 0.58
		}
	}
	return w * textSize
}

// SVG draws a figure. Lines carry classes only; weights and patterns come from
// the style sheet, after ISO 128.
func SVG(d *figure.Drawing) string {
	var b builder
	b.start("svg", "fig")
	b.attr("viewBox", "0 0 "+coord(d.W)+" "+coord(d.H))
	b.attr("role", "img")
	b.attr("aria-label", d.Alt)
	b.raw(">")
	for _, p := range d.Paths {
		if p.Hatch {
			hatch(&b, p)
		}
	}
	for _, c := range d.Circles {
		class := lineClass(c.Line)
		if c.Fill {
			class += " fill"
		}
		b.start("circle", class)
		b.attr("cx", coord(c.At.X))
		b.attr("cy", coord(c.At.Y))
		b.attr("r", coord(c.R))
		b.raw(">")
		b.raw("</circle>")
	}
	for _, p := range d.Paths {
		if p.Hatch {
			continue
		}
		class := lineClass(p.Line)
		if p.Fill {
			class += " fill"
		}
		b.start("path", class)
		b.attr("d", pathData(p))
		b.raw(">")
		b.raw("</path>")
	}
	for _, bar := range d.Bars {
		drawBar(&b, bar)
	}
	for _, dim := range d.Dimensions {
		dimension(&b, dim)
	}
	for _, l := range d.Labels {
		label(&b, l)
	}
	b.raw("</svg>")
	return b.String()
}

func lineClass(l figure.Line) string {
	switch l {
	case figure.Outline:
		return "l-outline"
	case figure.Centre:
		return "l-centre"
	case figure.Hidden:
		return "l-hidden"
	case figure.Wire:
		return "l-wire"
	case figure.Accent:
		return "l-accent"
	}
	return "l-thin"
}

func pathData(p figure.Path) string {
	var b builder
	b.raw("M")
	b.raw(coord(p.From.X))
	b.raw(" ")
	b.raw(coord(p.From.Y))
	for _, s := range p.Segs {
		if s.R == 0 {
			b.raw("L")
			b.raw(coord(s.To.X))
			b.raw(" ")
			b.raw(coord(s.To.Y))
			continue
		}
		b.raw("A")
		b.raw(coord(s.R))
		b.raw(" ")
		b.raw(coord(s.R))
		b.raw(" 0 ")
		b.raw(flag(s.Large))
		b.raw(" ")
		b.raw(flag(s.Sweep))
		b.raw(" ")
		b.raw(coord(s.To.X))
		b.raw(" ")
		b.raw(coord(s.To.Y))
	}
	if p.Closed {
		b.raw("Z")
	}
	return b.String()
}

// hatch fills a closed path with parallel lines at 45°, cut at its edges here,
// because a pattern would need an id and a slot has none.
func hatch(b *builder, p figure.Path) {
	pts := flatten(p)
	const gap = 9.0
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range pts {
		lo, hi = math.Min(lo, q.X+q.Y), math.Max(hi, q.X+q.Y)
	}
	var lines builder
	for c := math.Ceil(lo/gap) * gap; c < hi; c += gap {
		var at []float64 // crossings of x+y=c, by x
		for i, a := range pts {
			z := pts[(i+1)%len(pts)]
			da, dz := a.X+a.Y-c, z.X+z.Y-c
			if da < 0 != (dz < 0) {
				t := da / (da - dz)
				at = append(at, a.X+(z.X-a.X)*t)
			}
		}
		sortFloats(at)
		for i := 0; i+1 < len(at); i += 2 {
			lines.raw("M")
			lines.raw(coord(at[i]))
			lines.raw(" ")
			lines.raw(coord(c - at[i]))
			lines.raw("L")
			lines.raw(coord(at[i+1]))
			lines.raw(" ")
			lines.raw(coord(c - at[i+1]))
		}
	}
	b.start("path", "l-hatch")
	b.attr("d", lines.String())
	b.raw(">")
	b.raw("</path>")
}

func sortFloats(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// flatten turns a path's arcs into short chords.
func flatten(p figure.Path) []figure.Point {
	out := []figure.Point{p.From}
	from := p.From
	for _, s := range p.Segs {
		if s.R != 0 {
			out = append(out, arcPoints(from, s)...)
		}
		out = append(out, s.To)
		from = s.To
	}
	return out
}

func arcPoints(a figure.Point, s figure.Segment) []figure.Point {
	dx, dy := s.To.X-a.X, s.To.Y-a.Y
	chord := math.Hypot(dx, dy)
	if chord == 0 || s.R < chord/2 {
		return nil
	}
	h := math.Sqrt(s.R*s.R - chord*chord/4)
	side := 1.0
	if s.Large == s.Sweep {
		side = -1
	}
	cx, cy := (a.X+s.To.X)/2-side*h*dy/chord, (a.Y+s.To.Y)/2+side*h*dx/chord
	from, to := math.Atan2(a.Y-cy, a.X-cx), math.Atan2(s.To.Y-cy, s.To.X-cx)
	sweep := to - from
	if s.Sweep && sweep < 0 {
		sweep += 2 * math.Pi
	}
	if !s.Sweep && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	var out []figure.Point
	const n = 24
	for i := 1; i < n; i++ {
		t := from + sweep*float64(i)/n
		out = append(out, figure.Point{X: cx + s.R*math.Cos(t), Y: cy + s.R*math.Sin(t)})
	}
	return out
}

// tickReach is how far the tick of the likely value stands over its bar.
const tickReach = 0.8

func drawBar(b *builder, bar figure.Bar) {
	x0, x1, y := bar.At.X, bar.At.X+bar.Length, bar.At.Y
	at := func(t float64) string { return coord(x0 + bar.Length*t) }
	b.start("path", "l-thin")
	b.attr("d", "M"+coord(x0)+" "+coord(y)+"L"+coord(x1)+" "+coord(y))
	b.raw(">")
	b.raw("</path>")
	class := []string{"b-open", "b-half", "b-full"}[min(int(bar.Weight), 2)]
	b.start("rect", class)
	b.attr("x", at(bar.From))
	b.attr("y", coord(y-bar.Height/2))
	b.attr("width", coord(max(1, bar.Length*(bar.To-bar.From))))
	b.attr("height", coord(bar.Height))
	b.raw(">")
	b.raw("</rect>")
	b.start("path", "l-outline")
	b.attr("d", "M"+at(bar.Likely)+" "+coord(y-bar.Height*tickReach)+"L"+at(bar.Likely)+" "+coord(y+bar.Height*tickReach))
	b.raw(">")
	b.raw("</path>")
}

func label(b *builder, l figure.Label) {
	if l.HasLeader {
		// The leader starts under the text at its near end, with a shelf.
		x0, x1 := span(l)
		y := l.At.Y + 4
		near := x0
		if math.Abs(l.Leader.X-x1) < math.Abs(l.Leader.X-x0) {
			near = x1
		}
		far := x0 + x1 - near
		b.start("path", "l-thin")
		b.attr("d", "M"+coord(far)+" "+coord(y)+"L"+coord(near)+" "+coord(y)+"L"+coord(l.Leader.X)+" "+coord(l.Leader.Y))
		b.raw(">")
		b.raw("</path>")
		b.start("circle", "dot")
		b.attr("cx", coord(l.Leader.X))
		b.attr("cy", coord(l.Leader.Y))
		b.attr("r", "2")
		b.raw(">")
		b.raw("</circle>")
	}
	text(b, l.At.X, l.At.Y, l.Anchor, l.Strong, l.Text)
}

func text(b *builder, x, y float64, anchor int, strong bool, t string) {
	class := "t"
	if strong {
		class = "t t-strong"
	}
	b.start("text", class)
	b.attr("x", coord(x))
	b.attr("y", coord(y))
	b.attr("text-anchor", [...]string{"end", "start", "middle", "end"}[anchorIndex(anchor)])
	b.raw(">")
	b.text(t)
	b.raw("</text>")
}

func anchorIndex(a int) int {
	switch {
	case a < 0:
		return 1
	case a == 0:
		return 2
	}
	return 3
}

// dimension draws extension lines, the dimension line with its arrow heads, and
// the text.
func dimension(b *builder, d figure.Dimension) {
	g := layout(d)
	b.start("path", "l-thin")
	b.attr("d", "M"+pt(d.A)+"L"+pt(g.a2)+"M"+pt(d.B)+"L"+pt(g.b2))
	b.raw(">")
	b.raw("</path>")
	if d.Outside {
		b.start("path", "l-thin")
		b.attr("d", "M"+pt(g.aOut)+"L"+pt(g.bOut))
		b.raw(">")
	} else {
		b.start("path", "l-thin")
		b.attr("d", "M"+pt(g.a)+"L"+pt(g.b))
		b.raw(">")
	}
	b.raw("</path>")
	sign := 1.0
	if d.Outside {
		sign = -1
	}
	arrow(b, g.a, g.ux*sign, g.uy*sign)
	arrow(b, g.b, -g.ux*sign, -g.uy*sign)
	text(b, g.text.X, g.text.Y, g.anchor, false, d.Text)
}

// placed is where the parts of a dimension lie.
type placed struct {
	a, b, a2, b2, aOut, bOut, text figure.Point
	ux, uy                         float64
	anchor                         int
}

func layout(d figure.Dimension) placed {
	dx, dy := d.B.X-d.A.X, d.B.Y-d.A.Y
	l := math.Hypot(dx, dy)
	if l == 0 {
		l, dx = 1, 1
	}
	ux, uy := dx/l, dy/l
	nx, ny := uy, -ux // to the left of A->B on the screen
	move := func(p figure.Point, along, across float64) figure.Point {
		return figure.Point{X: p.X + ux*along + nx*across, Y: p.Y + uy*along + ny*across}
	}
	over := math.Copysign(5, d.Shift)
	g := placed{a: move(d.A, 0, d.Shift), b: move(d.B, 0, d.Shift), a2: move(d.A, 0, d.Shift+over), b2: move(d.B, 0, d.Shift+over),
		aOut: move(d.A, -18, d.Shift), bOut: move(d.B, 22, d.Shift), ux: ux, uy: uy}
	if d.Outside {
		p := move(d.B, 26, d.Shift)
		switch {
		case math.Abs(uy) > math.Abs(ux): // vertical: text beside the end
			g.text, g.anchor = figure.Point{X: p.X + 6, Y: p.Y + 8}, -1

		case ux > 0:
			g.text, g.anchor = figure.Point{X: p.X, Y: p.Y + 5}, -1
		default:
			g.text, g.anchor = figure.Point{X: p.X, Y: p.Y + 5}, 1
		}
		return g
	}
	mid := figure.Point{X: (g.a.X + g.b.X) / 2, Y: (g.a.Y + g.b.Y) / 2}
	if math.Abs(uy) > math.Abs(ux) {
		g.text, g.anchor = figure.Point{X: mid.X + 7, Y: mid.Y + 5}, -1
	} else {
		g.text, g.anchor = figure.Point{X: mid.X, Y: mid.Y - 6}, 0
	}
	return g
}

func pt(p figure.Point) string { return coord(p.X) + " " + coord(p.Y) }

// arrow draws a filled head at p that points against (ux, uy).
func arrow(b *builder, p figure.Point, ux, uy float64) {
	const long, half = 9.0, 2.4
	x, y := p.X+ux*long, p.Y+uy*long
	b.start("path", "head")
	b.attr("d", "M"+pt(p)+"L"+coord(x-uy*half)+" "+coord(y+ux*half)+"L"+coord(x+uy*half)+" "+coord(y-ux*half)+"Z")
	b.raw(">")
	b.raw("</path>")
}

func span(l figure.Label) (x0, x1 float64) {
	w := advance(l.Text)
	switch {
	case l.Anchor < 0:
		return l.At.X, l.At.X + w
	case l.Anchor == 0:
		return l.At.X - w/2, l.At.X + w/2
	}
	return l.At.X - w, l.At.X
}
