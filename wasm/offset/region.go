package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// Want is how much of a Result is worked out.
type Want int

// A path alone is a good deal less work than what it leaves, and that is less than
// the contour as it comes out.
const (
	Paths Want = iota
	Leaves
	Everything
)

// Region is a region that is asked at several reaches: what is the same for all is
// worked out once, and the room for the work is taken once. It answers one question
// at a time.
type Region struct {
	region []geom.Contour
	w      *work
	cell   float64 // wanted of the grid that w has
	short  float64 // below which w has no pieces
}

// New takes a region whose free side lies on the left of its contours.
func New(region []geom.Contour) *Region { return &Region{region: region} }

// ready is the work for a reach.
func (g *Region) ready(reach float64) *work {
	w := g.w
	if short := shortest(reach); w == nil || short != g.short {
		w = &work{}
		w.take(g.region, reach)
		g.w, g.short, g.cell = w, short, w.cellFor(reach)
		return w
	}
	w.tool(reach)
	if cell := w.cellFor(reach); cell > 1.5*g.cell || g.cell > 1.5*cell {
		w.grid, g.cell = geom.NewGrid(w.pieces, cell), cell
	}
	return w
}

// Nested orients contours so that the free side lies on the left, and tells how
// deep each lies in the others. With opening set, the outermost contours bound
// free space; else they bound the part, and the outside is free. Contours at odd
// depth are the other way round: islands, or openings in the part. The error is a
// Fault.
func Nested(contours []geom.Contour, opening bool) (region []geom.Contour, depth []int, err error) {
	depth = make([]int, len(contours))
	var all []geom.Piece
	var of []int32 // the contour of each piece
	total, n := 0.0, 0
	for _, c := range contours {
		n += len(c)
	}
	all, of = make([]geom.Piece, 0, n), make([]int32, 0, n)
	region = make([]geom.Contour, 0, len(contours))
	for i, c := range contours {
		for k, p := range c {
			p.B = c[(k+1)%len(c)].A // to the bit: a ray may pass there
			all, of = append(all, p), append(of, int32(i))
			total += p.Len()
		}
	}
	g := geom.NewGrid(all, total/float64(len(all)+1))
	g.Bound(looks(len(all)))
	wound := make([]int, len(contours)) // about the place asked for
	var passed []int32
	for i, c := range contours {
		if len(c) == 0 {
			continue
		}
		area := c.Area()
		q := within(c, area)
		passed = passed[:0]
		g.Ray(q, func(k int) {
			if n := all[k].Passes(q); n != 0 && of[k] != int32(i) {
				wound[of[k]] += n
				passed = append(passed, of[k])
			}
		})
		for _, j := range passed {
			if wound[j] != 0 {
				depth[i]++
				wound[j] = 0
			}
		}
		free := (depth[i]%2 == 0) == opening // free space is inside this one
		if (area > 0) != free {
			c = c.Back()
		}
		region = append(region, c)
	}
	if at, spent := g.Spent(); spent {
		return nil, nil, crowded("on one level, so that what lies in what cannot be told", at)
	}
	return region, depth, nil
}

// within is a place just inside a contour, by the piece that rises or falls most:
// contours that share a side lie beside each other or one in the other, and the
// ray from there meets few of the level sides that drawings are full of.
func within(c geom.Contour, area float64) geom.Point {
	best, high := 0, -1.0
	for i := range c {
		p := &c[i]
		if h := math.Abs(p.B.Y-p.A.Y) + math.Abs(p.Sweep)*p.R/8; h > high*(1+1e-9) {
			best, high = i, h
		}
	}
	const share = 0.4142 // of the piece: no round one
	p := &c[best]
	n := p.Dir(share).Left().Mul(1e-6 * p.Len())
	if area < 0 {
		n = n.Mul(-1)
	}
	return p.At(share).Add(n)
}
