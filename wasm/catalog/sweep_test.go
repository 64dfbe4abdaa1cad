package catalog

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/names"
	"kerfbook/testdata/sweep"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/panel"
	"kerfbook/wasm/unit"
)

// TestSweep goes through every calculator: it answers its defaults, answers at
// each limit, refuses beyond it with the limit and its reason, cites known
// sources, draws, and its drawing's labels do not meet.
func TestSweep(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	works := bibliography(t)
	for _, c := range set.All() {
		t.Run(c.ID, func(t *testing.T) {
			rep := c.Eval(b, calc.Input{})
			if rep.Answer == nil {
				t.Fatalf("defaults refused: %v", rep.Problems)
			}
			a := rep.Answer
			if a.Headline == "" || len(a.Values) == 0 || len(a.Steps) == 0 {
				t.Errorf("an answer has a headline, values and steps: %q %d %d", a.Headline, len(a.Values), len(a.Steps))
			}
			for _, s := range a.Sources {
				if !works[s.Key] {
					t.Errorf("cites %q, which the bibliography does not have", s.Key)
				}
			}
			for _, st := range a.Steps {
				switch st.Source {
				case "geometry", "definition", "mechanics", "Ohm's law", "electrostatics", "rule of mixtures":
				default:
					if !works[st.Source] {
						t.Errorf("the line %q has the source %q", st.Name, st.Source)
					}
				}
			}
			if a.Figure == nil || a.Figure.Alt == "" {
				t.Fatal("no figure, or none in words")
			}
			for _, fault := range panel.Conflicts(a.Figure) {
				t.Errorf("figure: %s", fault)
			}
			fields, _ := c.Describe(b)
			for _, f := range fields {
				for _, l := range f.Limits {
					sweepLimit(t, c, f, l)
				}
				for _, o := range f.Options {
					if f.Shape == calc.ChoiceShape {
						r := c.Eval(b, calc.Input{Values: map[string]string{f.Name: o.Value}, Strict: true})
						if r.Answer == nil && o.Value == "own" && strings.HasPrefix(r.Problems[0].Text, "no drawing was given") {
							continue // the reader's own drawing is wanted first
						}
						if r.Answer == nil && !noNumber(r) {
							t.Errorf("%s=%s with defaults is refused: %v", f.Name, o.Value, r.Problems)
						}
					}
				}
			}
		})
	}
}

func sweepLimit(t *testing.T, c *calc.Calculator, f calc.Field, l calc.Limit) {
	b := readBook(t)
	text := l.Min + l.Max
	rd, err := unit.Read(text, f.Kind, unit.Options{Unit: f.Kind.Base()})
	if err != nil {
		t.Fatalf("limit %q: %v", text, err)
	}
	v := rd.Range.Likely
	step := math.Max(math.Abs(v)*0.01, 0.001)
	if f.Kind == unit.CountKind {
		step = 1
	}
	beyond := v + step
	if l.Min != "" {
		beyond = v - step
	}
	say := func(x float64) string {
		return strings.TrimSpace(unit.Print(f.Kind, x, unit.Style{Unit: f.Kind.Base(), Decimals: 9, Trim: true}))
	}
	problem := func(text string) string {
		rep := c.Eval(b, calc.Input{Values: map[string]string{f.Name: text}, Strict: true})
		s, _ := rep.Field(f.Name)
		return s.Problem
	}
	if !l.Open {
		if p := problem(say(v)); p != "" {
			t.Errorf("%s at its limit %s is refused: %s", f.Name, text, p)
		}
	}
	p := problem(say(beyond))
	if !strings.Contains(p, text) || !strings.Contains(p, l.Reason) {
		t.Errorf("%s beyond its limit %s says %q; the limit and its reason are wanted", f.Name, text, p)
	}
}

