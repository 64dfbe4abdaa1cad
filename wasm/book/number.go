//go:build !wasip1

package book

import "strings"

// decimal gives a number of a shop's table its point; want says what is wanted
// instead where the text cannot be taken. What is no number at all stays.
func (s *shopTable) decimal(text string) (out, want string) {
	points, commas := strings.Count(text, "."), strings.Count(text, ",")
	dotted := strings.Replace(text, ",", ".", 1)
	switch {
	case points+commas == 0 || strings.Trim(text, "0123456789+-.,eE") != "":
		return text, ""
	case points+commas > 1:
		if plain, ok := thousands(text); ok {
			return text, "without a thousands separator, such as " + plain
		}
		return text, ""
	case readsTwice(text) && (commas == 1 && (s.sep == ',' || s.point) || points == 1 && s.comma):
		return text, "that reads in one way, such as " + dotted + "0 or " + strings.Replace(dotted, ".", "", 1)
	case commas == 1 && s.sep == ',':
		return text, "with a point, such as " + dotted
	}
	return dotted, ""
}

// thousands reads 1.250,5 and 1,250.5 and 1,250,000: signs before groups of
// three digits, and perhaps another sign before the last digits.
func thousands(text string) (plain string, ok bool) {
	last := strings.LastIndexAny(text, ".,")
	group := text[strings.IndexAny(text, ".,")]
	whole, rest := text, ""
	if text[last] != group {
		whole, rest = text[:last], "."+text[last+1:]
	}
	parts := strings.Split(whole, string(group))
	for _, p := range parts[1:] {
		if len(p) != 3 || strings.Trim(p, "0123456789") != "" {
			return "", false
		}
	}
	return strings.Join(parts, "") + rest, true
}

// readsTwice reports whether a number may be meant in thousands: one to three
// digits that do not begin with 0, one sign, three digits.
func readsTwice(text string) bool {
	i := strings.IndexAny(text, ".,")
	if i < 0 || len(text)-i != 4 || strings.Trim(text[i+1:], "0123456789") != "" {
		return false
	}
	whole := strings.TrimLeft(text[:i], "+-")
	return len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0' && strings.Trim(whole, "0123456789") == ""
}
