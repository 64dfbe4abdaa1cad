package offset

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// Spot is a place of the contour that decides something.
type Spot struct {
	At    geom.Point
	Value float64 // mm, or degrees for an angle
	To    geom.Point
	Long  float64 // for a wall or fin: how far it runs, mm
}

// Finds is what a region says about the tool it wants.
type Finds struct {
	Radii  []Spot // inside radii, smallest first
	Angles []Spot // included angles of sharp inside corners, smallest first
	Necks  []Spot // local widths of the free side, narrowest first
	Walls  []Spot // local thicknesses of the metal, thinnest first
	Wide   []Spot // widest round places of the free side, for starting
}

// Find looks a region over, its free side on the left. limit is the width up to
// which necks and walls are looked for; tip the depth in mm below which what a
// tool of that radius leaves in a corner is no corner.
func Find(region []geom.Contour, limit, radius, tip float64) Finds {
	w := &work{reach: radius}
	w.take(region)
	var f Finds
	home := func(p geom.Point) geom.Point { return p.Add(w.origin) }
	for i, p := range w.pieces {
		if p.Sweep > 0 {
			f.Radii = append(f.Radii, Spot{At: home(p.At(0.5)), Value: p.R, To: home(p.C)})
		}
		u, v := p.Dir(1), w.pieces[w.next[i]].Dir(0)
		if turn := math.Atan2(u.Cross(v), u.Dot(v)); turn > 0 {
			angle := math.Pi - turn
			if angle < math.Pi-1e-9 && radius*(1/math.Sin(angle/2)-1) > tip {
				f.Angles = append(f.Angles, Spot{At: home(p.B), Value: angle * 180 / math.Pi})
			}
		}
	}
	f.Necks = w.necks(limit, false)
	f.Walls = w.necks(limit, true)
	for i := range f.Necks {
		f.Necks[i].At, f.Necks[i].To = home(f.Necks[i].At), home(f.Necks[i].To)
	}
	for i := range f.Walls {
		f.Walls[i].At, f.Walls[i].To = home(f.Walls[i].At), home(f.Walls[i].To)
	}
	for _, list := range [...][]Spot{f.Radii, f.Angles, f.Necks, f.Walls} {
		slices.SortStableFunc(list, func(a, b Spot) int {
			switch {
			case a.Value < b.Value:
				return -1
			case a.Value > b.Value:
				return 1
			}
			return 0
		})
	}
	return f
}

// necks finds pairs of places that face each other across the free side, or
// across the metal: the line between them stands at right angles on both, and
// the round between them holds nothing else. They are the necks of the distance
// from the contour, whether the walls are parallel or not.
func (w *work) necks(limit float64, metal bool) []Spot {
	var out []Spot
	side := 1.0 // the free side is on the left
	if metal {
		side = -1
	}
	seen := newPlaces(1e-6*(w.box.Wide()+1), 64)
	try := func(p, q geom.Point, along float64) {
		d := p.Dist(q)
		if d > limit || d < 1e-9*(w.box.Wide()+1) {
			return
		}
		m := p.Add(q).Mul(0.5)
		if w.grid.Closer(m, d/2*(1-1e-7)-w.eps) {
			return
		}
		if _, ok := seen.find(m); ok {
			return
		}
		seen.put(m, 0)
		out = append(out, Spot{At: p, Value: d, To: q, Long: along})
	}
	for i, p := range w.pieces {
		b := p.Box()
		b.X0, b.Y0, b.X1, b.Y1 = b.X0-limit, b.Y0-limit, b.X1+limit, b.Y1+limit
		w.grid.Near(b, func(j int) bool {
			if j > i && len(out) < 2000 {
				w.facing(i, j, side, try)
			}
			return true
		})
		// A vertex that juts into the free side (or the metal) faces pieces and
		// other such vertices.
		if !w.juts(i, side) {
			continue
		}
		v := geom.Box{X0: p.B.X - limit, Y0: p.B.Y - limit, X1: p.B.X + limit, Y1: p.B.Y + limit}
		w.grid.Near(v, func(j int) bool {
			if len(out) >= 2000 {
				return false
			}
			q := w.pieces[j]
			if j != i && j != w.next[i] {
				if t := q.Nearest(p.B); t > 0 && t < 1 && w.cone(i, q.At(t), side) && facesBack(q, t, p.B, side) {
					try(p.B, q.At(t), 0)
				}
			}
			if j > i && w.juts(j, side) && w.cone(i, q.B, side) && w.cone(j, p.B, side) {
				try(p.B, q.B, 0)
			}
			return true
		})
	}
	return out
}

