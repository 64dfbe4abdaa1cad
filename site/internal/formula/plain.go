package formula

import (
	"strings"
	"unicode/utf8"
)

// reading is the formula in one line, spaces made single.
func (n node) reading() string { return strings.Join(strings.Fields(n.plain()), " ") }

// plain reads the formula in one line; brackets stand where a line cannot show
// what belongs together.
func (n node) plain() string {
	switch n.tag {
	case "mfrac":
		over := group(n.kids[0])
		if n.kids[0].tag == "mfrac" {
			over = "(" + over + ")"
		}
		return over + "/" + tight(n.kids[1])
	case "msqrt":
		return "√(" + n.kids[0].reading() + ")"
	case "mroot":
		return "root " + tight(n.kids[1]) + " of (" + n.kids[0].reading() + ")"
	case "msub", "munder":
		return n.kids[0].plain() + "_" + group(n.kids[1])
	case "msup", "mover":
		if strings.Contains(n.attr, "accent") {
			return accent(n.kids[0].reading(), n.kids[1].text)
		}
		return tightBase(n.kids[0]) + raised(n.kids[1])
	case "msubsup", "munderover":
		return n.kids[0].plain() + "_" + group(n.kids[1]) + raised(n.kids[2])
	case "mspace":
		return " "
	case "mtable":
		return n.rows()
	}
	if n.alt != "" {
		return n.alt
	}
	return n.text + n.line()
}

// line reads a row; a fraction before another factor stands in brackets.
func (n node) line() string {
	var s strings.Builder
	for i, k := range n.kids {
		text := k.plain()
		rest := n.kids[i+1:]
		for len(rest) > 0 && rest[0].tag == "mspace" {
			rest = rest[1:]
		}
		if k.tag == "mfrac" && len(rest) > 0 && (rest[0].tag != "mo" || rest[0].opens() || rest[0].text == "/") {
			text = "(" + text + ")"
		}
		s.WriteString(text)
		if k.base().big {
			s.WriteString(" ")
		}
	}
	return s.String()
}

func (n node) rows() string {
	cases := strings.Contains(n.attr, "cases")
	var rows []string
	for _, row := range n.kids {
		var cells []string
		for _, cell := range row.kids {
			cells = append(cells, cell.plain())
		}
		if cases {
			rows = append(rows, strings.Join(cells, ", "))
		} else {
			rows = append(rows, strings.Join(cells, ""))
		}
	}
	if cases {
		return strings.Join(rows, "; ") + "}"
	}
	return strings.Join(rows, "; ")
}

func accent(text, mark string) string {
	name, combining := "bar", "\u0305"
	if mark == "^" {
		name, combining = "hat", "\u0302"
	}
	if utf8.RuneCountInString(text) == 1 {
		return text + combining
	}
	return name + "(" + text + ")"
}

// raised reads a superscript: degrees and primes need no sign of a power.
func raised(n node) string {
	switch {
	case n.text == "∘" || n.text == "°":
		return "°"
	case strings.HasPrefix(n.text, "′"):
		return n.text
	case n.tag == "mrow" && len(n.kids) == 2 && strings.HasPrefix(n.kids[0].text, "′"):
		return n.kids[0].text + raised(n.kids[1])
	}
	return "^" + tight(n)
}

func tightBase(n node) string {
	if n.tag == "mfrac" || n.tag == "mrow" && !n.opens() {
		return tight(n)
	}
	return n.plain()
}

// tight puts brackets round everything but one piece.
func tight(n node) string {
	if n.tag == "mrow" && len(n.kids) > 1 || n.tag == "mfrac" {
		if n.tag == "mrow" && n.opens() && len(n.kids) == 3 {
			return n.reading()
		}
		return "(" + n.reading() + ")"
	}
	return n.reading()
}

// group leaves letters side by side without brackets: x_ij.
func group(n node) string {
	text := n.reading()
	if n.tag == "mrow" && len(n.kids) > 1 && strings.ContainsAny(text, " +-−·×/") {
		return "(" + text + ")"
	}
	return text
}
