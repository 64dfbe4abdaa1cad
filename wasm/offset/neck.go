package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// Ends of walls that face each other may miss each other by as much as a drawing
// is off, and walls whose distance changes by no more than that are parallel.
const (
	aside    = 4 * drawn
	parallel = 1e-7 // rad, on long walls
)

// mostSpots is how many necks are kept, the narrowest of them all.
const mostSpots = 10000

// facers looks for pairs of places that face each other across the free side, or
// across the metal: the line between them stands at right angles on both, and the
// round between them holds nothing else. They are the necks of the distance from
// the contour, whether the walls are parallel or not.
type facers struct {
	*work
	limit   float64
	side    float64 // 1 across the free side, which is on the left; -1 across the metal
	seen    *places
	list    []Spot
	slender Spot
}

func necks(w *work, limit, side float64) *facers {
	f := &facers{work: w, limit: limit + aside, side: side} // what is as wide as the limit is not left to rounding
	f.fresh()
	for i := range w.pieces {
		p, b := &w.pieces[i], w.grid.Boxes()[i]
		b.X0, b.Y0, b.X1, b.Y1 = b.X0-f.limit, b.Y0-f.limit, b.X1+f.limit, b.Y1+f.limit
		w.grid.Near(b, func(j int) bool {
			if j > i {
				f.pair(p, &w.pieces[j])
			}
			return true
		})
		if f.juts(i) {
			f.vertex(i)
		}
	}
	narrowestFirst(f.list)
	return f
}

func (f *facers) fresh() {
	f.seen = newPlaces(1e-6*(f.box.Wide()+1), 64+2*len(f.list))
	for i, s := range f.list {
		f.seen.put(s.At.Add(s.To).Mul(0.5), i)
	}
}

// open reports whether the round about a place keeps clear of all pieces.
func (f *facers) open(m geom.Point, r float64) bool {
	return !f.grid.Closer(m, r*(1-1e-6)-aside-f.eps)
}

// try takes a pair of places if the round between them is clear.
func (f *facers) try(p, q geom.Point) {
	d := p.Dist(q)
	if d > f.limit || d < 1e-9*(f.box.Wide()+1) || !f.open(p.Add(q).Mul(0.5), d/2) {
		return
	}
	f.record(Spot{At: p, Value: d, To: q})
}

// record keeps a pair; of those about one place it keeps the narrowest, with the
// longest run.
func (f *facers) record(s Spot) {
	if f.slender.Value == 0 || s.Long*f.slender.Value > f.slender.Long*s.Value {
		f.slender = s
	}
	m := s.At.Add(s.To).Mul(0.5)
	if k, ok := f.seen.find(m); ok {
		long := max(s.Long, f.list[k].Long)
		if s.Value < f.list[k].Value {
			f.list[k] = s
		}
		f.list[k].Long = long
		return
	}
	f.seen.put(m, len(f.list))
	f.list = append(f.list, s)
	if len(f.list) >= 2*mostSpots {
		narrowestFirst(f.list)
		f.list = f.list[:mostSpots]
		f.limit = f.list[mostSpots-1].Value
		f.fresh()
	}
}

// juts reports whether the contour turns away from the side at a piece's end.
func (f *facers) juts(i int) bool {
	u, v := f.pieces[i].Dir(1), f.pieces[f.next[i]].Dir(0)
	return f.side*u.Cross(v) < -1e-9 || u.Dot(v) < 0 && f.side*u.Cross(v) <= 0
}

