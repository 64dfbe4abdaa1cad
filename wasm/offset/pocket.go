package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// pocket is a place in the making: its bounds, by their numbers.
type pocket struct {
	Pocket
	members []int32
}

// grouped numbers the bounds by the place that they hang together in.
func (w *work) grouped(bounds []geom.Piece) (group []int32, groups int) {
	group = make([]int32, len(bounds))
	for i := range group {
		group[i] = int32(i)
	}
	find := func(i int32) int32 {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	ends := newPlaces(1e-8*(w.box.Wide()+w.reach), len(bounds)) // each is one of two pieces
	for i := range bounds {
		for _, e := range [...]geom.Point{bounds[i].A, bounds[i].B} {
			if j := ends.findOrPut(e, i); j != i {
				group[find(int32(i))] = find(int32(j))
			}
		}
	}
	for i := range group {
		group[i] = find(int32(i))
	}
	at := make([]int32, len(bounds)) // the place of a group, from 1
	for i, k := range group {
		if at[k] == 0 {
			groups++
			at[k] = int32(groups)
		}
		group[i] = at[k] - 1
	}
	return group, groups
}

// pockets groups what bounds the metal that stays into places.
func (w *work) pockets(bounds []geom.Piece, stays int, of []int32, arcs []geom.Piece) ([]Pocket, *Fault) {
	group, n := w.grouped(bounds)
	all := make([]pocket, n)
	first, marked := make([]int32, 2*n), 0
	count := first[n:] // of marks
	for i, k := range group {
		if first[k]++; i >= stays {
			count[k]++
			marked++
		}
	}
	members, marks := make([]int32, len(bounds)), make([]geom.Piece, marked)
	for k := range all {
		m, a := first[k], count[k]
		all[k].members, members = members[:0:m], members[m:]
		all[k].Arcs, marks = marks[:0:a], marks[a:]
	}
	for i, k := range group {
		q := &all[k]
		if len(q.members) == 0 {
			q.At, q.Whole = bounds[i].A, true
		}
		q.members = append(q.members, int32(i))
		if i >= stays {
			q.Arcs = append(q.Arcs, arcs[of[i-stays]])
			q.Whole = false
		}
	}
	left := all[:0]
	islands := false
	for i := range all {
		k := &all[i]
		long := 0.0
		for _, i := range k.members {
			long += bounds[i].Len()
			k.Area += geom.Area(bounds[i:i+1], k.At)
		}
		// A sliver of the contour between two touches that are too near to have a mark
		// between them is no place.
		if k.Whole && long < 1e-4*w.reach {
			continue
		}
		k.deepest(bounds, stays)
		islands = islands || k.Whole && k.Area <= 0
		left = append(left, *k)
	}
	if islands {
		var fault *Fault
		if left, fault = w.islands(left, bounds); fault != nil {
			return nil, fault
		}
	}
	out := make([]Pocket, len(left))
	for i := range left {
		out[i] = left[i].Pocket
		if len(out[i].Arcs) == 0 {
			out[i].Arcs = nil
		}
	}
	return out, nil
}

// islands puts each island that nothing touches into the pocket it lies in: it is
// a hole in the metal round it.
func (w *work) islands(all []pocket, bounds []geom.Piece) ([]pocket, *Fault) {
	of := make([]int32, len(bounds)) // -1 for none
	for i := range of {
		of[i] = -1
	}
	areas := make([]float64, len(all))
	most := 0
	for n := range all {
		k := &all[n]
		areas[n] = k.Area
		most = max(most, len(k.members))
		for _, i := range k.members {
			of[i] = int32(n)
		}
	}
	g := geom.NewGrid(bounds, w.reach)
	g.Bound(looks(len(w.pieces)))
	wound := make([]int32, len(all))
	var passed []int32
	c := make(geom.Contour, 0, most)
	kept := all[:0:0]
	for n := range all {
		k := &all[n]
		if !k.Whole || areas[n] > 0 {
			continue
		}
		c = c[:0]
		for _, i := range k.members {
			c = append(c, bounds[i])
		}
		q := within(c, areas[n])
		passed = passed[:0]
		g.Ray(q, func(i int) {
			if by := bounds[i].Passes(q); by != 0 && of[i] >= 0 && int(of[i]) != n {
				wound[of[i]] += int32(by)
				passed = append(passed, of[i])
			}
		})
		in := int32(-1)
		for _, j := range passed {
			if wound[j] > 0 && (in < 0 || areas[j] < areas[in]) {
				in = j
			}
			wound[j] = 0
		}
		if in >= 0 {
			all[in].Area += areas[n]
			all[n].members = nil
		}
	}
	if at, spent := g.Spent(); spent {
		return nil, crowded("on one level, so that what lies in what cannot be told", at)
	}
	for n := range all {
		if all[n].members != nil {
			kept = append(kept, all[n])
		}
	}
	return kept, nil
}

// deepest finds the place of the contour in a pocket that is farthest from the tool.
func (k *pocket) deepest(bounds []geom.Piece, stays int) {
	if len(k.Arcs) == 0 {
		return
	}
	depth := func(q geom.Point) float64 {
		best := math.Inf(1)
		for i := range k.Arcs {
			if d := q.Dist(k.Arcs[i].C) - k.Arcs[i].R; d < best {
				best = d
			}
		}
		return max(0, best)
	}
	if r := k.Arcs[0].R; len(k.Arcs) > 24 {
		// All marks are of one tool: the nearest middle decides, and a grid finds it.
		centres, b := make([]geom.Piece, len(k.Arcs)), geom.Nothing()
		for i, a := range k.Arcs {
			centres[i] = geom.Line(a.C, a.C)
			b.Take(a.C)
		}
		for _, i := range k.members {
			b.Take(bounds[i].A)
		}
		g, far := geom.NewGrid(centres, r), 4*b.Wide()+4*r
		depth = func(q geom.Point) float64 {
			d, _ := g.Distance(q, far)
			return max(0, d-r)
		}
	}
	for _, i := range k.members {
		if int(i) >= stays {
			continue
		}
		if d, q := deepest(&bounds[i], len(k.Arcs), k.Arcs[0].R, k.Depth, depth); d > k.Depth {
			k.Depth, k.At = d, q
		}
	}
}

// deepest is the place of a piece of the contour that is farthest from the tool,
// when it is deeper than known. Along a line the distance from one mark bends one
// way only, so that its ends decide; between several marks, and along an arc, the
// middle may. No place is deeper than half of its ends' depths and the length.
func deepest(p *geom.Piece, marks int, r, known float64, depth func(q geom.Point) float64) (float64, geom.Point) {
	at := func(t float64) float64 { return depth(p.At(t)) }
	best, where := at(0), 0.0
	end := at(1)
	if most := (best + end + p.Len()) / 2; most <= known {
		return best, p.A
	}
	if end > best {
		best, where = end, 1
	}
	steps := 1
	if p.R != 0 || marks > 1 {
		steps = 8
	}
	if marks > 1 && p.Len() > r {
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
