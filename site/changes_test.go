package site

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"kerfbook/site/record"
)

// TestOneExamplePutIn: on a published page with worked examples, figures and
// forms without names, one more example is one new answer; and what its page
// and a changed row do is told by page and cause.
func TestOneExamplePutIn(t *testing.T) {
	const page = "handbook/10-how/index.md"
	many := goodPage
	for _, size := range []string{"1.1", "1.2", "1.3", "1.4"} {
		many += "\n```figure double\nsize = " + size + " mm\ncaption: One.\n```\n"
	}
	c := content()
	c[page].Data = []byte(many)
	before := edition(t, c)
	c[page].Data = []byte(strings.Replace(many, "## Why\n", "## Why\n\n```figure double\nsize = 9 mm\ncaption: Nine.\n```\n", 1))
	after := edition(t, c)
	want := "\nAnswers: 1 new\n  T-010 “How much?”\n    new: double size = 9 mm\n      result 18 mm\n      because: the page's text\n\nPages: 1 changed\n  T-010 “How much?”  text\n"
	if _, got, _ := strings.Cut(record.Compare(before, after).Text(), ")\nto   Trial, revision A of 2026-01-01 ("+after.Digest[:10]+")\n"); got != want {
		t.Errorf("one figure put in:\n%s\nwant\n%s", got, want)
	}
	c["data/sizes.csv"].Data = []byte("# title: Sizes\n# key: name\nname,size_mm,source,place,provenance\none,2,work,page 1,cited\n")
	ch := record.Compare(after, edition(t, c))
	if len(ch.Answers) != 0 || len(ch.Tables) != 1 || len(ch.Tables[0].Rows) != 1 || len(ch.Tables[0].Rows[0].Cells) != 1 || ch.Tables[0].Rows[0].Cells[0] != (record.Moved{Name: "size_mm", Old: "1", New: "2"}) || len(ch.Pages) != 0 {
		t.Errorf("one cell: %+v", ch)
	}
}

// TestCodes: a check code depends on what is printed on its sheet, all of it,
// and on nothing else.
func TestCodes(t *testing.T) {
	codes := func(change func(fstest.MapFS)) map[string]record.Page {
		c := content()
		change(c)
		out := map[string]record.Page{}
		for _, p := range edition(t, c).Pages {
			out[p.Address] = p
		}
		return out
	}
	first := codes(func(fstest.MapFS) {})
	// codes.html prints the codes of all others and of the whole, so its own follows each of them.
	for _, c := range []struct {
		name   string
		change func(fstest.MapFS)
		check  string // addresses whose code changes
		text   string // addresses whose words change
	}{
		{"a sentence", func(c fstest.MapFS) {
			c["handbook/10-how/20-more.md"].Data = append(c["handbook/10-how/20-more.md"].Data, "And more.\n"...)
		}, "codes.html how/more.html", "how/more.html"},
		{"a number that is computed", func(c fstest.MapFS) {
			c["handbook/10-how/index.md"].Data = []byte(strings.NewReplacer("size = 2 mm", "size = 2.5 mm", "result ≈ 4 mm", "result ≈ 5 mm").Replace(goodPage))
		}, "codes.html how/index.html", ""},
		{"a title", func(c fstest.MapFS) {
			c["handbook/10-how/20-more.md"].Data = bytes.Replace(c["handbook/10-how/20-more.md"].Data, []byte("title: More"), []byte("title: Mere"), 1)
		}, "codes.html contents.html find.html how/more.html", "codes.html contents.html find.html"},
		{"a comment in the tables", func(c fstest.MapFS) {
			c["data/sizes.csv"].Data = append([]byte("# title: Sizes\n# key: name\n# note: a note\n"), c["data/sizes.csv"].Data[len("# title: Sizes\n# key: name\n"):]...)
		}, "codes.html", ""},
	} {
		var check, text []string
		for address, p := range codes(c.change) {
			if p.Check[:6] != first[address].Check[:6] { // up to the line between the halves
				t.Errorf("%s: the half of the code that names the sheet %s changed", c.name, address)
			}
			if p.Check != first[address].Check {
				check = append(check, address)
			}
			if p.Text != first[address].Text {
				text = append(text, address)
			}
		}
		if got := sorted(check); got != c.check {
			t.Errorf("%s: the codes of %s changed, want %s", c.name, got, c.check)
		}
		if got := sorted(text); got != c.text {
			t.Errorf("%s: the words of %s changed, want %s", c.name, got, c.text)
		}
	}
	for address, p := range codes(func(c fstest.MapFS) {
		c["edition.yaml"].Data = bytes.Replace(c["edition.yaml"].Data, []byte("revision: A"), []byte("revision: B"), 1)
	}) {
		if p.Check == first[address].Check || p.Printed != first[address].Printed {
			t.Errorf("%s: a new revision is printed in the title block, and only there", address)
		}
	}
	page := Files{}
	res, err := Publish(t.Context(), trial(content()), &locked{files: page})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range res.Edition.Pages {
		if !strings.Contains(string(page[p.Address]), `<dd class="code">`+p.Check+`</dd>`) {
			t.Errorf("%s does not print its code %s", p.Address, p.Check)
		}
	}
}

func sorted(list []string) string {
	names := map[string]bool{}
	for _, s := range list {
		names[s] = true
	}
	return strings.Join(slices.Sorted(maps.Keys(names)), " ")
}

// TestChangesPage: the page parses, holds no script and no foreign file, and
// every value in it is escaped.
func TestChangesPage(t *testing.T) {
	const evil = `<script>alert(1)</script>"'&`
	before := edition(t, content())
	data, err := before.Encode()
	if err != nil {
		t.Fatal(err)
	}
	now, err := record.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	now.Title, now.Owner, now.Revision, now.Digest = evil, evil, evil, "d2"
	now.Pages[0].Title, now.Tables[0].Title = evil, evil
	now.Rows[0].Cells = []record.NamedText{{Name: "size_mm", Text: evil}, {Name: evil, Text: "1"}}
	now.Answers[0].Values = []record.NamedText{{Name: "result", Text: evil}}
	now.Answers[1].Inputs = []record.NamedText{{Name: evil, Text: evil}}
	c := record.Compare(before, now)
	c.Rerun(before, now, []record.Job{{Name: evil, Calculator: evil, NewRefused: evil}}, []string{evil})
	page, err := ChangesPage(c)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	cells, signs := 0, 0
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "script", "img", "iframe", "a":
			t.Errorf("the page holds <%s>", n.Data)
		case "td":
			if n.FirstChild != nil && strings.Contains(n.FirstChild.Data, evil) {
				cells++
			}
		case "dt":
			if n.FirstChild.Data == "Signature" {
				signs++
			}
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") || a.Key == "style" || a.Key == "src" || a.Key == "href" && a.Val != "data:," {
				t.Errorf("<%s %s=%q>", n.Data, a.Key, a.Val)
			}
		}
	}
	if cells < 8 || signs != 1 {
		t.Errorf("%d cells hold the odd text, %d lines to sign", cells, signs)
	}
	if bytes.Contains(page, []byte("@import")) || bytes.Contains(page, []byte("url(")) || !bytes.Contains(page, []byte("size:A4")) {
		t.Error("the style is not whole or not made for A4")
	}
}
