package drawing

import (
	"math"

	"kerfbook/wasm/geom"
)

// affine is a plane map x' = a x + c y + e, y' = b x + d y + f.
type affine struct{ a, b, c, d, e, f float64 }

func identity() affine { return affine{a: 1, d: 1} }

func (m affine) point(p geom.Point) geom.Point {
	return geom.Point{X: m.a*p.X + m.c*p.Y + m.e, Y: m.b*p.X + m.d*p.Y + m.f}
}

func (m affine) vector(p geom.Point) geom.Point {
	return geom.Point{X: m.a*p.X + m.c*p.Y, Y: m.b*p.X + m.d*p.Y}
}

// after is the map that does n first and then m.
func (m affine) after(n affine) affine {
	return affine{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d, m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f}
}

// alike returns the similarity that the map is, if it is one.
func (m affine) alike() (geom.Map, bool) {
	size := math.Hypot(m.a, m.b)
	if size == 0 {
		return geom.Map{}, false
	}
	switch {
	case math.Abs(m.c+m.b) < 1e-12*size && math.Abs(m.d-m.a) < 1e-12*size:
		return geom.Map{A: m.a, B: m.b, E: m.e, F: m.f}, true
	case math.Abs(m.c-m.b) < 1e-12*size && math.Abs(m.d+m.a) < 1e-12*size:
		return geom.Map{A: m.a, B: m.b, E: m.e, F: m.f, Mirror: true}, true
	}
	return geom.Map{}, false
}

// emit adds a piece through a map; an arc that is squeezed becomes arcs of an
// ellipse.
func (r *reader) emit(p geom.Piece, m affine, layer string, line int) error {
	if p.R == 0 {
		return r.add(geom.Line(m.point(p.A), m.point(p.B)), layer, line)
	}
	if k, ok := m.alike(); ok {
		q := k.Piece(p)
		if math.Abs(math.Abs(q.Sweep)-2*math.Pi) < 1e-9 {
			return r.circle(q.C, q.R, layer, line)
		}
		return r.add(q, layer, line)
	}
	u, v := m.vector(geom.Point{X: p.R}), m.vector(geom.Point{Y: p.R})
	return r.ellipse(m.point(p.C), u, v, p.Start, p.Sweep, layer, line)
}

// ellipse adds c + u cos t + v sin t from a start over a sweep, as arcs.
func (r *reader) ellipse(c, u, v geom.Point, start, sweep float64, layer string, line int) error {
	if math.Abs(u.Cross(v)) < 1e-12*u.Len()*v.Len() || u.Len() == 0 || v.Len() == 0 {
		return &Error{line, "an ellipse without width"}
	}
	r.weight = 1
	r.d.note("ellipses are taken as arcs that leave them by at most 0.1 µm")
	at := func(t float64) (geom.Point, geom.Point) {
		s, k := math.Sincos(t)
		return c.Add(u.Mul(k)).Add(v.Mul(s)), v.Mul(k).Sub(u.Mul(s))
	}
	n := max(4, int(math.Ceil(math.Abs(sweep)/(math.Pi/8))))
	for i := range n {
		t0, t1 := start+sweep*float64(i)/float64(n), start+sweep*float64(i+1)/float64(n)
		if err := r.curve(at, t0, t1, layer, line, 0); err != nil {
			return err
		}
	}
	return nil
}

// curveError is how far arcs may leave a curve, in mm.
const curveError = 1e-4

