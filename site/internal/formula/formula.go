// Package formula turns a subset of TeX into MathML Core when the handbook is
// published, so that a page needs no script to show a formula. An unknown
// command is an error with its place. It may import the standard library only.
package formula

import (
	"html"
	"strings"
)

// Error is what is wrong in a formula and where, in bytes.
type Error struct {
	At, Len int
	What    string
}

func (e *Error) Error() string { return e.What }

// MathML writes a formula as MathML; block sets it on a line of its own. The
// error is an *Error.
func MathML(tex string, block bool) (string, error) {
	n, err := parse(tex)
	if err != nil {
		return "", err
	}
	plain := strings.TrimSpace(n.plain())
	display := ""
	if block {
		display = ` display="block"`
	}
	return `<math` + display + ` alttext="` + html.EscapeString(plain) + `">` + n.xml() + `</math>`, nil
}

// Text is the formula as one line of plain text: "R = d/2 + g".
func Text(tex string) (string, error) {
	n, err := parse(tex)
	if err != nil {
		return "", err
	}
	return strings.Join(strings.Fields(n.plain()), " "), nil
}

// node is one piece of a formula.
type node struct {
	tag   string // mi, mn, mo, mtext, mrow, mfrac, msqrt, mroot, msub, msup, msubsup, munder, munderover, mover, mspace, mtable, mtr, mtd
	attr  string // constant attributes
	text  string // for leaves
	alt   string // plain text when it differs from text
	kids  []node
	limit bool // scripts stand above and below
}

func (n node) xml() string {
	var s strings.Builder
	n.write(&s)
	return s.String()
}

func (n node) write(s *strings.Builder) {
	s.WriteString("<" + n.tag + n.attr)
	if n.tag == "mspace" {
		s.WriteString("/>")
		return
	}
	s.WriteString(">" + html.EscapeString(n.text))
	for _, k := range n.kids {
		k.write(s)
	}
	s.WriteString("</" + n.tag + ">")
}

// plain reads the formula aloud in one line.
func (n node) plain() string {
	switch n.tag {
	case "mfrac":
		return group(n.kids[0]) + "/" + group(n.kids[1])
	case "msqrt":
		return "√" + bracket(n)
	case "mroot":
		return n.kids[1].plain() + "√" + bracket(n.kids[0])
	case "msub", "munder":
		return n.kids[0].plain() + "_" + group(n.kids[1])
	case "msup", "mover":
		return n.kids[0].plain() + "^" + group(n.kids[1])
	case "msubsup", "munderover":
		return n.kids[0].plain() + "_" + group(n.kids[1]) + "^" + group(n.kids[2])
	case "mspace":
		return " "
	case "mtr":
		return n.join("") + "; "
	}
	if n.alt != "" {
		return n.alt
	}
	return n.text + n.join("")
}

func (n node) join(sep string) string {
	var parts []string
	for _, k := range n.kids {
		parts = append(parts, k.plain())
	}
	return strings.Join(parts, sep)
}

func bracket(n node) string {
	if n.tag == "msqrt" {
		return "(" + strings.TrimSpace(n.join("")) + ")"
	}
	return "(" + strings.TrimSpace(n.plain()) + ")"
}

// group puts brackets round more than one piece.
func group(n node) string {
	text := strings.TrimSpace(n.plain())
	if n.tag == "mrow" && len(n.kids) > 1 && strings.ContainsAny(text, " +-−·×/") {
		return "(" + text + ")"
	}
	return text
}
