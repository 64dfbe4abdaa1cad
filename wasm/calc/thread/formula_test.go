package thread

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// TestLaws holds the formulas against scalings and limits.
func TestLaws(t *testing.T) {
	near.Share(t, "eight times the diameter stands four times as high", float64(Stands(1e5, 8, 0.8)), 4*float64(Stands(1e5, 8, 0.1)), 1e-12)
	near.Share(t, "a metal eight times as heavy stands half as high", float64(Stands(1e5, 64, 0.1)), float64(Stands(1e5, 8, 0.1))/2, 1e-12)
	near.Share(t, "twice the free length bears a quarter", float64(Push(1e5, 0.25, 40, 1)), float64(Push(1e5, 0.25, 20, 1))/4, 1e-12)
	near.Share(t, "half the diameter bears a sixteenth", float64(Push(1e5, 0.125, 20, 1)), float64(Push(1e5, 0.25, 20, 1))/16, 1e-12)
	near.Share(t, "a free end bears a sixteenth of two held ones", float64(Push(1e5, 0.25, 20, 2)), float64(Push(1e5, 0.25, 20, 0.5))/16, 1e-12)
	// A column as tall as it stands by itself bears in Euler's formula with a free
	// end more than its own weight, and less than four times that: Greenhill's
	// constant lies between those of the weight at the top and at a third.
	e, rho, d := unit.Stress(105000), unit.Density(8.44), unit.Length(0.25)
	l := Stands(e, rho, d)
	weight := float64(rho) * 1e-6 * gravity * math.Pi / 4 * float64(d*d) * float64(l)
	if p := float64(Push(e, d, l, 2)); p > weight || p < weight/4 {
		t.Errorf("at its height a wire of weight %g N bears %g N", weight, p)
	}
	if calc.Stray(0, 50) != 0 || calc.Stray(2, 0) != 0 || calc.Stray(2, 100) != 2 || calc.Stray(2, 50) != 0.5 {
		t.Error("the tip's path does not go with the height squared")
	}
}
