package slug

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestLaws: water's own density, scalings, and the tab that its force breaks.
func TestLaws(t *testing.T) {
	near.Share(t, "a litre of water", float64(Mass(1, 10000, 100)), 1000, 1e-12)
	near.Share(t, "its weight", float64(Weight(1000)), 9.80665, 1e-12)
	tab := Shear(50, 300, 20)
	near.Share(t, "the tab's strength", float64(tab)*300*20, 50, 1e-12)
	near.Share(t, "twice as thick, half the tab", float64(Shear(50, 300, 40)), float64(tab)/2, 1e-12)
	if Shear(50, 0, 20) != 0 || Bend(50, 10, 0, 20) != 0 || Twist(50, 10, 0, 20) != 0 {
		t.Error("brittle work is counted on")
	}
	near.Share(t, "across a window of 4 by 5", float64(Across(4, 5)), 6.4031242374328485, 1e-12)
	// A slot one kerf wide, cut to nothing without sharing, takes the time of one cut.
	near.Share(t, "one kerf", float64(Nothing(0.3*100, 20, 60, 0.3, 0)), float64(Cut(100, 20, 60)), 1e-12)
	near.Share(t, "half shared, twice the time", float64(Nothing(100, 20, 60, 0.3, 50)), 2*float64(Nothing(100, 20, 60, 0.3, 0)), 1e-12)
}

// TestTabOfAThinPlate: a section of l by T bears F e = σ l T²/6, so 2 mm of steel
// with 540 MPa at 30 mm, or 3 mm of aluminium with 216 MPa at 50 mm, want several
// millimetres where shear alone asks for a tenth of one.
func TestTabOfAThinPlate(t *testing.T) {
	const steel, aluminium = 50.925, 51.13 // N: three times weight and jet of 60 by 80 by 2 and 100 by 100 by 3 mm
	for _, x := range []struct {
		what            string
		got, want, room float64
	}{
		{"steel in shear", float64(Shear(steel, 300, 2)), 0.0849, 0.0001},
		{"steel, bent", float64(Bend(steel, 30, 540, 2)), 4.24, 0.01},
		{"steel, folded", float64(Bend(steel, 30, 540, 2)) / 1.5, 2.83, 0.01},
		{"aluminium in shear", float64(Shear(aluminium, 120, 3)), 0.142, 0.0005},
		{"aluminium, bent", float64(Bend(aluminium, 50, 216, 3)), 7.89, 0.01},
		{"aluminium, folded", float64(Bend(aluminium, 50, 216, 3)) / 1.5, 5.26, 0.01},
	} {
		if math.Abs(x.got-x.want) > x.room {
			t.Errorf("%s: %.5g mm, %.5g is wanted", x.what, x.got, x.want)
		}
	}
	if yield != math.Sqrt(3) {
		t.Errorf("tension over shear is %v", yield)
	}
}

// TestTwist holds the stress of a twisted rectangle against the factors of the
// exact solution, M = α τ long short² (Timoshenko and Goodier, Theory of Elasticity,
// table of torsion of bars of rectangular section; from memory, place not seen), and
// the tab against the stress it came from.
func TestTwist(t *testing.T) {
	for _, x := range [][2]float64{{1, 0.208}, {1.5, 0.231}, {2, 0.246}, {3, 0.267}, {5, 0.291}, {10, 0.312}} {
		if got := 1 / (x[0] * torsion(x[0], 1)); math.Abs(got-x[1]) > 0.006*x[1] {
			t.Errorf("sides %g to 1: the factor is %.4f, the table has %.3f", x[0], got, x[1])
		}
	}
	// A square bar of 4 mm at 300 MPa bears 0.208 × 300 × 4³ N mm.
	if l := float64(Twist(0.208*300*64/10, 10, 300, 4)); math.Abs(l-4) > 0.01 {
		t.Errorf("a square tab comes out %.4f mm long", l)
	}
	for _, thick := range []unit.Length{0.5, 2, 20, 100} {
		last := 0.0
		for f := unit.Force(1); f < 2000; f *= 1.7 {
			l := float64(Twist(f, 15, 250, thick))
			near.Share(t, "the stress in the tab", float64(f)*15*torsion(l, float64(thick)), 250, 1e-12)
			if l <= last {
				t.Fatalf("more force, %g N, and a tab of %g after %g mm", float64(f), l, last)
			}
			last = l
		}
	}
}
