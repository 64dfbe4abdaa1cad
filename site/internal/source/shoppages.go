package source

import (
	"bytes"
	"cmp"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"

	"kerfbook/site/diag"
	"kerfbook/wasm/spell"
)

// Part is a run of a page's text that came from another file than the page's
// own: the shop's. From is where the page's text has it, At where the file has it.
type Part struct {
	File          string
	From, At, Len int
}

// Origin maps a span of a page's text to the file that holds it.
func (p *Page) Origin(s diag.Span) diag.Span {
	for _, part := range p.Parts {
		if s.Start >= part.From && s.Start <= part.From+part.Len {
			return diag.Span{File: part.File, Start: s.Start - part.From + part.At, End: min(s.End, part.From+part.Len) - part.From + part.At}
		}
	}
	return s
}

// The ways a shop's page stands in the edition.
const (
	OursNew      = "new"
	OursReplaced = "replaced"
)

// Insert is one piece that a shop set into a page of the handbook.
type Insert struct {
	File   string // "shop/pages/our-gaps.md"
	Title  string
	Anchor string // of the heading it stands before or after
	After  bool
}

// shopPage is a shop's page as read, before it has its place.
type shopPage struct {
	page *Page
	at   string // file name in messages
}

// maxNumber is the most characters of an identification number.
const maxNumber = 20

// turn says when a page is given its place.
func (sp shopPage) turn() int {
	switch f := sp.page.Front; {
	case f.Opens:
		return 0
	case f.Chapter != "":
		return 1
	case f.Replaces != "":
		return 2
	}
	return 3
}

// layPages gives every page of the shop its place: new, in the place of
// another, or set into one.
func (l *loader) layPages() {
	l.leaveOut()
	var all []shopPage
	for _, name := range l.shopPages {
		at := ShopDir + name
		text, ok := l.readFrom(l.shop, name, ShopDir)
		if !ok {
			continue
		}
		p := &Page{File: at, Text: text}
		if !l.front(p) {
			continue
		}
		all = append(all, shopPage{p, at})
	}
	// A page that opens a chapter comes first, then those that stand in it, then
	// what is set into pages.
	slices.SortStableFunc(all, func(a, b shopPage) int { return cmp.Compare(a.turn(), b.turn()) })
	for _, sp := range all {
		f := sp.page.Front
		ways := 0
		for _, w := range []string{f.Chapter, f.Replaces, f.Before, f.After} {
			if w != "" {
				ways++
			}
		}
		switch {
		case len([]rune(f.Title)) > maxWord || len([]rune(f.Number)) > maxNumber || strings.ContainsAny(f.Title+f.Number, "\n\t"):
			l.frontProblem(sp, "title", "title: is one line of "+strconv.Itoa(maxWord)+" characters at most, number: of "+strconv.Itoa(maxNumber))
		case f.Opens && f.Chapter == "":
			l.frontProblem(sp, "opens", "opens: true goes with chapter:, the name of the chapter that this page begins")
		case ways != 1:
			l.frontProblem(sp, "title", "a shop's page says where it stands, in one of these ways: chapter: a chapter's name (a new page), replaces: a page's address, before: or after: an address#anchor")
		case f.Chapter != "":
			l.newPage(sp)
		case f.Replaces != "":
			l.replacePage(sp)
		default:
			l.insert(sp)
		}
	}
}

func (l *loader) frontProblem(sp shopPage, key, what string, notes ...string) {
	at := bytes.Index(sp.page.Text, []byte("\n"+key+":"))
	if at < 0 {
		l.problem(diag.ShopPlace, sp.at, 0, 3, what, notes...)
		return
	}
	l.problem(diag.ShopPlace, sp.at, at+1, at+1+len(key), what, notes...)
}

