package check

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/spell"
)

var (
	// wants are words that a sentence cannot end with: a citation after one of them
	// would be a part of the sentence. The mark of common practice may follow them: “as
	// setters say†”.
	wants = regexp.MustCompile(`(?i)(?:^|[^\p{L}])(?:is|are|was|were|in|by|of|from|to|with|and|or|see|after|than|per|as|at|on|the|a|an|for|both|says?|has|have|gives?|finds?|found|cf\.)$`)
	typed = regexp.MustCompile(`(?i)common\s+practice`)
)

// lintCites looks at the citations of a paragraph, a line of a list or a cell: each
// is printed as a small number, and the sentence must read without it. And “common
// practice” is said by a mark; a page that speaks of the words themselves sets
// them slanted.
func (c *checker) lintCites(n ast.Node, say func(lint diag.ID, start, end int, what string)) {
	var before strings.Builder
	_ = ast.Walk(n, func(m ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch m := m.(type) {
		case *ast.Emphasis:
			if m.Level == 1 && strings.HasPrefix(strings.ToLower(source.Plain(m, c.page.Body)), "common practice") {
				before.WriteString("x")
				return ast.WalkSkipChildren, nil
			}
		case *ast.CodeSpan:
			before.WriteString("x")
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			value := string(m.Segment.Value(c.page.Body))
			for _, at := range typed.FindAllStringIndex(value, -1) {
				say(diag.LintPractice, m.Segment.Start+at[0], m.Segment.Start+at[1], "typed "+spell.Quote(value[at[0]:at[1]])+": say it by the mark [@practice], once a paragraph")
			}
			before.WriteString(value)
			if m.SoftLineBreak() || m.HardLineBreak() {
				before.WriteByte(' ')
			}
		case *source.Cite:
			text := strings.TrimSpace(before.String())
			if n.Kind() == ast.KindParagraph && text == "" || m.Key != source.Practice && (wants.MatchString(text) || goesOn(text, m, c.page.Body)) {
				say(diag.LintCite, m.Start, m.End, "the sentence does not read without "+spell.Quote("[@"+m.Key+"]")+": it is printed as a small number")
			}
		}
		return ast.WalkContinue, nil
	})
}

// goesOn reports whether a citation begins a sentence, with the sentence's verb
// after it: “… flat. [@key] says so”.
func goesOn(before string, m *source.Cite, body []byte) bool {
	if before != "" && !strings.ContainsRune(".?!:", rune(before[len(before)-1])) {
		return false
	}
	next, ok := m.NextSibling().(*ast.Text)
	if !ok {
		return false
	}
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(string(next.Segment.Value(body)), " "))
	return unicode.IsLower(r)
}
