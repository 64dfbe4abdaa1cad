package check

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/internal/formula"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Calculator is a live calculator in a page, prerendered.
type Calculator struct {
	ID     string
	Inputs []Given
	Reply  *calc.Reply
}

// Figure is a drawing made from a calculator's parameters.
type Figure struct {
	Calculator string
	Caption    string
	Reply      *calc.Reply
}

// Formula is a displayed formula as MathML.
type Formula struct{ MathML, Plain string }

// NC is highlighted word-address text.
type NC struct{ HTML string }

// Caution is a signal word with its text.
type Caution struct {
	Word string
	Doc  ast.Node // parsed text, positions in the page
}

func (*Calculator) word() string { return "calculator" }
func (*Figure) word() string     { return "figure" }
func (*Formula) word() string    { return "formula" }
func (*NC) word() string         { return "nc" }
func (*Caution) word() string    { return "caution" }
func (*Worked) word() string     { return "worked" }

// ourWords lists the first words of info strings that are ours.
func ourWords() []string {
	return []string{"calculator", "worked", "figure", "formula", "nc", "caution", "table", "grid"}
}

// plainWords lists the languages that a fenced block may be besides.
func plainWords() []string { return []string{"", "text", "csv", "console"} }

// line is one line of a block with its place in the page.
type line struct {
	text string
	at   int
}

func (c *checker) lines(b *ast.FencedCodeBlock) []line {
	var out []line
	for i := range b.Lines().Len() {
		seg := b.Lines().At(i)
		out = append(out, line{strings.TrimRight(string(seg.Value(c.page.Body)), "\r\n"), seg.Start})
	}
	return out
}

func (c *checker) block(b *ast.FencedCodeBlock) {
	info := ""
	at := 0
	if b.Info != nil {
		info, at = string(b.Info.Segment.Value(c.page.Body)), b.Info.Segment.Start
	} else if b.Lines().Len() > 0 {
		at = b.Lines().At(0).Start
	}
	word, arg, _ := strings.Cut(strings.TrimSpace(info), " ")
	arg = strings.TrimSpace(arg)
	argAt := at + strings.Index(info, arg)
	switch word {
	case "calculator":
		if k := c.calculator(arg, argAt); k != nil {
			inputs, _, _, ok := c.inputs(k, c.lines(b), false)
			if !ok {
				return
			}
			inputs = c.taken(k, inputs)
			rep := c.eval(k, inputs)
			if rep != nil {
				c.record("calculator", "", k.ID, givens(inputs), rep)
				if s := c.site.Content.Shop; s != nil && s.Units == "inch" {
					rep = c.site.Eval(k, c.book(), calc.Input{Values: valuesOf(inputs), Strict: true, System: unit.Inch})
				}
				c.page.Blocks[b] = &Calculator{ID: k.ID, Inputs: givens(inputs), Reply: rep}
			}
		}
	case "worked":
		c.workedBlock(b, arg, argAt)
	case "figure":
		c.figure(b, arg, argAt)
	case "formula":
		c.formula(b, arg, at)
	case "nc":
		c.nc(b)
	case "caution":
		c.caution(b, arg, argAt)
	case "table":
		c.table(b, arg, argAt)
	case "grid":
		c.grid(b, arg, argAt)
	default:
		for _, w := range plainWords() {
			if w == word {
				return
			}
		}
		c.page.broken = true
		text := "a fenced block that starts with " + spell.Quote(word) + " is not known; ours are " + strings.Join(ourWords(), ", ")
		if near, ok := spell.Nearest(word, ourWords()); ok {
			text = "a fenced block that starts with " + spell.Quote(word) + " is not known; did you mean " + spell.Quote(near) + "?"
		}
		c.problem(at, at+len(word), text)
	}
}

func (c *checker) calculator(id string, at int) *calc.Calculator {
	k, ok := c.site.Set.Find(id)
	if !ok {
		text := "there is no calculator " + spell.Quote(id)
		if near, ok := spell.Nearest(id, c.site.Set.IDs()); ok {
			text += "; did you mean " + spell.Quote(near) + "?"
		}
		c.problem(at, at+len(id), text)
		return nil
	}
	return k
}