// leaveOut takes the chapters out that the shop does not carry.
func (l *loader) leaveOut() {
	var slugs []string
	for _, ch := range l.c.Chapters {
		slugs = append(slugs, ch.Slug)
	}
	for _, slug := range l.c.Shop.LeaveOut {
		i := slices.IndexFunc(l.c.Chapters, func(ch *Chapter) bool { return ch.Slug == slug })
		if i < 0 {
			at, end := itemAt(l.c.Texts[ShopDir+"shop.yaml"], "leave-out", slug)
			what := "there is no chapter " + spell.Quote(spell.Short(slug, 40)) + " to leave out"
			if l.isLeftOut(slug) {
				what = "the chapter " + spell.Quote(slug) + " stands twice in leave-out:"
			} else if near, ok := spell.Nearest(slug, slugs); ok {
				what += "; did you mean " + spell.Quote(near) + "?"
			} else {
				what += "; there are " + strings.Join(slugs, ", ")
			}
			l.problem(diag.ShopSetting, ShopDir+"shop.yaml", at, end, what)
			continue
		}
		ch := l.c.Chapters[i]
		if slug == "safety" {
			at, end := itemAt(l.c.Texts[ShopDir+"shop.yaml"], "leave-out", slug)
			l.problem(diag.ShopSetting, ShopDir+"shop.yaml", at, end, "the chapter on safety cannot be left out: replace its pages by your own")
			continue
		}
		out := LeftOut{Slug: slug, Pages: ch.Pages}
		if ch.Index != nil {
			out.Title, out.Pages = ch.Index.Front.Title, append([]*Page{ch.Index}, ch.Pages...)
		}
		l.c.LeftOut = append(l.c.LeftOut, out)
		l.c.Chapters = slices.Delete(l.c.Chapters, i, i+1)
	}
	for i, ch := range l.c.Chapters {
		ch.Number = i + 1
		if ch.Index != nil {
			ch.Index.Sheet = strconv.Itoa(ch.Number)
		}
		for j, p := range ch.Pages {
			p.Sheet = strconv.Itoa(ch.Number) + "." + strconv.Itoa(j+1)
		}
	}
}

// newPage puts a page at the end of a chapter. A chapter that is not there is
// made by the page that opens it.
func (l *loader) newPage(sp shopPage) {
	p := sp.page
	if p.Front.Title == "" || p.Front.Number == "" {
		l.frontProblem(sp, "title", "a new page wants title: and number:")
		return
	}
	slug := strings.TrimSuffix(path.Base(sp.at), ".md")
	switch {
	case p.Front.Chapter == "calculators":
		l.frontProblem(sp, "chapter", "the calculators stand under this name: call the chapter otherwise")
		return
	case reservedNumber(p.Front.Number):
		l.frontProblem(sp, "number", "the numbers C0, C-… and L1 to L9 belong to the handbook's own lists: give another")
		return
	case !publicWord(slug) || !publicWord(p.Front.Chapter) || windowsOwn(p.Front.Chapter):
		l.frontProblem(sp, "chapter", "a new page's file and chapter are called by small letters, digits and hyphens, for example our-wires.md")
		return
	}
	i := slices.IndexFunc(l.c.Chapters, func(ch *Chapter) bool { return ch.Slug == p.Front.Chapter })
	var ch *Chapter
	switch {
	case i < 0 && !p.Front.Opens:
		var slugs []string
		for _, c := range l.c.Chapters {
			slugs = append(slugs, c.Slug)
		}
		what := "there is no chapter " + spell.Quote(p.Front.Chapter)
		if l.isLeftOut(p.Front.Chapter) {
			l.frontProblem(sp, "chapter", "the chapter "+spell.Quote(p.Front.Chapter)+" is left out in shop.yaml: take it from leave-out:, or put this page into another chapter")
			return
		}
		if near, ok := spell.Nearest(p.Front.Chapter, slugs); ok {
			what += "; did you mean " + spell.Quote(near) + "?"
		} else {
			what += "; there are " + strings.Join(slugs, ", ")
		}
		l.frontProblem(sp, "chapter", what, "a page with opens: true begins a chapter of your own")
		return
	case i < 0:
		ch = &Chapter{Slug: p.Front.Chapter, Number: len(l.c.Chapters) + 1}
		l.c.Chapters = append(l.c.Chapters, ch)
		p.Address, p.Sheet, ch.Index = ch.Slug+"/index.html", strconv.Itoa(ch.Number), p
		if ch.named(p.Front); ch.Part == "" {
			ch.Part = "Our shop"
		}
	case p.Front.Opens:
		l.frontProblem(sp, "opens", "the chapter "+spell.Quote(p.Front.Chapter)+" is there already: leave opens: out")
		return
	default:
		ch = l.c.Chapters[i]
		p.Address, p.Sheet = ch.Slug+"/"+slug+".html", strconv.Itoa(ch.Number)+"."+strconv.Itoa(len(ch.Pages)+1)
		ch.Pages = append(ch.Pages, p)
	}
	p.Chapter, p.Ours = ch, OursNew
	dir := "handbook/" + ch.Slug
	if ch.Index != nil {
		dir = path.Dir(ch.Index.File)
		if strings.HasPrefix(dir, strings.TrimSuffix(ShopDir, "/")) {
			dir = "handbook/" + ch.Slug
		}
	}
	// It links as if it stood in its chapter's folder; messages name the shop's file.
	p.File = dir + "/" + slug + ".md"
	if _, taken := l.c.Texts[p.File]; taken {
		l.problem(diag.FileName, sp.at, 0, 3, "the handbook's chapter has a page file of this name: call yours otherwise")
		p.File = sp.at
	}
	p.Parts = []Part{{File: sp.at, Len: len(p.Text)}}
	l.c.Texts[p.File] = p.Text
	p.Doc = l.c.Parse(p.Body)
	l.c.OurPages = append(l.c.OurPages, p)
}

