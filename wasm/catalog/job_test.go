package catalog

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/job"
	"kerfbook/wasm/calc/start"
	"kerfbook/wasm/unit"
)

// draw makes a job by chance; every value has its unit.
func draw(rng *rand.Rand) map[string]string {
	one := func(words ...string) string { return words[rng.IntN(len(words))] }
	span := func(low, high float64) float64 { return low * math.Pow(high/low, rng.Float64()) }
	mm := func(v float64) string { return unit.Fixed(v, 4) + " mm" }
	radius := span(0.012, 0.06) // where wires run out
	if rng.IntN(2) == 0 {
		radius = span(0.06, 1)
	}
	v := map[string]string{"radius": mm(radius), "asks": one("maximum", "plus-minus", "minimum", "none"), "thickness": mm(span(1, 200)), "material": one("steel", "carbide", "titanium", "aluminium", "stainless"),
		"finish": unit.Fixed(span(0.12, 3), 3) + " µm", "size": "20 ±" + unit.Fixed(span(0.001, 0.05), 4) + " mm", "length": mm(span(10, 500)), "kind": one("opening", "punch"), "condition": one("hardened", "annealed")}
	if rng.IntN(4) == 0 {
		v["slot"] = mm(span(0.05, 2))
	}
	if rng.IntN(4) == 0 {
		v["taper"] = unit.Fixed(rng.Float64()*20, 2) + "°"
	}
	return v
}

func with(v map[string]string, name, text string) map[string]string {
	out := map[string]string{}
	for k, t := range v {
		out[k] = t
	}
	out[name] = text
	return out
}

func sheetOf(t *testing.T, set *calc.Set, b *book.Book, v map[string]string) *calc.Answer {
	t.Helper()
	c, _ := set.Find("job")
	rep := c.Eval(b, calc.Input{Values: v, Strict: true})
	if rep.Answer == nil {
		t.Fatalf("%v is refused: %v", v, rep.Problems)
	}
	return rep.Answer
}

func likely(t *testing.T, a *calc.Answer, name string) float64 {
	t.Helper()
	v, ok := a.Value(name)
	if !ok {
		t.Fatalf("no answer %s", name)
	}
	return v.Range.Likely
}

// TestJobProperties: over seeded jobs, 300 in the whole sweep, a finer finish and a smaller
// corner never make a better verdict or a sure piece cheaper, and a thicker part never takes
// less time with the same wire.
func TestJobProperties(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(5, 8))
	for range sweep.Part(300) {
		v := draw(rng)
		base := sheetOf(t, set, b, v)
		less := func(text string) string {
			rd, _ := unit.Read(text, unit.LengthKind, unit.Options{})
			return unit.Fixed(rd.Range.Likely*(0.3+0.7*rng.Float64()), 4) + " mm"
		}
		ra, _ := unit.Read(v["finish"], unit.RoughnessKind, unit.Options{})
		finer := sheetOf(t, set, b, with(v, "finish", unit.Fixed(ra.Range.Likely*(0.2+0.8*rng.Float64()), 4)+" µm"))
		rank := map[calc.Verdict]int{calc.Yes: 0, calc.OnlyIf: 1, calc.No: 2}
		harder := func(what string, a *calc.Answer) {
			if rank[a.Verdict] < rank[base.Verdict] {
				t.Errorf("%s turns %s into %s: %v", what, base.Verdict, a.Verdict, v)
			}
			if a.Verdict == calc.Yes && base.Verdict == calc.Yes && likely(t, a, "cost") < likely(t, base, "cost")*(1-0.05) { // what may fail, a tenth at most, is in the cost of a good piece
				t.Errorf("%s costs %g, not %g: %v", what, likely(t, a, "cost"), likely(t, base, "cost"), v)
			}
		}
		harder("a finer finish", finer)
		for _, a := range []*calc.Answer{base, finer} { // one number, said twice
			p := a.Sheet.Process
			if p == nil || !told(a, "time") {
				continue
			}
			if h, c := likely(t, a, "time")/3600, likely(t, a, "cost"); math.Abs(p.Decided.Hours.Likely/h-1) > 1e-3 || math.Abs(p.Decided.Cost/c-1) > 1e-3 {
				t.Errorf("weighed by %g h and %g, the sheet says %g h and %g: %v", p.Decided.Hours.Likely, p.Decided.Cost, h, c, v)
			}
		}
		smaller := sheetOf(t, set, b, with(v, "radius", less(v["radius"])))
		harder("a smaller corner", smaller)
		// A card brings cuts of its machine, which count up to some thickness and not
		// beyond: with one the claim would not hold.
		v["use-wire"] = unit.Fixed(likely(t, base, "wire"), 3) + " mm"
		thick, thin := sheetOf(t, set, b, v), sheetOf(t, set, b, with(v, "thickness", less(v["thickness"])))
		if !told(thin, "time") || !told(thick, "time") { // a range over ten times wide is no number
			continue
		}
		if likely(t, thin, "time") > likely(t, thick, "time")*(1+1e-9) {
			t.Errorf("the thinner part takes longer with the same wire: %v: %v and %v s", v, likely(t, thin, "time"), likely(t, thick, "time"))
		}
	}
}

