package offset

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// foot is the place on the contour that the tool touches from a place of the path,
// and whether it stands within its piece and not at its ends.
func (w *work) foot(s *sub, t float64) (at geom.Point, within bool) {
	src := w.raws[s.raw]
	p := &w.pieces[src.piece]
	if src.vertex {
		return p.B, false
	}
	return p.At(t), t > 1e-9 && t < 1-1e-9
}

// marks are the arcs that the tool leaves where its path turns.
type marks struct {
	arcs []geom.Piece
	kept []kept
	// parts are what is left of those that are cut up.
	parts []geom.Piece
}

// kept is what is left of a mark.
type kept struct {
	first, end int32 // among the parts; first is -1 for the whole
	within     bool  // it ends within two pieces of the contour
}

// reachedSpan is a part of a piece of the contour that the tool touches.
type reachedSpan struct {
	t0, t1 float64
	piece  int32
}

// result works out what the path leaves.
func (w *work) result() (*Result, *Fault) {
	r := &Result{Path: make([]geom.Contour, 0, len(w.ends))}
	all := make([]geom.Piece, len(w.loops))
	for i, k := range w.loops {
		all[i] = w.part(k)
	}
	first, along := int32(0), 0
	for _, end := range w.ends {
		c := geom.Contour(all[first:end:end])
		r.Path = append(r.Path, c)
		r.Length += c.Len()
		first = end
	}
	if w.want == Paths {
		return r, nil
	}
	for _, k := range w.loops {
		if !w.raws[w.subs[k].raw].vertex {
			along++
		}
	}
	reached := make([]reachedSpan, 0, along)
	m := &marks{arcs: make([]geom.Piece, 0, len(w.loops)/2), kept: make([]kept, 0, len(w.loops)/2)}
	first = 0
	for _, end := range w.ends {
		loop := w.loops[first:end]
		first = end
		for k, i := range loop {
			s := &w.subs[i]
			if src := w.raws[s.raw]; !src.vertex {
				reached = append(reached, reachedSpan{s.t0, s.t1, src.piece})
			}
			follow := loop[0]
			if k+1 < len(loop) {
				follow = loop[k+1]
			}
			next := &w.subs[follow]
			a, withinA := w.foot(s, s.t1)
			b, withinB := w.foot(next, next.t0)
			// The arc about a turn of the path goes from one touch to the next.
			if a.Dist(b) < 1e-9*(w.box.Wide()+w.reach) {
				continue
			}
			m.arcs = append(m.arcs, geom.Arc(a, b, w.nodes[s.to], true))
			m.kept = append(m.kept, kept{-1, -1, withinA && withinB})
		}
	}
	w.spend()
	if fault := w.clip(m, all); fault != nil {
		return nil, fault
	}
	return r, w.leave(r, reached, m)
}

// clip takes from each mark what lies inside the tool's reach at another place:
// in a neck that just closes the discs of both sides overlap.
func (w *work) clip(m *marks, path []geom.Piece) *Fault {
	g := geom.NewGrid(m.arcs, w.reach)
	g.Bound(looks(len(w.pieces)))
	boxes := g.Boxes()
	count, most := 0, cutsAtLeast+cutsPerPiece*len(w.pieces)
	w.hits = slices.Grow(w.hits[:0], 3*len(m.arcs))
	for i := range m.arcs {
		p, b := &m.arcs[i], &boxes[i]
		g.Near(*b, func(j int) bool {
			if j <= i {
				return true
			}
			w.found, _ = geom.Cross(p, &m.arcs[j], w.found[:0])
			for _, c := range w.found {
				w.hits = append(w.hits, hit{t: c.T, on: int32(i)}, hit{t: c.U, on: int32(j)})
				count++
			}
			return count < most
		})
		if _, spent := g.Spent(); spent || count >= most {
			return crowded("where the tool turns", p.C)
		}
	}
	for i := range m.arcs {
		w.hits = append(w.hits, hit{t: 0, on: int32(i)}, hit{t: 1, on: int32(i)})
	}
	w.cuts, w.first = inOrder(w.hits, len(m.arcs), w.cuts, w.first)
	slack := 1e-10 * (w.box.Wide() + w.reach) // of arcs with far centres
	var near *geom.Grid
	for i := range m.arcs {
		// Without a crossing a mark lies inside another's disc only when both end in
		// one vertex of the contour.
		ts := w.cuts[w.first[i]:w.first[i+1]]
		k := &m.kept[i]
		if len(ts) == 2 && k.within {
			continue
		}
		if near == nil {
			near = geom.NewGrid(path, w.reach)
			near.Bound(looks(len(w.pieces)))
		}
		k.first = int32(len(m.parts))
		for n := 1; n < len(ts); n++ {
			if ts[n].t-ts[n-1].t < 1e-9 {
				continue
			}
			at := m.arcs[i].At((ts[n-1].t + ts[n].t) / 2)
			if !near.Closer(at, w.reach*(1-1e-7)-slack) {
				m.parts = append(m.parts, m.arcs[i].Cut(ts[n-1].t, ts[n].t))
			}
		}
		k.end = int32(len(m.parts))
		if at, spent := near.Spent(); spent {
			return crowded("where the tool turns", at)
		}
	}
	return nil
}

