package fit

import "math"

// Model is a curve: its value at x for the coefficients b. It sets d to its
// derivatives with respect to b unless d is nil.
type Model func(b []float64, x float64, d []float64) float64

// Numeric makes a model of a function without derivatives: central differences,
// with the step that loses least to rounding and to curvature, the cube root of
// the rounding.
func Numeric(f func(b []float64, x float64) float64) Model {
	return func(b []float64, x float64, d []float64) float64 {
		for j := range d {
			was := b[j]
			h := 6e-6 * math.Abs(was)
			if h == 0 {
				h = 6e-6
			}
			up, down := was+h, was-h
			b[j] = up
			d[j] = f(b, x)
			b[j] = down
			d[j] = (d[j] - f(b, x)) / (up - down)
			b[j] = was
		}
		return f(b, x)
	}
}

const (
	most    = 500   // steps that a fit may take
	settled = 1e-11 // share of a coefficient at which it stops
)

// Curve fits y = m(b, x) from a start by the method of Levenberg and Marquardt:
// a step of the linear fit, shortened along each coefficient by its own scale
// as long as the residuals would grow.
func Curve(m Model, x, y, start []float64) (*Fit, error) {
	n, p := len(x), len(start)
	if n != len(y) || n <= p {
		return nil, ErrFew
	}
	b := append([]float64{}, start...)
	rows, rest := slope(m, x, y, b)
	rss, damp := square(rest), 1e-3
	for range most {
		r, q, ok := triangle(damped(rows, damp), append(append([]float64{}, rest...), make([]float64, p)...))
		if !ok {
			return nil, ErrDependent
		}
		step, next, size := back(r, q), make([]float64, p), 0.0
		for j := range b {
			next[j] = b[j] + step[j]
			size = max(size, math.Abs(step[j])/max(math.Abs(b[j]), 1e-300))
		}
		nextRows, nextRest := slope(m, x, y, next)
		if s := square(nextRest); s <= rss {
			b, rows, rest, rss = next, nextRows, nextRest, s
			damp = max(damp/10, 1e-15)
		} else {
			damp *= 10
		}
		if size < settled {
			r, _, ok := triangle(rows, rest)
			if !ok {
				return nil, ErrDependent
			}
			return finish(b, r, rss, n), nil
		}
	}
	return nil, ErrSettle
}

// slope returns the derivatives at every reading, and the residuals.
func slope(m Model, x, y, b []float64) (rows [][]float64, rest []float64) {
	for i := range x {
		d := make([]float64, len(b))
		v := m(b, x[i], d)
		rows, rest = append(rows, d), append(rest, y[i]-v)
	}
	return rows, rest
}

// damped adds a row for each coefficient that holds it back.
func damped(rows [][]float64, damp float64) [][]float64 {
	out := append([][]float64{}, rows...)
	for j := range rows[0] {
		e := make([]float64, len(rows[0]))
		for _, row := range rows {
			e[j] = math.Hypot(e[j], row[j])
		}
		e[j] *= math.Sqrt(damp)
		out = append(out, e)
	}
	return out
}
