package job

import "strings"

// cut is strings.Cut, kept short where it is used in a list.
func cut(s, sep string) (string, string, bool) { return strings.Cut(s, sep) }

// nearest is the advice "; did you mean x?" when a known word is near.
func nearest(word string, known []string) string {
	best, name := 3, ""
	for _, k := range known {
		if d := distance(word, k); d < best && d < len(k) {
			best, name = d, k
		}
	}
	if name == "" {
		return ""
	}
	return "; did you mean " + name + "?"
}

// distance counts the letters to change, leave out or put in.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		last := row[0]
		row[0] = i + 1
		for j := range len(b) {
			next := min(row[j+1], row[j]) + 1
			if a[i] == b[j] {
				next = min(next, last)
			} else {
				next = min(next, last+1)
			}
			last, row[j+1] = row[j+1], next
		}
	}
	return row[len(b)]
}
