package slot

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

// TestExactFit states and tests the rule: a slot as wide as the kerf counts as
// cut, a millionth narrower is the limit.
func TestExactFit(t *testing.T) {
	for _, w := range []unit.Length{0.05, 0.25, 0.4, 3} {
		for _, c := range []struct {
			kerf unit.Length
			fits bool
		}{{w, true}, {w * (1 + 1e-12), true}, {w * (1 - 1e-12), true}, {w * (1 + 9e-7), true}, {w * (1 + 1.1e-6), false}, {w * 1.01, false}} {
			if Fits(c.kerf, w) != c.fits {
				t.Errorf("a kerf of %.15g in a slot of %g: fits is not %v", c.kerf, w, c.fits)
			}
		}
	}
}

// TestLimits: at a width of twice the reach the disc enters by its radius, and
// what is left is what a round end leaves of a square floor.
func TestLimits(t *testing.T) {
	const r, depth = 0.13, 4
	if dip := Dip(r, 2*r); math.Abs(float64(dip-r)) > 1e-9 {
		t.Errorf("a disc enters a slot of its own width by %g", dip)
	}
	half := math.Pi * r * r / 2
	if got, want := float64(Uncut(r, 2*r, depth)), 2*r*depth-half; math.Abs(got-want) > 1e-12 {
		t.Errorf("left uncut %g, %g is wanted", got, want)
	}
	if got, want := float64(Floor(r, 10*r)), 2*r*r-half; math.Abs(got-want) > 1e-12 {
		t.Errorf("the floor keeps %g, %g is wanted", got, want)
	}
	if Kerf(0.25, 0) != 0.25 || All(0.25, 0.03, 0) != Kerf(0.25, 0.03) {
		t.Error("without gap or stock the widths are not those of the wire and the kerf")
	}
	for w := unit.Length(0.01); w < 2*r; w += 0.01 {
		if Dip(r, w) <= Dip(r, w-0.005) {
			t.Errorf("a wider mouth of %g lets the disc in no deeper", w)
		}
	}
}

// TestShallow: a slot shallower than the reach, by summing columns of what lies
// between the disc, the floor and the walls; no area is negative, and the area grows
// with the depth until the disc stands in the slot by half.
func TestShallow(t *testing.T) {
	const r = 0.2017
	was := 0.0
	for _, depth := range []unit.Length{0.001, 0.02, 0.113, 0.17, 0.2, 0.2017, 0.5} {
		c, sum := float64(Half(r, depth)), 0.0
		const columns = 200_000
		for i := range columns {
			u := (float64(i) + 0.5) / columns * c
			sum += (r - math.Sqrt(r*r-u*u)) * c / columns
		}
		got := float64(Floor(r, depth))
		if math.Abs(got-2*sum) > 1e-8 {
			t.Errorf("depth %g: %.9f mm², by columns %.9f", depth, got, 2*sum)
		}
		if got < was || got < 0 {
			t.Errorf("depth %g: %.9f mm², after %.9f", depth, got, was)
		}
		was = got
	}
}
