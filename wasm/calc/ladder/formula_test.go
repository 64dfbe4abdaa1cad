package ladder

import (
	"math"
	"math/rand/v2"
	"testing"

	"kerfbook/wasm/unit"
)

// TestForwardAndBack: the offsets of a plan, read back, give the plan; what the
// skims take adds up to what roughing left.
func TestForwardAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 1000 {
		d := unit.Length(0.02 + 0.3*rng.Float64())
		gap, left, sum := unit.Length(0.06), unit.Length(0.1), unit.Length(0)
		var before, gapBefore unit.Length
		first := left
		for pass := range 5 {
			gap *= unit.Length(0.5 + 0.4*rng.Float64())
			left *= unit.Length(0.2 + 0.6*rng.Float64())
			if pass == 0 {
				first = left
			}
			if pass == 4 {
				left = 0
			}
			o := Offset(d, gap, left)
			if math.Abs(float64(Leaves(o, d, gap)-left)) > 1e-12 {
				t.Fatalf("offset %v read back leaves %v, planned %v", o, Leaves(o, d, gap), left)
			}
			if pass > 0 {
				sum += Takes(before, gapBefore, o, gap)
			}
			before, gapBefore = o, gap
		}
		if math.Abs(float64(sum-first)) > 1e-12 {
			t.Fatalf("the skims take %v, roughing left %v", sum, first)
		}
	}
}

// TestCornerStock: on a straight wall, 180°, a skim meets what it takes; as the
// corner closes it meets more.
func TestCornerStock(t *testing.T) {
	takes := Takes(0.221, 0.03, 0.156, 0.015)
	if got := CornerStock(0.221, 0.03, 0.156, 0.015, 180); math.Abs(float64(got-takes)) > 1e-12 {
		t.Errorf("on a wall %v, takes %v", got, takes)
	}
	last := takes
	for _, th := range []unit.Angle{120, 90, 60, 30} {
		got := CornerStock(0.221, 0.03, 0.156, 0.015, th)
		if got <= last {
			t.Errorf("at %v° the corner has %v, at the wider one %v", th, got, last)
		}
		last = got
	}
}

// TestSurface: a sharp corner gives what two mitred paths give, a round one that
// takes every offset gives the wall's stock, and between the two there is no jump.
func TestSurface(t *testing.T) {
	const wire, g1, g2, o1, o2, left = 0.25, 0.042, 0.020, 0.231, 0.160, 0.064
	stock := func(radius unit.Length) float64 {
		return float64(Surface(o1, wire, g1, left, radius, 90) - Surface(o2, wire, g2, 0.015, radius, 90))
	}
	if got, want := stock(0), float64(CornerStock(o1, g1, o2, g2, 90)); math.Abs(got-want) > 1e-12 {
		t.Errorf("a sharp corner gives %g, two mitred paths %g", got, want)
	}
	if got := stock(0.3); math.Abs(got-0.049) > 1e-12 {
		t.Errorf("a wide corner gives %g, the wall's stock is 0.049", got)
	}
	// Between the two offsets, by hand: the first path is sharp, the second round.
	if got, want := stock(0.2), 0.231*math.Sqrt2-0.167-(0.2*math.Sqrt2-0.2+0.015); math.Abs(got-want) > 1e-12 {
		t.Errorf("between the offsets it is %g, %g is wanted", got, want)
	}
	for _, r := range []unit.Length{o1, o2} {
		if d := stock(r-1e-9) - stock(r+1e-9); math.Abs(d) > 1e-8 {
			t.Errorf("at a radius of %g the stock jumps by %g", r, d)
		}
	}
}
