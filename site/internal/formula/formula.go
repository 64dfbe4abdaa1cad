// Package formula turns a subset of TeX into MathML Core when the handbook is
// published, so that a page needs no script to show a formula. An unknown
// command is an error with its place. It may import the standard library only.
package formula

import (
	"html"
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
	display := ""
	if block {
		display = ` display="block"`
	}
	return `<math` + display + ` alttext="` + html.EscapeString(n.reading()) + `">` + n.xml() + `</math>`, nil
}

// Text is the formula as one line of plain text: "R = d/2 + g".
func Text(tex string) (string, error) {
	n, err := parse(tex)
	if err != nil {
		return "", err
	}
	return n.reading(), nil
}

// node is one piece of a formula.
type node struct {
	tag   string // mi, mn, mo, mtext, mrow, mfrac, msqrt, mroot, msub, msup, msubsup, munder, munderover, mover, mspace, mtable, mtr, mtd
	attr  string // constant attributes
	text  string // for leaves
	alt   string // plain text when it differs from text
	kids  []node
	limit bool // scripts stand above and below
	// a function's name wants space before its argument, a big operator (sum, integral) before its term
	function, big bool
}
