package book

import (
	"math"

	"kerfbook/wasm/unit"
)

// Cut is what a question about a measured cut knows.
type Cut struct {
	Machine, Material, Dielectric, Flushing string
	Thickness, Wire                         unit.Length
	Pass, Passes                            string // "" takes any
	Stage                                   string // rough, skim or fine, in the place of Pass; "" takes any
	SameWire                                bool   // a gap changes with the wire more than a rate does
}

// The farthest a measured cut may be from the question: the ratio of the wires
// and of the thicknesses. Common practice, no source.
const (
	wireReach  = 1.25
	thickReach = 2.0
	sameWire   = 1.02
)

// Nearest returns the measured cut that is nearest to the question and has a
// number in the column, and how far it is in words. Only cuts of the same
// machine, material, dielectric and, where it is asked, flushing count. Far grows from 0; the same cut is 0.
func (b *Book) Nearest(q Cut, column string) (row Row, far float64, words string, ok bool) {
	t := b.Table("cuts")
	if t == nil || q.Machine == "" || q.Machine == "any" {
		return Row{}, 0, "", false
	}
	best := math.Inf(1)
	for _, r := range t.Rows {
		if r.Cell("machine") != q.Machine || r.Cell("material") != q.Material || r.Cell("dielectric") != q.Dielectric || r.Cell(column) == "" ||
			q.Flushing != "" && r.Cell("flushing") != q.Flushing || q.Pass != "" && r.Cell("pass") != q.Pass || q.Stage != "" && r.stage() != q.Stage || q.Passes != "" && r.Cell("passes") != q.Passes {
			continue
		}
		thick, wire := ratio(float64(q.Thickness), r.Num("thickness_mm")), ratio(float64(q.Wire), r.Num("wire_mm"))
		if thick > thickReach || wire > wireReach || q.SameWire && wire > sameWire {
			continue
		}
		d := math.Log(thick) + 2*math.Log(wire)
		if d < best {
			best, row, ok = d, r, true
		}
	}
	if !ok {
		return Row{}, 0, "", false
	}
	words = apart("wire", float64(q.Wire), row.Num("wire_mm")) + ", " + apart("thickness", float64(q.Thickness), row.Num("thickness_mm"))
	return row, best, words, true
}

// stage is what a pass of a measured cut is called by the table of gaps: the
// first one roughing, the last of several fine, a skim between.
func (r *Row) stage() string {
	pass, passes := r.Cell("pass"), r.Cell("passes")
	switch {
	case pass == "1":
		return "rough"
	case pass == passes:
		return "fine"
	}
	return "skim"
}

// Measurement says who measured a cut, when and on which job, as far as its row
// tells: "measured by the night shift on 2026-03-12, job comb die".
func (r *Row) Measurement() string {
	text := ""
	for _, part := range [...]struct{ column, before string }{{"by", "by "}, {"on", "on "}, {"job", "job "}} {
		if v := r.Cell(part.column); v != "" {
			if part.column == "job" && text != "" {
				text += ","
			}
			text += " " + part.before + v
		}
	}
	if text == "" {
		return ""
	}
	return "measured" + text
}

// Named is a cut by its name, with its measurement: "cut LQ-12, measured by …".
func (r Row) Named() string {
	text := "cut " + r.Cell("cut")
	if who := r.Measurement(); who != "" {
		text += " (" + who + ")"
	}
	return text
}

// ratio is how many times one is the other, the larger over the smaller; 0 for
// a length not given counts as the same.
func ratio(a, b float64) float64 {
	if a <= 0 || b <= 0 {
		return 1
	}
	return math.Max(a, b) / math.Min(a, b)
}

func apart(name string, asked, cut float64) string {
	mm := unit.Style{Unit: "mm", Decimals: 3, Trim: true}
	if ratio(asked, cut) < 1.001 {
		return "same " + name
	}
	return name + " " + unit.Print(unit.LengthKind, cut, mm) + " where " + unit.Print(unit.LengthKind, asked, mm) + " is asked"
}
