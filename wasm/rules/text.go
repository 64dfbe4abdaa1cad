package rules

import "strings"

// Fill puts what word gives for each name in braces into a text. A piece between
// square brackets is left out when one of its names is not known.
func Fill(text string, word func(inner string) (string, bool)) string {
	out, _ := piece(text, word)
	return out
}

func piece(text string, word func(inner string) (string, bool)) (string, bool) {
	var out strings.Builder
	whole := true
	for text != "" {
		i := strings.IndexAny(text, "{[")
		if i < 0 {
			out.WriteString(text)
			break
		}
		out.WriteString(text[:i])
		if text[i] == '[' {
			inner, rest, _ := strings.Cut(text[i+1:], "]")
			if t, ok := piece(inner, word); ok {
				out.WriteString(t)
			}
			text = rest
			continue
		}
		inner, rest, _ := strings.Cut(text[i+1:], "}")
		t, ok := word(inner)
		whole = whole && ok
		out.WriteString(t)
		text = rest
	}
	return out.String(), whole
}

// named are the names in braces of a text, without what stands after a colon.
func named(text string) []string {
	var out []string
	for {
		_, rest, found := strings.Cut(text, "{")
		if !found {
			return out
		}
		var inner string
		inner, text, _ = strings.Cut(rest, "}")
		name, _, _ := strings.Cut(inner, ":")
		out = append(out, name)
	}
}