// juts reports whether the contour turns away from the side at a piece's end.
func (w *work) juts(i int, side float64) bool {
	u, v := w.pieces[i].Dir(1), w.pieces[w.next[i]].Dir(0)
	return side*u.Cross(v) < -1e-9
}

// cone reports whether a place lies within the normals of a jutting vertex.
func (w *work) cone(i int, q geom.Point, side float64) bool {
	d := q.Sub(w.pieces[i].B)
	return d.Dot(w.pieces[i].Dir(1)) >= -1e-9*d.Len() && d.Dot(w.pieces[w.next[i]].Dir(0)) <= 1e-9*d.Len() && side*w.pieces[i].Dir(1).Cross(d) > 0
}

// facesBack reports whether a place of a piece looks to the side where q lies.
func facesBack(p geom.Piece, t float64, q geom.Point, side float64) bool {
	return side*p.Dir(t).Cross(q.Sub(p.At(t))) > 0
}

// facing looks for normals that two pieces share.
func (w *work) facing(i, j int, side float64, try func(p, q geom.Point, along float64)) {
	p, q := w.pieces[i], w.pieces[j]
	switch {
	case p.R == 0 && q.R == 0:
		u, v := p.Dir(0), q.Dir(0)
		if math.Abs(u.Cross(v)) > 1e-7 || u.Dot(v) > 0 {
			return
		}
		// Parallel walls face each other where they overlap: the middle stands for all.
		t0, t1 := p.Param(q.B), p.Param(q.A)
		lo, hi := max(0, min(t0, t1)), min(1, max(t0, t1))
		if hi-lo <= 1e-9 {
			return
		}
		a := p.At((lo + hi) / 2)
		b := q.At(q.Nearest(a))
		if facesBack(p, 0.5, b, side) && facesBack(q, 0.5, a, side) {
			try(a, b, (hi-lo)*p.Len())
		}
	case p.R != 0 && q.R != 0:
		d := q.C.Sub(p.C)
		if d.Len() < 1e-9*(p.R+q.R) {
			w.concentric(p, q, side, try)
			return
		}
		d = d.Unit()
		for _, s := range [...]float64{1, -1} {
			for _, r := range [...]float64{1, -1} {
				a, b := p.C.Add(d.Mul(s*p.R)), q.C.Add(d.Mul(r*q.R))
				w.both(p, q, a, b, side, try)
			}
		}
	case p.R == 0:
		w.lineArc(p, q, side, try)
	default:
		w.lineArc(q, p, side, try)
	}
}

func (w *work) lineArc(l, a geom.Piece, side float64, try func(p, q geom.Point, along float64)) {
	n := l.Dir(0).Left()
	for _, s := range [...]float64{1, -1} {
		b := a.C.Add(n.Mul(s * a.R))
		w.both(l, a, l.At(l.Nearest(b)), b, side, try)
	}
}

// both tries a pair when its places lie within both pieces and look at each other.
func (w *work) both(p, q geom.Piece, a, b geom.Point, side float64, try func(p, q geom.Point, along float64)) {
	t, u := p.Param(a), q.Param(b)
	if t < 0 || t > 1 || u < 0 || u > 1 {
		return
	}
	d := b.Sub(a)
	if math.Abs(d.Dot(p.Dir(t))) > 1e-6*d.Len() || math.Abs(d.Dot(q.Dir(u))) > 1e-6*d.Len() {
		return
	}
	if facesBack(p, t, b, side) && facesBack(q, u, a, side) {
		try(a, b, 0)
	}
}

