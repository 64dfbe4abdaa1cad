package site

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html/template"
	"runtime"
	"strconv"
	"strings"
	"sync"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/render"
	"kerfbook/site/record"
	"kerfbook/site/theme"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// press makes one edition.
type press struct {
	options Options
	draft   *Draft // nil in a test that sets pages alone
	site    *check.Site
	sink    Sink
	result  *Result
	edition record.Edition

	made   *assets
	book   string // published name of the tables, without its ending
	sheets []sheet
	terms  *render.Terms
	mu     sync.Mutex

	belongs  belongings
	teachers []teachers // of each term
	wordFile asset      // the terms, for the pages of the folder
}

// sheet is one page ready to be set: its address, its title data and how its
// body is made. The body is made once and, for the one file, kept and set again.
type sheet struct {
	kind, address, title, number, sheet, description string
	check, text, printed                             string // set by mark when the folder's page is made
	aliases                                          []string
	live                                             bool
	page                                             *check.Page
	body                                             func(c *render.Context) (string, error)
	made                                             *render.Body
}

func (p *press) run(ctx context.Context) error {
	var err error
	if p.made, err = p.options.Memory.bundled(p.options.Wasm, p.options.Packed); err != nil {
		return err
	}
	bookText := p.site.Content.Book.Canonical()
	p.begin(bookText)
	p.sheets = p.list()
	p.belongs = p.belong()
	p.teachers = p.taught()
	if p.wordFile, err = p.words(); err != nil {
		return err
	}
	if err := p.programs(bookText); err != nil {
		return err
	}
	text, err := p.savedSchema()
	if err != nil {
		return err
	}
	if err := p.put(jobSchema, text); err != nil {
		return err
	}
	if err := p.pages(ctx); err != nil {
		return err
	}
	for _, s := range p.sheets {
		p.edition.Pages = append(p.edition.Pages, record.Page{Address: s.address, Number: s.number, Title: s.title, Check: s.check, Text: s.text, Printed: s.printed})
	}
	if p.options.OneFile {
		if err := p.oneFile(bookText); err != nil {
			return err
		}
	}
	written, err := p.edition.Encode()
	if err != nil {
		return err
	}
	return p.sink.Put("edition.json", written)
}

// programs hands over what all pages share, each under its digest, so that a
// page never meets a program of another edition.
func (p *press) programs(bookText string) error {
	p.book = "book-" + record.Short(p.edition.Book)
	quoted, err := json.Marshal(bookText)
	if err != nil {
		return err
	}
	text := append(append([]byte("self.kerfbookBook="), quoted...), ";\n"...)
	for _, f := range []asset{p.made.style, p.made.script, p.made.work, p.made.wasm, {p.book + ".txt", p.edition.Book, []byte(bookText)}, p.made.wasmText, p.wordFile, {p.book + ".js", record.Sum(text), text}} {
		if err := p.putAsset(f); err != nil {
			return err
		}
	}
	return nil
}

// put hands a file to the sink and notes it in the edition.
func (p *press) put(name string, data []byte) error {
	return p.putAsset(asset{name, record.Sum(data), data})
}

func (p *press) putAsset(f asset) error {
	if err := p.sink.Put(f.name, f.data); err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.edition.Files = append(p.edition.Files, record.File{Name: f.name, Digest: f.sum, Size: len(f.data)})
	return nil
}

// pages renders on as many goroutines as there are processors; each page is
// handed over and forgotten.
func (p *press) pages(ctx context.Context) error {
	work := make(chan int)
	errs := make(chan error, len(p.sheets))
	var wg sync.WaitGroup
	done := 0
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range work {
				if err := p.one(i); err != nil {
					errs <- err
				}
				p.mu.Lock()
				done++
				n := done
				p.mu.Unlock()
				if p.options.Progress != nil {
					p.options.Progress("pages", n, len(p.sheets))
				}
			}
		})
	}
	codes := len(p.sheets) - 1 // it lists the codes of all others
	for i := range codes {
		if ctx.Err() != nil {
			break
		}
		work <- i
	}
	close(work)
	wg.Wait()
	close(errs)
	for err := range errs {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return p.one(codes)
}

func (p *press) one(i int) error {
	s := p.sheets[i]
	body, err := p.bodyOf(s)
	if err != nil {
		return fmt.Errorf("%s: %w", s.address, err)
	}
	if p.options.OneFile {
		p.sheets[i].made = body
	}
	href := render.Relative(s.address)
	page := p.setPage(i, body.Set(render.Place{Href: href}), href)
	p.mark(i, &page)
	var out bytes.Buffer
	if err := p.made.theme.Page(&out, page); err != nil {
		return fmt.Errorf("%s: %w", s.address, err)
	}
	if err := p.put(s.address, out.Bytes()); err != nil {
		return err
	}
	for _, old := range s.aliases {
		if err := p.put(old, p.moved(old, s)); err != nil {
			return err
		}
	}
	return nil
}

// moved is the small page that stands at an older address.
func (p *press) moved(old string, s sheet) []byte {
	to := template.HTMLEscapeString(render.Relative(old)(s.address))
	return []byte("<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Moved</title><meta http-equiv=\"refresh\" content=\"0; url=" + to + "\"><p>This page now stands at <a href=\"" + to + "\">" + template.HTMLEscapeString(s.title) + "</a>.</p></html>\n")
}

