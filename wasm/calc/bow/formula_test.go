package bow

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestReference: hand sums of a string, 0.5 N/m and 10 N.
func TestReference(t *testing.T) {
	near.Share(t, "no free wire, 60 mm", float64(Run{0, 60, 0}.Bend(0.5, 10)), 0.0225, 1e-9)
	r := Run{10, 40, 10}
	near.Share(t, "40 mm and 10 mm each way", float64(r.Bend(0.5, 10)), 0.020, 1e-9)
	near.Share(t, "its rim", float64(r.At(10, 0.5, 10)), 0.010, 1e-9)
	near.Share(t, "its barrel", float64(Barrel(40, 0.5, 10)), 0.010, 1e-9)
	near.Share(t, "50 mm, 0.1 N/m", float64(Barrel(50, 0.1, 10)), 0.003125, 1e-9)
	near.Share(t, "brass of 0.25 mm, 10 N", 1000*float64(Frequency(100, 10, 0.25, 8.44)), 776.8, 1e-4)
	near.Share(t, "12 N", 1000*float64(Frequency(100, 12, 0.25, 8.44)), 851.0, 1e-4)
	near.Share(t, "rod of 20 mm", float64(Stiff(20, 0.25, 105000, 1)), 49.68, 1e-3)
	near.Share(t, "arc of 0.2 mm", float64(Arc(0.2, 0.0225)), 0.00127, 5e-3)
	near.Share(t, "arc of 1 mm", float64(Arc(1, 0.0225)), 0.00025, 2e-2)
}

// TestStringByParts solves T y″ = -q on a chain of masses, by elimination and by
// powers of its inverse, without a formula for the whole.
func TestStringByParts(t *testing.T) {
	const n, load, tension = 6000, 0.7, 9.0
	for _, r := range []Run{{5, 40, 5}, {3, 12, 45}, {20, 100, 0}, {0, 7, 30}} {
		h := float64(r.Span()) / n
		push := func(z float64) float64 { // the share of a cell around z that is loaded
			lo, hi := math.Max(z-h/2, float64(r.Below)), math.Min(z+h/2, float64(r.Below+r.Part))
			return math.Max(0, hi-lo) / h * load / 1000
		}
		f := make([]float64, n-1)
		for i := range f {
			f[i] = push(float64(i+1)*h) * h * h / tension
		}
		y := chain(f)
		top := 0.0
		for i, v := range y {
			top = math.Max(top, v)
			if i%500 == 0 {
				near.Share(t, "place", float64(r.At(unit.Length(float64(i+1)*h), load, tension)), v, 1e-4)
			}
		}
		near.Share(t, "largest", float64(r.Bend(load, tension)), top, 1e-4)
		lo, hi := r.At(r.Below, load, tension), r.At(r.Below+r.Part, load, tension)
		mid := r.At(r.Below+r.Part/2, load, tension)
		near.Share(t, "barrel from three heights", float64(mid-(lo+hi)/2), float64(Barrel(r.Part, load, tension)), 1e-9)
		near.Share(t, "lean", float64(hi-lo), float64(r.Lean(load, tension)), 1e-9)
		near.Share(t, "load there and back", float64(Load(Barrel(r.Part, load, tension), r.Part, tension)), load, 1e-12)
	}
	v := make([]float64, 999)
	for i := range v {
		v[i] = 1
	}
	var grow float64
	for range 30 { // the slowest swing is what the inverse leaves
		w := chain(v)
		grow = w[499]
		for i := range w {
			v[i] = w[i] / grow
		}
	}
	mu := 8440 * math.Pi * 0.125e-3 * 0.125e-3
	swing := math.Sqrt(10/mu/grow) / 1e-4 / (2 * math.Pi) // a chain of 1000 parts of 0.1 mm
	near.Share(t, "slowest swing of the chain", 1000*float64(Frequency(100, 10, 0.25, 8.44)), swing, 1e-5)
}

// chain solves 2y - left - right = f with both ends held.
func chain(f []float64) []float64 {
	n := len(f)
	c, y := make([]float64, n), make([]float64, n)
	for i := range f {
		m, d := 2.0, f[i]
		if i > 0 {
			m, d = 2+c[i-1], f[i]+y[i-1]
		}
		c[i], y[i] = -1/m, d/m
	}
	for i := n - 2; i >= 0; i-- {
		y[i] -= c[i] * y[i+1]
	}
	return y
}

// TestFollowing draws a point behind its guide, step by step: round a right angle
// and round a circle.
func TestFollowing(t *testing.T) {
	const f, step = 1.0, 2e-5
	least, x, y := 9.0, -f, 0.0
	stays := map[float64]float64{0.7: 9, 2: 9, 50: 9} // by the radius of the disc
	for s := 0.0; s < 4; s += step {
		dx, dy := -x, s-y
		k := 1 - f/math.Hypot(dx, dy)
		x, y = x+k*dx, y+k*dy
		least = math.Min(least, math.Hypot(x, y))
		for r := range stays {
			// The bisector leads from the vertex to the outer side, (1, -1)/√2.
			along, across := (x-y)/math.Sqrt2, (x+y)/math.Sqrt2
			if math.Abs(across) < r {
				stays[r] = math.Min(stays[r], r-along-math.Sqrt(r*r-across*across))
			}
		}
	}
	// Laplace's limit, √(u² - 1) with u tanh u = 1: how near the point itself comes.
	near.Share(t, "nearest to the vertex", least, 0.66274341934918158, 1e-4)
	near.Share(t, "left by a huge disc", float64(Inside(f, 1e4)), math.Asinh(1)/math.Sqrt2, 1e-4)
	near.Share(t, "left by a point", float64(Inside(f, 1e-9)), 0.6821, 1e-3)
	for r, left := range stays {
		near.Share(t, "left by a disc", float64(Inside(f, unit.Length(r))), left, 1e-4)
	}
	const radius = 3.0
	x, y = radius, -f
	for a := 0.0; a < 12; a += step {
		dx, dy := radius*math.Cos(a)-x, radius*math.Sin(a)-y
		k := 1 - f/math.Hypot(dx, dy)
		x, y = x+k*dx, y+k*dy
	}
	near.Share(t, "inside the circle", float64(Arc(radius, f)), radius-math.Hypot(x, y), 1e-4)
}
