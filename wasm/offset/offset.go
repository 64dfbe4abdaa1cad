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
	return New(region).Of(reach, Everything)
}

// Of is told at the function of this name.
func (g *Region) Of(reach float64, want Want) (*Result, error) {
	w := g.ready(reach)
	w.want = want
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
		r.move(w.origin)
		return r, nil
	}
}

const open = "the path could not be closed at this reach"

// raw is where a raw piece comes from and the nodes of its ends.
type raw struct {
	piece      int32 // index into pieces; the vertex is its end when vertex is set
	head, tail int32 // nodes shared with the pieces before and after; -1 for none
	vertex     bool
}

type cut struct {
	t    float64
	node int32
}

// hit is a cut with the number of what it cuts.
type hit struct {
	t        float64
	on, node int32
}

type sub struct {
	t0, t1   float64
	raw      int32
	from, to int32 // nodes after merging
	used     bool
}

// work is one offset on its way: the pieces of the contours, their raw offsets, where
// these meet, and the loops that are kept.
type work struct {
	reach  float64
	asked  float64
	want   Want
	pieces []geom.Piece // of all contours, in order
	next   []int32      // the piece that follows
	whole  [][2]int     // first and last+1 piece of each contour
	box    geom.Box
	origin geom.Point // of the local coordinates
	grid   *geom.Grid
	mean   float64 // length of a piece
	eps    float64

	moved []geom.Piece // the raw pieces
	raws  []raw        // and what is known of each
	nodes []geom.Point
	alias []int32
	hits  []hit
	cuts  []cut   // of the raw pieces, in order
	first []int32 // where those of each begin
	subs  []sub
	loops []int32 // parts, loop by loop
	ends  []int32 // where each loop ends in loops
	boxes []geom.Box
	found []geom.Crossing
	spare int  // looks for where raw pieces meet
	fits  bool // look for what is just as wide as the tool
}

// move brings a result from the local origin back to the drawing's own.
func (r *Result) move(by geom.Point) {
	for _, list := range [...][]geom.Contour{r.Path, r.Cut} {
		for _, c := range list {
			geom.Shift(c, by)
		}
	}
	for i := range r.Pockets {
		k := &r.Pockets[i]
		k.At = k.At.Add(by)
		geom.Shift(k.Arcs, by)
	}
}

// take copies the region to an origin of its own: far from zero a coordinate
// keeps fewer digits of what is small.
func (w *work) take(region []geom.Contour, reach float64) {
	w.asked = reach
	far, n := geom.Nothing(), 0
	boxes := make([]geom.Box, len(region))
	for i, c := range region {
		boxes[i] = c.Box()
		far.TakeBox(&boxes[i])
		n += len(c)
	}
	if len(region) > 0 {
		w.origin = geom.Point{X: (far.X0 + far.X1) / 2, Y: (far.Y0 + far.Y1) / 2}
	}
	w.box = geom.Nothing()
	total := 0.0
	w.pieces, w.next, w.whole = make([]geom.Piece, 0, n), make([]int32, 0, n), make([][2]int, 0, len(region))
	for k, c := range region {
		first := len(w.pieces)
		w.pieces = append(w.pieces, c...)
		geom.Shift(w.pieces[first:], geom.Point{X: -w.origin.X, Y: -w.origin.Y})
		w.pieces = w.pieces[:first+len(w.weld(w.pieces[first:]))]
		for i := first; i < len(w.pieces); i++ {
			total += w.pieces[i].Len()
			w.next = append(w.next, int32(i+1))
		}
		if len(w.pieces) == first {
			continue
		}
		w.next[len(w.pieces)-1] = int32(first)
		w.whole = append(w.whole, [2]int{first, len(w.pieces)})
		b := &boxes[k]
		w.box.Take(geom.Point{X: b.X0 - w.origin.X, Y: b.Y0 - w.origin.Y})
		w.box.Take(geom.Point{X: b.X1 - w.origin.X, Y: b.Y1 - w.origin.Y})
	}
	if len(w.pieces) == 0 {
		w.box = geom.Box{}
	}
	w.mean = total / float64(len(w.pieces)+1)
	w.tool(reach)
	w.grid = geom.NewGrid(w.pieces, w.cellFor(reach))
}