// told reports whether an answer has a number.
func told(a *calc.Answer, name string) bool {
	_, ok := a.Value(name)
	return ok
}

// TestJobOverrides: a decision of the reader's own changes no line that does not
// depend on it, and is marked.
func TestJobOverrides(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := set.Find("job")
	fields, _ := c.Describe(b)
	rng := rand.New(rand.NewPCG(9, 4))
	fields = slices.DeleteFunc(slices.Clone(fields), func(f calc.Field) bool { return !strings.HasPrefix(f.Name, "use-") })
	alone, deps := map[string]int{}, job.From(b)
	for i := range max(len(fields), sweep.Part(300)) { // every decision has its turn, in the tenth too
		v, f := draw(rng), fields[i%len(fields)]
		name := strings.TrimPrefix(f.Name, "use-")
		value := []string{"0.1 mm", "0.2 mm", "0.25 mm"}[rng.IntN(3)]
		if name == "passes" {
			value = string(rune('1' + rng.IntN(6)))
		} else if f.Shape == calc.ChoiceShape {
			value = f.Options[1+rng.IntN(len(f.Options)-1)].Value
		}
		before, after := sheetOf(t, set, b, v).Sheet, sheetOf(t, set, b, with(v, f.Name, value)).Sheet
		reached := map[string]bool{name: true}
		for grew := true; grew; { // what depends on it, through others too
			grew = false
			for _, l := range append(slices.Clone(before.Lines), after.Lines...) {
				if !reached[l.Name] && slices.ContainsFunc(deps[l.Name], func(from string) bool { return reached[from] }) {
					reached[l.Name], grew = true, true
				}
			}
		}
		for _, l := range after.Lines {
			if l.Name == name && !l.Own {
				t.Errorf("%s=%s is not marked as the reader's own", f.Name, value)
			}
			if reached[l.Name] {
				continue
			}
			alone[name]++
			old, ok := before.Line(l.Name)
			if !ok || old.What != l.What || old.Range != l.Range || old.Because != l.Because || old.Breaks != l.Breaks {
				t.Errorf("%s=%s changes the line %s, which does not depend on it:\n%+v\n%+v\n%v", f.Name, value, l.Name, old, l, v)
			}
		}
	}
	for _, name := range []string{"start", "slug", "lead-in", "direction", "relax", "tension", "polarity", "wire-type"} {
		if alone[name] == 0 {
			t.Errorf("every line depends on %s: the test could not fail", name)
		}
	}
}

