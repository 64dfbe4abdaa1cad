// Package source reads the content folder: pages with their front matter and
// their tree, the data tables, the bibliography, the glossary and the edition's
// own data. Every fault is a message with its place. It may import goldmark, a
// YAML decoder, diag and the book; it writes nothing.
package source

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"slices"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"

	"kerfbook/site/diag"
	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
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

	// Of a shop's edition; without a shop Shop is nil and Base is Book.
	Shop     *Shop
	Base     *book.Book // the handbook's own tables
	Changes  []book.Change
	LeftOut  []LeftOut
	OurPages []*Page           // new, replaced, or with a piece set in
	Figures  map[string]string // "figures/our-tank.svg" as a picture's address
}

// Chapter is a folder of pages. Its own page is index.md.
type Chapter struct {
	Slug   string
	Number int
	Name   string // what it is about in a word or two; the title of its first page where nobody said
	Part   string // of the handbook, "" where it has none
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
	Ours    string   // "", OursNew or OursReplaced
	Inserts []Insert // pieces of the shop set into it
	Parts   []Part   // runs of Text that came from the shop's files
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

// Load reads the content folder and lays a shop's folder over it; shop is nil for
// the handbook itself. Faults go to the list; what could be read is returned all
// the same, so that one run names everything that is wrong.
//
// tree may know the tree of a page's body from before; nil parses each.
func Load(fsys, shop fs.FS, tree func(file string, body []byte) ast.Node, list *diag.List) *Content {
	l := load(fsys, shop, list)
	l.tree = tree
	l.pages()
	return l.c
}

// Tables is Load without the pages.
func Tables(fsys, shop fs.FS, list *diag.List) *Content { return load(fsys, shop, list).c }

func load(fsys, shop fs.FS, list *diag.List) *loader {
	c := &Content{Texts: diag.SourceMap{}, parser: Markdown().Parser()}
	l := &loader{fsys: fsys, shop: shop, list: list, c: c}
	l.strictYAML("edition.yaml", &c.Edition)
	var works struct{ Works []Work }
	l.strictYAML("bibliography.yaml", &works)
	c.Works = works.Works
	var terms struct{ Terms []Term }
	l.strictYAML("glossary.yaml", &terms)
	c.Terms = terms.Terms
	if shop != nil {
		l.openShop()
		l.readShop()
		c.Figures = l.figures
	}
	l.checkKeys(works.Works, "")
	l.checkTerms(terms.Terms, "")
	if shop != nil {
		l.shopWords()
	}
	l.tables()
	return l
}

type loader struct {
	fsys, shop fs.FS
	list       *diag.List
	c          *Content

	shopHas, shopData, shopPages []string // files of the shop's folder by where they go
	figures                      map[string]string
	shopBytes                    int64
	tooMuch                      bool // the folder cannot be a shop's: nothing of it is read
	tree                         func(file string, body []byte) ast.Node
}

// read returns a text file of the content folder and keeps it for messages.
func (l *loader) read(name string) ([]byte, bool) { return l.readFrom(l.fsys, name, "") }

// readFrom is read for either folder; dir stands before the file's name.
func (l *loader) readFrom(fsys fs.FS, file, dir string) ([]byte, bool) {
	name := dir + file
	text, ok := l.readBytes(fsys, file, dir)
	if !ok {
		return nil, false
	}
	if dir == ShopDir {
		text = plainLines(text)
		l.c.Texts[name] = text
	}
	if !utf8.Valid(text) {
		at := 0
		for at < len(text) {
			r, n := utf8.DecodeRune(text[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		l.problem(diag.FileText, name, at, at+1, "this is not UTF-8 text: save the file as UTF-8")
		return nil, false
	}
	if i := slices.Index(text, 0); i >= 0 {
		l.problem(diag.FileText, name, i, i+1, "a text file holds no zero byte")
		return nil, false
	}
	if i := bytes.IndexFunc(text, spoils); i >= 0 {
		l.problem(diag.FileText, name, i, i+1, "this character cannot be seen and does not belong in a text: delete it")
		return nil, false
	}
	return text, true
}

// readBytes reads a file of at most 4 MB, whatever it holds.
func (l *loader) readBytes(fsys fs.FS, file, dir string) ([]byte, bool) {
	name := dir + file
	info, err := fs.Stat(fsys, file)
	if err == nil && info.Size() > maxFile {
		l.problem(diag.FileLarge, name, 0, 0, "the file is larger than 4 MB: a page or a table is not, so it was not read")
		return nil, false
	}
	text, err := fs.ReadFile(fsys, file)
	if err != nil {
		what := "the file cannot be read"
		if errors.Is(err, fs.ErrNotExist) {
			what = "the file is missing"
		}
		l.problem(diag.FileMissing, name, 0, 0, what)
		return nil, false
	}
	l.c.Texts[name] = text
	return text, true
}

func (l *loader) problem(id diag.ID, file string, start, end int, text string, notes ...string) {
	l.list.Add(diag.Message{ID: id, Kind: diag.Error, Span: diag.Span{File: file, Start: start, End: end}, Text: text, Notes: notes})
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
			l.problem(diag.TableRead, "data/"+f.File, f.Offset, f.Offset+f.Len, f.Text)
		}
		b = &book.Book{}
	}
	l.c.Book, l.c.Base, l.c.Sound = b, b, err == nil
	if l.shop != nil && l.c.Sound {
		l.shopTables()
		l.ownSources()
	}
	for _, t := range b.Tables() {
		for _, r := range t.Rows {
			if r.Source != "" && !l.c.HasWork(r.Source) && !r.Ours {
				l.problem(diag.TableWork, "data/"+r.File, l.lineStart("data/"+r.File, r.Line), l.lineEnd("data/"+r.File, r.Line), "the bibliography has no work with the key "+spell.Quote(r.Source))
			}
		}
	}
}

// ownSources looks for works that the shop's rows name and nobody has.
func (l *loader) ownSources() {
	said := 0
	for _, ch := range l.c.Changes {
		if ch.Is != nil && ch.Is.Source != "" && !l.c.HasWork(ch.Is.Source) {
			if said++; said > mostSaid {
				l.problem(diag.NotListed, ch.File, 0, 0, "more rows of the shop's name works that nobody has: they are not listed")
				return
			}
			l.problem(diag.TableWork, ch.File, l.lineStart(ch.File, ch.Line), l.lineEnd(ch.File, ch.Line), "neither the handbook's bibliography nor the shop's has a work with the key "+spell.Quote(ch.Is.Source))
		}
	}
}

func (l *loader) lineStart(name string, line int) int {
	text, at := l.c.Texts[name], 0
	for range line - 1 {
		i := bytes.IndexByte(text[at:], '\n')
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
	if i := bytes.IndexByte(text, '\n'); i >= 0 {
		return at + i
	}
	return at + len(text)
}
