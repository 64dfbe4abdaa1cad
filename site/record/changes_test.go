package record

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// named makes a list of names and texts: "a", "1", "b", "2".
func named(pairs ...string) []NamedText {
	out := []NamedText{}
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, NamedText{pairs[i], pairs[i+1]})
	}
	return out
}

// record is a small hand-made edition: one page, two tables, three examples
// without a name and one with.
func record() *Edition {
	answer := func(id, size, result string, rows ...string) Answer {
		return Answer{ID: id, Kind: "worked", Calculator: "double", Inputs: named("size", size), Verdict: "Yes", Values: named("result", result), Rows: rows}
	}
	return &Edition{Kerfbook: 2, Title: "Trial", Owner: "Nobody", Scheme: "T-", Revision: "A", Date: "2026-01-01", Digest: "d1d1d1d1d1d1", Book: "b1b1b1b1b1b1", Wasm: "c1c1c1c1c1c1", Toolchain: "go0",
		Pages:  []Page{{"how/index.html", "010", "How?", "11111-22222", "t1", "p1"}},
		Tables: []Table{{"sizes", "Sizes", "s1", 2}, {"rules", "Our rules", "r1", 1}},
		Rows: []Row{
			{Table: "sizes", Key: "one", Digest: "x1", Cells: named("name", "one", "size_mm", "1", "source", "work")},
			{Table: "sizes", Key: "two", Digest: "x2", Cells: named("name", "two", "size_mm", "2")},
			{Table: "rules", Key: "thin", Digest: "x3", Cells: named("rule", "thin", "at_least", "2")}},
		Answers: []Answer{
			answer("how/index.html worked double", "1 mm", "2 mm", "sizes one"),
			answer("how/index.html worked double 2", "2 mm", "4 mm", "sizes one", "sizes two"),
			answer("how/index.html worked double 3", "3 mm", "6 mm"),
			answer("how/index.html#fit worked double", "9 mm", "18 mm", "rules thin"),
			{ID: "calculators/double.html default double", Kind: "default", Calculator: "double", Inputs: []NamedText{}, Values: named("result", "2 mm"), Rows: []string{"sizes one"}}},
		Files: []File{{"how/index.html", Sum([]byte("page")), 4}}}
}

const fromTo = "from Trial, revision A of 2026-01-01 (d1d1d1d1d1)\nto   Trial, revision A of 2026-01-01 (d2d2d2d2d2)\n"

