package render

import (
	"fmt"
	"html"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/panel"
)

// blocks sets every kind of block; it is the printer that check asks for.
type blocks struct{ c *Context }

func (p blocks) Calculator(b *check.Calculator) (string, error) {
	return p.c.Calculator(b.Reply, p.c.under(), b.ID), nil
}

func (p blocks) Worked(b *check.Worked) (string, error) { return p.c.worked(b), nil }

func (p blocks) Figure(b *check.Figure) (string, error) { return figure(b), nil }

func (p blocks) Picture(b *check.Picture) (string, error) {
	return `<figure class="drawing">` + panel.SVG(b.Drawing) + "<figcaption>" + html.EscapeString(b.Caption) + "</figcaption></figure>\n", nil
}

func (p blocks) Formula(b *check.Formula) (string, error) {
	return `<div class="formula">` + b.MathML + "</div>\n", nil
}

func (p blocks) NC(b *check.NC) (string, error) {
	return `<div class="wide" role="group" tabindex="0">` + b.HTML + "</div>\n", nil
}

func (p blocks) Caution(b *check.Caution) (string, error) { return p.c.caution(b) }

func (p blocks) Table(b *check.Table) (string, error) { return p.c.tableBlock(b), nil }

// worked sets an example as a small problem: what is given, the working, what comes
// out, and a link that opens the calculator with these numbers. The first of a page
// stands open; of the others stands what is given and what comes out, and the working
// is folded.
func (c *Context) worked(w *check.Worked) string {
	var s strings.Builder
	head := fmt.Sprint("h", c.under())
	id, class := "", "worked"
	if w.ID != "" {
		id = ` id="` + html.EscapeString(c.Prefix()+c.exampleID(w.ID)) + `"`
	}
	c.examples++
	brief := c.examples > 1
	if brief {
		class = "worked brief"
	}
	s.WriteString(`<section class="` + class + `"` + id + ">\n<" + head + " class=\"worked-head\">Worked example")
	if w.Title != "" {
		s.WriteString(": " + html.EscapeString(w.Title))
	}
	s.WriteString("</" + head + ">\n")
	if brief {
		s.WriteString(`<p class="worked-line">`)
		for i, g := range w.Inputs {
			if i > 0 {
				s.WriteString(" · ")
			}
			label, text := given(w, g)
			s.WriteString(html.EscapeString(label) + " <span>" + html.EscapeString(text) + "</span>")
		}
		s.WriteString("</p>\n")
	} else {
		s.WriteString("<dl class=\"given\">\n")
		for _, g := range w.Inputs {
			label, text := given(w, g)
			s.WriteString("<div><dt>" + html.EscapeString(label) + "</dt><dd>" + html.EscapeString(text) + "</dd></div>\n")
		}
		s.WriteString("</dl>\n")
	}
	if !brief {
		s.WriteString(working(w))
	}
	s.WriteString("<dl class=\"result-list\">\n")
	for _, e := range w.Expects {
		s.WriteString("<div><dt>" + html.EscapeString(e.Label) + "</dt><dd>" + html.EscapeString(e.Text))
		if e.Was != "" {
			s.WriteString(` <span class="ours-was">our shop; the handbook’s tables give ` + html.EscapeString(e.Was) + "</span>")
		}
		s.WriteString("</dd></div>\n")
	}
	s.WriteString("</dl>\n")
	s.WriteString(oursIn(w))
	address := check.CalculatorAddress(w.Calculator) + "#" + w.Calculator + "?" + panel.Link(w.Reply)
	open := `<p class="worked-open"><a href="` + html.EscapeString(c.Href(address)) + `">Open the calculator with these numbers</a></p>` + "\n"
	if steps, rests := working(w), c.restsOn(w); !brief {
		s.WriteString(rests + open)
	} else if steps+rests != "" {
		s.WriteString("<details class=\"worked-fold\"><summary>How it is worked out</summary>\n" + steps + rests + open + "</details>\n")
	} else {
		s.WriteString(open)
	}
	s.WriteString("</section>\n")
	return s.String()
}

