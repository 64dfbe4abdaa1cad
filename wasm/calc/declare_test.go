package calc

import (
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// shop is a book with two machine cards and one measured cut.
func shop(t *testing.T) *book.Book {
	t.Helper()
	b, err := book.Read([]book.File{
		{Name: "machines.csv", Text: "# title: Machines\n# key: machine\nmachine,name,dielectrics,wire_from_mm,wire_to_mm,height_mm,remark,source,place,provenance\nbig,Big,water,0.1,0.3,,,,,invented\nfine,Fine,oil,0.02,0.1,,,,,invented\n"},
		{Name: "wires.csv", Text: "# title: Wires\n# key: wire\nwire,diameter_mm,source,place,provenance\n0.1,0.1,,,common practice\n0.25,0.25,,,common practice\n"},
		{Name: "cuts.csv", Text: "# title: Cuts\n# key: cut pass\ncut,pass,passes,machine,material,thickness_mm,wire_mm,dielectric,flushing,rate_mm2min,by,on,job,source,place,provenance\nA,1,1,big,steel,40,0.25,water,both,150,,,,,,measured\nB,1,1,big,steel,90,0.25,water,both,120,,,,,,measured\n"}})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func asked() *Calculator {
	return &Calculator{ID: "asked", Title: "Asked", Question: "What is asked?", Summary: "A calculator declared by text.", Build: func(f *Form, b *book.Book) Run {
		var machine, dielectric, verdict string
		var wire, thick unit.Length
		var rate unit.AreaRate
		var given bool
		AskMachine(f, b, &machine)
		AskWire(f, b, &wire)
		AskDielectric(f, &dielectric)
		AskThickness(f, &thick)
		AskGiven(f, &rate, &given, "rate: Area rate\nkeys mm²/min\nif dielectric water\nabove 0 mm²/min: nothing is cut\nranges").Fallback = func() Fallback {
			switch {
			case machine == "big" && thick == 40:
				return Fallback{Range: unit.Range{Low: 120, Likely: 150, High: 180}, Note: "read", Measured: true}
			case thick > 500:
				return Fallback{Wanted: "nobody knows"}
			}
			return Fallback{Range: unit.Range{Low: 50, Likely: 100, High: 200}, Note: "general"}
		}
		TellChoice(f, &verdict, "verdict: Can it\nword yes: Yes")
		Tell(f, &rate, "out: Rate\nmain\nrises rate\nunit mm²/min 1")
		return Run{Point: func(p *Point) {
			verdict = "yes"
			p.Work("out | rate | as typed | {rate} on {thickness:mm 1}, {1} | source\nlost | nothing | | | ", "extra")
		}, Say: func(r *Result, a *Answer) {
			a.Verdict, a.Headline, a.General = Yes, r.Text("Yes, {out} with {wire:small}: {dielectric}, {out.low} to {out.high}, {verdict} {no-such}"), true
			a.Cites("key; place; what\nbad line")
		}}
	}}
}

func eval(t *testing.T, strict bool, values map[string]string) *Reply {
	t.Helper()
	b := shop(t)
	set, err := NewSet(b, asked())
	if err != nil {
		t.Fatal(err)
	}
	return set.All()[0].Eval(b, Input{Values: values, Strict: strict})
}

func TestText(t *testing.T) {
	a := eval(t, true, nil).Answer
	if want := "Yes, 100 mm²/min (50 to 200) with 250 µm: water, 50 mm²/min to 200 mm²/min, Yes {no-such}"; a.Headline != want {
		t.Errorf("%q\n%q is wanted", a.Headline, want)
	}
	if len(a.Steps) != 1 || a.Steps[0] != (Step{For: "out", Name: "rate", Formula: "as typed", Put: "100 mm²/min on 20 mm, extra", Equals: "100 mm²/min", Source: "source"}) {
		t.Errorf("%+v", a.Steps)
	}
	if len(a.Sources) != 1 || !a.General {
		t.Errorf("%v %v", a.Sources, a.General)
	}
}

// TestCard: what the chosen card does not have is not offered, and who has it is
// said; a quantity beyond it is answered with No.
func TestCard(t *testing.T) {
	r := eval(t, false, map[string]string{"machine": "fine", "wire": "0.25 mm", "dielectric": "water"})
	if d, _ := r.Field("dielectric"); d.Text != "oil" || len(d.Off) != 1 || d.Notes[0] != "Not on Fine: water. Big would allow it. Taken instead: oil." {
		t.Errorf("%+v", d)
	}
	a := r.Answer
	if a.Verdict != No || a.Headline != "No, not on Fine" || !strings.HasPrefix(a.Lead, "Fine takes wire from 0.02 mm up to 0.1 mm. Big would allow this. ") {
		t.Errorf("%q %q", a.Headline, a.Lead)
	}
	if p, _ := a.Pick("verdict"); p.Likely.Value != "not-on-machine" || len(p.All) != 1 {
		t.Errorf("%+v", p)
	}
	if r := eval(t, true, map[string]string{"machine": "fine", "dielectric": "water"}); r.Answer != nil || len(r.Problems) != 1 || r.Problems[0].Field != "dielectric" {
		t.Errorf("a link's water on an oil machine is not refused: %+v", r.Problems)
	}
	if r := eval(t, true, map[string]string{"machine": "none"}); r.Answer != nil || len(r.Problems) == 0 || r.Problems[0].Field != "machine" {
		t.Errorf("an unknown machine is not refused: %+v", r.Problems)
	}
}

// TestMeasured: what was read makes the answer one of the reader's machine; where
// nothing is known the field asks, and hidden it does not.
func TestMeasured(t *testing.T) {
	near := eval(t, true, map[string]string{"machine": "big", "thickness": "40 mm"})
	if f, _ := near.Answer.Value("out"); f.Range.Likely != 150 || near.Answer.General || !near.Answer.Measured {
		t.Errorf("%+v %v", f.Range, near.Answer.General)
	}
	if r := eval(t, true, map[string]string{"machine": "big", "thickness": "60 mm"}); !r.Answer.General || r.Answer.Measured {
		t.Error("what nobody read is taken as read")
	}
	none := eval(t, true, map[string]string{"thickness": "600 mm"})
	if none.Answer != nil || len(none.Problems) != 1 || none.Problems[0] != (Problem{"rate", "Area rate is wanted: nobody knows"}) {
		t.Errorf("%+v", none.Problems)
	}
	if r := eval(t, true, map[string]string{"thickness": "600 mm", "dielectric": "oil"}); r.Answer == nil {
		t.Errorf("a hidden field asks: %+v", r.Problems)
	}
}

// TestDeclareFaults: a line that is not known is a fault of ours, and said.
func TestDeclareFaults(t *testing.T) {
	bad := &Calculator{ID: "bad", Title: "Bad", Question: "Bad?", Summary: "Bad.", Build: func(f *Form, b *book.Book) Run {
		var x unit.Length
		Ask(f, &x, "x: X\nis 1 mm\nkeys mm\ncolour red")
		Tell(f, &x, "y: Y\nfalls x\nunit mm many")
		return Run{Point: func(*Point) {}, Say: func(*Result, *Answer) {}}
	}}
	_, err := NewSet(&book.Book{}, bad)
	for _, want := range []string{`a field's line "colour red" is not known`, `a printed form is a unit and its decimals, not "mm many"`, `declares a direction in "x", which takes no range`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v\nlacks %s", err, want)
		}
	}
}

// TestOrdered: a list of readings keeps its order and its repeats; another list
// is a set.
func TestOrdered(t *testing.T) {
	for text, want := range map[string]int{"sizes: Sizes\nkeys length\nis 2; 1; 2 mm\nordered": 212, "sizes: Sizes\nkeys length\nis 2; 1; 2 mm": 12} {
		var got unit.Ratio
		c := &Calculator{ID: "list", Title: "List", Question: "Which?", Summary: "A list.", Build: func(f *Form, b *book.Book) Run {
			var sizes []unit.Length
			AskList(f, &sizes, text)
			Tell(f, &got, "out: Digits")
			return Run{Point: func(p *Point) {
				got = 0
				for _, v := range sizes {
					got = 10*got + unit.Ratio(v)
				}
			}, Say: func(r *Result, a *Answer) {}}
		}}
		b := shop(t)
		if _, err := NewSet(b, c); err != nil {
			t.Fatal(err)
		}
		if c.Eval(b, Input{}); int(got) != want {
			t.Errorf("%q reads as %g, not %d", text, got, want)
		}
	}
}

// TestWord: one line of words, at most sixty characters, none of them a control
// character.
func TestWords(t *testing.T) {
	var word string
	c := &Calculator{ID: "words", Title: "t", Question: "q", Summary: "s", Build: func(f *Form, _ *book.Book) Run {
		var out unit.Count
		AskWords(f, &word, "part: Part")
		Tell(f, &out, "out: Out\ngiven")
		return Run{Point: func(*Point) {}, Say: func(r *Result, a *Answer) { r.Give(a, "out", unit.Exactly(float64(len(word)))) }}
	}}
	long := strings.Repeat("ü", 60)
	for _, tc := range []struct{ text, want string }{
		{"", ""}, {"Comb die 7 <b>", ""}, {long, ""},
		{long + "x", "Part has at most 60 characters, this has 61"},
		{"a\tb", "Part is one line of printable text"},
		{"a\u0085b", "Part is one line of printable text"},
		{"a\u2028b", "Part is one line of printable text"},
	} {
		rep := c.Eval(nil, Input{Values: map[string]string{"part": tc.text}, Strict: true})
		st, _ := rep.Field("part")
		if st.Problem != tc.want {
			t.Errorf("%q: %q, want %q", tc.text, st.Problem, tc.want)
		}
		if tc.want != "" {
			continue
		}
		if v, ok := rep.Answer.Value("out"); !ok || v.Range.Likely != float64(len(tc.text)) || st.Text != tc.text {
			t.Errorf("%q came back as %q, given %v", tc.text, st.Text, v)
		}
	}
}
