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

// Half returns half the width of a reach r at a height above its lowest point: the
// room it takes at the mouth of a slot that deep while it stands on the floor.
// √(2 r D - D²), and r where the slot is deeper than r.
func Half(r, depth unit.Length) unit.Length {
	if depth >= r {
		return r
	}
	return unit.Length(math.Sqrt(float64(depth * (2*r - depth))))
}

// Floor returns the area in mm² that a wire of reach r leaves uncut in the two
// corners of a square floor that it stands on, in a slot of a depth: with c half its
// width at the mouth, c (r + D) - r² arcsin(c / r). From D = r on it is 2 r² (1 - π/4).
func Floor(r, depth unit.Length) unit.Area {
	c, d := float64(Half(r, depth)), float64(min(r, depth))
	return unit.Area(c*(float64(r)+d) - float64(r*r)*math.Asin(min(1, c/float64(r))))
}

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