// given is one input of an example, as the form calls and understands it.
func given(w *check.Worked, g check.Given) (label, text string) {
	st, _ := w.Reply.Field(g.Name)
	text = st.Text
	for _, o := range st.Options {
		if st.Shape == calc.ChoiceShape && o.Value == st.Text {
			text = o.Label
		}
	}
	if text == "" {
		text = g.Text
	}
	return st.Label, text
}

// working is the lines of working that an example prints, "" without one.
func working(w *check.Worked) string {
	steps := chosen(w)
	if len(steps) == 0 {
		return ""
	}
	var s strings.Builder
	s.WriteString("<ol class=\"steps\">\n")
	for _, st := range steps {
		s.WriteString("<li><span class=\"step-name\">" + html.EscapeString(st.Name) + "</span> <span class=\"step-work\">" + panel.Working(st.Formula, true))
		if st.Put != "" {
			s.WriteString(" = " + panel.Working(st.Put, false))
		}
		s.WriteString(" = <b>" + panel.Working(st.Equals, false) + "</b></span></li>\n")
	}
	s.WriteString("</ol>\n")
	return s.String()
}

// under is the level of a heading below the last one.
func (c *Context) under() int { return min(6, max(1, c.level)+1) }

// exampleID is an example's place on its page: its name, unless a heading has that.
func (c *Context) exampleID(name string) string {
	for _, h := range c.Page.Headings {
		if h.Anchor == name {
			return name + "-example"
		}
	}
	return name
}

// oursIn says which of the shop's rows an example rests on, or why it is worked
// with the handbook's.
func oursIn(w *check.Worked) string {
	if w.Handbook != "" {
		return `<p class="ours-mark">Worked with the handbook’s own tables. With our shop’s: ` + html.EscapeString(w.Handbook) + "</p>\n"
	}
	var rows []string
	for _, r := range w.Reply.Answer.Rows {
		if r.Ours {
			rows = append(rows, r.Table+" "+r.Key)
		}
	}
	if len(rows) == 0 {
		return ""
	}
	return `<p class="ours-mark">Our shop: rests on our rows ` + html.EscapeString(strings.Join(rows, ", ")) + "</p>\n"
}

// restsOn names the publications that an example rests on: those of the lines of
// working that it prints and of the rows used. What backs a note of the live
// calculator backs nothing here.
func (c *Context) restsOn(w *check.Worked) string {
	var links []string
	shown := map[string]bool{}
	for _, st := range chosen(w) {
		shown[st.Source] = true
	}
	for _, r := range w.Reply.Answer.Rows {
		shown[r.Source] = true
	}
	for _, src := range w.Reply.Answer.Sources {
		work, ok := c.Site.Content.Work(src.Key)
		if !ok || !shown[src.Key] { // several places of one work are one publication
			continue
		}
		shown[src.Key] = false
		c.cite(work)
		links = append(links, `<a class="cite" href="`+html.EscapeString(c.Href("bibliography.html#"+work.Key))+`">`+html.EscapeString(ShortName(work))+"</a>")
	}
	if len(links) == 0 {
		return ""
	}
	return `<p class="worked-from">Rests on ` + strings.Join(links, " ") + "</p>\n"
}

// chosen keeps the steps that lead to the answers the example states; where
// steps do not say what they are for, all of them.
func chosen(w *check.Worked) []calc.Step {
	var out []calc.Step
	for _, st := range w.Reply.Answer.Steps {
		keep := st.For == ""
		for _, e := range w.Expects {
			keep = keep || e.Name == st.For
		}
		if keep {
			out = append(out, st)
		}
	}
	return out
}

func figure(f *check.Figure) string {
	d := f.Reply.Answer.Figure
	caption := f.Caption
	if caption == "" {
		caption = d.Title
	}
	return `<figure class="drawing">` + panel.SVG(d) + "<figcaption>" + html.EscapeString(caption) + "</figcaption></figure>\n"
}

func (c *Context) caution(b *check.Caution) (string, error) {
	body, err := c.node(b.Doc)
	if err != nil {
		return "", err
	}
	return `<aside class="caution caution-` + strings.ToLower(b.Word) + `"><p class="caution-word">` + b.Word + `</p><div class="caution-text">` + body + "</div></aside>\n", nil
}
