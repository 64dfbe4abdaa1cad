package render

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/source"
)

// practiceSign is the mark of common practice: no digit, so that it is no source.
const practiceSign = "†"

// practiceText explains the mark, in the margin and at the foot of the page.
const practiceText = "Common practice: shops work so, and no publication was found for it."

// number gives the sources that a block of the page is the first to cite their
// numbers, and sets them for the margin, where a wide sheet shows them beside it.
func (c *Context) number(block ast.Node) string {
	from, said := len(c.sources), c.practice
	c.eachCite(block, func(n *source.Cite) {
		cited := c.Page.Cites[n]
		if cited.Practice {
			c.practice = true
			return
		}
		if c.find(cited) < 0 {
			c.sources = append(c.sources, cited)
		}
	})
	if len(c.sources) == from && c.practice == said {
		return ""
	}
	// Who listens has the list at the foot, to which each number leads.
	var s strings.Builder
	s.WriteString(`<div class="margin" aria-hidden="true">`)
	for i := from; i < len(c.sources); i++ {
		cited := c.sources[i]
		s.WriteString(fmt.Sprintf("<p><b>%d</b> ", i+1) + html.EscapeString(ShortName(cited.Work)))
		if cited.Work.Authors != "" && c.firstOf(i) == i {
			s.WriteString(", <cite>" + html.EscapeString(cited.Work.Title) + "</cite>")
		}
		place, status := placeOf(cited)
		if place != "" {
			s.WriteString(", " + html.EscapeString(place))
		}
		s.WriteString(". " + html.EscapeString(status) + "</p>")
	}
	if c.practice && !said {
		s.WriteString("<p><b>" + practiceSign + "</b> " + practiceText + "</p>")
	}
	s.WriteString("</div>\n")
	return s.String()
}

// eachCite visits the citations of a block, also those of a caution.
func (c *Context) eachCite(block ast.Node, visit func(*source.Cite)) {
	_ = ast.Walk(block, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		if cite, ok := n.(*source.Cite); ok {
			visit(cite)
		}
		if b, ok := c.Page.Blocks[n]; ok && b.Facts().Text != nil {
			c.eachCite(b.Facts().Text, visit)
		}
		return ast.WalkContinue, nil
	})
}

// find is the place of a source among those that the page has named: the same work
// with the same place has one number.
func (c *Context) find(cited check.Cited) int {
	return slices.IndexFunc(c.sources, func(s check.Cited) bool { return s.Work.Key == cited.Work.Key && s.Place == cited.Place })
}

// firstOf is the first source of the same work.
func (c *Context) firstOf(i int) int {
	return slices.IndexFunc(c.sources, func(s check.Cited) bool { return s.Work.Key == c.sources[i].Work.Key })
}

func (n *nodes) cite(w util.BufWriter, src []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	c, cited := n.c, n.c.Page.Cites[node.(*source.Cite)]
	name, shown, label := "practice", practiceSign, "Common practice"
	if !cited.Practice {
		name = fmt.Sprint(c.find(cited) + 1)
		shown, label = "["+name+"]", "Source "+name
	}
	id := ""
	if !c.named[name] {
		c.named[name] = true
		id = ` id="` + c.Prefix() + "cite-" + name + `"`
	}
	fmt.Fprintf(w, `<sup class="src"><a%s href="#%ssource-%s" aria-label="%s">%s</a></sup>`, id, c.Prefix(), name, label, shown)
	return ast.WalkContinue, nil
}

// placeOf parts what a citation says of its place from what it says of how far
// the work was seen. A citation that names no place, or says that it is from memory,
// has a place that nobody saw: that is said here and not in the text.
func placeOf(cited check.Cited) (place, status string) {
	var places, seen []string
	for _, part := range strings.FieldsFunc(cited.Place, func(r rune) bool { return r == ',' || r == ';' }) {
		part = strings.TrimSpace(part)
		switch {
		case strings.HasPrefix(part, "from memory"), strings.HasSuffix(part, "not seen"):
			seen = append(seen, part)
		case part != "":
			places = append(places, part)
		}
	}
	told := len(seen) > 0
	if !told && cited.Work.Seen == "memory" {
		seen = []string{"from memory"}
	}
	if (told || len(places) == 0) && !slices.ContainsFunc(seen, func(s string) bool { return strings.HasSuffix(s, "not seen") }) {
		seen = append(seen, "place not seen")
	}
	if len(seen) == 0 {
		seen = []string{"seen"}
	}
	status = strings.Join(seen, ", ") + "."
	return strings.Join(places, ", "), strings.ToUpper(status[:1]) + status[1:]
}