// curve adds a smooth curve as pairs of arcs that share its tangents at the ends,
// halved until they stay within curveError.
func (r *reader) curve(at func(t float64) (p, dir geom.Point), t0, t1 float64, layer string, line, depth int) error {
	if err := r.spend(10*r.weight, line); err != nil {
		return err
	}
	p0, d0 := at(t0)
	p1, d1 := at(t1)
	if t1 < t0 {
		d0, d1 = d0.Mul(-1), d1.Mul(-1)
	}
	pair := biarc(p0, d0.Unit(), p1, d1.Unit())
	worst := 0.0
	for i := 1; i < 8; i++ {
		q, _ := at(t0 + (t1-t0)*float64(i)/8)
		near := math.Inf(1)
		for _, p := range pair {
			near = min(near, p.Dist(q))
		}
		worst = max(worst, near)
	}
	if worst > curveError/r.unitScale() && depth < 14 {
		m := (t0 + t1) / 2
		if err := r.curve(at, t0, m, layer, line, depth+1); err != nil {
			return err
		}
		return r.curve(at, m, t1, layer, line, depth+1)
	}
	for _, p := range pair {
		if p.A != p.B {
			if err := r.add(p, layer, line); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *reader) unitScale() float64 {
	for _, u := range [...]string{r.o.Unit, r.d.Unit} {
		if k, ok := scale(u); ok {
			return k
		}
	}
	return 1
}

// biarc joins two places with directions by two arcs that meet smoothly, both
// with tangents of one length. Bolton 1975, from memory.
func biarc(p0, t0, p1, t1 geom.Point) []geom.Piece {
	v := p1.Sub(p0)
	t := t0.Add(t1)
	k := 2 * (1 - t0.Dot(t1))
	d := 0.0
	switch vt := v.Dot(t); {
	case k > 1e-14:
		d = (-vt + math.Sqrt(vt*vt+k*v.Dot(v))) / k
	case math.Abs(v.Dot(t1)) > 1e-300:
		d = v.Dot(v) / (4 * v.Dot(t1))
	}
	m := p0.Add(p1).Add(t0.Sub(t1).Mul(d)).Mul(0.5)
	first := tangent(p0, t0, m)
	second := tangent(p1, t1.Mul(-1), m)
	return []geom.Piece{first, second.Back()}
}

// tangent is the arc from a place in a direction to another place.
func tangent(a, dir, b geom.Point) geom.Piece {
	v := b.Sub(a)
	n := dir.Left()
	h := n.Dot(v)
	if math.Abs(h) < 1e-10*v.Len() || h == 0 {
		return geom.Line(a, b)
	}
	return geom.Arc(a, b, a.Add(n.Mul(v.Dot(v)/(2*h))), h > 0)
}

// spline is a B-spline by its knots, perhaps with weights.
type spline struct {
	degree   int
	knots    []float64
	controls []geom.Point
	weights  []float64
}

// at evaluates the span that begins at knot k, by de Boor's rule, with the derivative by the quotient rule on the
// same rule's last two points.
func (s *spline) at(k int, t float64) (geom.Point, geom.Point) {
	p := s.degree
	type h struct{ x, y, w float64 }
	d := make([]h, p+1)
	for j := range d {
		c, w := s.controls[j+k-p], 1.0
		if s.weights != nil {
			w = s.weights[j+k-p]
		}
		d[j] = h{c.X * w, c.Y * w, w}
	}
	var a, b h
	for r := 1; r <= p; r++ {
		for j := p; j >= r; j-- {
			lo, hi := s.knots[j+k-p], s.knots[j+1+k-r]
			u := 0.0
			if hi > lo {
				u = (t - lo) / (hi - lo)
			}
			if r == p && j == p {
				a, b = d[j-1], d[j]
			}
			d[j] = h{d[j-1].x*(1-u) + d[j].x*u, d[j-1].y*(1-u) + d[j].y*u, d[j-1].w*(1-u) + d[j].w*u}
		}
	}
	q := d[p]
	at := geom.Point{X: q.x / q.w, Y: q.y / q.w}
	// The tangent runs along the last two points of the rule.
	dir := geom.Point{X: b.x/b.w - a.x/a.w, Y: b.y/b.w - a.y/a.w}
	return at, dir
}

// spline adds a B-spline, span by span.
func (r *reader) bspline(s *spline, m affine, layer string, line int) error {
	if s.degree < 1 || s.degree > 11 || len(s.knots) != len(s.controls)+s.degree+1 {
		return &Error{line, "a spline whose knots, controls and degree do not go together"}
	}
	for i := 1; i < len(s.knots); i++ {
		if s.knots[i] < s.knots[i-1] {
			return &Error{line, "a spline whose knots do not rise"}
		}
	}
	if s.degree == 1 {
		for i := 1; i < len(s.controls); i++ {
			if err := r.emit(geom.Line(s.controls[i-1], s.controls[i]), m, layer, line); err != nil {
				return err
			}
		}
		return nil
	}
	if !(s.knots[len(s.controls)] > s.knots[s.degree]) {
		return &Error{line, "a spline whose knots are all alike: it has no length"}
	}
	r.weight = 1 + s.degree*s.degree/4
	r.d.note("splines are taken as arcs that leave them by at most 0.1 µm")
	for i := s.degree; i < len(s.controls); i++ {
		t0, t1 := s.knots[i], s.knots[i+1]
		if t1 <= t0 {
			continue
		}
		at := func(t float64) (geom.Point, geom.Point) {
			if t >= t1 { // the end of this span, seen from inside it
				t = t1 - (t1-t0)*1e-12
			}
			p, d := s.at(i, t)
			return m.point(p), m.vector(d)
		}
		for k := range 4 {
			if err := r.curve(at, t0+(t1-t0)*float64(k)/4, t0+(t1-t0)*float64(k+1)/4, layer, line, 0); err != nil {
				return err
			}
		}
	}
	return nil
}