// bodyOf is a sheet's body; of a page that was taken over, the one it had.
func (p *press) bodyOf(s sheet) (*render.Body, error) {
	if s.page == nil || p.draft == nil || p.options.Memory == nil {
		return p.makeBody(s)
	}
	var body *render.Body
	if s.page.Again {
		body = p.draft.before.bodies[s.page.File]
	}
	if body == nil {
		made, err := p.makeBody(s)
		if err != nil {
			return nil, err
		}
		body = made
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.draft.bodies == nil {
		p.draft.bodies = map[string]*render.Body{}
	}
	p.draft.bodies[s.page.File] = body
	return body, nil
}

// makeBody renders a sheet's body for all places that it is set in.
func (p *press) makeBody(s sheet) (*render.Body, error) {
	c := &render.Context{Page: s.page, Site: p.site, Terms: p.terms, Table: p.tableCode, Edition: p.stamp()}
	if c.Page == nil {
		c.Page = render.Generated(s.address)
	}
	text, err := s.body(c)
	if err != nil {
		return nil, err
	}
	return render.NewBody(text)
}

// setPage sets a sheet's body, with the links that href makes.
func (p *press) setPage(i int, body string, href func(string) string) theme.Page {
	s := p.sheets[i]
	page := theme.Page{Kind: s.kind, Part: s.part(), Title: s.title, Sheet: s.sheet, Number: s.number, Description: s.description,
		Root: strings.Repeat("../", strings.Count(s.address, "/")), Body: template.HTML(body), Edition: p.title(s),
		Style: p.made.style.name, Script: p.made.script.name, Wasm: strings.TrimSuffix(p.made.wasm.name, ".wasm"), Book: p.book, Words: strings.TrimSuffix(p.wordFile.name, ".js"), HasCalculator: s.live,
		Home: href("index.html"), Contents: href("contents.html"), Calculators: href("calculators/index.html"), Find: href("find.html"), Schema: jobSchema}
	if s.kind == "first" || s.kind == "contents" {
		page.Parts = p.parts(href)
	}
	if s.kind == "contents" {
		for _, l := range p.sheets {
			if l.page == nil && l.kind != "page" && l.kind != "contents" {
				page.Lists = append(page.Lists, theme.Link{Title: l.title, Number: l.number, Href: href(l.address)})
			}
		}
	}
	switch {
	case s.page != nil && s.page.Chapter != nil:
		page.Trail = []theme.Link{{Title: s.page.Chapter.Name, Number: "Chapter " + strconv.Itoa(s.page.Chapter.Number), Href: href("contents.html#c-" + s.page.Chapter.Slug)}}
		page.Minutes = minutes(s.page)
		page.OnSheet, page.Uses = p.onSheet(s.page, href)
	case page.Part == "calculators" && s.kind != "calculators":
		page.Trail = []theme.Link{{Title: "Calculators", Href: href("calculators/index.html")}}
		if ch := p.belongs.home[strings.TrimPrefix(s.number, "C-")]; ch != nil {
			page.Trail = append(page.Trail, theme.Link{Title: ch.Name, Number: "Chapter " + strconv.Itoa(ch.Number), Href: href(ch.Index.Address)})
		}
	}
	if s.kind == "page" || s.kind == "chapter" || s.kind == "first" {
		page.Prev, page.Next = p.beside(i, href)
	}
	return page
}

// part is the tab of the navigation that a sheet belongs to.
func (s sheet) part() string {
	switch {
	case s.kind == "first":
		return "start"
	case s.kind == "find":
		return "find"
	case strings.HasPrefix(s.address, "calculators/"):
		return "calculators"
	}
	return "contents"
}

// beside finds the neighbours in reading order.
func (p *press) beside(i int, href func(string) string) (prev, next *theme.Link) {
	reads := func(k string) bool { return k == "page" || k == "chapter" || k == "first" }
	for j := i - 1; j >= 0 && prev == nil; j-- {
		if reads(p.sheets[j].kind) {
			prev = p.sheets[j].link(href)
		}
	}
	for j := i + 1; j < len(p.sheets) && next == nil; j++ {
		if reads(p.sheets[j].kind) {
			next = p.sheets[j].link(href)
		}
	}
	return prev, next
}

func (s sheet) link(href func(string) string) *theme.Link {
	return &theme.Link{Title: s.title, Number: s.sheet, Href: href(s.address)}
}

func (p *press) title(s sheet) theme.Edition {
	e := p.site.Content.Edition
	return theme.Edition{Owner: e.Owner, Title: e.Title, DocumentType: e.Document, Number: e.Scheme + s.number, Revision: e.Revision,
		Date: e.Date, Language: e.Language, Creator: e.Creator, Approval: e.Approval, Check: s.check, Codes: e.Scheme + record.CodesNumber,
		Units: p.units(), Shop: p.site.Content.Shop != nil, Digest: record.Short(p.edition.Digest)}
}

// tableCode is what a printed table says of itself.
func (p *press) tableCode(name string) string {
	for _, t := range p.edition.Tables {
		if t.Name == name {
			return "Table " + name + ", revision " + p.edition.Revision + " of " + p.edition.Date + ", check code " + t.Code() + "."
		}
	}
	return ""
}

// stamp is what a printed job sheet says of the handbook it came from.
func (p *press) stamp() []calc.Entry {
	e := p.edition
	return []calc.Entry{{Label: "Legal owner", Text: e.Owner}, {Label: "Handbook", Text: e.Title + ", revision " + e.Revision + " of " + e.Date},
		{Label: "Check code of the handbook"}, {Label: "Check code of its tables"}} // the host fills these in: they are of the whole edition, and a sheet's own code must not follow every page
}

// units is the system a reader sees first.
func (p *press) units() string {
	if s := p.site.Content.Shop; s != nil && s.Units == "inch" {
		return "inch"
	}
	return "metric"
}

// system is units for the calculators.
func (p *press) system() unit.System {
	if p.units() == "inch" {
		return unit.Inch
	}
	return unit.Metric
}
