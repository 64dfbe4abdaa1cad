// Package site turns the handbook's content into a static site: load, check,
// bundle, render, write. It is given the calculators and the wasm bytes by the
// command, so that it is tested with calculators of its own, and it hands every
// finished file to a sink. It never imports the catalog, and wasm never imports
// it.
package site

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"kerfbook/site/diag"
	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/check"
	"kerfbook/site/internal/memo"
	"kerfbook/site/internal/render"
	"kerfbook/site/internal/source"
	"kerfbook/site/record"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// Options is what a publication is made of.
type Options struct {
	Content fs.FS // the content folder
	// Shop is a shop's folder, laid over the content; nil for the handbook itself.
	Shop fs.FS
	// Calculators makes the set for the edition's book.
	Calculators func(*book.Book) (*calc.Set, error)
	// Sweep looks at tables of rules over many jobs, those that the content
	// records among them, and says what no job needs or where two disagree. Only
	// Check asks it; what it finds are warnings.
	Sweep func(b *book.Book, recorded []Recorded) book.Faults
	// Memory remembers answers from one publication to the next; nil evaluates all
	// of them. Check asks it too.
	Memory *Memory
	Wasm   []byte // the compiled calculators, from BuildWasm
	// Packed is Pack(Wasm), for those who publish often; "" packs anew.
	Packed    string
	Toolchain string // version of the Go toolchain, kept in edition.json
	// Evidence holds checks.csv and cases.csv, what the computing was held against;
	// nil for an edition published without them.
	Evidence fs.FS
	OneFile  bool // also write the whole handbook as one file
	Progress func(step string, done, of int)
}

// Recorded is an answer that the content records: a calculator and its inputs.
type Recorded struct {
	Calculator string
	Values     map[string]string
}

// Sink takes finished files. Put may be called from several goroutines.
type Sink interface {
	Put(name string, data []byte) error
}

// Files is a sink that keeps everything, for tests and for preview.
type Files map[string][]byte

// Put keeps a file.
func (f Files) Put(name string, data []byte) error {
	if _, dup := f[name]; dup {
		return fmt.Errorf("the file %s is written twice", name)
	}
	f[name] = data
	return nil
}

// ErrContent is returned when the content has errors; the messages say which.
var ErrContent = errors.New("the content has errors; nothing was published")

// Result is what a check or a publication found.
type Result struct {
	Messages []diag.Message
	Texts    diag.SourceMap
	Pages    int
	Warnings int // lints that the content does not answer
	Counts   []record.Count
	Edition  *record.Edition // nil after a check or a failure
	// Unexplained lists the numbers in the text that nothing explains, with
	// their place: "handbook/20-wire/index.md:12:5: 0.25 mm".
	Unexplained []string
}

// BuildWasm compiles the calculators of the module at dir.
func BuildWasm(ctx context.Context, dir string) ([]byte, error) { return bundle.Wasm(ctx, dir) }

// Pack packs the calculators as a page opened from disk carries them.
func Pack(wasm []byte) string { return bundle.Packed(wasm) }

// Tables reads the data tables, a shop's laid over them; nil when something in
// them is wrong, which the result says.
func Tables(content, shop fs.FS) (*book.Book, *Result) {
	list := &diag.List{}
	c := source.Tables(content, shop, list)
	res := &Result{Messages: list.Messages(), Texts: c.Texts}
	if list.Errors() > 0 {
		return nil, res
	}
	return c.Book, res
}

// Check loads and checks the content and writes nothing.
func Check(o Options) (*Result, error) {
	d, res, err := load(o, o.Sweep)
	if err == nil {
		o.Memory.keep(d)
	}
	return res, err
}

// Draft is content that was loaded and found free of errors.
type Draft struct {
	options Options
	site    *check.Site
	run     *memo.Run // nil when nothing is remembered
	result  *Result
	before  *Draft // the last one that this process published, or nil

	bodies map[string]*render.Body // of the pages, by file
	words  wordSums
	told   map[string]map[int]int // what the pages say of the terms, by file
}

