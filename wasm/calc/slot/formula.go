// Package slot answers whether a wire enters a slot: its kerf, the skims of both
// walls, what stays at the floor. It may import book, calc, figure and unit.
package slot

import (
	"math"

	"kerfbook/wasm/unit"
)

// fit is the share of the slot's width within which a kerf counts as the slot's
// own width. It is ours: far below what anybody measures.
const fit = 1e-6

// Kerf returns the width one pass leaves: d + 2 g. Kalpakjian and Schmid.
func Kerf(d, gap unit.Length) unit.Length { return d + 2*gap }

// All returns the narrowest slot in which both walls get every pass: twice the
// roughing offset, d + 2 (g + stock left).
func All(d, gap, left unit.Length) unit.Length { return d + 2*(gap+left) }

// Fits reports whether a kerf goes into a width; the same width counts.
func Fits(kerf, width unit.Length) bool { return kerf <= width*(1+fit) }

// Floor returns the area in mm² that a wire of reach r leaves uncut in the two
// corners of a square floor of a slot at least 2 r wide: 2 r² (1 - π/4).
func Floor(r unit.Length) unit.Area { return unit.Area(2 * float64(r*r) * (1 - math.Pi/4)) }

// Dip returns how far a reach r enters the sharp mouth of a slot narrower than
// 2 r: r - √(r² - w²/4).
func Dip(r, w unit.Length) unit.Length {
	return r - unit.Length(math.Sqrt(float64(r*r)-float64(w*w)/4))
}

// Uncut returns the area in mm² left in a slot narrower than 2 r, of a depth:
// w D less the part of the disc that enters the mouth.
func Uncut(r, w, depth unit.Length) unit.Area {
	R, W := float64(r), float64(w)
	return unit.Area(W*float64(depth) - (R*R*math.Asin(W/(2*R)) - W/2*math.Sqrt(R*R-W*W/4)))
}