// TestCompare: what a person reads of each kind of change, whole.
func TestCompare(t *testing.T) {
	worked := func(size, result string) Answer {
		return Answer{Kind: "worked", Calculator: "double", Inputs: named("size", size), Verdict: "Yes", Values: named("result", result)}
	}
	for _, c := range []struct {
		name   string
		change func(e *Edition)
		want   string
	}{
		{"a cell", func(e *Edition) {
			e.Rows[0].Digest, e.Rows[0].Cells = "y1", named("name", "one", "size_mm", "3", "source", "work", "remark", "worn")
			e.Answers[0].Values = named("result", "6 mm")
			e.Answers[4].Values, e.Answers[4].Rows = named("result", "6 mm", "more", "1"), []string{"sizes one", "sizes two"}
			e.Tables[0].Digest = "s2"
			e.Pages[0].Printed, e.Pages[0].Check = "p2", "11111-33333"
		}, "\nAnswers: 2 changed\n  T-010 “How?”\n    double size = 1 mm\n      result  2 mm → 6 mm\n      because: sizes one: size_mm 1 → 3, remark none → worn\n" +
			"  “”\n    double with its own defaults\n      result  2 mm → 6 mm\n      more    none → 1\n      because: sizes one: size_mm 1 → 3, remark none → worn\n" +
			"\nTables\n  sizes “Sizes”: 1 changed; 2 rows\n    one  size_mm 1 → 3, remark none → worn\n" +
			"\nPages: 1 changed\n  T-010 “How?”  numbers, figures or links\n"},
		{"a row comes, one goes, a table comes, one goes", func(e *Edition) {
			e.Tables = []Table{{"sizes", "Sizes", "s2", 2}, {"odds", "Odds", "o1", 1}}
			e.Rows = []Row{e.Rows[0], {Table: "sizes", Key: "three", Digest: "x9", Cells: named("name", "three", "size_mm", "3")}, {Table: "odds", Key: "a", Digest: "x8", Cells: named("name", "a")}}
			e.Answers[1].Values, e.Answers[1].Rows, e.Answers[1].Verdict = named("result", "5 mm"), []string{"sizes one", "sizes three"}, "No"
			e.Answers[3].Values, e.Answers[3].Rows = named("result", "19 mm"), nil
		}, "\nAnswers: 2 changed\n  T-010 “How?”\n    double size = 2 mm\n      verdict  Yes → No\n      result   4 mm → 5 mm\n      because: sizes two: the row is gone\n           and: sizes three: a new row\n" +
			"    fit: double size = 9 mm\n      result  18 mm → 19 mm\n      because: rules thin: the row is gone\n" +
			"\nTables\n  sizes “Sizes”: 1 new, 1 gone; 2 rows\n    three  new: name three, size_mm 3\n    two    gone: name two, size_mm 2\n  odds “Odds”: new table; 1 row\n    a  new: name a\n" +
			"\nRules\n  rules “Our rules”: gone table; 1 row\n    thin  gone: rule thin, at_least 2\n"},
		{"the law of a pass", func(e *Edition) {
			e.Tables = append(e.Tables, Table{"passlaw", "Law", "l2", 21})
			for i := range 3 {
				e.Answers[i].Rows = append(e.Answers[i].Rows, "factors steel")
				e.Answers[i].Values = named("result", "5 mm")
			}
		}, "\nAnswers: 3 changed\n  the constants of the law of a pass moved: 3 answers\n  T-010 “How?”\n    double size = 1 mm\n      result  2 mm → 5 mm\n      because: the constants of the law of a pass moved\n" +
			"    double size = 2 mm\n      result  4 mm → 5 mm\n      because: the constants of the law of a pass moved\n" +
			"    double size = 3 mm\n      result  6 mm → 5 mm\n      because: the constants of the law of a pass moved\n" +
			"\nTables\n  passlaw “Law”: new table; 21 rows\n"},
		{"an example put in before three others", func(e *Edition) {
			in := worked("7 mm", "14 mm")
			in.ID = e.Answers[0].ID
			e.Answers[0].ID, e.Answers[1].ID, e.Answers[2].ID = e.Answers[1].ID, e.Answers[2].ID, "how/index.html worked double 4"
			e.Answers = append([]Answer{in}, e.Answers...)
			e.Pages[0].Text = "t2"
		}, "\nAnswers: 1 new\n  T-010 “How?”\n    new: double size = 7 mm\n      result 14 mm\n      because: the page's text\n\nPages: 1 changed\n  T-010 “How?”  text\n"},
		{"inputs, and an example taken out", func(e *Edition) {
			e.Answers[1].Inputs, e.Answers[1].Values = named("size", "2.5 mm"), named("result", "5 mm")
			e.Answers[3].Inputs, e.Answers[3].Values = named("size", "8 mm", "way", "up"), named("result", "16 mm")
			e.Answers = append(e.Answers[:2], e.Answers[3:]...)
			e.Pages[0].Text = "t2"
		}, "\nAnswers: 2 changed, 1 gone\n  T-010 “How?”\n    double size = 2.5 mm\n      result  4 mm → 5 mm\n      because: its inputs: size 2 mm → 2.5 mm\n" +
			"    fit: double size = 8 mm, way = up\n      result  18 mm → 16 mm\n      because: its inputs: size 9 mm → 8 mm, way none → up\n" +
			"    gone: double size = 3 mm\n      result 6 mm\n      because: the page's text\n" +
			"\nPages: 1 changed\n  T-010 “How?”  text\n"},
		{"the calculators", func(e *Edition) {
			e.Wasm, e.Toolchain = "c2c2c2c2c2c2", "go1"
			e.Answers[2].Values = named("result", "6.1 mm")
			e.Answers = append(e.Answers, Answer{ID: "calculators/half.html default half", Kind: "default", Calculator: "half", Values: named("result", "1 mm")})
			e.Pages = append(e.Pages, Page{"calculators/half.html", "C-half", "Half?", "44444-55555", "t9", "p9"})
		}, "\nEdition\n  toolchain  go0 → go1\n\nAnswers: 1 changed, 1 new\n  T-010 “How?”\n    double size = 3 mm\n      result  6 mm → 6.1 mm\n      because: the calculators changed\n" +
			"  T-C-half “Half?”\n    new: half with its own defaults\n      result 1 mm\n      because: a new page\n" +
			"\nCalculators\n  program  c1c1c1c1c1 → c2c2c2c2c2\n  new: half\n\nPages: 1 new\n  T-C-half “Half?”  new\n"},
		{"no cause on record", func(e *Edition) { e.Answers[2].Values = named("result", "7 mm") },
			"\nAnswers: 1 changed\n  T-010 “How?”\n    double size = 3 mm\n      result  6 mm → 7 mm\n      because: cause not recorded\n"},
		{"only where a row comes from", func(e *Edition) {
			e.Rows[0].Digest, e.Rows[0].Cells = "y1", named("name", "one", "size_mm", "1", "source", "other")
			e.Answers[0].Values = named("result", "6 mm")
		}, "\nAnswers: 1 changed\n  T-010 “How?”\n    double size = 1 mm\n      result  2 mm → 6 mm\n      because: cause not recorded\n\nTables\n  sizes “Sizes”: 1 changed; 2 rows\n    one  source work → other\n"},
		{"a page moves with its answers", func(e *Edition) {
			e.Pages[0].Address = "why/index.html"
			for i := range e.Answers {
				e.Answers[i].ID = strings.Replace(e.Answers[i].ID, "how/", "why/", 1)
			}
		}, "\nPages: 1 changed\n  T-010 “How?”  address, was how/index.html\n"},
		{"a title and a date", func(e *Edition) {
			e.Pages[0].Title, e.Pages[0].Check = "How so?", "11111-33333"
			e.Pages = append(e.Pages, Page{"b.html", "020", "B", "66666-77777", "t", "p"})
		}, "\nPages: 1 changed, 1 new\n  T-010 “How so?”  title\n  T-020 “B”        new\n"},
		{"only the order of rows", func(e *Edition) {
			e.Rows[0], e.Rows[1] = e.Rows[1], e.Rows[0]
			e.Tables[0].Digest = "s2"
		}, "\nTables\n  sizes “Sizes”: only the order of its rows or columns changed; 2 rows\n"},
		{"only the title block", func(e *Edition) { e.Pages[0].Check = "11111-33333" }, "\nPages\n  1 sheet: only the title block or the check code of a table\n"},
		{"nothing but the sources", func(*Edition) {}, "\nnothing that is printed or computed changed; the source files or the theme did\n"},
		{"an older record", func(e *Edition) {
			e.Kerfbook, e.Scheme = 1, ""
			e.Pages[0] = Page{Address: "how/index.html", Number: "010", Title: "How?", Check: "0123456789"}
			for i := range e.Rows {
				e.Rows[i].Cells = nil
			}
			e.Rows[1].Digest = "y2"
			e.Tables = tablesOf(e.Rows)
			e.Answers[1].Values = named("result", "5 mm")
			for i := range e.Answers {
				e.Answers[i].Verdict = ""
			}
		}, "\nAnswers: 1 changed\n  010 “How?”\n    double size = 2 mm\n      result  4 mm → 5 mm\n      because: sizes two: the row changed\n\nTables\n  sizes: 1 changed; 2 rows\n    two  changed, cells not recorded\n" +
			"\nNotes\n  the new record is of version 1: which pages changed, which cells of a row, and whether a verdict changed cannot be told; publish that edition again with this kerfbook to know\n"},
	} {
		now := record()
		now.Digest = "d2d2d2d2d2d2"
		c.change(now)
		if got := Compare(record(), now).Text(); got != fromTo+c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, fromTo+c.want)
		}
	}
	if got := Compare(record(), record()).Text(); got != "nothing changed: Trial, revision A of 2026-01-01 (d1d1d1d1d1)\n" {
		t.Errorf("the same edition: %s", got)
	}
}