func (w *work) concentric(p, q geom.Piece, side float64, try func(p, q geom.Point, along float64)) {
	a := p.At(0.5)
	v := a.Sub(p.C).Unit()
	for _, s := range [...]float64{1, -1} {
		w.both(p, q, a, q.C.Add(v.Mul(s*q.R)), side, try)
	}
}

// Widest finds round places of the free side, each no less wide than any near it,
// widest first: at most n for each contour that bounds free space from outside.
// It halves squares round the places that can still hold a wider one.
func Widest(region []geom.Contour, n int) []Spot {
	w := &work{}
	w.take(region)
	var out []Spot
	for _, span := range w.whole {
		c := geom.Contour(w.pieces[span[0]:span[1]])
		if c.Area() <= 0 {
			continue
		}
		at, r := w.widest(c)
		if r > 0 {
			out = append(out, Spot{At: at.Add(w.origin), Value: r})
		}
		if len(out) >= n {
			break
		}
	}
	return out
}

type square struct {
	at      geom.Point
	half    float64
	r, most float64
}

// widest is the middle and radius of the largest round within one contour of the
// region and clear of all others.
func (w *work) widest(c geom.Contour) (geom.Point, float64) {
	b := c.Box()
	size := b.Wide()
	measure := func(p geom.Point, half float64) square {
		d, i := w.grid.Distance(p, 4*size+1)
		if i < 0 || !w.free(p, i) {
			d = -d
		}
		return square{p, half, d, d + half*math.Sqrt2}
	}
	best := square{r: -1}
	var list []square
	const across = 12
	for i := range across {
		for j := range across {
			list = append(list, measure(geom.Point{X: b.X0 + (float64(i)+0.5)*size/across, Y: b.Y0 + (float64(j)+0.5)*size/across}, size/across/2))
		}
	}
	// A slot is equally wide all along its middle: the search is not to follow it
	// to the last digit, so it stops at a share of the size or a count of squares.
	tol := 2e-4 * size
	const most = 3000
	for looked := 0; len(list) > 0 && looked < most; {
		for _, s := range list {
			if s.r > best.r {
				best = s
			}
		}
		var next []square
		for _, s := range list {
			if s.most <= best.r+tol || looked >= most {
				continue
			}
			h := s.half / 2
			for _, d := range [...]geom.Point{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
				next = append(next, measure(s.at.Add(d), h))
				looked++
			}
		}
		list = next
	}
	// From there uphill, by shorter and shorter steps.
	for step := best.half; step > 1e-9*size && best.r > 0; step /= 2 {
		for range 4 {
			moved := false
			for _, d := range [...]geom.Point{{X: step}, {X: -step}, {Y: step}, {Y: -step}, {X: step, Y: step}, {X: -step, Y: -step}, {X: step, Y: -step}, {X: -step, Y: step}} {
				if q := measure(best.at.Add(d), best.half); q.r > best.r {
					best, moved = q, true
				}
			}
			if !moved {
				break
			}
		}
	}
	return best.at, best.r
}

// free reports whether a place lies on the free side, by the piece nearest to it:
// on its left, or, nearest to a vertex, as the two pieces there say together.
func (w *work) free(p geom.Point, i int) bool {
	t := w.pieces[i].Nearest(p)
	if t > 0 && t < 1 {
		return w.pieces[i].Dir(t).Cross(p.Sub(w.pieces[i].At(t))) > 0
	}
	if t == 0 {
		i = w.before(i)
	}
	v := w.pieces[i].B
	u, o := w.pieces[i].Dir(1), w.pieces[w.next[i]].Dir(0)
	left, right := u.Cross(p.Sub(v)) > 0, o.Cross(p.Sub(v)) > 0
	if u.Cross(o) > 0 { // an inside corner
		return left && right
	}
	return left || right
}

// before is the piece that ends where another begins.
func (w *work) before(i int) int {
	for _, c := range w.whole {
		if i >= c[0] && i < c[1] {
			if i == c[0] {
				return c[1] - 1
			}
			return i - 1
		}
	}
	return i
}
