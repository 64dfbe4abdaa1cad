package corner

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestIdentities: inverses, scaling, limits.
func TestIdentities(t *testing.T) {
	for _, r := range []unit.Length{0.01, 0.1, 1} {
		for _, th := range []unit.Angle{10, 30, 60, 90, 120, 170} {
			e := UncutDistance(r, th)
			if back := Ask(e, th); math.Abs(float64(back/r-1)) > 1e-9 {
				t.Errorf("Ask(UncutDistance(%v, %v)) = %v", r, th, back)
			}
			if a := UncutArea(2*r, th) / UncutArea(r, th); math.Abs(float64(a-4)) > 1e-9 {
				t.Errorf("the area does not go with the square at %v: %v", th, a)
			}
			// The uncut tip is a kite of two right triangles less a sector.
			h := float64(th) * math.Pi / 360
			kite := float64(r*UncutLength(r, th)) - float64(r*r)*(math.Pi/2-h)
			if math.Abs(kite-float64(UncutArea(r, th))) > 1e-12 {
				t.Errorf("kite less sector is %v, the area %v", kite, UncutArea(r, th))
			}
		}
	}
	if UncutDistance(0.16, 60) < 0.16-1e-12 || UncutDistance(0.16, 60) > 0.16+1e-12 {
		t.Error("at 60° the distance is the radius itself")
	}
	if Punch(0.1, 0.2) != 0 || Punch(0.2, 0.05) != 0.15000000000000002 && Punch(0.2, 0.05) != 0.15 {
		t.Error("a punch corner is the die's less the clearance, never below zero")
	}
	if g := GapLimit(0.0762, 0.127); math.Abs(float64(Left(0.127, g))-0.0762) > 1e-15 {
		t.Error("at its widest gap a wire leaves just the radius")
	}
}
