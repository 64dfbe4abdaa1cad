package catalog

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"kerfbook/wasm/calc"
)

// variants are the inputs that an answer's sources are looked at for: the defaults,
// every choice alone, and what makes a note appear that no choice does.
func variants(c *calc.Calculator, fields []calc.Field) []map[string]string {
	out := []map[string]string{nil}
	for _, f := range fields {
		for _, o := range f.Options {
			out = append(out, map[string]string{f.Name: o.Value})
		}
	}
	more := map[string][]map[string]string{
		"water":   {{"dielectric": "oil", "flash": "70 °C"}, {"conductivity": "0.3 µS/cm"}},
		"profile": {{"side": "punch"}},
		"carbide": {{"weighed": "14.5 g/cm³"}},
		"leach":   {{"corrosion-current": "1 µA/cm²"}},
		"rate":    {{"wire": "0.1 mm"}, {"current": "20 A"}},
		"job":     {{"material": "titanium", "radius": "0.05 mm"}, {"asks": "none", "slot": "0.4 mm"}},
	}
	return append(out, more[c.ID]...)
}

// noNumber reports whether the law of a pass gives no number here, its range being
// too wide, and asks for one.
func noNumber(rep *calc.Reply) bool {
	return len(rep.Problems) == 1 && strings.Contains(rep.Problems[0].Text, "the range is over ten times wide, which is no number. Cut a test")
}

// TestSources: a source that an answer lists is named by a line of its working, by
// a row that it used or by a note or caution that it shows, and every publication
// behind a line or a row is listed. What a calculator cites for a sentence is shown
// for some input.
func TestSources(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	words := []string{"geometry", "definition", "mechanics", "Ohm's law", "electrostatics", "rule of mixtures", ""}
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		shown := map[string]bool{}
		for _, v := range variants(c, fields) {
			rep := c.Eval(b, calc.Input{Values: v, Strict: true})
			if rep.Answer == nil {
				if v != nil && v["sample"] != "own" && !noNumber(rep) {
					t.Errorf("%s %v is refused: %v", c.ID, v, rep.Problems)
				}
				continue
			}
			a := rep.Answer
			behind := map[string]bool{}
			for _, st := range a.Steps {
				behind[st.Source] = true
			}
			for _, r := range a.Rows {
				behind[r.Source] = true
			}
			said := strings.Join(a.Notes, "\n")
			for _, k := range a.Cautions {
				said += "\n" + k.Text
			}
			listed := map[string]bool{}
			for _, s := range a.Sources {
				listed[s.Key] = true
				inWords := s.Words != "" && strings.Contains(said, s.Words)
				if inWords {
					shown[s.Words] = true
				}
				if !behind[s.Key] && !inWords {
					t.Errorf("%s %v lists %s (%s), and nothing shown names it", c.ID, v, s.Key, s.What)
				}
			}
			for key := range behind {
				if !listed[key] && !slices.Contains(words, key) {
					t.Errorf("%s %v rests on %s and does not list it", c.ID, v, key)
				}
			}
		}
		for _, text := range slices.Sorted(maps.Keys(readSource(t, "../calc/"+c.ID).texts)) {
			for line := range strings.Lines(text) {
				if _, words, ok := strings.Cut(strings.TrimSpace(line), " @ "); ok && !shown[words] {
					t.Errorf("%s cites a work for the words %q, and no answer looked at shows them", c.ID, words)
				}
			}
		}
	}
}

// TestSourcesOfOne holds single answers to what their numbers rest on.
func TestSourcesOfOne(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []struct {
		id    string
		v     map[string]string
		lists string
	}{
		// A sum over a contour of 0.25 mm wire: the note on thick wires cites the thesis
		// that says so, and the law of removal its textbook.
		{"rate", nil, "kalpakjian-schmid schacht-2004"},
		{"rate", map[string]string{"current": "20 A", "melting": "1500 °C"}, "groover kalpakjian-schmid schacht-2004"},
		// No pass is reversed, so the study of reversed passes is not named.
		{"ladder", nil, "kalpakjian-schmid"},
		{"ladder", map[string]string{"polarity-4": "wire-plus"}, "huang-2006 kalpakjian-schmid"},
		// The die's allowance is in the book's chapter on sheet metal.
		{"clearance", nil, "groover-blanking"},
		// Oil without a flash point has no class, so no list of classes is named.
		{"water", map[string]string{"dielectric": "oil"}, ""},
		{"water", map[string]string{"dielectric": "oil", "flash": "70 °C"}, "clp ghs nfpa-30"},
	} {
		c, _ := set.Find(k.id)
		rep := c.Eval(b, calc.Input{Values: k.v, Strict: true})
		if rep.Answer == nil {
			t.Errorf("%s %v: %v", k.id, k.v, rep.Problems)
			continue
		}
		keys := map[string]bool{}
		for _, s := range rep.Answer.Sources {
			keys[s.Key] = true
		}
		if got := strings.Join(slices.Sorted(maps.Keys(keys)), " "); got != k.lists {
			t.Errorf("%s %v rests on %q, want %q", k.id, k.v, got, k.lists)
		}
	}
}
