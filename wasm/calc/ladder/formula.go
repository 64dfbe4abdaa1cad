// Package ladder answers which offset each pass needs, and what the offsets of a
// control take off: the pass plan, forwards and backwards. It may import book,
// calc, figure and unit.
package ladder

import (
	"math"

	"kerfbook/wasm/unit"
)

// Offset returns the distance from the contour to the middle of the wire for a
// pass: half the wire, its gap, and the stock still to leave. Plane geometry;
// the kerf in it is that of Kalpakjian & Schmid (place not seen).
func Offset(d, gap, left unit.Length) unit.Length { return d/2 + gap + left }

// Leaves returns the stock a pass leaves on each side: the inverse of Offset.
func Leaves(offset, d, gap unit.Length) unit.Length { return offset - d/2 - gap }

// Takes returns what a pass takes off the wall: the step between the surface
// before it and the surface it leaves.
func Takes(offsetBefore, gapBefore, offset, gap unit.Length) unit.Length {
	return (offsetBefore - gapBefore) - (offset - gap)
}

// CornerStock returns what a skim meets on the bisector of a sharp inside
// corner, where both paths are mitred: (O1 - O2)/sin(θ/2) - (g1 - g2).
func CornerStock(offsetBefore, gapBefore, offset, gap unit.Length, angle unit.Angle) unit.Length {
	return unit.Length(float64(offsetBefore-offset)/math.Sin(float64(angle)*math.Pi/360)) - (gapBefore - gap)
}

// Surface returns how far the wall that a pass leaves is from the vertex on the
// bisector. Where the contour's radius is below the offset the path has a sharp
// corner: O/sin(θ/2) - (d/2 + g). Else the surface is round about the contour's
// own centre: ρ/sin(θ/2) - ρ + stock left.
func Surface(offset, wire, gap, left, radius unit.Length, angle unit.Angle) unit.Length {
	s := unit.Length(math.Sin(float64(angle) * math.Pi / 360))
	if radius < offset {
		return offset/s - (wire/2 + gap)
	}
	return radius/s - radius + left
}
