// Package corner answers which wire cuts an inside corner: the radius a wire
// and its spark gap leave, what stays uncut at a vertex, and whether the
// roughing pass with its stock still fits. It may import book, calc, figure
// and unit.
package corner

import (
	"math"

	"kerfbook/wasm/unit"
)

// Left returns the inside radius a wire of diameter d leaves with a side gap g:
// wire and gap are the tool, and a tool cuts no tighter than itself.
// Source: kerf b = d + 2 s, Kalpakjian & Schmid, wire EDM text (place not seen), halved.
func Left(d, g unit.Length) unit.Length { return d/2 + g }

// Roughing returns the smallest inside radius at which the roughing pass keeps
// the same stock on walls and corner: wire half plus rough gap plus stock left.
// It is that pass's offset; a smaller programmed radius leaves a sharp corner
// in the path of the wire's centre. Plane geometry of parallel curves.
func Roughing(d, gap, left unit.Length) unit.Length { return d/2 + gap + left }

// GapLimit returns the widest gap with which a wire still reaches a radius;
// zero or negative means the wire cannot.
func GapLimit(r, d unit.Length) unit.Length { return r - d/2 }

// EvenWire returns the largest wire that keeps even roughing stock in radius r.
func EvenWire(r, gap, left unit.Length) unit.Length { return 2 * (r - gap - left) }

// UncutDistance returns how far the wall stays from the theoretical vertex of
// two straight walls, measured on the bisector: R (1/sin(θ/2) - 1), θ the angle
// of the opening. Plane geometry of a circle tangent to two lines.
func UncutDistance(r unit.Length, angle unit.Angle) unit.Length {
	return unit.Length(float64(r) * (1/math.Sin(half(angle)) - 1))
}

// UncutArea returns the area left between the vertex and the arc:
// R² (cot(θ/2) - (π-θ)/2), which is R² inv((180°-θ)/2) with the involute
// function inv β = tan β - β of the gear standards.
func UncutArea(r unit.Length, angle unit.Angle) unit.Area {
	h := half(angle)
	return unit.Area(float64(r) * float64(r) * (1/math.Tan(h) - (math.Pi/2 - h)))
}

// UncutLength returns how much of each wall ends before the vertex: R cot(θ/2).
func UncutLength(r unit.Length, angle unit.Angle) unit.Length {
	return unit.Length(float64(r) / math.Tan(half(angle)))
}

// Ask returns the largest tool radius that stays within distance t of a sharp
// vertex: the inverse of UncutDistance.
func Ask(t unit.Length, angle unit.Angle) unit.Length {
	return unit.Length(float64(t) / (1/math.Sin(half(angle)) - 1))
}

// Punch returns the outside corner radius of a punch that keeps the clearance c
// round a die corner of radius r: concentric arcs. Zero when the clearance is
// the larger: a sharp corner then has more room than asked for, never less.
func Punch(r, c unit.Length) unit.Length { return max(0, r-c) }

func half(angle unit.Angle) float64 { return float64(angle) * math.Pi / 360 }
