package check

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
)

// A page whose text stands as it was when the site was checked last, and about
// which there was nothing to say, is taken over with all its results. That holds
// as long as nothing else changed that a page may read (keyOf), and no changed page
// shows others something else (shows). A shop's edition is checked whole each time:
// pages there are put together of two texts.

// keyOf is a digest of everything but the text of the pages: tables, glossary,
// bibliography, what the edition says of itself, and which pages there are.
func keyOf(c *source.Content) (key [sha256.Size]byte) {
	pages := map[string]bool{}
	var s strings.Builder
	for _, p := range c.All() {
		pages[p.File] = true
		fmt.Fprintf(&s, "%q %q %q\n", p.File, p.Address, p.Sheet)
	}
	var names []string
	for name := range c.Texts {
		if !pages[name] {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&s, "%q %x\n", name, sha256.Sum256(c.Texts[name]))
	}
	return sha256.Sum256([]byte(s.String()))
}

// takeOver puts pages of the site before in the place of those that are still the
// same.
func (s *Site) takeOver(before *Site) {
	if before == nil || s.Content.Shop != nil || before.Content.Shop != nil || before.key != s.key {
		return
	}
	for i, p := range s.Pages {
		old := before.page(p.File)
		if old == nil || old.told || !bytes.Equal(old.Text, p.Text) {
			continue
		}
		now := *old
		now.Page, now.Again = p.Page, true
		now.Page.Doc = old.Doc // the results hang on its nodes
		s.Pages[i] = &now
	}
}

// forget makes pages that were taken over be checked anew when a changed page shows
// others something else than before. It returns those pages.
func (s *Site) forget(before *Site) []*Page {
	if before == nil || !slices.ContainsFunc(s.Pages, func(p *Page) bool { return p.Again }) {
		return nil
	}
	same := func(p *Page) bool {
		old := before.page(p.File)
		return p.Again || old != nil && shows(old) == shows(p)
	}
	if !slices.ContainsFunc(s.Pages, func(p *Page) bool { return !same(p) }) {
		return nil
	}
	var list []*Page
	for i, p := range s.Pages {
		if p.Again {
			s.Pages[i] = newPage(p.Page)
			list = append(list, s.Pages[i])
		}
	}
	return list
}

// shows is what the checking of other pages reads of a page: what can be linked to.
func shows(p *Page) string {
	var s strings.Builder
	fmt.Fprintf(&s, "%q %q\n", p.Front.Title, p.Ours)
	for _, h := range p.Headings {
		fmt.Fprintf(&s, "%q\n", h.Anchor)
	}
	var ids []string
	for id := range p.worked {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return s.String() + strings.Join(ids, "\n")
}

// note keeps for the next time about which pages there was something to say.
func (s *Site) note(list *diag.List) {
	about := map[string]bool{}
	for _, m := range list.Messages() {
		about[m.Span.File] = true
	}
	for _, p := range s.Pages {
		p.told = about[p.File]
	}
}

func (s *Site) page(file string) *Page {
	for _, p := range s.Pages {
		if p.File == file {
			return p
		}
	}
	return nil
}

// Tree finds the tree of a page whose text is the same as when the site was checked:
// parsed once, it is never changed but in a shop's edition. A nil site has none.
func (s *Site) Tree(file string, body []byte) ast.Node {
	if s == nil || s.Content.Shop != nil {
		return nil
	}
	if p := s.page(file); p != nil && bytes.Equal(p.Body, body) {
		return p.Doc
	}
	return nil
}
