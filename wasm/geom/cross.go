package geom

import "math"

// Crossing is where two pieces meet: the point and its share on each.
type Crossing struct {
	At   Point
	T, U float64
}

// Beyond is how far beyond its ends, in shares of its length, a piece may be met:
// ends that touch must not be lost to rounding.
const Beyond = 1e-9

const reach = Beyond

// Cross finds where two pieces meet, two points at most, and appends them to
// out. along is set when they run on one line or circle over some length.
func Cross(p, q *Piece, out []Crossing) (list []Crossing, along bool) {
	switch {
	case p.R == 0 && q.R == 0:
		return crossLines(p, q, out)
	case p.R == 0:
		return crossLineArc(p, q, false, out)
	case q.R == 0:
		return crossLineArc(q, p, true, out)
	}
	return crossArcs(p, q, out)
}

func crossLines(p, q *Piece, out []Crossing) ([]Crossing, bool) {
	d, e := p.B.Sub(p.A), q.B.Sub(q.A)
	w := q.A.Sub(p.A)
	det := d.Cross(e)
	ld, le := d.Len(), e.Len()
	if ld == 0 || le == 0 {
		return out, false
	}
	if math.Abs(det) <= 1e-12*ld*le {
		// Parallel: along each other when the distance is nothing and they overlap.
		if math.Abs(d.Cross(w)) > 1e-11*ld*max(ld, le) {
			return out, false
		}
		t0, t1 := p.Param(q.A), p.Param(q.B)
		lo, hi := min(t0, t1), max(t0, t1)
		if hi < -reach || lo > 1+reach {
			return out, false
		}
		for _, c := range [...]struct {
			at   Point
			t, u float64
		}{{q.A, t0, 0}, {q.B, t1, 1}, {p.A, 0, q.Param(p.A)}, {p.B, 1, q.Param(p.B)}} {
			if c.t >= -reach && c.t <= 1+reach && c.u >= -reach && c.u <= 1+reach {
				out = append(out, Crossing{c.at, clamp(c.t), clamp(c.u)})
			}
		}
		return out, min(hi, 1)-max(lo, 0) > reach
	}
	t, u := w.Cross(e)/det, w.Cross(d)/det
	rt, ru := reach+1e-12/ld, reach+1e-12/le
	if t < -rt || t > 1+rt || u < -ru || u > 1+ru {
		return out, false
	}
	t, u = clamp(t), clamp(u)
	return append(out, Crossing{p.At(t), t, u}), false
}

func clamp(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t
}

// crossLineArc meets a line with an arc; swapped says that the arc came first.
func crossLineArc(l, a *Piece, swapped bool, out []Crossing) ([]Crossing, bool) {
	d := l.B.Sub(l.A)
	ll := d.Len()
	if ll == 0 {
		return out, false
	}
	u := d.Mul(1 / ll)
	v := a.C.Sub(l.A)
	along, off := v.Dot(u), u.Cross(v)
	h := float64((a.R - math.Abs(off)) * (a.R + math.Abs(off)))
	if h < 0 {
		if math.Abs(off)-a.R > 1e-12*max(a.R, 1) {
			return out, false
		}
		h = 0
	}
	h = math.Sqrt(h)
	for i, s := range [...]float64{along - h, along + h} {
		if i == 1 && h == 0 {
			break
		}
		t := s / ll
		if t < -reach-1e-12/ll || t > 1+reach+1e-12/ll {
			continue
		}
		p := l.A.Add(u.Mul(s))
		w, ok := a.onArc(p)
		if !ok {
			continue
		}
		c := Crossing{p, clamp(t), w}
		if swapped {
			c.T, c.U = c.U, c.T
		}
		out = append(out, c)
	}
	return out, false
}

// onArc is the share of the arc at a point of its circle, and whether the point
// lies on the arc.
func (p *Piece) onArc(q Point) (float64, bool) {
	t := p.Param(q)
	r := reach + 1e-12/(p.R*math.Abs(p.Sweep))
	if t < -r || t > 1+r {
		return 0, false
	}
	return clamp(t), true
}

func crossArcs(p, q *Piece, out []Crossing) ([]Crossing, bool) {
	d := q.C.Sub(p.C)
	l := d.Len()
	scale := max(p.R, q.R)
	if l < 1e-11*scale || l == 0 {
		if math.Abs(p.R-q.R) > 1e-11*scale {
			return out, false
		}
		return alongArcs(p, q, out)
	}
	if l > p.R+q.R+1e-12*scale || l < math.Abs(p.R-q.R)-1e-12*scale {
		return out, false
	}
	x := (l*l + float64((p.R-q.R)*(p.R+q.R))) / (2 * l)
	h := float64((p.R - x) * (p.R + x))
	if h < 0 {
		h = 0
	}
	h = math.Sqrt(h)
	u := d.Mul(1 / l)
	m := p.C.Add(u.Mul(x))
	for i, s := range [...]float64{h, -h} {
		if i == 1 && h == 0 {
			break
		}
		at := m.Add(u.Left().Mul(s))
		t, ok1 := p.onArc(at)
		w, ok2 := q.onArc(at)
		if ok1 && ok2 {
			out = append(out, Crossing{at, t, w})
		}
	}
	return out, false
}

// alongArcs meets two arcs of one circle: their ends that lie on the other. They
// run along each other where the middle between two such ends lies on both: the
// halves of a circle share both ends and nothing else.
func alongArcs(p, q *Piece, out []Crossing) ([]Crossing, bool) {
	n := len(out)
	for _, e := range [...]Point{q.A, q.B} {
		if t, ok := p.onArc(e); ok {
			out = append(out, Crossing{e, t, q.Nearest(e)})
		}
	}
	for _, e := range [...]Point{p.A, p.B} {
		if t, ok := q.onArc(e); ok {
			out = append(out, Crossing{e, p.Nearest(e), t})
		}
	}
	along := false
	for i := n; i < len(out); i++ {
		for j := n; j < i && !along; j++ {
			if math.Abs(out[i].T-out[j].T) > 1e-7 {
				_, along = q.onArc(p.At((out[i].T + out[j].T) / 2))
			}
		}
	}
	return out, along
}
