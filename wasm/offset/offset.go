// Package offset finds where a wire can go and what it leaves: the path of its
// middle at a reach (wire radius and gap) from a contour, with arcs as arcs, and
// the contour as it comes out. It may import geom.
//
// The method: every piece of the contour is moved to the free side by the reach,
// outward vertices become arcs, all of them are cut where they meet, and what
// keeps its distance from the whole contour is chained. What the wire leaves
// follows from the path without a second offset: at a turn of the path the disc
// stands still and touches the contour in two places, and between them metal
// stays.
package offset

import (
	"errors"
	"math"

	"kerfbook/wasm/geom"
)

// A slot as wide as the kerf counts as cut, and one narrower by less than a
// millionth too: there the reach is taken smaller by fit.
const (
	millionth = 1e-6
	fit       = 1.1e-6
)

// Result is what one reach does to a region.
type Result struct {
	Reach    float64
	Exact    bool           // false when the reach was taken smaller by a millionth
	Path     []geom.Contour // of the tool's middle, free side on the left
	Length   float64        // of the path
	Leftover float64        // area in mm² that stays
	Pockets  []Pocket       // each place where something stays
	Cut      []geom.Contour // as it comes out
}

// Pocket is a place where metal stays between two touches of the tool.
type Pocket struct {
	At    geom.Point // the deepest place on the contour
	Depth float64    // from there to the tool
	Area  float64
	Arcs  []geom.Piece // the tool's own marks that bound it
	Whole bool         // the tool does not come here at all
}

// errOpen is returned when the path could not be closed.
var errOpen = errors.New("the path could not be closed at this reach")

// Of finds the path and what is left for a region whose free side lies on the
// left of its contours. A reach at which the path does not close is tried again
// a few hundred-millionths smaller before an error is returned.
func Of(region []geom.Contour, reach float64) (*Result, error) {
	w := &work{reach: reach, asked: reach}
	w.take(region)
	home := geom.Map{A: 1, E: w.origin.X, F: w.origin.Y}
	if w.exactFit() {
		w.reach = reach * (1 - fit)
	}
	for try := 0; ; try++ {
		r, again, err := w.run()
		switch {
		case again && w.reach == reach:
			w.reach = reach * (1 - fit)
			continue
		case err != nil && try < 6:
			w.reach *= 1 - 7e-8*float64(try+1)
			continue
		}
		if r != nil {
			r.Reach, r.Exact = reach, w.reach == reach
			r.move(home)
		}
		return r, err
	}
}

// source says which piece or vertex of the contour a raw piece comes from.
type source struct {
	piece  int // index into pieces; the vertex is its end when vertex is set
	vertex bool
}

type raw struct {
	geom.Piece
	from source
	cuts []cut
	head int // node shared with the piece before; -1 for none
	tail int
}

type cut struct {
	t    float64
	node int
}

type sub struct {
	raw      int
	t0, t1   float64
	from, to int // nodes after merging
	used     bool
}

type work struct {
	reach  float64
	asked  float64
	pieces []geom.Piece // of all contours, in order
	next   []int        // the piece that follows
	whole  [][2]int     // first and last+1 piece of each contour
	box    geom.Box
	origin geom.Point // of the local coordinates
	grid   *geom.Grid
	eps    float64

	raws  []raw
	nodes []geom.Point
	alias []int
	subs  []sub
	loops [][]int
}

// move brings a result from the local origin back to the drawing's own.
func (r *Result) move(m geom.Map) {
	for _, list := range [...][]geom.Contour{r.Path, r.Cut} {
		for i := range list {
			list[i] = m.Contour(list[i])
		}
	}
	for i := range r.Pockets {
		r.Pockets[i].At = m.Point(r.Pockets[i].At)
		for k, a := range r.Pockets[i].Arcs {
			r.Pockets[i].Arcs[k] = m.Piece(a)
		}
	}
}

