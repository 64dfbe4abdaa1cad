package book

import (
	"math"
	"strconv"

	"kerfbook/wasm/unit"
)

// Gap returns the side gap in millimetres of a pass ("rough", "skim" or "fine")
// with a wire of diameter d in "water" or "oil", and the rows it rests on.
// Between two tabulated wires it is interpolated; outside the table the nearest
// row is taken as it is and exact is false.
func (b *Book) Gap(d unit.Length, dielectric, pass string) (gap unit.Range, rows []Row, exact bool) {
	return b.byWire("gaps", "gap", d, func(r Row) bool {
		return r.Cell("dielectric") == dielectric && r.Cell("pass") == pass
	})
}

// Left returns the stock left on each side after roughing with a wire of
// diameter d, in millimetres.
func (b *Book) Left(d unit.Length) (left unit.Range, rows []Row, exact bool) {
	return b.byWire("wires", "left", d, func(Row) bool { return true })
}

func (b *Book) byWire(table, stem string, d unit.Length, ok func(Row) bool) (unit.Range, []Row, bool) {
	t := b.Table(table)
	if t == nil {
		return unit.Range{}, nil, false
	}
	var below, above Row
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, r := range t.Rows {
		if !ok(r) {
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
	switch {
	case math.IsInf(lo, -1) && math.IsInf(hi, 1):
		return unit.Range{}, nil, false
	case math.IsInf(lo, -1):
		return above.Range(stem, "um", 1e-3), []Row{above}, false
	case math.IsInf(hi, 1):
		return below.Range(stem, "um", 1e-3), []Row{below}, false
	case hi-lo < 1e-9:
		return below.Range(stem, "um", 1e-3), []Row{below}, true
	}
	x, y := below.Range(stem, "um", 1e-3), above.Range(stem, "um", 1e-3)
	t01 := (float64(d) - lo) / (hi - lo)
	mix := func(a, b float64) float64 { return a + (b-a)*t01 }
	return unit.Range{Low: mix(x.Low, y.Low), Likely: mix(x.Likely, y.Likely), High: mix(x.High, y.High)}, []Row{below, above}, true
}

// Band returns the row of cut-offs that a roughness falls into: a band takes
// values above its lower limit and up to its upper one. No row: an empty one.
func (b *Book) Band(ra unit.Roughness) Row {
	for _, r := range b.Table("cutoffs").Rows {
		if float64(ra) > r.Num("ra_above_um") && float64(ra) <= r.Num("ra_upto_um")*(1+1e-12) {
			return r
		}
	}
	return Row{}
}

// Wires returns the diameters of the table of wires in millimetres, rising.
func (b *Book) Wires() []unit.Length {
	t := b.Table("wires")
	if t == nil {
		return nil
	}
	var out []unit.Length
	for _, r := range t.Rows {
		out = append(out, unit.Length(r.Num("diameter_mm")))
	}
	return out
}

// Describe says a row in a few words: "gaps 0.25/water/rough".
func (r *Row) Describe() string { return r.Table + " " + r.Key }

// At says where the row stands: "gaps.csv line 12".
func (r *Row) At() string { return r.File + " line " + strconv.Itoa(r.Line) }
