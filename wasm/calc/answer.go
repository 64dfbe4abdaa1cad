package calc

import (
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// Answer is everything a calculator says. It holds values, not markup.
type Answer struct {
	Verdict          Verdict
	Headline         string // first words of the answer band; starts with the verdict if there is one
	Lead             string // one or two sentences with the values that matter, may be empty
	Values           []Finding
	Choices          []Pick
	Tables           []Table
	Steps            []Step
	Notes            []string
	Cautions         []Caution
	Rows             []book.Row // table rows used, in order of use, each once
	Sources          []Source
	Figure           *figure.Drawing
	Files            []File // to be carried away
	Sheet            *Sheet // of the job sheet only
	General          bool   // headed "general range, not your machine"
	Measured, Taught bool   // an empty field holds what the shop read, or what its cuts taught the law here
}

// File is a text that an answer gives to carry away: a contour, a list.
type File struct {
	_                [0]func() // never compared, so no code for comparing is made
	Name, What, Text string
}

// Verdict is the first word of an answer to a yes-or-no question.
type Verdict string

// The verdicts.
const (
	None   Verdict = ""
	Yes    Verdict = "Yes"
	No     Verdict = "No"
	OnlyIf Verdict = "Only if"
)

// Finding is one numeric answer with its range.
type Finding struct {
	_           [0]func() // never compared, so no code for comparing is made
	Name, Label string
	Help        string
	Range       unit.Range // base unit of Kind
	Kind        unit.Kind
	Style       unit.Style
	Text        string // printed: "0.054 mm (0.052 to 0.056)"
	Main        bool
	Width       string // which input makes most of the range; "" for a point
}

// Pick is one answer that is a choice, with every choice the inputs allow.
type Pick struct {
	Name, Label string
	Likely      Option
	All         []Option
	When        string // what separates them; "" when there is one
}

// Table is a small table of results. Blank columns are for the pen. A figure shows the
// same; on paper it then stands alone. What is for the screen alone is left off paper.
type Table struct {
	_       [0]func() // never compared, so no code for comparing is made
	Title   string
	Figure  *figure.Drawing
	Screen  bool
	Columns []Column
	Rows    [][]Cell
	Note    string
}

// Column heads a table's column.
type Column struct {
	_     [0]func() // never compared, so no code for comparing is made
	Head  string
	Right bool // numbers are set right
	Blank bool // left empty to be written in
	Axis  *Axis
}

// Axis is the shared scale of a column of range bars.
type Axis struct {
	Low, High float64
	Mark      float64 // the print's value as a line through all rows
	HasMark   bool
	Head      string // "0 to 0.104 mm"
}

// Cell is one entry of a table; a bar column uses Range on the column's axis.
type Cell struct {
	_      [0]func() // never compared, so no code for comparing is made
	Text   string
	Strong bool
	Range  *unit.Range
	At     *figure.Point // a place in the figure that the cell is about
}

// Step is one line of the working.
type Step struct {
	For     string // public name of the answer it works out; may be empty
	Name    string // what is worked out: "radius left"
	Formula string // "d/2 + g"
	Put     string // with the numbers: "0.1 mm / 2 + 0.004 mm"
	Equals  string // "0.054 mm"
	Source  string // bibliography key, or "" for a definition or plain geometry
}

// Caution is a signal word and what can happen.
type Caution struct{ Word, Text string }

// Source names a publication behind the answer. It stands only where a line of the
// working or a row used names its key or, with Words, where a note or caution with
// those words is shown.
type Source struct{ Key, Place, What, Words string }

// Note adds a sentence, once.
func (a *Answer) Note(text string) {
	for _, n := range a.Notes {
		if n == text {
			return
		}
	}
	a.Notes = append(a.Notes, text)
}

// Cite adds a source, once.
func (a *Answer) Cite(key, place, what string) { a.cite(Source{Key: key, Place: place, What: what}) }

func (a *Answer) cite(s Source) {
	for _, old := range a.Sources {
		if old == s {
			return
		}
	}
	a.Sources = append(a.Sources, s)
}

// entered leaves out every source that nothing shown rests on, and adds those of
// steps and of rows used that nobody named.
func (a *Answer) entered() {
	kept := a.Sources[:0]
	for _, s := range a.Sources {
		if a.names(s) {
			kept = append(kept, s)
		}
	}
	a.Sources = kept
	for _, st := range a.Steps {
		if publication(st.Source) && !a.cites(st.Source) {
			a.Cite(st.Source, "", st.Name)
		}
	}
	for _, r := range a.Rows {
		if r.Source != "" && !a.cites(r.Source) {
			a.Cite(r.Source, r.Place, "table "+r.Table)
		}
	}
}

// cites reports whether a work is named as a source.
func (a *Answer) cites(key string) bool {
	for _, s := range a.Sources {
		if s.Key == key {
			return true
		}
	}
	return false
}

// publication reports whether a line's source is a key of the bibliography and not
// a word for what the line is.
func publication(source string) bool {
	switch source {
	case "", "geometry", "definition", "mechanics", "Ohm's law", "electrostatics", "rule of mixtures":
		return false
	}
	return true
}

// names reports whether something that is shown names a source.
func (a *Answer) names(s Source) bool {
	for _, n := range a.Notes {
		if s.Words != "" && strings.Contains(n, s.Words) {
			return true
		}
	}
	for _, c := range a.Cautions {
		if s.Words != "" && strings.Contains(c.Text, s.Words) {
			return true
		}
	}
	for _, st := range a.Steps {
		if st.Source == s.Key {
			return true
		}
	}
	for _, r := range a.Rows {
		if r.Source == s.Key {
			return true
		}
	}
	return false
}

// Used adds the table rows an answer rests on, each once.
func (a *Answer) Used(rows ...book.Row) {
next:
	for _, r := range rows {
		for _, old := range a.Rows {
			if old.Table == r.Table && old.Key == r.Key {
				continue next
			}
		}
		a.Rows = append(a.Rows, r)
	}
}

// Caution adds a caution.
func (a *Answer) Caution(word, text string) {
	a.Cautions = append(a.Cautions, Caution{word, text})
}

// Value returns the finding of that name.
func (a *Answer) Value(name string) (Finding, bool) {
	for _, f := range a.Values {
		if f.Name == name {
			return f, true
		}
	}
	return Finding{}, false
}

// Pick returns the choice of that name.
func (a *Answer) Pick(name string) (Pick, bool) {
	for _, p := range a.Choices {
		if p.Name == name {
			return p, true
		}
	}
	return Pick{}, false
}

// Point is one evaluation. Steps are kept only for the likely point.
type Point struct {
	form       *Form
	keep       bool
	steps      []Step
	impossible string
}

// Step notes one line of the working.
func (p *Point) Step(s Step) {
	if p.keep {
		p.steps = append(p.steps, s)
	}
}

// Stepping reports whether steps are wanted, so that text is not built in vain.
func (p *Point) Stepping() bool { return p.keep }

// Impossible marks this combination of inputs as one that cannot be: a skim
// whose gap is above the roughing gap. The answers of this point are not used.
func (p *Point) Impossible(reason string) {
	if p.impossible == "" {
		p.impossible = reason
	}
}
