package catalog

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/panel"
	"kerfbook/wasm/unit"
)

// ask answers one calculator; a refusal ends the test.
func ask(t *testing.T, b *book.Book, id string, sys unit.System, values map[string]string) *calc.Reply {
	t.Helper()
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := set.Find(id)
	if !ok {
		t.Fatalf("no calculator %q", id)
	}
	rep := c.Eval(b, calc.Input{Values: values, System: sys, Strict: true})
	if rep.Answer == nil {
		t.Fatalf("%s %v is refused: %v", id, values, rep.Problems)
	}
	return rep
}

func value(t *testing.T, rep *calc.Reply, name string) unit.Range {
	t.Helper()
	f, ok := rep.Answer.Value(name)
	if !ok {
		t.Fatalf("no answer %q", name)
	}
	return f.Range
}

// TestCutName: the name of a test cut stands in its row and in its link, an old
// link still answers, and the table reads back what was written.
func TestCutName(t *testing.T) {
	b := readBook(t)
	for _, c := range []struct{ field, name, cell, link string }{
		{"cut", "LQ-12", "LQ-12", "cut=LQ-12"},
		{"cut", "#12 b", `"#12 b"`, "cut=%2312%20b"},
		{"cut", "12", "cut-12", "cut=12"},
		{"number", "7", "cut-7", "cut=7"},
	} {
		rep := ask(t, b, "trial", unit.Metric, map[string]string{c.field: c.name, "machine": "quay"})
		if got := panel.Link(rep); !strings.HasSuffix(got, "&machine=quay&"+c.link) {
			t.Errorf("%s: the link is %q", c.name, got)
		}
		text := rep.Answer.Files[0].Text
		row := text[strings.LastIndex(strings.TrimSuffix(text, "\n"), "\n")+1:]
		if want := c.cell + ",4,4,quay,steel,20,0.25,water,both,,7.5,8,,,,,,slot,,,measured\n"; row != want {
			t.Errorf("%s: the row is %q, want %q", c.name, row, want)
		}
		back, err := book.Read([]book.File{{Name: "cuts.csv", Text: text}})
		if err != nil {
			t.Errorf("%s: the file does not read: %v", c.name, err)
			continue
		}
		if got := back.Table("cuts").Rows[0].Cell("cut"); got != strings.Trim(c.cell, `"`) {
			t.Errorf("%s reads back as %q", c.name, got)
		}
	}
	if form := panel.Form(ask(t, b, "trial", unit.Metric, nil), panel.Options{Prefix: "x"}); !strings.Contains(form, `data-field="cut" data-default="1" data-shape="word" data-also="number"`) {
		t.Error("the form does not name the field's shape and its old name")
	}
}

