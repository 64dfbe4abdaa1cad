// Package render turns a checked page into HTML. It computes nothing: every
// number it prints was evaluated by check. It may import check, source, the
// panel and goldmark's renderer; it writes nothing to disk.
package render

import (
	"fmt"
	"html"
	"path"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/panel"
)

// Context is one page being rendered. A body is rendered once, for wherever it will
// stand: Href and Prefix give marks, which Body.Set replaces (see marks.go).
type Context struct {
	Page *check.Page
	Site *check.Site
	// Terms are the glossary's terms; nil links none.
	Terms *Terms
	// Edition is what a printed job sheet says of the handbook.
	Edition []calc.Entry
	// Table says a table's revision, date and check code.
	Table func(name string) string
	// Works collects the works that examples and tables name, in order of first use.
	Works    []source.Work
	sources  []check.Cited   // what the text cites, by number
	practice bool            // the text has the mark of common practice
	named    map[string]bool // the sources whose first number was set
	terms    map[string]bool
	renderer renderer.Renderer
	calcs    int
	level    int // of the last heading
	examples int // worked so far on this page
}

// Relative returns an Href for a page at the given address in a folder.
func Relative(from string) func(string) string {
	up := strings.Repeat("../", strings.Count(from, "/"))
	return func(address string) string {
		file, fragment, has := strings.Cut(address, "#")
		if file == from && has {
			return "#" + fragment
		}
		if path.Dir(file) == path.Dir(from) && up != "" {
			file = path.Base(file)
		} else {
			file = up + file
		}
		if has {
			return file + "#" + fragment
		}
		return file
	}
}

// Markdown renders a page's markdown, block by block, with each block's sources
// before it.
func Markdown(c *Context) (string, error) {
	c.terms, c.named = map[string]bool{}, map[string]bool{}
	var s strings.Builder
	for block := c.Page.Doc.FirstChild(); block != nil; block = block.NextSibling() {
		s.WriteString(c.number(block))
		body, err := c.node(block)
		if err != nil {
			return "", err
		}
		s.WriteString(body)
	}
	return c.mark() + s.String(), nil
}

// mark says of a whole page that it is the shop's.
func (c *Context) mark() string {
	switch c.Page.Ours {
	case source.OursNew:
		return "<p class=\"ours-mark\">Our shop: a page of our own</p>\n"
	case source.OursReplaced:
		return "<p class=\"ours-mark\">Our shop: this page stands in the place of the handbook’s</p>\n"
	}
	return ""
}

// node renders a tree. Unknown nodes are an error, never left out.
func (c *Context) node(doc ast.Node) (string, error) {
	var s strings.Builder
	if c.renderer == nil {
		c.renderer = source.Markdown().Renderer()
		c.renderer.AddOptions(renderer.WithNodeRenderers(util.Prioritized(&nodes{c}, 10)))
	}
	if err := c.renderer.Render(&s, c.Page.Body, doc); err != nil {
		return "", fmt.Errorf("%s: %w", c.Page.File, err)
	}
	return s.String(), nil
}

type nodes struct{ c *Context }

var _ renderer.NodeRenderer = (*nodes)(nil)

// RegisterFuncs takes over the nodes that are ours.
func (n *nodes) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindHeading, n.heading)
	r.Register(ast.KindParagraph, n.paragraph)
	r.Register(ast.KindFencedCodeBlock, n.fenced)
	r.Register(ast.KindCodeSpan, n.codeSpan)
	r.Register(ast.KindLink, n.link)
	r.Register(ast.KindText, n.text)
	r.Register(east.KindTable, n.table)
	r.Register((&source.Cite{}).Kind(), n.cite)
	r.Register((&source.Ours{}).Kind(), n.ours)
	r.Register(ast.KindImage, n.image)
}

