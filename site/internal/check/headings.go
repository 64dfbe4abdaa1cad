package check

import (
	"fmt"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/spell"
)

// A heading that more than one page in commonShare has says nothing of its page. A
// book of a few pages may repeat one up to commonLeast times.
const (
	commonShare = 5
	commonLeast = 5
)

// lintHeadings looks for headings that stand on more than a fifth of the pages, and
// speaks once of each, at the first page that has it. It is no matter of one page,
// so no page can answer it.
func (s *Site) lintHeadings(list *diag.List) {
	type use struct {
		page       *Page
		start, end int
		count      int
	}
	uses := map[string]*use{}
	var order []*use
	var texts []string
	for _, p := range s.Pages {
		here := map[string]bool{}
		for n := p.Doc.FirstChild(); n != nil; n = n.NextSibling() {
			h, ok := n.(*ast.Heading)
			if !ok || h.Lines().Len() == 0 {
				continue
			}
			text := source.Plain(h, p.Body)
			if here[text] {
				continue
			}
			here[text] = true
			if uses[text] == nil {
				seg := h.Lines().At(0)
				uses[text] = &use{page: p, start: seg.Start, end: seg.Stop}
				order, texts = append(order, uses[text]), append(texts, text)
			}
			uses[text].count++
		}
	}
	for i, u := range order {
		if u.count > commonLeast && u.count*commonShare > len(s.Pages) {
			list.Add(diag.Message{ID: diag.LintHeading, Kind: diag.Warning, Span: diag.Span{File: u.page.File, Start: u.start, End: u.end},
				Text:  fmt.Sprintf("heading: %d of %d pages have %s", u.count, len(s.Pages), spell.Quote(texts[i])),
				Notes: []string{"name what this page says there, or set it without a heading; {#name} keeps the old anchor"}})
		}
	}
}
