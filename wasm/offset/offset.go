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
	"math"
	"slices"

	"kerfbook/wasm/geom"
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

// Of finds the path and what is left for a region whose free side lies on the
// left of its contours. Where something is just as wide as the tool the reach is
// taken a little smaller, and so it is where the path does not close, before that
// is said. The error is a Fault.
func Of(region []geom.Contour, reach float64) (*Result, error) {
	w := &work{reach: reach, asked: reach}
	w.take(region)
	w.spare = looks(len(w.pieces))
	w.grid.Bound(w.spare)
	home := geom.Map{A: 1, E: w.origin.X, F: w.origin.Y}
	for try := 0; ; try++ {
		w.fits = try < 8
		r, half, fault := w.run()
		if at, spent := w.grid.Spent(); spent {
			fault = crowded("within the tool's reach of one place", at)
		} else if half > 0 { // a fit
			w.reach = min(w.reach, half) - w.margin()
			continue
		} else if fault != nil && fault.Text == open && try < 12 {
			w.reach -= w.margin() * (0.1 + 0.07*float64(try))
			continue
		}
		if fault != nil {
			fault.At = home.Point(fault.At)
			return nil, fault
		}
		r.Reach, r.Exact = reach, w.reach == reach
		r.move(home)
		return r, nil
	}
}

const open = "the path could not be closed at this reach"

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

// work is one offset on its way: the pieces of the contours, their raw offsets, where
// these meet, and the loops that are kept.
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
	spare int  // looks for where raw pieces meet
	fits  bool // look for what is just as wide as the tool
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
	total, n := 0.0, 0
	for _, c := range region {
		n += len(c)
	}
	w.pieces, w.next = make([]geom.Piece, 0, n), make([]int, 0, n)
	for _, c := range region {
		first := len(w.pieces)
		for _, p := range c {
			w.pieces = append(w.pieces, local.Piece(p))
		}
		w.pieces = append(w.pieces[:first], w.weld(w.pieces[first:])...)
		for _, p := range w.pieces[first:] {
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

// weld drops pieces of a contour that are shorter than anyone draws: they have no
// direction to go by. The piece that follows begins where the one before ends.
func (w *work) weld(c []geom.Piece) []geom.Piece {
	short := min(drawn, 1e-3*w.asked)
	out := c[:0]
	moved := false
	var from geom.Point
	for _, p := range c {
		if !moved {
			from = p.A
		}
		if l := p.Len(); l == 0 || l < short && from.Dist(p.B) < short {
			moved = true
			continue
		}
		if moved && from != p.A {
			p = geom.Bulge(from, p.B, p.Bulge())
		}
		out, moved = append(out, p), false
	}
	if moved && len(out) > 0 { // the last ones: the end goes back to the start
		p := &out[len(out)-1]
		*p = geom.Bulge(p.A, out[0].A, p.Bulge())
	}
	return out
}

// run does the work once. Without a result and a fault, something is just as wide
// as the tool: half is half that width.
func (w *work) run() (r *Result, half float64, fault *Fault) {
	w.raws, w.nodes, w.alias, w.subs, w.loops = w.raws[:0], w.nodes[:0], nil, w.subs[:0], w.loops[:0]
	if w.fits {
		if half, ok := w.tightArc(); ok {
			return nil, half, nil
		}
	}
	w.offset()
	half, fault = w.meet()
	if half > 0 || fault != nil {
		return nil, half, fault
	}
	w.merge()
	w.keep()
	fault = w.chain()
	if fault != nil && fault.Text == open {
		// Stubs that stand out behind a corner of next to no turn lead nowhere.
		w.prune()
		fault = w.chain()
	}
	if fault == nil {
		r, fault = w.result()
	}
	return r, 0, fault
}

// offset moves every piece to the left by the reach and rounds the vertices
// where the contour turns away from the free side.
func (w *work) offset() {
	w.raws = slices.Grow(w.raws, 2*len(w.pieces))
	w.nodes = slices.Grow(w.nodes, 4*len(w.pieces))
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
		case turn > 0 && turn < hairTurn && ahead > 0:
			if at[i] >= 0 && at[j] >= 0 {
				w.mitre(at[i], at[j], w.reach*turn/2)
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

// hairTurn is the turn of an inside corner, in rad, below which where the two
// moved pieces cross cannot be computed but is known: half the turn back on each.
const hairTurn = 1e-6

// mitre shortens two raw pieces by the same and joins them.
func (w *work) mitre(i, j int, by float64) {
	p, q := &w.raws[i], &w.raws[j]
	lp, lq := p.Len(), q.Len()
	if 4*by > min(lp, lq) {
		return // crossing them must do
	}
	p.Piece, q.Piece = p.Cut(0, 1-by/lp), q.Cut(by/lq, 1)
	w.join(i, j)
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

// meet cuts the raw pieces where they meet. Where walls are just as far apart as the
// tool is wide, half is half of that, else 0.
func (w *work) meet() (half float64, fault *Fault) {
	pieces := make([]geom.Piece, len(w.raws))
	total := 0.0
	for i := range w.raws {
		pieces[i] = w.raws[i].Piece
		total += pieces[i].Len()
	}
	if len(pieces) == 0 {
		return 0, nil
	}
	g := geom.NewGrid(pieces, max(total/float64(len(pieces)), w.reach/4))
	g.Bound(w.spare)
	most := cutsAtLeast + cutsPerPiece*len(pieces)
	boxes := make([]geom.Box, len(pieces))
	hair := w.slack() + w.margin()
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
			if w.fits {
				if h, ok := w.tight(pieces[i], pieces[j]); ok && (half == 0 || h < half) {
					half = h
				}
				if half > 0 {
					return true // this run is for nothing but the narrowest
				}
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
		at, spent := g.Spent()
		if len(w.nodes) > 2*len(pieces)+most {
			at, spent = pieces[i].At(0.5), true
		}
		if spent {
			return 0, crowded("within the tool's reach of one place", at)
		}
	}
	w.spare = g.Left() // of all tries together
	return half, nil
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

// keep takes the parts of the raw pieces that keep their distance from the whole
// contour.
func (w *work) keep() {
	for i := range w.raws {
		r := &w.raws[i]
		cuts := r.cuts
		length := r.Len()
		for k := 1; k < len(cuts); k++ {
			from, to := w.alias[cuts[k-1].node], w.alias[cuts[k].node]
			if from == to && (cuts[k].t-cuts[k-1].t)*length < w.reach+length/4 {
				if w.nodes[from].Dist(r.At((cuts[k-1].t+cuts[k].t)/2)) < 1e-8*(w.box.Wide()+w.reach) {
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
