package calc

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// trial is an invented calculator: a plain sum, a parabola that no direction
// describes, a choice that flips, and combinations that cannot be.
func trial(extra int) *Calculator {
	return &Calculator{ID: "trial", Title: "t", Question: "q", Summary: "s", Build: func(f *Form, _ *book.Book) Run {
		var a, b, sum, hump unit.Length
		var print Span[unit.Length]
		var pick, mode string
		var given bool
		var opt unit.Length
		rest := make([]unit.Length, extra)
		Ask(f, &a, `a: A
			is 1 mm
			keys mm thou; thou
			usual 0.1 mm to 10 mm
			min 0 mm: it is a size
			below 100 mm: the bench ends there
			ranges`)
		Ask(f, &b, "b: B\nis 2 mm\nkeys mm\nranges")
		AskSpan(f, &print, "print: Print\nis 3 mm\nkeys mm")
		AskChoice(f, &mode, "mode: Mode\noption any: anything\noption ordered: a below b")
		AskGiven(f, &opt, &given, "opt: Opt\nkeys mm\nranges").Fallback = func() Fallback {
			return Fallback{Range: unit.Exactly(float64(a) * 10), Note: "ten times A"}
		}
		for i := range rest {
			n := strconv.Itoa(i)
			Ask(f, &rest[i], "r"+n+": R"+n+"\nis 1 mm\nkeys mm\nranges")
		}
		Tell(f, &sum, "sum: Sum\nrises a b")
		Tell(f, &hump, "hump: Hump")
		TellChoice(f, &pick, "pick: Pick\nword small: Small\nword large: Large")
		return Run{Point: func(p *Point) {
			if mode == "ordered" && a > b {
				p.Impossible("a is above b")
			}
			sum = a + b
			hump = -(a - 1.3) * (a - 1.3)
			pick = "small"
			if a > print.High {
				pick = "large"
			}
			p.Step(Step{Name: "sum", Formula: "a + b", Put: "x", Equals: "y"})
		}, Say: func(r *Result, ans *Answer) { ans.Headline = "done" }}
	}}
}

func answer(t *testing.T, values map[string]string) *Answer {
	t.Helper()
	rep := trial(0).Eval(&book.Book{}, Input{Values: values, Strict: true})
	if rep.Answer == nil {
		t.Fatalf("refused: %v", rep.Problems)
	}
	return rep.Answer
}

func TestRanges(t *testing.T) {
	a := answer(t, map[string]string{"a": "1 to 2 mm", "b": "2 to 5 mm"})
	sum, _ := a.Value("sum")
	if sum.Range != (unit.Range{Low: 3, Likely: 5, High: 7}) || sum.Width != "most of this range is: B" || sum.Text != "5 mm (3 to 7)" {
		t.Errorf("%+v", sum)
	}
	// The parabola's top lies inside the range, where no end is.
	hump, _ := a.Value("hump")
	if math.Abs(hump.Range.High) > 1e-9 || math.Abs(hump.Range.Low+0.49) > 1e-9 || hump.Width != "all of this range is: A" {
		t.Errorf("%+v", hump)
	}
	if point := answer(t, map[string]string{"a": "1 mm"}); point.Values[0].Width != "" || len(point.Steps) != 1 {
		t.Errorf("%+v", point.Values[0])
	}
}

func TestChoices(t *testing.T) {
	p, _ := answer(t, map[string]string{"a": "2 to 6 mm"}).Pick("pick")
	if len(p.All) != 2 || p.Likely.Value != "large" || p.When != "A: Small up to 3 mm, Large above" {
		t.Errorf("%+v", p)
	}
	// The tolerance of the print is a demand: it does not make a range.
	a := answer(t, map[string]string{"a": "3.2 mm", "print": "3 ±0.5 mm"})
	if p, _ := a.Pick("pick"); len(p.All) != 1 || p.Likely.Value != "small" {
		t.Errorf("%+v", p)
	}
}

func TestImpossible(t *testing.T) {
	a := answer(t, map[string]string{"mode": "ordered", "a": "1 to 3 mm", "b": "2 to 4 mm"})
	sum, _ := a.Value("sum")
	if math.Abs(sum.Range.Low-3) > 1e-6 || math.Abs(sum.Range.High-7) > 1e-6 {
		t.Errorf("%+v", sum.Range)
	}
	if len(a.Notes) != 1 || a.Notes[0] != "1 of 5 combinations of the ranges were left out because they cannot be: a is above b." {
		t.Errorf("%q", a.Notes)
	}
	rep := trial(0).Eval(&book.Book{}, Input{Values: map[string]string{"mode": "ordered", "a": "5 mm"}})
	if rep.Answer != nil || len(rep.Problems) != 1 || rep.Problems[0] != (Problem{"", "a is above b"}) {
		t.Errorf("%+v", rep.Problems)
	}
}

func TestTooManyRanges(t *testing.T) {
	values := map[string]string{"a": "1 to 2 mm", "b": "1 to 2 mm"}
	for i := range 7 {
		values["r"+strconv.Itoa(i)] = "1 to 2 mm"
	}
	rep := trial(7).Eval(&book.Book{}, Input{Values: values})
	if rep.Answer != nil || len(rep.Problems) != 1 || !strings.HasPrefix(rep.Problems[0].Text, "at most 8 inputs may be ranges at once, here are 9: give one number for some of A, B,") {
		t.Errorf("%+v", rep.Problems)
	}
}

