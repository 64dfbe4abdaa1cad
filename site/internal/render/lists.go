package render

import (
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// Generated stands in for a page that has no file of its own.
func Generated(address string) *check.Page {
	return &check.Page{Page: &source.Page{Address: address}, Blocks: map[ast.Node]check.Block{}}
}

// WorkText is a bibliography entry as one line of HTML.
func WorkText(w source.Work) string {
	return record(w) + aboutWork(w)
}

// aboutWork is what is known of a work beside its name: a note, and whether it was
// seen.
func aboutWork(w source.Work) string {
	text := ""
	if w.Note != "" {
		text += " " + html.EscapeString(w.Note)
		if !strings.HasSuffix(w.Note, ".") {
			text += "."
		}
	}
	if w.Seen == "memory" {
		return text + ` <span class="seen">From memory.</span>`
	}
	return text + ` <span class="seen">Seen.</span>`
}

// record is what names a work: authors, title, where it stands, edition, year.
func record(w source.Work) string {
	var parts []string
	if w.Authors != "" {
		parts = append(parts, html.EscapeString(w.Authors))
	}
	parts = append(parts, "<cite>"+html.EscapeString(w.Title)+"</cite>")
	for _, x := range []string{w.In, w.Edition, w.Year} {
		if x != "" {
			parts = append(parts, html.EscapeString(x))
		}
	}
	return strings.Join(parts, ", ") + "."
}

// FieldList describes a calculator's inputs and answers: limits with their
// reasons, and the public names the command line takes.
func (c *Context) FieldList(k *calc.Calculator, b *book.Book) string {
	fields, outs := k.Describe(b)
	var s strings.Builder
	s.WriteString("<h2 id=\"" + c.Prefix() + "inputs\">Inputs and limits</h2>\n<dl class=\"fields-list\">\n")
	for _, f := range fields {
		s.WriteString("<div><dt>" + html.EscapeString(f.Label) + " <code>" + html.EscapeString(f.Name) + "</code></dt><dd>")
		var say []string
		if f.Help != "" {
			say = append(say, f.Help)
		}
		switch {
		case f.Shape == calc.ChoiceShape:
			var names []string
			for _, o := range f.Options {
				names = append(names, o.Value+" ("+o.Label+")")
			}
			say = append(say, "One of "+strings.Join(names, ", ")+".")
		case f.Shape == calc.WordShape:
			say = append(say, "A short name: letters, digits, space and - . / _ #.")
		case f.Ranges:
			say = append(say, "One value, or a range such as “2 to 6 µm”.")
		}
		for _, l := range f.Limits {
			word := "At least "
			switch {
			case l.Min != "" && l.Open:
				word = "More than "
			case l.Max != "" && l.Open:
				word = "Less than "
			case l.Max != "":
				word = "At most "
			}
			say = append(say, word+l.Min+l.Max+": "+l.Reason+".")
		}
		if f.Default != "" {
			say = append(say, "Default: "+f.Default+".")
		}
		s.WriteString(html.EscapeString(strings.Join(say, " ")) + "</dd></div>\n")
	}
	s.WriteString("</dl>\n<h2 id=\"" + c.Prefix() + "answers\">Answers</h2>\n<dl class=\"fields-list\">\n")
	for _, o := range outs {
		s.WriteString("<div><dt>" + html.EscapeString(o.Label) + " <code>" + html.EscapeString(o.Name) + "</code></dt><dd>" + html.EscapeString(o.Help) + "</dd></div>\n")
	}
	s.WriteString("</dl>\n")
	return s.String()
}
