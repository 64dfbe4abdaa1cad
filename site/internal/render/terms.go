package render

import (
	"html"
	"strings"
	"unicode"
	"unicode/utf8"
)

// withTerms escapes running text and links each glossary term at its first use.
func (c *Context) withTerms(text string) string {
	var s strings.Builder
	for len(text) > 0 {
		start, end, anchor := c.firstTerm(text)
		if end == 0 {
			break
		}
		s.WriteString(html.EscapeString(text[:start]))
		s.WriteString(`<a class="term" href="` + html.EscapeString(c.Href("glossary.html#"+anchor)) + `">` + html.EscapeString(text[start:end]) + "</a>")
		c.terms[anchor] = true
		text = text[end:]
	}
	s.WriteString(html.EscapeString(text))
	return s.String()
}

// firstTerm finds the earliest, and of those the longest, term not yet linked.
func (c *Context) firstTerm(text string) (start, end int, anchor string) {
	best := len(text)
	lower := strings.ToLower(text)
	if len(lower) != len(text) {
		return 0, 0, "" // letters whose lower case has another length: left alone
	}
	for _, t := range c.Site.Content.Terms {
		a := TermAnchor(t.Term)
		if c.terms[a] || c.Page.Address == "glossary.html" {
			continue
		}
		for _, name := range append([]string{t.Term}, t.Also...) {
			at := wordIndex(lower, strings.ToLower(name))
			if at < 0 || at > best || at == best && len(name) <= end-start {
				continue
			}
			best, start, end, anchor = at, at, at+len(name), a
		}
	}
	return start, end, anchor
}

// wordIndex is strings.Index for whole words.
func wordIndex(text, word string) int {
	from := 0
	for {
		i := strings.Index(text[from:], word)
		if i < 0 || word == "" {
			return -1
		}
		at := from + i
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[at+len(word):])
		if !joins(before) && !joins(after) {
			return at
		}
		from = at + len(word)
	}
}

func joins(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' }

// TermAnchor is the anchor of a term on the glossary's page.
func TermAnchor(term string) string {
	var s strings.Builder
	for _, r := range strings.ToLower(term) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			s.WriteRune(r)
		} else if !strings.HasSuffix(s.String(), "-") {
			s.WriteByte('-')
		}
	}
	return "t-" + strings.Trim(s.String(), "-")
}
