package drawing

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// graph holds pieces with the places that they join. A half-piece is a piece seen
// from one of its ends: twice its number, and one more from the end B.
type graph struct {
	pieces []geom.Piece
	at     []geom.Point
	node   [][2]int
	gone   []bool
	first  []int // where the half-pieces of a place begin in halves
	halves []int
}

// same is the distance in mm below which ends are one place without a word: what
// the digits of a file leave open. Far from zero it grows with the digits.
const same = 1e-6

// weld gives each end of each piece the number of its place. Ends that are the same
// share one. Of those that meet nothing then, the nearest within the tolerance are
// joined, each with one other.
func (r *reader) weld(list []geom.Piece) (*graph, error) {
	if err := r.spend(8*len(list), 0); err != nil {
		return nil, err
	}
	g := &graph{}
	large := 0.0
	for _, p := range list {
		for _, v := range [...]float64{p.A.X, p.A.Y, p.B.X, p.B.Y} {
			large = max(large, math.Abs(v))
		}
	}
	places := newPlaces(max(same, 1e-14*large))
	g.pieces, g.node, g.gone = make([]geom.Piece, 0, len(list)), make([][2]int, 0, len(list)), make([]bool, 0, len(list))
	for _, p := range list {
		a, b := places.find(p.A), places.find(p.B)
		if a != b {
			g.add(ended(p, places.at[a], places.at[b]), a, b)
			continue
		}
		if p.R == 0 || p.Len() < 4*places.reach {
			continue // shorter than the digits
		}
		far := places.find(p.At(0.5)) // an arc of a whole turn
		g.turn(p, -1, a, far, places.at)
	}
	g.at = places.at
	g.index()
	return g, r.weldLoose(g)
}

func (g *graph) add(p geom.Piece, a, b int) {
	g.pieces, g.node, g.gone = append(g.pieces, p), append(g.node, [2]int{a, b}), append(g.gone, false)
}

// turn adds an arc of a whole turn as two halves, the first in the place of piece i.
func (g *graph) turn(p geom.Piece, i, a, far int, at []geom.Point) {
	half := math.Copysign(math.Pi, p.Sweep)
	one, two := geom.About(p.C, p.R, p.Start, half), geom.About(p.C, p.R, p.Start+half, half)
	one.A, one.B, two.A, two.B = at[a], at[far], at[far], at[a]
	if i < 0 {
		g.add(one, a, far)
	} else {
		g.pieces[i], g.node[i] = one, [2]int{a, far}
	}
	g.add(two, far, a)
}

// ended is the piece with ends moved a little. An arc keeps its middle if it is long
// and its turn if it is short.
func ended(p geom.Piece, a, b geom.Point) geom.Piece {
	switch {
	case p.A == a && p.B == b:
		return p
	case p.R == 0:
		return geom.Line(a, b)
	case math.Abs(p.Sweep) > math.Pi/2:
		if c, _, ok := through(a, p.At(0.5), b); ok {
			return geom.Arc(a, b, c, p.Sweep > 0)
		}
	}
	return geom.Bulge(a, b, p.Bulge())
}

// bins finds the points near a place. A bin is four reaches wide.
type bins struct {
	reach float64
	next  []int32 // for each point the one before in the same bin, from 1
	heads map[[2]int64]int32
}

func (s *bins) bin(v float64) int64 { return int64(math.Floor(v / (4 * s.reach))) }

// put adds the next point.
func (s *bins) put(p geom.Point) {
	c := [2]int64{s.bin(p.X), s.bin(p.Y)}
	s.next = append(s.next, s.heads[c])
	s.heads[c] = int32(len(s.next))
}

// near calls fn for the points of each bin that the reach around p touches.
func (s *bins) near(p geom.Point, fn func(i int)) {
	for x := s.bin(p.X - s.reach); x <= s.bin(p.X+s.reach); x++ {
		for y := s.bin(p.Y - s.reach); y <= s.bin(p.Y+s.reach); y++ {
			for i := s.heads[[2]int64{x, y}]; i > 0; i = s.next[i-1] {
				fn(int(i - 1))
			}
		}
	}
}

