// Package start answers where and how wide the start hole may be: the largest
// that stays inside what roughing removes, the smallest that wire and threading
// need. It may import book, calc, figure and unit.
package start

import "kerfbook/wasm/unit"

// Largest returns the widest hole whose wall, with all that may be wrong with
// it, stays outside the stock that the skims take: 2 (distance - stock -
// position error - taper and damaged layer). distance runs from the contour to
// the hole's centre.
func Largest(distance, stock, position, wall unit.Length) unit.Length {
	return 2 * (distance - stock - position - wall)
}

// Smallest returns the narrowest hole through which the wire comes without
// touching, with the machine's own smallest as a floor: d + 2 (straightness +
// position error + taper) + what the threading jet wants.
func Smallest(d, straight, position, taper, jet, machine unit.Length) unit.Length {
	return max(d+2*(straight+position+taper)+jet, machine)
}
