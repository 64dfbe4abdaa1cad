package carbide

import (
	"math"
	"os"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

func table(t *testing.T) *book.Table {
	text, err := os.ReadFile("../../../content/data/cobalt.csv")
	if err != nil {
		t.Fatal(err)
	}
	b, err := book.Read([]book.File{{Name: "cobalt.csv", Text: string(text)}})
	if err != nil {
		t.Fatal(err)
	}
	return b.Table("cobalt")
}

// TestHandbook holds the rule of mixtures against the densities that handbooks
// print (asm-carbides, from memory), to the 0.1 g/cm³ they differ by.
func TestHandbook(t *testing.T) {
	last := book.Row{}
	for i, r := range table(t).Rows {
		if got := float64(laws.CarbideDensity(unit.Percent(r.Num("cobalt_pct")))); got < r.Num("density_low_gcm3")-0.1 || got > r.Num("density_high_gcm3")+0.1 {
			t.Errorf("%s %% weighs %.3f by the rule", r.Key, got)
		}
		if i > 0 && (r.Num("hardness_hv") >= last.Num("hardness_hv") || r.Num("expansion_low_ppmk") <= last.Num("expansion_low_ppmk")) {
			t.Errorf("%s %%: more binder is softer and grows more", r.Key)
		}
		last = r
	}
}

// TestLaws: density and cobalt undo each other, and the volumes of both parts
// fill the piece.
func TestLaws(t *testing.T) {
	for _, w := range []unit.Percent{0.5, 3, 6, 10, 25, 40} {
		d := laws.CarbideDensity(w)
		if got := Cobalt(d); math.Abs(float64(got-w)) > 1e-9 {
			t.Errorf("%g %% came back as %g", w, got)
		}
		// The carbide's share of the volume, from its own density of 15.63.
		rest := float64(100-w) * float64(d) / 15.63
		if sum := float64(Volume(w)) + rest; math.Abs(sum-100) > 1e-9 {
			t.Errorf("the volumes at %g %% make %g", w, sum)
		}
	}
}

// TestBetween: on a row its own numbers, outside the table none.
func TestBetween(t *testing.T) {
	tb := table(t)
	a, b, far, ok := laws.Between(tb, 9)
	if !ok || laws.Mix(a.Num("hardness_hv"), b.Num("hardness_hv"), far) != 1370 {
		t.Errorf("9 %% lies between %s and %s by %g", a.Key, b.Key, far)
	}
	for _, w := range []unit.Percent{2.9, 25.1} {
		if _, _, _, ok := laws.Between(tb, w); ok {
			t.Errorf("%g %% is outside the table", w)
		}
	}
	if a, b, far, _ := laws.Between(tb, 25); laws.Mix(a.Num("hardness_hv"), b.Num("hardness_hv"), far) != 850 {
		t.Error("the last row is not reached")
	}
}
