// Package thread answers whether a wire stands, can be pushed and finds its way
// through a hole or a slot: self-weight buckling, Euler's load, curl against
// clearance. It may import book, calc, figure and unit.
package thread

import (
	"math"

	"kerfbook/wasm/unit"
)

// gravity is the standard acceleration of free fall in m/s², a definition.
const gravity = 9.80665

// greenhill is the first zero of the Bessel function J-1/3, squared and times
// 9/4: a column fixed at its foot buckles under its own weight at
// ρ g A l³ = 7.8373 E I. Greenhill 1881.
const greenhill = 7.8373

// Stands returns the length in mm up to which a wire, held at its foot, stands
// upright: (7.8373 E I / (ρ g A))^(1/3). I/A of a round section is d²/16; MPa is
// N/mm², and 1 g/cm³ is 1e-6 kg/mm³.
func Stands(e unit.Stress, density unit.Density, d unit.Length) unit.Length {
	weight := float64(density) * 1e-6 * gravity // N/mm³
	return unit.Length(math.Cbrt(greenhill * float64(e) * float64(d*d) / 16 / weight))
}

// Push returns the force in N at which a wire between two holds a free length
// apart buckles: π² E I / (K l)², I = π d⁴ / 64. K is 1 for ends that turn, 0.699
// for one held, 0.5 for both held, 2 for a free end. Euler.
func Push(e unit.Stress, d, free unit.Length, k float64) unit.Force {
	i := math.Pi * math.Pow(float64(d), 4) / 64
	return unit.Force(math.Pi * math.Pi * float64(e) * i / math.Pow(k*float64(free), 2))
}
