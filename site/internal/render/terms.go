package render

import (
	"html"
	"strings"
	"unicode"
	"unicode/utf8"

	"kerfbook/site/internal/source"
)

// Terms are the glossary's terms, resolved once for all pages: their anchors, and
// every name of theirs by its first word.
type Terms struct {
	anchors []string
	byWord  map[string][]termName // the words that a name begins with, in lower case
	odd     []termName            // names that begin with no word
}

// termName is one name of a term in lower case.
type termName struct {
	text string
	term int // its place in the glossary
}

// NewTerms resolves the terms of a glossary.
func NewTerms(list []source.Term) *Terms {
	t := &Terms{byWord: map[string][]termName{}}
	for i, term := range list {
		t.anchors = append(t.anchors, TermAnchor(term.Term))
		for _, name := range append([]string{term.Term}, term.Also...) {
			lower := strings.ToLower(name)
			if lower == "" || len(lower) != len(name) {
				continue // nothing to look for, or nothing that could be cut out by its length
			}
			n := termName{lower, i}
			if word := lower[:wordEnd(lower)]; word != "" {
				t.byWord[word] = append(t.byWord[word], n)
			} else {
				t.odd = append(t.odd, n)
			}
		}
	}
	return t
}

// withTerms escapes running text and links each glossary term at its first use.
func (c *Context) withTerms(text string) string {
	lower := strings.ToLower(text)
	if len(lower) != len(text) || c.Terms == nil || c.Page.Address == "glossary.html" {
		return html.EscapeString(text) // letters whose lower case has another length: left alone
	}
	var s strings.Builder
	done := 0
	c.Terms.each(lower, func(start, end, term int) bool {
		anchor := c.Terms.anchors[term]
		if c.terms[anchor] {
			return false
		}
		c.terms[anchor] = true
		s.WriteString(html.EscapeString(text[done:start]))
		s.WriteString(`<a class="term" href="` + html.EscapeString(c.Href("glossary.html#"+anchor)) + `">` + html.EscapeString(text[start:end]) + "</a>")
		done = end
		return true
	})
	if done == 0 {
		return html.EscapeString(text)
	}
	s.WriteString(html.EscapeString(text[done:]))
	return s.String()
}

// Count counts how often each term is named in a text, by its place in the glossary.
func (t *Terms) Count(text string) map[int]int {
	out := map[int]int{}
	t.each(strings.ToLower(text), func(_, _, term int) bool {
		out[term]++
		return true
	})
	return out
}

// each goes through a text in lower case once, word by word, and offers the names
// that stand there as whole words: the longest first, of two as long the one whose
// term stands first. What was taken is not looked into again.
func (t *Terms) each(lower string, take func(start, end, term int) bool) {
	var here []termName // the names that stand at one place
	afterWord := false  // a word ends at this place
	for at := 0; at < len(lower); {
		n := wordEnd(lower[at:])
		word := n > 0
		here = here[:0]
		switch {
		case word:
			here = standing(here, t.byWord[lower[at:at+n]], lower[at:])
		case !afterWord:
			here = standing(here, t.odd, lower[at:])
		}
		if !word {
			_, n = utf8.DecodeRuneInString(lower[at:])
		}
		afterWord = word
		for len(here) > 0 {
			best := 0
			for i, name := range here {
				if b := here[best]; len(name.text) > len(b.text) || len(name.text) == len(b.text) && name.term < b.term {
					best = i
				}
			}
			if take(at, at+len(here[best].text), here[best].term) {
				n, afterWord = len(here[best].text), false
				break
			}
			here[best] = here[len(here)-1]
			here = here[:len(here)-1]
		}
		at += n
	}
}

// standing adds the names that text begins with and that end where a word ends.
func standing(here, names []termName, text string) []termName {
	for _, name := range names {
		if !strings.HasPrefix(text, name.text) {
			continue
		}
		if after, _ := utf8.DecodeRuneInString(text[len(name.text):]); !joins(after) {
			here = append(here, name)
		}
	}
	return here
}

// wordEnd is how long the word is that a text begins with, 0 when it begins with none.
func wordEnd(text string) int {
	for i, r := range text {
		if !joins(r) {
			return i
		}
	}
	return len(text)
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
