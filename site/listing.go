package site

import (
	"fmt"
	"html"
	"strings"

	"kerfbook/site/internal/render"
)

// listing writes the body of a page that is made of lists.
type listing struct {
	press *press
	c     *render.Context
	s     strings.Builder
}

func (l *listing) put(parts ...string) {
	for _, x := range parts {
		l.s.WriteString(x)
	}
}

func (l *listing) heading(level int, id, text string) {
	l.put(fmt.Sprintf("<h%d id=\"%s\">%s</h%d>\n", level, html.EscapeString(l.c.Prefix()+id), html.EscapeString(text), level))
}

// table writes rows whose cells are HTML.
func (l *listing) table(heads []string, rows [][]string) {
	l.put("<div class=\"wide\" role=\"group\" tabindex=\"0\"><table class=\"data\"><thead><tr>")
	for _, h := range heads {
		l.put("<th scope=\"col\">", html.EscapeString(h), "</th>")
	}
	l.put("</tr></thead>\n<tbody>\n")
	for _, row := range rows {
		l.put("<tr>")
		for _, cell := range row {
			l.put("<td>", cell, "</td>")
		}
		l.put("</tr>\n")
	}
	l.put("</tbody></table></div>\n")
}

// link leads to a page of the handbook.
func (l *listing) link(address, text string) string {
	return `<a href="` + html.EscapeString(l.c.Href(address)) + `">` + html.EscapeString(text) + "</a>"
}