// TestJobSays: jobs from trivial to impossible; what cannot be cut as printed is
// an answer that says what would make it possible.
func TestJobSays(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name           string
		in             map[string]string
		headline, lead string
	}{
		{"trivial", map[string]string{}, "Yes, with 0.25 mm in water", "Wire 0.25 mm, hard brass, in water, 4 passes, Ra about 0.44 µm, about 0.94 h a piece."},
		{"comb die of carbide", map[string]string{"radius": "0.06 mm", "material": "carbide", "thickness": "10 mm", "finish": "0.2 µm", "size": "12 ±0.003 mm"},
			"Only if: see what it takes", "Reading a size by two touches spends 47 % of half the tolerance: agree how it is measured, and with what. Wire 0.05 mm, brass-coated steel, in oil, 4 passes, Ra about 0.071 µm, about 14.2 h a piece."},
		{"no oil in the shop", map[string]string{"radius": "0.05 mm", "oil": "no"}, "Only if: see what it takes", "No card here takes 0.07 mm in water at a height of 20 mm: find a machine that does. Wire 0.07 mm, brass-coated steel, in water, 3 passes, Ra about 0.23 µm, about 8.99 h a piece."},
		{"sharp", map[string]string{"asks": "sharp"}, "No, not as printed", "A wire leaves a radius: ask for R 0.1404 mm with 0.25 mm, or R 0.0134 mm, of which the finest wire that may be taken is sure. Wire 0.25 mm, hard brass, in water, 4 passes, Ra about 0.44 µm, about 0.94 h a piece."},
		{"too fine for the card", map[string]string{"radius": "0.06 mm", "machine": "slip"}, "No, not as printed",
			"0.2 mm leaves R 0.1115 mm, the print allows 0.06 mm. The finest wire that may be taken is sure of R 0.1103 mm: ask for that, if the print can bear it, or take Loft, which runs a finer wire. Wire 0.2 mm, hard brass, in water, 3 passes, Ra about 0.63 µm, about 1.04 h a piece."},
		{"no hole", map[string]string{"start-hole": "no"}, "Only if: see what it takes", "An opening without a hole cannot be begun: ask for a hole in what falls out, or for one that is there. Wire 0.25 mm, hard brass, in water, 4 passes, Ra about 0.44 µm, about 0.94 h a piece."},
		{"own wire", map[string]string{"radius": "0.16 mm", "use-wire": "0.25 mm"}, "Yes, with 0.25 mm in water", "Wire 0.25 mm, hard brass, in water, 4 passes, Ra about 0.44 µm, about 0.94 h a piece."},
		{"oil on a card without", map[string]string{"machine": "quay", "use-dielectric": "oil"}, "No, not as printed", "Your card has no oil: choose another card, or the other dielectric. Wire 0.25 mm, hard brass, in oil, 3 passes, Ra about 0.78 µm, about 1.1 h a piece."},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := sheetOf(t, set, b, c.in)
			if a.Headline != c.headline || a.Lead != c.lead {
				t.Errorf("says  %s\n%s\nwants %s\n%s", a.Headline, a.Lead, c.headline, c.lead)
			}
			for _, l := range a.Sheet.Lines {
				if l.What == "" || l.Because == "" || l.Page == "" || l.Sure == "" || strings.ContainsAny(l.What+l.Range+l.Because, "{}[]—") {
					t.Errorf("the line is not whole: %+v", l)
				}
			}
		})
	}
}

// TestJobAfterTheCut: the cut's results stand beside what was predicted, with the
// correction's sign in words and a line for the table of cuts.
func TestJobAfterTheCut(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	a := sheetOf(t, set, b, map[string]string{"machine": "quay", "got-size-error": "4 µm", "got-ra": "1.1 µm", "got-time": "20 min"})
	table := a.Tables[len(a.Tables)-1]
	var got []string
	for _, r := range table.Rows {
		got = append(got, r[0].Text+": "+r[2].Text+" "+r[3].Text)
	}
	want := []string{"Size, off by: 4 µm inside the tolerance", "Ra: 1.1 µm above what was predicted", "Time of one piece: 0.33 h below what was predicted"}
	if !slices.Equal(got, want) {
		t.Errorf("says %q, want %q", got, want)
	}
	said := strings.Join(a.Notes, " ")
	if !strings.Contains(said, "More offset, by 2 µm: the opening is too large.") {
		t.Errorf("the correction is not said: %s", said)
	}
	if i := slices.IndexFunc(a.Files, func(f calc.File) bool { return f.Name == "cuts.csv" }); i < 0 || !strings.Contains(a.Files[i].Text, ",quay,steel,20,0.25,water,") {
		t.Errorf("no line for the table of cuts: %v", a.Files)
	}
}

