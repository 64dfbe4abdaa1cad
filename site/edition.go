package site

import (
	"fmt"
	"slices"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/site/record"
	"kerfbook/wasm/calc"
)

// begin fills the record with everything but the files.
func (p *press) begin(bookText string) {
	c := p.site.Content
	p.edition = record.Edition{Kerfbook: record.Version, Title: c.Edition.Title, Owner: c.Edition.Owner, Scheme: c.Edition.Scheme, Revision: c.Edition.Revision, Date: c.Edition.Date,
		Book: record.Sum([]byte(bookText)), Wasm: p.made.wasm.sum, Toolchain: p.options.Toolchain, Counts: p.result.Counts}
	var all strings.Builder
	names := make([]string, 0, len(c.Texts))
	for name := range c.Texts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&all, "%s %s\n", name, record.Sum(c.Texts[name]))
	}
	fmt.Fprintf(&all, "book %s\nwasm %s\nstyle %s\nscript %s\n", p.edition.Book, p.edition.Wasm, p.made.style.sum, p.made.script.sum)
	p.edition.Digest = record.Sum([]byte(all.String()))
	for _, t := range c.Book.Tables() {
		whole := []string{strings.Join(t.Columns, "\x1f")}
		for _, r := range t.Rows {
			named := []record.NamedText{}
			for _, col := range t.Columns {
				if text := r.Cell(col); text != "" {
					named = append(named, record.NamedText{Name: col, Text: text})
				}
			}
			digest := r.Digest(t.Columns)
			whole = append(whole, r.Key+" "+digest)
			p.edition.Rows = append(p.edition.Rows, record.Row{Table: t.Name, Key: r.Key, Digest: digest, Source: r.Source, Provenance: r.Provenance, Cells: named})
		}
		p.edition.Tables = append(p.edition.Tables, record.Table{Name: t.Name, Title: t.Title, Digest: record.Short(record.Sum([]byte(strings.Join(whole, "\n")))), Count: len(t.Rows)})
	}
	counted := map[string]int{}
	for _, a := range p.site.Answers {
		p.edition.Answers = append(p.edition.Answers, recordOf(a, counted))
	}
}

// recordOf gives every answer an identity of its own: examples by their name,
// the others by their page and order.
func recordOf(a check.Recorded, counted map[string]int) record.Answer {
	id := a.ID + " " + a.Kind + " " + a.Calculator
	counted[id]++
	if n := counted[id]; n > 1 {
		id += fmt.Sprint(" ", n)
	}
	out := Printed(a.Reply.Answer)
	out.ID, out.Kind, out.Calculator = id, a.Kind, a.Calculator
	for _, g := range a.Inputs {
		out.Inputs = append(out.Inputs, record.NamedText{Name: g.Name, Text: g.Text})
	}
	return out
}

// Printed is what a record keeps of an answer: its verdict, its values as they
// are printed and the rows it used. Nil is an answer without values.
func Printed(a *calc.Answer) record.Answer {
	out := record.Answer{Inputs: []record.NamedText{}, Values: []record.NamedText{}, Rows: []string{}}
	if a == nil {
		return out
	}
	out.Verdict = string(a.Verdict)
	for _, f := range a.Values {
		out.Values = append(out.Values, record.NamedText{Name: f.Name, Text: f.Text})
	}
	for _, c := range a.Choices {
		var all []string
		for _, o := range c.All {
			all = append(all, o.Value)
		}
		out.Values = append(out.Values, record.NamedText{Name: c.Name, Text: strings.Join(all, " or ")})
	}
	for _, r := range a.Rows {
		out.Rows = append(out.Rows, r.Table+" "+r.Key)
	}
	return out
}

// counts is what `check --count` prints; the names are fixed.
func counts(s *check.Site) []record.Count {
	var words, worked, figures, computed, cited, tables, practice, definition, unexplained int
	for _, p := range s.Pages {
		words += p.Words
		n := p.Numbers
		computed, cited, tables, practice = computed+n.Computed, cited+n.Cited, tables+n.Tables, practice+n.Practice
		definition, unexplained = definition+n.Definition, unexplained+n.Unexplained
		for _, b := range p.Blocks {
			f := b.Facts()
			if f.Worked {
				worked++
			}
			if f.Figure {
				figures++
			}
		}
	}
	for _, a := range s.Answers {
		if a.Kind == "default" && a.Reply.Answer != nil && a.Reply.Answer.Figure != nil {
			figures++
		}
	}
	return []record.Count{count("pages", len(s.Pages)), count("words", words), count("calculators", len(s.Set.All())), count("worked examples", worked), count("figures", figures),
		count("problems", 0), count("terms", len(s.Content.Terms)),
		count("numbers computed", computed), count("numbers cited", cited), count("numbers from tables", tables), count("numbers by common practice", practice),
		count("numbers by definition", definition), count("numbers unexplained", unexplained)}
}

func count(name string, value int) record.Count { return record.Count{Name: name, Value: value} }
