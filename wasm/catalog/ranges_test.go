package catalog

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// toText is a range as a sentence has it: "2.5 to 5.6 mm", "0.4 mm to 1.2 mm".
var toText = regexp.MustCompile(`(?:^|[^0-9A-Za-z.])([-−]?[0-9]+(?:\.[0-9]+)?)( [^ 0-9()]{1,8})? to ([-−]?[0-9]+(?:\.[0-9]+)?)( [^ 0-9(),.;:]{1,8})?`)

// backwards returns a range in a text whose first number is above its second.
func backwards(text string) string {
	for _, m := range toText.FindAllStringSubmatch(text, -1) {
		if m[2] != "" && m[2] != m[4] || strings.Contains(text, "cut the time") || strings.Contains(text, "the bend falls by") {
			continue // two units, or a change from one to another
		}
		x, _ := strconv.ParseFloat(strings.Replace(m[1], "−", "-", 1), 64)
		y, _ := strconv.ParseFloat(strings.Replace(m[3], "−", "-", 1), 64)
		if x > y {
			return m[0]
		}
	}
	return ""
}

// texts are all that an answer prints.
func texts(a *calc.Answer) []string {
	out := append([]string{a.Headline, a.Lead}, a.Notes...)
	for _, v := range a.Values {
		out = append(out, v.Text)
	}
	for _, p := range a.Choices {
		out = append(out, p.When, p.Likely.Label)
	}
	for _, k := range a.Cautions {
		out = append(out, k.Text)
	}
	for _, s := range a.Steps {
		out = append(out, s.Equals, s.Put)
	}
	for _, t := range a.Tables {
		out = append(out, t.Note)
		for _, row := range t.Rows {
			for _, c := range row {
				out = append(out, c.Text)
			}
		}
	}
	if a.Sheet != nil {
		for _, l := range a.Sheet.Lines {
			out = append(out, l.What, l.Range, l.Because, l.Breaks)
		}
		out = append(append(out, a.Sheet.Checks...), a.Sheet.Open...)
		for _, alt := range a.Sheet.Alternatives {
			for _, c := range alt.Cells {
				out = append(out, c.Text)
			}
		}
	}
	if a.Figure != nil {
		out = append(out, a.Figure.Alt)
	}
	return out
}

// unsoundIn says what of a reply cannot be: an end on the wrong side, or what is no
// number. "" when all of it can.
func unsoundIn(rep *calc.Reply) string {
	bad := func(r unit.Range) bool {
		return !(r.Low <= r.Likely && r.Likely <= r.High) || math.IsInf(r.Low, 0)
	}
	for _, s := range rep.Fields {
		if bad(s.Range) || math.IsInf(s.Range.High, 0) {
			return "the field " + s.Name
		}
	}
	if rep.Answer == nil {
		return ""
	}
	for _, v := range rep.Answer.Values {
		if bad(v.Range) {
			return "the answer " + v.Name + ": " + v.Text
		}
	}
	for _, t := range rep.Answer.Tables {
		for _, row := range t.Rows {
			for _, c := range row {
				if c.Range != nil && bad(*c.Range) {
					return "a bar of the table " + t.Title
				}
			}
		}
	}
	for _, text := range texts(rep.Answer) {
		switch {
		case strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "∞"):
			return "no number: " + text
		case strings.Contains(text, "wrong way round"):
			return text
		case backwards(text) != "":
			return "backwards, " + backwards(text) + ", in: " + text
		}
	}
	return ""
}

