package site

import (
	"cmp"
	"slices"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/source"
	"kerfbook/site/theme"
	"kerfbook/wasm/calc"
)

// belongings says what stands beside a chapter in the contents: the calculators
// and the sheets of tables that belong to it.
type belongings struct {
	calculators map[*source.Chapter][]*calc.Calculator
	tables      map[*source.Chapter][]*check.Page
	home        map[string]*source.Chapter // of a calculator, by its ID
}

// belong finds the chapter that each calculator and each sheet of tables belongs
// to. A calculator: the chapter that uses it most, a form on a page counting more
// than an example, and a chapter's first page more than the others. A sheet of
// tables: the chapter that it leads to most, by links to pages and calculators, and
// whose calculators read these tables and few others.
func (p *press) belong() belongings {
	b := belongings{calculators: map[*source.Chapter][]*calc.Calculator{}, tables: map[*source.Chapter][]*check.Page{}, home: map[string]*source.Chapter{}}
	uses := map[string]map[*source.Chapter]int{}
	add := func(key string, ch *source.Chapter, n int) {
		if uses[key] == nil {
			uses[key] = map[*source.Chapter]int{}
		}
		uses[key][ch] += n
	}
	sheetsOfTables := map[*source.Chapter]int{}
	for _, pg := range p.site.Pages {
		if pg.Chapter == nil {
			continue
		}
		if isTables(pg) {
			sheetsOfTables[pg.Chapter]++
		}
		for _, block := range pg.Blocks {
			switch block := block.(type) {
			case *check.Calculator:
				n := 3
				if pg.Chapter.Index == pg.Page {
					n = 4
				}
				add(block.ID, pg.Chapter, n)
			case *check.Worked:
				add(block.Calculator, pg.Chapter, 1)
			}
		}
	}
	ofTables := func(ch *source.Chapter) bool { return sheetsOfTables[ch]*2 > len(ch.Pages) }
	most := func(of map[*source.Chapter]int) *source.Chapter {
		var best *source.Chapter
		for _, ch := range p.site.Content.Chapters {
			if of[ch] > 0 && !ofTables(ch) && (best == nil || of[ch] > of[best]) {
				best = ch
			}
		}
		return best
	}
	for _, k := range p.site.Set.All() {
		if ch := most(uses[k.ID]); ch != nil {
			b.home[k.ID] = ch
			b.calculators[ch] = append(b.calculators[ch], k)
		}
	}
	for _, pg := range p.site.Pages {
		if pg.Chapter == nil || pg.Chapter.Index == pg.Page || !ofTables(pg.Chapter) {
			continue
		}
		near := p.leadsTo(pg, b)
		for ch, list := range b.calculators {
			read, shared := tablesRead(list), 0
			for name := range tablesShown(pg) {
				if read[name] {
					shared++
				}
			}
			near[ch] += 1000 * shared * shared / max(1, len(read))
		}
		if ch := most(near); ch != nil {
			b.tables[ch] = append(b.tables[ch], pg)
		}
	}
	return b
}

// tablesRead are the tables that calculators read.
func tablesRead(list []*calc.Calculator) map[string]bool {
	read := map[string]bool{}
	for _, k := range list {
		for _, t := range k.Tables {
			name, _, _ := strings.Cut(t, " ")
			read[name] = true
		}
	}
	return read
}

// tablesShown are the tables of the edition that a page shows.
func tablesShown(pg *check.Page) map[string]bool {
	shown := map[string]bool{}
	for _, block := range pg.Blocks {
		if t, ok := block.(*check.Table); ok && t.Name != "" {
			shown[t.Name] = true
		}
	}
	return shown
}

