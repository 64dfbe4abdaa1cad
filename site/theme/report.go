package theme

import (
	"html/template"
	"io"
)

// Report is a page of tables to be signed: plain texts, which are escaped here.
type Report struct {
	Title, Lead string
	Style       template.CSS
	Edition     Edition
	Sections    []ReportSection
	// What stands over the line to sign, and before the check code.
	SignTitle, SignText, CheckLabel string
}

// ReportSection is one table of a report.
type ReportSection struct {
	Title, Note string
	Heads       []string
	Rows        [][]string
}

// Report writes the page.
func (t *Theme) Report(w io.Writer, r Report) error {
	return t.t.ExecuteTemplate(w, "changes.html", r)
}