func load(o Options, sweep func(*book.Book, []Recorded) book.Faults) (*Draft, *Result, error) {
	list := &diag.List{}
	before := o.Memory.last()
	c := source.Load(o.Content, o.Shop, before.checked().Tree, list)
	again := c.Sound && before.sameTables(c)
	if again {
		c.Book, c.Base = before.site.Content.Book, before.site.Content.Base
	}
	run := o.Memory.begin(c)
	res := &Result{Texts: c.Texts, Pages: len(c.All())}
	var set, base *calc.Set
	var err error
	switch {
	case again:
		set, base = before.site.Set, before.site.Base
	case c.Sound: // on broken tables nothing is evaluated: one fault is not told twice
		set, err = o.Calculators(c.Book)
		if base = set; err == nil && c.Base != c.Book {
			base, err = o.Calculators(c.Base)
		}
	}
	if err != nil {
		list.Add(diag.Message{ID: diag.TablesUnfit, Kind: diag.Error, Text: "the calculators cannot use these tables: " + err.Error(), Notes: deleted(c)})
	}
	if set != nil && err == nil && set.Faults != nil && !again {
		if faults := set.Faults(c.Book); len(faults) > 0 {
			tell(c, list, diag.RuleFault, diag.Error, faults)
			set = nil // on broken rules nothing is evaluated either
		}
	}
	if set != nil && err == nil && c.Shop != nil && !answers(c, set, run.Eval, list) {
		set = nil
	}
	var s *check.Site
	if set != nil && err == nil {
		s = check.Run(c, set, base, run.Eval, before.checked(), list)
		if c.Shop == nil && list.Errors() == 0 {
			tell(c, list, diag.TableUnread, diag.Warning, s.Unread())
		}
		if sweep != nil && list.Errors() == 0 {
			tell(c, list, diag.RuleFault, diag.Warning, sweep(c.Book, recorded(s)))
		}
		res.Counts = counts(s)
		for _, p := range s.Pages {
			for _, n := range p.Numbers.Where {
				line, col := diag.Position(p.Text, n.Start)
				res.Unexplained = append(res.Unexplained, fmt.Sprintf("%s:%d:%d: %s", p.File, line, col, n.Text))
			}
		}
	}
	res.Messages, res.Warnings = origins(c, list), list.Warnings()
	if list.Errors() > 0 {
		return nil, res, ErrContent
	}
	return &Draft{options: o, site: s, run: run, result: res, before: before}, res, nil
}

// deleted names the rows that a shop took away, for those who look why a calculator
// cannot work.
func deleted(c *source.Content) (notes []string) {
	for _, ch := range c.Changes {
		if ch.Kind == "deleted" && len(notes) < 10 {
			notes = append(notes, fmt.Sprintf("%s, line %d, deletes the row %s of the table %s", ch.File, ch.Line, ch.Key, ch.Table))
		}
	}
	return notes
}

// answers asks every calculator for its own defaults on a shop's tables. One that
// stumbles over a row that is gone is the tables' fault: it is told, and nothing
// more is evaluated.
func answers(c *source.Content, set *calc.Set, eval check.Eval, list *diag.List) (ok bool) {
	ok = true
	for _, k := range set.All() {
		func() {
			defer func() {
				if r := recover(); r != nil {
					ok = false
					list.Add(diag.Message{ID: diag.RowGone, Kind: diag.Error, Text: fmt.Sprintf("the calculator “%s” cannot work with the shop's tables: a row that it needs is gone", k.ID), Notes: deleted(c)})
				}
			}()
			eval(k, c.Book, calc.Input{})
		}()
	}
	return ok
}

// origins gives the messages their places in the files that people write: text
// that a shop set into a page is in the shop's own file.
func origins(c *source.Content, list *diag.List) []diag.Message {
	pages := map[string]*source.Page{}
	for _, p := range c.All() {
		if len(p.Parts) > 0 {
			pages[p.File] = p
		}
	}
	if len(pages) == 0 {
		return list.Messages()
	}
	mapped := &diag.List{}
	for _, m := range list.Messages() {
		if p := pages[m.Span.File]; p != nil {
			m.Span = p.Origin(m.Span)
		}
		mapped.Add(m)
	}
	return mapped.Messages()
}

// tell adds what is wrong in a table, at its place.
func tell(c *source.Content, list *diag.List, id diag.ID, kind diag.Kind, faults book.Faults) {
	for i, f := range faults {
		m := diag.Message{ID: id, Kind: kind, Span: diag.Span{File: c.FileOf(f.File), Start: f.Offset, End: f.Offset + f.Len}, Text: f.Text}
		if i == 0 && kind == diag.Error {
			m.Notes = deleted(c)
		}
		list.Add(m)
	}
}

// recorded are the answers of the content's pages with their inputs.
func recorded(s *check.Site) []Recorded {
	var out []Recorded
	for _, r := range s.Answers {
		values := map[string]string{}
		for _, g := range r.Inputs {
			values[g.Name] = g.Text
		}
		out = append(out, Recorded{Calculator: r.Calculator, Values: values})
	}
	return out
}

// Publish makes the whole edition. Nothing is handed to the sink before the
// content is found free of errors; edition.json is handed over last.
func Publish(ctx context.Context, o Options, sink Sink) (*Result, error) {
	d, res, err := Prepare(o)
	if err != nil {
		return res, err
	}
	return d.Publish(ctx, o.Wasm, sink)
}

// Prepare loads and checks the content; the draft is published when it is known
// where to, and by which calculators.
func Prepare(o Options) (*Draft, *Result, error) { return load(o, nil) }

// Publish makes the whole edition of a draft, once. wasm are the compiled
// calculators, from BuildWasm.
func (d *Draft) Publish(ctx context.Context, wasm []byte, sink Sink) (*Result, error) {
	d.options.Wasm = wasm
	p := &press{options: d.options, draft: d, site: d.site, sink: sink, result: d.result}
	if err := p.run(ctx); err != nil {
		return d.result, err
	}
	d.options.Memory.keep(d)
	d.result.Edition = &p.edition
	return d.result, nil
}
