package book

import "kerfbook/wasm/unit"

// Cut is what is known of a cut that is asked about.
type Cut struct {
	Machine, Material, Dielectric, Flushing string
	Thickness, Wire                         unit.Length
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
