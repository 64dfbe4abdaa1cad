// Package carbide answers what the cobalt content and the grain of a cemented
// carbide mean: density, volume share, hardness, expansion, cobalt loss. It may
// import book, calc, figure, laws and unit.
package carbide

import (
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

// Volume returns the share of the binder in volume: w ρ / ρ_Co. Rule of mixtures.
func Volume(cobalt unit.Percent) unit.Percent {
	return cobalt * unit.Percent(laws.CarbideDensity(cobalt)/laws.CarbideDensity(100))
}

// Cobalt returns the share in mass that a density means, the rule of mixtures
// solved for w: (1/ρ - 1/ρ_WC) / (1/ρ_Co - 1/ρ_WC).
func Cobalt(density unit.Density) unit.Percent {
	binder, carbide := laws.CarbideDensity(100), laws.CarbideDensity(0)
	return unit.Percent(100 * (1/density - 1/carbide) / (1/binder - 1/carbide))
}
