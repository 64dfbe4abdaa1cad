package book

import "strings"

// Lacks says that the table has no column of a name, and which was perhaps meant;
// "" when it has it.
func (t *Table) Lacks(column string) string {
	if t.Column(column) {
		return ""
	}
	return "the table " + quote(t.Name) + " has no column " + quote(column) + meant(column, t.Columns)
}

// meant asks whether the nearest of the names was meant; "" when none is near.
// About one slip in three letters is allowed, three at most.
func meant(name string, among []string) string {
	name = name[:min(len(name), 200)]
	best, limit := "", min((len(name)+1)/3, 3)
	for _, other := range among {
		if d := slips(strings.ToLower(name), strings.ToLower(other)); d <= limit && (best == "" || d < limit) {
			best, limit = other, d
		}
	}
	if best == "" {
		return ""
	}
	return ", did you mean " + quote(best) + "?"
}

// slips counts the letters put in, left out or changed between two words.
func slips(a, b string) int {
	above, row := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := range len(a) {
		row[0] = i + 1
		for j := range len(b) {
			change := above[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, above[j+1]+1, row[j]+1)
		}
		above, row = row, above
	}
	return above[len(b)]
}
