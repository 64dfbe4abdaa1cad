// Package check walks the tree of every page, evaluates what computes, resolves
// links and citations, and says everything that is wrong with its place. Its
// results are what render prints; render computes nothing. It may import
// source, diag, formula, words, the calculators' engine and goldmark's tree.
package check

import (
	"crypto/sha256"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/site/internal/words"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
)

// Site is the checked content.
type Site struct {
	Content *source.Content
	Set     *calc.Set
	Base    *calc.Set // the set on the handbook's own tables; Set where there is no shop
	Eval    Eval
	Pages   []*Page
	// Answers are the recorded answers of the edition: worked examples,
	// figures and calculators as they stand on a page, calculators' defaults.
	Answers []Recorded
	key     [sha256.Size]byte // of all that pages may read, see keyOf
}

// Eval answers a calculator's question, perhaps from memory; what it gives is read
// and never changed.
type Eval func(k *calc.Calculator, b *book.Book, in calc.Input) *calc.Reply

// Recorded is one answer that edition.json keeps.
type Recorded struct {
	ID         string // "wire/index.html#fit", or "calculators/corner.html"
	Kind       string // worked, calculator, figure, default
	Calculator string
	Inputs     []Given
	Reply      *calc.Reply
}

// Given is one input as it was written.
type Given struct{ Name, Text string }

// Page is one checked page.
type Page struct {
	*source.Page
	Blocks   map[ast.Node]Block     // fenced blocks of ours
	Inline   map[ast.Node]string    // printed results in the text
	Links    map[ast.Node]string    // link nodes -> address under the root
	Anchors  map[ast.Node]string    // headings -> anchor
	Cites    map[*source.Cite]Cited // citations -> work
	Short    ast.Node               // the short answer, first paragraph
	Headings []Heading
	Words    int
	Numbers  Numbers
	Passed   []Passed // lints that the page answers
	worked   map[string]*Worked
	answers  []Recorded
	Moved    []Moved // where the shop's tables give other values than the page was written with
	drawings int     // bytes of the shop's drawings on it
	broken   bool    // an example failed; results that name it are not told again
	Again    bool    // taken over from the site before
	told     bool    // there was something to say about it
}

// Heading is one entry of a page's own contents.
type Heading struct {
	Level        int
	Text, Anchor string
}

// Cited is a resolved citation: its work and the place in it, or common practice.
type Cited struct {
	Work     source.Work
	Place    string
	Practice bool
}

// Run checks everything. The list takes the messages; the site is complete
// only when the list holds no error.
//
// base is the set on the handbook's own tables, for a shop's edition. before is the
// site when it was checked last, free of errors and by the same program, or nil:
// what did not change since is taken over.
func Run(c *source.Content, set, base *calc.Set, eval Eval, before *Site, list *diag.List) *Site {
	s := &Site{Content: c, Set: set, Base: base, Eval: eval, key: keyOf(c)}
	for _, p := range c.All() {
		s.Pages = append(s.Pages, newPage(p))
	}
	s.takeOver(before)
	number := numberPattern()
	lexers := make(chan *words.Lexer, runtime.GOMAXPROCS(0)) // making a lexer takes long, so they are kept and lent
	for range cap(lexers) {
		l, err := words.New()
		if err != nil {
			list.Add(diag.Message{ID: diag.Lexer, Kind: diag.Error, Text: err.Error()})
			return s
		}
		lexers <- l
	}
	first := func(p *Page) {
		lexer := <-lexers
		(&checker{site: s, page: p, list: list, words: lexer}).first()
		lexers <- lexer
	}
	s.each(list, s.fresh(), first)
	s.each(list, s.forget(before), first)
	for _, p := range s.Pages {
		s.Answers = append(s.Answers, p.answers...)
	}
	s.each(list, s.fresh(), func(p *Page) { (&checker{site: s, page: p, list: list, number: number}).second() })
	if list.Errors() == 0 { // what is wrong comes before what could be better
		s.each(list, s.fresh(), func(p *Page) { (&checker{site: s, page: p, list: list}).lint() })
		s.lintHeadings(list)
	}
	for _, k := range set.All() {
		rep := eval(k, c.Book, calc.Input{})
		s.Answers = append(s.Answers, Recorded{ID: CalculatorAddress(k.ID), Kind: "default", Calculator: k.ID, Reply: rep})
		for _, pr := range rep.Problems {
			list.Add(diag.Message{ID: diag.CalculatorDefaults, Kind: diag.Error, Text: "the calculator " + spell.Quote(k.ID) + " does not answer its own defaults: " + pr.Text})
		}
		if rep.Answer != nil {
			for _, src := range rep.Answer.Sources {
				ofRow := func(r book.Row) bool { return r.Source == src.Key && src.What == "table "+r.Table } // told at the row
				if !c.HasWork(src.Key) && !slices.ContainsFunc(rep.Answer.Rows, ofRow) {
					list.Add(diag.Message{ID: diag.CalculatorWork, Kind: diag.Error, Text: "the calculator " + spell.Quote(k.ID) + " cites " + spell.Quote(src.Key) + ", which the bibliography does not have"})
				}
			}
		}
	}
	s.note(list)
	return s
}