func TestWordsOf(t *testing.T) {
	for _, c := range []struct{ a, b string }{
		{"<p>About 0.25&nbsp;mm, −3 to +4.5</p>", "<p>About 12\u20090.5&nbsp;mm, 7 to 1,000</p>"},
		{"a<svg><path d=\"M1\"/><text>x</text></svg> b", "a <svg><path d=\"L2\"/></svg>b"},
		{"see <a href=\"x.html\">it</a>", "see <a href=\"y.html\">it</a>"},
	} {
		if Words(c.a) != Words(c.b) {
			t.Errorf("%q and %q: %q, %q", c.a, c.b, Words(c.a), Words(c.b))
		}
	}
	for _, c := range []struct{ a, b string }{{"three", "four"}, {"3 mm", "3 in"}, {"a 3", "a"}, {"a-b", "ab"}, {"N5.", "N5"}} {
		if Words(c.a) == Words(c.b) {
			t.Errorf("%q and %q have the same words", c.a, c.b)
		}
	}
}

// TestChangesJSON: the names are public, an empty list is a list.
func TestChangesJSON(t *testing.T) {
	data, err := json.Marshal(Compare(record(), record()))
	if err != nil {
		t.Fatal(err)
	}
	const want = `{"changes":1,"old":{"title":"Trial","revision":"A","date":"2026-01-01","digest":"d1d1d1d1d1d1"},"new":{"title":"Trial","revision":"A","date":"2026-01-01","digest":"d1d1d1d1d1d1"},"same":true,"edition":[],"calculators":{},"answers":[],"tables":[],"rules":[],"pages":[],"jobs":[],"notes":[]}`
	if string(data) != want {
		t.Errorf("%s", data)
	}
}