// leave works out area, places and the contour as it comes out, one after the
// other: each has a list of as many pieces as the drawing or more.
func (w *work) leave(r *Result, touched []reachedSpan, m *marks) (fault *Fault) {
	w.hits = slices.Grow(w.hits[:0], len(touched))
	for i := range touched {
		w.hits = append(w.hits, hit{touched[i].t0, touched[i].piece, int32(i)})
	}
	w.cuts, w.first = inOrder(w.hits, len(w.pieces), w.cuts, w.first)
	w.spend()
	if w.want == Everything {
		r.Cut = Chain(w.came(touched, m), 1e-8*(w.box.Wide()+w.reach))
	}
	bounds, stays, of := w.bounds(touched, m)
	r.Leftover = geom.Area(bounds, geom.Point{X: (w.box.X0 + w.box.X1) / 2, Y: (w.box.Y0 + w.box.Y1) / 2})
	r.Pockets, fault = w.pockets(bounds, stays, of, m.arcs)
	return fault
}

// came is the contour as it comes out, in pieces.
func (w *work) came(touched []reachedSpan, m *marks) []geom.Piece {
	out := make([]geom.Piece, 0, len(touched)+len(m.arcs)+len(m.parts))
	for i := range w.pieces {
		for _, c := range w.cuts[w.first[i]:w.first[i+1]] {
			s := &touched[c.node]
			out = append(out, w.pieces[i].Cut(s.t0, s.t1))
		}
	}
	for i := range m.arcs {
		out = append(out, m.left(i)...)
	}
	return out
}

// left is what is left of a mark.
func (m *marks) left(i int) []geom.Piece {
	if k := &m.kept[i]; k.first >= 0 {
		return m.parts[k.first:k.end]
	}
	return m.arcs[i : i+1]
}

// bounds is what bounds the metal that stays: pieces of the contour, how many they
// are, and after them the tool's marks, travelled back, with the number of each.
func (w *work) bounds(touched []reachedSpan, m *marks) (out []geom.Piece, stays int, of []int32) {
	n := 0
	var rest []float64 // for each piece of the contour from where to where it stays
	for pass := range 2 {
		for i := range w.pieces {
			at := 0.0
			rest = rest[:0]
			for _, c := range w.cuts[w.first[i]:w.first[i+1]] {
				s := &touched[c.node]
				if s.t0 > at+1e-12 {
					rest = append(rest, at, s.t0)
				}
				at = max(at, s.t1)
			}
			if at < 1-1e-12 {
				rest = append(rest, at, 1)
			}
			if pass == 0 {
				n += len(rest) / 2
				continue
			}
			for k := 0; k < len(rest); k += 2 {
				out = append(out, w.pieces[i].Cut(rest[k], rest[k+1]))
			}
		}
		if pass == 0 {
			out = make([]geom.Piece, 0, n+len(m.arcs)+len(m.parts))
		}
	}
	stays = len(out)
	of = make([]int32, 0, len(m.arcs)+len(m.parts))
	for i := range m.arcs {
		parts := m.left(i)
		for n := range parts {
			out, of = append(out, parts[n].Back()), append(of, int32(i))
		}
	}
	return out, stays, of
}

