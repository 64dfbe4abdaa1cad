package panel

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// table writes a result table; bar columns share one axis, whose ends stand in
// the head, and the print's value runs as a line through all rows.
func table(b *builder, t calc.Table) {
	wide, plot := "wide", "drawing plot"
	if t.Screen {
		wide, plot = "wide screen", "drawing plot screen"
	}
	if t.Figure != nil {
		b.open("figure", plot)
		b.raw(SVG(t.Figure))
		b.el("figcaption", "", t.Figure.Title)
		b.raw("</figure>")
		if !t.Screen {
			wide = "wide shown"
		}
	}
	b.start("div", wide)
	b.raw(" role=\"group\" tabindex=\"0\"><table class=\"results\">")
	if t.Title != "" {
		b.el("caption", "", t.Title)
	}
	b.raw("<thead><tr>")
	for _, c := range t.Columns {
		b.start("th", columnClass(c))
		b.attr("scope", "col")
		b.raw(">")
		b.text(c.Head)
		b.raw("</th>")
	}
	b.raw("</tr></thead><tbody>")
	for _, row := range t.Rows {
		b.raw("<tr>")
		for i, cell := range row {
			c := calc.Column{}
			if i < len(t.Columns) {
				c = t.Columns[i]
			}
			b.start("td", columnClass(c))
			if cell.At != nil {
				b.attr("data-at", coord(cell.At.X)+" "+coord(cell.At.Y))
			}
			b.raw(">")
			switch {
			case c.Axis != nil && cell.Range != nil:
				bar(b, *cell.Range, *c.Axis)
			case cell.Strong:
				b.el("b", "", cell.Text)
			default:
				b.text(cell.Text)
			}
			b.raw("</td>")
		}
		b.raw("</tr>")
	}
	b.raw("</tbody></table></div>")
	if t.Note != "" {
		b.el("p", "table-note", t.Note)
	}
}

func columnClass(c calc.Column) string {
	switch {
	case c.Axis != nil:
		return "scale"
	case c.Blank:
		return "blank"
	case c.Right:
		return "right"
	}
	return ""
}

// bar draws a range on the column's axis: a band from low to high, a tick at
// the likely value, a dashed line at the print's value.
func bar(b *builder, r unit.Range, a calc.Axis) {
	const wide, high = 160.0, 28.0
	at := func(v float64) string {
		x := (v - a.Low) / (a.High - a.Low) * wide
		return coord(max(0, min(wide, x)))
	}
	b.raw("<svg class=\"range\" viewBox=\"0 0 160 28\" preserveAspectRatio=\"none\" aria-hidden=\"true\">")
	b.raw("<line class=\"axis\" x1=\"0\" y1=\"14\" x2=\"160\" y2=\"14\"/>")
	b.raw("<line class=\"band\" x1=\"")
	b.raw(at(r.Low))
	b.raw("\" y1=\"14\" x2=\"")
	b.raw(at(r.High))
	b.raw("\" y2=\"14\"/>")
	b.raw("<line class=\"tick\" x1=\"")
	b.raw(at(r.Likely))
	b.raw("\" y1=\"6\" x2=\"")
	b.raw(at(r.Likely))
	b.raw("\" y2=\"22\"/>")
	if a.HasMark {
		b.raw("<line class=\"mark\" x1=\"")
		b.raw(at(a.Mark))
		b.raw("\" y1=\"0\" x2=\"")
		b.raw(at(a.Mark))
		b.raw("\" y2=\"28\"/>")
	}
	b.raw("</svg>")
}

// coord prints a drawing coordinate.
func coord(v float64) string { return unit.Number(v, unit.Style{Decimals: 2, Trim: true}) }
