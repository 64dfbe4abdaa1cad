// Package repeat answers whether a run of parts keeps its limits: mean, spread,
// Cp and Cpk with their confidence, and whether the size drifts. It may import
// book, calc, figure, fit and unit.
package repeat

import (
	"math"

	"kerfbook/wasm/fit"
)

// Mean returns the mean and the standard deviation (over n - 1) of sizes.
func Mean(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x - v[0] // from the first: sizes differ in their last digits only
	}
	mean = v[0] + mean/float64(len(v))
	for _, x := range v {
		sd += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(sd / float64(len(v)-1))
}

// MeanHalf returns half the width of the limits of a mean: t s/√n, Student's t.
func MeanHalf(sd float64, n int, share float64) float64 {
	return fit.T(share, n-1) * sd / math.Sqrt(float64(n))
}

// Spread returns the limits of a standard deviation: s √((n-1)/χ²).
func Spread(sd float64, n int, share float64) (low, high float64) {
	df := float64(n - 1)
	return sd * math.Sqrt(df/fit.ChiSquare((1+share)/2, n-1)), sd * math.Sqrt(df/fit.ChiSquare((1-share)/2, n-1))
}

// Cp returns the width of the limits over six standard deviations. Definition.
func Cp(lower, upper, sd float64) float64 { return (upper - lower) / (6 * sd) }

// Cpk returns the nearer limit's distance from the mean over three standard
// deviations. Definition.
func Cpk(mean, lower, upper, sd float64) float64 {
	return min(upper-mean, mean-lower) / (3 * sd)
}

// CpkHalf returns half the width of the limits of Cpk, nearly:
// z √(1/(9n) + Cpk²/(2(n-1))). Bissell 1990, from memory.
func CpkHalf(cpk float64, n int, share float64) float64 {
	return fit.Normal(share) * math.Sqrt(1/(9*float64(n))+cpk*cpk/(2*float64(n-1)))
}

// Drift returns the slope of the sizes against the number of the part, and half
// the width of its limits: a line by least squares, Student's t.
func Drift(v []float64, share float64) (slope, half float64, ok bool) {
	var rows [][]float64
	var y []float64
	for i, x := range v {
		rows, y = append(rows, []float64{1, float64(i+1) - float64(len(v)+1)/2}), append(y, x-v[0])
	}
	f, err := fit.Linear(rows, y)
	if err != nil {
		return 0, 0, false
	}
	return f.B[1], fit.T(share, f.DF) * f.SD[1], true
}
