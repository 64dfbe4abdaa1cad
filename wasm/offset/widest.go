package offset

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// Widest finds round places of the free side, each no less wide than any near it,
// widest first: at most n for each contour that bounds free space from outside.
// It halves squares round the places that can still hold a wider one. whole is
// false when so many pieces stand about that the search was ended before its time.
func Widest(region []geom.Contour, n int) (out []Spot, whole bool) {
	w := &work{}
	w.take(region, 0)
	w.grid.Bound(looks(len(w.pieces)))
	for _, span := range w.whole {
		c := geom.Contour(w.pieces[span[0]:span[1]])
		if c.Area() <= 0 {
			continue
		}
		at, r := w.widest(c)
		if r > 0 {
			out = append(out, Spot{At: at.Add(w.origin), Value: r})
		}
		if len(out) >= n {
			break
		}
	}
	_, spent := w.grid.Spent()
	return out, !spent
}

type square struct {
	at      geom.Point
	half    float64
	r, most float64
}

// widest is the middle and radius of the largest round within one contour of the
// region and clear of all others.
func (w *work) widest(c geom.Contour) (geom.Point, float64) {
	b := c.Box()
	size := b.Wide()
	measure := func(p geom.Point, half float64) square {
		d, i := w.grid.Distance(p, 4*size+1)
		if i < 0 || !w.free(p, i) {
			d = -d
		}
		return square{p, half, d, d + half*math.Sqrt2}
	}
	best := square{r: -1}
	var list []square
	const across = 12
	for i := range across {
		for j := range across {
			list = append(list, measure(geom.Point{X: b.X0 + (float64(i)+0.5)*size/across, Y: b.Y0 + (float64(j)+0.5)*size/across}, size/across/2))
		}
	}
	// A slot is equally wide all along its middle: the search is not to follow it
	// to the last digit, so it stops at a share of the size or a count of squares.
	tol := 2e-4 * size
	const most = 3000
	for looked := 0; len(list) > 0 && looked < most; {
		for _, s := range list {
			if s.r > best.r {
				best = s
			}
		}
		var next []square
		for _, s := range list {
			if s.most <= best.r+tol || looked >= most {
				continue
			}
			h := s.half / 2
			for _, d := range [...]geom.Point{{X: -h, Y: -h}, {X: h, Y: -h}, {X: -h, Y: h}, {X: h, Y: h}} {
				next = append(next, measure(s.at.Add(d), h))
				looked++
			}
		}
		list = next
	}
	// From there uphill, by shorter and shorter steps.
	for step := best.half; step > 1e-9*size && best.r > 0; step /= 2 {
		for range 4 {
			moved := false
			for _, d := range [...]geom.Point{{X: step}, {X: -step}, {Y: step}, {Y: -step}, {X: step, Y: step}, {X: -step, Y: -step}, {X: step, Y: -step}, {X: -step, Y: step}} {
				if q := measure(best.at.Add(d), best.half); q.r > best.r {
					best, moved = q, true
				}
			}
			if !moved {
				break
			}
		}
	}
	return best.at, best.r
}

// free reports whether a place lies on the free side, by the piece nearest to it:
// on its left, or, nearest to a vertex, as the two pieces there say together.
func (w *work) free(p geom.Point, i int) bool {
	t := w.pieces[i].Nearest(p)
	if t > 0 && t < 1 {
		return w.pieces[i].Dir(t).Cross(p.Sub(w.pieces[i].At(t))) > 0
	}
	if t == 0 {
		i = w.before(i)
	}
	v := w.pieces[i].B
	u, o := w.pieces[i].Dir(1), w.pieces[w.next[i]].Dir(0)
	left, right := u.Cross(p.Sub(v)) > 0, o.Cross(p.Sub(v)) > 0
	if u.Cross(o) > 0 { // an inside corner
		return left && right
	}
	return left || right
}

// before is the piece that ends where another begins.
func (w *work) before(i int) int {
	n, _ := slices.BinarySearchFunc(w.whole, i, func(c [2]int, i int) int { return c[1] - i - 1 })
	if c := w.whole[n]; i == c[0] {
		return c[1] - 1
	}
	return i - 1
}
