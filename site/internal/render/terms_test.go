package render

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"kerfbook/site/internal/check"
	"kerfbook/site/internal/source"
	"kerfbook/testdata/sweep"
)

// slowTerms links terms as the rule reads: for each place the earliest name of a
// term not yet linked, whole words only, the longest where several begin, the
// glossary's first where several are as long.
func slowTerms(list []source.Term, text string) string {
	whole := func(text string, at, n int) bool {
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[at+n:])
		return !joins(before) && !joins(after)
	}
	linked := map[string]bool{}
	var out strings.Builder
	for text != "" {
		lower := strings.ToLower(text)
		start, end, anchor := len(text), 0, ""
		for _, t := range list {
			for _, name := range append([]string{t.Term}, t.Also...) {
				name = strings.ToLower(name)
				if name == "" || linked[TermAnchor(t.Term)] {
					continue
				}
				for at := range len(lower) {
					if strings.HasPrefix(lower[at:], name) && whole(lower, at, len(name)) {
						if at < start || at == start && len(name) > end-start {
							start, end, anchor = at, at+len(name), TermAnchor(t.Term)
						}
						break
					}
				}
			}
		}
		if anchor == "" {
			break
		}
		linked[anchor] = true
		out.WriteString(text[:start] + "[" + anchor + ":" + text[start:end] + "]")
		text = text[end:]
	}
	return out.String() + text
}

// TestTerms: one pass over a text links the same terms as the rule read word by word.
func TestTerms(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 9))
	words := []string{"wire", "Wire", "gap", "spark", "re-cast", "recast", "layer", "Ra", "µm", "é", "½", "a", "b"}
	between := []string{" ", "-", ", ", "\n", " – ", "", "."}
	draw := func(n int) string {
		var s strings.Builder
		for i := range n {
			if i > 0 {
				s.WriteString(between[rng.IntN(len(between))])
			}
			s.WriteString(words[rng.IntN(len(words))])
		}
		return s.String()
	}
	found := 0
	for seed := range sweep.Part(50_000) {
		rng = rand.New(rand.NewPCG(uint64(seed), 9))
		var list []source.Term
		for range 1 + rng.IntN(5) {
			list = append(list, source.Term{Term: draw(1 + rng.IntN(2)), Also: []string{draw(1 + rng.IntN(3))}})
		}
		text := draw(1 + rng.IntN(14))
		c := &Context{Page: &check.Page{Page: &source.Page{Address: "a.html"}}, Terms: NewTerms(list), terms: map[string]bool{}}
		body, err := NewBody(c.withTerms(text))
		if err != nil {
			t.Fatal(err)
		}
		got := body.Set(Place{Href: func(address string) string { return address }})
		got = strings.NewReplacer(`<a class="term" href="glossary.html#`, "[", `">`, ":", "</a>", "]").Replace(got)
		want := slowTerms(list, text)
		if got != want {
			t.Fatalf("seed %d: terms %q in %q\n got %q\nwant %q", seed, list, text, got, want)
		}
		found += strings.Count(got, "[")
	}
	if found < sweep.Part(50_000)/2 {
		t.Errorf("only %d terms were linked", found)
	}
}

// TestMarks: a body set in two places, with a choice inside a choice, and marks that
// do not fit together.
func TestMarks(t *testing.T) {
	c := &Context{}
	text := "<h2 id=\"" + c.Prefix() + "a\">" + either("<a href=\""+c.Href("x/y.html#b&amp;c")+"\">own</a>"+either("1", "2"), "one "+c.Prefix()) + "é"
	body, err := NewBody(text)
	if err != nil {
		t.Fatal(err)
	}
	href := func(address string) string { return "../" + address }
	for _, c := range []struct {
		place Place
		want  string
	}{
		{Place{Href: href}, `<h2 id="a"><a href="../x/y.html#b&amp;c">own</a>1é`},
		{Place{Href: href, Prefix: "p-x.", One: true}, `<h2 id="p-x.a">one p-x.é`},
	} {
		if got := body.Set(c.place); got != c.want {
			t.Errorf("set as %q, want %q", got, c.want)
		}
	}
	for _, bad := range []string{"\xf8x", "\xfa1", "\xfa1\xfb2", "1\xfb", "1\xfc2"} {
		if _, err := NewBody(bad); err == nil {
			t.Errorf("%q is taken for a body", bad)
		}
	}
}

// BenchmarkTerms: a page's text against a glossary of 200 terms.
func BenchmarkTerms(b *testing.B) {
	var list []source.Term
	for i := range 200 {
		list = append(list, source.Term{Term: fmt.Sprintf("term %d", i), Also: []string{fmt.Sprintf("word-%d", i)}})
	}
	text := strings.Repeat("The wire leaves term 7 and word-190 behind, and nothing else. ", 40)
	terms := NewTerms(list)
	for b.Loop() {
		c := &Context{Page: &check.Page{Page: &source.Page{Address: "a.html"}}, Terms: terms, terms: map[string]bool{}}
		_ = c.withTerms(text)
	}
}
