package formula

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxDepth bounds nested groups; nobody reads deeper formulas.
const maxDepth = 60

type parser struct {
	s     string
	i     int
	depth int
}

func parse(tex string) (node, error) {
	if !utf8.ValidString(tex) {
		return node{}, &Error{0, len(tex), "the formula is not UTF-8 text"}
	}
	p := &parser{s: tex}
	n, err := p.row("")
	if err != nil {
		return node{}, err
	}
	if p.i < len(p.s) {
		return node{}, p.fail(p.i, 1, "“"+p.s[p.i:p.i+1]+"” closes nothing")
	}
	if len(n.kids) == 0 {
		return node{}, p.fail(0, len(tex), "the formula is empty")
	}
	return n, nil
}

func (p *parser) fail(at, n int, what string) *Error { return &Error{at, n, what} }

func (p *parser) skip() {
	for p.i < len(p.s) && strings.IndexByte(" \t\r\n", p.s[p.i]) >= 0 {
		p.i++
	}
}

// stops reports whether a row ends here; what ends it is left standing.
func (p *parser) stops(until string) bool {
	if p.i >= len(p.s) || p.s[p.i] == '}' {
		return true
	}
	switch until {
	case "]":
		return p.s[p.i] == ']'
	case "right":
		return strings.HasPrefix(p.s[p.i:], `\right`)
	case "cell":
		return p.s[p.i] == '&' || strings.HasPrefix(p.s[p.i:], `\\`) || strings.HasPrefix(p.s[p.i:], `\end`)
	}
	return false
}

func (p *parser) row(until string) (node, error) {
	if p.depth++; p.depth > maxDepth {
		return node{}, p.fail(p.i, 1, "the formula is nested too deeply")
	}
	defer func() { p.depth-- }()
	out := node{tag: "mrow"}
	for {
		p.skip()
		if p.stops(until) {
			return out, nil
		}
		n, err := p.scripted()
		if err != nil {
			return node{}, err
		}
		out.kids = append(out.kids, n)
	}
}

// scripted reads one piece with what stands above and below it.
func (p *parser) scripted() (node, error) {
	base, err := p.piece()
	if err != nil {
		return node{}, err
	}
	var sub, sup *node
	for {
		p.skip()
		if p.i >= len(p.s) {
			break
		}
		at := p.i
		var slot **node
		switch p.s[p.i] {
		case '_':
			slot = &sub
		case '^':
			slot = &sup
		case '\'':
			slot = &sup
		}
		if slot == nil {
			break
		}
		if *slot != nil {
			return node{}, p.fail(at, 1, "two of “"+p.s[at:at+1]+"” stand at one place")
		}
		if p.s[p.i] == '\'' {
			n := 0
			for p.i < len(p.s) && p.s[p.i] == '\'' {
				p.i++
				n++
			}
			*slot = &node{tag: "mo", text: strings.Repeat("′", n)}
			continue
		}
		p.i++
		p.skip()
		if p.i >= len(p.s) || p.s[p.i] == '}' {
			return node{}, p.fail(at, 1, "after “"+p.s[at:at+1]+"” something is missing")
		}
		arg, err := p.piece()
		if err != nil {
			return node{}, err
		}
		*slot = &arg
	}
	return script(base, sub, sup), nil
}

func script(base node, sub, sup *node) node {
	under, over, both := "msub", "msup", "msubsup"
	if base.limit {
		under, over, both = "munder", "mover", "munderover"
	}
	switch {
	case sub != nil && sup != nil:
		return node{tag: both, kids: []node{base, *sub, *sup}}
	case sub != nil:
		return node{tag: under, kids: []node{base, *sub}}
	case sup != nil:
		return node{tag: over, kids: []node{base, *sup}}
	}
	return base
}

// piece reads one group, letter, number, sign or command.
func (p *parser) piece() (node, error) {
	at := p.i
	r, size := utf8.DecodeRuneInString(p.s[p.i:])
	switch {
	case r == '{':
		return p.braces()
	case r == '\\':
		return p.command()
	case r >= '0' && r <= '9':
		for p.i < len(p.s) && (p.s[p.i] >= '0' && p.s[p.i] <= '9' || p.s[p.i] == '.' && p.i+1 < len(p.s) && p.s[p.i+1] >= '0' && p.s[p.i+1] <= '9') {
			p.i++
		}
		return node{tag: "mn", text: p.s[at:p.i]}, nil
	case r == '_' || r == '^' || r == '&' || r == '#' || r == '$' || r == '%':
		return node{}, p.fail(at, size, "“"+string(r)+"” cannot stand here")
	case unicode.IsLetter(r):
		p.i += size
		return node{tag: "mi", text: string(r)}, nil
	case r < ' ' || r == utf8.RuneError:
		return node{}, p.fail(at, size, "a control character stands here")
	}
	p.i += size
	switch r {
	case '-':
		return operator("−"), nil
	case '=', '+', '<', '>', '≤', '≥', '≈', '±', '·', '×', '−':
		return operator(string(r)), nil
	case '(', ')', '[', ']', '|':
		return node{tag: "mo", attr: ` stretchy="false"`, text: string(r)}, nil
	}
	return node{tag: "mo", text: string(r)}, nil
}

// operator is a sign with space round it in plain text.
func operator(s string) node { return node{tag: "mo", text: s, alt: " " + s + " "} }

func (p *parser) braces() (node, error) {
	at := p.i
	p.i++
	n, err := p.row("")
	if err != nil {
		return node{}, err
	}
	if p.i >= len(p.s) {
		return node{}, p.fail(at, 1, "this “{” is never closed")
	}
	p.i++
	if len(n.kids) == 1 {
		return n.kids[0], nil
	}
	return n, nil
}

// argument reads the group or the single piece that a command needs.
func (p *parser) argument(command string, at int) (node, error) {
	p.skip()
	if p.i >= len(p.s) || p.s[p.i] == '}' {
		return node{}, p.fail(at, len(command)+1, "“\\"+command+"” lacks what it applies to")
	}
	return p.piece()
}

// words reads the text argument of \text and its kin as it stands.
func (p *parser) words(command string, at int) (string, error) {
	p.skip()
	if p.i >= len(p.s) || p.s[p.i] != '{' {
		return "", p.fail(at, len(command)+1, "“\\"+command+"” wants its text in braces")
	}
	end := strings.IndexByte(p.s[p.i:], '}')
	if end < 0 {
		return "", p.fail(p.i, 1, "this “{” is never closed")
	}
	text := p.s[p.i+1 : p.i+end]
	if i := strings.IndexAny(text, "{"); i >= 0 {
		return "", p.fail(p.i+1+i, 1, "the text of “\\"+command+"” holds no braces")
	}
	p.i += end + 1
	// Spaces and accents of TeX inside a text.
	text = strings.NewReplacer(`\,`, "\u2009", `\ `, " ", `\%`, "%", `\Omega`, "Ω", `\mu`, "µ", `\cdot`, "·", "~", " ").Replace(text)
	if i := strings.IndexByte(text, '\\'); i >= 0 {
		return "", p.fail(at, len(command)+1, "the text of “\\"+command+"” holds a command it cannot have")
	}
	return text, nil
}