// TestJobUntimed: what the sheet hands to the calculator of test cuts has no time of
// a pass, so neither its sentence nor its line for the table of cuts has a rate.
func TestJobUntimed(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, passes := range []string{"1", "3"} {
		a := sheetOf(t, set, b, map[string]string{"machine": "quay", "got-size-error": "4 µm", "use-passes": passes})
		i := slices.IndexFunc(a.Files, func(f calc.File) bool { return f.Name == "cuts.csv" })
		if i < 0 {
			t.Fatal("no line for the table of cuts")
		}
		lines := strings.Split(a.Files[i].Text, "\n")
		head, row := strings.Split(lines[2], ","), strings.Split(lines[3], ",")
		for k, name := range head {
			if (name == "rate_mm2min" || name == "speed_mmmin") && row[k] != "" {
				t.Errorf("%s passes: %s is %s, and nobody timed the pass", passes, name, row[k])
			}
			if name == "gap_um" && row[k] == "" {
				t.Errorf("%s passes: the gap is missing", passes)
			}
		}
		for _, n := range a.Notes {
			if strings.Contains(n, "swept") {
				t.Errorf("%s passes: says %q, and nobody timed the pass", passes, n)
			}
		}
	}
	c, _ := set.Find("trial")
	rep := c.Eval(b, calc.Input{Values: map[string]string{"time": ""}, Strict: true})
	if _, ok := rep.Answer.Value("rate"); ok || strings.Contains(rep.Answer.Lead, "swept") {
		t.Errorf("without a time it says %q", rep.Answer.Lead)
	}
}

// TestJobHasTheirNumbers: what the decisions work out themselves is what the
// calculators of those topics answer.
func TestJobHasTheirNumbers(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	value := func(id, name string, v map[string]string) unit.Range {
		c, _ := set.Find(id)
		rep := c.Eval(b, calc.Input{Values: v, Strict: true})
		if rep.Answer == nil {
			t.Fatalf("%s: %v", id, rep.Problems)
		}
		f, _ := rep.Answer.Value(name)
		return f.Range
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %g, the calculator has %g", what, got, want)
		}
	}
	for _, d := range []unit.Length{0.03, 0.1, 0.25} {
		wire := unit.Fixed(float64(d), 3) + " mm"
		for _, h := range []unit.Length{2, 40, 120} {
			height := unit.Fixed(float64(h), 1) + " mm"
			for _, led := range []string{"pushed", "jet"} {
				got, want := start.Least(d, h, 0, led == "jet"), value("start", "smallest", map[string]string{"wire": wire, "thickness": height, "led": led})
				near("smallest hole", got.Low, want.Low)
				near("smallest hole", got.High, want.High)
			}
			left := calc.LeftRange(b, book.Cut{Material: "steel", Dielectric: "water", Thickness: h, Wire: d})
			got, want := start.Most(2, left), value("start", "largest", map[string]string{"wire": wire, "thickness": height, "distance": "2 mm"})
			near("largest hole", got.Low, want.Low)
			near("largest hole", got.High, want.High)
		}
	}
	// A job whose wall is just hollower than its tolerance, and just not.
	v := map[string]string{"asks": "none", "thickness": "55 mm", "use-wire": "0.05 mm", "use-wire-type": "steel-coated", "use-passes": "3", "finish": "1 µm"}
	pull := value("wire", "tension-skim", map[string]string{"wire": "0.05 mm", "kind": "steel-coated"}).Likely
	barrel := value("bow", "barrel", map[string]string{"thickness": "55 mm", "wire": "0.05 mm", "kind": "steel-coated", "pass": "skim", "tension": unit.Fixed(pull, 9) + " N", "other": unit.Fixed(pull, 9) + " N"}).Likely
	for _, c := range []struct {
		width float64
		bends bool
	}{{barrel * 0.999, true}, {barrel * 1.001, false}} {
		l, _ := sheetOf(t, set, b, with(v, "size", "20 ±"+unit.Fixed(c.width/2, 9)+" mm")).Sheet.Line("can")
		if strings.Contains(l.Because, "hollow or round") != c.bends {
			t.Errorf("a wall hollow by %g mm in %g mm: %s", barrel, c.width, l.Because)
		}
	}
	// A piece that is sure to be done before the spool is does not ask for another.
	life := value("wire", "life", map[string]string{"wire": "0.25 mm", "kind": "brass-hard"}).Likely / 3600
	for _, c := range []struct {
		length string
		lasts  bool
	}{{"500 mm", true}, {"2000 mm", false}} {
		a := sheetOf(t, set, b, map[string]string{"asks": "none", "use-wire": "0.25 mm", "length": c.length, "thickness": "60 mm"})
		l, _ := a.Sheet.Line("spool")
		time, _ := a.Value("time")
		if hours := time.Range.High / 3600; (hours < life) != c.lasts || strings.Contains(l.What, "plan the change") == c.lasts {
			t.Errorf("a piece of up to %.1f h, a spool of %.1f h: %s", hours, life, l.What)
		}
	}
}

