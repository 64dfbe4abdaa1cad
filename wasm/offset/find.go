package offset

import (
	"math"
	"slices"

	"kerfbook/wasm/geom"
)

// Spot is a place of the contour that decides something.
type Spot struct {
	At    geom.Point
	Value float64 // mm, or degrees for an angle
	To    geom.Point
	Long  float64 // for a wall or fin: how far it runs, mm
}

// Finds is what a region says about the tool it wants.
type Finds struct {
	Radii   []Spot  // inside radii, smallest first
	Angles  []Spot  // included angles of sharp inside corners, smallest first
	Necks   []Spot  // local widths of the free side, narrowest first
	Walls   []Spot  // local thicknesses of the metal, thinnest first
	Slender Spot    // the straight wall that is longest for its thickness
	Within  float64 // the width up to which necks and walls were looked for
	Wide    []Spot  // widest round places of the free side, for starting
}

// Find looks a region over, its free side on the left. limit is the width up to
// which necks and walls are looked for; it is taken smaller, which Within tells,
// where pieces lie so close that there is too much to look at. tip is the depth in
// mm below which what a tool of that radius leaves in a corner is no corner.
func Find(region []geom.Contour, limit, radius, tip float64) Finds {
	w := &work{}
	w.take(unsplit(region), radius)
	var f Finds
	for i := range w.pieces {
		p := &w.pieces[i]
		if p.Sweep > 0 {
			f.Radii = append(f.Radii, Spot{At: p.At(0.5), Value: p.R, To: p.C})
		}
		u, v := p.Dir(1), w.pieces[w.next[i]].Dir(0)
		if turn := math.Atan2(u.Cross(v), u.Dot(v)); turn > 0 {
			angle := math.Pi - turn
			if angle < math.Pi-1e-9 && radius*(1/math.Sin(angle/2)-1) > tip {
				f.Angles = append(f.Angles, Spot{At: p.B, Value: angle * 180 / math.Pi})
			}
		}
	}
	f.Within = limit
	for try := 0; ; try++ {
		if try == 2 {
			f.Within = 0
			break
		}
		w.grid.Bound(2e7 + 600*len(w.pieces))
		necks, walls := necks(w, f.Within, 1), necks(w, f.Within, -1)
		if _, spent := w.grid.Spent(); !spent {
			f.Necks, f.Walls, f.Slender = necks.list, walls.list, walls.slender
			break
		}
		f.Within /= 8
	}
	for _, list := range [...][]Spot{f.Radii, f.Angles, f.Necks, f.Walls, {f.Slender}} {
		for i := range list {
			list[i].At, list[i].To = list[i].At.Add(w.origin), list[i].To.Add(w.origin)
		}
		narrowestFirst(list)
	}
	return f
}

// narrowestFirst sorts by the value and, where it is the same but for rounding, by
// the run, longest first; else in the order found.
func narrowestFirst(list []Spot) {
	same := func(v float64) float64 { return math.Round(v * 1e8) }
	slices.SortStableFunc(list, func(a, b Spot) int {
		x, y := same(a.Value), same(b.Value)
		if x == y {
			x, y = same(b.Long), same(a.Long)
		}
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
}

// unsplit makes one piece of straight pieces that follow each other in line and
// of arcs of one circle, up to half a turn: a side drawn in parts is one side.
func unsplit(region []geom.Contour) []geom.Contour {
	out := make([]geom.Contour, 0, len(region))
	for _, c := range region {
		// It begins at a corner, which is within no side, or where it turns most.
		start, most := 0, -2.0
		for i, p := range c {
			turn := -c[(i+len(c)-1)%len(c)].Dir(1).Dot(p.Dir(0))
			if turn > most {
				start, most = i, turn
			}
			if most > -0.999 {
				break
			}
		}
		var d geom.Contour
		var low, high float64 // the directions, from the line's first, that miss no end
		for k := range c {
			p := c[(start+k)%len(c)]
			if len(d) == 0 {
				d, low, high = append(d, p), -math.Pi, math.Pi
				continue
			}
			last := &d[len(d)-1]
			switch {
			case last.R == 0 && p.R == 0:
				u, v := last.B.Sub(last.A), p.B.Sub(last.A)
				a, l := math.Atan2(u.Cross(v), u.Dot(v)), u.Len()
				// The first of a run sets the axis; each end seen so far is to lie by the line.
				lo, hi := max(low, -drawn/max(l, drawn)), min(high, drawn/max(l, drawn))
				if a >= lo && a <= hi && u.Dot(p.Dir(0)) > 0 {
					*last, low, high = geom.Line(last.A, p.B), lo-a, hi-a
					continue
				}
			case last.R != 0 && p.R != 0 && last.Sweep*p.Sweep > 0 && math.Abs(last.Sweep+p.Sweep) < math.Pi+1e-6:
				q := geom.Bulge(last.A, p.B, math.Tan((last.Sweep+p.Sweep)/4))
				if math.Abs(q.R-p.R) < 0.01*p.R && q.Dist(p.A) < drawn && q.Dist(p.At(0.5)) < drawn && q.Dist(last.At(0.5)) < drawn {
					*last = q
					continue
				}
			}
			d, low, high = append(d, p), -math.Pi, math.Pi
		}
		out = append(out, d)
	}
	return out
}
