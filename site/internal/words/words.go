// Package words sets ISO 6983 word-address text: a lexer of our own for chroma,
// and marks for words that are not words. It may import chroma and the standard
// library; the lexer stays in this package and enters no registry.
package words

import (
	"fmt"
	"html"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// Problem is a piece of text that is no word. Line and Col count from 1, Col in
// bytes.
type Problem struct {
	Line, Col, Len int
	What           string
}

const number = `[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?![0-9.A-Za-z])`

// Lexer reads word-address text. It is made once and may be used by one
// goroutine at a time.
type Lexer struct{ l chroma.Lexer }

// New makes a lexer that knows sequence numbers, preparatory and coordinate words, the words for
// tool, feed and miscellaneous functions, comments and the marks of the tape.
func New() (*Lexer, error) {
	l, err := chroma.NewLexer(&chroma.Config{Name: "ISO 6983", EnsureNL: false}, func() chroma.Rules {
		return chroma.Rules{"root": {
			{Pattern: `\n`, Type: chroma.Text},
			{Pattern: `[ \t\r]+`, Type: chroma.Text},
			{Pattern: `\([^()\n]*\)`, Type: chroma.Comment},
			{Pattern: `;[^\n]*`, Type: chroma.Comment},
			{Pattern: `%`, Type: chroma.Punctuation},
			{Pattern: `/(?=\s*[NG])`, Type: chroma.Punctuation},
			{Pattern: `[N][0-9]+(?![0-9.A-Za-z])|[O:][0-9]+(?![0-9.A-Za-z])`, Type: chroma.NameLabel},
			{Pattern: `G[0-9]{1,3}(?![0-9.])`, Type: chroma.Keyword},
			{Pattern: `[XYZUVWABC]` + number, Type: chroma.LiteralNumber},
			{Pattern: `[IJKR]` + number, Type: chroma.LiteralNumberFloat},
			{Pattern: `[DH][0-9]+(?![0-9.A-Za-z])`, Type: chroma.NameVariable},
			{Pattern: `[FSTMPQL]` + number, Type: chroma.NameFunction},
			{Pattern: `[^\s();%]+|.`, Type: chroma.Error},
		}}
	})
	if err != nil {
		return nil, fmt.Errorf("the lexer of word-address text: %w", err)
	}
	return &Lexer{l}, nil
}

// class is our class of a token.
func class(t chroma.TokenType) string {
	switch t {
	case chroma.Comment:
		return "w-c"
	case chroma.Punctuation:
		return "w-p"
	case chroma.NameLabel:
		return "w-n"
	case chroma.Keyword:
		return "w-g"
	case chroma.LiteralNumber:
		return "w-x"
	case chroma.LiteralNumberFloat:
		return "w-i"
	case chroma.NameVariable:
		return "w-d"
	case chroma.NameFunction:
		return "w-f"
	case chroma.Error:
		return "w-err"
	}
	return ""
}

// Set reads the text once and returns it as preformatted code with classes of
// our own, and what in it is no word of the standard.
func (l *Lexer) Set(text string) (string, []Problem, error) {
	it, err := l.l.Tokenise(nil, text)
	if err != nil {
		return "", nil, fmt.Errorf("the word-address text cannot be read: %w", err)
	}
	var s strings.Builder
	var out []Problem
	line, col := 1, 1
	s.WriteString(`<pre class="nc"><code>`)
	for _, t := range it.Tokens() {
		if c := class(t.Type); c != "" {
			s.WriteString(`<span class="` + c + `">` + html.EscapeString(t.Value) + `</span>`)
		} else {
			s.WriteString(html.EscapeString(t.Value))
		}
		if t.Type == chroma.Error {
			out = append(out, Problem{line, col, len(t.Value), explain(t.Value)})
		}
		for i := range len(t.Value) {
			if t.Value[i] == '\n' {
				line, col = line+1, 1
			} else {
				col++
			}
		}
	}
	s.WriteString("</code></pre>")
	return s.String(), out, nil
}

func explain(word string) string {
	switch {
	case strings.HasPrefix(word, "("):
		return "this comment is not closed on its line"
	case word != strings.ToUpper(word):
		return "“" + word + "” is no word: addresses are capital letters"
	}
	return "“" + word + "” is no word: a word is one letter and one number, for example X12.5"
}