// target finds the page of an address, "wire/spool.html" or "index.html".
func (l *loader) target(sp shopPage, key, address string) *Page {
	var known []string
	for _, p := range l.c.All() {
		if p.Address == address {
			return p
		}
		known = append(known, p.Address)
	}
	what := "there is no page " + spell.Quote(spell.Short(address, 40))
	if slug, _, _ := strings.Cut(address, "/"); l.isLeftOut(slug) {
		what += ", because shop.yaml leaves its chapter out"
	} else if near, ok := spell.Nearest(address, known); ok {
		what += "; did you mean " + spell.Quote(near) + "?"
	} else if len(known) > 0 {
		what += ": an address is, for example, " + spell.Quote(known[min(1, len(known)-1)])
	}
	l.frontProblem(sp, key, what)
	return nil
}

// replacePage puts the shop's text in the place of a page; what its front matter
// does not say stays the handbook's.
func (l *loader) replacePage(sp shopPage) {
	old := l.target(sp, "replaces", sp.page.Front.Replaces)
	if old == nil {
		return
	}
	if old.Ours != "" || len(old.Inserts) > 0 {
		l.frontProblem(sp, "replaces", "the page "+spell.Quote(sp.page.Front.Replaces)+" is the shop's own, or has its inserts, already")
		return
	}
	f := sp.page.Front
	front := old.Front
	front.Passed = f.Passed
	if f.Title != "" {
		front.Title = f.Title
	}
	if f.Description != "" {
		front.Description = f.Description
	}
	if f.Number != "" && f.Number != front.Number {
		l.frontProblem(sp, "number", "a page that replaces another keeps its number, "+spell.Quote(front.Number))
	}
	old.Front, old.Text, old.Body, old.Ours = front, sp.page.Text, sp.page.Body, OursReplaced
	old.Parts = []Part{{File: sp.at, Len: len(old.Text)}}
	l.c.Texts[old.File] = old.Text
	old.Doc = l.c.Parse(old.Body)
	l.c.OurPages = append(l.c.OurPages, old)
}