// take copies the region to an origin of its own: far from zero a coordinate
// keeps fewer digits of what is small.
func (w *work) take(region []geom.Contour) {
	far := geom.Nothing()
	for _, c := range region {
		b := c.Box()
		far.Take(geom.Point{X: b.X0, Y: b.Y0})
		far.Take(geom.Point{X: b.X1, Y: b.Y1})
	}
	if len(region) > 0 {
		w.origin = geom.Point{X: (far.X0 + far.X1) / 2, Y: (far.Y0 + far.Y1) / 2}
	}
	local := geom.Map{A: 1, E: -w.origin.X, F: -w.origin.Y}
	w.box = geom.Nothing()
	total := 0.0
	for _, c := range region {
		first := len(w.pieces)
		for _, p := range c {
			p = local.Piece(p)
			if p.Len() == 0 {
				continue
			}
			w.pieces = append(w.pieces, p)
			total += p.Len()
		}
		if len(w.pieces) == first {
			continue
		}
		for i := first; i < len(w.pieces); i++ {
			w.next = append(w.next, i+1)
		}
		w.next[len(w.pieces)-1] = first
		w.whole = append(w.whole, [2]int{first, len(w.pieces)})
		b := c.Box()
		w.box.Take(geom.Point{X: b.X0 - w.origin.X, Y: b.Y0 - w.origin.Y})
		w.box.Take(geom.Point{X: b.X1 - w.origin.X, Y: b.Y1 - w.origin.Y})
	}
	if len(w.pieces) == 0 {
		w.box = geom.Box{}
	}
	size := max(max(math.Abs(w.box.X0), math.Abs(w.box.X1)), max(math.Abs(w.box.Y0), math.Abs(w.box.Y1)))
	w.eps = 4e-13*(size+w.reach) + 2e-15*(math.Abs(w.origin.X)+math.Abs(w.origin.Y))
	w.grid = geom.NewGrid(w.pieces, max(total/float64(len(w.pieces)+1), w.reach/2))
}

// exactFit looks for an arc that the tool fills exactly.
func (w *work) exactFit() bool {
	for _, p := range w.pieces {
		if p.Sweep > 0 && math.Abs(p.R-w.reach) <= millionth*w.reach {
			return true
		}
	}
	return false
}

// run does the work once. again is set when two walls are exactly as far apart
// as the tool is wide.
func (w *work) run() (r *Result, again bool, err error) {
	w.raws, w.nodes, w.alias, w.subs, w.loops = nil, nil, nil, nil, nil
	w.offset()
	if w.meet() {
		return nil, true, nil
	}
	w.merge()
	w.keep()
	if !w.chain() {
		err = errOpen
	}
	return w.result(), false, err
}

// offset moves every piece to the left by the reach and rounds the vertices
// where the contour turns away from the free side.
func (w *work) offset() {
	at := make([]int, len(w.pieces)) // raw piece of each piece, -1 when it vanished
	for i, p := range w.pieces {
		at[i] = -1
		if q, ok := moved(p, w.reach); ok {
			at[i] = len(w.raws)
			w.raws = append(w.raws, raw{Piece: q, from: source{piece: i}, head: -1, tail: -1})
		}
	}
	for i, p := range w.pieces {
		j := w.next[i]
		u, v := p.Dir(1), w.pieces[j].Dir(0)
		turn, ahead := u.Cross(v), u.Dot(v)
		switch {
		case math.Abs(turn) < 1e-9 && ahead > 0: // smooth
			if at[i] >= 0 && at[j] >= 0 {
				w.join(at[i], at[j])
			}
		case turn < 0 || math.Abs(turn) < 1e-9: // outward, or a spike
			c := p.B
			a, b := c.Add(u.Left().Mul(w.reach)), c.Add(v.Left().Mul(w.reach))
			k := len(w.raws)
			w.raws = append(w.raws, raw{Piece: geom.Arc(a, b, c, false), from: source{i, true}, head: -1, tail: -1})
			if at[i] >= 0 {
				w.join(at[i], k)
			}
			if at[j] >= 0 {
				w.join(k, at[j])
			}
		}
	}
}

