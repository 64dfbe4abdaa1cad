package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// What is as wide as the tool, or narrower by less than anyone draws, counts as
// cut: by a millionth of the reach, or by what coordinates that are right to a
// nanometre leave open, and a wall of either side may be that far off both ways.
// There the reach is taken smaller than the narrowest such place by a margin.
const (
	millionth = 1e-6
	drawn     = 3e-6 // mm, on half a width
	margin    = 1.1e-6
)

// slack is how much narrower than the tool half a width may be and still count.
func (w *work) slack() float64 {
	return max(millionth*w.asked, min(drawn, 1e-3*w.asked))
}

// margin is by how much the reach is taken smaller than a width that it fits:
// more than the places that count as one are apart.
func (w *work) margin() float64 { return max(margin*w.asked, 6e-10*(w.box.Wide()+2*w.asked)) }

// band is the half widths that want a smaller reach than the present one.
func (w *work) band() (low, high float64) {
	m := w.margin() / 2
	return min(w.asked-w.slack(), w.reach-m), w.reach + m
}

// tightArc is the smallest inside radius that the tool just fills.
func (w *work) tightArc() (half float64, ok bool) {
	low, high := w.band()
	half = high
	for i := range w.pieces {
		p := &w.pieces[i]
		if p.Sweep > 0 && p.R >= low && p.R < half {
			half, ok = p.R, true
		}
	}
	return half, ok
}

// tight looks whether two raw pieces run or touch against each other, their free
// sides facing, where the walls they come from are just as far apart as the tool
// is wide. It gives half that distance at its narrowest.
func (w *work) tight(p, q *geom.Piece) (half float64, ok bool) {
	if p.R == 0 && q.R == 0 && float64((p.B.X-p.A.X)*(q.B.X-q.A.X))+float64((p.B.Y-p.A.Y)*(q.B.Y-q.A.Y)) > 0 {
		return 0, false // as most pairs: they run the same way
	}
	low, high := w.band()
	side := 1e-3 * w.reach // by which ends may be missed: it is the distance that matters
	switch {
	case p.R == 0 && q.R == 0:
		u := p.Dir(0)
		if v := q.Dir(0); u.Dot(v) >= 0 || math.Abs(u.Cross(v)) > 0.1 {
			return 0, false
		}
		l := p.Len()
		x0, x1 := q.B.Sub(p.A).Dot(u), q.A.Sub(p.A).Dot(u)
		lo, hi := max(0, x0), min(l, x1)
		if hi-lo < side || x1 <= x0 {
			return 0, false
		}
		// How far q lies to the left at both ends of the overlap.
		y0, y1 := u.Cross(q.B.Sub(p.A)), u.Cross(q.A.Sub(p.A))
		a, b := y0+(y1-y0)*(lo-x0)/(x1-x0), y0+(y1-y0)*(hi-x0)/(x1-x0)
		half = w.reach + min(a, b)/2
		if half < low || half >= high || math.Abs(a-b) > 4*w.slack() {
			return 0, false
		}
		_, ok = w.clearAlong(p.At(lo/l), p.At(hi/l), w.asked, 3*w.slack()+2*w.margin())
		return half, ok
	case p.R == 0 || q.R == 0:
		if q.R == 0 {
			p, q = q, p
		}
		n := p.Dir(0).Left()
		y, d := n.Dot(q.C.Sub(p.A)), q.R
		if q.Sweep < 0 {
			d = -d
		}
		half = w.reach + (y+d)/2
		at := q.C.Add(n.Mul(d))
		if half < low || half >= high || p.Dist(at) > side || q.Dist(at) > side {
			return 0, false
		}
		return half, w.clear(at, w.asked)
	}
	d := q.C.Sub(p.C)
	l := d.Len()
	if p.Sweep > 0 && q.Sweep < 0 {
		p, q, d = q, p, d.Mul(-1)
	}
	// Now either p turns outward, or both turn inward.
	var at geom.Point
	switch u := d.Unit(); {
	case q.Sweep < 0:
		half, at = w.reach+(l-p.R-q.R)/2, p.C.Add(u.Mul(p.R))
	case p.Sweep > 0:
		half, at = w.reach+(p.R+q.R-l)/2, p.C.Add(u.Mul(p.R))
	default:
		half, at = w.reach+(q.R-p.R-l)/2, p.C.Add(u.Mul(-p.R))
		if l < 8*w.slack() { // about one centre: anywhere
			at = p.At(0.5)
			for _, s := range [...]float64{0.5, 0, 1} {
				if q.Dist(at) > side {
					at = p.At(s)
				}
				if q.Dist(at) > side {
					at = q.At(s)
				}
			}
		}
	}
	if half < low || half >= high || p.Dist(at) > side || q.Dist(at) > side {
		return 0, false
	}
	return half, w.clear(at, w.asked)
}

// clear reports whether the tool may stand at a place, but for the slack.
func (w *work) clear(at geom.Point, reach float64) bool {
	return !w.grid.Closer(at, reach-3*w.slack()-2*w.margin())
}

// clearAlong looks for a place between two points that keeps a distance from all
// pieces, but for a tolerance, and tells how far along it stands. What a place
// lacks it may gain no nearer than as far on.
func (w *work) clearAlong(a, b geom.Point, r, tol float64) (along float64, ok bool) {
	l, u := a.Dist(b), b.Sub(a).Unit()
	for range 200 {
		d, _ := w.grid.Distance(a.Add(u.Mul(along)), r)
		switch {
		case d >= r-tol:
			return along, true
		case along >= l:
			return 0, false
		}
		along = min(l, along+r-d)
	}
	return 0, false
}
