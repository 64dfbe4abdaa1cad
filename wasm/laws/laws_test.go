package laws

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
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

// TestDepthScales: twice the charge is twice the depth; no charge, no depth.
func TestDepthScales(t *testing.T) {
	for _, c := range []unit.Percent{3, 6, 15, 25} {
		if one, two := CobaltDepth(1, c), CobaltDepth(2, c); math.Abs(float64(two/one-2)) > 1e-12 || CobaltDepth(0, c) != 0 {
			t.Errorf("%v %%: %v and %v", c, one, two)
		}
	}
	if CobaltDepth(1, 3) <= CobaltDepth(1, 6) {
		t.Error("less cobalt must be emptied deeper")
	}
}

// TestDensity: pure carbide and pure cobalt are their own; half of each in mass lies
// between, at the harmonic mean.
func TestDensity(t *testing.T) {
	for cobalt, want := range map[unit.Percent]float64{0: CarbideDense, 100: CobaltDense, 50: 2 * CarbideDense * CobaltDense / (CarbideDense + CobaltDense)} {
		near.Share(t, "the density", float64(CarbideDensity(cobalt)), want, 1e-12)
	}
}

// TestLeak: 10 µS/cm is 100 kΩ·cm, so 50 V over 0.1 mm drive 50/(100 000 × 0.01) A
// through a square centimetre. Ohm's law by hand.
func TestLeak(t *testing.T) {
	near.Share(t, "the leak", float64(Leak(10, 50, 0.1)), 0.05, 1e-12)
}

// TestTraverse: five cut-offs of 0.8 mm measured, half a cut-off before and after.
func TestTraverse(t *testing.T) {
	near.Share(t, "the traverse", float64(Traverse(5*0.8, 0.8)), 0.4+4+0.4, 1e-12)
}
