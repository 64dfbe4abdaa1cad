package calc

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// wordLimit is how many characters a short name has at most: it must fit a
// column of a list and a label on a box.
const wordLimit = 40

// wordFault says what keeps a text from being a short name, and where in it, in
// bytes; "" when nothing does. Quotation marks, commas and signs that a
// spreadsheet takes for a formula stay out, so that the name is the same in a
// link, in a list and on paper.
func wordFault(label, text string) (say string, at, length int) {
	if n := utf8.RuneCountInString(text); n > wordLimit {
		return label + " has at most " + strconv.Itoa(wordLimit) + " characters, this has " + strconv.Itoa(n), 0, len(text)
	}
	for i, c := range text {
		if !wordRune(c) {
			sign := string(c)
			if c < ' ' || c == 0x7f || c == utf8.RuneError {
				sign = "a sign that cannot be seen"
			} else {
				sign = quote(sign)
			}
			return label + " takes letters, digits, space and - . / _ #; this has " + sign, i, max(1, utf8.RuneLen(c))
		}
	}
	return "", 0, 0
}

// wordRune reports whether a short name may hold c: plain letters, those with
// accents of the Latin script, digits, and a few signs. The library's tables of
// all letters are too large for the browser.
func wordRune(c rune) bool {
	switch {
	case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9':
		return true
	case c >= 0xc0 && c <= 0x24f:
		return c != 0xd7 && c != 0xf7 // the signs of times and divided by
	}
	return c < 0x80 && strings.ContainsRune(" -./_#", c)
}

// lineLimit is how many characters a line of words may have.
const lineLimit = 60

// lineFault says what keeps a text from being one line of words.
func lineFault(label, text string) (say string, at, length int) {
	for i, c := range text {
		if c < ' ' || c >= 0x7f && c < 0xa0 || c == '\u2028' || c == '\u2029' || c == utf8.RuneError {
			return label + " is one line of printable text", i, 1
		}
	}
	if n := utf8.RuneCountInString(text); n > lineLimit {
		return label + " has at most " + strconv.Itoa(lineLimit) + " characters, this has " + strconv.Itoa(n), 0, len(text)
	}
	return "", 0, 0
}

func (e *evaluation) readWord(d *bound, text string, st State) State {
	st.Text, st.Given = text, text != ""
	if text == "" && !d.Optional {
		st.Problem = "a name is wanted here, for example " + d.Default
		return st
	}
	fault := wordFault
	if d.free {
		fault = lineFault
	}
	if st.Problem, st.At, st.Len = fault(d.Label, text); st.Problem == "" {
		d.setText(text)
	}
	return st
}
