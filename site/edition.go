package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/wasm/calc"
)

// Edition is the record every publication writes last, as edition.json. Nothing
// reads HTML back: comparisons, check codes and counts read this.
type Edition struct {
	Kerfbook  int            `json:"kerfbook"` // version of this record, see recordVersion
	Title     string         `json:"title"`
	Owner     string         `json:"owner"`
	Scheme    string         `json:"scheme"` // stands before every identification number
	Revision  string         `json:"revision"`
	Date      string         `json:"date"`
	Digest    string         `json:"digest"` // of content, book, calculators and theme
	Book      string         `json:"book"`
	Wasm      string         `json:"wasm"`
	Toolchain string         `json:"toolchain"`
	Pages     []PageRecord   `json:"pages"`
	Tables    []TableRecord  `json:"tables"`
	Rows      []RowRecord    `json:"rows"`
	Answers   []AnswerRecord `json:"answers"`
	Counts    []Count        `json:"counts"`
	Files     []FileRecord   `json:"files"`
}

// recordVersion is what a publication writes. Version 1 had no tables, no cells,
// no verdicts, and of a page only a check code that changed with every edition.
const recordVersion = 2

// FileRecord is one published file.
type FileRecord struct {
	Name   string `json:"name"`
	Digest string `json:"digest"`
	Size   int    `json:"size"`
}

// PageRecord is one page and its check code, which depends on everything that
// is printed on the sheet. Printed is the digest of the sheet without its title
// block, Text that of its words alone, every number taken out: the two tell a
// changed number from a changed sentence.
type PageRecord struct {
	Address string `json:"address"`
	Number  string `json:"number"`
	Title   string `json:"title"`
	Check   string `json:"check"`
	Text    string `json:"text"`
	Printed string `json:"printed"`
}

// TableRecord is one data table; Digest is of its columns and all its rows.
type TableRecord struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Digest string `json:"digest"`
	Count  int    `json:"count"`
}

// Code is the table's check code: a half for its name, a half for its rows.
func (t TableRecord) Code() string {
	return sum([]byte("table " + t.Name))[:codePart] + "-" + t.Digest[:min(codePart, len(t.Digest))]
}

// RowRecord is one row of a data table with its cells; an empty cell is left out.
type RowRecord struct {
	Table      string      `json:"table"`
	Key        string      `json:"key"`
	Digest     string      `json:"digest"`
	Source     string      `json:"source,omitempty"`
	Provenance string      `json:"provenance"`
	Cells      []NamedText `json:"cells"`
}

// AnswerRecord is one computed answer as printed, with the rows it used.
type AnswerRecord struct {
	ID         string       `json:"id"`
	Kind       string       `json:"kind"`
	Calculator string       `json:"calculator"`
	Inputs     []NamedText  `json:"inputs"`
	Verdict    string       `json:"verdict,omitempty"`
	Values     []NamedText  `json:"values"`
	Rows       []string     `json:"rows"`
	Reply      *calc.Answer `json:"-"`
}

// NamedText is a public name and its printed text.
type NamedText struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Count is one line of what the handbook holds.
type Count struct {
	Name  string `json:"name"`
	Value int    `json:"value"`
}

// begin fills the record with everything but the files.
func (p *press) begin(bookText string) {
	c := p.site.Content
	p.edition = Edition{Kerfbook: recordVersion, Title: c.Edition.Title, Owner: c.Edition.Owner, Scheme: c.Edition.Scheme, Revision: c.Edition.Revision, Date: c.Edition.Date,
		Book: sum([]byte(bookText)), Wasm: p.made.wasm.sum, Toolchain: p.options.Toolchain, Counts: p.result.Counts}
	var all strings.Builder
	names := make([]string, 0, len(c.Texts))
	for name := range c.Texts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&all, "%s %s\n", name, sum(c.Texts[name]))
	}
	fmt.Fprintf(&all, "book %s\nwasm %s\nstyle %s\nscript %s\n", p.edition.Book, p.edition.Wasm, p.made.style.sum, p.made.script.sum)
	p.edition.Digest = sum([]byte(all.String()))
	for _, t := range c.Book.Tables() {
		whole := []string{strings.Join(t.Columns, "\x1f")}
		for _, r := range t.Rows {
			named := []NamedText{}
			for _, col := range t.Columns {
				if text := r.Cell(col); text != "" {
					named = append(named, NamedText{col, text})
				}
			}
			digest := r.Digest(t.Columns)
			whole = append(whole, r.Key+" "+digest)
			p.edition.Rows = append(p.edition.Rows, RowRecord{t.Name, r.Key, digest, r.Source, r.Provenance, named})
		}
		p.edition.Tables = append(p.edition.Tables, TableRecord{t.Name, t.Title, short(sum([]byte(strings.Join(whole, "\n")))), len(t.Rows)})
	}
	counted := map[string]int{}
	for _, a := range p.site.Answers {
		p.edition.Answers = append(p.edition.Answers, recordOf(a, counted))
	}
}

