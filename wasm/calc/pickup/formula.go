// Package pickup answers how far the form may stand off its datum: the touch, the
// half wire, the lean, the axes and the warmth against the tolerance. It may
// import book, calc, figure and unit.
package pickup

import (
	"math"

	"kerfbook/wasm/unit"
)

// Here returns how far the wire leans over a part of a height, from what a block
// has shown. If the angle stays, it goes with the height; if the offset of the
// guides stays, with the height over the span, guide to guide. Geometry.
func Here(shown, block, part, outside unit.Length, offset bool) unit.Length {
	if offset {
		return shown * (block + outside) / block * part / (part + outside)
	}
	return shown * part / block
}

// Share returns what an error gives to the place found. An edge takes it in
// full; in a hole touched from both sides what sits on one side enters by half.
// Geometry: the middle is (x1 + x2) / 2.
func Share(e unit.Length, hole bool) unit.Length {
	if hole {
		return e / 2
	}
	return e
}

// Warm returns how much longer the part is than its scales say, both away from
// 20 °C: L (αw (Tw - 20) - αs (Ts - 20)); α in millionths a kelvin. The
// temperature without error is that of ISO 1.
func Warm(l unit.Length, work, scale unit.Ratio, tw, ts unit.Temperature) unit.Length {
	return l * unit.Length(float64(work)*float64(tw-20)-float64(scale)*float64(ts-20)) / 1e6
}

// Root returns the root of the sum of squares: how errors that know nothing of
// each other add up. Of limits it is a shop's estimate, and no uncertainty.
func Root(e ...unit.Length) unit.Length {
	sum := 0.0
	for _, v := range e {
		sum += float64(v) * float64(v)
	}
	return unit.Length(math.Sqrt(sum))
}
