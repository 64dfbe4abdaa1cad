package check

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/formula"
	"kerfbook/site/internal/picture"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
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

// Picture is a drawing that no calculator makes.
type Picture struct {
	Caption string
	Drawing *figure.Drawing
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

// Block is one of ours, evaluated. A new type says here all that the other rooms
// ask of it, and does not compile before it does.
type Block interface {
	// Facts are what counting and lints want to know.
	Facts() Facts
	// Print hands the block to the method of the printer that is made for it.
	Print(Printer) (string, error)
}

// Facts are what a block adds to its page.
type Facts struct {
	Computed, Tables int      // numbers that a reader sees, by where they come from
	Worked, Figure   bool     // counted as a worked example, as a figure
	Shows            bool     // a drawing, a table or a live calculator
	Cites            bool     // rests on a publication
	Safe             bool     // a caution
	Text             ast.Node // markdown inside the block, read as the page's own
}

// Printer sets every kind of block.
type Printer interface {
	Calculator(*Calculator) (string, error)
	Worked(*Worked) (string, error)
	Figure(*Figure) (string, error)
	Picture(*Picture) (string, error)
	Formula(*Formula) (string, error)
	NC(*NC) (string, error)
	Caution(*Caution) (string, error)
	Table(*Table) (string, error)
}

// Facts of a live calculator: its values are computed, and one can look at it.
func (b *Calculator) Facts() Facts {
	return Facts{Computed: len(b.Reply.Answer.Values), Tables: len(b.Reply.Answer.Rows), Shows: true}
}

// Facts of a worked example.
func (b *Worked) Facts() Facts {
	a := b.Reply.Answer
	return Facts{Computed: len(b.Expects) + len(a.Steps), Tables: len(a.Rows), Worked: true, Cites: len(a.Sources) > 0}
}

// Facts of a figure: its labels are computed.
func (b *Figure) Facts() Facts {
	return Facts{Computed: len(b.Reply.Answer.Figure.Labels), Figure: true, Shows: true}
}

// Facts of a picture: its marks are explained by the page, and computed by nobody.
func (b *Picture) Facts() Facts { return Facts{Figure: true, Shows: true} }

// Facts of a formula: it adds none.
func (b *Formula) Facts() Facts { return Facts{} }

// Facts of word-address text: it adds none.
func (b *NC) Facts() Facts { return Facts{} }

// Facts of a caution: its text counts as the page's.
func (b *Caution) Facts() Facts { return Facts{Safe: true, Text: b.Doc} }

// Facts of a table or a grid, whose rows say where they come from.
func (b *Table) Facts() Facts { return Facts{Tables: b.numbers, Shows: true, Cites: true} }

// Print sets it.
func (b *Calculator) Print(p Printer) (string, error) { return p.Calculator(b) }

// Print sets it.
func (b *Worked) Print(p Printer) (string, error) { return p.Worked(b) }

// Print sets it.
func (b *Figure) Print(p Printer) (string, error) { return p.Figure(b) }

// Print sets it.
func (b *Picture) Print(p Printer) (string, error) { return p.Picture(b) }

// Print sets it.
func (b *Formula) Print(p Printer) (string, error) { return p.Formula(b) }

// Print sets it.
func (b *NC) Print(p Printer) (string, error) { return p.NC(b) }

// Print sets it.
func (b *Caution) Print(p Printer) (string, error) { return p.Caution(b) }

// Print sets it.
func (b *Table) Print(p Printer) (string, error) { return p.Table(b) }

// fence is a fenced block as it stands in the page: what follows its first word,
// and where the info string and that argument begin.
type fence struct {
	*ast.FencedCodeBlock
	arg       string
	at, argAt int
}

// blockKind is a first word of ours and what evaluates such a block.
type blockKind struct {
	word  string
	check func(*checker, fence)
}

// blockKinds is every fenced block of ours, in the order in which messages name them.
func blockKinds() []blockKind {
	return []blockKind{
		{"calculator", (*checker).live},
		{"worked", (*checker).workedBlock},
		{"figure", (*checker).figure},
		{"picture", (*checker).picture},
		{"formula", (*checker).formula},
		{"nc", (*checker).nc},
		{"caution", (*checker).caution},
		{"table", (*checker).table},
		{"grid", (*checker).grid},
	}
}

// ourWords lists the first words of info strings that are ours.
func ourWords() []string {
	var out []string
	for _, k := range blockKinds() {
		out = append(out, k.word)
	}
	return out
}

// plainWords lists the languages that a fenced block may be besides.
func plainWords() []string { return []string{"", "text", "csv", "console"} }

// line is one line of a block with its place in the page.
type line struct {
	text string
	at   int
}

func (c *checker) lines(b fence) []line {
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
	for _, k := range blockKinds() {
		if k.word == word {
			k.check(c, fence{b, arg, at, at + strings.Index(info, arg)})
			return
		}
	}
	if slices.Contains(plainWords(), word) {
		return
	}
	c.page.broken = true
	text := "a fenced block that starts with " + spell.Quote(word) + " is not known; ours are " + strings.Join(ourWords(), ", ")
	if near, ok := spell.Nearest(word, ourWords()); ok {
		text = "a fenced block that starts with " + spell.Quote(word) + " is not known; did you mean " + spell.Quote(near) + "?"
	}
	c.problem(diag.BlockUnknown, at, at+len(word), text)
}

// live evaluates a calculator that stands in the page.
func (c *checker) live(b fence) {
	k := c.calculator(b.arg, b.argAt)
	if k == nil {
		return
	}
	inputs, _, _, ok := c.inputs(k, c.lines(b), false)
	if !ok {
		return
	}
	inputs = c.taken(k, inputs)
	rep := c.eval(k, inputs)
	if rep == nil {
		return
	}
	c.record("calculator", "", k.ID, givens(inputs), rep)
	if s := c.site.Content.Shop; s != nil && s.Units == "inch" {
		rep = c.site.Eval(k, c.book(), calc.Input{Values: valuesOf(inputs), Strict: true, System: unit.Inch})
	}
	c.page.Blocks[b.FencedCodeBlock] = &Calculator{ID: k.ID, Inputs: givens(inputs), Reply: rep}
}

func (c *checker) calculator(id string, at int) *calc.Calculator {
	k, ok := c.site.Set.Find(id)
	if !ok {
		text := "there is no calculator " + spell.Quote(id)
		if near, ok := spell.Nearest(id, c.site.Set.IDs()); ok {
			text += "; did you mean " + spell.Quote(near) + "?"
		}
		c.problem(diag.CalculatorUnknown, at, at+len(id), text)
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

func (c *checker) figure(b fence) {
	id, at := b.arg, b.argAt
	k := c.calculator(id, at)
	if k == nil {
		return
	}
	inputs, wants, extra, ok := c.inputs(k, c.lines(b), true)
	if !ok {
		return
	}
	for _, w := range wants {
		c.problem(diag.BlockLine, w.at, w.at+len(w.name), "a figure has inputs and a caption: line, no expected answers")
	}
	rep := c.eval(k, inputs)
	if rep == nil {
		return
	}
	if rep.Answer.Figure == nil {
		c.problem(diag.FigureNone, at, at+len(id), "the calculator "+spell.Quote(id)+" draws nothing for these inputs")
		return
	}
	f := &Figure{Calculator: k.ID, Reply: rep}
	for _, x := range extra {
		if x.name == "caption" {
			f.Caption = x.text
		} else {
			c.problem(diag.BlockLine, x.at, x.at+len(x.name), "a figure has inputs and a caption: line, "+spell.Quote(x.name)+" is not known")
		}
	}
	c.page.Blocks[b.FencedCodeBlock] = f
	if c.refused[rep] == "" {
		c.record("figure", "", k.ID, givens(inputs), rep)
	}
}

// picture sets one of the handbook's own drawings.
func (c *checker) picture(b fence) {
	d, ok := picture.Find(b.arg)
	if !ok {
		c.problem(diag.PictureUnknown, b.argAt, b.argAt+len(b.arg), "there is no picture "+spell.Quote(b.arg)+suggest(b.arg, picture.Names()))
		return
	}
	out := &Picture{Caption: d.Title, Drawing: d}
	for _, l := range c.lines(b) {
		e, mark, ok := split(l)
		switch {
		case strings.TrimSpace(l.text) == "":
		case ok && mark == ":" && e.name == "caption":
			out.Caption = e.text
		default:
			c.problem(diag.BlockLine, l.at, l.at+len(l.text), "a picture has a caption: line and nothing else")
			return
		}
	}
	c.page.Blocks[b.FencedCodeBlock] = out
}

func (c *checker) formula(b fence) {
	arg, at := b.arg, b.at
	if arg != "" {
		c.problem(diag.BlockArgument, at, at+len(arg), "a formula block has nothing after its first word")
	}
	if b.Lines().Len() == 0 {
		c.problem(diag.BlockEmpty, at, at+7, "the formula is empty")
		return
	}
	start := b.Lines().At(0).Start
	tex := string(b.Lines().Value(c.page.Body))
	out, err := formula.MathML(tex, true)
	if err != nil {
		pos, n, what := formulaFault(err)
		c.problem(diag.Formula, start+pos, start+pos+n, what)
		return
	}
	text, _ := formula.Text(tex)
	c.page.Blocks[b.FencedCodeBlock] = &Formula{out, text}
}

func formulaFault(err error) (at, n int, what string) {
	if fe, ok := err.(*formula.Error); ok {
		return fe.At, fe.Len, fe.What
	}
	return 0, 1, err.Error()
}

func (c *checker) nc(b fence) {
	start := 0
	if b.Lines().Len() > 0 {
		start = b.Lines().At(0).Start
	}
	text := string(b.Lines().Value(c.page.Body))
	html, bad, err := c.words.Set(text)
	if err != nil {
		c.problem(diag.Program, start, start+1, err.Error())
		return
	}
	lines := c.lines(b)
	for _, p := range bad {
		at := start
		if p.Line >= 1 && p.Line <= len(lines) {
			at = lines[p.Line-1].at + p.Col - 1
		}
		c.problem(diag.Program, at, at+p.Len, p.What)
	}
	if len(bad) == 0 {
		c.page.Blocks[b.FencedCodeBlock] = &NC{html}
	}
}

// caution parses the block's text as markdown in place: a copy of the page in
// which everything else is blank keeps every position true.
func (c *checker) caution(b fence) {
	arg, at := b.arg, b.argAt
	switch arg {
	case "DANGER", "WARNING", "CAUTION", "NOTICE":
	default:
		c.problem(diag.BlockArgument, at, at+len(arg), "a caution has one of the signal words DANGER, WARNING, CAUTION, NOTICE")
		return
	}
	if b.Lines().Len() == 0 {
		c.problem(diag.BlockEmpty, at, at+len(arg), "the caution has no text")
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
	c.page.Blocks[b.FencedCodeBlock] = &Caution{Word: arg, Doc: c.site.Content.Parse(blank)}
}
