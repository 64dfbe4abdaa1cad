// Package laws holds the formulas of physics and of measuring that several topics
// use, so that no topic imports another for them. It may import book and unit.
package laws

import "kerfbook/wasm/unit"

// Faraday's constant in C/mol, exact in the SI since 2019. The equivalent weight of
// cobalt, valence 2, is 58.933/2 = 29.47 g/mol (ASTM G102, from memory). Densities in
// g/cm³ are those of the mixture rule.
const (
	Faraday      = 96485.33212
	CobaltWeight = 29.4666
	CarbideDense = 15.63
	CobaltDense  = 8.90
)

// CarbideDensity returns the density of WC-Co with a cobalt share in mass: 1/ρ is the
// sum of the shares over their densities.
func CarbideDensity(cobalt unit.Percent) unit.Density {
	w := float64(cobalt) / 100
	return unit.Density(1 / (w/CobaltDense + (1-w)/CarbideDense))
}

// CobaltDepth returns how deep a charge on a unit of wall empties the binder if all of
// it dissolves cobalt and nothing else: x = q E / (F w ρ). Faraday's law.
func CobaltDepth(q unit.ChargeDensity, cobalt unit.Percent) unit.Length {
	w := float64(cobalt) / 100
	return unit.Length(float64(q) * CobaltWeight / (Faraday * w * float64(CarbideDensity(cobalt))) * 10)
}

// Leak returns the leakage current density between the sparks as an upper
// bound, j = κ V / g: no overpotential, no bubbles, no film. κ in µS/cm is
// 1e-6 S/cm, g in mm is 0.1 cm. Ohm's law.
func Leak(k unit.Conductivity, v unit.Voltage, gap unit.Length) unit.CurrentDensity {
	return unit.CurrentDensity(float64(k) * 1e-6 * float64(v) / (float64(gap) * 0.1))
}

// Growth returns how much a length grows over some kelvins: α L ΔT. Definition of
// the expansion.
func Growth(length unit.Length, alpha unit.Expansion, kelvins unit.Ratio) unit.Length {
	return length * unit.Length(float64(alpha)*float64(kelvins)/1e6)
}

// Traverse returns how far a stylus runs for an evaluation length: half a
// cut-off before and after it. Common practice; instruments differ.
func Traverse(evaluation, cutoff unit.Length) unit.Length { return evaluation + cutoff }
