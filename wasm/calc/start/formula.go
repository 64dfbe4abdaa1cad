// Package start answers where and how wide the start hole may be: the largest
// that stays inside what roughing removes, the smallest that wire and threading
// need. It may import book, calc, figure and unit.
package start

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

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

// usual is what is wrong with a hole that nobody has measured, in mm, best and
// worst: off its place, wider over its depth, its damaged layer, and what the jet
// wants. The form has the same. Common practice, no source.
func usual(worst bool) (position, taper, layer, jet unit.Length) {
	if worst {
		return 0.1, 0.05, 0.05, 0.2
	}
	return 0.02, 0.01, 0.02, 0
}

// Least returns the smallest hole for a wire and a height, from the best to the
// worst of what is usual; the wire strays over the height and what the guide
// stands above it, led by a jet or pushed.
func Least(d, height, machine unit.Length, led bool) unit.Range {
	return Through(d, calc.StrayOver(height, led).Range, machine)
}

// Through is Least for a wire whose tip strays so far.
func Through(d unit.Length, stray unit.Range, machine unit.Length) unit.Range {
	at := func(worst bool, stray float64) float64 {
		position, taper, _, jet := usual(worst)
		return float64(Smallest(d, unit.Length(stray), position, taper, jet, machine))
	}
	low, high := at(false, stray.Low), at(true, stray.High)
	return unit.Range{Low: low, Likely: (low + high) / 2, High: high}
}

// Most returns the largest hole at a distance, from the worst to the best of what
// is usual; left is the stock for the skims.
func Most(distance unit.Length, left unit.Range) unit.Range {
	at := func(worst bool, stock float64) float64 {
		position, taper, layer, _ := usual(worst)
		return float64(Largest(distance, unit.Length(stock), position, taper+layer))
	}
	low, high := at(true, left.High), at(false, left.Low)
	return unit.Range{Low: low, Likely: (low + high) / 2, High: high}
}
