package calc

import (
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// TestWord: a short name takes what a shop writes on a box, says in plain words
// what it does not take and where, and answers to its old name.
func TestWord(t *testing.T) {
	seen := ""
	c := &Calculator{ID: "a", Title: "A", Question: "A?", Summary: "A.", Build: func(f *Form, b *book.Book) Run {
		var word string
		AskWord(f, &word, "cut: Name of the cut\nis LQ-1").Aliases = []string{"number"}
		return Run{Point: func(p *Point) {}, Say: func(r *Result, a *Answer) { seen, a.Headline = word, r.Text("{cut}") }}
	}}
	set, err := NewSet(&book.Book{}, c)
	if err != nil {
		t.Fatal(err)
	}
	k, _ := set.Find("a")
	long := strings.Repeat("ä", 40)
	for _, x := range []struct {
		name, text, want, problem string
		at                        int
	}{
		{"cut", "LQ-12", "LQ-12", "", 0},
		{"cut", "  Prüfstück 3.1/b_2 #7 ", "Prüfstück 3.1/b_2 #7", "", 0},
		{"number", "7", "7", "", 0},
		{"cut", long, long, "", 0},
		{"cut", long + "x", "", "Name of the cut has at most 40 characters, this has 41", 0},
		{"cut", "LQ,12", "", `Name of the cut takes letters, digits, space and - . / _ #; this has ","`, 2},
		{"cut", "=1+1", "", `Name of the cut takes letters, digits, space and - . / _ #; this has "="`, 0},
		{"cut", "a\tb", "", "Name of the cut takes letters, digits, space and - . / _ #; this has a sign that cannot be seen", 1},
		{"cut", "ü×", "", `Name of the cut takes letters, digits, space and - . / _ #; this has "×"`, 2},
		{"cut", " ", "", "a name is wanted here, for example LQ-1", 0},
	} {
		seen = ""
		rep := k.Eval(&book.Book{}, Input{Values: map[string]string{x.name: x.text}, Strict: true})
		st, _ := rep.Field("number")
		if seen != x.want || st.Problem != x.problem || st.At != x.at || (rep.Answer != nil) != (x.problem == "") {
			t.Errorf("%q: %q, %q at %d; want %q, %q at %d", x.text, seen, st.Problem, st.At, x.want, x.problem, x.at)
		}
		if x.problem == "" && (st.Text != x.want || rep.Answer.Headline != x.want) {
			t.Errorf("%q: the field holds %q, the sentence %q", x.text, st.Text, rep.Answer.Headline)
		}
	}
	bad := *c
	bad.declared, bad.defaults = nil, nil
	bad.Build = func(f *Form, b *book.Book) Run {
		AskWord(f, new(string), "cut: Name\nis a;b")
		return Run{Point: func(p *Point) {}, Say: func(r *Result, a *Answer) {}}
	}
	if _, err := NewSet(&book.Book{}, &bad); err == nil || err.Error() != `calculator "a": field "cut": default: Name takes letters, digits, space and - . / _ #; this has ";"` {
		t.Errorf("a default that cannot be typed: %v", err)
	}
}

// TestStrayOver: the usual stray goes with the square of the free length, which is
// the part and what the guide's exit stands above it; what an empty field takes
// says where it comes from. A part of no height still leaves the wire free.
func TestStrayOver(t *testing.T) {
	for _, x := range []struct {
		height    float64
		low, high float64
	}{{95, 0.5, 3 * 1.1 * 1.1}, {15, 0.02, 0.27}, {185, 0.5 * 1.9 * 1.9, 12}, {0, 0.00125, 0.0675}} {
		r := StrayOver(unit.Length(x.height), false).Range
		if r.Low-x.low > 1e-12 || x.low-r.Low > 1e-12 || r.High-x.high > 1e-12 || x.high-r.High > 1e-12 {
			t.Errorf("over %g mm it is %v, want %g to %g", x.height, r, x.low, x.high)
		}
	}
	if got, want := StrayOver(80, false).Note, "a curl of 0.5 to 3 mm over 100 mm, common practice, over the part's 80 mm and 5 to 15 mm of free wire above it: 1.4175 mm (0.3613 to 2.7075)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A led end strays at most as far as the straightest pushed one, and may not at all.
	led, pushed := StrayOver(50, true), StrayOver(50, false)
	if led.Range.Low != 0 || led.Range.High > pushed.Range.Low*(65.0*65)/(55*55)*(1+1e-12) || led.Range.High <= 0 {
		t.Errorf("led %v, pushed %v", led.Range, pushed.Range)
	}
	if got, want := led.Note, "a curl of 0 to 0.5 mm over 100 mm, common practice, over the part's 50 mm and 5 to 15 mm of free wire above it: 0.09 mm (0 to 0.2113)"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
