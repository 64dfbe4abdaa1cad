package site

import (
	"html"

	"kerfbook/site/internal/render"
	"kerfbook/site/record"
)

// The page “Is my print current?”, the last of an edition: it is made when all
// other sheets have their codes.
const (
	codesKind = "codes"
	// editionMark opens what belongs to the edition and is no text of the page's.
	editionMark = `<code class="edition-mark">`
)

// codes lists every sheet and every table with its check code, so that a print
// can be held against the handbook on any device, with a pencil and no command.
func (p *press) codes(c *render.Context) (string, error) {
	t := &listing{press: p, c: c}
	e := p.edition
	esc := html.EscapeString
	mark := func(text string) string { return editionMark + esc(text) + "</code>" }
	t.put("<p class=\"short\">A print is current while its number and its check code stand here side by side.</p>\n<ol>\n",
		"<li>Open this page in the newest handbook that there is. It is ", mark("revision "+e.Revision+" of "+e.Date), "; an older copy of the handbook knows only older prints.</li>\n",
		"<li>Read the identification number and the check code in the title block of the print. Find the number below.</li>\n",
		"<li>The same code: every word, number and figure of the sheet is as it was printed. Another code: the sheet has changed since, so print it again. No such number: the sheet is no longer part of this handbook.</li>\n</ol>\n",
		"<p>The first half of a code stands for the number, the second for everything that is printed on the sheet. Where the first halves agree and the second do not, the sheet is the same and the print is older or newer than this handbook.</p>\n")
	t.heading(2, "handbook", "The whole handbook")
	t.put("<p>These stand at the foot of a printed job sheet. A job sheet is current while both are the same. Where only the first differs, the tables are the same and pages or calculators have changed: work the job again and compare.</p>\n")
	t.table([]string{"What", "Check code"}, [][]string{{"Handbook", mark(record.Short(e.Digest))}, {"Its tables", mark(record.Short(e.Book))}})
	t.heading(2, "sheets", "Sheets")
	var rows [][]string
	for _, s := range p.sheets {
		if s.kind == codesKind {
			rows = append(rows, []string{esc(e.Scheme + s.number), esc(s.title), "in the title block below"})
			continue
		}
		rows = append(rows, []string{esc(e.Scheme + s.number), `<a href="` + esc(c.Href(s.address)) + `">` + esc(s.title) + "</a>", mark(s.check)})
	}
	t.table([]string{"Number", "Sheet", "Check code"}, rows)
	t.heading(2, "tables", "Tables")
	t.put("<p>A printed table has its own code under it: a half for its name, a half for its rows.</p>\n")
	rows = nil
	for _, table := range e.Tables {
		rows = append(rows, []string{esc(table.Name), esc(table.Title), mark(table.Code())})
	}
	t.table([]string{"Table", "What it holds", "Check code"}, rows)
	return t.s.String(), nil
}
