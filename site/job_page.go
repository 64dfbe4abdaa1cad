package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/source"
	"kerfbook/site/record"
	"kerfbook/site/theme"
	"kerfbook/wasm/calc"
)

// JobPages makes job sheets as pages to be printed and signed, outside an edition.
type JobPages struct {
	theme   *theme.Theme
	style   string
	edition theme.Edition
}

// NewJobPages reads what stands in the title block from a content folder and a
// shop's own, which may be nil. A fault in them is told by Tables.
func NewJobPages(content, shop fs.FS) (*JobPages, error) {
	c := source.Tables(content, shop, &diag.List{})
	style, err := bundle.Style(theme.Sources(), "css/changes.css")
	if err != nil {
		return nil, err
	}
	t, err := theme.New()
	if err != nil {
		return nil, err
	}
	e := theme.Edition{Owner: c.Edition.Owner, Title: c.Edition.Title, DocumentType: "Job sheet", Revision: c.Edition.Revision, Date: c.Edition.Date, Language: "en"}
	if c.Book != nil {
		e.Check = record.Short(record.Sum([]byte(c.Book.Canonical())))
	}
	return &JobPages{theme: t, style: string(style), edition: e}, nil
}

// Page is the sheet of one answer as a page of HTML that needs no other file and
// holds no script. told are sentences about how the job was read.
func (p *JobPages) Page(rep *calc.Reply, told []string) ([]byte, error) {
	a := rep.Answer
	if a == nil || a.Sheet == nil {
		return nil, fmt.Errorf("%s gives no sheet", rep.Calculator.ID)
	}
	title := "Job sheet"
	for _, e := range a.Sheet.Title {
		if e.Name == "part" && e.Text != "" {
			title += ": " + e.Text
		}
	}
	r := theme.Report{Title: title, Style: template.CSS(p.style), Lead: a.Headline + ". " + a.Lead, Edition: p.edition, Sections: jobSections(rep, told),
		SignTitle: "Signed", SignText: "I have looked at every line above, and checked what is to be checked.", CheckLabel: "Check code of the tables"}
	var out bytes.Buffer
	if err := p.theme.Report(&out, r); err != nil {
		return nil, fmt.Errorf("the job sheet: %w", err)
	}
	return out.Bytes(), nil
}

// jobSections are the tables of a job sheet, in the order of the page in the
// browser: the print, the decisions, the passes, what is to be checked.
func jobSections(rep *calc.Reply, told []string) []theme.ReportSection {
	a := rep.Answer
	var out []theme.ReportSection
	put := func(title, note string, heads []string, rows [][]string) {
		if len(rows) > 0 {
			out = append(out, theme.ReportSection{Title: title, Note: note, Heads: heads, Rows: rows})
		}
	}
	var rows [][]string
	for _, e := range a.Sheet.Title {
		if e.Text != "" {
			rows = append(rows, []string{e.Label, e.Text})
		}
	}
	for _, i := range a.Sheet.Print {
		text := i.Text
		if i.Assumed {
			text += " (assumed)"
		}
		rows = append(rows, []string{i.Label, text})
	}
	for _, f := range rep.Fields {
		if f.Text == "" || f.Text == f.Default || a.Sheet.Titled(f.Name) || a.Sheet.Prints(f.Name) {
			continue
		}
		text := f.Text
		for _, o := range f.Options {
			if f.Shape == calc.ChoiceShape && o.Value == text {
				text = o.Label
			}
		}
		if f.Shape == calc.TextShape {
			text = fmt.Sprintf("a text of %d lines", strings.Count(strings.TrimSpace(text), "\n")+1)
		}
		rows = append(rows, []string{f.Label, text})
	}
	put("The print", "What is marked as assumed was not said: look at it before you sign.", []string{"What", "Asked"}, rows)
	rows = nil
	for _, l := range a.Sheet.Lines {
		what, because := l.What, l.Because
		if l.Own {
			what += " (your own decision)"
		}
		if l.Breaks != "" {
			because += ". It breaks something: " + l.Breaks
		}
		rows = append(rows, []string{l.Label, what, l.Range, because, l.Sure})
	}
	put("Decisions", "", []string{"Decision", "What", "How far it may differ", "Because", "How sure"}, rows)
	for _, t := range a.Tables {
		var heads []string
		for _, c := range t.Columns {
			heads = append(heads, c.Head)
		}
		rows = nil
		for _, row := range t.Rows {
			var cells []string
			for _, c := range row {
				cells = append(cells, c.Text)
			}
			rows = append(rows, cells)
		}
		put(t.Title, t.Note, heads, rows)
	}
	rows = nil
	for _, text := range a.Sheet.Checks {
		rows = append(rows, []string{text, ""})
	}
	put("To check", "", []string{"Check", "Initials"}, rows)
	list := func(title, head string, texts []string) {
		rows = nil
		for _, text := range texts {
			rows = append(rows, []string{text})
		}
		put(title, "", []string{head}, rows)
	}
	list("Open questions", "Question", a.Sheet.Open)
	rows = nil
	for _, c := range a.Cautions {
		rows = append(rows, []string{c.Word, c.Text})
	}
	put("Hazards", "", []string{"Word", "What"}, rows)
	list("Notes", "Note", append(append([]string{}, told...), a.Notes...))
	return out
}
