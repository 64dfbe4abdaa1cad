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
	for _, part := range [...]struct{ column, before string }{{"by", "by "}, {"on", "on "}, {"job", "job "}, {"accepted", "accepted by "}} {
		if v := r.cells[part.column]; v != "" { // a table may lack who accepted
			if (part.column == "job" || part.column == "accepted") && text != "" {
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

// Stale says why a row of the table of cuts counts no more: it was withdrawn, or its
// machine was rebuilt after the day from which it holds; "" for one that counts. Dates
// are written 2026-02-11, so that they compare as text. A table may lack the columns.
func (b *Book) Stale(cut Row) string {
	if d := cut.cells["withdrawn"]; d != "" {
		return "withdrawn on " + d
	}
	card, ok := b.Find("machines", cut.Cell("machine"))
	rebuilt := card.cells["rebuilt"]
	if !ok || rebuilt == "" {
		return ""
	}
	from := cut.cells["valid_from"]
	if from == "" {
		from = cut.cells["on"]
	}
	if from == "" {
		return "without a date, and " + cut.Cell("machine") + " was rebuilt on " + rebuilt
	}
	if from < rebuilt {
		return "older than the rebuild of " + cut.Cell("machine") + " on " + rebuilt
	}
	return ""
}

// Date reports whether a text is a day as the tables write one: 2026-02-11.
func Date(text string) bool {
	if len(text) != len("2026-02-11") {
		return false
	}
	for i := range len(text) {
		if dash := i == 4 || i == 7; dash != (text[i] == '-') || !dash && (text[i] < '0' || text[i] > '9') {
			return false
		}
	}
	return text[5:7] >= "01" && text[5:7] <= "12" && text[8:] >= "01" && text[8:] <= "31"
}

// Named is a cut by its name, with its measurement: "cut LQ-12, measured by …".
func (r Row) Named() string {
	text := "cut " + r.Cell("cut")
	if who := r.Measurement(); who != "" {
		text += " (" + who + ")"
	}
	return text
}