// moved is a piece moved to its left; an arc with the free side inside shrinks,
// and vanishes when the tool is larger.
func moved(p geom.Piece, d float64) (geom.Piece, bool) {
	if p.R == 0 {
		n := p.Dir(0).Left().Mul(d)
		return geom.Line(p.A.Add(n), p.B.Add(n)), true
	}
	r := p.R + d
	if p.Sweep > 0 {
		r = p.R - d
	}
	if r <= 1e-13*p.R {
		return p, false
	}
	return geom.About(p.C, r, p.Start, p.Sweep), true
}

func (w *work) node(p geom.Point) int {
	w.nodes = append(w.nodes, p)
	return len(w.nodes) - 1
}

// join gives the end of one raw piece and the start of the next one node.
func (w *work) join(i, j int) {
	n := w.node(w.raws[i].B)
	w.raws[i].tail, w.raws[j].head = n, n
}

// meet cuts the raw pieces where they meet. again is set when the two walls of
// something as wide as the tool fall on each other.
func (w *work) meet() (again bool) {
	pieces := make([]geom.Piece, len(w.raws))
	total := 0.0
	for i := range w.raws {
		pieces[i] = w.raws[i].Piece
		total += pieces[i].Len()
	}
	if len(pieces) == 0 {
		return false
	}
	g := geom.NewGrid(pieces, max(total/float64(len(pieces)), w.reach/4))
	boxes := make([]geom.Box, len(pieces))
	hair := 2 * millionth * w.reach
	for i, p := range pieces {
		b := p.Box()
		boxes[i] = geom.Box{X0: b.X0 - hair, Y0: b.Y0 - hair, X1: b.X1 + hair, Y1: b.Y1 + hair}
	}
	var found []geom.Crossing
	for i := range pieces {
		r := &w.raws[i]
		if r.head < 0 {
			r.head = w.node(r.A)
		}
		if r.tail < 0 {
			r.tail = w.node(r.B)
		}
		g.Near(boxes[i], func(j int) bool {
			if j <= i || !boxes[i].Meets(boxes[j]) {
				return true
			}
			if at, ok := facing(pieces[i], pieces[j], hair); ok && w.reach == w.asked && !w.grid.Closer(at, w.reach*(1-2.5*millionth)) {
				again = true
				return false
			}
			found, _ = geom.Cross(pieces[i], pieces[j], found[:0])
			joint, joined := w.joint(i, j)
			for _, c := range found {
				// Pieces joined smoothly touch at the joint, which they share already;
				// where rounding puts that touch says nothing.
				if joined && c.At.Dist(joint) < 1e-4*w.reach {
					continue
				}
				n := w.node(c.At)
				w.raws[i].cuts = append(w.raws[i].cuts, cut{c.T, n})
				w.raws[j].cuts = append(w.raws[j].cuts, cut{c.U, n})
			}
			return true
		})
	}
	return again
}

// joint is the place that two raw pieces share by construction.
func (w *work) joint(i, j int) (geom.Point, bool) {
	a, b := &w.raws[i], &w.raws[j]
	switch {
	case a.tail >= 0 && a.tail == b.head:
		return a.B, true
	case a.head >= 0 && a.head == b.tail:
		return a.A, true
	}
	return geom.Point{}, false
}

// facing finds where two pieces run along each other, within a hair, in opposite
// directions: the walls of a slot as wide as the tool, moved inward.
func facing(p, q geom.Piece, hair float64) (geom.Point, bool) {
	switch {
	case p.R == 0 && q.R == 0:
		u, v := p.Dir(0), q.Dir(0)
		if u.Dot(v) > 0 || math.Abs(u.Cross(v))*p.Len() > hair {
			return geom.Point{}, false
		}
		t0, t1 := p.Param(q.B), p.Param(q.A)
		lo, hi := max(0, t0), min(1, t1)
		if hi-lo < 1e-6 {
			return geom.Point{}, false
		}
		at := p.At((lo + hi) / 2)
		return at, q.Dist(at) <= hair
	case p.R != 0 && q.R != 0 && p.Sweep*q.Sweep < 0 && p.C.Dist(q.C)+math.Abs(p.R-q.R) <= hair:
		at := p.At(0.5)
		return at, q.Dist(at) <= hair
	}
	return geom.Point{}, false
}

