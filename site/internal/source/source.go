// Package source reads the content folder: pages with their front matter and
// their tree, the data tables, the bibliography, the glossary and the edition's
// own data. Every fault is a message with its place. It may import goldmark, a
// YAML decoder, diag and the book; it writes nothing.
package source

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"

	"kerfbook/site/diag"
	"kerfbook/wasm/book"
)

// maxFile is the largest text file read as a page or a table.
const maxFile = 4 << 20

// Content is everything the publisher works from.
type Content struct {
	Edition  Edition
	Works    []Work // bibliography, in file order
	Terms    []Term // glossary, in file order
	Book     *book.Book
	Sound    bool // the tables could be read, so that examples may be evaluated
	Chapters []*Chapter
	First    *Page // the first page
	// Texts holds every text file read, by name, for messages that show a line.
	Texts  diag.SourceMap
	parser parser.Parser
}

// Chapter is a folder of pages. Its own page is index.md.
type Chapter struct {
	Slug   string
	Number int
	Index  *Page
	Pages  []*Page // without the index, in order
}

// Page is one markdown file.
type Page struct {
	File    string // "handbook/20-wire/index.md"
	Address string // "wire/index.html", under the edition's root
	Sheet   string // "2" for a chapter's own page, "2.3" for its third page
	Text    []byte // the file as it is
	Body    []byte // the same length, the front matter blanked
	Front   Front
	Doc     ast.Node
	Chapter *Chapter // nil for the first page
}

// All returns every page in reading order, the first page first.
func (c *Content) All() []*Page {
	var out []*Page
	if c.First != nil {
		out = append(out, c.First)
	}
	for _, ch := range c.Chapters {
		if ch.Index != nil {
			out = append(out, ch.Index)
		}
		out = append(out, ch.Pages...)
	}
	return out
}

// Load reads the content folder. Faults go to the list; what could be read is
// returned all the same, so that one run names everything that is wrong.
func Load(fsys fs.FS, list *diag.List) *Content {
	c := &Content{Texts: diag.SourceMap{}, parser: Markdown().Parser()}
	l := &loader{fsys: fsys, list: list, c: c}
	l.strictYAML("edition.yaml", &c.Edition)
	var works struct{ Works []Work }
	l.strictYAML("bibliography.yaml", &works)
	c.Works = works.Works
	var terms struct{ Terms []Term }
	l.strictYAML("glossary.yaml", &terms)
	c.Terms = terms.Terms
	l.checkKeys()
	l.tables()
	l.pages()
	return c
}

type loader struct {
	fsys fs.FS
	list *diag.List
	c    *Content
}

// read returns a text file of the content folder and keeps it for messages.
func (l *loader) read(name string) ([]byte, bool) {
	info, err := fs.Stat(l.fsys, name)
	if err == nil && info.Size() > maxFile {
		l.problem(name, 0, 0, "the file is larger than 4 MB: a page or a table is not, so it was not read")
		return nil, false
	}
	text, err := fs.ReadFile(l.fsys, name)
	if err != nil {
		what := "the file cannot be read"
		if errors.Is(err, fs.ErrNotExist) {
			what = "the file is missing"
		}
		l.problem(name, 0, 0, what)
		return nil, false
	}
	l.c.Texts[name] = text
	if !utf8.Valid(text) {
		at := 0
		for at < len(text) {
			r, n := utf8.DecodeRune(text[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		l.problem(name, at, at+1, "this is not UTF-8 text: save the file as UTF-8")
		return nil, false
	}
	if i := slices.Index(text, 0); i >= 0 {
		l.problem(name, i, i+1, "a text file holds no zero byte")
		return nil, false
	}
	return text, true
}

func (l *loader) problem(file string, start, end int, text string, notes ...string) {
	l.list.Add(diag.Message{Kind: diag.Error, Span: diag.Span{File: file, Start: start, End: end}, Text: text, Notes: notes})
}

func (l *loader) tables() {
	names, _ := fs.Glob(l.fsys, "data/*.csv")
	var files []book.File
	for _, name := range names {
		if text, ok := l.read(name); ok {
			files = append(files, book.File{Name: path.Base(name), Text: string(text)})
		}
	}
	b, err := book.Read(files)
	var faults book.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			l.problem("data/"+f.File, f.Offset, f.Offset+f.Len, f.Text)
		}
		b = &book.Book{}
	}
	l.c.Book, l.c.Sound = b, err == nil
	for _, t := range b.Tables() {
		for _, r := range t.Rows {
			if r.Source != "" && !l.c.HasWork(r.Source) {
				l.problem("data/"+r.File, l.lineStart("data/"+r.File, r.Line), l.lineEnd("data/"+r.File, r.Line), "the bibliography has no work with the key "+quote(r.Source))
			}
		}
	}
}

func (l *loader) lineStart(name string, line int) int {
	text, at := l.c.Texts[name], 0
	for range line - 1 {
		i := strings.IndexByte(string(text[at:]), '\n')
		if i < 0 {
			break
		}
		at += i + 1
	}
	return at
}

func (l *loader) lineEnd(name string, line int) int {
	at := l.lineStart(name, line)
	text := l.c.Texts[name][at:]
	if i := strings.IndexByte(string(text), '\n'); i >= 0 {
		return at + i
	}
	return at + len(text)
}

func quote(s string) string { return "“" + s + "”" }
