// Package spell helps a message to name things: the name that was perhaps meant,
// a word between quotation marks, a long text cut short, a number with what is
// counted. It may import the standard library's text packages only.
package spell

import "strconv"

// Quote puts a text between the quotation marks of prose.
func Quote(s string) string { return "“" + s + "”" }

// Straight puts a text between the quotation marks of a keyboard.
func Straight(s string) string { return "\"" + s + "\"" }

// Short returns a text of at most n letters; one that is longer is cut there and
// ends in an ellipsis.
func Short(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i] + "…"
		}
		n--
	}
	return s
}

// Count is a number with what is counted: "1 pass", "3 passes", "2 pages".
func Count(n int, noun string) string {
	text := strconv.Itoa(n) + " " + noun
	switch {
	case n == 1:
		return text
	case noun != "" && noun[len(noun)-1] == 's':
		return text + "es"
	}
	return text + "s"
}
