package diag

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// rendered returns the report on one error in the page p.md.
func rendered(t *testing.T, text string, start, end int, notes ...string) string {
	t.Helper()
	var b strings.Builder
	m := Message{Span: Span{"p.md", start, end}, Text: "wrong", Notes: notes}
	if err := Render(&b, []Message{m}, SourceMap{"p.md": []byte(text)}, 1); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func same(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("got:\n%s\nwant:\n%s\ngot  %q\nwant %q", got, want, got, want)
	}
}

// The report that the design shows, to the letter.
func TestRenderReport(t *testing.T) {
	page := strings.Repeat("\n", 42) + "offset ≈ 0.0721 mm\ntakes ≈ 0.04 mm\n"
	at, next := strings.Index(page, "0.0721"), strings.Index(page, "0.04 mm")
	var list List
	list.Add(Message{Span: Span{"content/handbook/40-passes/offsets.md", next, next + 7}, Text: "the stock is not 0.04 mm",
		Notes: []string{"pass 1 takes 0.05 mm", "see the pass plan:\ntwo lines"}})
	list.Add(Message{Span: Span{"content/handbook/40-passes/offsets.md", at, at + 9}, Text: "the worked example gives 0.0712 mm, the page says 0.0721 mm",
		Notes: []string{`pass 2 of "ladder": wire 0.05 mm / 2 + gap 0.006 mm + stock 0.040 mm`}})
	var b strings.Builder
	src := SourceMap{"content/handbook/40-passes/offsets.md": []byte(page)}
	if err := Render(&b, list.Messages(), src, 63); err != nil {
		t.Fatal(err)
	}
	same(t, b.String(), `content/handbook/40-passes/offsets.md:43:10: error: the worked example gives 0.0712 mm, the page says 0.0721 mm
   43 | offset ≈ 0.0721 mm
      |          ~~~~~~~~~
      = pass 2 of "ladder": wire 0.05 mm / 2 + gap 0.006 mm + stock 0.040 mm
content/handbook/40-passes/offsets.md:44:9: error: the stock is not 0.04 mm
   44 | takes ≈ 0.04 mm
      |         ~~~~~~~
      = pass 1 takes 0.05 mm
      = see the pass plan:
        two lines
2 errors in 1 of 63 pages
`)
}

func TestRenderWithoutExcerpt(t *testing.T) {
	list := []Message{
		{Kind: Error, Text: "the folder content/ holds no page", Notes: []string{"it holds one file: wires.csv"}},
		{Kind: Warning, Span: Span{"gone.md", 5, 6}, Text: "first line\nforged.md:1:1: error: second line"},
	}
	for _, src := range []Files{nil, SourceMap{}} {
		var b strings.Builder
		if err := Render(&b, list, src, 2); err != nil {
			t.Fatal(err)
		}
		same(t, b.String(), `error: the folder content/ holds no page
      = it holds one file: wires.csv
gone.md: warning: first line
        forged.md:1:1: error: second line
1 error and 1 warning in 1 of 2 pages
`)
	}
}

