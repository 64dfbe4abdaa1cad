package words

import (
	"html"
	"regexp"
	"testing"
)

const sample = "%\nO100\nN10 G90 G41 D1 (left of the contour)\nN20 G01 X10. Y-0.5\n/N30 G03 X10.5 Y0.5 I0. J.5 ; an arc\nN40 G40 M02 F1.5\n"

// set reads a text with a lexer of its own.
func set(t *testing.T, text string) (string, []Problem) {
	t.Helper()
	l, err := New()
	if err != nil {
		t.Fatal(err)
	}
	out, bad, err := l.Set(text)
	if err != nil {
		t.Fatal(err)
	}
	return out, bad
}

func TestHTML(t *testing.T) {
	got, _ := set(t, "N10 G01 X-1.5 D1 (a<b)\n")
	want := `<pre class="nc"><code><span class="w-n">N10</span> <span class="w-g">G01</span> <span class="w-x">X-1.5</span> <span class="w-d">D1</span> <span class="w-c">(a&lt;b)</span>` + "\n</code></pre>"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if _, bad := set(t, sample); len(bad) != 0 {
		t.Errorf("sound text has problems: %v", bad)
	}
}

// FuzzText: every byte stands in the output once, in order.
func FuzzText(f *testing.F) {
	f.Add(sample)
	f.Add("X1.2.3 g01 (open\n")
	f.Fuzz(func(t *testing.T, text string) {
		for _, r := range text {
			if r == '\uFFFD' || r == '\r' || r == 0 {
				return // browsers and the lexer both change these
			}
		}
		got, _ := set(t, text)
		if back := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(got, "")); back != text {
			t.Errorf("%q came back as %q", text, back)
		}
	})
}

func TestCheck(t *testing.T) {
	for _, c := range []struct {
		text string
		want Problem
	}{
		{"N10 X1.2.3", Problem{1, 5, 6, "“X1.2.3” is no word: a word is one letter and one number, for example X12.5"}},
		{"N10\ng01", Problem{2, 1, 3, "“g01” is no word: addresses are capital letters"}},
		{"N10 (open", Problem{1, 5, 1, "this comment is not closed on its line"}},
		{"N10 E5", Problem{1, 5, 2, "“E5” is no word: a word is one letter and one number, for example X12.5"}},
	} {
		_, got := set(t, c.text)
		if len(got) == 0 || got[0] != c.want {
			t.Errorf("%q: %+v, want %+v", c.text, got, c.want)
		}
	}
}
