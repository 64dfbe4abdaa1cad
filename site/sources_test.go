package site

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"
)

// TestSources: a citation is a number in the text, one for the same work with the
// same place; the list at the foot says each once, leads back, and explains the
// mark of common practice; and in the one file the same holds for each sheet.
func TestSources(t *testing.T) {
	const text = `---
title: More
number: "011"
---
It grows [@work, page 1], and falls
[@work, page 2; place not seen].

- Again [@work, page 1] [@other] [@work, § 3; from memory].
- Shops do it [@practice], and again [@practice].

` + "```caution NOTICE\nMind it [@other].\n```\n"
	files, sink := content(), &locked{files: Files{}}
	files["bibliography.yaml"] = &fstest.MapFile{Data: []byte("works:\n  - key: work\n    kind: book\n    authors: A. Author\n    title: A <work>\n    year: \"1990\"\n    seen: seen\n  - key: other\n    kind: standard\n    title: Another\n    note: With a note.\n    seen: memory\n")}
	files["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte(text)}
	if _, err := Publish(context.Background(), trial(files), sink); err != nil {
		t.Fatal(err)
	}
	page := string(sink.files["how/more.html"])
	at := 0
	for _, want := range []string{
		`<div class="margin" aria-hidden="true"><p><b>1</b> A. Author 1990, <cite>A &lt;work&gt;</cite>, page 1. Seen.</p><p><b>2</b> A. Author 1990, page 2. Place not seen.</p></div>`,
		`It grows<sup class="src"><a id="cite-1" href="#source-1" aria-label="Source 1">[1]</a></sup>, and falls<sup class="src"><a id="cite-2" href="#source-2" aria-label="Source 2">[2]</a></sup>.</p>`,
		`<div class="margin" aria-hidden="true"><p><b>3</b> Another. From memory, place not seen.</p><p><b>4</b> A. Author 1990, § 3. From memory, place not seen.</p><p><b>†</b> Common practice: `,
		`Again<sup class="src"><a href="#source-1" aria-label="Source 1">[1]</a></sup><sup class="src"><a id="cite-3" href="#source-3" aria-label="Source 3">[3]</a></sup><sup class="src"><a id="cite-4" href="#source-4" aria-label="Source 4">[4]</a></sup>.`,
		`Shops do it<sup class="src"><a id="cite-practice" href="#source-practice" aria-label="Common practice">†</a></sup>, and again<sup class="src"><a href="#source-practice" aria-label="Common practice">†</a></sup>.`,
		`Mind it<sup class="src"><a href="#source-3" aria-label="Source 3">[3]</a></sup>.`,
		`<h2 class="after" id="sources">Sources on this sheet</h2>`,
		`<li id="source-1" tabindex="-1"><b>1</b> <a href="../bibliography.html#work">A. Author 1990</a>: A. Author, <cite>A &lt;work&gt;</cite>, 1990. Cited: page 1. <span class="seen">Seen.</span> <a class="back" href="#cite-1"`,
		`<li id="source-2" tabindex="-1"><b>2</b> <a href="../bibliography.html#work">A. Author 1990</a>, page 2; the work of number 1. <span class="seen">Place not seen.</span> <a class="back" href="#cite-2"`,
		`<li id="source-3" tabindex="-1"><b>3</b> <a href="../bibliography.html#other">Another</a>. With a note. <span class="seen">From memory, place not seen.</span> <a class="back" href="#cite-3"`,
		`<li id="source-practice" tabindex="-1"><b>†</b> Common practice: `,
	} {
		i := strings.Index(page[at:], want)
		if i < 0 {
			t.Fatalf("after %.60q the page lacks\n%s\n%s", page[at:], want, page[strings.Index(page, "<h1"):])
		}
		at += i
	}
	if strings.Contains(page, `<p class="also-rest">`) {
		t.Error("a work that the text cites is listed again")
	}
	one := string(whole(t, sink.files[oneFileName]))
	for _, want := range []string{`id="p-how-more.cite-1" href="#p-how-more.source-1"`, `<li id="p-how-more.source-1"`, `<li id="p-how.source-1"`} {
		if strings.Count(one, want) != 1 {
			t.Errorf("the one file has %s %d times", want, strings.Count(one, want))
		}
	}
	files["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte(strings.Replace(text, "[@practice]", "[@practice, page 3]", 1))}
	res, _ := Check(trial(files))
	if len(res.Messages) != 1 || !strings.Contains(res.Messages[0].Text, "common practice has no place: write [@practice]") {
		t.Errorf("common practice with a place: %v", res.Messages)
	}
}
