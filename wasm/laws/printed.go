package laws

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

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

// Printed returns the density of a cobalt content with the band that handbooks
// print: the rule of mixtures gives one line in it. Outside the table there is no
// band.
func Printed(b *book.Book, cobalt unit.Percent) unit.Range {
	r := unit.Exactly(float64(CarbideDensity(cobalt)))
	if low, high, far, ok := Between(b.Table("cobalt"), cobalt); ok {
		x, y := low.Range("density", "gcm3", 1), high.Range("density", "gcm3", 1)
		r.Low, r.High = min(r.Low, Mix(x.Low, y.Low, far)), max(r.High, Mix(x.High, y.High, far))
	}
	return r
}