// TestRoughnessCurve: the drawing of the fitted roughness has every reading as a
// dot on the accent line where the law is exact, its limits where the answer has
// them, and over seeded readings no labels that meet, in both systems.
func TestRoughnessCurve(t *testing.T) {
	b := readBook(t)
	d := ask(t, b, "trial", unit.Metric, map[string]string{"energies": "0.1; 0.8; 6.4 mJ", "readings": "0.5; 1; 2 µm", "energy": "0.8 mJ"}).Answer.Figure
	dots := 0
	line := heavy(d)
	for _, c := range d.Circles {
		if c.R != 3.5 {
			continue
		}
		dots++
		far := math.Inf(1)
		for i := 1; i < len(line); i++ {
			a, q := line[i-1], line[i]
			if c.At.X >= a.X-1e-9 && c.At.X <= q.X+1e-9 {
				far = math.Min(far, math.Abs(a.Y+(q.Y-a.Y)*(c.At.X-a.X)/(q.X-a.X)-c.At.Y))
			}
		}
		if far > 1e-6 {
			t.Errorf("a reading of an exact law stands %g beside the curve", far)
		}
	}
	if dots != 3 || d.H != 510 || !strings.HasSuffix(d.Title, "; below, Ra over energy, both scales in decades") {
		t.Errorf("%d dots, height %g, %q", dots, d.H, d.Title)
	}
	rng := rand.New(rand.NewPCG(3, 5))
	num := func(v float64) string { return unit.Number(v, unit.Style{Decimals: 9, Trim: true}) }
	drawn := 0
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := set.Find("trial")
	n := sweep.Part(600)
	for range n {
		e, ra := "", ""
		start, step, k, n := math.Pow(10, rng.Float64()*7-4), 1.05+rng.Float64()*9, math.Pow(10, rng.Float64()*2-1), rng.Float64()*0.8-0.1
		for i := range 3 + rng.IntN(5) {
			x := start * math.Pow(step, float64(i))
			if x > 9e4 {
				break
			}
			y := math.Min(79, math.Max(0.0061, k*math.Pow(x/start, n)*(0.7+0.6*rng.Float64())))
			e, ra = e+"; "+num(x), ra+"; "+num(y)
		}
		if strings.Count(e, ";") < 3 {
			continue
		}
		in := map[string]string{"energies": e[2:] + " mJ", "readings": ra[2:] + " µm", "energy": num(math.Pow(10, rng.Float64()*6-3)) + " mJ",
			"what": [...]string{"slot", "opening", "punch"}[rng.IntN(3)], "scatter": [...]string{"share", "amount"}[rng.IntN(2)], "confidence": [...]string{"90", "95", "99"}[rng.IntN(3)]}
		rep := c.Eval(b, calc.Input{Values: in, System: [...]unit.System{unit.Metric, unit.Inch}[rng.IntN(2)], Strict: true})
		if rep.Answer == nil {
			if text := rep.Problems[0].Text; !strings.HasPrefix(text, "roughness against energy: ") {
				t.Fatalf("%v: %v", in, rep.Problems)
			}
			continue
		}
		drawn++
		for _, fault := range panel.Conflicts(rep.Answer.Figure) {
			t.Errorf("%v: %s", in, fault)
		}
		for _, p := range rep.Answer.Figure.Paths {
			for _, s := range p.Segs {
				if !(s.To.X >= 0 && s.To.X <= 360 && s.To.Y >= 0 && s.To.Y <= rep.Answer.Figure.H) {
					t.Fatalf("%v: a line runs to %v", in, s.To)
				}
			}
		}
	}
	if drawn < n*2/3 {
		t.Errorf("only %d curves of %d could be drawn", drawn, n)
	}
}

// heavy is the longest accent line of a drawing: the fitted curve.
func heavy(d *figure.Drawing) []figure.Point {
	var best []figure.Point
	for _, p := range d.Paths {
		if p.Line != figure.Accent || len(p.Segs) < len(best) {
			continue
		}
		best = []figure.Point{p.From}
		for _, s := range p.Segs {
			best = append(best, s.To)
		}
	}
	return best
}

// TestOneStray: the start hole and threading take one stray for one height, and
// the smallest hole moves by twice of it.
func TestOneStray(t *testing.T) {
	b := readBook(t)
	flat := value(t, ask(t, b, "start", unit.Metric, map[string]string{"straight": "0 mm"}), "smallest")
	for i, h := range []int{5, 20, 60, 150, 5, 20, 60, 150} {
		in := map[string]string{"thickness": strconv.Itoa(h) + " mm", "led": []string{"pushed", "jet"}[i/4]}
		stray := value(t, ask(t, b, "thread", unit.Metric, in), "wander")
		rep := ask(t, b, "start", unit.Metric, in)
		st, _ := rep.Field("straight")
		small := value(t, rep, "smallest")
		for _, c := range [][3]float64{{stray.Low, st.Range.Low, small.Low - flat.Low}, {stray.Likely, st.Range.Likely, small.Likely - flat.Likely}, {stray.High, st.Range.High, small.High - flat.High}} {
			if math.Abs(c[0]-c[1]) > 1e-12 || math.Abs(2*c[0]-c[2]) > 1e-9 {
				t.Errorf("over %d mm threading strays by %g mm, the start hole by %g mm, and grows by %g mm", h, c[0], c[1], c[2])
			}
		}
	}
}

// TestFreeLength: the tip strays over its free length, from the guide's exit to the
// lower face, not over the part: a foil strays nearly as over its stand-off alone;
// thickness and stand-off count alike; a typed length is taken as it is; and the
// push it bears is that over the same length.
func TestFreeLength(t *testing.T) {
	b := readBook(t)
	at := func(in map[string]string, name string) unit.Range {
		return value(t, ask(t, b, "thread", unit.Metric, in), name)
	}
	foil := map[string]string{"thickness": "0.1 mm", "above": "10 mm", "curl": "2 mm"}
	if got, want := at(foil, "wander").Likely, 2*0.101*0.101; math.Abs(got-want) > 1e-12 {
		t.Errorf("over a foil the tip strays by %g mm, want %g", got, want)
	}
	for _, two := range [][2]map[string]string{
		{{"thickness": "30 mm", "above": "10 mm"}, {"thickness": "10 mm", "above": "30 mm"}},
		{{"thickness": "30 mm", "above": "10 mm"}, {"thickness": "5 mm", "free": "40 mm"}},
	} {
		for _, name := range []string{"wander", "push", "length"} {
			if at(two[0], name) != at(two[1], name) {
				t.Errorf("%s is %v for %v and %v for %v", name, at(two[0], name), two[0], at(two[1], name), two[1])
			}
		}
	}
	// Half the length bears four times the push and strays by a quarter.
	long, short := map[string]string{"free": "80 mm"}, map[string]string{"free": "40 mm"}
	if r := at(short, "push").Likely / at(long, "push").Likely; math.Abs(r-4) > 1e-9 {
		t.Errorf("half the length bears %g times the push", r)
	}
	if r := at(long, "wander").High / at(short, "wander").High; math.Abs(r-4) > 1e-9 {
		t.Errorf("twice the length strays by %g times as much", r)
	}
}

