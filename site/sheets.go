package site

import (
	"html"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/render"
	"kerfbook/site/internal/source"
	"kerfbook/site/record"
	"kerfbook/wasm/calc"
)

// list puts all sheets of the edition in order: the first page, the chapters,
// the calculators, and the pages that are made of lists.
func (p *press) list() []sheet {
	p.terms = render.NewTerms(p.site.Content.Terms)
	var out []sheet
	for _, pg := range p.site.Pages {
		kind := "page"
		switch {
		case pg.Chapter == nil:
			kind = "first"
		case pg.Chapter.Index == pg.Page:
			kind = "chapter"
		}
		out = append(out, p.pageSheet(kind, pg))
	}
	out = append(out, sheet{kind: "calculators", address: "calculators/index.html", title: "Calculators, by the question they answer", number: "C0",
		description: "Every calculator of the handbook by the question it answers.", body: p.calculatorList})
	for _, k := range p.site.Set.All() {
		out = append(out, p.calculatorSheet(k))
	}
	out = append(out,
		sheet{kind: "contents", address: "contents.html", title: "Contents", number: "L1", description: "All sheets of the handbook.", body: noBody},
		sheet{kind: "find", address: "find.html", title: "Find", number: "L2", description: "Pages, calculators and terms in alphabetical order.", body: p.findList},
		sheet{kind: "glossary", address: "glossary.html", title: "Glossary", number: "L3", description: "The words of the trade as this handbook uses them.", body: p.glossary},
		sheet{kind: "bibliography", address: "bibliography.html", title: "Bibliography", number: "L4", description: "Every publication the handbook rests on.", body: p.bibliography},
		sheet{kind: "passed", address: "passed.html", title: "What the checks let pass, and why", number: "L5", description: "What every page is looked at for, and each place that may differ, with its reason.", body: p.passed},
		sheet{kind: "trust", address: "trust.html", title: "How far to trust this", number: "L6", description: "What the computing was held against, where it missed, and how each constant was come by.", body: p.trust})
	if p.site.Content.Shop != nil {
		out = append(out, sheet{kind: "ours", address: "ours.html", title: "What we do differently", number: "L7", description: "Every row, rule, page and example in which this shop’s edition is not the handbook’s.", body: p.ours})
	}
	return append(out, sheet{kind: codesKind, address: "codes.html", title: "Is my print current?", number: record.CodesNumber, description: "The check code of every sheet and every table of this edition, to hold a print against.", body: p.codes})
}

func (p *press) pageSheet(kind string, pg *check.Page) sheet {
	live := false
	for _, b := range pg.Blocks {
		if _, ok := b.(*check.Calculator); ok {
			live = true
		}
	}
	return sheet{kind: kind, address: pg.Address, title: pg.Front.Title, number: pg.Front.Number, sheet: pg.Sheet, description: pg.Front.Description,
		aliases: pg.Front.Aliases, live: live, page: pg, body: func(c *render.Context) (string, error) {
			body, err := render.Markdown(c)
			if err != nil {
				return "", err
			}
			return body + c.SourceList(), nil
		}}
}

func (p *press) calculatorSheet(k *calc.Calculator) sheet {
	return sheet{kind: "page", address: check.CalculatorAddress(k.ID), title: k.Question, number: "C-" + k.ID, sheet: "C-" + k.ID,
		description: k.Summary, live: true, body: func(c *render.Context) (string, error) {
			var s strings.Builder
			s.WriteString(`<p class="short">` + html.EscapeString(k.Summary) + "</p>\n")
			s.WriteString(c.Calculator(p.site.Eval(k, p.site.Content.Book, calc.Input{System: p.system()}), 2, k.ID))
			s.WriteString(c.FieldList(k, p.site.Content.Book))
			s.WriteString(p.neighbours(c, k))
			return s.String(), nil
		}}
}

// neighbours links the pages that use a calculator and the other calculators.
func (p *press) neighbours(c *render.Context, k *calc.Calculator) string {
	var s strings.Builder
	s.WriteString("<h2 id=\"" + c.Prefix() + "read-more\">Read more</h2>\n<ul class=\"links\">\n")
	for _, pg := range p.site.Pages {
		if uses(pg, k.ID) {
			s.WriteString(`<li><a href="` + html.EscapeString(c.Href(pg.Address)) + `">` + html.EscapeString(pg.Front.Title) + "</a></li>\n")
		}
	}
	for _, other := range p.site.Set.All() {
		if other.ID != k.ID {
			s.WriteString(`<li><a href="` + html.EscapeString(c.Href(check.CalculatorAddress(other.ID))) + `">` + html.EscapeString(other.Question) + "</a> (calculator)</li>\n")
		}
	}
	s.WriteString("</ul>\n")
	return s.String()
}

func uses(pg *check.Page, id string) bool {
	for _, b := range pg.Blocks {
		switch b := b.(type) {
		case *check.Calculator:
			if b.ID == id {
				return true
			}
		case *check.Worked:
			if b.Calculator == id {
				return true
			}
		}
	}
	return false
}

func noBody(*render.Context) (string, error) { return "", nil }

