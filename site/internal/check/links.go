package check

import (
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
)

// link resolves a destination:
//
//	../20-wire/index.md#anchor      another page, by its file
//	#anchor                         this page
//	calculator:corner?radius=3 thou a calculator with values
//	contents: / glossary: / ...     the generated pages
//	https://…                       refused: the handbook works with no network
func (c *checker) link(n *ast.Link, dest string) {
	at := place(n, c.page.Body)
	at, end := c.destination(at, dest)
	u, err := url.Parse(dest)
	if err != nil {
		c.problem(diag.LinkRead, at, end, "the link "+spell.Quote(dest)+" cannot be read")
		return
	}
	switch {
	case u.Scheme == "calculator":
		c.calculatorLink(n, dest, at, end)
	case u.Scheme != "" || u.Host != "":
		c.problem(diag.LinkOut, at, end, "a page links only into the handbook, which must work with no network; publications stand in the bibliography")
	case u.Path == "":
		c.anchor(n, c.page, u.Fragment, at, end)
	default:
		file := path.Join(path.Dir(c.page.File), u.Path)
		if target, ok := generated(file); ok && (target != "ours.html" || c.shop()) {
			c.page.Links[n] = target
			return
		}
		for _, p := range c.site.Pages {
			if p.File == file {
				c.anchor(n, p, u.Fragment, at, end)
				return
			}
		}
		if c.leftOut(file) {
			c.page.Links[n] = "" // its text stays, and leads nowhere
			return
		}
		var files []string
		for _, p := range c.site.Pages {
			files = append(files, p.File)
		}
		text := "there is no page " + spell.Quote(file)
		if near, ok := spell.Nearest(file, files); ok {
			text += "; did you mean " + spell.Quote(near) + "?"
		}
		c.problem(diag.LinkPage, at, end, text)
	}
}

// generated maps the names of pages that have no file to their address.
func generated(file string) (string, bool) {
	switch path.Base(file) {
	case "contents.md", "bibliography.md", "glossary.md", "find.md", "passed.md", "trust.md", "codes.md", "ours.md":
		return strings.TrimSuffix(path.Base(file), ".md") + ".html", true
	case "calculators.md":
		return "calculators/index.html", true
	}
	return "", false
}

// destination finds where a link's address stands in the page's text.
func (c *checker) destination(at int, dest string) (int, int) {
	if i := strings.Index(string(c.page.Body[at:]), "("+dest); i >= 0 {
		return at + i + 1, at + i + 1 + len(dest)
	}
	return at, at + 1
}

func (c *checker) anchor(n *ast.Link, p *Page, fragment string, at, end int) {
	address := p.Address
	if fragment != "" {
		var known []string
		for _, h := range p.Headings {
			known = append(known, h.Anchor)
		}
		found := p.worked[fragment] != nil
		for _, k := range known {
			found = found || k == fragment
		}
		if !found && p.Ours == source.OursReplaced && !c.isOurs(at) {
			c.page.Links[n] = address // the shop wrote the page anew: its top will do
			return
		}
		if !found {
			text := "the page " + spell.Quote(p.Front.Title) + " has no anchor " + spell.Quote(fragment)
			if near, ok := spell.Nearest(fragment, known); ok {
				text += "; did you mean " + spell.Quote(near) + "?"
			}
			c.problem(diag.LinkAnchor, at, end, text)
			return
		}
		address += "#" + fragment
	}
	c.page.Links[n] = address
}

func (c *checker) calculatorLink(n *ast.Link, dest string, at, end int) {
	rest := strings.TrimPrefix(dest, "calculator:")
	id, query, _ := strings.Cut(rest, "?")
	k := c.calculator(id, at+len("calculator:"))
	if k == nil {
		return
	}
	values, err := url.ParseQuery(query)
	if err != nil {
		c.problem(diag.LinkRead, at, end, "the values of the link cannot be read: write name=value&name=value")
		return
	}
	in := calc.Input{Values: map[string]string{}, Strict: true}
	for name := range values {
		in.Values[name] = values.Get(name)
	}
	problems := c.site.Eval(k, c.book(), in).Problems
	if len(problems) > 0 && c.shop() && !c.isOurs(at) && len(c.byHandbook(k.ID, in.Values).Problems) == 0 {
		problems = nil // our tables lack what the link asks: the calculator says so
	}
	for _, pr := range problems {
		c.problem(diag.InputValue, at, end, pr.Text)
	}
	address := CalculatorAddress(k.ID) + "#" + k.ID
	if len(values) > 0 {
		address += "?" + strings.ReplaceAll(values.Encode(), "+", "%20")
	}
	c.page.Links[n] = address
}