// places numbers points; those within reach of one share its number. They stand
// further apart than the reach, so a bin holds few.
type places struct {
	bins
	at []geom.Point
}

func newPlaces(reach float64) *places {
	return &places{bins: bins{reach: reach, heads: map[[2]int64]int32{}}}
}

func (s *places) find(p geom.Point) int {
	best, gap := -1, s.reach
	s.near(p, func(i int) {
		if l := s.at[i].Dist(p); l < gap || l == gap && best < 0 {
			best, gap = i, l
		}
	})
	if best < 0 {
		best = len(s.at)
		s.at = append(s.at, p)
		s.put(p)
	}
	return best
}

// weldLoose joins ends that meet nothing, each with the nearest other such end, or
// with a place where an odd number meet, within the tolerance.
func (r *reader) weldLoose(g *graph) error {
	tol := r.o.Tolerance
	widest, closed := 0.0, false
	n := len(g.at)
	single, free, welded := make([]bool, n), make([]bool, n), make([]bool, n)
	var odd, loose []int // places that may take an end, and those that are one
	spots := bins{reach: tol, heads: map[[2]int64]int32{}}
	for i, n := range g.degrees() {
		if n%2 == 1 {
			free[i] = true
			odd = append(odd, i)
			spots.put(g.at[i])
			if n == 1 {
				single[i] = true
				loose = append(loose, i)
			}
		}
	}
	piece := func(i int) int { return g.touching(i)[0] / 2 } // of a loose end
	// nearest looks for the nearest place to a loose end that may take it.
	nearest := func(a int, may func(b int) bool) (best int, gap float64, err error) {
		best, gap = -1, tol*(1+1e-9)
		p, looked := g.at[a], 1
		spots.near(p, func(k int) {
			looked++
			if looked > maxSteps {
				return
			}
			if b := odd[k]; b != a && may(b) {
				if l := g.at[b].Dist(p); l < gap {
					best, gap = b, l
				}
			}
		})
		return best, gap, r.spend(looked, 0)
	}
	// own tells whether two places are the ends of one piece.
	own := func(a, b int) bool {
		n := g.node[piece(a)]
		return n == [2]int{a, b} || n == [2]int{b, a}
	}
	type pair struct {
		a, b int
		gap  float64
	}
	for len(loose) > 0 {
		var near []pair
		var gaps []float64
		for _, a := range loose {
			p := g.pieces[piece(a)]
			turns := p.R != 0 && p.Len() >= 4*tol // or the two ends of a speck
			b, gap, err := nearest(a, func(b int) bool { return free[b] && (turns || !own(a, b)) })
			if err != nil {
				return err
			}
			if b >= 0 {
				near, gaps = append(near, pair{a, b, gap}), append(gaps, gap)
			}
		}
		loose = loose[:0]
		for _, n := range byKey(gaps) {
			k := near[n]
			if !free[k.a] || !free[k.b] {
				if free[k.a] { // its nearest went to another: look again
					loose = append(loose, k.a)
				}
				continue
			}
			free[k.a], free[k.b] = false, false
			widest = max(widest, k.gap)
			i := piece(k.a)
			if own(k.a, k.b) {
				closed = true
				g.at = append(g.at, g.pieces[i].At(0.5))
				g.turn(g.pieces[i], i, g.node[i][0], len(g.at)-1, g.at)
				continue
			}
			a, b := k.a, k.b
			if single[b] { // the first stays, and an arc before a line
				arcA, arcB := g.pieces[piece(a)].R != 0, g.pieces[piece(b)].R != 0
				if arcA && !arcB || arcA == arcB && a < b {
					a, b = b, a
				}
			}
			if single[b] {
				if p, ok := corner2(g.pieces[piece(a)], g.pieces[piece(b)], g.at[a], g.at[b], tol); ok {
					g.at[b] = p
					g.move(piece(b), b, b)
				}
			}
			g.move(piece(a), a, b)
			welded[b] = true
		}
	}
	// A further end beside two that were joined meets them too.
	for a := range single {
		if !single[a] || !free[a] {
			continue
		}
		b, gap, err := nearest(a, func(b int) bool { return welded[b] && !own(a, b) })
		if err != nil {
			return err
		}
		if b >= 0 {
			widest = max(widest, gap)
			g.move(piece(a), a, b)
		}
	}
	if closed {
		r.d.note("an arc of almost a turn was closed")
	}
	if widest > same {
		r.d.note("ends up to " + micrometres(widest) + " apart were joined; the tolerance is " + micrometres(tol))
	}
	g.index()
	return nil
}

