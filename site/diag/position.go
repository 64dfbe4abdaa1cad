package diag

import (
	"bytes"
	"unicode/utf8"
)

// Position returns the line and the column of a byte offset, both counted from 1. A column is one
// character (one code point; a tab counts 1, a byte that is no UTF-8 counts 1). An offset inside a
// character belongs to that character; one outside the text is taken as its nearest end. A byte
// order mark at the head of the text is not counted, as an editor does not show it.
func Position(text []byte, offset int) (line, col int) {
	c := newCursor(text)
	c.move(offset)
	return c.line, c.col
}

// cursor is a place in a text that moves forward cheaply: sorted messages of one file read the file
// once, however long its lines are.
type cursor struct {
	text      []byte
	at        int // byte offset
	head      int // offset of the first shown byte of the line
	line, col int
}

func newCursor(text []byte) cursor {
	c := cursor{text: text, line: 1, col: 1}
	if bytes.HasPrefix(text, []byte("\ufeff")) {
		c.at, c.head = 3, 3
	}
	return c
}

// move goes to offset, or to the head of the character that holds it, and returns
// how many bytes it went over.
func (c *cursor) move(offset int) int {
	offset = snap(c.text, min(max(offset, 0), len(c.text)))
	if offset < c.at {
		*c = newCursor(c.text)
		offset = max(offset, c.at)
	}
	passed := c.text[c.at:offset]
	if last := bytes.LastIndexByte(passed, '\n'); last >= 0 {
		c.line += bytes.Count(passed, []byte{'\n'})
		c.head = c.at + last + 1
		c.col = 1 + utf8.RuneCount(c.text[c.head:offset])
	} else {
		c.col += utf8.RuneCount(passed)
	}
	c.at = offset
	return len(passed)
}

// snap returns the head of the character that covers offset.
func snap(text []byte, offset int) int {
	if offset == len(text) {
		return offset
	}
	for back := 1; back < utf8.UTFMax && back <= offset; back++ {
		if _, size := utf8.DecodeRune(text[offset-back:]); size > back {
			return offset - back
		}
	}
	return offset
}
