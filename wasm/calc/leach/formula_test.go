package leach

import (
	"math"
	"testing"
)

// TestG102 rebuilds what ASTM G102 prints (from memory, place not seen): K1 and
// K2, penetration rates at 10 µA/cm², equivalent weights of two stainless steels.
func TestG102(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
		tol       float64
	}{
		{"K1, mm g/(µA cm yr)", PenetrationRate(1, 1, 1), 3.27e-3, 1e-3},
		{"K2, g cm²/(µA m² d)", MassLossRate(1, 1), 8.954e-3, 1e-3},
		{"iron at 10 µA/cm², mm a year", PenetrationRate(10, 27.92, 7.87), 0.116, 5e-3},
		{"cobalt at 10 µA/cm², mm a year", PenetrationRate(10, 29.47, 8.90), 0.1083, 5e-3},
		{"copper, valence 2", PenetrationRate(10, 31.77, 8.94), 0.1162, 5e-3},
		{"zinc", PenetrationRate(10, 32.69, 7.13), 0.1499, 5e-3},
		{"S30400", EquivalentWeight([]Part{{0.7175, 2, 55.845}, {0.19, 3, 51.996}, {0.0925, 2, 58.693}}), 25.12, 1e-3},
		{"S31600", EquivalentWeight([]Part{{0.685, 2, 55.845}, {0.17, 3, 51.996}, {0.12, 2, 58.693}, {0.025, 3, 95.95}}), 25.50, 1e-3},
	} {
		if math.Abs(c.got/c.want-1) > c.tol {
			t.Errorf("%s is %v, printed %v", c.name, c.got, c.want)
		}
	}
	// Tomlinson & Molyneux 1991 (abstract): less than 0.05 mg a day from 420 mm².
	if got := Corrosion(0.05e-3, 4.2, secondsPerDay) * 1e6; math.Abs(float64(got)-0.451) > 0.001 {
		t.Errorf("the soak's current is %v µA/cm²", got)
	}
}