// tool sets the reach that is asked for.
func (w *work) tool(reach float64) {
	w.reach, w.asked = reach, reach
	size := max(max(math.Abs(w.box.X0), math.Abs(w.box.X1)), max(math.Abs(w.box.Y0), math.Abs(w.box.Y1)))
	w.eps = 4e-13*(size+w.reach) + 2e-15*(math.Abs(w.origin.X)+math.Abs(w.origin.Y))
}

// cellFor is the size of the grid's cells that suits a reach.
func (w *work) cellFor(reach float64) float64 { return max(w.mean, reach/2) }

// shortest is the length of the shortest piece that is kept.
func shortest(reach float64) float64 { return min(drawn, 1e-3*reach) }

// weld drops pieces of a contour that are shorter than anyone draws: they have no
// direction to go by. The piece that follows begins where the one before ends.
func (w *work) weld(c []geom.Piece) []geom.Piece {
	short := shortest(w.asked)
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
	w.moved, w.raws, w.nodes, w.hits, w.subs = w.moved[:0], w.raws[:0], w.nodes[:0], w.hits[:0], w.subs[:0]
	w.loops, w.ends = w.loops[:0], w.ends[:0]
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

// mostRoom is the number of pieces up to which the room for the work is kept from
// one reach to the next. Where there are more it is given back as soon as it has
// served: a drawing may have a hundred thousand pieces, and none of it is small then.
const mostRoom = 20_000

// spend gives back the room of what has served, once the path is found.
func (w *work) spend() {
	if len(w.pieces) > mostRoom {
		w.moved, w.raws, w.nodes, w.alias, w.hits, w.subs, w.loops, w.ends = nil, nil, nil, nil, nil, nil, nil, nil
	}
}

// offset moves every piece to the left by the reach and rounds the vertices
// where the contour turns away from the free side.
func (w *work) offset() {
	corners := 0
	for i := range w.pieces {
		if u, v := w.pieces[i].Dir(1), w.pieces[w.next[i]].Dir(0); u.Cross(v) < 1e-9 {
			corners++
		}
	}
	w.moved, w.raws = slices.Grow(w.moved, len(w.pieces)+corners), slices.Grow(w.raws, len(w.pieces)+corners)
	w.nodes = slices.Grow(w.nodes, 3*len(w.pieces))
	at := make([]int32, len(w.pieces)) // raw piece of each piece, -1 when it vanished
	for i := range w.pieces {
		at[i] = -1
		if q, ok := moved(&w.pieces[i], w.reach); ok {
			at[i] = w.put(q, raw{piece: int32(i)})
		}
	}
	for i := range w.pieces {
		j := w.next[i]
		u, v := w.pieces[i].Dir(1), w.pieces[j].Dir(0)
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
			c := w.pieces[i].B
			a, b := c.Add(u.Left().Mul(w.reach)), c.Add(v.Left().Mul(w.reach))
			k := w.put(geom.Arc(a, b, c, false), raw{piece: int32(i), vertex: true})
			if at[i] >= 0 {
				w.join(at[i], k)
			}
			if at[j] >= 0 {
				w.join(k, at[j])
			}
		}
	}
}

// put adds a raw piece.
func (w *work) put(p geom.Piece, r raw) int32 {
	r.head, r.tail = -1, -1
	w.moved, w.raws = append(w.moved, p), append(w.raws, r)
	return int32(len(w.raws) - 1)
}

// hairTurn is the turn of an inside corner, in rad, below which where the two
// moved pieces cross cannot be computed but is known: half the turn back on each.
const hairTurn = 1e-6

// mitre shortens two raw pieces by the same and joins them.
func (w *work) mitre(i, j int32, by float64) {
	p, q := &w.moved[i], &w.moved[j]
	lp, lq := p.Len(), q.Len()
	if 4*by > min(lp, lq) {
		return // crossing them must do
	}
	*p, *q = p.Cut(0, 1-by/lp), q.Cut(by/lq, 1)
	w.join(i, j)
}

// moved is a piece moved to its left; an arc with the free side inside shrinks,
// and vanishes when the tool is larger.
func moved(p *geom.Piece, d float64) (geom.Piece, bool) {
	if p.R == 0 {
		n := p.Dir(0).Left().Mul(d)
		return geom.Line(p.A.Add(n), p.B.Add(n)), true
	}
	r := p.R + d
	if p.Sweep > 0 {
		r = p.R - d
	}
	if r <= 1e-13*p.R {
		return *p, false
	}
	return geom.About(p.C, r, p.Start, p.Sweep), true
}

