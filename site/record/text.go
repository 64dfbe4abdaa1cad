package record

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/spell"
)

// Text is the report as a terminal shows it: grouped, old → new.
func (c *Changes) Text() string {
	var s strings.Builder
	if c.Same {
		s.WriteString("nothing changed: " + editionWords(c.New) + "\n")
		c.jobsText(&s)
		c.notesText(&s)
		return s.String()
	}
	s.WriteString("from " + editionWords(c.Old) + "\nto   " + editionWords(c.New) + "\n")
	if c.nothingPrinted() {
		s.WriteString("\nnothing that is printed or computed changed; the source files or the theme did\n")
	}
	if len(c.Edition) > 0 {
		s.WriteString("\nEdition\n")
		movedText(&s, "  ", c.Edition)
	}
	c.answersText(&s)
	c.calculatorsText(&s)
	tablesText(&s, "Tables", c.Tables)
	tablesText(&s, "Rules", c.Rules)
	c.pagesText(&s)
	c.jobsText(&s)
	c.notesText(&s)
	return s.String()
}

func (c *Changes) nothingPrinted() bool {
	return len(c.Edition)+len(c.Answers)+len(c.Tables)+len(c.Rules)+len(c.Pages)+len(c.Jobs)+len(c.Notes)+len(c.Calculators.Came)+len(c.Calculators.Gone) == 0 && c.Calculators.New == ""
}

func editionWords(e EditionName) string {
	return fmt.Sprintf("%s, revision %s of %s (%s)", e.Title, e.Revision, e.Date, Short(e.Digest))
}

// tally counts states: "2 changed, 1 new".
func tally(states []State) string {
	var out []string
	for _, s := range []State{Changed, Came, Gone, Unanswered} {
		n := 0
		for _, x := range states {
			if x == s {
				n++
			}
		}
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, s))
		}
	}
	return strings.Join(out, ", ")
}

func statesOf[T any](list []T, state func(T) State) []State {
	var out []State
	for _, x := range list {
		out = append(out, state(x))
	}
	return out
}

// movedText writes names in one column and values behind them.
func movedText(s *strings.Builder, lead string, list []Moved) {
	width := 0
	for _, m := range list {
		width = max(width, utf8.RuneCountInString(m.Name))
	}
	for _, m := range list {
		fmt.Fprintf(s, "%s%s  %s → %s\n", lead, padTo(m.Name, width), orNone(oneLine(m.Old)), orNone(oneLine(m.New)))
	}
}

func padTo(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

// oneLine keeps a text from breaking the lines of the report, and a terminal
// from obeying it.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return ' '
		}
		return r
	}, text)
}

func inputWords(list []NamedText) string {
	var out []string
	for _, n := range list {
		out = append(out, n.Name+" = "+oneLine(n.Text))
	}
	if len(out) == 0 {
		return "with its own defaults"
	}
	return strings.Join(out, ", ")
}

// Words names an answer: "two: double, size = 2 mm".
func (a AnswerChange) Words() string {
	name, _, _ := strings.Cut(a.ID, " ")
	_, anchor, _ := strings.Cut(name, "#")
	if anchor != "" {
		anchor += ": "
	}
	return anchor + a.Calculator + " " + inputWords(a.Inputs)
}

func causeWords(list []Cause) []string {
	var out []string
	for _, c := range list {
		out = append(out, oneLine(c.Words()))
	}
	return out
}

// grouped is a cause and how many answers it moved.
type grouped struct {
	words string
	count int
}

// few is how many answers a cause must have moved to be told ahead of them.
const few = 3

// byCause counts the answers that each cause moved, those that moved many first: one
// changed price or a constant of the law is one thing to sign, however many answers
// follow it. What a single answer has for itself is told with it.
func (c *Changes) byCause() []grouped {
	var out []grouped
	for _, a := range c.Answers {
		if a.State != Changed {
			continue
		}
		for _, cause := range a.Causes {
			if cause.Kind == "input" || cause.Kind == "unknown" {
				continue
			}
			words := cause.Words()
			i := slices.IndexFunc(out, func(g grouped) bool { return g.words == words })
			if i < 0 {
				i, out = len(out), append(out, grouped{words: words})
			}
			out[i].count++
		}
	}
	out = slices.DeleteFunc(out, func(g grouped) bool { return g.count < few })
	slices.SortStableFunc(out, func(a, b grouped) int { return b.count - a.count })
	return out
}

func (c *Changes) answersText(s *strings.Builder) {
	if len(c.Answers) == 0 {
		return
	}
	s.WriteString("\nAnswers: " + tally(statesOf(c.Answers, func(a AnswerChange) State { return a.State })) + "\n")
	for _, g := range c.byCause() {
		fmt.Fprintf(s, "  %s: %d answers\n", oneLine(g.words), g.count)
	}
	on := ""
	for _, a := range c.Answers {
		if here := sheetName("", a.Sheet, a.Title); here != on {
			s.WriteString("  " + oneLine(here) + "\n")
			on = here
		}
		words := a.Words()
		if a.State != Changed {
			s.WriteString("    " + string(a.State) + ": " + words + "\n")
			var values []string
			for _, v := range a.Values {
				values = append(values, v.Name+" "+oneLine(v.Old+v.New)) // one of the two is ""
			}
			if len(values) > 0 {
				s.WriteString("      " + strings.Join(values, "; ") + "\n")
			}
		} else {
			s.WriteString("    " + words + "\n")
			movedText(s, "      ", a.Values)
		}
		s.WriteString("      because: " + strings.Join(causeWords(a.Causes), "\n           and: ") + "\n")
	}
}

