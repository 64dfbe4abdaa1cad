package check

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/spell"
)

// longest is the number of words a sentence may have: the readers' first
// language is often another.
const longest = 25

// Passed is a lint that a page answers with a reason. All of them stand on one
// published page.
type Passed struct {
	source.Passed
	Count int // how often the lint would have spoken
}

// lints names what is looked for, and how a page is made right.
var lints = map[diag.ID]string{
	diag.LintSentence: fmt.Sprintf("a sentence of more than %d words: make two of it", longest),
	diag.LintFigure:   "a page without a figure, a table or a live calculator",
	diag.LintSource:   "a page that cites no publication and has no example that rests on one",
	diag.LintCaution:  "a page that names a hazard and has neither a caution nor a link to the chapter on safety",
	diag.LintTerm:     "a short form that the glossary does not explain",
	diag.LintNumber:   "a number with a unit that no example, citation or table explains",
	diag.LintCite:     "a citation that is a part of its sentence: it becomes a small number, and the sentence must read without it",
	diag.LintPractice: "“common practice” in the sentence: the mark [@practice] says it, once a paragraph",
}

// Lints returns the names of the lints with what each looks for, in order of name.
func Lints() [][2]string {
	var out [][2]string
	for name, text := range lints {
		out = append(out, [2]string{string(name), text})
	}
	slices.SortFunc(out, func(a, b [2]string) int { return strings.Compare(a[0], b[0]) })
	return out
}

var (
	hazard = regexp.MustCompile(`(?i)\b(hydrogen|sludge|oil mist|high voltage|pacemaker|implants?|unattended|cobalt dust|flash point|oil fire|spent wire|asphyxia|electric shock)\b`)
	short  = regexp.MustCompile(`\b[A-Z]{2,5}\b`)
)

// known are short forms of bodies, scales and programs that are names and not terms.
var known = []string{"ISO", "VDI", "DIN", "EN", "IEC", "ANSI", "ASME", "NFPA", "EU", "UTF", "CSV", "SVG", "JSON", "PDF", "DANGER", "WARNING", "CAUTION", "NOTICE", "LQ", "USB", "SI", "HTML", "NIST", "AND", "OR", "NO", "NOT", "OK"}

// lint looks at a page as an editor would. What it finds does not stop a
// publication: it is a warning, until the page is changed or answers it in its
// front matter with a reason.
func (c *checker) lint() {
	p := c.page
	answers := make([]Passed, len(p.Front.Passed))
	for i, a := range p.Front.Passed {
		answers[i].Passed = a
		if _, ok := lints[diag.ID(a.Lint)]; !ok || strings.TrimSpace(a.Because) == "" {
			at := max(0, strings.Index(string(p.Text), "passed:"))
			c.problem(diag.LintAnswer, at, at+len("passed:"), "an answer to a lint has lint:, because:, and perhaps at:; "+spell.Quote(a.Lint)+" is not a lint or has no reason")
		}
	}
	say := func(lint diag.ID, start, end int, what string) {
		for i := range answers {
			if diag.ID(answers[i].Lint) == lint && (answers[i].At == "" || strings.Contains(what, answers[i].At)) {
				answers[i].Count++
				return
			}
		}
		c.list.Add(diag.Message{ID: lint, Kind: diag.Warning, Span: diag.Span{File: p.File, Start: start, End: end}, Text: string(lint) + ": " + what,
			Notes: []string{"change the page, or answer in its front matter: passed: [{lint: " + string(lint) + ", at: \"words of it\", because: \"…\"}]"}})
	}
	c.lintText(say)
	c.lintPage(say)
	for _, n := range p.Numbers.Where {
		say(diag.LintNumber, n.Start, n.End, "nothing explains "+n.Text)
	}
	for i, a := range answers {
		if a.Count == 0 {
			at := max(0, strings.Index(string(p.Text), "passed:"))
			c.problem(diag.LintAnswer, at, at+len("passed:"), fmt.Sprintf("answer %d, to the lint %s, answers nothing: take it out", i+1, spell.Quote(a.Lint)))
		}
	}
	p.Passed = answers
}