// merge makes one node of those that stand in one place.
func (w *work) merge() {
	size := w.box.Wide() + 2*w.reach
	tol := 1e-10 * size
	w.alias = make([]int, len(w.nodes))
	seen := newPlaces(tol, len(w.nodes))
	for i, p := range w.nodes {
		if j, ok := seen.find(p); ok {
			w.alias[i] = j
		} else {
			w.alias[i] = i
			seen.put(p, i)
		}
	}
}

// keep takes the parts of the raw pieces that keep their distance from the whole
// contour.
func (w *work) keep() {
	var cuts []cut
	for i := range w.raws {
		r := &w.raws[i]
		cuts = append(append(cuts[:0], r.cuts...), cut{0, r.head}, cut{1, r.tail})
		for a := 1; a < len(cuts); a++ {
			for b := a; b > 0 && cuts[b].t < cuts[b-1].t; b-- {
				cuts[b], cuts[b-1] = cuts[b-1], cuts[b]
			}
		}
		length := r.Len()
		for k := 1; k < len(cuts); k++ {
			from, to := w.alias[cuts[k-1].node], w.alias[cuts[k].node]
			if from == to && (cuts[k].t-cuts[k-1].t)*length < w.reach+length/4 {
				if w.nodes[from].Dist(r.At((cuts[k-1].t+cuts[k].t)/2)) < 1e-9*(w.box.Wide()+w.reach) {
					continue
				}
			}
			m := r.At((cuts[k-1].t + cuts[k].t) / 2)
			if w.grid.Closer(m, w.reach-w.eps) {
				continue
			}
			w.subs = append(w.subs, sub{raw: i, t0: cuts[k-1].t, t1: cuts[k].t, from: from, to: to})
		}
	}
}

func (w *work) part(i int) geom.Piece {
	s := w.subs[i]
	p := w.raws[s.raw].Cut(s.t0, s.t1)
	p.A, p.B = w.nodes[s.from], w.nodes[s.to]
	return p
}

// chain makes loops of the kept parts.
func (w *work) chain() bool {
	first := make([]int32, len(w.nodes)+1) // parts in order of the node they start from
	for _, s := range w.subs {
		first[s.from+1]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	starts := make([]int32, len(w.subs))
	place := append([]int32(nil), first...)
	for i, s := range w.subs {
		starts[place[s.from]] = int32(i)
		place[s.from]++
	}
	whole := true
	for i := range w.subs {
		if w.subs[i].used {
			continue
		}
		var loop []int
		at := i
		for {
			w.subs[at].used = true
			loop = append(loop, at)
			if w.subs[at].to == w.subs[i].from {
				w.loops = append(w.loops, loop)
				break
			}
			to := w.subs[at].to
			n := w.leftmost(at, starts[first[to]:first[to+1]])
			if n < 0 {
				whole = false
				break
			}
			at = n
		}
	}
	return whole
}

// leftmost is the unused part that turns most to the left at the end of another.
func (w *work) leftmost(at int, list []int32) int {
	best, turn := -1, math.Inf(-1)
	s := w.subs[at]
	u := w.raws[s.raw].Dir(s.t1)
	if len(list) == 1 && !w.subs[list[0]].used {
		return int(list[0])
	}
	for _, j := range list {
		if w.subs[j].used {
			continue
		}
		t := w.subs[j]
		v := w.raws[t.raw].Dir(t.t0)
		if a := math.Atan2(u.Cross(v), u.Dot(v)); a > turn {
			best, turn = int(j), a
		}
	}
	return best
}
