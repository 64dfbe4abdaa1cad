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
	"kerfbook/site/internal/source"
	"kerfbook/site/theme"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// Options is what a publication is made of.
type Options struct {
	Content fs.FS // the content folder
	// Calculators makes the set for the edition's book.
	Calculators func(*book.Book) (*calc.Set, error)
	Wasm        []byte // the compiled calculators, from BuildWasm
	// Packed is Pack(Wasm), for those who publish often; "" packs anew.
	Packed    string
	Toolchain string // version of the Go toolchain, kept in edition.json
	// Evidence holds checks.csv and cases.csv, what the computing was held against;
	// nil for an edition published without them.
	Evidence fs.FS
	OneFile  bool // also write the whole handbook as one file
	Progress func(step string, done, of int)
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
	Counts   []Count
	Edition  *Edition // nil after a check or a failure
	// Unexplained lists the numbers in the text that nothing explains, with
	// their place: "handbook/20-wire/index.md:12:5: 0.25 mm".
	Unexplained []string
}

// BuildWasm compiles the calculators of the module at dir.
func BuildWasm(ctx context.Context, dir string) ([]byte, error) { return bundle.Wasm(ctx, dir) }

// Pack packs the calculators as a page opened from disk carries them.
func Pack(wasm []byte) string { return bundle.Packed(wasm) }

// Check loads and checks the content and writes nothing.
func Check(o Options) (*Result, error) {
	_, res, err := load(o)
	return res, err
}

func load(o Options) (*check.Site, *Result, error) {
	list := &diag.List{}
	c := source.Load(o.Content, list)
	res := &Result{Texts: c.Texts, Pages: len(c.All())}
	var set *calc.Set
	var err error
	if c.Sound { // on broken tables nothing is evaluated: one fault is not told twice
		set, err = o.Calculators(c.Book)
	}
	if err != nil {
		list.Add(diag.Message{Kind: diag.Error, Text: "the calculators cannot use these tables: " + err.Error()})
	}
	var s *check.Site
	if set != nil && err == nil {
		s = check.Run(c, set, list)
		res.Counts = counts(s)
		for _, p := range s.Pages {
			for _, n := range p.Numbers.Where {
				line, col := diag.Position(p.Text, n.Start)
				res.Unexplained = append(res.Unexplained, fmt.Sprintf("%s:%d:%d: %s", p.File, line, col, n.Text))
			}
		}
	}
	res.Messages, res.Warnings = list.Messages(), list.Warnings()
	if list.Errors() > 0 {
		return nil, res, ErrContent
	}
	return s, res, nil
}

// Publish makes the whole edition. Nothing is handed to the sink before the
// content is found free of errors; edition.json is handed over last.
func Publish(ctx context.Context, o Options, sink Sink) (*Result, error) {
	s, res, err := load(o)
	if err != nil {
		return res, err
	}
	t, err := theme.New()
	if err != nil {
		return res, err
	}
	p := &press{options: o, site: s, theme: t, sink: sink, result: res}
	if err := p.run(ctx); err != nil {
		return res, err
	}
	res.Edition = &p.edition
	return res, nil
}
