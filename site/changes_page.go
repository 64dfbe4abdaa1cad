package site

import (
	"bytes"
	"fmt"
	"html/template"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/record"
	"kerfbook/site/theme"
)

// ChangesPage is a comparison as one page of HTML to be printed and signed. It
// needs no other file and holds no script.
func ChangesPage(c *record.Changes) ([]byte, error) {
	style, err := bundle.Style(theme.Sources(), "css/changes.css")
	if err != nil {
		return nil, err
	}
	t, err := theme.New()
	if err != nil {
		return nil, err
	}
	r := theme.Report{Title: "What changed", Style: template.CSS(style), Lead: c.Lead(),
		Edition: theme.Edition{Owner: c.Owner(), Title: c.New.Title, DocumentType: "Change report", Revision: c.Old.Revision + " → " + c.New.Revision,
			Date: c.New.Date, Language: "en", Check: record.Short(c.Old.Digest) + " → " + record.Short(c.New.Digest)},
		SignTitle: "Release", SignText: "I have read what changed and release the new edition for use in the shop.", CheckLabel: "Digests of the editions"}
	for _, s := range c.Sections() {
		r.Sections = append(r.Sections, theme.ReportSection(s))
	}
	var out bytes.Buffer
	if err := t.Report(&out, r); err != nil {
		return nil, fmt.Errorf("the change report: %w", err)
	}
	return out.Bytes(), nil
}
