package offset

import (
	"cmp"
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
	for i := range w.raws {
		r := &w.raws[i]
		r.cuts = append(r.cuts, cut{0, r.head}, cut{1, r.tail})
		slices.SortFunc(r.cuts, func(a, b cut) int { return cmp.Compare(a.t, b.t) })
		for k := 1; k < len(r.cuts); k++ {
			if r.cuts[k].t-r.cuts[k-1].t > 2*geom.Beyond {
				continue
			}
			a, b := w.place(r.cuts[k-1].node), w.place(r.cuts[k].node)
			if a != b && w.nodes[a].Dist(w.nodes[b]) < 1e-8*size {
				w.alias[max(a, b)] = min(a, b)
			}
		}
	}
	for i := range w.alias {
		w.alias[i] = w.place(i)
	}
}

// place is the node that stands for another.
func (w *work) place(i int) int {
	for w.alias[i] != i {
		w.alias[i] = w.alias[w.alias[i]]
		i = w.alias[i]
	}
	return i
}

// chain makes loops of the kept parts.
func (w *work) chain() *Fault {
	looked, most := 0, looks(len(w.pieces))/4
	w.loops = w.loops[:0]
	first := make([]int32, len(w.nodes)+1) // parts in order of the node they start from
	for i, s := range w.subs {
		w.subs[i].used = false
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
			if (out[s.to] == 0 || in[s.from] == 0) && w.raws[s.raw].Len()*(s.t1-s.t0) < short {
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