// TestDirections proves the declared directions: over seeded boxes, 1,000 a
// calculator in the whole sweep, the answer at random points inside lies in the
// range that the declaration gives.
func TestDirections(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	want := sweep.Part(1000)
	for _, c := range set.All() {
		rng := rand.New(rand.NewPCG(7, 11)) // the tenth of a calculator's boxes are the first of them
		fields, _ := c.Describe(b)
		if !slices.ContainsFunc(fields, func(f calc.Field) bool { return f.Ranges && !f.Demand && f.Shape == calc.QuantityShape }) {
			continue // nothing in it ranges
		}
		boxes := 0
		for try := 0; boxes < want && try < 6*want; try++ {
			wide, inside := map[string]string{}, map[string]string{}
			for _, f := range fields {
				if f.Shape == calc.ChoiceShape {
					wide[f.Name] = f.Options[rng.IntN(len(f.Options))].Value
					if f.Name == "machine" && rng.IntN(5) > 0 {
						wide[f.Name] = "any" // a card refuses many of the choices made blindly
					}
					inside[f.Name] = wide[f.Name]
				}
				if !f.Ranges || f.Demand || f.Shape != calc.QuantityShape || f.Usual[0] == "" || rng.IntN(2) == 0 {
					continue
				}
				lo, hi := usual(t, f)
				x := lo + (hi-lo)*rng.Float64()
				y := math.Min(hi, x+(hi-lo)*rng.Float64()*0.3)
				z := x + (y-x)*rng.Float64()
				say := func(v float64) string {
					return unit.Print(f.Kind, v, unit.Style{Unit: f.Kind.Base(), Decimals: 9, Trim: true})
				}
				wide[f.Name] = strings.TrimSuffix(say(x), " "+f.Kind.Base()) + " to " + say(y)
				inside[f.Name] = say(z)
			}
			ranges := slices.ContainsFunc(fields, func(f calc.Field) bool { return strings.Contains(wide[f.Name], " to ") })
			if !ranges {
				continue
			}
			big := c.Eval(b, calc.Input{Values: wide, Strict: true})
			small := c.Eval(b, calc.Input{Values: inside, Strict: true})
			if big.Answer == nil || small.Answer == nil {
				continue
			}
			boxes++
			for _, fault := range panel.Conflicts(small.Answer.Figure) {
				t.Errorf("%s: figure for %v: %s", c.ID, inside, fault)
			}
			for _, f := range small.Answer.Values {
				g, ok := big.Answer.Value(f.Name)
				if !ok {
					continue
				}
				tol := 1e-6 * math.Max(math.Abs(g.Range.High-g.Range.Low), math.Abs(g.Range.High))
				if slices.ContainsFunc(big.Answer.Notes, func(n string) bool { return strings.Contains(n, "were left out") }) {
					// Among impossible combinations the end of a range is found by
					// trial: to a tenth of the width, and the note says what was left out.
					tol = 0.1 * math.Max(g.Range.High-g.Range.Low, 0.05*math.Abs(g.Range.High))
				}
				if f.Range.Likely < g.Range.Low-tol || f.Range.Likely > g.Range.High+tol {
					t.Fatalf("%s: %s is %.9g at %v, outside %.9g to %.9g for %v", c.ID, f.Name, f.Range.Likely, inside, g.Range.Low, g.Range.High, wide)
				}
			}
		}
		if boxes < want {
			t.Errorf("%s: only %d of %d boxes could be tried", c.ID, boxes, want)
		}
	}
}

func usual(t *testing.T, f calc.Field) (lo, hi float64) {
	at := func(text string) float64 {
		rd, err := unit.Read(text, f.Kind, unit.Options{Unit: f.Kind.Base()})
		if err != nil {
			t.Fatal(err)
		}
		return rd.Range.Likely
	}
	return at(f.Usual[0]), at(f.Usual[1])
}

// BenchmarkEval measures one answer of each calculator for its defaults.
func BenchmarkEval(b *testing.B) {
	bk := readBook(b)
	set, err := New(bk)
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range set.All() {
		b.Run(c.ID, func(b *testing.B) {
			for b.Loop() {
				c.Eval(bk, calc.Input{})
			}
		})
	}
}

// TestPublicNames holds every public name against the list that may only grow.
func TestPublicNames(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, c := range set.All() {
		fields, outs := c.Describe(b)
		for _, id := range append([]string{c.ID}, c.Aliases...) {
			have["calculator "+id] = true
		}
		for _, f := range fields {
			for _, n := range append([]string{f.Name}, f.Aliases...) {
				have["field "+c.ID+" "+n] = true
			}
			for _, o := range f.Options {
				if f.Shape == calc.ChoiceShape {
					have["option "+c.ID+" "+f.Name+" "+o.Value] = true
				}
			}
		}
		for _, o := range outs {
			have["answer "+c.ID+" "+o.Name] = true
		}
	}
	for _, tb := range b.Tables() {
		have["table "+tb.Name+" "+strings.Join(tb.Keys, " ")] = true
	}
	names.Hold(t, "../../testdata/public-names.txt", have, func(name string) bool {
		return !strings.HasPrefix(name, "page ") && !strings.HasPrefix(name, "json ") // cmd/kerfbook looks at those
	})
}

// TestNamesItsInputs: the band of every calculator says what its answer is for;
// a line "mark …" in the declaration of a field brings it there.
func TestNamesItsInputs(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range set.All() {
		rep, named := c.Eval(b, calc.Input{}), ""
		for _, s := range panel.Slots(rep, unit.Metric) {
			if s.Name == "band" {
				_, named, _ = strings.Cut(s.Value, `<p class="for">`)
				named, _, _ = strings.Cut(named, "</p>")
			}
		}
		if n := len(strings.Split(named, " · ")); named == "" || n > 6 || strings.HasSuffix(named, "and more") {
			t.Errorf("%s names for its usual values: %q; one to six inputs are wanted, marked in its declaration", c.ID, named)
		}
	}
}
