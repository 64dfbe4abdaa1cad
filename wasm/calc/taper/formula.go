// Package taper answers what a leaning wire leaves: the shift of the guides, the
// radii at both faces, the true tilt in a corner, the limit of the span. It may
// import book, calc, figure and unit. All relations are plane and solid
// geometry, our own derivation.
package taper

import (
	"math"

	"kerfbook/wasm/unit"
)

func rad(a unit.Angle) float64 { return float64(a) * math.Pi / 180 }

// Shift returns how far a wall leans over a height: H tan τ.
func Shift(height unit.Length, tau unit.Angle) unit.Length {
	return height * unit.Length(math.Tan(rad(tau)))
}

// Level returns the half width of the wire and its gap, measured level at right
// angles to the path: R / cos τ. The section of a leaning cylinder is an ellipse.
func Level(r unit.Length, tau unit.Angle) unit.Length {
	return r / unit.Length(math.Cos(rad(tau)))
}

// True returns the tilt of the wire where two tapered walls meet in a sharp
// corner of the included angle θ: tan τc = tan τ / sin(θ/2).
func True(tau, theta unit.Angle) unit.Angle {
	return unit.Angle(math.Atan(math.Tan(rad(tau))/math.Sin(rad(theta)/2)) * 180 / math.Pi)
}

// Gouge returns the factor K: a conical corner is not gouged while the radius at
// its smaller face is at least R K, with δ = 180° - θ:
// K = (√(1 - sin²τ sin²δ) - cos δ) / ((1 - cos δ) cos τ).
func Gouge(tau, theta unit.Angle) unit.Ratio {
	d := math.Pi - rad(theta)
	s := math.Sin(rad(tau)) * math.Sin(d)
	return unit.Ratio((math.Sqrt(1-s*s) - math.Cos(d)) / ((1 - math.Cos(d)) * math.Cos(rad(tau))))
}

// Centre returns how far the centre of a constant-radius corner moves along the
// bisector over the height: H tan τ / sin(θ/2).
func Centre(height unit.Length, tau, theta unit.Angle) unit.Length {
	return Shift(height, tau) / unit.Length(math.Sin(rad(theta)/2))
}

// Limit returns the steepest taper that a guide travel allows over a span:
// arctan(travel / span).
func Limit(travel, span unit.Length) unit.Angle {
	return unit.Angle(math.Atan(float64(travel/span)) * 180 / math.Pi)
}
