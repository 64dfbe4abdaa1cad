// Package recast answers how thick the recast layer is, how deep the heat
// reached, and what the skims must take in all. It may import book, calc, figure
// and unit.
package recast

import (
	"math"

	"kerfbook/wasm/unit"
)

// ByRoughness returns the layer as a multiple of Ra. Choudhuri, abstract: its
// ranges give multiples of 1.5 to 4.6.
func ByRoughness(ra unit.Roughness, ratio unit.Ratio) unit.Length {
	return unit.Length(float64(ra)*float64(ratio)) / 1000
}

// Scaled returns the layer of a spark whose energy is e, from a layer known at
// e0: t (e/e0)^m. Common practice, no source: m from 0.3 to 0.5.
func Scaled(known unit.Length, e, e0 unit.Energy, m unit.Ratio) unit.Length {
	return known * unit.Length(math.Pow(float64(e/e0), float64(m)))
}

// HeatLength returns how far heat spreads while a pulse lasts: √(4 a t), a the
// thermal diffusivity in mm²/s. Heat conduction, definition of the length.
func HeatLength(a float64, t unit.Time) unit.Length {
	return unit.Length(math.Sqrt(4 * a * float64(t)))
}

// Least returns what all skims together must exceed: the layer of the first pass,
// the height of its face (Rz) and the error of its shape. Geometry.
func Least(layer, height, bow unit.Length) unit.Length { return layer + height + bow }
