// Package water answers what a reading of the dielectric's conductivity means:
// resistivity, temperature, what pure and open water read, and the leakage
// current it allows. It may import book, calc, figure and unit.
package water

import "kerfbook/wasm/unit"

// At25 returns the conductivity at 25 °C of tank water read at t °C without
// compensation: κ25 = κ / (1 + 0.02 (t - 25)). The coefficient is that of water
// with salts, 1.9 to 2.1 % per kelvin: ISO 7888, from memory.
func At25(k unit.Conductivity, t unit.Temperature, perKelvin float64) unit.Conductivity {
	return unit.Conductivity(float64(k) / (1 + perKelvin*float64(t-25)))
}

// Leak returns the leakage current density between the sparks as an upper
// bound, j = κ V / g: no overpotential, no bubbles, no film. κ in µS/cm is
// 1e-6 S/cm, g in mm is 0.1 cm.
func Leak(k unit.Conductivity, v unit.Voltage, gap unit.Length) unit.CurrentDensity {
	return unit.CurrentDensity(float64(k) * 1e-6 * float64(v) / (float64(gap) * 0.1))
}

// Salt returns the sodium chloride in mg/L that would read the same: about
// 2.1 µS/cm for each mg/L. From the fall of the resistivity of pure water with
// 1 µg/L of salt, 18.18 to 17.5 MΩ·cm (Light 2005).
func Salt(k unit.Conductivity) float64 { return float64(k) / 2.1 }

// Flash classes of a flammable liquid by its flash point in °C.

// GHS returns the category in the globally harmonised system, 0 for none: up to
// 60 is 3, above 60 to 93 is 4. Liquids below 23 are 2 or 1 by boiling point.
func GHS(flash unit.Temperature) int {
	switch {
	case flash < 23:
		return 2
	case flash <= 60:
		return 3
	case flash <= 93:
		return 4
	}
	return 0
}

// CLP returns the category in the European regulation, which takes over 1 to 3
// only.
func CLP(flash unit.Temperature) int {
	if c := GHS(flash); c <= 3 {
		return c
	}
	return 0
}
