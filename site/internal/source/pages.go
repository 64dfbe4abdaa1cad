package source

import (
	"io/fs"
	"path"
	"strconv"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/wasm/spell"
)

// pages walks handbook/: folders "NN-slug" are chapters, files "NN-slug.md" in
// them are pages, index.md is the chapter's own; first.md is the first page.
func (l *loader) pages() {
	if text, ok := l.read("first.md"); ok {
		l.c.First = l.page("first.md", "index.html", "", text, nil)
	}
	dirs, err := fs.ReadDir(l.fsys, "handbook")
	if err != nil {
		l.problem(diag.FileMissing, "handbook", 0, 0, "the folder of chapters is missing")
		return
	}
	for _, d := range dirs {
		number, slug, ok := numbered(d.Name())
		if !d.IsDir() || !ok {
			l.problem(diag.FileName, "handbook/"+d.Name(), 0, 0, "a chapter is a folder called NN-name, for example 20-wire")
			continue
		}
		ch := &Chapter{Slug: slug, Number: len(l.c.Chapters) + 1}
		_ = number
		l.c.Chapters = append(l.c.Chapters, ch)
		l.chapter("handbook/"+d.Name(), ch)
	}
	if l.shop != nil {
		l.layPages()
		l.sortOurs()
	}
	l.checkPages()
}

func (l *loader) chapter(dir string, ch *Chapter) {
	files, _ := fs.ReadDir(l.fsys, dir)
	for _, f := range files {
		name := path.Join(dir, f.Name())
		switch {
		case f.Name() == "index.md":
			if text, ok := l.read(name); ok {
				ch.Index = l.page(name, ch.Slug+"/index.html", strconv.Itoa(ch.Number), text, ch)
			}
		case strings.HasSuffix(f.Name(), ".md"):
			_, slug, ok := numbered(strings.TrimSuffix(f.Name(), ".md"))
			if !ok {
				l.problem(diag.FileName, name, 0, 0, "a page's file is called NN-name.md, for example 10-diameter.md")
				continue
			}
			if text, ok := l.read(name); ok {
				sheet := strconv.Itoa(ch.Number) + "." + strconv.Itoa(len(ch.Pages)+1)
				if p := l.page(name, ch.Slug+"/"+slug+".html", sheet, text, ch); p != nil {
					ch.Pages = append(ch.Pages, p)
				}
			}
		default:
			l.problem(diag.FilePlace, name, 0, 0, "only .md files stand in a chapter's folder")
		}
	}
	if ch.Index != nil {
		ch.named(ch.Index.Front)
		if at := len(l.c.Chapters) - 2; ch.Part == "" && at >= 0 { // it goes on
			ch.Part = l.c.Chapters[at].Part
		}
	}
	if ch.Index == nil {
		l.problem(diag.FileMissing, dir, 0, 0, "the chapter has no index.md that can be read")
	}
}

// named takes over what a chapter's first page says of it.
func (ch *Chapter) named(f Front) {
	ch.Name, ch.Part = f.Name, f.Part
	if ch.Name == "" {
		ch.Name = f.Title
	}
}

func (l *loader) page(file, address, sheet string, text []byte, ch *Chapter) *Page {
	p := &Page{File: file, Address: address, Sheet: sheet, Text: text, Chapter: ch}
	if !l.front(p) || !l.own(p) {
		return nil
	}
	if l.tree != nil && l.shop == nil { // a shop's pieces are set into a tree of their own
		p.Doc = l.tree(p.File, p.Body)
	}
	if p.Doc == nil {
		p.Doc = l.c.Parse(p.Body)
	}
	return p
}

// numbered splits "20-wire" into 20 and "wire".
func numbered(name string) (int, string, bool) {
	head, slug, ok := strings.Cut(name, "-")
	n, err := strconv.Atoi(head)
	if !ok || err != nil || slug == "" || strings.Trim(slug, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		return 0, "", false
	}
	return n, slug, true
}

// checkPages looks for addresses and identification numbers that stand twice. Of
// two pages the shop's is told, since that is the one to change.
func (l *loader) checkPages() {
	addresses, anchors, numbers := map[string]*Page{}, map[string]*Page{}, map[string]*Page{}
	twice := func(p, other *Page, what string) {
		if other.Ours == OursNew && p.Ours != OursNew {
			p, other = other, p
		}
		file := other.File
		if len(other.Parts) > 0 {
			file = other.Origin(diag.Span{File: file}).File
		}
		l.problem(diag.PageTaken, p.File, 0, 3, what+" belongs to "+file+" already")
	}
	for _, p := range l.c.All() {
		for i, a := range append([]string{p.Address}, p.Front.Aliases...) {
			if i > 0 && !oldAddress(a) {
				l.problem(diag.PageAlias, p.File, 0, 3, "an older address of a page is written as wire/old-name.html, not "+spell.Quote(spell.Short(a, 40)))
				continue
			}
			if other, dup := addresses[a]; dup {
				twice(p, other, "the address "+spell.Quote(a))
			}
			addresses[a] = p
		}
		// In the one file a page's place is called by its address, with hyphens.
		at := strings.ReplaceAll(strings.TrimSuffix(strings.TrimSuffix(p.Address, ".html"), "/index"), "/", "-")
		if other, dup := anchors[at]; dup && other.Address != p.Address {
			twice(p, other, "the address "+spell.Quote(p.Address)+" reads like "+spell.Quote(other.Address)+", which")
		}
		anchors[at] = p
		if other, dup := numbers[p.Front.Number]; dup {
			twice(p, other, "the identification number "+spell.Quote(p.Front.Number))
		}
		numbers[p.Front.Number] = p
	}
}

// oldAddress holds an alias: a folder and a page, none of the calculators'.
func oldAddress(a string) bool {
	dir, file, ok := strings.Cut(strings.TrimSuffix(a, ".html"), "/")
	return ok && strings.HasSuffix(a, ".html") && dir != "calculators" && publicWord(dir) && publicWord(file) && !windowsOwn(dir) && !windowsOwn(file)
}
