package diag

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// cell is one character as it is shown.
type cell struct {
	shown string
	width int // columns on a terminal; a tab counts 1 and is aligned by repeating it
	size  int // bytes in the text
}

// cellAt reads the character at the head of text, which is not empty.
func cellAt(text []byte) cell {
	r, size := utf8.DecodeRune(text)
	if r == utf8.RuneError && size <= 1 {
		return cell{fmt.Sprintf(`\x%02x`, text[0]), 4, 1}
	}
	if r == '\t' {
		return cell{"\t", 1, 1}
	}
	if !harmless(r) {
		shown := escape(r)
		return cell{shown, len(shown), size}
	}
	return cell{string(r), width(r), size}
}

// cellBefore reads the last character of text, which is not empty.
func cellBefore(text []byte) cell {
	_, size := utf8.DecodeLastRune(text)
	return cellAt(text[len(text)-size:])
}

// The two joiners are format characters too, but only change how their neighbours are drawn.
const (
	zeroWidthNonJoiner = '\u200c'
	zeroWidthJoiner    = '\u200d'
)

// harmless reports whether r may reach a terminal. Control characters can drive it, direction
// controls can make a line read as another one (Unicode Technical Report 36), and what has no shape
// cannot be seen: all of those are written out.
func harmless(r rune) bool {
	return unicode.IsGraphic(r) || r == zeroWidthJoiner || r == zeroWidthNonJoiner
}

func escape(r rune) string {
	switch {
	case r < 0x80:
		return fmt.Sprintf(`\x%02x`, r)
	case r <= 0xffff:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// visible returns s with everything written out that must not reach a terminal.
func visible(s string) string {
	var b strings.Builder
	for text := []byte(s); len(text) > 0; {
		c := cellAt(text)
		if c.shown == "\t" {
			c.shown = `\t`
		}
		b.WriteString(c.shown)
		text = text[c.size:]
	}
	return b.String()
}

// width returns the columns that a terminal gives to a harmless character.
func width(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case r == zeroWidthJoiner, r == zeroWidthNonJoiner, unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case wide(r):
		return 2
	}
	return 1
}
