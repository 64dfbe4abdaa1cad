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

// Link is a title, the number that stands before it, and where it leads.
type Link struct{ Title, Number, Href string }

// Edition is what the title block says, in the fields of ISO 7200.
type Edition struct {
	Owner, Title, DocumentType, Number, Revision, Date, Language, Creator, Approval, Check string
	Codes                                                                                  string // number of the page that lists all check codes

	Units  string // metric or inch: what a reader sees first
	Shop   bool   // a shop's own edition
	Digest string // of the whole handbook, shortened
}

// Part is a part of the contents: some chapters that are looked through together.
type Part struct {
	Title    string
	Chapters []Chapter
}

// Chapter is what the contents say of a chapter.
type Chapter struct {
	Name, Slug, Number, Href string
	Sheets                   []Sheet // its own first
	Calculators, Tables      []Link  // what belongs to it and stands elsewhere
}

// Sheet is one line of the contents.
type Sheet struct {
	Title, Number, ID, Href string
	Minutes                 int
}

// Page is one sheet.
type Page struct {
	Kind          string // first, page, chapter, calculators, contents, find, glossary, bibliography
	Title         string
	Sheet         string // "2", "2.3" or, of a calculator, "C-corner"
	Number        string // identification number
	Description   string
	Root          string // "" or "../"
	Body          template.HTML
	Trail         []Link
	Prev, Next    *Link
	Parts         []Part
	Lists         []Link // the pages that are made of lists
	Prefix        string // before the ids that the templates make
	Minutes       int    // to read it, 0 where nobody says
	OnSheet, Uses []Link // its headings, and the calculators it uses
	Edition       Edition
	Style, Script string // file names under the root
	Wasm, Book    string // names without extension
	Words         string // of the script with the terms, without extension
	HasCalculator bool
	Part          string // the tab that this sheet belongs to: start, contents, calculators or find
	// Home and the others are where the bottom bar leads.
	Home, Contents, Calculators, Find string
	Schema                            string // of saved jobs, "" where it is not beside the page
}

// Tab is one link of the navigation.
type Tab struct {
	Title, Href, Part string
	Current           string // aria-current: page, true (the sheet belongs to it) or ""
}

// Tabs is the navigation: where it leads and where the reader is.
func (p Page) Tabs() []Tab {
	tabs := []Tab{{Title: "Start", Href: p.Home, Part: "start"}, {Title: "Contents", Href: p.Contents, Part: "contents"}, {Title: "Calculators", Href: p.Calculators, Part: "calculators"}, {Title: "Find", Href: p.Find, Part: "find"}}
	for i := range tabs {
		if t := &tabs[i]; t.Part == p.Part {
			t.Current = "true"
			if p.Kind == "first" || p.Kind == p.Part {
				t.Current = "page"
			}
		}
	}
	return tabs
}

// Reads is the identification number of a sheet that is read from end to end, ""
// of the others.
func (p Page) Reads() string {
	if p.Minutes == 0 {
		return ""
	}
	return p.Number
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