func TestRenderMarks(t *testing.T) {
	tests := []struct {
		name, text string
		start, end int
		want       string // without head and closing line
	}{
		{"empty span", "radius 3", 7, 7, "    1 | radius 3\n      |        ^\n"},
		{"end before start", "radius 3", 7, 2, "    1 | radius 3\n      |        ^\n"},
		{"end of text", "radius 3", 8, 8, "    1 | radius 3\n      |         ^\n"},
		{"far outside", "radius 3", 99, 120, "    1 | radius 3\n      |         ^\n"},
		{"negative", "radius 3", -4, 2, "    1 | radius 3\n      | ~~\n"},
		{"empty text", "", 0, 0, "    1 |\n      | ^\n"},
		{"empty line", "a\n\nb", 2, 2, "    2 |\n      | ^\n"},
		{"several lines", "a = 1\nb = 2\n", 4, 11, "    1 | a = 1\n      |     ~\n"},
		{"line break only", "a = 1\nb", 5, 6, "    1 | a = 1\n      |      ^\n"},
		{"carriage return", "a = 1\r\nb", 4, 7, "    1 | a = 1\n      |     ~\n"},
		{"on the line feed of a pair", "a = 1\r\nb", 6, 7, "    1 | a = 1\n      |      ^\n"},
		{"tab before", "\ta\tbc d", 3, 5, "    1 | \ta\tbc d\n      | \t \t~~\n"},
		{"tab inside", "a b\tc d", 2, 5, "    1 | a b\tc d\n      |   ~\t~\n"},
		{"tab alone", "a\tb", 1, 2, "    1 | a\tb\n      |  ~\n"},
		{"accent as its own mark", "e\u0301 = x", 6, 7, "    1 | e\u0301 = x\n      |     ~\n"},
		{"the mark itself", "e\u0301 = x", 1, 3, "    1 | e\u0301 = x\n      |  ^\n"},
		{"wide before", "線 = x", 6, 7, "    1 | 線 = x\n      |      ~\n"},
		{"wide under", "a 線材 b", 2, 8, "    1 | a 線材 b\n      |   ~~~~\n"},
		{"inside a character", "≈ 3", 1, 2, "    1 | ≈ 3\n      | ~\n"},
		{"byte order mark", "\ufefftitle: x", 3, 8, "    1 | title: x\n      | ~~~~~\n"},
		{"escape sequence", "a\x1b[31m b", 7, 8, "    1 | a\\x1b[31m b\n      |           ~\n"},
		{"escape under", "a\x1bb", 1, 2, "    1 | a\\x1bb\n      |  ~~~~\n"},
		{"direction control", "a\u202eb", 4, 5, "    1 | a\\u202eb\n      |        ~\n"},
		{"next line control", "a\u0085b", 3, 4, "    1 | a\\u0085b\n      |        ~\n"},
		{"line separator", "a\u2028b", 4, 5, "    1 | a\\u2028b\n      |        ~\n"},
		{"tag character", "a\U000e0041b", 5, 6, "    1 | a\\U000e0041b\n      |            ~\n"},
		{"joiner stays", "👩\u200d🔧 x", 12, 13, "    1 | 👩\u200d🔧 x\n      |      ~\n"},
		{"no UTF-8", "a\xff\xc3 b", 4, 5, "    1 | a\\xff\\xc3 b\n      |           ~\n"},
		{"lone carriage return", "a\rb", 2, 3, "    1 | a\\x0db\n      |      ~\n"},
		{"six digits", strings.Repeat("\n", 123455) + "ab", 123456, 123457, "123456 | ab\n       |  ~\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, got, _ := strings.Cut(rendered(t, tt.text, tt.start, tt.end), "\n")
			same(t, got, tt.want+"1 error in 1 of 1 page\n")
		})
	}
}

// Column and escapes in head and notes.
func TestRenderEscapesSentences(t *testing.T) {
	list := []Message{{Span: Span{"a\x1b.md", 0, 1}, Text: "no \x9b\u202etab\there\n", Notes: []string{"bad \x07"}}}
	var b strings.Builder
	if err := Render(&b, list, SourceMap{"a\x1b.md": []byte("x")}, 1); err != nil {
		t.Fatal(err)
	}
	same(t, b.String(), `a\x1b.md:1:1: error: no \x9b\u202etab\there
    1 | x
      | ~
      = bad \x07
1 error in 1 of 1 page
`)
}

func TestRenderLongLines(t *testing.T) {
	digits := strings.Repeat("0123456789", 100)
	tests := []struct {
		name, text string
		start, end int
		line, mark string
	}{
		{"exactly full", digits[:160], 0, 1, digits[:160], "~"},
		{"head", digits, 3, 6, digits[:159] + "…", "   ~~~"},
		{"middle", digits, 500, 504, "…" + digits[423:581] + "…", strings.Repeat(" ", 78) + "~~~~"},
		{"tail", digits, 997, 1000, "…" + digits[841:], strings.Repeat(" ", 157) + "~~~"},
		{"end", digits, 1000, 1000, "…" + digits[841:], strings.Repeat(" ", 160) + "^"},
		{"span over all", digits, 0, 1000, digits[:159] + "…", strings.Repeat("~", 160)},
		{"span longer than the window", digits, 300, 900, "…" + digits[281:439] + "…", strings.Repeat(" ", 20) + strings.Repeat("~", 140)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			same(t, rendered(t, tt.text, tt.start, tt.end), fmt.Sprintf(
				"p.md:1:%d: error: wrong\n    1 | %s\n      | %s\n1 error in 1 of 1 page\n", tt.start+1, tt.line, tt.mark))
		})
	}
}

