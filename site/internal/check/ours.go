package check

import (
	"slices"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Moved is a place where a shop's tables give something else than the page was
// written with: an example with other values, or one that the shop's tables
// cannot work.
type Moved struct {
	Anchor  string // of the example; "" when it has none
	Title   string
	Why     string // of an example that keeps the handbook's tables
	Answers []Expected
}

// shop reports whether this is a shop's edition.
func (c *checker) shop() bool { return c.site.Content.Shop != nil && c.site.Base != nil }

// byHandbook evaluates on the handbook's own tables.
func (c *checker) byHandbook(id string, values map[string]string) *calc.Reply {
	k, ok := c.site.Base.Find(id)
	if !ok {
		return &calc.Reply{Problems: []calc.Problem{{Text: "there is no calculator " + spell.Quote(id)}}}
	}
	return c.site.Eval(k, c.site.Content.Base, calc.Input{Values: values, Strict: true})
}

// isOurs reports whether a place in the page's text was written by the shop: that is
// held against the shop's own tables.
func (c *checker) isOurs(at int) bool {
	return slices.ContainsFunc(c.page.Parts, func(p source.Part) bool { return at >= p.From && at <= p.From+p.Len })
}

func valuesOf(in []entry) map[string]string {
	values := map[string]string{}
	for _, e := range in {
		values[e.name] = e.text
	}
	return values
}

// taken leaves out the presets of a live calculator that the shop's tables do
// not have, a machine card for example: what a reader sees must be alive.
func (c *checker) taken(k *calc.Calculator, in []entry) []entry {
	if !c.shop() || len(in) > 0 && c.isOurs(in[0].at) {
		return in
	}
	values := valuesOf(in)
	rep := c.site.Eval(k, c.book(), calc.Input{Values: values, Strict: true})
	if len(rep.Problems) == 0 || len(c.byHandbook(k.ID, values).Problems) > 0 {
		return in
	}
	return slices.DeleteFunc(slices.Clone(in), func(e entry) bool {
		return slices.ContainsFunc(rep.Problems, func(p calc.Problem) bool { return p.Field == e.name })
	})
}

// inInch evaluates for a reader in inches, on the tables that gave the answer.
func (c *checker) inInch(k *calc.Calculator, metric *calc.Reply, values map[string]string) *calc.Reply {
	input := calc.Input{Values: values, Strict: true, System: unit.Inch}
	if c.refused[metric] == "" {
		return c.site.Eval(k, c.book(), input)
	}
	base, _ := c.site.Base.Find(k.ID)
	return c.site.Eval(base, c.site.Content.Base, input)
}

// handbookGives reports whether the handbook's own tables give what the page
// says. Then the page is right, and the shop's rows are why it differs here.
func (c *checker) handbookGives(w *Worked, e entry) bool {
	if !c.shop() || c.isOurs(e.textAt) {
		return false // the shop's own page is held against the shop's own tables
	}
	if w.base == nil {
		values := map[string]string{}
		for _, g := range w.Inputs {
			values[g.Name] = g.Text
		}
		w.base = c.byHandbook(w.Calculator, values)
	}
	if w.base.Answer == nil {
		return false
	}
	if p, ok := w.base.Answer.Pick(e.name); ok {
		return e.text == allOf(p)
	}
	f, ok := w.base.Answer.Value(e.name)
	if !ok {
		return false
	}
	_, same, err := Match(f, e.text)
	return err == nil && same
}

func allOf(p calc.Pick) string {
	out := ""
	for i, o := range p.All {
		if i > 0 {
			out += " or "
		}
		out += o.Value
	}
	return out
}

// moved notes what the shop's tables changed in an example.
func (c *checker) moved(w *Worked, at ast.Node) {
	m := Moved{Anchor: w.ID, Title: w.Title, Why: w.Handbook}
	for _, e := range w.Expects {
		if e.Was != "" {
			m.Answers = append(m.Answers, e)
		}
	}
	if m.Why != "" || len(m.Answers) > 0 {
		c.page.Moved = append(c.page.Moved, m)
	}
}

// leftOut reports whether a file is a page that the shop's edition leaves out.
func (c *checker) leftOut(file string) bool {
	for _, ch := range c.site.Content.LeftOut {
		if slices.ContainsFunc(ch.Pages, func(p *source.Page) bool { return p.File == file }) {
			return true
		}
	}
	return false
}

// maxDrawings is the most that the drawings of one page may take, in bytes.
const maxDrawings = 4 << 20

// image allows a drawing of the shop's in the shop's own text.
func (c *checker) image(n *ast.Image) {
	at := place(n, c.page.Body)
	dest := string(n.Destination)
	switch {
	case len(c.page.Parts) == 0 || !c.isOurs(at):
		c.problem(diag.Picture, at, at+1, "pictures are not used: a figure block draws what it shows")
	case c.site.Content.Figures[dest] == "":
		var names []string
		for name := range c.site.Content.Figures {
			names = append(names, name)
		}
		slices.Sort(names)
		c.problem(diag.Picture, at, at+1, "the shop's folder has no drawing "+spell.Quote(dest)+" that can be used; there are "+listed(names))
	case c.page.drawings > maxDrawings: // told already
	case c.page.drawings+len(c.site.Content.Figures[dest]) > maxDrawings:
		c.page.drawings = maxDrawings + 1
		c.problem(diag.Drawings, at, at+1, "the drawings of this page are larger than 3 MB together: show fewer, or make them smaller")
	case source.Plain(n, c.page.Body) == "":
		c.problem(diag.DrawingWords, at, at+1, "a drawing has a text for those who cannot see it: ![what it shows]("+dest+")")
	default:
		c.page.drawings += len(c.site.Content.Figures[dest])
	}
}