func newPage(p *source.Page) *Page {
	return &Page{Page: p, Blocks: map[ast.Node]Block{}, Inline: map[ast.Node]string{}, Links: map[ast.Node]string{},
		Anchors: map[ast.Node]string{}, Cites: map[*source.Cite]Cited{}, worked: map[string]*Worked{}}
}

// fresh are the pages that were not taken over.
func (s *Site) fresh() (list []*Page) {
	for _, p := range s.Pages {
		if !p.Again {
			list = append(list, p)
		}
	}
	return list
}

// each works on pages on as many goroutines as there are processors. A
// worker writes to its own page only.
func (s *Site) each(list *diag.List, pages []*Page, work func(*Page)) {
	var wg sync.WaitGroup
	next := make(chan *Page)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for p := range next {
				s.guarded(p, list, work)
			}
		})
	}
	for _, p := range pages {
		next <- p
	}
	close(next)
	wg.Wait()
}

// guarded works on one page. On a shop's tables a calculator may stumble over a row
// that is gone: that is told, and the other pages are looked at.
func (s *Site) guarded(p *Page, list *diag.List, work func(*Page)) {
	if s.Content.Shop != nil {
		defer func() {
			if r := recover(); r != nil {
				list.Add(diag.Message{ID: diag.RowGone, Kind: diag.Error, Span: diag.Span{File: p.File}, Text: "a calculator of this page cannot work with the shop's tables: a row that it needs is gone"})
			}
		}()
	}
	work(p)
}

// CalculatorAddress is the address of a calculator's page under the root.
func CalculatorAddress(id string) string { return "calculators/" + id + ".html" }

// checker works on one page.
type checker struct {
	site   *Site
	page   *Page
	list   *diag.List
	words  *words.Lexer
	number *regexp.Regexp
	// refused says of replies that the handbook's own tables gave why the shop's
	// could not.
	refused map[*calc.Reply]string
}

func (c *checker) book() *book.Book { return c.site.Content.Book }

func (c *checker) problem(id diag.ID, start, end int, text string, notes ...string) {
	c.list.Add(diag.Message{ID: id, Kind: diag.Error, Span: diag.Span{File: c.page.File, Start: start, End: end}, Text: text, Notes: notes})
}

// mostBlocks is the most fenced blocks that a page may have.
const mostBlocks = 300

// first finds anchors and evaluates the blocks; links of any page may need them.
func (c *checker) first() {
	taken, blocks := map[string]int{}, 0
	for n := c.page.Doc.FirstChild(); n != nil; n = n.NextSibling() {
		if c.page.Short == nil && n.Kind() == ast.KindParagraph {
			c.page.Short = n
		}
		switch n := n.(type) {
		case *ast.Heading:
			c.heading(n, taken)
		case *source.Ours:
			for m := n.FirstChild(); m != nil; m = m.NextSibling() {
				if h, ok := m.(*ast.Heading); ok {
					c.heading(h, taken)
				}
			}
		}
	}
	c.walk(func(n ast.Node) {
		if b, ok := n.(*ast.FencedCodeBlock); ok {
			if blocks++; blocks == mostBlocks+1 {
				at := place(b, c.page.Body)
				c.problem(diag.Blocks, at, at+1, "a page has "+strconv.Itoa(mostBlocks)+" blocks of ours at most: make several pages of it")
			}
			if blocks <= mostBlocks {
				c.block(b)
			}
		}
	})
	if first := c.page.Doc.FirstChild(); first == nil || first.Kind() != ast.KindParagraph {
		start, end := 0, 0
		if first != nil && first.Lines() != nil && first.Lines().Len() > 0 {
			seg := first.Lines().At(0)
			start, end = seg.Start, seg.Stop
		}
		c.problem(diag.ShortAnswer, start, end, "a page begins with its short answer: one paragraph before anything else")
	}
}

