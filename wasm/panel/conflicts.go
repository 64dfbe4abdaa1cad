package panel

import (
	"math"

	"kerfbook/wasm/figure"
)

// box is a rectangle on the drawing.
type box struct{ x0, y0, x1, y1 float64 }

func (a box) meets(b box) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

func textBox(l figure.Label) box {
	x0, x1 := span(l)
	return box{x0, l.At.Y - 0.75*textSize, x1, l.At.Y + 0.22*textSize}
}

// Conflicts lists what a reader would trip over: a text that meets another,
// meets a thick line, or leaves the drawing. Texts are taken a little wider than
// they are.
func Conflicts(d *figure.Drawing) []string {
	var out []string
	labels := append([]figure.Label{}, d.Labels...)
	for _, dim := range d.Dimensions {
		g := layout(dim)
		labels = append(labels, figure.Label{At: g.text, Text: dim.Text, Anchor: g.anchor})
	}
	for i, l := range labels {
		b := textBox(l)
		if b.x0 < 0 || b.y0 < 0 || b.x1 > d.W || b.y1 > d.H {
			out = append(out, "the text \""+l.Text+"\" leaves the drawing")
		}
		for _, m := range labels[:i] {
			if b.meets(textBox(m)) {
				out = append(out, "the texts \""+m.Text+"\" and \""+l.Text+"\" meet")
			}
		}
		for _, p := range d.Paths {
			if (p.Line == figure.Outline || p.Line == figure.Accent) && !p.Hatch && crosses(flatten(p), p.Closed, b) {
				out = append(out, "the text \""+l.Text+"\" meets a thick line")
				break
			}
		}
		for _, bar := range d.Bars {
			x := bar.At.X + bar.Length*bar.Likely
			if segmentMeets(figure.Point{X: x, Y: bar.At.Y - bar.Height*tickReach}, figure.Point{X: x, Y: bar.At.Y + bar.Height*tickReach}, b) {
				out = append(out, "the text \""+l.Text+"\" meets the tick of a bar")
				break
			}
		}
		for _, c := range d.Circles {
			if (c.Line == figure.Outline || c.Line == figure.Accent) && circleCrosses(c, b) {
				out = append(out, "the text \""+l.Text+"\" meets a thick circle")
				break
			}
		}
	}
	return out
}

func crosses(pts []figure.Point, closed bool, b box) bool {
	n := len(pts) - 1
	if closed {
		n++
	}
	for i := range n {
		if segmentMeets(pts[i], pts[(i+1)%len(pts)], b) {
			return true
		}
	}
	return false
}

// segmentMeets clips a segment to the box (Liang and Barsky's method).
func segmentMeets(p, q figure.Point, b box) bool {
	t0, t1 := 0.0, 1.0
	for _, e := range [][2]float64{{p.X - q.X, p.X - b.x0}, {q.X - p.X, b.x1 - p.X}, {p.Y - q.Y, p.Y - b.y0}, {q.Y - p.Y, b.y1 - p.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return false
		case e[0] < 0:
			t0 = math.Max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = math.Min(t1, e[1]/e[0])
		}
	}
	return t0 <= t1
}

func circleCrosses(c figure.Circle, b box) bool {
	nx, ny := math.Max(b.x0, math.Min(c.At.X, b.x1)), math.Max(b.y0, math.Min(c.At.Y, b.y1))
	far := math.Max(math.Hypot(b.x0-c.At.X, b.y0-c.At.Y), math.Max(math.Hypot(b.x1-c.At.X, b.y0-c.At.Y), math.Max(math.Hypot(b.x0-c.At.X, b.y1-c.At.Y), math.Hypot(b.x1-c.At.X, b.y1-c.At.Y))))
	return math.Hypot(nx-c.At.X, ny-c.At.Y) < c.R && far > c.R
}