// TestLedByAJet: a jet never makes an answer worse, and where the pushed tip misses
// the slot the calculator lets the machine try, as the job sheet's rule does: from
// 0.2 mm and up to 100 mm, and never where the tip is wider than the slot.
func TestLedByAJet(t *testing.T) {
	b := readBook(t)
	pick := func(name, wire, height, slot, led string) string {
		rep := ask(t, b, "thread", unit.Metric, map[string]string{"wire": wire, "thickness": height, "slot": slot, "led": led, "hole": "0.8 mm", "curl": "2 mm", "tip": "5 %", "above": "10 mm"})
		for _, c := range rep.Answer.Choices {
			if c.Name == name {
				return c.Likely.Value
			}
		}
		t.Fatalf("no answer %s", name)
		return ""
	}
	for _, c := range [][5]string{
		{"after-break", "0.25 mm", "40 mm", "0.34 mm", "start try"},
		{"after-break", "0.2 mm", "100 mm", "0.29 mm", "start try"},
		{"after-break", "0.2 mm", "101 mm", "0.29 mm", "start start"},
		{"after-break", "0.1 mm", "40 mm", "0.15 mm", "start start"},
		{"after-break", "0.25 mm", "40 mm", "0.26 mm", "start start"},
		{"after-break", "0.25 mm", "2 mm", "0.34 mm", "slot slot"},
		{"verdict", "0.25 mm", "60 mm", "0.34 mm", "no led"},
		{"verdict", "0.25 mm", "10 mm", "0.34 mm", "yes yes"},
	} {
		if got := pick(c[0], c[1], c[2], c[3], "pushed") + " " + pick(c[0], c[1], c[2], c[3], "jet"); got != c[4] {
			t.Errorf("%s of %s through %s, slot %s: %s, want %s", c[0], c[1], c[2], c[3], got, c[4])
		}
	}
}

// TestWireKind: the wire used weighs what its kind weighs, hard brass unless
// another is chosen; length and rate stay.
func TestWireKind(t *testing.T) {
	b := readBook(t)
	brass := ask(t, b, "rate", unit.Metric, nil)
	for _, kind := range []string{"brass-hard", "tungsten", "molybdenum", "steel-coated"} {
		row, _ := b.Find("wiretypes", kind)
		rep := ask(t, b, "rate", unit.Metric, map[string]string{"kind": kind})
		got, want := value(t, rep, "wire-mass").Likely/value(t, brass, "wire-mass").Likely, row.Num("density_likely_kgm3")/8440
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%s weighs %g times brass, want %g", kind, got, want)
		}
		if value(t, rep, "wire-length") != value(t, brass, "wire-length") || value(t, rep, "rate") != value(t, brass, "rate") {
			t.Errorf("%s changes length or rate", kind)
		}
		named := false
		for _, r := range rep.Answer.Rows {
			named = named || r.Table == "wiretypes" && r.Key == kind
		}
		if !named {
			t.Errorf("the answer does not name the row of %s", kind)
		}
	}
}

