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

// Pivot returns the length over which tension straightens a stiff wire that leaves
// a clamping guide, λ = √(E I / T) with I = π d⁴ / 64. EI y″″ = T y″ with a clamped
// end has y = s (z - λ (1 - e^(-z/λ))): the straight part, drawn back, meets the
// guide's axis at z = λ, nearer to the part. Mechanics of a beam under tension.
func Pivot(young unit.Stress, d unit.Length, tension unit.Force) unit.Length {
	i := math.Pi * math.Pow(float64(d), 4) / 64
	return unit.Length(math.Sqrt(float64(young) * i / float64(tension)))
}

// Clamped returns the angle of the wire's straight part where both guides clamp it
// and are shifted for τ over the span: tan τ' = S tan τ / (S - 2 λ tanh(S / 2λ)).
// tanh is 1 unless the span is only a few λ. Mechanics.
func Clamped(tau unit.Angle, span, pivot unit.Length) unit.Angle {
	s, l := float64(span), float64(pivot)
	return unit.Angle(math.Atan(s*math.Tan(rad(tau))/(s-2*l*math.Tanh(s/(2*l)))) * 180 / math.Pi)
}

// Springs returns the angle up to which the wire springs back at a clamping guide.
// The moment there is T λ tan τ, its stress 2 tan τ √(E T/A), on top of T/A; both
// together reach the strength. Mechanics of a round rod.
func Springs(young, strength unit.Stress, d unit.Length, tension unit.Force) unit.Angle {
	pull := float64(tension) / (math.Pi / 4 * float64(d*d))
	return unit.Angle(math.Atan(max(0, float64(strength)-pull)/(2*math.Sqrt(float64(young)*pull))) * 180 / math.Pi)
}

// cardFree is how far the two guides stand off together where a card's points are
// given: 5 mm each way.
const cardFree unit.Length = 10

// Card is what the two points of a machine card show: how far its guides lean, and
// the travel of each point over its height and cardFree.
type Card struct {
	lean       unit.Angle
	flat, tall unit.Length // heights
	low, high  unit.Length // travel at the flat and at the tall height
}

// CardOf reads a card's angles and heights.
func CardOf(flatLean, tallLean unit.Angle, flat, tall unit.Length) Card {
	return Card{max(flatLean, tallLean), flat, tall, Shift(flat+cardFree, flatLean), Shift(tall+cardFree, tallLean)}
}

// at returns the steepest taper at a height with the guides standing off by free
// together, U = (height + free) tan τ: most with the travel taken between those of
// the two points, sure with the smaller one where the part is taller than the flat
// one. Neither leans more than the guides do.
func (c Card) at(height, free unit.Length) (sure, most unit.Angle) {
	travel, least := c.low, c.low
	if height > c.flat {
		t := unit.Length(1)
		if height < c.tall {
			t = (height - c.flat) / (c.tall - c.flat)
		}
		travel, least = c.low+(c.high-c.low)*t, min(c.low, c.high)
	}
	span := height + free
	most = min(c.lean, Limit(travel, span))
	return min(most, Limit(least, span)), most
}

// Limit returns the steepest taper that a guide travel allows over a span:
// arctan(travel / span).
func Limit(travel, span unit.Length) unit.Angle {
	return unit.Angle(math.Atan(float64(travel/span)) * 180 / math.Pi)
}