// vertex looks what a vertex that juts into the side faces: pieces, and other such
// vertices.
func (f *facers) vertex(i int) {
	at := f.pieces[i].B
	b := geom.Box{X0: at.X - f.limit, Y0: at.Y - f.limit, X1: at.X + f.limit, Y1: at.Y + f.limit}
	f.grid.Near(b, func(j int) bool {
		q, next := &f.pieces[j], int(f.next[i])
		if j != i && j != next {
			t := q.Nearest(at)
			to := q.At(t)
			straight := t > 0 && t < 1 || math.Abs(at.Sub(to).Dot(q.Dir(t))) < aside
			if straight && f.cone(i, to) && f.looks(q, t, at) && !f.inLine(i, q, to) {
				f.try(at, to)
			}
		}
		if j > i && f.juts(j) && f.cone(i, q.B) && f.cone(j, at) && !f.inLine(i, q, q.B) && !f.inLine(i, &f.pieces[f.next[j]], q.B) {
			f.try(at, q.B)
		}
		return true
	})
}

// cone reports whether a place lies within the normals of a jutting vertex.
func (f *facers) cone(i int, q geom.Point) bool {
	d := q.Sub(f.pieces[i].B)
	u, v := f.pieces[i].Dir(1), f.pieces[f.next[i]].Dir(0)
	return d.Dot(u) >= -aside && d.Dot(v) <= aside && (f.side*u.Cross(d) > 0 || f.side*v.Cross(d) > 0)
}

// looks reports whether a place of a piece looks to the side where q lies.
func (f *facers) looks(p *geom.Piece, t float64, q geom.Point) bool {
	return f.side*p.Dir(t).Cross(q.Sub(p.At(t))) > 0
}

// pair looks for normals that two pieces share.
func (f *facers) pair(p, q *geom.Piece) {
	switch {
	case p.R == 0 && q.R == 0:
		f.lines(p, q)
	case p.R != 0 && q.R != 0:
		d := q.C.Sub(p.C)
		l := d.Len()
		if l < 1e-3*(p.R+q.R) && f.rings(p, q) {
			return
		}
		if l == 0 {
			return
		}
		d = d.Mul(1 / l)
		for _, s := range [...]float64{1, -1} {
			for _, r := range [...]float64{1, -1} {
				f.both(p, q, p.C.Add(d.Mul(s*p.R)), q.C.Add(d.Mul(r*q.R)))
			}
		}
	default:
		if q.R == 0 {
			p, q = q, p
		}
		n := p.Dir(0).Left()
		for _, s := range [...]float64{1, -1} {
			at := q.C.Add(n.Mul(s * q.R))
			f.both(p, q, at.Sub(n.Mul(n.Dot(at.Sub(p.A)))), at)
		}
	}
}

// beside is two straight walls that face each other at one distance: from where to
// where along the first, how far q lies to its left at both ends, and the distance
// at the narrower.
type beside struct{ lo, hi, y0, y1, d float64 }

func (f *facers) beside(p, q *geom.Piece) (b beside, ok bool) {
	u, v := p.B.Sub(p.A), q.B.Sub(q.A)
	if u.Dot(v) >= 0 {
		return b, false
	}
	if k := u.Cross(v); float64(k*k) > 1e-6*u.Dot(u)*v.Dot(v) {
		return b, false
	}
	u = u.Unit()
	x0, x1 := q.B.Sub(p.A).Dot(u), q.A.Sub(p.A).Dot(u)
	b.lo, b.hi = max(0, x0), min(p.Len(), x1)
	if b.hi-b.lo < aside {
		return b, false
	}
	y0, y1 := u.Cross(q.B.Sub(p.A)), u.Cross(q.A.Sub(p.A))
	b.y0, b.y1 = y0+(y1-y0)*(b.lo-x0)/(x1-x0), y0+(y1-y0)*(b.hi-x0)/(x1-x0)
	b.d = min(f.side*b.y0, f.side*b.y1)
	return b, b.d > 1e-9*(f.box.Wide()+1) && b.d <= f.limit && math.Abs(b.y0-b.y1) <= max(aside, parallel*(b.hi-b.lo))
}