// leadsTo counts a page's links by the chapters that they lead to, a thousand for
// each.
func (p *press) leadsTo(pg *check.Page, b belongings) map[*source.Chapter]int {
	to := map[*source.Chapter]int{}
	for _, address := range pg.Links {
		file, _, _ := strings.Cut(address, "#")
		for _, other := range p.site.Pages {
			if other.Address == file && other.Chapter != nil {
				to[other.Chapter] += 1000
			}
		}
		id := strings.TrimSuffix(strings.TrimPrefix(file, "calculators/"), ".html")
		if ch := b.home[id]; ch != nil && file == check.CalculatorAddress(id) {
			to[ch] += 1000
		}
	}
	return to
}

// isTables tells a sheet that shows tables of the edition and asks nothing.
func isTables(pg *check.Page) bool {
	tables := 0
	for _, block := range pg.Blocks {
		switch block.(type) {
		case *check.Calculator:
			return false
		case *check.Table:
			tables++
		}
	}
	return tables > 0
}

// minutes is how long a page takes to read: 200 words a minute, common practice for
// a text that is worked with, and half a minute for each worked example.
func minutes(pg *check.Page) int {
	halves := pg.Words / 100
	for _, block := range pg.Blocks {
		if _, ok := block.(*check.Worked); ok {
			halves++
		}
	}
	return max(1, (halves+1)/2)
}

// parts are the contents: the chapters by the parts of the handbook.
func (p *press) parts(href func(string) string) []theme.Part {
	var out []theme.Part
	for _, ch := range p.site.Content.Chapters {
		if ch.Index == nil {
			continue
		}
		if n := len(out); n == 0 || out[n-1].Title != ch.Part {
			out = append(out, theme.Part{Title: ch.Part})
		}
		t := theme.Chapter{Name: ch.Name, Slug: ch.Slug, Number: ch.Index.Sheet, Href: href(ch.Index.Address)}
		for _, pg := range p.site.Pages {
			if pg.Chapter == ch {
				t.Sheets = append(t.Sheets, theme.Sheet{Title: pg.Front.Title, Number: pg.Sheet, ID: pg.Front.Number, Href: href(pg.Address), Minutes: minutes(pg)})
			}
		}
		for _, k := range p.belongs.calculators[ch] {
			t.Calculators = append(t.Calculators, theme.Link{Title: k.Title, Href: href(check.CalculatorAddress(k.ID))})
		}
		for _, pg := range p.belongs.tables[ch] {
			t.Tables = append(t.Tables, theme.Link{Title: pg.Front.Title, Number: pg.Sheet, Href: href(pg.Address)})
		}
		last := &out[len(out)-1]
		last.Chapters = append(last.Chapters, t)
	}
	return out
}

// onSheet are the headings of a page, for the line under its title, and the
// calculators that it uses.
func (p *press) onSheet(pg *check.Page, href func(string) string) (headings, calculators []theme.Link) {
	for _, h := range pg.Headings {
		if h.Level == 2 {
			headings = append(headings, theme.Link{Title: h.Text, Href: href(pg.Address + "#" + h.Anchor)})
		}
	}
	for _, k := range p.site.Set.All() {
		if uses(pg, k.ID) {
			calculators = append(calculators, theme.Link{Title: k.Title, Href: href(check.CalculatorAddress(k.ID))})
		}
	}
	return headings, calculators
}

// byChapter sorts the calculators by the chapters that they belong to; those of no
// chapter come last, under nil.
func (p *press) byChapter() (chapters []*source.Chapter, of map[*source.Chapter][]*calc.Calculator) {
	of = map[*source.Chapter][]*calc.Calculator{}
	for _, k := range p.site.Set.All() {
		ch := p.belongs.home[k.ID]
		if len(of[ch]) == 0 {
			chapters = append(chapters, ch)
		}
		of[ch] = append(of[ch], k)
	}
	order := func(ch *source.Chapter) int {
		if i := slices.Index(p.site.Content.Chapters, ch); i >= 0 {
			return i
		}
		return len(p.site.Content.Chapters)
	}
	slices.SortStableFunc(chapters, func(a, b *source.Chapter) int { return cmp.Compare(order(a), order(b)) })
	return chapters, of
}
