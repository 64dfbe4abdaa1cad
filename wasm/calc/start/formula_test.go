package start

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestLaws: the largest hole just touches the stock, the smallest never goes
// below the machine's, errors cost twice.
func TestLaws(t *testing.T) {
	for _, d := range []unit.Length{0.5, 1, 3, 10} {
		hole := Largest(d, 0.07, 0.05, 0.04)
		if far := d - hole/2 - 0.05 - 0.04; math.Abs(float64(far-0.07)) > 1e-12 {
			t.Errorf("at %g mm the wall comes within %g mm of the contour, 0.07 is wanted", d, far)
		}
		if got := Largest(d, 0.07, 0.06, 0.04); math.Abs(float64(hole-got-0.02)) > 1e-12 {
			t.Errorf("0.01 mm more of error takes %g mm off the hole", hole-got)
		}
	}
	if Smallest(0.25, 0, 0, 0, 0, 0) != 0.25 || Smallest(0.25, 0, 0, 0, 0, 0.5) != 0.5 || math.Abs(float64(Smallest(0.25, 0.1, 0.05, 0.05, 0.2, 0.5)-0.85)) > 1e-12 {
		t.Error("the smallest hole is not wire, errors and jet, or the machine's own")
	}
	if Largest(0.1, 0.07, 0.05, 0.04) >= 0 {
		t.Error("a hole on the contour is allowed")
	}
}
