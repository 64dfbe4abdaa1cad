package inspect

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// circle returns the radius through three points, from the sides: a b c / (4 A).
func circle(p [3][2]float64) float64 {
	side := func(i, j int) float64 { return math.Hypot(p[i][0]-p[j][0], p[i][1]-p[j][1]) }
	area := math.Abs((p[1][0]-p[0][0])*(p[2][1]-p[0][1])-(p[2][0]-p[0][0])*(p[1][1]-p[0][1])) / 2
	return side(0, 1) * side(1, 2) * side(2, 0) / (4 * area)
}

// TestRadius lays circles through three points that are off by u in all ways. The
// largest error is that of the formula, to the square of u.
func TestRadius(t *testing.T) {
	const r, u = 1.0, 1e-6
	for _, theta := range []float64{30, 60, 90, 120, 150} {
		half := (180 - theta) / 2 * math.Pi / 180
		most, squares := 0.0, 0.0
		for i := range 8 {
			var p [3][2]float64
			for j, at := range [3]float64{-half, 0, half} {
				e := u * float64(2*(i>>j&1)-1)
				p[j] = [2]float64{(r + e) * math.Cos(at), (r + e) * math.Sin(at)}
			}
			off := circle(p) - r
			most, squares = max(most, math.Abs(off)), squares+off*off/8
		}
		worst, sum := Radius(u, unit.Angle(theta))
		near.To(t, "worst", float64(worst)/most, 1, 1e-3)
		near.To(t, "root-sum", float64(sum)/math.Sqrt(squares), 1, 1e-3)
	}
}

// TestCorner: a ball in a sharp right corner touches at its own radius; its centre
// stands √2 r from the corner. A corner of 60° holds it at 2 r (Thales).
func TestCorner(t *testing.T) {
	near.To(t, "blind", float64(Blind(0.5, 90)), 0.5, 1e-12)
	near.To(t, "stand", float64(Stand(1, 0, 90)), math.Sqrt2-1, 1e-12)
	near.To(t, "stand", float64(Stand(1, 0, 60)), 1, 1e-12)
	near.To(t, "a ball that fits", float64(Stand(0.2, 0.3, 90)), 0, 0)
	near.To(t, "light undoes stand", float64(Light(Stand(0.31, 0.3, 75), 75)), 0.01, 1e-12)
	near.To(t, "quarter turn", float64(Contact(0.1, 0.3, 90)), 0.1*math.Pi, 1e-12)
}

// TestCount: five cut-offs of 0.8 mm and the run-up take 4.8 mm.
func TestCount(t *testing.T) {
	near.To(t, "count", Count(4.8, 0.8), 5, 0)
	near.To(t, "count", Count(4.79, 0.8), 4, 0)
	near.To(t, "count", Count(0.5, 0.8), 0, 0)
}