// Whatever the characters are, the window never grows beyond its width.
func TestRenderWindowIsBounded(t *testing.T) {
	for _, unit := range []string{"x", "線", "\u0301", "\x1b", "\U000e0041", "\xff", "\t", "é"} {
		text := strings.Repeat(unit, 5000)
		for _, at := range []int{0, len(text) / 2, len(text)} {
			lines := strings.Split(rendered(t, text, at, at+30), "\n")
			shown := strings.TrimPrefix(lines[1], "    1 | ")
			width, n := 0, 0
			for _, r := range shown {
				width += max(width0(r), 0)
				n++
			}
			if width > longest || n > 2*most+2 {
				t.Errorf("%q at %d: %d columns, %d characters", unit, at, width, n)
			}
			if !strings.Contains(shown, "…") {
				t.Errorf("%q at %d: no sign for the cut in %q", unit, at, shown)
			}
		}
	}
}

func width0(r rune) int {
	if r == '\t' {
		return 1
	}
	return width(r)
}

// 1,000 messages on one line of 10 MB: the line is read once, not anew for each of them.
func TestRenderHugeLine(t *testing.T) {
	const size = 10_000_000
	text := bytes.Repeat([]byte("é"), size/2)
	var list List
	for i := range 1000 {
		list.Add(Message{Span: Span{"p.md", i * (size / 1000), i*(size/1000) + 4}, Text: fmt.Sprint("message ", i)})
	}
	var b strings.Builder
	passed, err := write(&b, list.Messages(), SourceMap{"p.md": text}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if passed > size {
		t.Errorf("%d bytes were gone over in a text of %d", passed, size)
	}
	if want := "p.md:1:4995001: error: message 999\n"; !strings.Contains(b.String(), want) {
		t.Errorf("%q is missing", want)
	}
}

func TestRenderUnsorted(t *testing.T) {
	list := []Message{
		{Span: Span{"p.md", 2, 3}, Text: "second"},
		{Span: Span{"p.md", 0, 1}, Text: "first"},
	}
	var b strings.Builder
	if err := Render(&b, list, SourceMap{"p.md": []byte("a\nb\n")}, 0); err != nil {
		t.Fatal(err)
	}
	same(t, b.String(), "p.md:2:1: error: second\n    2 | b\n      | ~\np.md:1:1: error: first\n    1 | a\n      | ~\n2 errors in 1 file\n")
}

type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, errors.New("closed") }

func TestRenderReturnsWriteError(t *testing.T) {
	if err := Render(closed{}, nil, nil, 1); err == nil || err.Error() != "closed" {
		t.Errorf("got %v", err)
	}
}

func TestClosing(t *testing.T) {
	e := func(file string) Message { return Message{Kind: Error, Span: Span{File: file}} }
	w := func(file string) Message { return Message{Kind: Warning, Span: Span{File: file}} }
	tests := []struct {
		list  []Message
		pages int
		want  string
	}{
		{nil, 63, "no errors in 63 pages"},
		{nil, 0, "no errors"},
		{[]Message{e("a.md"), e("a.md")}, 63, "2 errors in 1 of 63 pages"},
		{[]Message{e("a.md"), w("b.md"), w("a.md"), w("a.md")}, 63, "1 error and 3 warnings in 2 of 63 pages"},
		{[]Message{w("a.md")}, 1, "1 warning in 1 of 1 page"},
		{[]Message{e("")}, 63, "1 error in no particular file"},
		{[]Message{e("wires.csv")}, 63, "1 error in 1 file beside the 63 pages"},
		{[]Message{e("wires.csv"), e("a.md")}, 63, "2 errors in 1 of 63 pages and 1 other file"},
		{[]Message{e("wires.csv"), e("gaps.csv"), e("a.md")}, 63, "3 errors in 1 of 63 pages and 2 other files"},
		{[]Message{e("a.md"), e("b.md")}, 1, "2 errors in 2 of 2 pages"},
		{[]Message{e("a.md"), e("wires.csv")}, 0, "2 errors in 2 files"},
	}
	for _, tt := range tests {
		if got := closing(tt.list, tt.pages); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}
