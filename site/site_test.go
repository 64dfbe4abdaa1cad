package site

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"errors"
	"flag"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"kerfbook/site/diag"
	"kerfbook/site/record"
	"kerfbook/testdata/spent"
	"kerfbook/testdata/structure"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// update rewrites the expected messages; it never touches a number, because
// the invented calculators' numbers stand in this file.
func update() bool {
	return flag.Lookup("update") != nil && flag.Lookup("update").Value.String() == "true"
}

func TestMain(m *testing.M) {
	flag.Bool("update", false, "rewrite the expected messages")
	flag.Parse()
	os.Exit(m.Run())
}

// double and half are two invented calculators: the generator knows no real one.
func double(*book.Book) *calc.Calculator {
	return invented("double", "How much is twice this?", func(v unit.Length) unit.Length { return 2 * v })
}

func half(*book.Book) *calc.Calculator {
	return invented("half", "How much is half of this?", func(v unit.Length) unit.Length { return v / 2 })
}

func invented(id, question string, f func(unit.Length) unit.Length) *calc.Calculator {
	return &calc.Calculator{ID: id, Title: id, Question: question, Summary: "An invented calculator.", Tables: []string{"sizes"}, Build: func(form *calc.Form, b *book.Book) calc.Run {
		var in, out unit.Length
		calc.Ask(form, &in, "size: Size\nis 1 mm\nkeys mm thou\nranges\nmax 100 mm: the bench ends there")
		calc.Tell(form, &out, "result: Result\nrises size")
		return calc.Run{
			Point: func(p *calc.Point) {
				out = f(in)
				p.Step(calc.Step{For: "result", Name: "result", Formula: "f(size)", Put: calc.Put(in, "mm", 4), Equals: calc.Put(out, "mm", 4)})
			},
			Say: func(r *calc.Result, a *calc.Answer) {
				a.Headline = calc.SayRange(unit.LengthKind, r.Of("result"), r.System)
				a.Cite("work", "page 1", "doubling")
				a.Used(b.Table("sizes").Rows...)
				a.Figure = figure.New("A line", "A line of the size.", 100, 40, false)
				a.Figure.Line(figure.Outline, 0, 20, 100, 20)
			},
		}
	}}
}

func twoCalculators(b *book.Book) (*calc.Set, error) { return calc.NewSet(b, double(b), half(b)) }

const goodPage = `---
title: How much?
number: "010"
description: A page.
---
The short answer stands here.

## Why

` + "```worked double\nid: two\nsize = 2 mm\nresult ≈ 4 mm\n```" + `

The result is ` + "`=two.result`" + ` [@work, page 1]. See [the first page](../../first.md) and [here](#why), or [the calculator](calculator:half?size=3%20mm).

` + "```formula\nr = \\frac{d}{2}\n```\n\n```calculator half\n```\n\n```caution NOTICE\nThe manual *wins*.\n```\n\n```nc\nN10 G01 X1.\n```\n\n```figure double\nsize = 3 mm\ncaption: Three.\n```" + `

| a | b |
|---|--:|
| 1 | 2 |
`

func content() fstest.MapFS {
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	return fstest.MapFS{
		"edition.yaml":               file("title: Trial\nowner: Nobody\ndocument: Trial\nscheme: T-\nrevision: A\ndate: \"2026-01-01\"\nlanguage: en\ncreator: me\napproval: none\n"),
		"bibliography.yaml":          file("works:\n  - key: work\n    kind: book\n    title: A work\n    seen: memory\n"),
		"glossary.yaml":              file("terms:\n  - term: \"short answer\"\n    text: \"One paragraph.\"\n"),
		"data/sizes.csv":             file("# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,1,work,page 1,cited\n"),
		"first.md":                   file("---\ntitle: First\nnumber: \"001\"\n---\nStart here: [on](handbook/10-how/index.md#why).\n"),
		"handbook/10-how/index.md":   file(goodPage),
		"handbook/10-how/20-more.md": file("---\ntitle: More\nnumber: \"011\"\naliases: [old/more.html]\n---\nMore of it.\n"),
	}
}

func trial(c fstest.MapFS) Options {
	return Options{Content: c, Calculators: twoCalculators, Wasm: []byte("wasm"), Toolchain: "go0", OneFile: true}
}

