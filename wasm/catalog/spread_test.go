package catalog

import (
	"math"
	"testing"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// TestSpread: an answer that a scattering factor makes is a range, by hand from the
// table of ratios (Rz 5 to 8 times Ra, likely 6; Rt 6 to 10, 8; Rq 1.2 to 1.3, 1.25)
// and from the densities that the table of cobalt prints.
func TestSpread(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []struct {
		id, name string
		v        map[string]string
		want     unit.Range
		text     string
	}{
		{"finish", "rz", map[string]string{"ra": "2 µm"}, unit.Range{Low: 10, Likely: 12, High: 16}, "12 µm (10 to 16)"},
		{"finish", "rt", map[string]string{"ra": "1 µm"}, unit.Range{Low: 6, Likely: 8, High: 10}, "8 µm (6 to 10)"},
		{"finish", "rq", map[string]string{"ra": "1 to 1.5 µm"}, unit.Range{Low: 1.2, Likely: 1.5625, High: 1.95}, "1.563 µm (1.2 to 1.95)"},
		{"carbide", "density", map[string]string{"cobalt": "10 %"}, unit.Range{Low: 14.4, Likely: 14.5312, High: 14.6}, "14.53 g/cm³ (14.4 to 14.6)"},
		{"carbide", "density", map[string]string{"cobalt": "35 %"}, unit.Range{Low: 12.3590, Likely: 12.3590, High: 12.3590}, "12.36 g/cm³"},
	} {
		c, _ := set.Find(k.id)
		rep := c.Eval(b, calc.Input{Values: k.v, Strict: true})
		if rep.Answer == nil {
			t.Errorf("%s %v: %v", k.id, k.v, rep.Problems)
			continue
		}
		f, _ := rep.Answer.Value(k.name)
		near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-4*math.Abs(y) }
		if !near(f.Range.Low, k.want.Low) || !near(f.Range.Likely, k.want.Likely) || !near(f.Range.High, k.want.High) || f.Text != k.text {
			t.Errorf("%s %v: %s is %v, %q; want %v, %q", k.id, k.v, k.name, f.Range, f.Text, k.want, k.text)
		}
	}
}
