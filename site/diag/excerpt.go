package diag

import (
	"bytes"
	"slices"
	"strings"
)

const (
	longest = 160         // columns of a line that are shown
	most    = 4 * longest // characters looked at on either side; marks without width cost no column
	cut     = "…"
)

// excerpt returns the line that holds at, cut to a window around the span when it is long, and the row
// of marks that goes under it. Only the window is read, so the length of the line does not matter.
func excerpt(at cursor, end int) (line, mark string) {
	tail := at.text[at.head:]
	if i := bytes.IndexByte(tail, '\n'); i >= 0 {
		tail = bytes.TrimSuffix(tail[:i], []byte{'\r'})
	}
	point := min(at.at-at.head, len(tail))
	right, moreRight := gather(tail[point:], cellAt, func(text []byte, c cell) []byte { return text[c.size:] })
	left, moreLeft := gather(tail[:point], cellBefore, func(text []byte, c cell) []byte { return text[:len(text)-c.size] })

	spanned := 0 // cells of right that the span covers
	for passed := at.at; spanned < len(right) && passed < end; spanned++ {
		passed += right[spanned].size
	}
	if moreLeft || moreRight || columns(left)+columns(right) > longest {
		// The span stands in the middle, with at least an eighth of the window to its left; what one
		// side does not need the other one gets.
		before := max((longest-columns(right[:spanned]))/2, longest/8)
		if !moreRight {
			before = max(before, longest-columns(right))
		}
		before = min(before, columns(left))
		left = trim(left, before, moreLeft)
		right = trim(right, longest-before, moreRight)
		spanned = min(spanned, len(right))
	}
	slices.Reverse(left)
	return show(left) + show(right), marks(left, right[:spanned])
}

// gather reads characters until the window is more than full and tells whether some are left.
func gather(text []byte, read func([]byte) cell, rest func([]byte, cell) []byte) (cells []cell, more bool) {
	for width := 0; len(text) > 0; {
		if width > longest || len(cells) == most {
			return cells, true
		}
		c := read(text)
		cells, width, text = append(cells, c), width+c.width, rest(text, c)
	}
	return cells, false
}

// trim shortens cells to limit columns; where some are dropped, or more of them were never read, the
// last column is the sign for a cut.
func trim(cells []cell, limit int, more bool) []cell {
	if !more && columns(cells) <= limit {
		return cells
	}
	width := 1
	for i, c := range cells {
		if width += c.width; width > limit {
			cells = cells[:i]
			break
		}
	}
	return append(slices.Clip(cells), cell{shown: cut, width: 1})
}

func columns(cells []cell) int {
	n := 0
	for _, c := range cells {
		n += c.width
	}
	return n
}

func show(cells []cell) string {
	var b strings.Builder
	for _, c := range cells {
		b.WriteString(c.shown)
	}
	return b.String()
}

// marks draws the row under a line: tabs are repeated, so that the terminal sets both rows alike.
func marks(before, span []cell) string {
	var b strings.Builder
	for _, c := range before {
		if c.shown == "\t" {
			b.WriteByte('\t')
		} else {
			b.WriteString(strings.Repeat(" ", c.width))
		}
	}
	if columns(span) == 0 {
		return b.String() + "^"
	}
	for i, c := range span {
		if c.shown == "\t" && columns(span[i+1:]) > 0 {
			b.WriteByte('\t')
		} else {
			b.WriteString(strings.Repeat("~", c.width))
		}
	}
	return b.String()
}
