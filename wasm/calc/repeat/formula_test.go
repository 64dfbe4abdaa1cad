package repeat

import (
	"testing"

	"kerfbook/testdata/near"
)

// TestLimits holds the limits against SciPy 1.10.1: t.interval, chi2.ppf and
// linregress on the ten sizes of the form.
func TestLimits(t *testing.T) {
	v := []float64{10.002, 10.001, 10.003, 10.002, 10.001, 10.004, 10.002, 10.003, 10.002, 10.003}
	mean, sd := Mean(v)
	near.To(t, "mean", mean, 10.0023, 1e-12)
	near.To(t, "lower limit", mean-MeanHalf(sd, 10, 0.95), 10.001621352851178, 1e-9)
	low, high := Spread(sd, 10, 0.95)
	near.To(t, "sd low", low, 0.00065254, 6e-9)
	near.To(t, "sd high", high, 0.00173193, 6e-9)
	slope, half, ok := Drift(v, 0.95)
	if !ok {
		t.Fatal("no drift")
	}
	near.To(t, "drift", slope, 0.00011515151515, 1e-10)
	near.To(t, "drift low", slope-half, -0.00012243678967, 1e-9)
}

// TestMean: NumAcc1 of the NIST reference datasets, from memory: 10000001,
// 10000003 and 10000002 have the mean 10000002 and the deviation 1.
func TestMean(t *testing.T) {
	mean, sd := Mean([]float64{10000001, 10000003, 10000002})
	near.To(t, "mean", mean, 10000002, 0)
	near.To(t, "sd", sd, 1, 0)
}

// TestLaws: in the middle Cp and Cpk are one; off the middle Cpk loses what the
// mean has moved, over three deviations; at a limit it is nothing.
func TestLaws(t *testing.T) {
	near.To(t, "Cpk in the middle", Cpk(5, 4, 6, 0.1), Cp(4, 6, 0.1), 1e-12)
	near.To(t, "Cpk off it", Cp(4, 6, 0.1)-Cpk(5.3, 4, 6, 0.1), 1, 1e-12)
	near.To(t, "Cpk at the limit", Cpk(6, 4, 6, 0.1), 0, 1e-12)
	if CpkHalf(1.33, 10, 0.95) <= CpkHalf(1.33, 100, 0.95) || CpkHalf(1.33, 10, 0.99) <= CpkHalf(1.33, 10, 0.95) {
		t.Error("more parts, or less confidence, do not narrow the limits")
	}
	if _, _, ok := Drift([]float64{1, 2}, 0.95); ok {
		t.Error("two parts show a drift")
	}
}
