package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// foot is the place on the contour that the tool touches from a place of the path.
type foot struct {
	piece int     // the piece, or the one that ends in the vertex
	t     float64 // share of it; 1 for the vertex
	at    geom.Point
}

// inside reports whether a foot stands within its piece and not at its ends.
func (f foot) inside() bool { return f.t > 1e-9 && f.t < 1-1e-9 }

func (w *work) foot(s sub, t float64) foot {
	src := w.raws[s.raw].from
	p := w.pieces[src.piece]
	if src.vertex {
		return foot{src.piece, 1, p.B}
	}
	return foot{src.piece, t, p.At(t)}
}

// mark is an arc that the tool leaves where its path turns.
type mark struct {
	geom.Piece
	from, to foot
	parts    []geom.Piece // what is left of it where marks overlap
	cutUp    bool
}

// reachedSpan is a part of a piece of the contour that the tool touches.
type reachedSpan struct {
	piece  int
	t0, t1 float64
}

// result works out what the path leaves.
func (w *work) result() *Result {
	r := &Result{}
	reached := make([]reachedSpan, 0, len(w.subs))
	marks := make([]mark, 0, len(w.subs)/2)
	for _, loop := range w.loops {
		c := make(geom.Contour, 0, len(loop))
		for k, i := range loop {
			s := w.subs[i]
			c = append(c, w.part(i))
			b := w.foot(s, s.t1)
			if src := w.raws[s.raw].from; !src.vertex {
				reached = append(reached, reachedSpan{src.piece, s.t0, s.t1})
			}
			next := w.subs[loop[(k+1)%len(loop)]]
			n := w.foot(next, next.t0)
			if m, ok := w.mark(w.nodes[s.to], b, n); ok {
				marks = append(marks, m)
			}
		}
		r.Path = append(r.Path, c)
		r.Length += c.Len()
	}
	w.clip(marks, r.Path)
	w.leave(r, reached, marks)
	return r
}

// mark is the arc about a turn of the path from one touch to the next.
func (w *work) mark(v geom.Point, a, b foot) (mark, bool) {
	if a.at.Dist(b.at) < 1e-9*(w.box.Wide()+w.reach) {
		return mark{}, false
	}
	p := geom.Arc(a.at, b.at, v, true)
	return mark{Piece: p, from: a, to: b}, true
}

// clip takes from each mark what lies inside the tool's reach at another place:
// in a neck that just closes the discs of both sides overlap.
func (w *work) clip(marks []mark, path []geom.Contour) {
	pieces := make([]geom.Piece, len(marks))
	for i := range marks {
		pieces[i] = marks[i].Piece
	}
	g := geom.NewGrid(pieces, w.reach)
	cuts := make([][]float64, len(marks))
	var found []geom.Crossing
	for i, p := range pieces {
		g.Near(p.Box(), func(j int) bool {
			if j <= i {
				return true
			}
			found, _ = geom.Cross(p, pieces[j], found[:0])
			for _, c := range found {
				cuts[i], cuts[j] = append(cuts[i], c.T), append(cuts[j], c.U)
			}
			return true
		})
	}
	slack := 1e-10 * (w.box.Wide() + w.reach) // of arcs with far centres
	var near *geom.Grid
	for i := range marks {
		// Without a crossing a mark lies inside another's disc only when both end in
		// one vertex of the contour.
		if len(cuts[i]) == 0 && marks[i].from.inside() && marks[i].to.inside() {
			continue
		}
		if near == nil {
			var all []geom.Piece
			for _, c := range path {
				all = append(all, c...)
			}
			near = geom.NewGrid(all, w.reach)
		}
		ts := append(cuts[i], 0, 1)
		for a := 1; a < len(ts); a++ {
			for b := a; b > 0 && ts[b] < ts[b-1]; b-- {
				ts[b], ts[b-1] = ts[b-1], ts[b]
			}
		}
		marks[i].cutUp = true
		for k := 1; k < len(ts); k++ {
			if ts[k]-ts[k-1] < 1e-9 {
				continue
			}
			m := marks[i].At((ts[k-1] + ts[k]) / 2)
			if !near.Closer(m, w.reach*(1-1e-7)-slack) {
				marks[i].parts = append(marks[i].parts, marks[i].Cut(ts[k-1], ts[k]))
			}
		}
	}
}

