// Package border is the text spoken between a page and the calculators: UTF-8
// lines "name<TAB>value", the first line the verb. It may import the standard
// library's text packages, and for Desk: book, calc, panel and unit.
package border

import "strings"

// Pair is one line.
type Pair struct{ Name, Value string }

// Encode writes pairs as lines. A backslash, a tab and a line feed in a value
// are written \\, \t and \n; a name holds none of them.
func Encode(pairs []Pair) string {
	var s strings.Builder
	for _, p := range pairs {
		s.WriteString(escape(p.Name))
		s.WriteByte('\t')
		s.WriteString(escape(p.Value))
		s.WriteByte('\n')
	}
	return s.String()
}

// Decode reads lines back. A line without a tab has an empty value. Unknown
// escapes are kept as they stand, so that decoding never fails.
func Decode(text string) []Pair {
	var out []Pair
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if line == "" {
			continue
		}
		name, value, _ := strings.Cut(line, "\t")
		out = append(out, Pair{unescape(name), unescape(value)})
	}
	return out
}

func escape(s string) string {
	if !strings.ContainsAny(s, "\\\t\n") {
		return s
	}
	var out strings.Builder
	for i := range len(s) {
		switch s[i] {
		case '\\':
			out.WriteString("\\\\")
		case '\t':
			out.WriteString("\\t")
		case '\n':
			out.WriteString("\\n")
		default:
			out.WriteByte(s[i])
		}
	}
	return out.String()
}

func unescape(s string) string {
	if !strings.Contains(s, "\\") {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			switch s[i+1] {
			case '\\':
				out.WriteByte('\\')
				i++
				continue
			case 't':
				out.WriteByte('\t')
				i++
				continue
			case 'n':
				out.WriteByte('\n')
				i++
				continue
			}
		}
		out.WriteByte(s[i])
	}
	return out.String()
}