// TestBackwards holds the reading of texts to itself.
func TestBackwards(t *testing.T) {
	for text, want := range map[string]bool{
		"Only if the hole is good: 8.405 mm to 5.618 mm in the usual case": true,
		"3 (5 to 2)": true, "−2 to −3 µm": true, "leaves 4 to 2 mm": true,
		"3 (2 to 5)": false, "−3 to −2 µm": false, "1 mm to 200 µm": false, "a control that followed it cut the time from 107 to 37 minutes": false, "0.5 to 0.5 mm": false,
	} {
		if got := backwards(text) != ""; got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// thrown makes inputs of a calculator by chance: choices, and numbers and ranges
// over what is usual, or a little beyond.
func thrown(t *testing.T, rng *rand.Rand, fields []calc.Field) map[string]string {
	v := map[string]string{}
	for _, f := range fields {
		if rng.IntN(3) == 0 {
			continue
		}
		switch {
		case f.Shape == calc.ChoiceShape:
			v[f.Name] = f.Options[rng.IntN(len(f.Options))].Value
			if f.Name == "machine" && rng.IntN(3) > 0 {
				v[f.Name] = "any"
			}
			if v[f.Name] == "own" { // a drawing of the reader's own is wanted
				delete(v, f.Name)
			}
		case f.Shape == calc.QuantityShape && f.Usual[0] != "":
			lo, hi := usual(t, f)
			x := lo + (hi-lo)*math.Pow(rng.Float64(), 2)
			if lo > 0 && rng.IntN(2) == 0 {
				x = lo * math.Pow(hi/lo, rng.Float64()*1.2-0.1)
			}
			if f.Kind == unit.CountKind {
				x = math.Round(x)
			}
			say := func(v float64) string {
				return unit.Print(f.Kind, v, unit.Style{Unit: f.Kind.Base(), Decimals: 9, Trim: true})
			}
			v[f.Name] = say(x)
			if f.Ranges && rng.IntN(4) == 0 && f.Kind != unit.CountKind {
				v[f.Name] = strings.TrimSuffix(say(x), " "+f.Kind.Base()) + " to " + say(x+(hi-lo)*rng.Float64()*0.2)
			}
		}
	}
	return v
}

// TestRangesRise: over seeded inputs of every calculator no range that is answered,
// drawn or told in a sentence has its low end above its high one.
func TestRangesRise(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(3, 5))
	each := sweep.Part(1000)
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		answered := 0
		for range each {
			v := thrown(t, rng, fields)
			rep := c.Eval(b, calc.Input{Values: v, Strict: true})
			if rep.Answer != nil {
				answered++
			}
			if why := unsoundIn(rep); why != "" {
				t.Errorf("%s %v: %s", c.ID, v, why)
				break
			}
		}
		t.Logf("%s: %d of %d answered", c.ID, answered, each)
		if answered < each/20 {
			t.Errorf("%s: only %d of %d inputs were answered", c.ID, answered, each)
		}
	}
}

// TestJobWithoutAWire: a card that runs in oil alone, in a shop without oil, may take
// no wire: then the sheet names no finest radius.
func TestJobWithoutAWire(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, asks := range []string{"plus-minus", "sharp"} {
		a := sheetOf(t, set, b, map[string]string{"machine": "loft", "oil": "no", "radius": "0.013 mm", "asks": asks})
		if v, ok := a.Value("ask-for"); ok && math.IsInf(v.Range.High, 0) {
			t.Errorf("%s: asks for %v", asks, v.Range)
		}
		for _, text := range texts(a) {
			if strings.Contains(text, "finest wire that may be taken") || strings.Contains(text, "∞") || strings.Contains(text, "left out") {
				t.Errorf("%s: says %q", asks, text)
			}
		}
	}
}

// TestUnsound: a range that comes out backwards, from a table's fallback or from
// Say, is not printed; the answer says that it is left out.
func TestUnsound(t *testing.T) {
	c := &calc.Calculator{ID: "made", Title: "T", Question: "Q?", Summary: "S.", Build: func(f *calc.Form, b *book.Book) calc.Run {
		var in, out, given unit.Length
		calc.AskGiven(f, &in, new(bool), "in: In\nkeys mm\nabove 0 mm: t").Fallback = func() calc.Fallback {
			return calc.Fallback{Range: unit.Range{Low: 3, Likely: 2, High: 1}, Note: "from the table"}
		}
		calc.Tell(f, &out, "out: Out")
		calc.Tell(f, &given, "told: Told\ngiven")
		return calc.Run{Point: func(*calc.Point) { out = 2 * in }, Say: func(r *calc.Result, a *calc.Answer) {
			a.Headline = "Done"
			r.Give(a, "told", unit.Range{Low: 8.405, Likely: 6, High: 5.618})
		}}
	}}
	set, err := calc.NewSet(readBook(t), c)
	if err != nil {
		t.Fatal(err)
	}
	rep := set.All()[0].Eval(readBook(t), calc.Input{})
	if st, _ := rep.Field("in"); st.Range != (unit.Range{}) || !strings.Contains(st.Echo, "wrong way round") {
		t.Errorf("the field holds %v: %s", st.Range, st.Echo)
	}
	if _, ok := rep.Answer.Value("told"); ok || len(rep.Answer.Notes) != 1 || rep.Answer.Notes[0] != "Told is left out: its range came out with its ends the wrong way round, a fault of this calculator." {
		t.Errorf("says %v", rep.Answer.Notes)
	}
}
