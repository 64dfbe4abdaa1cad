// Package metal looks a work material up: density, melting, expansion, heat
// conduction, resistivity, and what they mean on the machine. It may import
// book, calc, figure and unit.
package metal

import "kerfbook/wasm/unit"

// Growth returns how much a length grows over some kelvins: α L ΔT. Definition of
// the expansion.
func Growth(length unit.Length, alpha unit.Expansion, kelvins unit.Ratio) unit.Length {
	return length * unit.Length(float64(alpha)*float64(kelvins)/1e6)
}
