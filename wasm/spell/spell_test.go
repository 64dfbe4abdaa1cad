package spell

import (
	"testing"
	"unicode/utf8"
)

func TestShort(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		want string
	}{
		{"", 0, ""}, {"wire", 4, "wire"}, {"wires", 4, "wire…"}, {"µµµ", 3, "µµµ"}, {"µµµµ", 3, "µµµ…"}, {"a\xff\xffb", 2, "a\xff…"}, {"x", 0, "…"},
	} {
		if got := Short(c.text, c.n); got != c.want {
			t.Errorf("Short(%q, %d) = %q, want %q", c.text, c.n, got, c.want)
		}
	}
	long := ""
	for n := range 100 { // whatever the length, no letter is cut in two
		if got := Short(long, 40); !utf8.ValidString(got) || utf8.RuneCountInString(got) != min(n, 40)+map[bool]int{true: 1}[n > 40] {
			t.Errorf("%d letters became %q", n, got)
		}
		long += "ß"
	}
}

func TestCount(t *testing.T) {
	for _, c := range []struct {
		n    int
		noun string
		want string
	}{{1, "pass", "1 pass"}, {3, "pass", "3 passes"}, {0, "page", "0 pages"}, {2, "other file", "2 other files"}} {
		if got := Count(c.n, c.noun); got != c.want {
			t.Errorf("Count(%d, %q) = %q, want %q", c.n, c.noun, got, c.want)
		}
	}
}

func TestQuote(t *testing.T) {
	if Quote("a") != "“a”" || Straight("a") != "\"a\"" {
		t.Error(Quote("a"), Straight("a"))
	}
}
