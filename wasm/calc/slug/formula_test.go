package slug

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-12*math.Abs(want) {
		t.Errorf("%s is %.12g, %.12g is wanted", what, got, want)
	}
}

// TestLaws: water's own density, scalings, and the tab that its force breaks.
func TestLaws(t *testing.T) {
	near(t, "a litre of water", float64(Mass(1, 10000, 100)), 1000)
	near(t, "its weight", float64(Weight(1000)), 9.80665)
	tab := Tab(50, 300, 20)
	near(t, "the tab's strength", float64(tab)*300*20, 50)
	near(t, "twice as thick, half the tab", float64(Tab(50, 300, 40)), float64(tab)/2)
	if Tab(50, 0, 20) != 0 {
		t.Error("brittle work is counted on")
	}
	// A slot one kerf wide, cut to nothing without sharing, takes the time of one cut.
	near(t, "one kerf", float64(Nothing(0.3*100, 20, 60, 0.3, 0)), float64(Cut(100, 20, 60)))
	near(t, "half shared, twice the time", float64(Nothing(100, 20, 60, 0.3, 50)), 2*float64(Nothing(100, 20, 60, 0.3, 0)))
}