// TestJobDrawing: what a drawing decides stands on the sheet; what it does not
// have is left as typed, and said.
func TestJobDrawing(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	comb := `<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="6mm" viewBox="0 0 10 6"><path d="M0 0H10V6`
	for i := 7; i >= 0; i-- {
		at := func(v float64) string { return unit.Fixed(float64(i)+1.3+v, 2) }
		comb += "H" + at(0.15) + "V2.06A0.06 0.06 0 0 0 " + at(0.09) + " 2H" + at(-0.09) + "A0.06 0.06 0 0 0 " + at(-0.15) + " 2.06V6"
	}
	comb += `H0Z"/></svg>`
	plate := "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n90\n5\n70\n1\n10\n0\n20\n0\n10\n10\n20\n0\n10\n10\n20\n8\n42\n0.41421356237309503\n10\n8\n20\n10\n10\n0\n20\n10\n0\nENDSEC\n0\nEOF\n"
	for _, c := range []struct {
		name, drawing, kind, drives, note string
	}{
		{"comb", comb, "punch", "The inside corner, R 0.06 mm at most, 90°", "The drawing decides: radius 0.06 mm; slot 0.3 mm; length 95.9218 mm. What was typed for these is not used."},
		{"DXF", plate, "opening", "Nothing on the print: the shop chooses", "The drawing decides: radius 2 mm; angle 90°; length 38.1285 mm. What was typed for these is not used."},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := sheetOf(t, set, b, map[string]string{"drawing": c.drawing, "kind": c.kind, "length": "500 mm"})
			l, _ := a.Sheet.Line("drives")
			if l.What != c.drives || !slices.Contains(a.Notes, c.note) {
				t.Errorf("says  %s\n%q\nwants %s\n%s", l.What, a.Notes, c.drives, c.note)
			}
		})
	}
	a := sheetOf(t, set, b, map[string]string{"drawing": "no drawing"})
	if !strings.HasPrefix(a.Notes[0], "The drawing was not read, so the numbers typed count: ") {
		t.Errorf("a text that is no drawing: %q", a.Notes)
	}
}

// TestJobThicknessOfCuts: with a card the shop's own cuts count, wherever they were
// made, and a thicker part never takes less time: the law carries a cut on to another
// height, and there is no place where one ends and another takes over.
func TestJobThicknessOfCuts(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []map[string]string{
		{"machine": "quay", "asks": "none", "use-wire": "0.25 mm"},
		{"machine": "quay", "asks": "none", "use-wire": "0.2 mm", "material": "carbide"},
		{"machine": "loft", "asks": "none", "use-wire": "0.05 mm", "material": "carbide"},
		{"machine": "slip", "asks": "none", "use-wire": "0.25 mm", "nozzles": "one-off"},
	} {
		time := 0.0
		for h := 1.0; h <= 60; h *= 1.07 {
			a := sheetOf(t, set, b, with(v, "thickness", unit.Fixed(h, 3)+" mm"))
			now := likely(t, a, "time")
			if now < time*(1-1e-9) {
				t.Errorf("%v: %.2f mm take %.0f s, a thinner part %.0f s", v, h, now, time)
			}
			time = now
		}
	}
}