// TestWalls: the slenderness of a fin is its length over its thickness, and a fin
// between the study's two ratios may stand or not.
func TestWalls(t *testing.T) {
	b := readBook(t)
	fin := func(thick, long float64) string {
		n := func(v float64) string { return unit.Number(v, unit.Style{Decimals: 6, Trim: true}) }
		return "M 0 0 H 4 V 2 H " + n(2+thick/2) + " V " + n(2+long) + " H " + n(2-thick/2) + " V 2 H 0 Z"
	}
	for _, c := range []struct {
		thick, long float64
		stand, want string
	}{{0.5, 1, "", "stands"}, {0.117, 1, "", "stands or bends"}, {0.117, 3, "", "bends"}, {0.5, 3, "", "stands or bends"}, {0.5, 3, "5", "bends"}, {0.117, 3, "30", "stands"}} {
		in := map[string]string{"sample": "own", "unit": "mm", "side": "punch", "drawing": fin(c.thick, c.long)}
		if c.stand != "" {
			in["stand"] = c.stand
		}
		rep := ask(t, b, "profile", unit.Metric, in)
		if got := value(t, rep, "slenderness"); math.Abs(got.Likely-c.long/c.thick) > 1e-6 || got.Low != got.High {
			t.Errorf("%g by %g mm: slenderness %v, want %g", c.thick, c.long, got, c.long/c.thick)
		}
		p, _ := rep.Answer.Pick("wall")
		can := map[string]bool{}
		for _, o := range p.All {
			can[o.Value] = true
		}
		for _, v := range []string{"stands", "bends"} {
			if can[v] != strings.Contains(c.want, v) {
				t.Errorf("%g by %g mm, %q: %v, want %s", c.thick, c.long, c.stand, p.All, c.want)
			}
		}
	}
}

// TestGradesOfTheTable: the table of N grades that a reader sees holds the limits
// and the nominal microinches that the calculators go by.
func TestGradesOfTheTable(t *testing.T) {
	rows := readBook(t).Table("grades").Rows
	if len(rows) != 12 {
		t.Fatalf("%d grades", len(rows))
	}
	for i, r := range rows {
		limit, ok := unit.GradeLimit(i + 1)
		if !ok || r.Num("ra_um") != float64(limit) || unit.Nominal(unit.Roughness(r.Num("nominal_uin")*0.0254)) != limit {
			t.Errorf("%s: %v µm and %v µin", r.Key, r.Num("ra_um"), r.Num("nominal_uin"))
		}
	}
}

// TestFaceOfAStage: the layer of a stage of the plan comes with the face that the pass
// plan has for it, not with a face made of the layer over its multiple.
func TestFaceOfAStage(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := set.Find("recast")
	plan, _ := set.Find("ladder")
	for pair, passes := range map[string]string{"rough": "1", "skim": "2", "fine": "4"} {
		rep := c.Eval(b, calc.Input{Values: map[string]string{"basis": "pair", "pair": pair}, Strict: true})
		if rep.Answer == nil {
			t.Fatal(rep.Problems)
		}
		face, _ := rep.Answer.Value("face")
		of := plan.Eval(b, calc.Input{Values: map[string]string{"passes": passes}, Strict: true})
		if want, ok := of.Answer.Value("ra-" + passes); !ok || face.Range != want.Range {
			t.Errorf("%s: the face is %v, the pass plan has %v", pair, face.Range, want.Range)
		}
	}
}

// TestResistivity: a resistivity is one, in its own kind and unit.
func TestResistivity(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := set.Find("water")
	rep := c.Eval(b, calc.Input{Values: map[string]string{"conductivity": "10 to 20 µS/cm"}, Strict: true})
	v, _ := rep.Answer.Value("resistivity")
	if v.Kind.Base() != "kΩ·cm" || v.Range.Low != 50 || v.Range.High != 100 {
		t.Errorf("10 to 20 µS/cm have %v %s", v.Range, v.Kind.Base())
	}
}

// TestRangeBesideTheAnswer: an answer that stands for a band prints the band.
func TestRangeBesideTheAnswer(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		id, input, value, answer string
		low, high                float64
	}{
		{"finish", "ra", "2 µm", "rz", 10, 16}, {"finish", "ra", "1 to 2 µm", "rt", 6, 20}, {"finish", "ra", "1 µm", "rq", 1.2, 1.3},
		{"carbide", "cobalt", "10 %", "density", 14.4, 14.6}, {"carbide", "cobalt", "25 %", "density", 13, 13.2},
	} {
		c, _ := set.Find(x.id)
		rep := c.Eval(b, calc.Input{Values: map[string]string{x.input: x.value}, Strict: true})
		v, ok := rep.Answer.Value(x.answer)
		if !ok || math.Abs(v.Range.Low-x.low) > 1e-9 || math.Abs(v.Range.High-x.high) > 1e-9 || v.Range.Likely <= v.Range.Low || v.Range.Likely >= v.Range.High {
			t.Errorf("%s of %s %s: %v, %g to %g is wanted about a likely value", x.answer, x.input, x.value, v.Range, x.low, x.high)
		}
	}
}
