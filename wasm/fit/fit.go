// Package fit fits straight and curved relations by least squares and gives the
// confidence limits of what comes out. It may import the standard library only.
package fit

import (
	"errors"
	"math"
)

// Fit is what a least-squares fit found.
type Fit struct {
	B   []float64 // the coefficients
	SD  []float64 // their standard deviations
	RSS float64   // sum of the squared residuals
	S   float64   // standard deviation of a residual
	DF  int       // rows less coefficients

	r [][]float64 // the triangle of the rows
}

// The errors of a fit.
var (
	ErrFew       = errors.New("more readings than unknowns are wanted")
	ErrDependent = errors.New("the readings do not tell the unknowns apart")
	ErrSettle    = errors.New("the fit does not settle")
)

// dependent is the share of a column that must be new to it. Longley's columns
// keep a thousandth of a thousandth; rounding leaves about 1e-15.
const dependent = 1e-13

// Linear solves y = row · b. The rows are brought to a triangle by reflections
// (Householder), never squared: squaring doubles the digits lost.
func Linear(rows [][]float64, y []float64) (*Fit, error) {
	if len(rows) == 0 || len(rows) != len(y) || len(rows) <= len(rows[0]) {
		return nil, ErrFew
	}
	r, q, ok := triangle(rows, y)
	if !ok {
		return nil, ErrDependent
	}
	b := back(r, q)
	rest := residuals(rows, y, b)
	if r2, q2, ok := triangle(rows, rest); ok { // one step of refinement
		for j, d := range back(r2, q2) {
			b[j] += d
		}
		rest = residuals(rows, y, b)
	}
	return finish(b, r, square(rest), len(y)), nil
}

func residuals(rows [][]float64, y, b []float64) []float64 {
	out := make([]float64, len(y))
	for i, row := range rows {
		out[i] = y[i] - dot(row, b)
	}
	return out
}

func finish(b []float64, r [][]float64, rss float64, n int) *Fit {
	f := &Fit{B: b, RSS: rss, DF: n - len(b), r: r}
	f.S = math.Sqrt(rss / float64(f.DF))
	for j := range b {
		e := make([]float64, len(b))
		e[j] = 1
		f.SD = append(f.SD, f.Along(e))
	}
	return f
}

// Along returns the standard deviation of x · b. For a curve x is its
// derivatives with respect to the coefficients.
func (f *Fit) Along(x []float64) float64 {
	z := make([]float64, len(x))
	for i := range z { // Rᵀ z = x
		z[i] = x[i]
		for k := range i {
			z[i] -= f.r[k][i] * z[k]
		}
		z[i] /= f.r[i][i]
	}
	return f.S * math.Sqrt(square(z))
}

// triangle reflects the rows, and y with them, into an upper triangle. ok is
// false when a column depends on those before it.
func triangle(rows [][]float64, y []float64) (r [][]float64, q []float64, ok bool) {
	p := len(rows[0])
	r = make([][]float64, len(rows))
	for i, row := range rows {
		r[i] = append([]float64{}, row...)
	}
	q = append([]float64{}, y...)
	for k := range p {
		whole, norm := 0.0, 0.0
		for i := range r {
			whole = math.Hypot(whole, rows[i][k])
			if i >= k {
				norm = math.Hypot(norm, r[i][k])
			}
		}
		if !(norm > dependent*whole) || math.IsInf(norm, 0) {
			return nil, nil, false
		}
		reflect(r, q, k, norm)
	}
	return r[:p], q[:p], true
}

// reflect clears column k below its diagonal.
func reflect(r [][]float64, q []float64, k int, norm float64) {
	if r[k][k] > 0 {
		norm = -norm
	}
	v := make([]float64, len(r))
	for i := k; i < len(r); i++ {
		v[i] = r[i][k]
	}
	v[k] -= norm
	vv := square(v)
	for j := k + 1; j < len(r[0]); j++ {
		s := 0.0
		for i := k; i < len(r); i++ {
			s += v[i] * r[i][j]
		}
		for i := k; i < len(r); i++ {
			r[i][j] -= 2 * s / vv * v[i]
		}
	}
	s := dot(v, q)
	for i := k; i < len(r); i++ {
		q[i] -= 2 * s / vv * v[i]
		r[i][k] = 0
	}
	r[k][k] = norm
}

// back solves R b = q.
func back(r [][]float64, q []float64) []float64 {
	b := make([]float64, len(r))
	for i := len(r) - 1; i >= 0; i-- {
		b[i] = q[i]
		for k := i + 1; k < len(r); k++ {
			b[i] -= r[i][k] * b[k]
		}
		b[i] /= r[i][i]
	}
	return b
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func square(v []float64) float64 { return dot(v, v) }
