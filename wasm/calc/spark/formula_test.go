package spark

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestEnergy integrates the pulses instead of using their formulas.
func TestEnergy(t *testing.T) {
	sum, n := 0.0, 100000
	for i := range n { // a triangle of 700 A, base 1.4 µs, at 20 V: Sato, conditions
		x := (float64(i) + 0.5) / float64(n)
		sum += 20 * 700 * (1 - math.Abs(2*x-1)) * 1.4e-6 / float64(n) * 1000
	}
	near.Share(t, "a triangle", float64(Triangle(20, 700, 1.4e-6)), sum, 1e-8)
	// A flat pulse of the transparent-electrode paper: 20 V, 11 A, 1 µs.
	near.Share(t, "a flat pulse", float64(Flat(20, 11, 1e-6)), 0.22, 1e-12)
	v, step := 0.0, 0.001 // charge 10 nF to 100 V in small steps: work against the voltage
	for q := 0.0; q < 1000; q += step {
		v += (q + step/2) / 10 * step * 1e-6 // nC × V in mJ
	}
	near.Share(t, "a capacitor", float64(Stored(10, 100)), v, 1e-5)
	near.Share(t, "60 kHz", float64(Power(9.8, 60)), 588, 1e-12)
}

// TestBest: the best power of an RC circuit lies where Pandey and Shan have it
// (0.72 to 0.73, EDM chapter, place not seen), and is 0.2036 V0²/R.
func TestBest(t *testing.T) {
	best, at := 0.0, 0.0
	for s := 0.01; s < 0.999; s += 0.0001 {
		if p := float64(BestShare(unit.Voltage(s), 1)); p > best {
			best, at = p, s
		}
	}
	near.Share(t, "the best power", best, 100, 1e-6)
	if at < 0.71 || at > 0.73 {
		t.Errorf("the best power lies at %.4f of the supply", at)
	}
	near.Share(t, "its constant", bestQuotient/2, 0.2036, 3e-4)
	near.Share(t, "its time constants", Constants(0.7153, 1), 1.2564, 1e-3)
}

// TestFace: roughness and energy undo each other; a half sphere has its volume.
func TestFace(t *testing.T) {
	for _, e := range []unit.Energy{1e-3, 0.3, 1, 9.8} {
		for _, n := range []unit.Ratio{0.25, 1.0 / 3, 0.45} {
			near.Share(t, "back from the roughness", float64(EnergyFor(Roughness(e, 2.5, n), 2.5, n)), float64(e), 1e-9)
		}
	}
	// Iron, a tenth of 1 mJ, 7870 kg/m³, 650 J/kgK, 1515 K, 247 kJ/kg: 1.03e4 µm³.
	heat := unit.Energy(7870e-9 * (650*1515 + 247e3) * 1000)
	v := Melt(0.1, heat)
	near.Share(t, "iron melted", float64(v)*1e9, 1.03e4, 2e-3)
	near.Share(t, "its half sphere", float64(Crater(v, 0.5))*1000/2, 17.0, 2e-3)
	for _, k := range []float64{0.05, 0.2, 0.5} { // a cap from its sphere: π h² (3R - h) / 3
		d := 0.2
		h := k * d
		r := (d*d/4 + h*h) / (2 * h)
		near.Share(t, "a bowl", float64(Crater(unit.Volume(math.Pi*h*h*(3*r-h)/3), unit.Ratio(k))), d, 1e-9)
	}
}
