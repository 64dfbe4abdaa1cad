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
func (w *work) result() (*Result, *Fault) {
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
	if fault := w.clip(marks, r.Path); fault != nil {
		return nil, fault
	}
	return r, w.leave(r, reached, marks)
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
func (w *work) clip(marks []mark, path []geom.Contour) *Fault {
	pieces := make([]geom.Piece, len(marks))
	for i := range marks {
		pieces[i] = marks[i].Piece
	}
	g := geom.NewGrid(pieces, w.reach)
	g.Bound(looks(len(w.pieces)))
	count, most := 0, cutsAtLeast+cutsPerPiece*len(w.pieces)
	cuts := make([][]cut, len(marks))
	var found []geom.Crossing
	for i, p := range pieces {
		g.Near(p.Box(), func(j int) bool {
			if j <= i {
				return true
			}
			found, _ = geom.Cross(&p, &pieces[j], found[:0])
			for _, c := range found {
				cuts[i], cuts[j] = append(cuts[i], cut{t: c.T}), append(cuts[j], cut{t: c.U})
				count++
			}
			return count < most
		})
		if _, spent := g.Spent(); spent || count >= most {
			return crowded("where the tool turns", p.C)
		}
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
			near.Bound(looks(len(w.pieces)))
		}
		ts := append(cuts[i], cut{t: 0}, cut{t: 1})
		inOrder(ts)
		marks[i].cutUp = true
		for k := 1; k < len(ts); k++ {
			if ts[k].t-ts[k-1].t < 1e-9 {
				continue
			}
			m := marks[i].At((ts[k-1].t + ts[k].t) / 2)
			if !near.Closer(m, w.reach*(1-1e-7)-slack) {
				marks[i].parts = append(marks[i].parts, marks[i].Cut(ts[k-1].t, ts[k].t))
			}
		}
		if at, spent := near.Spent(); spent {
			return crowded("where the tool turns", at)
		}
	}
	return nil
}

// leave works out area, places and the contour as it comes out.
func (w *work) leave(r *Result, touched []reachedSpan, marks []mark) (fault *Fault) {
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
	came, stays := make([]geom.Piece, 0, len(touched)+len(marks)), make([]geom.Piece, 0, 2*len(marks))
	var order []cut
	for i, p := range w.pieces {
		spans := reached[first[i]:first[i+1]]
		order = order[:0]
		for k, s := range spans {
			order = append(order, cut{s.t0, k})
		}
		inOrder(order)
		at := 0.0
		for _, o := range order {
			s := spans[o.node]
			if s.t0 > at+1e-12 {
				stays = append(stays, p.Cut(at, s.t0))
			}
			came = append(came, p.Cut(s.t0, s.t1))
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
			came = append(came, m.Piece)
			bounds, of = append(bounds, m.Back()), append(of, i)
			continue
		}
		for _, p := range m.parts {
			came = append(came, p)
			bounds, of = append(bounds, p.Back()), append(of, i)
		}
	}
	r.Leftover = geom.Area(bounds, o)
	r.Cut = Chain(came, 1e-8*(w.box.Wide()+w.reach))
	r.Pockets, fault = w.pockets(bounds, of, marks)
	return fault
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

// take finds a point in one place with p that was not taken before, and takes it.
func (s *places) take(p geom.Point, free func(is int) bool) int {
	x0, x1 := math.Floor((p.X-s.tol)/s.cell), math.Floor((p.X+s.tol)/s.cell)
	y0, y1 := math.Floor((p.Y-s.tol)/s.cell), math.Floor((p.Y+s.tol)/s.cell)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			for from := &s.head[s.slot(x, y)]; *from >= 0; {
				i := *from
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
	free := func(i int) bool { return !used[i] }
	var out []geom.Contour
	for i := range pieces {
		if used[i] {
			continue
		}
		var c geom.Contour
		for at := i; at >= 0; at = starts.take(pieces[at].B, free) {
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
