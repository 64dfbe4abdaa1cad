package record

import (
	"fmt"
	"strings"
)

// Section is one table of the report.
type Section struct {
	Title, Note string
	Heads       []string
	Rows        [][]string
}

// Lead is the report in a sentence or two.
func (c *Changes) Lead() string {
	if c.Same {
		return "Nothing changed: both are " + editionWords(c.New) + "."
	}
	lead := "From " + editionWords(c.Old) + " to " + editionWords(c.New) + "."
	if c.nothingPrinted() {
		lead += " Nothing that is printed or computed changed; the source files or the theme did."
	}
	return lead
}

// Sections are the tables of the report, for a page; a thing named in the row above is not
// named again.
func (c *Changes) Sections() []Section {
	var out []Section
	put := func(title, note string, heads []string, rows [][]string) {
		if len(rows) > 0 {
			out = append(out, Section{Title: title, Note: note, Heads: heads, Rows: rows})
		}
	}
	var rows [][]string
	for _, m := range c.Edition {
		rows = append(rows, []string{m.Name, orNone(m.Old), orNone(m.New)})
	}
	put("Edition", "", []string{"What", "Old", "New"}, rows)

	rows = nil
	for _, a := range c.Answers {
		first := []string{sheetName("", a.Sheet, a.Title), a.Words()}
		if a.State != Changed {
			first[1] = string(a.State) + ": " + first[1]
		}
		rows = append(rows, withValues(first, a.Values, a.Causes)...)
	}
	put("Answers", tally(statesOf(c.Answers, func(a AnswerChange) State { return a.State })), []string{"Sheet", "Answer", "Value", "Old", "New", "Because"}, rows)

	rows = nil
	if c.Calculators.New != "" {
		rows = append(rows, []string{"program", Short(c.Calculators.Old), Short(c.Calculators.New)})
	}
	for _, id := range c.Calculators.Came {
		rows = append(rows, []string{id, orNone(""), "new"})
	}
	for _, id := range c.Calculators.Gone {
		rows = append(rows, []string{id, "gone", orNone("")})
	}
	put("Calculators", "", []string{"What", "Old", "New"}, rows)
	for _, t := range c.Tables {
		put("Table "+t.Name, t.note(), []string{"Row", "Cell", "Old", "New"}, t.rows())
	}
	for _, t := range c.Rules {
		put("Rules", t.note(), []string{"Rule", "Cell", "Old", "New"}, t.rows())
	}

	rows = nil
	blocks := 0
	for _, p := range c.Pages {
		if p.onlyBlock() {
			blocks++
			continue
		}
		rows = append(rows, []string{sheetName(c.scheme, p.Number, p.Title), p.Address, p.Words()})
	}
	told := len(rows)
	if blocks > 0 {
		rows = append(rows, []string{restWords(blocks, told), "", ""})
	}
	put("Pages", "", []string{"Sheet", "Address", "What changed"}, rows)

	rows = nil
	for _, j := range c.Jobs {
		first := []string{j.Name, j.Calculator}
		if j.Said != "" {
			first[1] += ": " + j.Said
		}
		rows = append(rows, withValues(first, j.Values, j.Causes)...)
	}
	note := ""
	if c.JobsRead > 0 {
		note = fmt.Sprintf("%d saved jobs were answered again with the tables of both editions.", c.JobsRead)
		if len(rows) == 0 {
			rows = [][]string{{"none changed", "", "", "", "", ""}}
		}
	}
	put("Saved jobs", note, []string{"Job", "Calculator", "Value", "Old", "New", "Because"}, rows)

	rows = nil
	for _, u := range c.Notes {
		rows = append(rows, []string{u})
	}
	put("Notes", "", []string{"Note"}, rows)
	return out
}

// withValues sets a row for each value, with the causes beside the first.
func withValues(first []string, values []Moved, causes []Cause) [][]string {
	because := strings.Join(causeWords(causes), "; ")
	if len(values) == 0 {
		return [][]string{append(first, "", "", "", because)}
	}
	var out [][]string
	for _, m := range values {
		out = append(out, append(append([]string{}, first...), m.Name, orNone(m.Old), orNone(m.New), because))
		first, because = make([]string, len(first)), ""
	}
	return out
}

func (t TableChange) note() string {
	return strings.TrimSpace(t.Title + ". " + t.Words() + ".")
}

func (t TableChange) rows() [][]string {
	var out [][]string
	for _, r := range t.Rows {
		key := r.Key
		if r.State != Changed {
			key += " (" + string(r.State) + ")"
		}
		if len(r.Cells) == 0 {
			out = append(out, []string{key, r.Words(), "", ""})
		}
		for _, m := range r.Cells {
			out = append(out, []string{key, m.Name, orNone(m.Old), orNone(m.New)})
			key = ""
		}
	}
	if len(out) == 0 {
		out = [][]string{{"no row changed", "", "", ""}}
	}
	return out
}