func TestReading(t *testing.T) {
	for _, c := range []struct {
		name   string
		in     Input
		field  string
		text   string
		echo   string
		says   string
		hinted string
	}{
		{"a bare number takes the field's unit", Input{Values: map[string]string{"a": "3"}}, "a", "3 mm", "3 mm = 118.11 thou", "", ""},
		{"in inches its other unit", Input{Values: map[string]string{"a": "3"}, System: unit.Inch}, "a", "3 thou", "3 thou = 0.0762 mm", "", ""},
		{"a key gives its unit to the digits", Input{Values: map[string]string{"a": "3 mm"}, Keys: map[string]string{"a": "thou"}}, "a", "3 thou", "3 thou = 0.0762 mm", "", ""},
		{"strict input wants the unit", Input{Values: map[string]string{"a": "3"}, Strict: true}, "a", "", "", "“3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou", ""},
		{"beyond an open limit", Input{Values: map[string]string{"a": "100 mm"}}, "a", "100 mm", "", "A is less than 100 mm, this is 100 mm: the bench ends there", ""},
		{"below a limit", Input{Values: map[string]string{"a": "-1 to 2 mm"}}, "a", "-1 to 2 mm", "", "A is at least 0 mm, this is -1 to 2 mm: it is a size", ""},
		{"an empty field that must not be", Input{Values: map[string]string{"a": ""}}, "a", "", "", "a value is wanted here, for example 1 mm", ""},
		{"an empty field that may be", Input{Values: map[string]string{"opt": ""}}, "opt", "", "ten times A", "", ""},
		{"no such choice", Input{Values: map[string]string{"mode": "sideways"}}, "mode", "", "", "Mode is one of any, ordered; this is \"sideways\"", ""},
		{"a choice by its label", Input{Values: map[string]string{"mode": "a below b"}}, "mode", "ordered", "", "", ""},
		{"far outside the usual", Input{Values: map[string]string{"a": "0.005 mm"}}, "a", "0.005 mm", "", "", "far outside the usual span of 0.1 to 10 mm; is the unit right?"},
		{"no such choice, but one near it", Input{Values: map[string]string{"mode": "orderd"}}, "mode", "", "", "Mode is one of any, ordered; this is \"orderd\"; did you mean \"ordered\"?", ""},
		{"a choice in capitals and spaces", Input{Values: map[string]string{"mode": "A Below-B"}}, "mode", "ordered", "", "", ""},
		{"no such field", Input{Values: map[string]string{"wire": "1 mm"}}, "", "", "", "there is no field \"wire\"; trial has a, b, print, mode, opt", ""},
		{"no such field, but one near it", Input{Values: map[string]string{"prnit": "1 mm"}}, "", "", "", "there is no field \"prnit\"; did you mean \"print\"?", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			rep := trial(0).Eval(&book.Book{}, c.in)
			st, _ := rep.Field(c.field)
			if c.field != "" && (st.Text != c.text || c.echo != "" && st.Echo != c.echo) {
				t.Errorf("text %q, echo %q", st.Text, st.Echo)
			}
			said := ""
			if len(rep.Problems) > 0 {
				said = rep.Problems[0].Text
			}
			if said != c.says || (c.says != "") != (rep.Answer == nil) {
				t.Errorf("says %q", said)
			}
			if c.hinted != "" && (len(st.Notes) != 1 || st.Notes[0] != c.hinted) {
				t.Errorf("notes %q", st.Notes)
			}
		})
	}
}

// TestDeclarations: our own mistakes are found when the set is made.
func TestDeclarations(t *testing.T) {
	bad := func(build func(f *Form)) *Calculator {
		return &Calculator{ID: "bad", Title: "t", Question: "q", Summary: "s", Build: func(f *Form, _ *book.Book) Run {
			build(f)
			return Run{Point: func(*Point) {}, Say: func(*Result, *Answer) {}}
		}}
	}
	var v unit.Length
	for _, c := range []struct {
		build func(f *Form)
		want  string
	}{
		{func(f *Form) { Ask(f, &v, "A: l\nis 1 mm") }, "field name \"A\" is not a public name"},
		{func(f *Form) { Ask(f, &v, "a: l") }, "has no default and is not optional"},
		{func(f *Form) { Ask(f, &v, "a: l\nis 1") }, "has no unit"},
		{func(f *Form) { Ask(f, &v, "a\nis 1 mm") }, "has no label"},
		{func(f *Form) { Ask(f, &v, "a: l\nis 1 mm\nmin 1 mm") }, "a limit lacks its value or its reason"},
		{func(f *Form) { Tell(f, &v, "o: l\nrises a") }, "declares a direction in \"a\", which takes no range"},
	} {
		if _, err := NewSet(&book.Book{}, bad(c.build)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v, want %s", err, c.want)
		}
	}
	if _, err := NewSet(&book.Book{}, trial(0), trial(0)); err == nil || !strings.Contains(err.Error(), "declared twice") {
		t.Errorf("%v", err)
	}
	if s, err := NewSet(&book.Book{}, trial(0)); err != nil || len(s.IDs()) != 1 {
		t.Errorf("%v", err)
	}
}