// TestPublish makes an edition of invented content: every page parses, every
// link and anchor leads somewhere, ids stand once, nothing is inline, and the
// same input gives the same bytes.
func TestPublish(t *testing.T) {
	files, again := &locked{files: Files{}}, &locked{files: Files{}}
	for _, sink := range []*locked{files, again} {
		if _, err := Publish(context.Background(), trial(content()), sink); err != nil {
			t.Fatal(err)
		}
	}
	for name, data := range files.files {
		if !bytes.Equal(data, again.files[name]) {
			t.Errorf("%s differs from one publication to the next", name)
		}
	}
	if files.last != "edition.json" || !bytes.HasPrefix(files.files["edition.json"], []byte(`{"kerfbook":`)) {
		t.Errorf("the record is not written last, or has no mark: %s", files.last)
	}
	for _, name := range []string{"index.html", "how/index.html", "how/more.html", "old/more.html", "calculators/double.html", "contents.html", "find.html", "glossary.html", "bibliography.html", oneFileName} {
		if files.files[name] == nil {
			t.Errorf("%s is missing", name)
		}
	}
	files.files[oneFileName] = whole(t, files.files[oneFileName])
	crawl(t, files.files)
	structured(t, files.files)
	for _, want := range []string{`<h2 id="letter-s">S</h2>`, `<dt id="t-short-answer">short answer</dt><dd>One paragraph. <span class="taught">Explained in <a href="how/index.html">1 How much?</a></span></dd>`} {
		if !strings.Contains(string(files.files["glossary.html"]), want) {
			t.Errorf("the glossary lacks %s\n%s", want, files.files["glossary.html"])
		}
	}
	page := string(files.files["how/index.html"])
	for _, want := range []string{`<p class="short">The <a class="term" href="../glossary.html#t-short-answer">short answer</a> stands here.</p>`,
		`The result is <span class="result">4 mm</span><sup class="src"><a id="cite-1" href="#source-1" aria-label="Source 1">[1]</a></sup>.`,
		`<a href="../index.html">the first page</a>`, `<a href="#why">here</a>`, `<a href="../calculators/half.html#half?size=3%20mm">the calculator</a>`,
		`<aside class="caution caution-notice"><p class="caution-word">NOTICE</p>`, `<span class="w-x">X1.</span>`, `<figcaption>Three.</figcaption>`, `<td align="right">2</td>`, `alttext="r = d/2"`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

// structured holds every page against the rules of package structure.
func structured(t *testing.T, files Files) {
	t.Helper()
	for name, data := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		faults, err := structure.Faults(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults {
			t.Errorf("%s: %s", name, f)
		}
	}
}

// locked is a sink that remembers what came last.
type locked struct {
	mu    chan struct{}
	files Files
	last  string
}

func (l *locked) Put(name string, data []byte) error {
	if l.mu == nil {
		l.mu = make(chan struct{}, 1)
	}
	l.mu <- struct{}{}
	defer func() { <-l.mu }()
	l.last = name
	return l.files.Put(name, data)
}

// crawl parses every page and follows every link inside the edition.
func crawl(t *testing.T, files Files) {
	t.Helper()
	ids := map[string]map[string]bool{}
	links := map[string][]string{}
	for name, data := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		doc, err := html.Parse(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		ids[name] = map[string]bool{}
		for n := range doc.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			for _, a := range n.Attr {
				switch {
				case a.Key == "id" && ids[name][a.Val]:
					t.Errorf("%s: the id %s stands twice", name, a.Val)
				case a.Key == "id":
					ids[name][a.Val] = true
				case a.Key == "style" || strings.HasPrefix(a.Key, "on"):
					t.Errorf("%s: <%s %s>", name, n.Data, a.Key)
				case a.Key == "href" && n.Data == "a", a.Key == "src" && !strings.HasPrefix(a.Val, "data:image/svg+xml;base64,"), a.Key == "href" && n.Data == "link" && a.Val != "data:,":
					links[name] = append(links[name], a.Val)
				}
			}
			if (n.Data == "script" || n.Data == "style") && n.FirstChild != nil && name != oneFileName {
				t.Errorf("%s: <%s> in the page itself", name, n.Data)
			}
		}
	}
	for name, list := range links {
		for _, l := range list {
			file, anchor, _ := strings.Cut(l, "#")
			anchor, _, _ = strings.Cut(anchor, "?")
			target := name
			if file != "" {
				target = join(name, file)
			}
			if files[target] == nil {
				t.Errorf("%s links to %s, which is not there", name, l)
			} else if anchor != "" && strings.HasSuffix(target, ".html") && !ids[target][anchor] {
				t.Errorf("%s links to %s, which has no such place", name, l)
			}
		}
	}
}

func join(from, to string) string {
	parts := strings.Split(from, "/")
	parts = parts[:len(parts)-1]
	for _, p := range strings.Split(to, "/") {
		if p == ".." && len(parts) > 0 {
			parts = parts[:len(parts)-1]
		} else {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, "/")
}

// TestBadContent: each mistake gets its message with line and caret, nothing is
// handed to the sink. The whole text that a person sees stands in
// testdata/bad.txt.
func TestBadContent(t *testing.T) {
	const page = "handbook/10-how/index.md"
	swap := func(old, new string) func(fstest.MapFS) {
		return func(c fstest.MapFS) {
			if !strings.Contains(goodPage, old) {
				panic("the page has no " + old)
			}
			c[page] = &fstest.MapFile{Data: []byte(strings.Replace(goodPage, old, new, 1))}
		}
	}
	file := func(name, text string) func(fstest.MapFS) {
		return func(c fstest.MapFS) { c[name] = &fstest.MapFile{Data: []byte(text)} }
	}
	cases := map[string]func(fstest.MapFS){
		"unknown key in the front matter": swap("description: A page.", "descripton: A page."),
		"no front matter":                 file(page, "No front matter.\n"),
		"open front matter":               file(page, "---\ntitle: x\n"),
		"unknown calculator":              swap("```calculator half", "```calculator haf"),
		"unknown block":                   swap("```worked double", "```workd double"),
		"unknown picture":                 swap("```worked double", "```picture wey\n```\n\n```worked double"),
		"a picture with an input":         swap("```worked double", "```picture way\nwire = 1 mm\n```\n\n```worked double"),
		"misspelt input":                  swap("size = 2 mm", "siez = 2 mm"),
		"input without unit":              swap("size = 2 mm", "size = 2"),
		"input beyond its limit":          swap("size = 2 mm", "size = 200 mm"),
		"wrong number":                    swap("result ≈ 4 mm", "result ≈ 4.2 mm"),
		"unknown answer":                  swap("result ≈ 4 mm", "reslt ≈ 4 mm"),
		"a line that is neither":          swap("size = 2 mm", "size 2 mm"),
		"unknown result in the text":      swap("=two.result", "=tow.result"),
		"unknown answer in the text":      swap("=two.result", "=two.rest"),
		"broken link":                     swap("../../first.md", "../../frst.md"),
		"broken anchor":                   swap("(#why)", "(#wy)"),
		"link out":                        swap("../../first.md", "https://example.org/"),
		"link to an unknown calculator":   swap("calculator:half?size=3%20mm", "calculator:halb"),
		"link with a bad value":           swap("size=3%20mm", "size=three"),
		"unknown citation":                swap("[@work, page 1]", "[@wrok, page 1]"),
		"unclosed formula":                swap(`\frac{d}{2}`, `\frac{d}{2`),
		"unknown command in a formula":    swap(`\frac`, `\frca`),
		"unknown signal word":             swap("caution NOTICE", "caution Notice"),
		"bad word in a program":           swap("X1.", "x1."),
		"HTML in a page":                  swap("The manual *wins*.", "The <b>manual</b>."),
		"no short answer":                 swap("The short answer stands here.", "## At once a heading"),
		"two headings alike":              swap("| a | b |", "## Why\n\n| a | b |"),
		"a title in the text":             swap("## Why", "# Why"),
		"invalid UTF-8":                   file(page, strings.Replace(goodPage, "stands", "st\xffnds", 1)),
		"a picture":                       swap("[here](#why)", "![here](x.png)"),
		"a line of ten megabytes":         file(page, "---\ntitle: x\nnumber: \"1\"\n---\n"+strings.Repeat("x", 10<<20)+"\n"),
		"a long line with a mistake":      file(page, "---\ntitle: x\nnumber: \"9\"\n---\n"+strings.Repeat("word ", 400000)+"[@nobody]\n"),
		"a row without its number":        file("data/sizes.csv", "# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,ten,work,page 1,cited\n"),
		"a row too short":                 file("data/sizes.csv", "# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,1,work\n"),
		"a row with an unknown source":    file("data/sizes.csv", "# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,1,nobody,page 1,cited\n"),
		"a table that is missing":         func(c fstest.MapFS) { delete(c, "data/sizes.csv") },
		"two pages with one number":       file("handbook/10-how/20-more.md", "---\ntitle: More\nnumber: \"010\"\n---\nMore of it.\n"),
		"a file that is no chapter":       file("handbook/notes.md", "x"),
		"unknown key in the bibliography": file("bibliography.yaml", "works:\n  - key: work\n    title: A work\n    seen: memory\n    yaer: \"1990\"\n"),
	}
	var names []string
	for name := range cases {
		names = append(names, name)
	}
	slices.Sort(names)
	var all strings.Builder
	for _, name := range names {
		c := content()
		cases[name](c)
		files := Files{}
		var res *Result
		var err error
		n := spent.Bytes(func() { res, err = Publish(context.Background(), trial(c), files) })
		if n > mostSpent {
			t.Errorf("%s: %d MB were allocated for it, %d are the bound", name, n>>20, mostSpent>>20)
		}
		if !errors.Is(err, ErrContent) {
			t.Errorf("%s: published (%v)", name, err)
			continue
		}
		if len(files) != 0 {
			t.Errorf("%s: %d files were handed over", name, len(files))
		}
		all.WriteString("-- " + name + ": " + ids(t, res.Messages) + " --\n")
		if err := diag.Render(&all, res.Messages, res.Texts, res.Pages); err != nil {
			t.Fatal(err)
		}
	}
	const golden = "testdata/bad.txt"
	if update() {
		if err := os.WriteFile(golden, []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if all.String() != string(want) {
		got, exp := strings.Split(all.String(), "\n"), strings.Split(string(want), "\n")
		for i := range got {
			if i >= len(exp) || got[i] != exp[i] {
				t.Fatalf("line %d of the messages is\n%s\nwant\n%s", i+1, got[i], exp[min(i, len(exp)-1)])
			}
		}
		t.Fatal("messages are missing at the end")
	}
}

// ids lists the names of messages, each once, in the order in which they are shown.
func ids(t *testing.T, list []diag.Message) string {
	t.Helper()
	var out []string
	for _, m := range list {
		if m.ID == "" {
			t.Errorf("a message without a name: %s", m.Text)
		}
		if !slices.Contains(out, string(m.ID)) {
			out = append(out, string(m.ID))
		}
	}
	return strings.Join(out, ", ")
}

// TestPlantedRow: a changed row changes exactly the recorded answers that name it.
func TestPlantedRow(t *testing.T) {
	c := content()
	before := edition(t, c)
	c["data/sizes.csv"] = &fstest.MapFile{Data: []byte("# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,2,work,page 1,cited\n")}
	after := edition(t, c)
	if before.Rows[0].Digest == after.Rows[0].Digest || before.Digest == after.Digest || before.Book == after.Book {
		t.Error("a changed row left the digests as they were")
	}
	for i, a := range before.Answers {
		if !slices.Equal(a.Rows, []string{"sizes one"}) || a.ID != after.Answers[i].ID {
			t.Errorf("answer %s names %v", a.ID, a.Rows)
		}
	}
}

func edition(t *testing.T, c fstest.MapFS) *record.Edition {
	t.Helper()
	res, err := Publish(context.Background(), trial(c), &locked{files: Files{}})
	if err != nil {
		t.Fatal(err)
	}
	return res.Edition
}

// whole sets the packed sheets of the one file into its page, as its script does.
func whole(t *testing.T, page []byte) []byte {
	t.Helper()
	const open, shut = `<template id="kerfbook-sheets">`, "</template>"
	head, rest, ok := bytes.Cut(page, []byte(open))
	held, tail, _ := bytes.Cut(rest, []byte(shut))
	if !ok {
		t.Fatal("the one file holds no packed sheets")
	}
	zipped, err := base64.StdEncoding.DecodeString(string(held))
	if err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(bytes.NewReader(zipped))
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	main := bytes.LastIndex(head, []byte("</article>")) + len("</article>\n")
	return slices.Concat(head[:main], sheets, head[main:], tail)
}
