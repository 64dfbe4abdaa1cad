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
	Kerfbook  int            `json:"kerfbook"` // version of this record
	Title     string         `json:"title"`
	Owner     string         `json:"owner"`
	Revision  string         `json:"revision"`
	Date      string         `json:"date"`
	Digest    string         `json:"digest"` // of content, book, calculators and theme
	Book      string         `json:"book"`
	Wasm      string         `json:"wasm"`
	Toolchain string         `json:"toolchain"`
	Pages     []PageRecord   `json:"pages"`
	Rows      []RowRecord    `json:"rows"`
	Answers   []AnswerRecord `json:"answers"`
	Counts    []Count        `json:"counts"`
	Files     []FileRecord   `json:"files"`
}

// FileRecord is one published file.
type FileRecord struct {
	Name   string `json:"name"`
	Digest string `json:"digest"`
	Size   int    `json:"size"`
}

// PageRecord is one page and its check code.
type PageRecord struct {
	Address string `json:"address"`
	Number  string `json:"number"`
	Title   string `json:"title"`
	Check   string `json:"check"`
}

// RowRecord is one row of a data table.
type RowRecord struct {
	Table      string `json:"table"`
	Key        string `json:"key"`
	Digest     string `json:"digest"`
	Source     string `json:"source,omitempty"`
	Provenance string `json:"provenance"`
}

// AnswerRecord is one computed answer as printed, with the rows it used.
type AnswerRecord struct {
	ID         string       `json:"id"`
	Kind       string       `json:"kind"`
	Calculator string       `json:"calculator"`
	Inputs     []NamedText  `json:"inputs"`
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
	p.edition = Edition{Kerfbook: 1, Title: c.Edition.Title, Owner: c.Edition.Owner, Revision: c.Edition.Revision, Date: c.Edition.Date,
		Book: sum([]byte(bookText)), Wasm: sum(p.options.Wasm), Toolchain: p.options.Toolchain, Counts: p.result.Counts}
	var all strings.Builder
	names := make([]string, 0, len(c.Texts))
	for name := range c.Texts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&all, "%s %s\n", name, sum(c.Texts[name]))
	}
	fmt.Fprintf(&all, "book %s\nwasm %s\n", p.edition.Book, p.edition.Wasm)
	p.edition.Digest = sum([]byte(all.String()))
	for _, t := range c.Book.Tables() {
		for _, r := range t.Rows {
			p.edition.Rows = append(p.edition.Rows, RowRecord{t.Name, r.Key, r.Digest(t.Columns), r.Source, r.Provenance})
		}
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
	out := AnswerRecord{ID: id, Kind: a.Kind, Calculator: a.Calculator, Inputs: []NamedText{}, Values: []NamedText{}, Rows: []string{}, Reply: a.Reply.Answer}
	for _, g := range a.Inputs {
		out.Inputs = append(out.Inputs, NamedText{g.Name, g.Text})
	}
	if a.Reply.Answer == nil {
		return out
	}
	for _, f := range a.Reply.Answer.Values {
		out.Values = append(out.Values, NamedText{f.Name, f.Text})
	}
	for _, c := range a.Reply.Answer.Choices {
		var all []string
		for _, o := range c.All {
			all = append(all, o.Value)
		}
		out.Values = append(out.Values, NamedText{c.Name, strings.Join(all, " or ")})
	}
	for _, r := range a.Reply.Answer.Rows {
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
