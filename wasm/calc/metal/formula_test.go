package metal

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestGrowth holds the growth against expansions of a textbook's appendix
// (callister-2008, appendix B): Ti-6Al-4V 8.6, copper 17.0, 6061 23.6 ppm/K.
func TestGrowth(t *testing.T) {
	for alpha, want := range map[unit.Expansion]float64{8.6: 0.86, 17: 1.7, 23.6: 2.36} {
		if got := float64(Growth(100, alpha, 1)) * 1000; math.Abs(got-want) > 1e-12 {
			t.Errorf("100 mm at %g ppm/K grow %g µm, %g is wanted", alpha, got, want)
		}
	}
	if a, b := Growth(50, 11, 4), Growth(200, 11, 1); math.Abs(float64(a-b)) > 1e-15 || Growth(100, 11, -1) >= 0 {
		t.Error("growth is not in proportion to length and kelvins")
	}
}
