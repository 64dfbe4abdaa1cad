package spell

import (
	"cmp"
	"slices"
	"strings"
)

// Nearest returns the name in among that was most likely meant by name. Distance is the number of
// letters put in, left out, changed, or swapped with their neighbour (F. J. Damerau, Communications of
// the ACM 7, 1964), upper and lower case being equal. About one such slip in three letters is
// allowed, three at most; a name of one letter matches by case only. The result does not depend on
// the order of among.
func Nearest(name string, among []string) (string, bool) {
	const longest = 200 // nobody misspells a name of this length; the table of distances stays small
	want := []rune(strings.ToLower(name[:min(len(name), 4*longest+1)]))
	if len(want) == 0 || len(want) > longest {
		return "", false
	}
	limit := min((len(want)+1)/3, 3)

	type found struct {
		name     string
		distance int
	}
	var all []found
	for _, other := range among {
		if len(other) > 4*longest {
			continue
		}
		have := []rune(strings.ToLower(other))
		if len(have) == 0 || len(have) > len(want)+limit || len(want) > len(have)+limit {
			continue
		}
		if d := distance(want, have); d <= limit {
			all = append(all, found{other, d})
		}
	}
	if len(all) == 0 {
		return "", false
	}
	best := slices.MinFunc(all, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(a.name, b.name))
	})
	return best.name, true
}

// distance counts slips between two words; each letter takes part in one slip at most.
func distance(a, b []rune) int {
	before, above, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := above[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			row[j] = min(change, above[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, above, row = above, row, before
	}
	return above[len(b)]
}
