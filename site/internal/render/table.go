package render

import (
	"html"
	"strings"

	"kerfbook/site/internal/check"
)

// tableBlock sets a table of the edition, or a grid of answers, with where each
// row comes from and what its table says of itself.
func (c *Context) tableBlock(t *check.Table) string {
	var s strings.Builder
	esc := html.EscapeString
	s.WriteString(`<div class="wide" role="group" tabindex="0"><table class="data"><caption>` + esc(t.Title) + "</caption>\n<thead><tr>")
	class := func(right bool) string {
		if right {
			return ` class="right"`
		}
		return ""
	}
	for _, h := range t.Heads {
		text := esc(h.Text)
		if h.Unit != "" {
			text += ` <span class="unit">` + esc(h.Unit) + "</span>"
		}
		s.WriteString(`<th scope="col"` + class(h.Right) + ">" + text + "</th>")
	}
	s.WriteString("</tr></thead>\n<tbody>\n")
	for _, row := range t.Rows {
		if row[len(row)-1].Ours {
			s.WriteString(`<tr class="ours">`)
		} else {
			s.WriteString("<tr>")
		}
		for i, cell := range row {
			text := esc(cell.Text)
			if cell.Work != nil || cell.Ours {
				text = c.from(cell)
			}
			if cell.Other != "" {
				text += ` <span class="other">` + esc(cell.Other) + "</span>"
			}
			s.WriteString("<td" + class(t.Heads[i].Right) + ">" + text + "</td>")
		}
		s.WriteString("</tr>\n")
	}
	s.WriteString("</tbody></table></div>\n")
	note := esc(t.Note)
	if t.From.Text != "" || t.From.Work != nil {
		note = strings.TrimSpace("Every row: " + c.from(t.From) + ". " + note)
	}
	if t.Name != "" && c.Table != nil {
		note = strings.TrimSpace(note + ` <span class="table-code">` + esc(c.Table(t.Name)) + "</span>")
	}
	if note != "" {
		s.WriteString(`<p class="table-note">` + note + "</p>\n")
	}
	return s.String()
}

// from links a row's work and says its place, or says what else is known of it.
func (c *Context) from(cell check.Cell) string {
	if cell.Ours {
		cell.Ours = false
		return `<b class="ours-word">our shop:</b> ` + c.from(cell)
	}
	if cell.Work == nil {
		return html.EscapeString(cell.Text)
	}
	c.cite(*cell.Work)
	text := `<a class="cite" href="` + html.EscapeString(c.Href("bibliography.html#"+cell.Work.Key)) + `">` + html.EscapeString(ShortName(*cell.Work)) + "</a>"
	if cell.Text != "" {
		text += " " + html.EscapeString(cell.Text)
	}
	return text
}
