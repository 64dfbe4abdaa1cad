// Package spark answers the energy of one spark, the mean power, where the energy
// goes, and which roughness belongs to it. It may import book, calc, figure and
// unit.
package spark

import (
	"math"

	"kerfbook/wasm/unit"
)

// Flat returns the energy of a pulse of constant current: U I t. Definition.
func Flat(u unit.Voltage, i unit.Current, t unit.Time) unit.Energy {
	return unit.Energy(float64(u) * float64(i) * float64(t) * 1000)
}

// Triangle returns the energy of a pulse whose current rises and falls evenly
// over its base: U I t / 2. Definition; U is taken as constant.
func Triangle(u unit.Voltage, peak unit.Current, base unit.Time) unit.Energy {
	return Flat(u, peak, base) / 2
}

// Stored returns the energy of a charged capacitor: C V² / 2. Definition.
func Stored(c unit.Capacitance, v unit.Voltage) unit.Energy {
	return unit.Energy(float64(c) * float64(v) * float64(v) / 2e6)
}

// Constants returns the time constants RC that charging to v from a supply of v0
// takes: -ln(1 - v/v0). Pandey and Shan, EDM chapter.
func Constants(v, v0 unit.Voltage) float64 { return -math.Log1p(-float64(v / v0)) }

// bestQuotient is the greatest value of (1 - e^-x)² / x, at x = 1.25643.
const bestQuotient = 0.40726441

// BestShare returns the power of an RC circuit over the greatest that it can
// give, the time of the spark neglected: (v/v0)² / x over its greatest value.
// Pandey and Shan, EDM chapter.
func BestShare(v, v0 unit.Voltage) unit.Percent {
	s := float64(v / v0)
	return unit.Percent(100 * s * s / Constants(v, v0) / bestQuotient)
}

// Power returns the mean power of e, f times a second. Definition: mJ × kHz = W.
func Power(e unit.Energy, f unit.Frequency) unit.Power {
	return unit.Power(float64(e) * float64(f))
}

// Roughness returns Ra = k (E / 1 mJ)^n, k the Ra of a spark of 1 mJ. McGeough;
// Jeswani: n from 0.3 to 0.45.
func Roughness(e unit.Energy, k unit.Roughness, n unit.Ratio) unit.Roughness {
	return k * unit.Roughness(math.Pow(float64(e), float64(n)))
}

// EnergyFor returns the energy that belongs to a roughness: (Ra / k)^(1/n) mJ.
func EnergyFor(ra, k unit.Roughness, n unit.Ratio) unit.Energy {
	return unit.Energy(math.Pow(float64(ra/k), 1/float64(n)))
}

// Melt returns the volume that e melts when nothing is lost: e over the heat of
// 1 mm³. Definition.
func Melt(e, heat unit.Energy) unit.Volume { return unit.Volume(e / heat) }

// Crater returns the diameter of a bowl (a cap of a sphere) of a volume, bowl its
// depth over its diameter: V = π k D³ (3/4 + k²) / 6. Geometry.
func Crater(v unit.Volume, bowl unit.Ratio) unit.Length {
	k := float64(bowl)
	return unit.Length(math.Cbrt(6 * float64(v) / (math.Pi * k * (0.75 + k*k))))
}
