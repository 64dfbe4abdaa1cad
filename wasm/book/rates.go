package book

import (
	"math"
	"strconv"

	"kerfbook/wasm/unit"
)

// plateau is the wire from which the table's main rows are taken, in mm: above
// it a thicker wire gains nothing or little. Schacht 2004, as text.
const plateau = 0.25

// Rate returns the area rate in mm²/min of roughing a material with a wire of
// diameter d, in water with both nozzles close, as precision practice has it: by
// the rows of fine wires where there are any, between two rows by the logarithm
// of both, above the thickest row as that row. note says which.
func (b *Book) Rate(material string, d unit.Length) (rate unit.Range, rows []Row, note string) {
	t := b.Table("rates")
	if t == nil {
		return unit.Range{}, nil, ""
	}
	var below, above Row
	lo, hi := 0.0, math.Inf(1)
	for _, r := range t.Rows {
		if r.Cell("material") != material {
			continue
		}
		at := r.Num("diameter_mm")
		if at <= float64(d)+1e-9 && at > lo {
			lo, below = at, r
		}
		if at >= float64(d)-1e-9 && at < hi {
			hi, above = at, r
		}
	}
	text := func(r Row) string {
		return r.Cell("rate_low_mm2min") + " to " + r.Cell("rate_high_mm2min") + " mm²/min with " + r.Cell("diameter_mm") + " mm"
	}
	get := func(r Row) unit.Range { return r.Range("rate", "mm2min", 1) }
	switch {
	case lo == 0 && math.IsInf(hi, 1):
		return unit.Range{}, nil, ""
	case lo == 0:
		// Thinner than every row: the thermal limit's square root is an upper bound.
		v, k := get(above), math.Sqrt(float64(d)/hi)
		return unit.Range{Low: v.Low * k * k * k, Likely: v.Likely * k * k, High: v.High * k}, []Row{above}, "from the table: " + text(above) + ", scaled down to this wire"
	case math.IsInf(hi, 1) || hi-lo < 1e-9:
		return get(below), []Row{below}, "from the table: " + text(below)
	}
	x, y := get(below), get(above)
	t01 := math.Log(float64(d)/lo) / math.Log(hi/lo)
	mix := func(a, b float64) float64 { return a * math.Pow(b/a, t01) }
	return unit.Range{Low: mix(x.Low, y.Low), Likely: mix(x.Likely, y.Likely), High: mix(x.High, y.High)}, []Row{below, above},
		"between the table's rows of " + below.Cell("diameter_mm") + " and " + above.Cell("diameter_mm") + " mm"
}

// MainRate returns the row of the thickest wire of a material: the base of the
// thermal limit.
func (b *Book) MainRate(material string) (Row, bool) {
	return b.Find("rates", material, strconv.FormatFloat(plateau, 'f', -1, 64))
}