// move gives the end of a piece that stands at one place to another.
func (g *graph) move(i, from, to int) {
	n := g.node[i]
	if n[0] == from {
		n[0] = to
	} else {
		n[1] = to
	}
	g.node[i], g.pieces[i] = n, ended(g.pieces[i], g.at[n[0]], g.at[n[1]])
}

// corner2 is where two lines meet that end within the tolerance of it, so that
// neither has to lean.
func corner2(p, q geom.Piece, a, b geom.Point, tol float64) (geom.Point, bool) {
	u, v := p.Dir(0), q.Dir(0)
	sin := u.Cross(v)
	if p.R != 0 || q.R != 0 || math.Abs(sin) < 0.1 {
		return geom.Point{}, false
	}
	c := a.Add(u.Mul(b.Sub(a).Cross(v) / sin))
	return c, c.Dist(a) <= tol && c.Dist(b) <= tol
}

// index lists the half-pieces that leave each place.
func (g *graph) index() {
	g.first = make([]int, len(g.at)+1)
	for _, n := range g.node {
		g.first[n[0]+1]++
		g.first[n[1]+1]++
	}
	for i := range g.at {
		g.first[i+1] += g.first[i]
	}
	g.halves = make([]int, 2*len(g.node))
	at := slices.Clone(g.first)
	for i, n := range g.node {
		for end, place := range n {
			g.halves[at[place]] = 2*i + end
			at[place]++
		}
	}
}

func (g *graph) touching(place int) []int { return g.halves[g.first[place]:g.first[place+1]] }

// start is the place that a half-piece leaves.
func (g *graph) start(half int) int { return g.node[half/2][half%2] }

// half is the piece as it runs from that place.
func (g *graph) half(half int) geom.Piece {
	if half%2 == 1 {
		return g.pieces[half/2].Back()
	}
	return g.pieces[half/2]
}

func (g *graph) degrees() []int {
	degree := make([]int, len(g.at))
	for i, n := range g.node {
		if !g.gone[i] {
			degree[n[0]]++
			degree[n[1]]++
		}
	}
	return degree
}

// bridges finds the pieces that lie on no closed way, and for each place the number
// of the first place of its part. A walk in depth numbers the places as it meets
// them; a piece is a bridge when nothing beyond it leads back before it. Tarjan
// 1974, from memory.
func (g *graph) bridges() (bridge []bool, part []int) {
	bridge = make([]bool, len(g.pieces))
	part = make([]int, len(g.at))
	met, low, next := make([]int, len(g.at)), make([]int, len(g.at)), slices.Clone(g.first)
	count := 0
	var way []int // half-pieces that led here
	for root := range g.at {
		if met[root] > 0 {
			continue
		}
		count++
		met[root], low[root], part[root] = count, count, root
		for here := root; ; {
			if next[here] < g.first[here+1] {
				h := g.halves[next[here]]
				next[here]++
				if g.gone[h/2] || len(way) > 0 && way[len(way)-1]/2 == h/2 {
					continue
				}
				there := g.start(h ^ 1)
				if met[there] > 0 {
					low[here] = min(low[here], met[there])
					continue
				}
				count++
				met[there], low[there], part[there] = count, count, root
				way = append(way, h)
				here = there
				continue
			}
			if len(way) == 0 {
				break
			}
			h := way[len(way)-1]
			way = way[:len(way)-1]
			back := g.start(h)
			bridge[h/2] = low[here] > met[back]
			low[back] = min(low[back], low[here])
			here = back
		}
	}
	return bridge, part
}

