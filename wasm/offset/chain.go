package offset

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// merge makes one node of those that stand in one place, and of those that stand
// on one piece no farther apart than a crossing may lie beyond its end. It puts
// the cuts of each piece in order, its ends among them.
func (w *work) merge() {
	size := w.box.Wide() + 2*w.reach
	tol := 1e-10 * size
	w.alias = slices.Grow(w.alias[:0], len(w.nodes))[:len(w.nodes)]
	seen := newPlaces(tol, len(w.nodes))
	for i, p := range w.nodes {
		w.alias[i] = int32(seen.findOrPut(p, i))
	}
	w.hits = slices.Grow(w.hits, 2*len(w.raws))
	for i := range w.raws {
		r := &w.raws[i]
		w.hits = append(w.hits, hit{0, int32(i), r.head}, hit{1, int32(i), r.tail})
	}
	w.cuts, w.first = inOrder(w.hits, len(w.raws), w.cuts, w.first)
	for i := range w.raws {
		cuts := w.cuts[w.first[i]:w.first[i+1]]
		for k := 1; k < len(cuts); k++ {
			if cuts[k].t-cuts[k-1].t > 2*geom.Beyond {
				continue
			}
			a, b := w.place(cuts[k-1].node), w.place(cuts[k].node)
			if a != b && w.nodes[a].Dist(w.nodes[b]) < 1e-8*size {
				w.alias[max(a, b)] = min(a, b)
			}
		}
	}
	for i := range w.alias {
		w.alias[i] = w.place(int32(i))
	}
}

// inOrder gives the cuts of each of n pieces in order of the share, and of the
// number where that is the same; those of piece i begin at first[i]. The room of
// cuts and first is used again.
func inOrder(hits []hit, n int, cuts []cut, first []int32) ([]cut, []int32) {
	first = slices.Grow(first[:0], n+1)[:n+1]
	clear(first)
	cuts = slices.Grow(cuts[:0], len(hits))[:len(hits)]
	for i := range hits {
		first[hits[i].on]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	for i := range hits {
		h := &hits[i]
		first[h.on]--
		cuts[first[h.on]] = cut{h.t, h.node}
	}
	for i := range n {
		inline(cuts[first[i]:first[i+1]])
	}
	return cuts, first
}

// inline puts the cuts of one piece in order.
func inline(cuts []cut) {
	if len(cuts) > 24 {
		slices.SortFunc(cuts, func(a, b cut) int {
			switch {
			case a.t < b.t:
				return -1
			case a.t > b.t:
				return 1
			}
			return int(a.node) - int(b.node)
		})
		return
	}
	for k := 1; k < len(cuts); k++ { // they are few
		c, i := cuts[k], k
		for ; i > 0 && (cuts[i-1].t > c.t || cuts[i-1].t == c.t && cuts[i-1].node > c.node); i-- {
			cuts[i] = cuts[i-1]
		}
		cuts[i] = c
	}
}

// place is the node that stands for another.
func (w *work) place(i int32) int32 {
	for w.alias[i] != i {
		w.alias[i] = w.alias[w.alias[i]]
		i = w.alias[i]
	}
	return i
}

// chain makes loops of the kept parts.
func (w *work) chain() *Fault {
	looked, most := 0, looks(len(w.pieces))/4
	w.loops, w.ends = slices.Grow(w.loops[:0], len(w.subs)), w.ends[:0]
	first := make([]int32, len(w.nodes)+1) // parts in order of the node they start from
	for i := range w.subs {
		w.subs[i].used = false
		first[w.subs[i].from]++
	}
	for i := 1; i < len(first); i++ {
		first[i] += first[i-1]
	}
	starts := make([]int32, len(w.subs))
	for i := len(w.subs) - 1; i >= 0; i-- {
		from := w.subs[i].from
		first[from]--
		starts[first[from]] = int32(i)
	}
	for i := range w.subs {
		if w.subs[i].used {
			continue
		}
		at := i
		for {
			w.subs[at].used = true
			w.loops = append(w.loops, int32(at))
			to := w.subs[at].to
			if to == w.subs[i].from {
				w.ends = append(w.ends, int32(len(w.loops)))
				break
			}
			if looked += int(first[to+1] - first[to]); looked > most {
				return crowded("in one point of the tool's path", w.nodes[to])
			}
			n := w.leftmost(at, starts[first[to]:first[to+1]])
			if n < 0 {
				return &Fault{open, w.nodes[to]}
			}
			at = n
		}
	}
	return nil
}

// prune drops short parts that end or begin in the air: what comes too close to
// the contour by less than the distance can be told, behind a corner of next to
// no turn.
func (w *work) prune() {
	short := 8*math.Sqrt(w.eps*w.reach) + 1e-8*(w.box.Wide()+w.reach)
	in, out := make([]int32, len(w.nodes)), make([]int32, len(w.nodes))
	for _, s := range w.subs {
		out[s.from]++
		in[s.to]++
	}
	for pass, again := 0, true; again && pass < 64; pass++ {
		again = false
		kept := w.subs[:0]
		for _, s := range w.subs {
			if (out[s.to] == 0 || in[s.from] == 0) && w.moved[s.raw].Len()*(s.t1-s.t0) < short {
				out[s.from]--
				in[s.to]--
				again = true
				continue
			}
			kept = append(kept, s)
		}
		w.subs = kept
	}
}

// leftmost is the unused part that turns most to the left at the end of another.
func (w *work) leftmost(at int, list []int32) int {
	if len(list) == 1 && !w.subs[list[0]].used {
		return int(list[0])
	}
	best, turn := -1, math.Inf(-1)
	s := &w.subs[at]
	u := w.moved[s.raw].Dir(s.t1)
	for _, j := range list {
		if w.subs[j].used {
			continue
		}
		t := &w.subs[j]
		v := w.moved[t.raw].Dir(t.t0)
		if a := math.Atan2(u.Cross(v), u.Dot(v)); a > turn {
			best, turn = int(j), a
		}
	}
	return best
}
