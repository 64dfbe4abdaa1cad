// Package carbide answers what the cobalt content and the grain of a cemented
// carbide mean: density, volume share, hardness, expansion, cobalt loss. It may
// import book, calc, figure, laws and unit.
package carbide

import (
	"math"

	"kerfbook/wasm/book"
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

// Between returns the two rows of the table about a cobalt content and how far it
// lies from the first to the second; ok is false outside the table.
func Between(t *book.Table, cobalt unit.Percent) (low, high book.Row, far float64, ok bool) {
	for _, r := range t.Rows {
		if math.Abs(r.Num("cobalt_pct")-float64(cobalt)) < 1e-9 {
			return r, r, 0, true
		}
	}
	for i := 1; i < len(t.Rows); i++ {
		a, b := t.Rows[i-1].Num("cobalt_pct"), t.Rows[i].Num("cobalt_pct")
		if float64(cobalt) > a && float64(cobalt) < b {
			return t.Rows[i-1], t.Rows[i], (float64(cobalt) - a) / (b - a), true
		}
	}
	return low, high, 0, false
}

// Mix returns the point of a straight line between two numbers.
func Mix(a, b, far float64) float64 { return a + (b-a)*far }