// recordOf gives every answer an identity of its own: examples by their name,
// the others by their page and order.
func recordOf(a check.Recorded, counted map[string]int) AnswerRecord {
	id := a.ID + " " + a.Kind + " " + a.Calculator
	counted[id]++
	if n := counted[id]; n > 1 {
		id += fmt.Sprint(" ", n)
	}
	out := Printed(a.Reply.Answer)
	out.ID, out.Kind, out.Calculator, out.Reply = id, a.Kind, a.Calculator, a.Reply.Answer
	for _, g := range a.Inputs {
		out.Inputs = append(out.Inputs, NamedText{g.Name, g.Text})
	}
	return out
}

// Printed is what a record keeps of an answer: its verdict, its values as they
// are printed and the rows it used. Nil is an answer without values.
func Printed(a *calc.Answer) AnswerRecord {
	out := AnswerRecord{Inputs: []NamedText{}, Values: []NamedText{}, Rows: []string{}}
	if a == nil {
		return out
	}
	out.Verdict = string(a.Verdict)
	for _, f := range a.Values {
		out.Values = append(out.Values, NamedText{f.Name, f.Text})
	}
	for _, c := range a.Choices {
		var all []string
		for _, o := range c.All {
			all = append(all, o.Value)
		}
		out.Values = append(out.Values, NamedText{c.Name, strings.Join(all, " or ")})
	}
	for _, r := range a.Rows {
		out.Rows = append(out.Rows, r.Table+" "+r.Key)
	}
	return out
}

// encode writes the record; its first bytes mark a folder as ours.
func (e *Edition) encode() ([]byte, error) {
	slices.SortFunc(e.Files, func(a, b FileRecord) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	w := json.NewEncoder(&out)
	w.SetEscapeHTML(false)
	w.SetIndent("", " ")
	if err := w.Encode(e); err != nil {
		return nil, err
	}
	// The marker wants no space after the brace.
	return append([]byte(`{"kerfbook":`), bytes.TrimLeft(bytes.TrimPrefix(out.Bytes(), []byte("{\n \"kerfbook\":")), " ")...), nil
}

// counts is what `check --count` prints; the names are fixed.
func counts(s *check.Site) []Count {
	var words, worked, figures, computed, cited, tables, practice, definition, unexplained int
	for _, p := range s.Pages {
		words += p.Words
		n := p.Numbers
		computed, cited, tables, practice = computed+n.Computed, cited+n.Cited, tables+n.Tables, practice+n.Practice
		definition, unexplained = definition+n.Definition, unexplained+n.Unexplained
		for _, b := range p.Blocks {
			switch b.(type) {
			case *check.Worked:
				worked++
			case *check.Figure:
				figures++
			}
		}
	}
	for _, a := range s.Answers {
		if a.Kind == "default" && a.Reply.Answer != nil && a.Reply.Answer.Figure != nil {
			figures++
		}
	}
	return []Count{{"pages", len(s.Pages)}, {"words", words}, {"calculators", len(s.Set.All())}, {"worked examples", worked}, {"figures", figures},
		{"problems", 0}, {"terms", len(s.Content.Terms)},
		{"numbers computed", computed}, {"numbers cited", cited}, {"numbers from tables", tables}, {"numbers by common practice", practice},
		{"numbers by definition", definition}, {"numbers unexplained", unexplained}}
}