// second resolves what may point to other pages and to the examples.
func (c *checker) second() {
	c.walk(func(n ast.Node) {
		switch n := n.(type) {
		case *ast.Link:
			c.link(n, string(n.Destination))
		case *ast.Image:
			c.image(n)
		case *ast.CodeSpan:
			c.inline(n)
		case *ast.RawHTML, *ast.HTMLBlock:
			at := place(n, c.page.Body)
			c.problem(diag.HTML, at, at+1, "HTML is not used in pages: write markdown, or one of our blocks")
		case *ast.AutoLink:
			at := 1 + max(0, strings.Index(string(c.page.Body), "<"+string(n.Label(c.page.Body))))
			c.problem(diag.LinkOut, at, at+len(n.Label(c.page.Body)), "a page links only into the handbook, which must work with no network; publications stand in the bibliography")
		case *source.Cite:
			c.cite(n)
		}
	})
	c.count()
}

func (c *checker) walk(visit func(ast.Node)) {
	var roots []ast.Node
	roots = append(roots, c.page.Doc)
	for i := 0; i < len(roots); i++ {
		_ = ast.Walk(roots[i], func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if entering {
				visit(n)
				if b, ok := c.page.Blocks[n]; ok && b.Facts().Text != nil {
					roots = append(roots, b.Facts().Text)
				}
			}
			return ast.WalkContinue, nil
		})
	}
}

func (c *checker) heading(h *ast.Heading, taken map[string]int) {
	text := source.Plain(h, c.page.Body)
	seg := h.Lines()
	at, end := 0, 0
	if seg.Len() > 0 {
		at, end = seg.At(0).Start, seg.At(0).Stop
	}
	if h.Level == 1 {
		c.problem(diag.HeadingTitle, at, end, "the title stands in the front matter: headings in a page start with ##")
	}
	anchor := source.Anchor(h, c.page.Body)
	if before, twice := taken[anchor]; twice {
		if c.isOurs(before) && !c.isOurs(at) { // of two headings the shop's is the one to change
			at, end = before, before+1
		}
		c.problem(diag.AnchorTwice, at, end, "the anchor "+spell.Quote(anchor)+" stands twice on this page: give one of the headings its own, {#name}")
	}
	taken[anchor] = at
	c.page.Anchors[h] = anchor
	c.page.Headings = append(c.page.Headings, Heading{h.Level, text, anchor})
}

func (c *checker) cite(n *source.Cite) {
	if n.Key == source.Practice {
		if n.Place != "" {
			c.problem(diag.Citation, n.Start, n.End, "common practice has no place: write [@"+source.Practice+"]")
			return
		}
		c.page.Cites[n] = Cited{Practice: true}
		return
	}
	w, ok := c.site.Content.Work(n.Key)
	if !ok {
		text := "the bibliography has no work with the key " + spell.Quote(n.Key)
		if near, ok := spell.Nearest(n.Key, c.site.Content.WorkKeys()); ok {
			text += "; did you mean " + spell.Quote(near) + "?"
		}
		c.problem(diag.Citation, n.Start+2, n.Start+2+len(n.Key), text)
		return
	}
	c.page.Cites[n] = Cited{Work: w, Place: n.Place}
}

// inline prints a result of a worked example: `=fit.radius-left`.
func (c *checker) inline(n *ast.CodeSpan) {
	text := source.Plain(n, c.page.Body)
	name, ok := strings.CutPrefix(text, "=")
	if !ok {
		return
	}
	at := place(n, c.page.Body)
	id, answer, ok := strings.Cut(name, ".")
	w := c.page.worked[id]
	if w == nil && c.page.broken {
		return
	}
	if !ok || w == nil {
		var ids []string
		for k := range c.page.worked {
			ids = append(ids, k)
		}
		slices.Sort(ids)
		c.problem(diag.Result, at, at+len(text), "no worked example on this page is called "+spell.Quote(id)+"; there are "+listed(ids))
		return
	}
	printed, ok := w.print(answer)
	if !ok {
		c.problem(diag.Result, at, at+len(text), "the example "+spell.Quote(id)+" has no answer or input "+spell.Quote(answer)+"; it has "+listed(w.names()))
		return
	}
	c.page.Inline[n] = printed
}

func listed(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// place is the byte where a node's text starts, as near as the tree tells.
func place(n ast.Node, body []byte) int {
	at := -1
	_ = ast.Walk(n, func(m ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := m.(*ast.Text); ok && entering {
			at = t.Segment.Start
			return ast.WalkStop, nil
		}
		if r, ok := m.(*ast.RawHTML); ok && r.Segments.Len() > 0 {
			at = r.Segments.At(0).Start
			return ast.WalkStop, nil
		}
		if m.Type() == ast.TypeBlock && m.Lines() != nil && m.Lines().Len() > 0 && at < 0 {
			at = m.Lines().At(0).Start
		}
		return ast.WalkContinue, nil
	})
	if at < 0 && n.Parent() != nil {
		return place(n.Parent(), body)
	}
	return max(at, 0)
}
