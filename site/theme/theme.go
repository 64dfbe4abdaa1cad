// Package theme is the look of the handbook: templates, style and the page's
// host script. It may import the standard library only; what it is given is
// finished HTML and plain data.
package theme

import (
	"bytes"
	"embed"
	"html/template"
	"io"
	"io/fs"
)

//go:embed templates css ts
var files embed.FS

// Link is a title and where it leads.
type Link struct{ Title, Href string }

// Edition is what the title block says, in the fields of ISO 7200.
type Edition struct {
	Owner, Title, DocumentType, Number, Revision, Date, Language, Creator, Approval, Check string
	Codes                                                                                  string // number of the page that lists all check codes

	Units  string // metric or inch: what a reader sees first
	Shop   bool   // a shop's own edition
	Digest string // of the whole handbook, shortened
}

// Chapter is one line of the contents with its pages.
type Chapter struct {
	Title, Number, Href string
	Pages               []Link
}

// Page is one sheet.
type Page struct {
	Kind          string // first, page, chapter, calculators, contents, find, glossary, bibliography
	Title         string
	Sheet         string // "2" or "2.3"
	Number        string // identification number
	Description   string
	Root          string // "" or "../"
	Body          template.HTML
	Trail         []Link
	Prev, Next    *Link
	Chapters      []Chapter
	Edition       Edition
	Style, Script string // file names under the root
	Wasm, Book    string // names without extension
	HasCalculator bool
	// Home and the others are where the bottom bar leads.
	Home, Contents, Calculators, Find string
	Schema                            string // of saved jobs, "" where it is not beside the page
}

// OnePage is a sheet of the one-file edition.
type OnePage struct {
	ID string
	Page
}

// OneFile is the whole handbook as one page.
type OneFile struct {
	Pages []OnePage // the first is read without scripts
	// Sheets64 holds the other pages, gzipped, in base64.
	Sheets64 template.HTML
	Style    template.CSS
	Script   template.JS
	Wasm64   template.HTML // gzipped, in base64
	Book64   template.HTML
	Edition  Edition
	Book     string              // name of the tables, with their digest
	Pack     func([]byte) string // gzip in base64
}

// Theme holds the parsed templates.
type Theme struct{ t *template.Template }

// New parses the templates once.
func New() (*Theme, error) {
	t, err := template.New("theme").ParseFS(files, "templates/*.html")
	if err != nil {
		return nil, err
	}
	return &Theme{t}, nil
}

// Page writes one sheet as a page of its own.
func (t *Theme) Page(w io.Writer, p Page) error { return t.t.ExecuteTemplate(w, "page.html", p) }

// OneFile writes all sheets as one page.
func (t *Theme) OneFile(w io.Writer, o OneFile) error {
	var rest bytes.Buffer
	if err := t.t.ExecuteTemplate(&rest, "articles", o.Pages[1:]); err != nil {
		return err
	}
	o.Sheets64 = template.HTML(o.Pack(rest.Bytes()))
	return t.t.ExecuteTemplate(w, "onefile.html", o)
}

// Sources are the style and script sources for the bundler.
func Sources() fs.FS { return files }