// fans are the half-pieces about each place in the order of their directions.
type fans struct {
	used  []bool
	order []int // half-pieces, place by place, counter-clockwise
	at    []int // where each half-piece stands in order
	down  []int // for each place in order, one further clockwise that may be free
}

func (g *graph) fans() *fans {
	f := &fans{used: make([]bool, 2*len(g.pieces)), order: slices.Clone(g.halves), at: make([]int, len(g.halves)), down: make([]int, len(g.halves))}
	for i := range g.at {
		lo, hi := g.first[i], g.first[i+1]
		if hi-lo > 2 {
			f.turn(g, f.order[lo:hi])
		}
		for k := lo; k < hi; k++ {
			f.at[f.order[k]], f.down[k] = k, k
			if g.gone[f.order[k]/2] {
				f.used[f.order[k]] = true
			}
		}
	}
	return f
}

// turn puts half-pieces of a place in the order of their directions. Of those that
// leave in one direction the one that bends left is further left.
func (f *fans) turn(g *graph, halves []int) {
	was := slices.Clone(halves)
	angles, curves := make([]float64, len(was)), make([]float64, len(was))
	for k, h := range was {
		p := g.half(h)
		u := p.Dir(0)
		if angles[k] = math.Atan2(u.Y, u.X); angles[k] > math.Pi-alike {
			angles[k] -= 2 * math.Pi
		}
		if p.R != 0 {
			curves[k] = math.Copysign(1/p.R, p.Sweep)
		}
	}
	order := byKey(angles)
	for a := 0; a < len(order); {
		b := a + 1
		for b < len(order) && angles[order[b]]-angles[order[a]] < alike {
			b++
		}
		var bends []float64
		for _, k := range order[a:b] {
			bends = append(bends, curves[k])
		}
		for n, k := range byKey(bends) {
			halves[a+n] = was[order[a+k]]
		}
		a = b
	}
}

// byKey is the order in which the keys rise; equal ones keep theirs. One sort for
// all that this package sorts keeps the program small.
func byKey(keys []float64) []int {
	order, other := make([]int, len(keys)), make([]int, len(keys))
	for i := range order {
		order[i] = i
	}
	for run := 1; run < len(keys); run *= 2 { // merge runs of this length
		for lo := 0; lo < len(keys); lo += 2 * run {
			mid, hi := min(lo+run, len(keys)), min(lo+2*run, len(keys))
			a, b := lo, mid
			for k := lo; k < hi; k++ {
				if b == hi || a < mid && keys[order[a]] <= keys[order[b]] {
					other[k] = order[a]
					a++
				} else {
					other[k] = order[b]
					b++
				}
			}
		}
		order, other = other, order
	}
	return order
}

// alike is the angle in radians within which two pieces leave in one direction.
const alike = 1e-7

func (f *fans) take(half int) { f.used[half], f.used[half^1] = true, true }

// left is the free half-piece that turns most to the left for one who arrived
// along the given half-piece, seen from here; -1 when there is none. It is the next
// clockwise of it. Ways over used ones are cut short.
func (f *fans) left(arrived int, g *graph) int {
	place := g.start(arrived)
	lo, n := g.first[place], g.first[place+1]-g.first[place]
	k, steps := f.at[arrived], 0
	for f.used[f.order[k]] {
		if steps++; steps > n {
			return -1
		}
		if f.down[k] == k {
			f.down[k] = lo + (k-lo+n-1)%n
		}
		if d := f.down[k]; f.used[f.order[d]] && f.down[d] != d && f.down[d] != k { // cut the way short by half
			f.down[k] = f.down[d]
		}
		k = f.down[k]
	}
	return f.order[k]
}
