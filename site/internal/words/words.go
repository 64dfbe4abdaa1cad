// Package words sets ISO 6983 word-address text: a lexer of our own for chroma,
// and marks for words that are not words. It may import chroma and the standard
// library; the lexer stays in this package and enters no registry.
package words

import (
	"errors"
	"fmt"
	"html"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/chroma/v2"
)

// Problem is a piece of text that is no word. Line and Col count from 1, Col in
// bytes.
type Problem struct {
	Line, Col, Len int
	What           string
}

// A word may follow the one before without a space, as on a tape.
const (
	digits   = `[0-9]+(?![0-9.])`
	unsigned = `(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?![0-9.])`
	number   = `[+-]?` + unsigned
)

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
			{Pattern: `\([^()\n\r]*`, Type: chroma.Error},
			{Pattern: `;[^\n\r]*`, Type: chroma.Comment},
			{Pattern: `%`, Type: chroma.Punctuation},
			// Block delete stands before everything else in its block.
			{Pattern: `(?<=^[ \t]*)/`, Type: chroma.Punctuation},
			{Pattern: `[NO:]` + digits, Type: chroma.NameLabel},
			{Pattern: `G[0-9]{1,3}(?![0-9.])`, Type: chroma.Keyword},
			{Pattern: `[XYZUVWABC]` + number, Type: chroma.LiteralNumber},
			{Pattern: `[IJKR]` + number, Type: chroma.LiteralNumberFloat},
			{Pattern: `[DH]` + digits, Type: chroma.NameVariable},
			{Pattern: `[TM]` + digits, Type: chroma.NameFunction},
			{Pattern: `[FSPQL]` + unsigned, Type: chroma.NameFunction},
			{Pattern: `[A-Z:][^\sA-Z();%/:]*|[^\sA-Z();%/:]+|.`, Type: chroma.Error},
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
// our own, each line in a span that a style sheet can count, and what in it is
// no word of the standard. Every byte of the text stands in the code once. A
// text that is not UTF-8 is an error.
func (l *Lexer) Set(text string) (string, []Problem, error) {
	if !utf8.ValidString(text) {
		return "", nil, errors.New("the word-address text is not UTF-8")
	}
	// EnsureLF stays off: it would drop bytes and shift the places after them.
	it, err := l.l.Tokenise(&chroma.TokeniseOptions{State: "root"}, text)
	if err != nil {
		return "", nil, fmt.Errorf("the word-address text cannot be read: %w", err)
	}
	var s strings.Builder
	var out []Problem
	line, col, open := 1, 1, false
	s.WriteString(`<pre class="nc"><code>`)
	// Tokens are not joined: two words of one kind stay two words.
	for t := it(); t != chroma.EOF; t = it() {
		if !open && t.Value != "" {
			s.WriteString(`<span class="w-line">`)
			open = true
		}
		if t.Value == "\n" {
			s.WriteString("\n</span>")
			line, col, open = line+1, 1, false
			continue
		}
		if c := class(t.Type); c != "" {
			s.WriteString(`<span class="` + c + `">` + html.EscapeString(t.Value) + `</span>`)
		} else {
			s.WriteString(html.EscapeString(t.Value))
		}
		if t.Type == chroma.Error {
			out = append(out, Problem{line, col, len(t.Value), explain(t.Value)})
		}
		col += len(t.Value)
	}
	if open {
		s.WriteString("</span>")
	}
	s.WriteString("</code></pre>")
	return s.String(), out, nil
}

func explain(word string) string {
	quoted := "“" + word + "”"
	switch {
	case strings.HasPrefix(word, "("):
		return "this comment is not closed on its line"
	case word == ")":
		return "“)” closes no comment"
	case word == "/":
		return "“/” stands only at the start of a block"
	case word != strings.ToUpper(word):
		return quoted + " is no word: addresses are capital letters"
	case word[0] == 'E':
		return quoted + " is no word: “E” is no address here"
	case strings.Count(word, ".") > 1:
		return quoted + " is no word: its number has more than one decimal point"
	}
	return quoted + " is no word: a word is one letter and one number, for example X12.5"
}
