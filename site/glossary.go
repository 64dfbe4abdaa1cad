package site

import (
	"encoding/json"
	"fmt"
	"html"
	"slices"
	"strings"
	"unicode"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/render"
	"kerfbook/site/internal/source"
	"kerfbook/site/record"
)

// What a place says for a word: a page's title that has it is about it, a heading
// nearly so, and of the text a dozen mentions are as good as many.
const (
	inTitle   = 40
	inHeading = 12
	inShort   = 6
	mostNamed = 12
	leastTold = 6 // below this a page uses the word and does not explain it
)

// teachers are the pages that explain a term, the best first, two at most; or, where
// none does, the one that uses it most.
type teachers struct {
	pages   []*check.Page
	explain bool
}

func (p *press) taught() []teachers {
	type mark struct {
		page  *check.Page
		score int
	}
	best := make([][]mark, len(p.site.Content.Terms))
	for _, pg := range p.site.Pages {
		if pg.Chapter == nil {
			continue
		}
		for term, score := range p.told(pg) {
			best[term] = append(best[term], mark{pg, score})
		}
	}
	out := make([]teachers, len(best))
	for i, list := range best {
		slices.SortStableFunc(list, func(a, b mark) int { return b.score - a.score })
		for n, m := range list {
			out[i].explain = list[0].score >= leastTold
			if n == 0 || n == 1 && out[i].explain && 2*m.score > list[0].score {
				out[i].pages = append(out[i].pages, m.page)
			}
		}
	}
	return out
}

// told is how much a page says of each term; of a page that was taken over, what
// was found before.
func (p *press) told(pg *check.Page) map[int]int {
	if p.draft != nil && pg.Again && p.draft.before != nil {
		if told := p.draft.before.told[pg.File]; told != nil {
			return p.keepTold(pg, told)
		}
	}
	told := map[int]int{}
	for term, n := range p.terms.Count(running(pg)) {
		told[term] = min(n, mostNamed)
	}
	add := func(text string, worth int) {
		for term := range p.terms.Count(text) {
			told[term] += worth
		}
	}
	add(pg.Front.Title, inTitle)
	for _, h := range pg.Headings {
		add(h.Text, inHeading)
	}
	short, _, _ := strings.Cut(strings.TrimSpace(string(pg.Body)), "\n\n")
	add(short, inShort)
	return p.keepTold(pg, told)
}

func (p *press) keepTold(pg *check.Page, told map[int]int) map[int]int {
	if p.draft != nil && p.options.Memory != nil {
		if p.draft.told == nil {
			p.draft.told = map[string]map[int]int{}
		}
		p.draft.told[pg.File] = told
	}
	return told
}

// running is a page's text without its blocks.
func running(pg *check.Page) string {
	var s strings.Builder
	fence := false
	for line := range strings.Lines(string(pg.Body)) {
		if strings.HasPrefix(line, "```") {
			fence = !fence
		} else if !fence {
			s.WriteString(line)
		}
	}
	return s.String()
}

// entry is a term's name and definition as they stand in the glossary and beside the
// word itself: HTML.
func (p *press) entry(term int, href func(string) string) (name, text string) {
	t := p.site.Content.Terms[term]
	name, text = html.EscapeString(t.Term), html.EscapeString(t.Text)
	if t.Unit != "" {
		name += ` <span class="unit">` + html.EscapeString(t.Unit) + "</span>"
	}
	if len(t.Also) > 0 {
		text += ` <span class="also">Also: ` + html.EscapeString(strings.Join(t.Also, ", ")) + ".</span>"
	}
	for i, pg := range p.teachers[term].pages {
		head := " and "
		switch {
		case i == 0 && p.teachers[term].explain:
			head = ` <span class="taught">Explained in `
		case i == 0:
			head = ` <span class="taught">Used in `
		}
		text += head + `<a href="` + html.EscapeString(href(pg.Address)) + `">` + html.EscapeString(pg.Sheet+" "+pg.Front.Title) + "</a>"
	}
	if len(p.teachers[term].pages) > 0 {
		text += "</span>"
	}
	return name, text
}

// byName are the terms in the order of the alphabet, by their place in the content.
func byName(terms []source.Term) []int {
	order := make([]int, len(terms))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return strings.Compare(strings.ToLower(terms[a].Term), strings.ToLower(terms[b].Term))
	})
	return order
}

// initial is the letter under which a term stands.
func initial(term string) string {
	for _, r := range term {
		if unicode.IsLetter(r) {
			return string(unicode.ToUpper(r))
		}
		break
	}
	return "#"
}

// glossary is the page of all terms, by letters.
func (p *press) glossary(c *render.Context) (string, error) {
	terms := p.site.Content.Terms
	var letters, s strings.Builder
	last := ""
	for _, i := range byName(terms) {
		if l := initial(terms[i].Term); l != last {
			if last != "" {
				s.WriteString("</dl></section>\n")
			}
			last = l
			id := "letter-" + strings.ToLower(l)
			if l == "#" {
				id = "letter-other"
			}
			letters.WriteString(`<li><a href="` + html.EscapeString(c.Href("glossary.html#"+id)) + `">` + html.EscapeString(l) + "</a></li>")
			s.WriteString(`<section class="letter"><h2 id="` + c.Prefix() + html.EscapeString(id) + `">` + html.EscapeString(l) + "</h2>\n<dl class=\"glossary\">\n")
		}
		name, text := p.entry(i, c.Href)
		s.WriteString(`<div><dt id="` + c.Prefix() + render.TermAnchor(terms[i].Term) + `">` + name + "</dt><dd>" + text + "</dd></div>\n")
	}
	if last != "" {
		s.WriteString("</dl></section>\n")
	}
	return fmt.Sprintf(`<p class="short">%d words of the trade, as this handbook uses them, and the sheets that explain them.</p>
<p class="filter" hidden><label for="%sword-text">Find a word</label> <input id="%[2]sword-text" type="search" autocomplete="off" spellcheck="false"> <span class="found" role="status"></span></p>
<nav class="letters" aria-label="Letters"><ul>%s</ul></nav>
`, len(terms), c.Prefix(), letters.String()) + s.String(), nil
}

// words is the script from which a page of the folder shows a term in its place: by
// its anchor the name and the text, with links from the root of the edition.
func (p *press) words() (asset, error) {
	all := map[string][2]string{}
	for i, t := range p.site.Content.Terms {
		name, text := p.entry(i, render.Relative("glossary.html"))
		all[render.TermAnchor(t.Term)] = [2]string{name, text}
	}
	data, err := json.Marshal(all)
	if err != nil {
		return asset{}, err
	}
	text := append(append([]byte("self.kerfbookWords="), data...), ";\n"...)
	sum := record.Sum(text)
	return asset{"words-" + record.Short(sum) + ".js", sum, text}, nil
}