func TestRerun(t *testing.T) {
	now := record()
	now.Digest, now.Rows[0].Digest, now.Rows[0].Cells = "d2d2d2d2d2d2", "y1", named("name", "one", "size_mm", "3", "source", "work")
	a := func(verdict, result string) Answer {
		return Answer{Verdict: verdict, Values: named("result", result), Rows: []string{"sizes one"}, Inputs: []NamedText{}}
	}
	c := Compare(record(), now)
	c.Rerun(record(), now, []Job{
		{Name: "same.json", Calculator: "double", Old: a("Yes", "2 mm"), New: a("Yes", "2 mm")},
		{Name: "moved.json", Calculator: "double", Old: a("Yes", "2 mm"), New: a("No", "6 mm")},
		{Name: "never.txt", Calculator: "treble", OldRefused: "there is no calculator treble", NewRefused: "there is no calculator treble"},
		{Name: "lost.txt", Calculator: "double", Old: a("Yes", "2 mm"), NewRefused: "size: too large"},
	}, []string{"x: this is no saved job"})
	want := fromTo + "\nTables\n  sizes “Sizes”: 1 changed; 2 rows\n    one  size_mm 1 → 3\n\nSaved jobs: 4 answered again, 2 changed, 1 unanswered\n" +
		"  moved.json: double\n    verdict  Yes → No\n    result   2 mm → 6 mm\n    because: sizes one: size_mm 1 → 3\n" +
		"  never.txt: treble\n    refused by both: there is no calculator treble\n" +
		"  lost.txt: double\n    answered before, now refused: size: too large\n    because: sizes one: size_mm 1 → 3\n\nNotes\n  x: this is no saved job\n"
	if got := c.Text(); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// TestPair: who is whose partner when examples are put in, changed and named.
func TestPair(t *testing.T) {
	c := func(id, anchor string, inputs ...string) candidate {
		return candidate{Answer: Answer{ID: id, Inputs: named(inputs...)}, anchor: anchor}
	}
	for _, x := range []struct {
		name     string
		old, now []candidate
		want     []int
	}{
		{"one put in, both others changed", []candidate{c("1", "", "x", "1", "y", "2"), c("2", "", "x", "5", "y", "6")},
			[]candidate{c("1", "", "x", "9", "y", "9"), c("2", "", "x", "1", "y", "3"), c("3", "", "x", "5", "y", "7")}, []int{-1, 0, 1}},
		{"an example gets a name", []candidate{c("1", "", "x", "1"), c("2", "", "x", "2")}, []candidate{c("1", "", "x", "2"), c("a", "a", "x", "1")}, []int{1, 0}},
		{"a name stays, its inputs change", []candidate{c("a", "a", "x", "1"), c("b", "b", "x", "2")}, []candidate{c("b", "b", "x", "7"), c("a", "a", "x", "8")}, []int{1, 0}},
		{"a name changes", []candidate{c("a", "a", "x", "1")}, []candidate{c("b", "b", "x", "1")}, []int{0}},
		{"one name goes, another comes", []candidate{c("a", "a", "x", "1", "y", "1")}, []candidate{c("b", "b", "x", "1", "y", "2")}, []int{-1}},
		{"the same inputs twice", []candidate{c("1", "", "x", "1"), c("2", "", "x", "1")}, []candidate{c("1", "", "x", "1")}, []int{0}},
	} {
		if got := pair(x.old, x.now); !slices.Equal(got, x.want) {
			t.Errorf("%s: %v, want %v", x.name, got, x.want)
		}
	}
}
