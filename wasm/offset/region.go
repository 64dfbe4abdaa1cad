package offset

import (
	"math"

	"kerfbook/wasm/geom"
)

// Nested orients contours so that the free side lies on the left, and tells how
// deep each lies in the others. With opening set, the outermost contours bound
// free space; else they bound the part, and the outside is free. Contours at odd
// depth are the other way round: islands, or openings in the part. The error is a
// Fault.
func Nested(contours []geom.Contour, opening bool) (region []geom.Contour, depth []int, err error) {
	depth = make([]int, len(contours))
	var all []geom.Piece
	var of []int32 // the contour of each piece
	total := 0.0
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
	for i, p := range c {
		if h := math.Abs(p.B.Y-p.A.Y) + math.Abs(p.Sweep)*p.R/8; h > high*(1+1e-9) {
			best, high = i, h
		}
	}
	const share = 0.4142 // of the piece: no round one
	p := c[best]
	n := p.Dir(share).Left().Mul(1e-6 * p.Len())
	if area < 0 {
		n = n.Mul(-1)
	}
	return p.At(share).Add(n)
}
