package taper

import (
	"math"
	"testing"

	"kerfbook/wasm/unit"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s is %.12g, %.12g is wanted", what, got, want)
	}
}

// TestLaws: no taper changes nothing; a flat angle leans as the wall does; limit
// undoes shift; the gouge factor has its known values.
func TestLaws(t *testing.T) {
	near(t, "no taper", float64(Shift(20, 0)), 0)
	near(t, "no taper", float64(Level(0.15, 0)), 0.15)
	near(t, "no taper", float64(True(0, 60)), 0)
	for _, tau := range []unit.Angle{0.5, 3, 10, 30} {
		near(t, "two walls in one plane", float64(True(tau, 180)), float64(tau))
		near(t, "the limit of its own shift", float64(Limit(Shift(40, tau), 40)), float64(tau))
		near(t, "twice the height", float64(Shift(80, tau)), 2*float64(Shift(40, tau)))
		near(t, "a right angle's gouge factor", float64(Gouge(tau, 90)), 1)
		if k := float64(Gouge(tau, 179.9)); math.Abs(k-math.Cos(float64(tau)*math.Pi/180)) > 1e-5 {
			t.Errorf("a nearly flat corner's gouge factor is %g", k)
		}
		near(t, "a nearly closed corner's", float64(Gouge(tau, 1e-4)), 1/math.Cos(float64(tau)*math.Pi/180))
		if s := True(tau, 60); s <= tau {
			t.Errorf("a sharp corner leans %g, the wall %g", s, tau)
		}
	}
	for _, c := range []struct{ theta, want float64 }{{60, 1.00773}, {120, 0.99233}} {
		if got := float64(Gouge(10, unit.Angle(c.theta))); math.Abs(got-c.want) > 1e-5 {
			t.Errorf("the gouge factor at %g° is %.6f, %g is wanted", c.theta, got, c.want)
		}
	}
}