// places finds points that stand in one place, by a table of cells a good deal
// larger than the tolerance.
type places struct {
	tol, cell float64
	head      []int32 // first point of each slot of the table, from 1; 0 for none
	next      []int32
	at        []geom.Point
	is        []int32
}

func newPlaces(tol float64, n int) *places {
	size := 16
	for size < 2*n {
		size *= 2
	}
	return &places{tol: tol, cell: 32 * tol, head: make([]int32, size), next: make([]int32, 0, n), at: make([]geom.Point, 0, n), is: make([]int32, 0, n)}
}

func (s *places) slot(x, y float64) int {
	h := uint64(int64(x))*0x9e3779b97f4a7c15 ^ uint64(int64(y))*0xc2b2ae3d27d4eb4f
	h ^= h >> 29
	return int(h*0xbf58476d1ce4e5b9>>32) & (len(s.head) - 1)
}

// take finds a point in one place with p that was not taken before, and takes it.
func (s *places) take(p geom.Point, free func(is int) bool) int {
	x0, x1 := math.Floor((p.X-s.tol)/s.cell), math.Floor((p.X+s.tol)/s.cell)
	y0, y1 := math.Floor((p.Y-s.tol)/s.cell), math.Floor((p.Y+s.tol)/s.cell)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for from := &s.head[s.slot(x, y)]; *from > 0; {
				i := *from - 1
				if s.at[i].Dist(p) > s.tol {
					from = &s.next[i]
					continue
				}
				*from = s.next[i] // what is taken is looked at no more
				if is := int(s.is[i]); free(is) {
					return is
				}
			}
		}
	}
	return -1
}

// find finds a point in one place with p.
func (s *places) find(p geom.Point) (is int, ok bool) {
	x0, x1 := math.Floor((p.X-s.tol)/s.cell), math.Floor((p.X+s.tol)/s.cell)
	y0, y1 := math.Floor((p.Y-s.tol)/s.cell), math.Floor((p.Y+s.tol)/s.cell)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for i := s.head[s.slot(x, y)] - 1; i >= 0; i = s.next[i] - 1 {
				if s.at[i].Dist(p) <= s.tol {
					return int(s.is[i]), true
				}
			}
		}
	}
	return 0, false
}

// findOrPut finds a point in one place with p, or puts p there.
func (s *places) findOrPut(p geom.Point, is int) int {
	if j, ok := s.find(p); ok {
		return j
	}
	s.put(p, is)
	return is
}

func (s *places) put(p geom.Point, is int) {
	k := s.slot(math.Floor(p.X/s.cell), math.Floor(p.Y/s.cell))
	s.at, s.is, s.next = append(s.at, p), append(s.is, int32(is)), append(s.next, s.head[k])
	s.head[k] = int32(len(s.at))
}

// Chain makes contours of pieces that follow each other within a tolerance; what
// does not close is left out. They share their room, but none can grow into another.
func Chain(pieces []geom.Piece, tol float64) []geom.Contour {
	starts := newPlaces(tol, len(pieces))
	for i := range pieces {
		starts.put(pieces[i].A, i)
	}
	used := make([]bool, len(pieces))
	free := func(i int) bool { return !used[i] }
	all := make([]geom.Piece, 0, len(pieces))
	var out []geom.Contour
	for i := range pieces {
		if used[i] {
			continue
		}
		first := len(all)
		for at := i; at >= 0; at = starts.take(pieces[at].B, free) {
			used[at] = true
			all = append(all, pieces[at])
			if len(all) > first+1 && pieces[at].B.Dist(all[first].A) <= tol {
				break
			}
		}
		if all[len(all)-1].B.Dist(all[first].A) <= tol {
			out = append(out, all[first:len(all):len(all)])
		} else {
			all = all[:first]
		}
	}
	return out
}
