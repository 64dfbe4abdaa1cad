package recast

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestLaws: a layer scaled there and back is the same; the multiples of Ra cover
// the stainless study; heat spreads as the printed table says.
func TestLaws(t *testing.T) {
	for _, m := range []unit.Ratio{0.3, 0.4, 0.5} {
		if got := Scaled(Scaled(0.012, 0.1, 5, m), 5, 0.1, m); math.Abs(float64(got)-0.012) > 1e-12 {
			t.Errorf("there and back gives %g", got)
		}
	}
	// Choudhuri, abstract: Ra 3.5 to 4 with 13 to 16 µm, 1.5 to 2 with 3 to 5 µm.
	for _, c := range []struct {
		ra        unit.Roughness
		low, high unit.Length
	}{{3.75, 0.013, 0.016}, {1.75, 0.003, 0.005}} {
		if ByRoughness(c.ra, 1.5) > c.low || ByRoughness(c.ra, 4.6) < c.high {
			t.Errorf("multiples of 1.5 to 4.6 do not cover Ra %g", c.ra)
		}
	}
	// The amplitude of a buried plane source falls to 1/e at this depth.
	for _, c := range []struct{ a, us, want float64 }{{6, 1, 4.9}, {6, 10, 15.5}, {30, 1, 11.0}, {2.9, 100, 34.1}, {114, 0.1, 6.8}} {
		if got := 1000 * float64(HeatLength(c.a, unit.Time(c.us*1e-6))); math.Abs(got-c.want) > 0.05 {
			t.Errorf("heat spreads over %.2f µm in %g µs, %g is wanted", got, c.us, c.want)
		}
		x, four := float64(HeatLength(c.a, unit.Time(c.us*1e-6))), 4*c.a*c.us*1e-6
		if math.Abs(math.Exp(-x*x/four)-1/math.E) > 1e-12 {
			t.Error("the length is not that of 1/e")
		}
	}
	if Least(0, 0, 0) != 0 || HeatLength(6, 0) != 0 {
		t.Error("nothing is not nothing")
	}
}
