// Package near compares floating-point numbers in tests. Tests only.
package near

import (
	"math"
	"strconv"
	"testing"
)

// To fails the test unless got is within tol of want. What is not a number is near
// nothing.
func To(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if off := math.Abs(got - want); got != want && (!(off <= tol) || math.IsInf(off, 0)) {
		t.Errorf("%s is %.12g, %.12g is wanted, %.3g is allowed", what, got, want, tol)
	}
}

// Share fails the test unless got is within a share of want. Beside zero no share
// is anything: a want of zero is met by 1e-15 too.
func Share(t testing.TB, what string, got, want, share float64) {
	t.Helper()
	To(t, what, got, want, math.Max(share*math.Abs(want), 1e-15))
}

// All is To for each value of a list.
func All(t testing.TB, what string, got, want []float64, tol float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d values, %d are wanted", what, len(got), len(want))
		return
	}
	for i := range want {
		To(t, what+" "+strconv.Itoa(i), got[i], want[i], tol)
	}
}