func (c *checker) lintPage(say func(lint diag.ID, start, end int, what string)) {
	p := c.page
	drawn, cites, safe := false, false, strings.HasPrefix(p.Address, "safety/")
	for _, cited := range p.Cites {
		cites = cites || !cited.Practice
	}
	for _, b := range p.Blocks {
		f := b.Facts()
		drawn, cites, safe = drawn || f.Shows, cites || f.Cites, safe || f.Safe
	}
	for _, to := range p.Links {
		safe = safe || strings.HasPrefix(to, "safety/")
	}
	start, end := 0, 3
	if p.Short != nil && p.Short.Lines().Len() > 0 {
		start, end = p.Short.Lines().At(0).Start, p.Short.Lines().At(0).Stop-1
	}
	if !drawn {
		say(diag.LintFigure, start, end, "this page has no figure, no table and no live calculator")
	}
	if !cites {
		say(diag.LintSource, start, end, "this page cites no publication")
	}
	if !safe {
		if at := hazard.FindIndex(p.Body); at != nil {
			say(diag.LintCaution, at[0], at[1], "it names "+spell.Quote(string(p.Body[at[0]:at[1]]))+" and has neither a caution nor a link to the chapter on safety")
		}
	}
}

// lintText goes through the running text: sentences and short forms.
func (c *checker) lintText(say func(lint diag.ID, start, end int, what string)) {
	told := map[string]bool{}
	c.walk(func(n ast.Node) {
		if n.Kind() == east.KindTableCell {
			c.lintCites(n, say)
		}
		if n.Kind() != ast.KindParagraph && n.Kind() != ast.KindTextBlock {
			return
		}
		c.lintCites(n, say)
		text, at := c.running(n)
		for _, s := range sentences(text) {
			if words := countWords(text[s[0]:s[1]]); words > longest {
				say(diag.LintSentence, at(s[0]), at(s[1]), fmt.Sprintf("%d words: %s", words, spell.Quote(first(text[s[0]:s[1]], 60))))
			}
		}
		for _, m := range short.FindAllStringIndex(text, -1) {
			word := text[m[0]:m[1]]
			if told[word] || slices.Contains(known, word) || c.inGlossary(word) {
				continue
			}
			told[word] = true
			say(diag.LintTerm, at(m[0]), at(m[1]), "the glossary does not explain "+spell.Quote(word))
		}
	})
}

// inGlossary reports whether a short form is a term, another name of one, or
// stands in a term's explanation.
func (c *checker) inGlossary(word string) bool {
	for _, t := range c.site.Content.Terms {
		if strings.Contains(t.Term, word) || strings.Contains(t.Text, word) || slices.ContainsFunc(t.Also, func(a string) bool { return strings.Contains(a, word) }) {
			return true
		}
	}
	return false
}

// running is a paragraph's text as it is read, and where each byte of it stands
// in the page. Printed results are one word, citations none.
func (c *checker) running(n ast.Node) (text string, at func(int) int) {
	var s strings.Builder
	var starts, places []int
	_ = ast.Walk(n, func(m ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch m := m.(type) {
		case *source.Cite:
			return ast.WalkSkipChildren, nil
		case *ast.CodeSpan:
			s.WriteString("x")
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			starts, places = append(starts, s.Len()), append(places, m.Segment.Start)
			s.Write(m.Segment.Value(c.page.Body))
			if m.SoftLineBreak() || m.HardLineBreak() {
				s.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return s.String(), func(i int) int {
		k, found := slices.BinarySearch(starts, i)
		if !found {
			k--
		}
		if k < 0 {
			return place(n, c.page.Body)
		}
		return places[k] + i - starts[k]
	}
}

// sentences cuts a text after a full stop, a question or an exclamation mark that
// a word or the end follows, and at colons and semicolons, where a
// reader rests too.
func sentences(text string) [][2]int {
	var out [][2]int
	start := 0
	for i := 0; i < len(text); i++ {
		if !strings.ContainsRune(".?!:;", rune(text[i])) {
			continue
		}
		pause := text[i] == ':' || text[i] == ';'
		rest := strings.TrimLeft(text[i+1:], "”\")")
		next := strings.TrimLeft(rest, " \n")
		r, _ := utf8.DecodeRuneInString(next)
		if next == "" || rest != next && (pause || unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("“\"(", r)) {
			out = append(out, [2]int{start, i + 1})
			start = len(text) - len(next)
		}
	}
	if start < len(text) {
		out = append(out, [2]int{start, len(text)})
	}
	return out
}

// countWords counts what holds a letter or a digit.
func countWords(s string) int {
	n := 0
	for _, w := range strings.Fields(s) {
		if strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
			n++
		}
	}
	return n
}

// first is the beginning of a text, cut at a space.
func first(s string, n int) string {
	if len(s) <= n {
		return s
	}
	cut := strings.LastIndexByte(s[:n], ' ')
	return s[:max(cut, 1)] + " …"
}
