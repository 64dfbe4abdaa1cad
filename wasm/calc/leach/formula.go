// Package leach answers how deep a wall of cemented carbide can lose its cobalt
// binder, from a charge, a soak, or the dwell of one pass: an upper bound that
// says so. It may import book, calc, figure and unit.
package leach

import "kerfbook/wasm/unit"

// Constants of the method. Faraday's constant in C/mol is exact in the SI since
// 2019. The equivalent weight of cobalt, valence 2, is 58.933/2 = 29.47 g/mol
// (ASTM G102, from memory). Densities in g/cm³ are those of the mixture rule.
const (
	faraday       = 96485.33212
	cobaltWeight  = 29.4666
	carbideDense  = 15.63
	cobaltDense   = 8.90
	secondsPerDay = 86400
)

// Density returns the density of WC-Co with a cobalt share in mass: 1/ρ is the
// sum of the shares over their densities.
func Density(cobalt unit.Percent) unit.Density {
	w := float64(cobalt) / 100
	return unit.Density(1 / (w/cobaltDense + (1-w)/carbideDense))
}

// Depth returns how deep a charge on a unit of wall empties the binder if all of
// it dissolves cobalt and nothing else: x = q E / (F w ρ). Faraday's law.
func Depth(q unit.ChargeDensity, cobalt unit.Percent) unit.Length {
	w := float64(cobalt) / 100
	return unit.Length(float64(q) * cobaltWeight / (faraday * w * float64(Density(cobalt))) * 10)
}

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
	const k1 = 1e-6 * 365.25 * secondsPerDay * 10 / faraday
	return k1 * i * ew / float64(density)
}

// MassLossRate returns the mass a metal loses in g/(m² d): K2 i EW (ASTM G102
// prints 8.954e-3, from memory).
func MassLossRate(i, ew float64) float64 {
	const k2 = 1e-6 * 1e4 * secondsPerDay / faraday
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
	return unit.CurrentDensity(mass * faraday / (cobaltWeight * area * seconds))
}
