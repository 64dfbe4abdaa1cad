package site

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site/diag"
)

// TestLints: each lint speaks of its fault with its place, is silent once the page
// is right, and is answered by a reason, which is published; an answer to nothing
// is an error.
func TestLints(t *testing.T) {
	front := func(passed string) string {
		return "---\ntitle: More\nnumber: \"011\"\ndescription: More.\n" + passed + "---\n"
	}
	const sound = "Short.\n\n```figure double\nsize = 3 mm\ncaption: Three.\n```\n\nAs known [@work, page 1].\n\n"
	long := strings.TrimSpace(strings.Repeat("word ", 26)) + "."
	for _, c := range []struct{ name, body, want, right string }{
		{"sentence", sound + "Begin. " + long + "\n", "handbook/10-how/20-more.md:15:8: sentence: 26 words: “word word", sound + "Begin. " + strings.Replace(long, "word word", "word. Word", 1) + "\n"},
		{"sentence", sound + "One: " + strings.TrimSuffix(long, ".") + " end; " + "five.\n", "handbook/10-how/20-more.md:15:6: sentence: 27 words", sound},
		{"figure", "Short.\n\nAs known [@work, page 1].\n", "handbook/10-how/20-more.md:6:1: figure: this page has no figure", sound},
		{"source", "Short.\n\n```figure double\nsize = 3 mm\n```\n", "handbook/10-how/20-more.md:6:1: source: this page cites no publication", sound},
		{"caution", sound + "Keep the sludge wet.\n", "handbook/10-how/20-more.md:15:10: caution: it names “sludge”", sound + "Keep the sludge wet.\n\n```caution WARNING\nRead the safety data sheet.\n```\n"},
		{"term", sound + "Mind the HAZ of it.\n", "handbook/10-how/20-more.md:15:10: term: the glossary does not explain “HAZ”", sound + "Mind the ISO of it.\n"},
		{"number", sound + "It takes 7 mm.\n", "handbook/10-how/20-more.md:15:10: number: nothing explains 7 mm", sound + "It takes 7 mm[@practice].\n"},
		{"cite", sound + "It grows as shown in [@work, page 2].\n", "handbook/10-how/20-more.md:15:22: cite: the sentence does not read without “[@work]”", sound + "It grows [@work, page 2].\n"},
		{"cite", sound + "It grows. [@work, page 2] says so.\n", "handbook/10-how/20-more.md:15:11: cite: the sentence does not read without “[@work]”", sound + "It grows. [@work, page 2] So it goes.\n"},
		{"cite", sound + "[@work, page 2] Nothing more.\n", "handbook/10-how/20-more.md:15:1: cite: the sentence does not read without “[@work]”", sound + "So it goes [@work, page 2].\n"},
		{"practice", sound + "It takes 7 mm, by common practice.\n", "handbook/10-how/20-more.md:15:19: practice: typed “common practice”", sound + "It takes 7 mm. [@practice]\n"},
		{"practice", sound + "Common practice, no source.\n", "handbook/10-how/20-more.md:15:1: practice: typed “Common practice”", sound + "Our word for it is *common practice*.\n"},
		{"practice", sound + "| a |\n|---|\n| two, common practice |\n", "handbook/10-how/20-more.md:17:8: practice: typed “common practice”", sound + "| a |\n|---|\n| two [@practice] |\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			check := func(text string) (*Result, []string) {
				files := content()
				files["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte(text)}
				res, _ := Check(trial(files))
				var out []string
				for _, m := range res.Messages {
					if m.Span.File == "handbook/10-how/20-more.md" {
						line, col := diag.Position(res.Texts[m.Span.File], m.Span.Start)
						out = append(out, fmt.Sprintf("%s: %s:%d:%d: %s", m.ID, m.Span.File, line, col, m.Text))
					}
				}
				return res, out
			}
			if _, got := check(front("") + c.body); !slices.ContainsFunc(got, func(s string) bool { return strings.HasPrefix(s, c.name+": "+c.want) }) || len(got) != 1 {
				t.Errorf("got %q, want one that starts %q", got, c.name+": "+c.want)
			}
			if _, got := check(front("") + c.right); len(got) > 0 {
				t.Errorf("the page made right: %q", got)
			}
			answer := "passed: [{lint: " + c.name + ", because: \"the reason <b>stands</b>\"}]\n"
			if _, got := check(front(answer) + c.body); len(got) > 0 {
				t.Errorf("answered: %q", got)
			}
			if res, got := check(front(answer) + c.right); len(got) != 1 || !strings.HasPrefix(got[0], string(diag.LintAnswer)+": ") || res.Warnings > 100 {
				t.Errorf("an answer to nothing: %q", got)
			}
			files, sink := content(), &locked{files: Files{}}
			files["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte(front(answer) + c.body)}
			if _, err := Publish(context.Background(), trial(files), sink); err != nil {
				t.Fatal(err)
			}
			if !bytes.Contains(sink.files["passed.html"], []byte("the reason &lt;b&gt;stands&lt;/b&gt;")) {
				t.Error("the reason is not published")
			}
		})
	}
}

// TestRepeatedHeading: a heading on more than a fifth of the pages is spoken of once,
// at its first page.
func TestRepeatedHeading(t *testing.T) {
	messages := func(same, others int) (out []string) {
		files := content()
		for i := range same + others {
			head := "Same"
			if i >= same {
				head = fmt.Sprint("Own ", i)
			}
			files[fmt.Sprintf("handbook/10-how/%d-page-%d.md", 50+i, i)] = &fstest.MapFile{Data: []byte(fmt.Sprintf("---\ntitle: P\nnumber: \"5%02d\"\ndescription: P.\n---\nShort.\n\n## %s\n\nText.\n", i, head))}
		}
		options := trial(files)
		res, _ := Check(options)
		for _, m := range res.Messages {
			if m.ID == diag.LintHeading {
				line, col := diag.Position(res.Texts[m.Span.File], m.Span.Start)
				out = append(out, fmt.Sprintf("%s:%d:%d: %s", m.Span.File, line, col, m.Text))
			}
		}
		return out
	}
	if got := messages(6, 3); len(got) != 1 || got[0] != "handbook/10-how/50-page-0.md:8:4: heading: 6 of 12 pages have “Same”" {
		t.Errorf("six of twelve: %q", got)
	}
	if got := messages(5, 3); len(got) != 0 {
		t.Errorf("five pages are few: %q", got)
	}
	if got := messages(6, 24); len(got) != 0 {
		t.Errorf("six of thirty-three are no fifth: %q", got)
	}
}
