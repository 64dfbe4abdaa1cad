// Package inspect answers whether ball, pin, lens or stylus can read a slot, an
// inside corner or a face, and how much of the tolerance the reading spends. It
// may import book, calc, figure, laws and unit.
package inspect

import (
	"math"

	"kerfbook/wasm/unit"
)

func sine(theta unit.Angle) unit.Length {
	return unit.Length(math.Sin(float64(theta) * math.Pi / 360))
}

// Stand returns how far a ball or pin of radius r that touches both walls of a
// corner stands off the floor of its fillet R: (r - R) (1 / sin(θ/2) - 1), 0 at
// least. Geometry.
func Stand(r, fillet unit.Length, theta unit.Angle) unit.Length {
	return max(0, (r-fillet)*(1/sine(theta)-1))
}

// Blind returns the length of each wall, from the sharp corner on, that a radius
// does not touch: r / tan(θ/2). Geometry.
func Blind(r unit.Length, theta unit.Angle) unit.Length {
	return r / unit.Length(math.Tan(float64(theta)*math.Pi/360))
}

// Contact returns how far a ball's centre travels while it touches the fillet:
// (R - r) (π - θ). Geometry.
func Contact(r, fillet unit.Length, theta unit.Angle) unit.Length {
	return max(0, fillet-r) * unit.Length(math.Pi*(1-float64(theta)/180))
}

// Radius returns the error of a fillet's radius read from three points, its ends
// and its middle, each off by u: at worst u (1 + s) / (1 - s), and by root-sum
// u √(1/2 + s²) / (1 - s), s = sin(θ/2). Our own derivation.
func Radius(u unit.Length, theta unit.Angle) (worst, sum unit.Length) {
	s := sine(theta)
	return u * (1 + s) / (1 - s), u * unit.Length(math.Sqrt(float64(0.5+s*s))) / (1 - s)
}

// Light returns the difference of radius at which a pin laid into a corner shows
// a gap of that width: gap / (1 / sin(θ/2) - 1). It undoes Stand.
func Light(gap unit.Length, theta unit.Angle) unit.Length {
	s := sine(theta)
	return gap * s / (1 - s)
}

// Count returns how many cut-offs fit into a length after one for the run-up. The
// run-up of one cut-off is common practice.
func Count(length, cutoff unit.Length) float64 {
	return max(0, math.Floor(float64(length/cutoff)-1+1e-9))
}
