// Package leach answers how deep a wall of cemented carbide can lose its cobalt
// binder, from a charge, a soak, or the dwell of one pass: an upper bound that
// says so. It may import book, calc, figure, laws and unit.
package leach

import (
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

const secondsPerDay = 86400

// Dwell returns how long a point of the wall stands in the spark zone.
func Dwell(zone unit.Length, feed unit.Speed) unit.Time {
	return unit.Time(float64(zone) / float64(feed) * 60)
}

// Charge is a current density for a time.
func Charge(j unit.CurrentDensity, t unit.Time) unit.ChargeDensity {
	return unit.ChargeDensity(float64(j) * float64(t))
}

// PenetrationRate returns how fast a pure metal goes back in mm a year: K1 i
// EW/ρ with K1 built from Faraday's constant (ASTM G102 prints 3.27e-3
// mm g/(µA cm yr), from memory). ew in g/mol, i in µA/cm².
func PenetrationRate(i, ew float64, density unit.Density) float64 {
	const k1 = 1e-6 * 365.25 * secondsPerDay * 10 / laws.Faraday
	return k1 * i * ew / float64(density)
}

// MassLossRate returns the mass a metal loses in g/(m² d): K2 i EW (ASTM G102
// prints 8.954e-3, from memory).
func MassLossRate(i, ew float64) float64 {
	const k2 = 1e-6 * 1e4 * secondsPerDay / laws.Faraday
	return k2 * i * ew
}

// Part is one element of an alloy: mass share, valence, atomic weight.
type Part struct{ Share, Valence, Weight float64 }

// EquivalentWeight returns that of an alloy: 1 / Σ(n f / W). ASTM G102, from memory.
func EquivalentWeight(parts []Part) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Valence * p.Share / p.Weight
	}
	return 1 / sum
}

// Corrosion returns the current density that dissolves a mass of cobalt from an
// area in a time: i = m F / (E A t). Mass in g, area in cm², time in s.
func Corrosion(mass, area, seconds float64) unit.CurrentDensity {
	return unit.CurrentDensity(mass * laws.Faraday / (laws.CobaltWeight * area * seconds))
}