// insert sets the shop's text before or after the section of a heading. The two
// texts are parsed apart, each with the other blanked, so that nothing the shop
// writes can swallow what stands around it, and every place stays true.
func (l *loader) insert(sp shopPage) {
	f := sp.page.Front
	key, where := "before", f.Before
	if f.After != "" {
		key, where = "after", f.After
	}
	address, anchor, has := strings.Cut(where, "#")
	if !has || anchor == "" {
		l.frontProblem(sp, key, key+": wants a page and one of its headings, for example wire/index.html#what-it-costs")
		return
	}
	p := l.target(sp, key, address)
	if p == nil {
		return
	}
	if p.Ours == OursReplaced {
		l.frontProblem(sp, key, "the page "+spell.Quote(address)+" is replaced by the shop's own: write into that")
		return
	}
	heading, known := findHeading(p, anchor)
	if heading == nil {
		what := "the page " + spell.Quote(address) + " has no heading with the anchor " + spell.Quote(anchor)
		if near, ok := spell.Nearest(anchor, known); ok {
			what += "; did you mean " + spell.Quote(near) + "?"
		} else if len(known) > 0 {
			what += "; it has " + strings.Join(known, ", ")
		} else {
			what += "; it has no headings at all"
		}
		l.frontProblem(sp, key, what)
		return
	}
	from := len(p.Text) + 2
	blank := blanked(append(slices.Clone(p.Text), '\n', '\n'))
	doc := l.c.Parse(append(blank, sp.page.Body...))
	box := &Ours{Title: f.Title}
	for n := doc.FirstChild(); n != nil; {
		next := n.NextSibling()
		if n.Kind() == east.KindFootnoteList {
			l.problem(diag.ShopPiece, sp.at, 0, 3, "a piece set into a page has no footnotes: write the sentence into the text")
			return
		}
		doc.RemoveChild(doc, n)
		box.AppendChild(box, n)
		n = next
	}
	if box.ChildCount() == 0 {
		l.problem(diag.ShopPiece, sp.at, 0, 3, "there is no text below the front matter")
		return
	}
	text := append(append(slices.Clone(p.Text), '\n', '\n'), sp.page.Text...)
	p.Body = append(append(slices.Clone(p.Body), '\n', '\n'), sp.page.Body...)
	p.Text = text
	l.c.Texts[p.File] = text
	p.Parts = append(p.Parts, Part{File: sp.at, From: from, Len: len(sp.page.Text)})
	p.Front.Passed = append(slices.Clone(p.Front.Passed), f.Passed...)
	p.Inserts = append(p.Inserts, Insert{File: sp.at, Title: f.Title, Anchor: anchor, After: key == "after"})
	if key == "before" {
		p.Doc.InsertBefore(p.Doc, heading, box)
	} else {
		p.Doc.InsertAfter(p.Doc, lastOf(heading), box)
	}
	if !slices.Contains(l.c.OurPages, p) {
		l.c.OurPages = append(l.c.OurPages, p)
	}
}

func blanked(text []byte) []byte {
	for i, ch := range text {
		if ch != '\n' {
			text[i] = ' '
		}
	}
	return text
}

func findHeading(p *Page, anchor string) (ast.Node, []string) {
	var known []string
	for n := p.Doc.FirstChild(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok {
			a := Anchor(h, p.Body)
			if a == anchor {
				return h, nil
			}
			known = append(known, a)
		}
	}
	return nil, known
}

// lastOf is the last block of the section that a heading opens.
func lastOf(heading ast.Node) ast.Node {
	level, last := heading.(*ast.Heading).Level, heading
	for n := heading.NextSibling(); n != nil; n = n.NextSibling() {
		if h, ok := n.(*ast.Heading); ok && h.Level <= level || n.Kind() == east.KindFootnoteList {
			break
		}
		last = n
	}
	return last
}

// isLeftOut reports whether shop.yaml leaves a chapter out.
func (l *loader) isLeftOut(slug string) bool {
	return slices.ContainsFunc(l.c.LeftOut, func(o LeftOut) bool { return o.Slug == slug })
}

// reservedNumber is a number of the pages that are made of lists.
func reservedNumber(n string) bool {
	return n == "C0" || strings.HasPrefix(n, "C-") || len(n) == 2 && n[0] == 'L' && n[1] >= '1' && n[1] <= '9'
}

func publicWord(s string) bool {
	return s != "" && len(s) <= 60 && s[0] != '-' && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// sortOurs puts the shop's pages in reading order.
func (l *loader) sortOurs() {
	order := map[*Page]int{}
	for i, p := range l.c.All() {
		order[p] = i
	}
	slices.SortStableFunc(l.c.OurPages, func(a, b *Page) int { return cmp.Compare(order[a], order[b]) })
}
