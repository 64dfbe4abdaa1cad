// Package clearance answers the gap between punch and die, the offsets that cut
// both from one contour, the blanking force, and punch and die from one slot. It
// may import book, calc, figure and unit.
package clearance

import (
	"math"

	"kerfbook/wasm/unit"
)

// Side returns the clearance on each side: allowance times the sheet's
// thickness. Groover, §20.1.
func Side(allowance unit.Percent, sheet unit.Length) unit.Length {
	return sheet * unit.Length(allowance) / 100
}

// Punch returns the size of the punch for a part of a size: the part's own in
// piercing, less a clearance on each side in blanking. Groover, §20.1.
func Punch(size, c unit.Length, blanking bool) unit.Length {
	if blanking {
		return size - 2*c
	}
	return size
}

// Die returns the size of the die: the part's own in blanking, with a clearance on
// each side in piercing. Groover, §20.1.
func Die(size, c unit.Length, blanking bool) unit.Length {
	if blanking {
		return size
	}
	return size + 2*c
}

// Force returns the blanking force in N: shear strength times thickness times
// cut length. Groover, §20.1.
func Force(shear unit.Stress, sheet, length unit.Length) unit.Force {
	return unit.Force(float64(shear) * float64(sheet) * float64(length))
}

// Tilt returns the angle by which the wire leans so that the slug of one slot
// fits its own die: tan φ = (b - c) / T, b the kerf taken level, T the plate's
// thickness. Geometry, our own derivation.
func Tilt(kerf, c, plate unit.Length) unit.Angle {
	return unit.Angle(math.Atan(float64(kerf-c)/float64(plate)) * 180 / math.Pi)
}

// Grown returns how much wider an opening with relief is after grinding: 2 g tan φ.
func Grown(grind unit.Length, relief unit.Angle) unit.Length {
	return 2 * grind * unit.Length(math.Tan(float64(relief)*math.Pi/180))
}