func (n *nodes) heading(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	h := node.(*ast.Heading)
	if entering {
		n.c.level = h.Level
		fmt.Fprintf(w, `<h%d id="%s">`, h.Level, html.EscapeString(n.c.Prefix()+n.c.Page.Anchors[h]))
	} else {
		fmt.Fprintf(w, "</h%d>\n", h.Level)
	}
	return ast.WalkContinue, nil
}

func (n *nodes) paragraph(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	switch {
	case entering && node == n.c.Page.Short:
		_, _ = w.WriteString(`<p class="short">`)
	case entering:
		_, _ = w.WriteString("<p>")
	default:
		_, _ = w.WriteString("</p>\n")
	}
	return ast.WalkContinue, nil
}

// table wraps a table so that a narrow screen can move it sideways alone.
func (n *nodes) table(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = w.WriteString(`<div class="wide" role="group" tabindex="0"><table>` + "\n")
	} else {
		_, _ = w.WriteString("</table></div>\n")
	}
	return ast.WalkContinue, nil
}

func (n *nodes) codeSpan(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	if printed, ok := n.c.Page.Inline[node]; ok {
		_, _ = w.WriteString(`<span class="result">` + html.EscapeString(printed) + "</span>")
		return ast.WalkSkipChildren, nil
	}
	_, _ = w.WriteString("<code>")
	for ch := node.FirstChild(); ch != nil; ch = ch.NextSibling() {
		if t, ok := ch.(*ast.Text); ok {
			_, _ = w.WriteString(html.EscapeString(strings.ReplaceAll(string(t.Segment.Value(src)), "\n", " ")))
		}
	}
	_, _ = w.WriteString("</code>")
	return ast.WalkSkipChildren, nil
}

// ours marks what the shop set into a page.
func (n *nodes) ours(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		title := node.(*source.Ours).Title
		if title != "" {
			title = ": " + title
		}
		_, _ = w.WriteString(`<section class="ours"><p class="ours-mark">Our shop` + html.EscapeString(title) + "</p>\n")
	} else {
		_, _ = w.WriteString("</section>\n")
	}
	return ast.WalkContinue, nil
}

// image sets a drawing of the shop's, which the page carries inside itself.
func (n *nodes) image(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		i := node.(*ast.Image)
		_, _ = w.WriteString(`<img class="shop-figure" alt="` + html.EscapeString(source.Plain(i, src)) + `" src="` + html.EscapeString(n.c.Site.Content.Figures[string(i.Destination)]) + `">`)
	}
	return ast.WalkSkipChildren, nil
}

func (n *nodes) link(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if n.c.Page.Links[node] == "" { // it led to a chapter that this edition leaves out
		if !entering {
			_, _ = w.WriteString(` <span class="left-out">(left out of our edition)</span>`)
		}
		return ast.WalkContinue, nil
	}
	if entering {
		fmt.Fprintf(w, `<a href="%s">`, html.EscapeString(n.c.Href(n.c.Page.Links[node])))
	} else {
		_, _ = w.WriteString("</a>")
	}
	return ast.WalkContinue, nil
}

func (c *Context) cite(w source.Work) {
	for _, old := range c.Works {
		if old.Key == w.Key {
			return
		}
	}
	c.Works = append(c.Works, w)
}

// ShortName is how a work is named in running text: authors or title, and year.
func ShortName(w source.Work) string {
	name := w.Authors
	if name == "" {
		name = w.Title
	} else if first, rest, many := strings.Cut(name, ","); many {
		if strings.Contains(rest, ",") {
			name = first + " et al."
		} else {
			name = first + " and " + strings.TrimSpace(rest)
		}
	}
	if w.Year != "" {
		name += " " + w.Year
	}
	return name
}

