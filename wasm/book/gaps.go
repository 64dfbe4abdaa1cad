package book

import (
	"strconv"

	"kerfbook/wasm/unit"
)

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