func (w *work) node(p geom.Point) int32 {
	w.nodes = append(w.nodes, p)
	return int32(len(w.nodes) - 1)
}

// join gives the end of one raw piece and the start of the next one node.
func (w *work) join(i, j int32) {
	n := w.node(w.moved[i].B)
	w.raws[i].tail, w.raws[j].head = n, n
}

// meet cuts the raw pieces where they meet. Where walls are just as far apart as the
// tool is wide, half is half of that, else 0.
func (w *work) meet() (half float64, fault *Fault) {
	pieces := w.moved
	total := 0.0
	for i := range pieces {
		total += pieces[i].Len()
	}
	if len(pieces) == 0 {
		return 0, nil
	}
	g := geom.NewGrid(pieces, max(total/float64(len(pieces)), w.reach/4))
	g.Bound(w.spare)
	most := cutsAtLeast + cutsPerPiece*len(pieces)
	w.boxes = append(w.boxes[:0], g.Boxes()...)
	boxes := w.boxes
	w.hits = slices.Grow(w.hits, 2*len(pieces))
	hair := w.slack() + w.margin()
	for i := range boxes {
		b := &boxes[i]
		b.X0, b.Y0, b.X1, b.Y1 = b.X0-hair, b.Y0-hair, b.X1+hair, b.Y1+hair
	}
	for i := range pieces {
		r, b := &w.raws[i], &boxes[i]
		if r.head < 0 {
			r.head = w.node(pieces[i].A)
		}
		if r.tail < 0 {
			r.tail = w.node(pieces[i].B)
		}
		g.Near(*b, func(j int) bool {
			if j <= i {
				return true
			}
			if o := &boxes[j]; b.X0 > o.X1 || o.X0 > b.X1 || b.Y0 > o.Y1 || o.Y0 > b.Y1 {
				return true
			}
			if w.fits {
				if h, ok := w.tight(&pieces[i], &pieces[j]); ok && (half == 0 || h < half) {
					half = h
				}
				if half > 0 {
					return true // this run is for nothing but the narrowest
				}
			}
			if w.found, _ = geom.Cross(&pieces[i], &pieces[j], w.found[:0]); len(w.found) == 0 {
				return true
			}
			joint, joined := w.joint(i, j)
			for k := range w.found {
				c := &w.found[k]
				// Pieces joined smoothly touch at the joint, which they share already;
				// where rounding puts that touch says nothing.
				if joined && c.At.Dist(joint) < 1e-4*w.reach {
					continue
				}
				n := w.node(c.At)
				w.hits = append(w.hits, hit{c.T, int32(i), n}, hit{c.U, int32(j), n})
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
	if len(pieces) > mostRoom {
		w.boxes = nil
	}
	return half, nil
}

// joint is the place that two raw pieces share by construction.
func (w *work) joint(i, j int) (geom.Point, bool) {
	a, b := &w.raws[i], &w.raws[j]
	switch {
	case a.tail >= 0 && a.tail == b.head:
		return w.moved[i].B, true
	case a.head >= 0 && a.head == b.tail:
		return w.moved[i].A, true
	}
	return geom.Point{}, false
}

// keep takes the parts of the raw pieces that keep their distance from the whole
// contour.
func (w *work) keep() {
	w.subs = slices.Grow(w.subs, len(w.raws))
	near := 1e-8 * (w.box.Wide() + w.reach)
	for i := range w.raws {
		p := &w.moved[i]
		cuts := w.cuts[w.first[i]:w.first[i+1]]
		length := p.Len()
		for k := 1; k < len(cuts); k++ {
			from, to := w.alias[cuts[k-1].node], w.alias[cuts[k].node]
			m := p.At((cuts[k-1].t + cuts[k].t) / 2)
			if from == to && (cuts[k].t-cuts[k-1].t)*length < w.reach+length/4 && w.nodes[from].Dist(m) < near {
				continue
			}
			if w.grid.Closer(m, w.reach-w.eps) {
				continue
			}
			w.subs = append(w.subs, sub{raw: int32(i), t0: cuts[k-1].t, t1: cuts[k].t, from: from, to: to})
		}
	}
}

func (w *work) part(i int32) geom.Piece {
	s := &w.subs[i]
	p := w.moved[s.raw].Cut(s.t0, s.t1)
	p.A, p.B = w.nodes[s.from], w.nodes[s.to]
	return p
}