func (c *Changes) calculatorsText(s *strings.Builder) {
	k := c.Calculators
	if k.New == "" && len(k.Came)+len(k.Gone) == 0 {
		return
	}
	s.WriteString("\nCalculators\n")
	var list []Moved
	if k.New != "" {
		list = append(list, Moved{"program", Short(k.Old), Short(k.New)})
	}
	movedText(s, "  ", list)
	if len(k.Came) > 0 {
		s.WriteString("  new: " + strings.Join(k.Came, ", ") + "\n")
	}
	if len(k.Gone) > 0 {
		s.WriteString("  gone: " + strings.Join(k.Gone, ", ") + "\n")
	}
}

// Words says what became of a table's rows: "1 changed, 2 new; 14 rows, were 12".
func (t TableChange) Words() string {
	var parts []string
	if t.State != Changed {
		parts = append(parts, string(t.State)+" table")
	}
	if words := tally(statesOf(t.Rows, func(r RowChange) State { return r.State })); words != "" && t.State == Changed {
		parts = append(parts, words)
	}
	if t.Moved {
		parts = append(parts, "only the order of its rows or columns changed")
	}
	switch {
	case t.State == Gone:
		parts = append(parts, spell.Count(t.OldCount, "row"))
	case t.State == Came || t.OldCount == t.NewCount:
		parts = append(parts, spell.Count(t.NewCount, "row"))
	default:
		parts = append(parts, fmt.Sprintf("%s, were %d", spell.Count(t.NewCount, "row"), t.OldCount))
	}
	return strings.Join(parts, "; ")
}

// Words says what became of a row's cells in a line.
func (r RowChange) Words() string {
	switch {
	case r.State == Changed && len(r.Cells) == 0:
		return "changed, cells not recorded"
	case r.State == Changed:
		return movedWords(r.Cells)
	}
	var cells []string
	for _, m := range r.Cells {
		cells = append(cells, m.Name+" "+m.Old+m.New) // one of the two is ""
	}
	return strings.TrimSuffix(string(r.State)+": "+strings.Join(cells, ", "), ": ")
}

func tablesText(s *strings.Builder, head string, list []TableChange) {
	if len(list) == 0 {
		return
	}
	s.WriteString("\n" + head + "\n")
	for _, t := range list {
		title := ""
		if t.Title != "" {
			title = " “" + t.Title + "”"
		}
		s.WriteString("  " + oneLine(t.Name+title) + ": " + t.Words() + "\n")
		width := 0
		for _, r := range t.Rows {
			width = max(width, utf8.RuneCountInString(r.Key))
		}
		for _, r := range t.Rows {
			s.WriteString("    " + padTo(oneLine(r.Key), width) + "  " + oneLine(r.Words()) + "\n")
		}
	}
}

// Words says what of a sheet changed.
func (p PageChange) Words() string {
	if p.State != Changed {
		return string(p.State)
	}
	var out []string
	for _, w := range p.What {
		switch w {
		case "numbers":
			w = "numbers, figures or links"
		case "address":
			w = "address, was " + p.Was
		}
		out = append(out, w)
	}
	return strings.Join(out, "; ")
}

// onlyBlock reports whether nothing but the title block of a sheet changed, as
// a new date does to every sheet.
func (p PageChange) onlyBlock() bool { return slices.Equal(p.What, []string{"title block"}) }

func (c *Changes) pagesText(s *strings.Builder) {
	if len(c.Pages) == 0 {
		return
	}
	var told []PageChange
	for _, p := range c.Pages {
		if !p.onlyBlock() {
			told = append(told, p)
		}
	}
	s.WriteString("\nPages")
	if len(told) > 0 {
		s.WriteString(": " + tally(statesOf(told, func(p PageChange) State { return p.State })))
	}
	s.WriteString("\n")
	width := 0
	for _, p := range told {
		width = max(width, utf8.RuneCountInString(sheetName(c.scheme, p.Number, p.Title)))
	}
	for _, p := range told {
		s.WriteString("  " + padTo(oneLine(sheetName(c.scheme, p.Number, p.Title)), width) + "  " + oneLine(p.Words()) + "\n")
	}
	if n := len(c.Pages) - len(told); n > 0 {
		s.WriteString("  " + restWords(n, len(told)) + "\n")
	}
}

func restWords(n, told int) string {
	other := ""
	if told > 0 {
		other = "other "
	}
	if n == 1 {
		return "1 " + other + "sheet: only the title block or the check code of a table"
	}
	return fmt.Sprintf("%d %ssheets: only the title block or the check code of a table", n, other)
}

func (c *Changes) jobsText(s *strings.Builder) {
	if c.JobsRead == 0 {
		return
	}
	words := tally(statesOf(c.Jobs, func(j JobChange) State { return j.State }))
	if words == "" {
		words = "none changed"
	}
	fmt.Fprintf(s, "\nSaved jobs: %d answered again, %s\n", c.JobsRead, words)
	for _, j := range c.Jobs {
		s.WriteString("  " + oneLine(j.Name) + ": " + oneLine(j.Calculator) + "\n")
		if j.Said != "" {
			s.WriteString("    " + oneLine(j.Said) + "\n")
		}
		movedText(s, "    ", j.Values)
		if len(j.Causes) > 0 {
			s.WriteString("    because: " + strings.Join(causeWords(j.Causes), "\n         and: ") + "\n")
		}
	}
}

func (c *Changes) notesText(s *strings.Builder) {
	if len(c.Notes) == 0 {
		return
	}
	s.WriteString("\nNotes\n")
	for _, u := range c.Notes {
		s.WriteString("  " + u + "\n")
	}
}