func (c *checker) record(kind, anchor, id string, inputs []Given, rep *calc.Reply) {
	name := c.page.Address
	if anchor != "" {
		name += "#" + anchor
	}
	c.page.answers = append(c.page.answers, Recorded{ID: name, Kind: kind, Calculator: id, Inputs: inputs, Reply: rep})
}

func (c *checker) figure(b *ast.FencedCodeBlock, id string, at int) {
	k := c.calculator(id, at)
	if k == nil {
		return
	}
	inputs, wants, extra, ok := c.inputs(k, c.lines(b), true)
	if !ok {
		return
	}
	for _, w := range wants {
		c.problem(w.at, w.at+len(w.name), "a figure has inputs and a caption: line, no expected answers")
	}
	rep := c.eval(k, inputs)
	if rep == nil {
		return
	}
	if rep.Answer.Figure == nil {
		c.problem(at, at+len(id), "the calculator "+spell.Quote(id)+" draws nothing for these inputs")
		return
	}
	f := &Figure{Calculator: k.ID, Reply: rep}
	for _, x := range extra {
		if x.name == "caption" {
			f.Caption = x.text
		} else {
			c.problem(x.at, x.at+len(x.name), "a figure has inputs and a caption: line, "+spell.Quote(x.name)+" is not known")
		}
	}
	c.page.Blocks[b] = f
	if c.refused[rep] == "" {
		c.record("figure", "", k.ID, givens(inputs), rep)
	}
}

func (c *checker) formula(b *ast.FencedCodeBlock, arg string, at int) {
	if arg != "" {
		c.problem(at, at+len(arg), "a formula block has nothing after its first word")
	}
	if b.Lines().Len() == 0 {
		c.problem(at, at+7, "the formula is empty")
		return
	}
	start := b.Lines().At(0).Start
	tex := string(b.Lines().Value(c.page.Body))
	out, err := formula.MathML(tex, true)
	if err != nil {
		pos, n, what := formulaFault(err)
		c.problem(start+pos, start+pos+n, what)
		return
	}
	text, _ := formula.Text(tex)
	c.page.Blocks[b] = &Formula{out, text}
}

func formulaFault(err error) (at, n int, what string) {
	if fe, ok := err.(*formula.Error); ok {
		return fe.At, fe.Len, fe.What
	}
	return 0, 1, err.Error()
}

func (c *checker) nc(b *ast.FencedCodeBlock) {
	start := 0
	if b.Lines().Len() > 0 {
		start = b.Lines().At(0).Start
	}
	text := string(b.Lines().Value(c.page.Body))
	html, bad, err := c.words.Set(text)
	if err != nil {
		c.problem(start, start+1, err.Error())
		return
	}
	lines := c.lines(b)
	for _, p := range bad {
		at := start
		if p.Line >= 1 && p.Line <= len(lines) {
			at = lines[p.Line-1].at + p.Col - 1
		}
		c.problem(at, at+p.Len, p.What)
	}
	if len(bad) == 0 {
		c.page.Blocks[b] = &NC{html}
	}
}

// caution parses the block's text as markdown in place: a copy of the page in
// which everything else is blank keeps every position true.
func (c *checker) caution(b *ast.FencedCodeBlock, arg string, at int) {
	switch arg {
	case "DANGER", "WARNING", "CAUTION", "NOTICE":
	default:
		c.problem(at, at+len(arg), "a caution has one of the signal words DANGER, WARNING, CAUTION, NOTICE")
		return
	}
	if b.Lines().Len() == 0 {
		c.problem(at, at+len(arg), "the caution has no text")
		return
	}
	blank := make([]byte, len(c.page.Body))
	for i, ch := range c.page.Body {
		if blank[i] = ' '; ch == '\n' {
			blank[i] = '\n'
		}
	}
	for i := range b.Lines().Len() {
		seg := b.Lines().At(i)
		copy(blank[seg.Start:seg.Stop], c.page.Body[seg.Start:seg.Stop])
	}
	c.page.Blocks[b] = &Caution{Word: arg, Doc: c.site.Content.Parse(blank)}
}
