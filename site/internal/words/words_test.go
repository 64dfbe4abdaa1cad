package words

import (
	"html"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
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

// back is the text of the code without its tags.
func back(out string) string {
	return html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(out, ""))
}

func TestHTML(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"N10 G01 X-1.5 D1 (a<b)\n", `<span class="w-line"><span class="w-n">N10</span> <span class="w-g">G01</span> <span class="w-x">X-1.5</span> <span class="w-d">D1</span> <span class="w-c">(a&lt;b)</span>` + "\n</span>"},
		// The standard asks for no space between words.
		{"N10G01X10.Y-5.F2", `<span class="w-line"><span class="w-n">N10</span><span class="w-g">G01</span><span class="w-x">X10.</span><span class="w-x">Y-5.</span><span class="w-f">F2</span></span>`},
		{"%\n\n/:7 G03 I.5 R+2 ;arc", `<span class="w-line"><span class="w-p">%</span>` + "\n</span>" + `<span class="w-line">` + "\n</span>" + `<span class="w-line"><span class="w-p">/</span><span class="w-n">:7</span> <span class="w-g">G03</span> <span class="w-i">I.5</span> <span class="w-i">R+2</span> <span class="w-c">;arc</span></span>`},
		{"X1.2.3Y5", `<span class="w-line"><span class="w-err">X1.2.3</span><span class="w-x">Y5</span></span>`},
		{"", ""},
	} {
		got, _ := set(t, c.text)
		if want := `<pre class="nc"><code>` + c.want + "</code></pre>"; got != want {
			t.Errorf("%q\ngot  %s\nwant %s", c.text, got, want)
		}
	}
	if _, bad := set(t, sample); len(bad) != 0 {
		t.Errorf("sound text has problems: %v", bad)
	}
}

// TestEveryByte puts each ASCII character behind, before and inside a word: every
// byte stands in the output once, in order.
func TestEveryByte(t *testing.T) {
	l, err := New()
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{sample, "N10 G01\r\nX1.\r", "é — X1 µ\n", "(a (b) c) / X1 /"}
	for b := range 128 {
		c := string(rune(b))
		texts = append(texts, "N1 X2"+c, c+"N1 X2", "N1 X"+c+"2\n")
	}
	for _, text := range texts {
		out, _, err := l.Set(text)
		if err != nil || back(out) != text {
			t.Errorf("%q came back as %q, %v", text, back(out), err)
		}
	}
	if _, _, err := l.Set("X1 \xff"); err == nil || err.Error() != "the word-address text is not UTF-8" {
		t.Errorf("bytes that are no UTF-8 give %v", err)
	}
}

// FuzzText: every byte stands in the output once, and a problem lies inside the text.
func FuzzText(f *testing.F) {
	f.Add(sample)
	f.Add("X1.2.3 g01 (open\n")
	f.Add("N1G1\r\n\r")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := New()
		if err != nil {
			t.Fatal(err)
		}
		got, bad, err := l.Set(text)
		if utf8.ValidString(text) != (err == nil) {
			t.Fatalf("%q: %v", text, err)
		}
		if err != nil {
			return
		}
		if back(got) != text {
			t.Errorf("%q came back as %q", text, back(got))
		}
		lines := strings.Split(text, "\n")
		for _, p := range bad {
			if p.Line > len(lines) || p.Col-1+p.Len > len(lines[p.Line-1]) || p.Len < 1 {
				t.Errorf("%q: the problem %+v lies outside", text, p)
			}
		}
	})
}

func TestCheck(t *testing.T) {
	const like = " is no word: a word is one letter and one number, for example X12.5"
	const small = " is no word: addresses are capital letters"
	for _, c := range []struct {
		text string
		want []Problem
	}{
		{"N10 X1.2.3", []Problem{{1, 5, 6, "“X1.2.3” is no word: its number has more than one decimal point"}}},
		{"N10\ng01", []Problem{{2, 1, 3, "“g01”" + small}}},
		{"N10 (open", []Problem{{1, 5, 5, "this comment is not closed on its line"}}},
		{"N10 a) G1", []Problem{{1, 5, 1, "“a”" + small}, {1, 6, 1, "“)” closes no comment"}}},
		{"N10 E5", []Problem{{1, 5, 2, "“E5” is no word: “E” is no address here"}}},
		{"N10 X\r\nG", []Problem{{1, 5, 1, "“X”" + like}, {2, 1, 1, "“G”" + like}}},
		{"(µ) M-2 D1.5 N1 / 5", []Problem{{1, 6, 3, "“M-2”" + like}, {1, 10, 4, "“D1.5”" + like}, {1, 18, 1, "“/” stands only at the start of a block"}, {1, 20, 1, "“5”" + like}}},
	} {
		_, got := set(t, c.text)
		if !slices.Equal(got, c.want) {
			t.Errorf("%q:\n got %+v\nwant %+v", c.text, got, c.want)
		}
	}
}
