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
	for i, r := range tex {
		if !printable(r) {
			return node{}, &Error{i, utf8.RuneLen(r), "a control character stands here"}
		}
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

// printable leaves out what XML 1.0 (production 2, Char) or a reader cannot take.
func printable(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= ' ' && r != 0xFFFE && r != 0xFFFF && !unicode.IsControl(r)
}

// ahead reports whether the command stands next, as a whole word.
func (p *parser) ahead(command string) bool {
	rest, ok := strings.CutPrefix(p.s[p.i:], command)
	return ok && (rest == "" || !letter(rest[0]))
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

func digit(c byte) bool { return c >= '0' && c <= '9' }

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
		return p.ahead(`\right`)
	case "cell":
		return p.s[p.i] == '&' || strings.HasPrefix(p.s[p.i:], `\\`) || p.ahead(`\end`)
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
			out.kids = arrange(out.kids)
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
		primed := *slot != nil && (*slot).tag == "mo" && strings.HasPrefix((*slot).text, "′") && p.s[p.i] == '^'
		if *slot != nil && !primed {
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
		arg, err := p.single()
		if err != nil {
			return node{}, err
		}
		if primed {
			arg = node{tag: "mrow", kids: []node{**slot, arg}}
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
	case r < utf8.RuneSelf && digit(byte(r)), r == '.' && p.i+1 < len(p.s) && digit(p.s[p.i+1]):
		point := false
		for p.i < len(p.s) {
			c := p.s[p.i]
			if c == '.' && !point && p.i+1 < len(p.s) && digit(p.s[p.i+1]) {
				point = true
			} else if !digit(c) {
				break
			}
			p.i++
		}
		return node{tag: "mn", text: p.s[at:p.i]}, nil
	case r == '_' || r == '^' || r == '&' || r == '#' || r == '$' || r == '%':
		return node{}, p.fail(at, size, "“"+string(r)+"” cannot stand here")
	case unicode.IsLetter(r):
		p.i += size
		return node{tag: "mi", text: string(r)}, nil
	}
	p.i += size
	switch r {
	case '-':
		return operator("−"), nil
	case '=', '+', '<', '>', '≤', '≥', '≈', '±', '·', '×', '−':
		return operator(string(r)), nil
	case '(', ')', '[', ']':
		return node{tag: "mo", attr: ` stretchy="false"`, text: string(r)}, nil
	case '|': // the dictionary takes a bar between two signs for a relation and spaces it
		return node{tag: "mo", attr: ` stretchy="false" lspace="0" rspace="0"`, text: "|"}, nil
	case '/':
		return node{tag: "mo", attr: ` lspace="0" rspace="0"`, text: "/"}, nil
	case ',', ';':
		return node{tag: "mo", text: string(r), alt: string(r) + " "}, nil
	case '.', ':', '!', '*', '…':
		return node{tag: "mo", text: string(r)}, nil
	case '°', '∞':
		return node{tag: "mi", text: string(r)}, nil
	}
	return node{}, p.fail(at, size, "“"+string(r)+"” is no sign of a formula here")
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
	return p.single()
}

// single is a piece, but of a bare number only its first digit, as in TeX.
func (p *parser) single() (node, error) {
	if digit(p.s[p.i]) {
		p.i++
		return node{tag: "mn", text: p.s[p.i-1 : p.i]}, nil
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
	// Spaces and signs of TeX inside a text; a command takes the space after it along.
	text = strings.NewReplacer(`\,`, "\u2009", `\ `, " ", `\%`, "%", `\Omega `, "Ω", `\Omega`, "Ω", `\mu `, "µ", `\mu`, "µ", `\cdot `, "·", `\cdot`, "·", "~", " ").Replace(text)
	if i := strings.IndexByte(text, '\\'); i >= 0 {
		return "", p.fail(at, len(command)+1, "the text of “\\"+command+"” holds a command it cannot have")
	}
	return text, nil
}
