package rate

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestLaws: feed and area rate undo each other; the root law and its plateau.
func TestLaws(t *testing.T) {
	for _, h := range []unit.Length{0.5, 20, 150, 400} {
		if got := Area(Feed(130, h), h); math.Abs(float64(got-130)) > 1e-12 {
			t.Errorf("there and back gives %g", got)
		}
	}
	if Along(60, 6) != 600 {
		t.Error("60 mm at 6 mm/min are not ten minutes")
	}
	// Schacht 2004 as text: the rate of thin wires goes with the root of the
	// diameter, there is a plateau above a quarter of a millimetre.
	for _, c := range []struct{ d, want float64 }{{0.2, 0.894}, {0.15, 0.775}, {0.1, 0.632}, {0.07, 0.529}, {0.05, 0.447}, {0.25, 1}, {0.33, 1}} {
		if got := thermal(unit.Length(c.d)); math.Abs(got-c.want) > 5e-4 {
			t.Errorf("at %g mm the share is %.4f, %g is wanted", c.d, got, c.want)
		}
	}
	// 664 mm³/s is 39,840 mm³/min: the two textbooks differ by 0.4 %.
	if r := Second(20, 1500) / Textbook(20, 1500); math.Abs(float64(r)-0.996) > 1e-9 {
		t.Errorf("the textbooks' laws differ by %g", r)
	}
}
