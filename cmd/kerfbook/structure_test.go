package main

import (
	"bytes"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/testdata/structure"
)

// structured holds every page of an edition against the rules of package structure:
// no identifier twice, no heading left out, one main around the article, the
// navigation first and saying where the reader is, links that lead past it.
func structured(t *testing.T, files site.Files) {
	t.Helper()
	looked := 0
	for name, data := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		looked++
		faults, err := structure.Faults(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults {
			t.Errorf("%s: %s", name, f)
		}
	}
	if looked < 100 {
		t.Errorf("only %d pages were looked at", looked)
	}
}

// TestStructureFinds: each fault planted in a page is found, and a page without
// them has none.
func TestStructureFinds(t *testing.T) {
	const sound = `<!doctype html><body><a class="skip" href="#sheet">To the text</a><nav class="bar" aria-label="Handbook"><a href="a.html" aria-current="page">Start</a></nav>
<main id="sheet" tabindex="-1"><article><h1>One</h1><h2 id="two">Two</h2><h3>Three</h3><h2>Four</h2></article></main>`
	for _, c := range []struct{ old, new, want string }{
		{"", "", ""},
		{`<h2>Four`, `<h2 id="two">Four`, `the identifier "two" stands twice`},
		{`<h2 id="two">Two</h2>`, ``, `<h3> "Three" follows <h1>`},
		{`<h1>One</h1>`, ``, `the first heading is <h2> "Two"`},
		{`<h2>Four</h2>`, `<h1>Four</h1>`, `a second <h1> "Four"`},
		{`<h2>Four</h2>`, `<h2> </h2>`, `an <h2> is empty`},
		{`main `, `div `, `0 main elements, want one`},
		{`<article>`, `</main><article>`, `the article "" stands outside main`},
		{` aria-current="page"`, ``, `0 links of the navigation say that they are where the reader is, want one`},
		{` tabindex="-1"`, ``, `the skip link "To the text" leads to no place that takes the focus`},
		{`href="#sheet"`, `href="#shete"`, `the skip link "To the text" leads to no place that takes the focus`},
		{`<a href="a.html" aria-current="page">Start</a>`, ``, `the skip link "To the text" leads past nothing`},
		{`<a class="skip" href="#sheet">To the text</a>`, ``, `the first thing to take the focus is no skip link`},
		{` aria-label="Handbook"`, ``, `a nav has no name of its own: ""`},
		{`<h2>Four`, `<p aria-labelledby="five"></p><h2>Four`, `aria-labelledby="five" on <p> names nothing`},
	} {
		if !strings.Contains(sound, c.old) {
			t.Fatalf("the page has no %s", c.old)
		}
		faults, err := structure.Faults(strings.NewReader(strings.Replace(sound, c.old, c.new, 1)))
		if got := strings.Join(faults, "; "); err != nil || c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: found %q, want %q (%v)", c.new, got, c.want, err)
		}
	}
}
