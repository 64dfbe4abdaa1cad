package drawing

import (
	"math"

	"kerfbook/wasm/geom"
)

// The chords that are taken for arcs: each turns by at most chordTurn and stands
// at most sagitta off its arc, and there are at least fewest of them.
const (
	chordTurn = 16 * math.Pi / 180
	sagitta   = 0.012 // mm
	fewest    = 3
)

// recognise turns runs of chords into arcs whose circles pass within tol of every
// chord's end. It returns how many chords became how many arcs, and the largest
// distance of an end from its arc.
func recognise(c geom.Contour, tol float64) (out geom.Contour, chords, arcs int, worst float64) {
	n := len(c)
	start := -1
	for i := range c { // begin at a corner, so that no run goes over the seam
		if !smooth(c[(i+n-1)%n], c[i]) {
			start = i
			break
		}
	}
	if start < 0 {
		start = 0
	}
	c = append(append(geom.Contour{}, c[start:]...), c[:start]...)
	for i := 0; i < n; {
		j := runEnd(c, i)
		for i < j {
			k, piece, off := longest(c, i, j, tol)
			if k-i < fewest {
				out = append(out, c[i])
				i++
				continue
			}
			for _, p := range piece {
				out = append(out, p)
				arcs++
			}
			chords += k - i
			worst = max(worst, off)
			i = k
		}
		if j == i && i < n && c[i].R != 0 {
			out = append(out, c[i])
			i++
		}
	}
	return out, chords, arcs, worst
}

// unlike is how many times longer than its neighbour a chord may be: a wall that
// runs into fine chords is no chord of theirs, though one circle may pass all ends.
const unlike = 4

// smooth reports whether two lines meet at a small angle and are alike in length.
func smooth(p, q geom.Piece) bool {
	if p.R != 0 || q.R != 0 {
		return false
	}
	if l, m := p.Len(), q.Len(); l > unlike*m || m > unlike*l {
		return false
	}
	u, v := p.Dir(0), q.Dir(0)
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < math.Sin(chordTurn)
}

// runEnd is the end of the run of chords that begins at i.
func runEnd(c geom.Contour, i int) int {
	if c[i].R != 0 {
		return i
	}
	j := i + 1
	for j < len(c) && c[j].R == 0 && smooth(c[j-1], c[j]) {
		j++
	}
	return j
}

// longest finds the most chords from i, below end, that one circle takes.
func longest(c geom.Contour, i, end int, tol float64) (k int, arc []geom.Piece, off float64) {
	best, step := i, fewest
	for i+step <= end {
		a, o, ok := circleOf(c, i, i+step, tol)
		if !ok {
			break
		}
		best, arc, off = i+step, a, o
		step *= 2
	}
	if best == i {
		return i, nil, 0
	}
	lo, hi := best, min(end+1, i+step)
	for hi-lo > 1 {
		m := (lo + hi) / 2
		if a, o, ok := circleOf(c, i, m, tol); ok {
			lo, arc, off = m, a, o
		} else {
			hi = m
		}
	}
	return lo, arc, off
}

// circleOf is the arc through the first, the middle and the last end of chords i
// to k, if every end lies on it within tol and no chord is too long for it. A
// whole circle comes as two arcs.
func circleOf(c geom.Contour, i, k int, tol float64) (arc []geom.Piece, off float64, ok bool) {
	a, m, b := c[i].A, c[(i+k)/2].A, c[k-1].B
	whole := a.Dist(b) < 1e-9
	p, q := m, b
	if whole {
		p, q = c[i+(k-i)/3].A, c[i+2*(k-i)/3].A
	}
	centre, r, good := through(a, p, q)
	if !good || r > 1e5 {
		return nil, 0, false
	}
	turn, run := c[i].Dir(0).Cross(c[i+1].Dir(0)), 0.0
	for n := i; n < k; n++ {
		d := math.Abs(c[n].B.Dist(centre) - r)
		if d > tol {
			return nil, 0, false
		}
		off = max(off, d)
		l := c[n].Len()
		run += l
		if l > r || r-math.Sqrt(r*r-l*l/4) > sagitta {
			return nil, 0, false
		}
		if n+1 < k && c[n].Dir(0).Cross(c[n+1].Dir(0))*turn < 0 {
			return nil, 0, false
		}
	}
	if whole {
		return []geom.Piece{geom.Arc(a, m, centre, turn > 0), geom.Arc(m, b, centre, turn > 0)}, off, true
	}
	one := geom.Arc(a, b, centre, turn > 0)
	// Chords that turn by less than 16° each run 0.4 % short of their arc at most; an
	// arc that goes the other way round runs far longer.
	return []geom.Piece{one}, off, one.Len() < 1.01*run
}

// through is the circle through three points.
func through(a, b, c geom.Point) (centre geom.Point, r float64, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	if math.Abs(d) < 1e-14*u.Len()*v.Len() || d == 0 {
		return geom.Point{}, 0, false
	}
	uu, vv := u.Dot(u), v.Dot(v)
	o := geom.Point{X: (v.Y*uu - u.Y*vv) / d, Y: (u.X*vv - v.X*uu) / d}
	return a.Add(o), o.Len(), true
}
