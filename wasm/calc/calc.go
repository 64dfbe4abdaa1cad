// Package calc says what a calculator is: a declaration that binds named
// fields to typed variables, a formula that is run at one point of its inputs,
// and the answer that is made from all the points the inputs allow.
//
// It may import the standard library's text and number packages, unit, book,
// spell and figure; never a topic, never panel. The topics beside it (corner, ladder,
// ...) import it, and catalog lists them.
package calc

import (
	"errors"
	"slices"
	"strings"

	"kerfbook/wasm/book"
)

// Calculator is one question with a computed answer.
type Calculator struct {
	ID       string   // public name: lower case, digits, hyphens
	Aliases  []string // older public names, never dropped
	Title    string   // short name on the calculators' page: "Pass plan"
	Question string   // what it answers, as a reader would ask it
	Summary  string   // one sentence for lists
	Tables   []string // tables of the book that it reads, with their columns: "pushes load_*_npm" reads three
	Long     bool     // an answer may take seconds: it is worked out beside the page

	// Build declares the fields and answers on the form, bound to variables
	// of its own, and returns the two functions that use those variables. It
	// is called anew for every evaluation, so that nothing is shared.
	Build func(f *Form, b *book.Book) Run

	// defaults are the fields as they stand when nobody has typed, read once when
	// a set is made and never changed after.
	defaults map[string]State
	declared *declared
}

// readDefaults reads the default of every field.
func (c *Calculator) readDefaults(b *book.Book) {
	f, run := c.form(b)
	e := &evaluation{form: f, run: run, rows: map[string][]book.Row{}}
	read := map[string]State{}
	for _, d := range f.fields {
		if d.Default != "" && d.Shape == QuantityShape {
			if st := e.read(d, d.Default, Input{Strict: true}, false); st.Problem == "" {
				read[d.Name] = st
			}
		}
	}
	known := &declared{}
	for _, d := range f.fields {
		known.fields = append(known.fields, d.Field)
	}
	for _, d := range f.outs {
		known.outs = append(known.outs, d.Out)
	}
	c.defaults, c.declared = read, known
}

// Run is the computing half of a calculator.
type Run struct {
	// Point reads the bound input variables and sets the bound answers. It
	// must depend on nothing else: the range search calls it many times.
	Point func(p *Point)
	// Say turns the ranges found into words, tables and a figure. The bound
	// variables hold the likely values while it runs.
	Say func(r *Result, a *Answer)
}

// Set is a validated list of calculators, in the order of the handbook.
type Set struct {
	list []*Calculator
	// Faults says what is wrong in tables that only a calculator understands,
	// each at its place; nil when there are none such. The browser's set has none.
	Faults func(b *book.Book) book.Faults
}

// NewSet checks the declarations (names, duplicates, defaults that do not
// read, answers that name unknown fields) against the book and returns the set.
// Every fault found is in the error, joined.
func NewSet(b *book.Book, list ...*Calculator) (*Set, error) {
	var faults []error
	seen := map[string]bool{}
	for _, c := range list {
		for _, id := range append([]string{c.ID}, c.Aliases...) {
			if !publicName(id) {
				faults = append(faults, errors.New("calculator name "+quote(id)+" is not lower-case letters, digits and hyphens"))
			}
			if seen[id] {
				faults = append(faults, errors.New("calculator name "+quote(id)+" is declared twice"))
			}
			seen[id] = true
		}
		if c.Title == "" || c.Question == "" || c.Summary == "" || c.Build == nil {
			faults = append(faults, errors.New("calculator "+quote(c.ID)+" lacks a title, a question, a summary or its Build"))
			continue
		}
		if missing := c.missing(b); missing != nil {
			faults = append(faults, missing...)
			continue
		}
		f, run, err := c.tried(b)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		f.validate()
		f.checkCards(b)
		if run.Point == nil || run.Say == nil {
			f.fault("Build returned no Point or no Say")
		}
		for _, fault := range f.faults {
			faults = append(faults, errors.New("calculator "+quote(c.ID)+": "+fault))
		}
	}
	if len(faults) > 0 {
		return &Set{list: list}, errors.Join(faults...)
	}
	return Trusted(b, list...), nil
}

// Trusted is a set whose declarations were checked when the handbook was
// published: the browser does not carry the checks again.
func Trusted(b *book.Book, list ...*Calculator) *Set {
	for _, c := range list {
		c.readDefaults(b)
	}
	return &Set{list: list}
}

// All returns the calculators in order. The slice is a copy.
func (s *Set) All() []*Calculator { return slices.Clone(s.list) }

// Find returns the calculator of that name or older name.
func (s *Set) Find(id string) (*Calculator, bool) {
	for _, c := range s.list {
		if c.ID == id || slices.Contains(c.Aliases, id) {
			return c, true
		}
	}
	return nil, false
}

// IDs returns the public names in order.
func (s *Set) IDs() []string {
	var ids []string
	for _, c := range s.list {
		ids = append(ids, c.ID)
	}
	return ids
}

// Describe returns the declared fields and answers, for the form, the help and
// the checks alike.
func (c *Calculator) Describe(b *book.Book) ([]Field, []Out) {
	f, _ := c.form(b)
	fields := make([]Field, len(f.fields))
	for i, d := range f.fields {
		fields[i] = d.Field
	}
	outs := make([]Out, len(f.outs))
	for i, d := range f.outs {
		outs[i] = d.Out
	}
	return fields, outs
}

func (c *Calculator) form(b *book.Book) (*Form, Run) {
	f := &Form{known: c.declared}
	return f, c.Build(f, b)
}

// tried makes the form of a calculator that nobody has checked yet: what its Build
// looks up may not be there.
func (c *Calculator) tried(b *book.Book) (f *Form, run Run, err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case string: // a column that is not there
			err = errors.New("calculator " + quote(c.ID) + ": " + r)
		default:
			panic(r)
		}
	}()
	f, run = c.form(b)
	return f, run, nil
}

func publicName(s string) bool {
	if s == "" || s[0] == '-' || s[len(s)-1] == '-' {
		return false
	}
	return strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

func quote(s string) string { return "\"" + s + "\"" }