// leave works out area, places and the contour as it comes out.
func (w *work) leave(r *Result, touched []reachedSpan, marks []mark) {
	o := geom.Point{X: (w.box.X0 + w.box.X1) / 2, Y: (w.box.Y0 + w.box.Y1) / 2}
	first := make([]int32, len(w.pieces)+1) // spans in order of their piece
	for _, s := range touched {
		first[s.piece+1]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	reached := make([]reachedSpan, len(touched))
	place := append([]int32(nil), first...)
	for _, s := range touched {
		reached[place[s.piece]] = s
		place[s.piece]++
	}
	cut, stays := make([]geom.Piece, 0, len(touched)+len(marks)), make([]geom.Piece, 0, 2*len(marks))
	for i, p := range w.pieces {
		spans := reached[first[i]:first[i+1]]
		for a := 1; a < len(spans); a++ {
			for b := a; b > 0 && spans[b].t0 < spans[b-1].t0; b-- {
				spans[b], spans[b-1] = spans[b-1], spans[b]
			}
		}
		at := 0.0
		for _, s := range spans {
			if s.t0 > at+1e-12 {
				stays = append(stays, p.Cut(at, s.t0))
			}
			cut = append(cut, p.Cut(s.t0, s.t1))
			at = max(at, s.t1)
		}
		if at < 1-1e-12 {
			stays = append(stays, p.Cut(at, 1))
		}
	}
	// What stays lies between the contour and the tool's marks, travelled back.
	bounds := stays
	of := make([]int, len(stays), len(stays)+len(marks)) // the mark of each, -1 for a piece of the contour
	for i := range of {
		of[i] = -1
	}
	for i, m := range marks {
		if !m.cutUp {
			cut = append(cut, m.Piece)
			bounds, of = append(bounds, m.Back()), append(of, i)
			continue
		}
		for _, p := range m.parts {
			cut = append(cut, p)
			bounds, of = append(bounds, p.Back()), append(of, i)
		}
	}
	r.Leftover = geom.Area(bounds, o)
	r.Pockets = w.pockets(bounds, of, marks)
	r.Cut = Chain(cut, 1e-8*(w.box.Wide()+w.reach))
}

// pockets groups what bounds the metal that stays into places.
func (w *work) pockets(bounds []geom.Piece, of []int, marks []mark) []Pocket {
	group := make([]int, len(bounds))
	for i := range group {
		group[i] = i
	}
	var find func(i int) int
	find = func(i int) int {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	tol := 1e-8 * (w.box.Wide() + w.reach)
	ends := newPlaces(tol, 2*len(bounds))
	for i, p := range bounds {
		for _, e := range [...]geom.Point{p.A, p.B} {
			if j, ok := ends.find(e); ok {
				group[find(i)] = find(j)
			} else {
				ends.put(e, i)
			}
		}
	}
	byRoot := map[int]int{} // the pocket of a group
	var out []Pocket
	var members [][]int
	for i, p := range bounds {
		k, ok := byRoot[find(i)]
		if !ok {
			k = len(out)
			byRoot[find(i)] = k
			out, members = append(out, Pocket{At: p.A, Whole: true}), append(members, nil)
		}
		members[k] = append(members[k], i)
		if of[i] >= 0 {
			out[k].Arcs = append(out[k].Arcs, marks[of[i]].Piece)
			out[k].Whole = false
		}
	}
	for n := range out {
		k := &out[n]
		at := k.At
		for _, i := range members[n] {
			p := bounds[i]
			k.Area += geom.Area([]geom.Piece{p}, at)
			if of[i] >= 0 {
				continue
			}
			if d, q := deepest(p, k.Arcs, k.Depth); d > k.Depth {
				k.Depth, k.At = d, q
			}
		}
	}
	// An island that nothing touches is a hole in the metal round it.
	for i := 0; i < len(out); i++ {
		if !out[i].Whole || out[i].Area > 0 {
			continue
		}
		for j := range out {
			turn := 0.0
			for _, n := range members[j] {
				if j != i {
					turn += bounds[n].Winding(out[i].At)
				}
			}
			if turn > math.Pi {
				out[j].Area += out[i].Area
				out, members = append(out[:i], out[i+1:]...), append(members[:i], members[i+1:]...)
				i--
				break
			}
		}
	}
	return out
}

// deepest is the place of a piece of the contour that is farthest from the tool,
// when it is deeper than known. Along a line the distance from one mark bends one
// way only, so that its ends decide; between several marks, and along an arc, the
// middle may. No place is deeper than half of its ends' depths and the length.
func deepest(p geom.Piece, arcs []geom.Piece, known float64) (float64, geom.Point) {
	at := func(t float64) float64 { return depth(p.At(t), arcs) }
	best, where := at(0), 0.0
	end := at(1)
	if most := (best + end + p.Len()) / 2; most <= known {
		return best, p.A
	}
	if end > best {
		best, where = end, 1
	}
	steps := 1
	if p.R != 0 || len(arcs) > 1 {
		steps = 8
	}
	if len(arcs) > 1 && p.Len() > arcs[0].R {
		steps = 64
	}
	for s := 1; s < steps; s++ {
		if d := at(float64(s) / float64(steps)); d > best {
			best, where = d, float64(s)/float64(steps)
		}
	}
	if steps > 1 {
		lo, hi := max(0, where-1/float64(steps)), min(1, where+1/float64(steps))
		for range 40 {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if at(a) < at(b) {
				lo = a
			} else {
				hi = b
			}
		}
		if d := at((lo + hi) / 2); d > best {
			best, where = d, (lo+hi)/2
		}
	}
	return best, p.At(where)
}

// depth is how far a place of the contour is from the tool.
func depth(q geom.Point, arcs []geom.Piece) float64 {
	best := math.Inf(1)
	for _, a := range arcs {
		best = min(best, q.Dist(a.C)-a.R)
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return max(0, best)
}

// places finds points that stand in one place, by a table of cells a good deal
// larger than the tolerance.
type places struct {
	tol, cell float64
	head      []int32 // first point of each slot of the table, -1 for none
	next      []int32
	at        []geom.Point
	is        []int32
}

func newPlaces(tol float64, n int) *places {
	size := 16
	for size < 2*n {
		size *= 2
	}
	s := &places{tol: tol, cell: 32 * tol, head: make([]int32, size), next: make([]int32, 0, n), at: make([]geom.Point, 0, n), is: make([]int32, 0, n)}
	for i := range s.head {
		s.head[i] = -1
	}
	return s
}

func (s *places) slot(x, y float64) int {
	h := uint64(int64(x))*0x9e3779b97f4a7c15 ^ uint64(int64(y))*0xc2b2ae3d27d4eb4f
	h ^= h >> 29
	return int(h*0xbf58476d1ce4e5b9>>32) & (len(s.head) - 1)
}

// each calls fn for the points in one place with p, until it says false.
func (s *places) each(p geom.Point, fn func(is int) bool) {
	x0, x1 := math.Floor((p.X-s.tol)/s.cell), math.Floor((p.X+s.tol)/s.cell)
	y0, y1 := math.Floor((p.Y-s.tol)/s.cell), math.Floor((p.Y+s.tol)/s.cell)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for i := s.head[s.slot(x, y)]; i >= 0; i = s.next[i] {
				if s.at[i].Dist(p) <= s.tol && !fn(int(s.is[i])) {
					return
				}
			}
		}
	}
}

func (s *places) find(p geom.Point) (is int, ok bool) {
	s.each(p, func(i int) bool {
		is, ok = i, true
		return false
	})
	return is, ok
}

func (s *places) put(p geom.Point, is int) {
	k := s.slot(math.Floor(p.X/s.cell), math.Floor(p.Y/s.cell))
	s.at, s.is, s.next = append(s.at, p), append(s.is, int32(is)), append(s.next, s.head[k])
	s.head[k] = int32(len(s.at) - 1)
}

// Chain makes contours of pieces that follow each other within a tolerance; what
// does not close is left out.
func Chain(pieces []geom.Piece, tol float64) []geom.Contour {
	starts := newPlaces(tol, len(pieces))
	for i, p := range pieces {
		starts.put(p.A, i)
	}
	used := make([]bool, len(pieces))
	take := func(p geom.Point) int {
		at := -1
		starts.each(p, func(i int) bool {
			if !used[i] {
				at = i
			}
			return at < 0
		})
		return at
	}
	var out []geom.Contour
	for i := range pieces {
		if used[i] {
			continue
		}
		var c geom.Contour
		for at := i; at >= 0; at = take(pieces[at].B) {
			used[at] = true
			c = append(c, pieces[at])
			if len(c) > 1 && pieces[at].B.Dist(c[0].A) <= tol {
				break
			}
		}
		if c[len(c)-1].B.Dist(c[0].A) <= tol {
			out = append(out, c)
		}
	}
	return out
}
