package spell

// Nearest returns the name in among that was most likely meant by name. Distance is the number of
// letters put in, left out, changed, or swapped with their neighbour (F. J. Damerau, Communications of
// the ACM 7, 1964), upper and lower case of A to Z being equal. About one such slip in three letters is
// allowed, three at most; a name of one letter matches by case only. The result does not depend on
// the order of among.
func Nearest(name string, among []string) (string, bool) {
	const longest = 200 // nobody misspells a name of this length; the table of distances stays small
	want := small(name[:min(len(name), 4*longest+1)])
	if len(want) == 0 || len(want) > longest {
		return "", false
	}
	limit := min((len(want)+1)/3, 3)
	best, least := "", limit+1
	for _, other := range among {
		if len(other) > 4*longest {
			continue
		}
		have := small(other)
		if len(have) == 0 || len(have) > len(want)+limit || len(want) > len(have)+limit {
			continue
		}
		if d := distance(want, have); d < least || d == least && d <= limit && other < best {
			best, least = other, d
		}
	}
	return best, least <= limit
}

// Slips counts the slips between two words as Nearest does.
func Slips(a, b string) int { return distance(small(a), small(b)) }

// small are the letters of a name, A to Z made small. The library's way brings the case
// of every alphabet into the browser.
func small(s string) []rune {
	out := []rune(s)
	for i, r := range out {
		if r >= 'A' && r <= 'Z' {
			out[i] = r + 'a' - 'A'
		}
	}
	return out
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