func (p *press) calculatorList(c *render.Context) (string, error) {
	var s strings.Builder
	chapters, of := p.byChapter()
	for _, ch := range chapters {
		name, id := "More calculators", "more"
		if ch != nil {
			name, id = strconv.Itoa(ch.Number)+" "+ch.Name, ch.Slug
		}
		s.WriteString("<section class=\"asked\"><h2 id=\"" + c.Prefix() + id + "\">" + html.EscapeString(name) + "</h2>\n<ul class=\"questions\">\n")
		for _, k := range of[ch] {
			s.WriteString(`<li><a href="` + html.EscapeString(c.Href(check.CalculatorAddress(k.ID))) + `"><span class="question">` + html.EscapeString(k.Question) +
				`</span></a> <p>` + html.EscapeString(k.Summary) + ` <span class="name">C-` + html.EscapeString(k.ID) + "</span></p></li>\n")
		}
		s.WriteString("</ul></section>\n")
	}
	return s.String(), nil
}

// passed lists the lints, and every answer a page gives to one.
func (p *press) passed(c *render.Context) (string, error) {
	var s strings.Builder
	s.WriteString("<p class=\"short\">Every page is looked at for these things before it is published. Where a page may differ, it says why, and all the reasons stand here.</p>\n<h2 id=\"" + c.Prefix() + "looked-for\">What is looked for</h2>\n<dl class=\"fields-list\">\n")
	for _, l := range check.Lints() {
		s.WriteString("<div><dt>" + html.EscapeString(l[0]) + "</dt><dd>" + html.EscapeString(l[1]) + "</dd></div>\n")
	}
	s.WriteString("</dl>\n<h2 id=\"" + c.Prefix() + "reasons\">What may differ</h2>\n")
	rows := 0
	for _, pg := range p.site.Pages {
		for _, a := range pg.Passed {
			if rows++; rows == 1 {
				s.WriteString("<div class=\"wide\" role=\"group\" tabindex=\"0\"><table class=\"data\"><thead><tr><th scope=\"col\">Page</th><th scope=\"col\">Looked for</th><th scope=\"col\">Why it may stay</th></tr></thead>\n<tbody>\n")
			}
			where := a.Lint
			if a.At != "" {
				where += ", “" + a.At + "”"
			}
			s.WriteString(`<tr><td><a href="` + html.EscapeString(c.Href(pg.Address)) + `">` + html.EscapeString(pg.Front.Title) + "</a></td><td>" + html.EscapeString(where) + "</td><td>" + html.EscapeString(a.Because) + "</td></tr>\n")
		}
	}
	if rows == 0 {
		return s.String() + "<p>Nothing: no page differs.</p>\n", nil
	}
	s.WriteString("</tbody></table></div>\n")
	return s.String(), nil
}

func (p *press) bibliography(c *render.Context) (string, error) {
	works := slices.Clone(p.site.Content.Works)
	slices.SortStableFunc(works, func(a, b source.Work) int { return strings.Compare(a.Kind+a.Key, b.Kind+b.Key) })
	var s strings.Builder
	s.WriteString("<p>“Seen” means that the number, an abstract or an excerpt was read for this edition. “From memory” means that the work is named from memory and was not opened.</p>\n")
	kind := ""
	for _, w := range works {
		if w.Kind != kind {
			if kind != "" {
				s.WriteString("</ul>\n")
			}
			kind = w.Kind
			s.WriteString("<h2 id=\"" + c.Prefix() + "kind-" + html.EscapeString(kind) + "\">" + html.EscapeString(plural(kind)) + "</h2>\n<ul class=\"works\">\n")
		}
		s.WriteString(`<li id="` + c.Prefix() + html.EscapeString(w.Key) + `">` + render.WorkText(w) + "</li>\n")
	}
	if kind != "" {
		s.WriteString("</ul>\n")
	}
	return s.String(), nil
}

func plural(kind string) string {
	switch kind {
	case "dataset":
		return "Open data sets"
	case "program":
		return "General-purpose programs used as checks"
	case "thesis":
		return "Theses"
	case "":
		return "Other"
	}
	return strings.ToUpper(kind[:1]) + kind[1:] + "s"
}

// findList is one alphabetical list of everything that has a name; the page
// works without script, a filter above it needs one.
func (p *press) findList(c *render.Context) (string, error) {
	type entry struct{ name, what, address string }
	var all []entry
	for _, pg := range p.site.Pages {
		all = append(all, entry{pg.Front.Title, "sheet", pg.Address})
		for _, h := range pg.Headings {
			all = append(all, entry{h.Text, pg.Front.Title, pg.Address + "#" + h.Anchor})
		}
	}
	for _, k := range p.site.Set.All() {
		all = append(all, entry{k.Question, "calculator", check.CalculatorAddress(k.ID)})
		all = append(all, entry{k.Title, "calculator", check.CalculatorAddress(k.ID)})
	}
	for _, t := range p.site.Content.Terms {
		for _, name := range append([]string{t.Term}, t.Also...) {
			all = append(all, entry{name, "term", "glossary.html#" + render.TermAnchor(t.Term)})
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int { return strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name)) })
	var s strings.Builder
	s.WriteString("<ul class=\"find-list\">\n")
	for _, e := range all {
		s.WriteString(`<li><a href="` + html.EscapeString(c.Href(e.address)) + `">` + html.EscapeString(e.name) + `</a> <span class="what">` + html.EscapeString(e.what) + "</span></li>\n")
	}
	s.WriteString("</ul>\n")
	return s.String(), nil
}
