package offset

import (
	"kerfbook/wasm/geom"
)

// Nested orients contours so that the free side lies on the left, and tells how
// deep each lies in the others. With opening set, the outermost contours bound
// free space; else they bound the part, and the outside is free. Contours at odd
// depth are the other way round: islands, or openings in the part.
func Nested(contours []geom.Contour, opening bool) (region []geom.Contour, depth []int) {
	depth = make([]int, len(contours))
	boxes := make([]geom.Box, len(contours))
	for i, c := range contours {
		boxes[i] = c.Box()
	}
	for i, c := range contours {
		if len(c) == 0 {
			continue
		}
		p := c[0].At(0.5)
		for j, d := range contours {
			b := boxes[j]
			if i != j && p.X >= b.X0 && p.X <= b.X1 && p.Y >= b.Y0 && p.Y <= b.Y1 && d.Inside(p) {
				depth[i]++
			}
		}
		free := (depth[i]%2 == 0) == opening // free space is inside this one
		if (c.Area() > 0) != free {
			c = c.Back()
		}
		region = append(region, c)
	}
	return region, depth
}