// text links a term of the glossary at its first use on the page.
func (n *nodes) text(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	t := node.(*ast.Text)
	value := string(t.Segment.Value(src))
	_, cited := node.NextSibling().(*source.Cite)
	if cited { // its number stands close to the word
		value = strings.TrimRight(value, " ")
	}
	if t.IsRaw() {
		_, _ = w.WriteString(html.EscapeString(value))
	} else {
		value = unescaped(value)
		if linkable(node) {
			_, _ = w.WriteString(n.c.withTerms(value))
		} else {
			_, _ = w.WriteString(html.EscapeString(value))
		}
	}
	switch {
	case t.HardLineBreak():
		_, _ = w.WriteString("<br>\n")
	case t.SoftLineBreak() && !cited:
		_, _ = w.WriteString("\n")
	}
	return ast.WalkContinue, nil
}

// unescaped resolves backslash escapes and character references.
func unescaped(s string) string {
	return string(util.UnescapePunctuations(util.ResolveNumericReferences(util.ResolveEntityNames([]byte(s)))))
}

// linkable is running text: not a heading, not inside a link.
func linkable(n ast.Node) bool {
	for p := n.Parent(); p != nil; p = p.Parent() {
		if p.Kind() == ast.KindLink || p.Kind() == ast.KindHeading {
			return false
		}
	}
	return true
}

func (n *nodes) fenced(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	if b, ours := n.c.Page.Blocks[node]; ours {
		out, err := b.Print(blocks{n.c})
		_, _ = w.WriteString(out)
		return ast.WalkSkipChildren, err
	}
	var s strings.Builder
	lines := node.Lines()
	for i := range lines.Len() {
		seg := lines.At(i)
		s.Write(seg.Value(src))
	}
	_, _ = w.WriteString(`<pre class="plain"><code>` + html.EscapeString(s.String()) + "</code></pre>\n")
	return ast.WalkSkipChildren, nil
}

// Calculator renders a live calculator with the answer it has before any script.
// In the one file each stands on its own sheet only and the others link to it:
// sixty copies would double its size.
func (c *Context) Calculator(rep *calc.Reply, level int, id string) string {
	form := c.calculator(rep, level, id)
	own := check.CalculatorAddress(rep.Calculator.ID)
	if c.Page.Address == own || c.Page.Address == "index.html" || rep.Answer == nil {
		return form
	}
	address := c.Href(own + "#" + rep.Calculator.ID + "?" + panel.Link(rep))
	return either(form, `<section class="calc-link"><p class="headline">`+html.EscapeString(rep.Answer.Headline)+`</p><p>`+html.EscapeString(rep.Answer.Lead)+
		`</p><p><a href="`+html.EscapeString(address)+`">Open the calculator with these numbers: `+html.EscapeString(rep.Calculator.Question)+"</a></p></section>\n")
}

func (c *Context) calculator(rep *calc.Reply, level int, id string) string {
	c.calcs++
	prefix := c.Prefix() + id
	if c.calcs > 1 {
		prefix += fmt.Sprint("-", c.calcs)
	}
	first := c.Page.Address == "index.html"
	form := panel.Form(rep, panel.Options{Prefix: prefix, Heading: level, Compact: first && c.calcs == 1, Edition: c.Edition,
		Link: func(id string) string {
			if check.CalculatorAddress(id) == c.Page.Address {
				return ""
			}
			return c.Href(check.CalculatorAddress(id))
		},
		Cite: func(key string) string { return c.Href("bibliography.html#" + key) }})
	form = c.pages(form)
	if first && c.calcs > 1 {
		return `<details class="grow"><summary>Go on to the ` + html.EscapeString(strings.ToLower(rep.Calculator.Title)) + ": the whole process for this print</summary>\n" + form + "</details>\n"
	}
	return form
}

// pages gives “read more” its address: a calculator names a page under the root.
func (c *Context) pages(form string) string {
	const mark = ` data-page="`
	var s strings.Builder
	for {
		before, rest, found := strings.Cut(form, mark)
		s.WriteString(before)
		if !found {
			return s.String()
		}
		page, after, _ := strings.Cut(rest, `"`)
		s.WriteString(` href="` + html.EscapeString(c.Href(html.UnescapeString(page))) + `"` + mark + page + `"`)
		form = after
	}
}