// SourceList lists at the page's end, by their numbers, the sources that its text
// cites, explains the mark of common practice, and names the works that its
// examples and tables rest on besides.
func (c *Context) SourceList() string {
	rest := slices.DeleteFunc(slices.Clone(c.Works), func(w source.Work) bool {
		return slices.ContainsFunc(c.sources, func(s check.Cited) bool { return s.Work.Key == w.Key })
	})
	if len(rest) == 0 && len(c.sources) == 0 && !c.practice {
		return ""
	}
	var s strings.Builder
	class := "sources"
	if len(rest) == 0 {
		class += " in-margin" // beside the text, where there is a margin
	}
	s.WriteString(`<section class="` + class + `" aria-labelledby="` + c.Prefix() + `sources"><h2 class="after" id="` + c.Prefix() + "sources\">Sources on this sheet</h2>\n")
	back := func(name, label string) string {
		return ` <a class="back" href="#` + c.Prefix() + "cite-" + name + `" aria-label="Back to the text, ` + label + `">↑ text</a></li>` + "\n"
	}
	if len(c.sources) > 0 || c.practice {
		s.WriteString(`<ol class="works numbers">` + "\n")
	}
	for i, cited := range c.sources {
		name := fmt.Sprint(i + 1)
		place, status := placeOf(cited)
		s.WriteString(`<li id="` + c.Prefix() + "source-" + name + `" tabindex="-1"><b>` + name + "</b> ")
		if first := c.firstOf(i); first == i {
			s.WriteString(c.entry(cited.Work))
			if place != "" {
				s.WriteString(" Cited: " + html.EscapeString(place) + ".")
			}
			if note := strings.TrimSuffix(cited.Work.Note, "."); note != "" && !strings.EqualFold(note, place) {
				s.WriteString(" " + html.EscapeString(note) + ".")
			}
		} else {
			s.WriteString(c.workLink(cited.Work))
			if place != "" {
				s.WriteString(", " + html.EscapeString(place))
			}
			s.WriteString(fmt.Sprintf("; the work of number %d.", first+1))
		}
		s.WriteString(` <span class="seen">` + html.EscapeString(status) + "</span>" + back(name, "number "+name))
	}
	if c.practice {
		s.WriteString(`<li id="` + c.Prefix() + `source-practice" tabindex="-1"><b>` + practiceSign + "</b> " + practiceText + " The mark speaks for its paragraph, list or table, but for what a number cites there." + back("practice", "common practice"))
	}
	if len(c.sources) > 0 || c.practice {
		s.WriteString("</ol>\n")
	}
	if len(rest) > 0 {
		s.WriteString(`<p class="also-rest">Examples and tables of this sheet rest on:</p>` + "\n<ul class=\"works\">\n")
		for _, w := range rest {
			s.WriteString("<li>" + c.entry(w) + aboutWork(w) + "</li>\n")
		}
		s.WriteString("</ul>\n")
	}
	s.WriteString("</section>\n")
	return s.String()
}

// entry names a work in full, with the link to its place in the bibliography.
func (c *Context) entry(w source.Work) string {
	if w.Authors == "" { // its short name is its title
		rest := strings.TrimPrefix(record(w), "<cite>"+html.EscapeString(w.Title)+"</cite>")
		return c.workLink(source.Work{Key: w.Key, Title: w.Title}) + rest
	}
	return c.workLink(w) + ": " + record(w)
}

func (c *Context) workLink(w source.Work) string {
	return `<a href="` + html.EscapeString(c.Href("bibliography.html#"+w.Key)) + `">` + html.EscapeString(ShortName(w)) + "</a>"
}
