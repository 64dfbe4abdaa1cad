package check

import (
	"slices"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Worked is an evaluated example.
type Worked struct {
	ID         string
	Title      string
	Calculator string
	Inputs     []Given
	Expects    []Expected
	Reply      *calc.Reply
	Handbook   string // why it is worked with the handbook's own tables; "" in the edition's
	base       *calc.Reply
}

// Expected is one checked answer.
type Expected struct {
	Name, Label string
	Text        string // as the page writes it, which is what was computed
	Was         string // with a shop: what the page writes and the handbook's tables give
}

// entry is one line "name = value", "name ≈ value" or "word: text".
type entry struct {
	name, text string
	at, textAt int
}

// inputs reads a block's lines and checks the input names and values.
func (c *checker) inputs(k *calc.Calculator, lines []line, extras bool) (in, wants, extra []entry, ok bool) {
	fields, outs := k.Describe(c.book())
	var fieldNames, outNames []string
	for _, f := range fields {
		fieldNames = append(append(fieldNames, f.Name), f.Aliases...)
	}
	for _, o := range outs {
		outNames = append(outNames, o.Name)
	}
	ok = true
	bad := func(id diag.ID, at, n int, text string) {
		c.problem(id, at, at+n, text)
		ok = false
	}
	for _, l := range lines {
		if strings.TrimSpace(l.text) == "" || strings.HasPrefix(strings.TrimSpace(l.text), "#") {
			continue
		}
		e, mark, read := split(l)
		switch {
		case !read:
			bad(diag.BlockLine, l.at, len(l.text), "a line here is “name = value” for an input or “name ≈ value” for an answer")
		case mark == ":" && extras:
			extra = append(extra, e)
		case mark == ":":
			bad(diag.BlockLine, e.at, len(e.name), spell.Quote(e.name)+": is not known in this block")
		case mark == "=" && !slices.Contains(fieldNames, e.name):
			bad(diag.InputUnknown, e.at, len(e.name), "the calculator "+spell.Quote(k.ID)+" has no input "+spell.Quote(e.name)+suggest(e.name, fieldNames))
		case mark == "=":
			in = append(in, e)
		case !slices.Contains(outNames, e.name):
			bad(diag.AnswerUnknown, e.at, len(e.name), "the calculator "+spell.Quote(k.ID)+" has no answer "+spell.Quote(e.name)+suggest(e.name, outNames))
		default:
			wants = append(wants, e)
		}
	}
	return in, wants, extra, ok
}

func suggest(name string, among []string) string {
	if near, ok := spell.Nearest(name, among); ok {
		return "; did you mean " + spell.Quote(near) + "?"
	}
	return "; it has " + strings.Join(among, ", ")
}

func split(l line) (e entry, mark string, ok bool) {
	at := -1
	for _, m := range []string{"≈", "=", ":"} {
		if i := strings.Index(l.text, m); i > 0 && (at < 0 || i < at) {
			at, mark = i, m
		}
	}
	if at < 0 {
		return entry{}, "", false
	}
	lead := len(l.text) - len(strings.TrimLeft(l.text, " \t"))
	e.name = strings.TrimSpace(l.text[:at])
	e.at = l.at + lead
	rest := l.text[at+len(mark):]
	e.text = strings.TrimSpace(rest)
	e.textAt = l.at + at + len(mark) + len(rest) - len(strings.TrimLeft(rest, " \t"))
	return e, mark, e.name != "" && e.text != "" && !strings.ContainsAny(e.name, " \t")
}

func givens(in []entry) []Given {
	var out []Given
	for _, e := range in {
		out = append(out, Given{e.name, e.text})
	}
	return out
}

// eval evaluates and reports each problem at the input that has it.
func (c *checker) eval(k *calc.Calculator, in []entry) *calc.Reply {
	values := map[string]string{}
	for _, e := range in {
		if _, dup := values[e.name]; dup {
			c.problem(diag.InputTwice, e.at, e.at+len(e.name), "the input "+spell.Quote(e.name)+" stands twice")
		}
		values[e.name] = e.text
	}
	rep := c.site.Eval(k, c.book(), calc.Input{Values: values, Strict: true})
	if len(rep.Problems) > 0 && c.shop() && !(len(in) > 0 && c.isOurs(in[0].at)) {
		if base := c.byHandbook(k.ID, values); len(base.Problems) == 0 {
			base.Calculator = k
			if c.refused == nil {
				c.refused = map[*calc.Reply]string{}
			}
			c.refused[base] = rep.Problems[0].Text
			return base
		}
	}
	for _, pr := range rep.Problems {
		at, n := 0, 0
		for _, e := range in {
			if e.name == pr.Field {
				at, n = e.textAt, len(e.text)
				if s, ok := rep.Field(e.name); ok && s.Len > 0 {
					at, n = at+s.At, s.Len
				}
			}
		}
		if n == 0 && len(in) > 0 {
			at, n = in[0].at, len(in[0].name)
		}
		c.problem(diag.InputValue, at, at+n, pr.Text)
	}
	if rep.Answer == nil {
		return nil
	}
	return rep
}

func (c *checker) workedBlock(b fence) {
	c.page.broken = !c.example(b) || c.page.broken
}

// example evaluates one block; it reports whether there is a result.
func (c *checker) example(b fence) bool {
	id, at := b.arg, b.argAt
	k := c.calculator(id, at)
	if k == nil {
		return false
	}
	in, wants, extra, ok := c.inputs(k, c.lines(b), true)
	if !ok {
		return false
	}
	w := &Worked{Calculator: k.ID, Inputs: givens(in)}
	for _, x := range extra {
		switch x.name {
		case "id":
			w.ID = x.text
		case "title":
			w.Title = x.text
		default:
			c.problem(diag.BlockLine, x.at, x.at+len(x.name), "a worked example has id: and title:, "+spell.Quote(x.name)+" is not known")
		}
	}
	if len(wants) == 0 {
		c.problem(diag.BlockEmpty, at, at+len(id), "a worked example states at least one answer: “name ≈ value”")
		return false
	}
	if w.Reply = c.eval(k, in); w.Reply == nil {
		return false
	}
	w.Handbook = c.refused[w.Reply]
	for _, e := range wants {
		c.compare(w, e)
	}
	c.moved(w, b.FencedCodeBlock)
	c.page.Blocks[b.FencedCodeBlock] = w
	if w.ID != "" {
		if c.page.worked[w.ID] != nil {
			c.problem(diag.ExampleTwice, at, at+len(id), "the example "+spell.Quote(w.ID)+" stands twice on this page")
		}
		c.page.worked[w.ID] = w
	}
	if w.Handbook == "" {
		c.record("worked", w.ID, k.ID, w.Inputs, w.Reply)
	}
	return true
}

// compare holds an expected answer against the computed one, at the precision
// and in the unit the page writes.
func (c *checker) compare(w *Worked, e entry) {
	if p, ok := w.Reply.Answer.Pick(e.name); ok {
		var all []string
		for _, o := range p.All {
			all = append(all, o.Value)
		}
		got := strings.Join(all, " or ")
		was := ""
		if e.text != got && c.handbookGives(w, e) {
			was = e.text
		}
		if e.text != got && was == "" {
			c.problem(diag.AnswerOther, e.textAt, e.textAt+len(e.text), "the worked example gives "+got+", the page says "+e.text, reason(w, e.name)...)
			return
		}
		var words []string
		for _, o := range p.All {
			words = append(words, o.Label)
		}
		w.Expects = append(w.Expects, Expected{e.name, p.Label, strings.Join(words, " or "), was})
		return
	}
	f, ok := w.Reply.Answer.Value(e.name)
	if !ok {
		if c.handbookGives(w, e) {
			w.Expects = append(w.Expects, Expected{e.name, e.name, "does not apply with our tables", e.text})
			return
		}
		c.problem(diag.AnswerNone, e.at, e.at+len(e.name), "the answer "+spell.Quote(e.name)+" does not apply to these inputs")
		return
	}
	got, same, err := Match(f, e.text)
	if err != nil {
		c.problem(diag.AnswerRead, e.textAt, e.textAt+len(e.text), err.Error())
		return
	}
	switch {
	case same:
		w.Expects = append(w.Expects, Expected{e.name, f.Label, e.text, ""})
	case c.handbookGives(w, e):
		w.Expects = append(w.Expects, Expected{e.name, f.Label, got, e.text})
	default:
		c.problem(diag.AnswerOther, e.textAt, e.textAt+len(e.text), "the worked example gives "+got+", the page says "+e.text, reason(w, e.name)...)
	}
}

// Match compares a finding with a written value and returns the finding as it
// would be written in that value's unit and decimals.
func Match(f calc.Finding, text string) (got string, same bool, err error) {
	rd, err := unit.Read(text, f.Kind, unit.Options{Ranges: true, Unit: bare(f.Kind)})
	if err != nil {
		return "", false, err
	}
	st := unit.Style{Unit: rd.Unit, Decimals: decimals(text)}
	if math := unit.In(f.Kind, 1, rd.Unit); math != math {
		st.Unit = f.Style.Unit // a grade such as N5 is compared in the answer's own unit
		st.Decimals = f.Style.Decimals
	}
	print := func(v float64) string { return unit.Print(f.Kind, v, st) }
	ends := func(r unit.Range) [2]string { return [2]string{print(r.Low), print(r.High)} }
	number := func(v float64) string { return unit.Number(unit.In(f.Kind, v, st.Unit), st) }
	if rd.Range.IsPoint() {
		return print(f.Range.Likely), print(f.Range.Likely) == print(rd.Range.Likely), nil
	}
	same = ends(f.Range) == ends(rd.Range)
	if strings.Contains(text, "(") { // “likely (low to high)”: the likely value is stated too
		return print(f.Range.Likely) + " (" + number(f.Range.Low) + " to " + number(f.Range.High) + ")", same && print(f.Range.Likely) == print(rd.Range.Likely), nil
	}
	return number(f.Range.Low) + " to " + print(f.Range.High), same, nil
}

func bare(k unit.Kind) string {
	if k == unit.CountKind || k == unit.RatioKind || k == unit.MoneyKind {
		return k.Base()
	}
	return ""
}

// decimals counts the digits after the point of the first number in a text.
func decimals(text string) int {
	i := strings.IndexAny(text, ".,")
	if i < 0 {
		return 0
	}
	n := 0
	for _, r := range text[i+1:] {
		if r < '0' || r > '9' {
			break
		}
		n++
	}
	return n
}

// reason shows the working of the answer that differs.
func reason(w *Worked, name string) []string {
	f, ok := w.Reply.Answer.Value(name)
	for _, s := range w.Reply.Answer.Steps {
		if s.For == name || ok && strings.EqualFold(s.Name, f.Label) {
			return []string{s.Name + " of " + spell.Quote(w.Calculator) + ": " + s.Formula + " = " + s.Put}
		}
	}
	var in []string
	for _, g := range w.Inputs {
		in = append(in, g.Name+" "+g.Text)
	}
	return []string{spell.Quote(w.Calculator) + " with " + strings.Join(in, ", ")}
}

// names lists what an inline result may ask for.
func (w *Worked) names() []string {
	var out []string
	for _, f := range w.Reply.Answer.Values {
		out = append(out, f.Name)
	}
	for _, p := range w.Reply.Answer.Choices {
		out = append(out, p.Name)
	}
	for _, g := range w.Inputs {
		out = append(out, g.Name)
	}
	return out
}

// print is an answer as running text shows it; a checked answer as the example
// writes it, an input as typed.
func (w *Worked) print(name string) (string, bool) {
	for _, e := range w.Expects {
		if e.Name == name {
			return e.Text, true
		}
	}
	if f, ok := w.Reply.Answer.Value(name); ok {
		return f.Text, true
	}
	if p, ok := w.Reply.Answer.Pick(name); ok {
		return p.Likely.Label, true
	}
	if s, ok := w.Reply.Field(name); ok && s.Text != "" {
		return s.Text, true
	}
	return "", false
}
