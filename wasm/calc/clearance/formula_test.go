package clearance

import (
	"math"
	"testing"
)

// TestLaws: punch and die differ by both sides whatever is wanted; the tilted slug
// fits with the clearance asked for.
func TestLaws(t *testing.T) {
	for _, blanking := range []bool{true, false} {
		c := Side(7.5, 2)
		if d := Die(10, c, blanking) - Punch(10, c, blanking); math.Abs(float64(d-0.3)) > 1e-12 {
			t.Errorf("punch and die differ by %g", d)
		}
	}
	tilt := float64(Tilt(0.31, 0.05, 20)) * math.Pi / 180
	// The slug slid by its own thickness: the kerf less the lean is what stays.
	if left := 0.31 - 20*math.Tan(tilt); math.Abs(left-0.05) > 1e-12 {
		t.Errorf("the tilted pair keeps %g", left)
	}
	if Tilt(0.31, 0.31, 20) != 0 || Grown(3, 0) != 0 || Side(0, 2) != 0 {
		t.Error("nothing is not nothing")
	}
	if Force(310, 2, 10) != 6200 {
		t.Error("strength, thickness and length do not multiply")
	}
}