// lines looks at two straight walls: where they run beside each other at one
// distance, the narrowest of it stands for all, wherever along it a round goes
// between them.
func (f *facers) lines(p, q *geom.Piece) {
	b, ok := f.beside(p, q)
	if !ok {
		return
	}
	u := p.Dir(0)
	n := u.Left()
	across := func(share, part float64) geom.Point {
		return p.A.Add(u.Mul(b.lo + (b.hi-b.lo)*share)).Add(n.Mul(part * (b.y0 + (b.y1-b.y0)*share)))
	}
	at := 0.5
	if !f.open(across(at, 0.5), b.d/2) {
		along, ok := f.clearAlong(across(0, 0.5), across(1, 0.5), b.d/2, b.d/2*1e-6+aside+f.eps)
		if !ok {
			return
		}
		at = along / (b.hi - b.lo)
	}
	f.record(Spot{At: across(at, 0), Value: b.d, To: across(at, 1), Long: b.hi - b.lo})
}

// inLine reports whether a place faces a vertex as the end of two walls that run
// beside each other, q being one of them: lines has looked at it.
func (f *facers) inLine(i int, q *geom.Piece, to geom.Point) bool {
	d := to.Sub(f.pieces[i].B)
	for _, p := range [...]*geom.Piece{&f.pieces[i], &f.pieces[f.next[i]]} {
		if p.R == 0 && q.R == 0 && math.Abs(d.Dot(p.Dir(0))) < aside {
			if _, ok := f.beside(p, q); ok {
				return true
			}
		}
	}
	return false
}

// both tries a pair when its places lie on both pieces and look at each other.
func (f *facers) both(p, q *geom.Piece, a, b geom.Point) {
	if d := a.Dist(b); d > f.limit || p.Dist(a) > aside || q.Dist(b) > aside {
		return
	}
	t, u := p.Nearest(a), q.Nearest(b)
	if f.looks(p, t, b) && f.looks(q, u, a) {
		f.try(a, b)
	}
}

// rings looks at two arcs about one centre, or so nearly that their distance does
// not change: the same where they stand before each other. It reports whether
// they are such.
func (f *facers) rings(p, q *geom.Piece) bool {
	turn := 0.0 // from a place of p to that of q which it faces, about the centre
	if p.Sweep*q.Sweep > 0 {
		turn = math.Pi
	}
	from, wide := math.Min(p.Start, p.Start+p.Sweep), math.Abs(p.Sweep)
	other := math.Min(q.Start, q.Start+q.Sweep) - turn
	even := true
	for k := math.Floor((from-other)/(2*math.Pi)) - 1; k < 4+(from+wide-other)/(2*math.Pi) && k < 1e3; k++ {
		lo, hi := max(from, other+2*math.Pi*k), min(from+wide, other+2*math.Pi*k+math.Abs(q.Sweep))
		if (hi-lo)*min(p.R, q.R) < aside {
			if hi < lo || p.R == q.R {
				continue
			}
		}
		place := func(a float64) (x, y geom.Point) {
			s, c := math.Sincos(a)
			v := geom.Point{X: c, Y: s}
			if turn == 0 {
				return p.C.Add(v.Mul(p.R)), q.C.Add(v.Mul(q.R))
			}
			return p.C.Add(v.Mul(p.R)), q.C.Add(v.Mul(-q.R))
		}
		least, most := math.Inf(1), 0.0
		for s := 0.0; s <= 1; s += 0.25 {
			a, b := place(lo + (hi-lo)*s)
			d := a.Dist(b)
			least, most = min(least, d), max(most, d)
		}
		if most-least > aside {
			even = false
			continue
		}
		for _, s := range [...]float64{0.5, 0, 1, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875} {
			a, b := place(lo + (hi-lo)*s)
			if !f.looks(p, p.Nearest(a), b) || !f.looks(q, q.Nearest(b), a) {
				break
			}
			if least <= f.limit && f.open(a.Add(b).Mul(0.5), least/2) {
				f.record(Spot{At: a, Value: least, To: b})
				break
			}
		}
	}
	return even
}
