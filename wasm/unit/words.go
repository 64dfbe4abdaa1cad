package unit

import (
	"strconv"
	"strings"
)

// word is one piece of a quantity's text.
type word struct {
	text   string
	at     int
	unit   bool
	symbol symbol
	number bool
	value  float64 // of a number
}

// words splits the folded text into numbers, units and the marks between.
func (p *parser) words() []word {
	var out []word
	s := p.s
	for i := 0; i < len(s); {
		if n := numberLength(s[i:]); n > 0 && (i == 0 || !letter(s[:i])) {
			out = append(out, word{text: s[i : i+n], at: i, number: true})
			i += n
			continue
		}
		if n := p.unitLength(s[i:]); n > 0 {
			u, _ := p.kind.find(s[i : i+n])
			out = append(out, word{text: s[i : i+n], at: i, unit: true, symbol: u})
			i += n
			continue
		}
		n := 1
		if strings.HasPrefix(s[i:], "..") {
			n = len(s[i:]) - len(strings.TrimLeft(s[i:], "."))
			out = append(out, word{text: s[i : i+n], at: i})
			i += n
			continue
		}
		for i+n < len(s) && numberLength(s[i+n:]) == 0 && p.unitLength(s[i+n:]) == 0 && s[i+n] != ' ' && s[i] != ' ' && !strings.ContainsRune("()/+-±", rune(s[i])) && !strings.ContainsRune("()+±", rune(s[i+n])) {
			n++
		}
		out = append(out, word{text: s[i : i+n], at: i})
		i += n
	}
	return out
}

// letter reports whether the text so far ends in a letter, so that the 5 of N5
// is not a number by itself.
func letter(s string) bool {
	c := s[len(s)-1]
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

// unitLength is the length of the longest unit spelling at the start of s that
// is not the beginning of a longer word.
func (p *parser) unitLength(s string) int {
	best := 0
	for _, u := range p.units {
		for name, rest := u.symbol, u.also; name != ""; name, rest, _ = strings.Cut(rest, "|") {
			if len(name) <= best || !strings.HasPrefix(s, name) {
				continue
			}
			after := s[len(name):]
			if after != "" && letter(name) && (letter(after[:1]) || after[0] == '/' && !numeral(after[1:]) || strings.HasPrefix(after, "²") || strings.HasPrefix(after, "·") || after[0] == '^') {
				continue
			}
			best = len(name)
		}
	}
	return best
}

// numeral reports whether a number begins here: what stands before it is no part of a
// quotient of units.
func numeral(s string) bool { return numberLength(strings.TrimLeft(s, "+-")) > 0 }

// numberLength is the length of a number at the start of s: digits with points
// and commas, and an exponent.
func numberLength(s string) int {
	i, digits := 0, 0
	for i < len(s) && (isDigit(s[i]) || s[i] == '.' || s[i] == ',') {
		if s[i] == '.' && strings.HasPrefix(s[i:], "..") {
			break
		}
		if isDigit(s[i]) {
			digits++
		}
		i++
	}
	if digits == 0 {
		return 0
	}
	for i > 0 && s[i-1] == ',' { // a comma that ends the number is punctuation
		i--
	}
	if i+1 < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if s[j] == '-' || s[j] == '+' {
			j++
		}
		k := j
		for k < len(s) && isDigit(s[k]) {
			k++
		}
		if k > j {
			i = k
		}
	}
	return i
}

// value reads the digits of a number. A comma is a decimal comma, except where
// exactly three digits follow it and nothing settles it.
func (p *parser) value(w word) (float64, string, *Error) {
	t := w.text
	commas, points := strings.Count(t, ","), strings.Count(t, ".")
	switch {
	case commas == 1 && points == 0:
		whole, dec, _ := strings.Cut(t, ",")
		if len(dec) == 3 && whole != "0" && whole != "" && len(whole) <= 3 {
			return 0, "", p.fail(w.at, len(t), "“"+t+"” can mean "+whole+"."+dec+" or "+whole+dec)
		}
		t = whole + "." + dec
	case commas >= 1 && points <= 1 && (points == 0 || strings.LastIndex(t, ",") < strings.Index(t, ".")) && thousands(t, ",", "."):
		t = strings.ReplaceAll(t, ",", "")
	case commas == 1 && points >= 1 && strings.LastIndex(t, ".") < strings.Index(t, ",") && thousands(t, ".", ","):
		t = strings.Replace(strings.ReplaceAll(t, ".", ""), ",", ".", 1)
	case commas > 0 || points > 1:
		return 0, "", p.fail(w.at, len(t), "“"+t+"” is not one number")
	}
	if strings.HasSuffix(t, ".") {
		return 0, "", p.fail(w.at, len(t), "“"+t+"” ends in a point")
	}
	v, ok := number(t)
	if !ok {
		return 0, "", p.fail(w.at, len(t), "“"+t+"” is not a number that can be held")
	}
	return v, t, nil
}

// thousands checks that the groups between separators have three digits.
func thousands(t, sep, point string) bool {
	whole, _, _ := strings.Cut(t, point)
	groups := strings.Split(whole, sep)
	for i, g := range groups {
		if _, err := strconv.Atoi(g); err != nil || i > 0 && len(g) != 3 || i == 0 && len(g) > 3 {
			return false
		}
	}
	return true
}
