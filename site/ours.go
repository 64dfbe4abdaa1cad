package site

import (
	"html"
	"strconv"
	"strings"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/render"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
)

// ours is the page “What we do differently”: every row, rule, page and example
// in which the shop's edition is not the handbook's.
func (p *press) ours(c *render.Context) (string, error) {
	o := &ours{listing{press: p, c: c}}
	content := p.site.Content
	var rows, rules []book.Change
	for _, ch := range content.Changes {
		if ch.Table == "rules" {
			rules = append(rules, ch)
		} else {
			rows = append(rows, ch)
		}
	}
	o.put("<p class=\"short\">This edition is ", html.EscapeString(content.Edition.Owner), "’s own. Here stands everything in which it is not the handbook’s: ",
		spell.Count(len(rows), "table row"), ", ", spell.Count(len(rules), "rule"), ", ", spell.Count(len(content.OurPages), "page"), ", ", spell.Count(len(content.LeftOut), "chapter"), " left out.</p>\n")
	o.rows("rows", "Table rows", rows)
	o.rows("rules", "Rules", rules)
	o.pages()
	o.examples()
	o.measured()
	return o.s.String(), nil
}

type ours struct{ listing }

// rows lists changes of tables; a replaced row shows the cells that differ.
func (o *ours) rows(id, title string, changes []book.Change) {
	o.heading(2, id, title)
	if len(changes) == 0 {
		o.put("<p>None.</p>\n")
		return
	}
	var rows [][]string
	for _, ch := range changes {
		was, is := o.cells(ch)
		row := []string{ch.Table + " " + ch.Key, ch.Kind, was, is, strings.TrimPrefix(ch.File, source.ShopDir) + ", line " + strconv.Itoa(ch.Line)}
		for i := range row {
			row[i] = html.EscapeString(row[i])
		}
		rows = append(rows, row)
	}
	o.table([]string{"Row", "What we do", "The handbook’s", "Ours", "Stands in"}, rows)
}

func (o *ours) cells(ch book.Change) (was, is string) {
	var w, i []string
	t := o.press.site.Content.Book.Table(ch.Table)
	if t == nil {
		t = o.press.site.Content.Base.Table(ch.Table)
	}
	key := map[string]bool{}
	for _, k := range t.Keys {
		key[k] = true
	}
	for _, col := range t.Columns {
		if key[col] {
			continue
		}
		before, after := "", ""
		if ch.Was != nil {
			before = ch.Was.Cell(col)
		}
		if ch.Is != nil {
			after = ch.Is.Cell(col)
		}
		if before == after {
			continue
		}
		if ch.Was != nil {
			w = append(w, told(col, before))
		}
		if ch.Is != nil {
			i = append(i, told(col, after))
		}
	}
	return strings.Join(w, "; "), strings.Join(i, "; ")
}

// told is a cell with what it is called and its unit: "gap low 5 µm".
func told(column, cell string) string {
	name, unit := check.Named(column)
	switch {
	case cell == "":
		return name + " empty"
	case unit == "" || unit == "%" || unit == "°":
		return name + " " + cell + unit
	}
	return name + " " + cell + " " + unit
}

func (o *ours) pages() {
	o.heading(2, "pages", "Pages")
	content := o.press.site.Content
	if len(content.OurPages)+len(content.LeftOut) == 0 {
		o.put("<p>None.</p>\n")
		return
	}
	o.put("<ul class=\"links\">\n")
	for _, p := range content.OurPages {
		what := "has our text set into it"
		switch p.Ours {
		case source.OursNew:
			what = "is a page of our own"
		case source.OursReplaced:
			what = "stands in the place of the handbook’s"
		}
		o.put("<li>", o.link(p.Address, p.Front.Title), " ", what)
		for i, in := range p.Inserts {
			sep := ", "
			if i == 0 {
				sep = ": "
			}
			o.put(sep, o.link(p.Address+"#"+in.Anchor, orElse(in.Title, in.Anchor)))
		}
		o.put(".</li>\n")
	}
	for _, ch := range content.LeftOut {
		o.put("<li>The chapter “", html.EscapeString(ch.Title), "” (", spell.Count(len(ch.Pages), "page"), ") is left out.</li>\n")
	}
	o.put("</ul>\n")
}

func orElse(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

// examples names the examples whose values our rows moved: the sentences around
// them were written with the handbook's.
func (o *ours) examples() {
	o.heading(2, "examples", "Examples that our rows move")
	var s strings.Builder
	for _, p := range o.press.site.Pages {
		for _, m := range p.Moved {
			address := p.Address
			if m.Anchor != "" {
				address += "#" + m.Anchor
			}
			s.WriteString("<li>" + o.link(address, p.Front.Title+", "+orElse(m.Title, "worked example")) + ": ")
			if m.Why != "" {
				s.WriteString("worked with the handbook’s own tables, because with ours " + html.EscapeString(m.Why))
			}
			for i, e := range m.Answers {
				if i > 0 {
					s.WriteString("; ")
				}
				s.WriteString(html.EscapeString(e.Label + " " + e.Text + " where the handbook has " + e.Was))
			}
			s.WriteString(".</li>\n")
		}
	}
	if s.Len() == 0 {
		o.put("<p>None: every example gives with our rows what it gives with the handbook’s.</p>\n")
		return
	}
	o.put("<p>The handbook’s sentences around these examples were written with its own values. Read them once with ours.</p>\n<ul class=\"links\">\n", s.String(), "</ul>\n")
}

// measured lists the cuts that win over the general tables on their machine.
func (o *ours) measured() {
	t := o.press.site.Content.Book.Table("cuts")
	if t == nil {
		return
	}
	var s strings.Builder
	for _, r := range t.Rows {
		if !r.Ours {
			continue
		}
		who := []string{}
		for _, col := range []string{"by", "on", "job"} {
			if r.Cell(col) != "" {
				who = append(who, r.Cell(col))
			}
		}
		s.WriteString("<li>" + html.EscapeString("Cut "+r.Cell("cut")+", pass "+r.Cell("pass")+" of "+r.Cell("passes")+" on "+r.Cell("machine")+": "+strings.Join(who, ", ")) + ".</li>\n")
	}
	o.heading(2, "cuts", "Measured cuts that take the place of general ranges")
	if s.Len() == 0 {
		o.put("<p>None of our own.</p>\n")
		return
	}
	o.put("<ul class=\"links\">\n", s.String(), "</ul>\n")
}
