package pickup

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestWarm: expansions of the textbook's appendix B (Callister and Rethwisch) over
// 100 mm and one kelvin, and the usual bench figure of steel, 11.5.
func TestWarm(t *testing.T) {
	for _, c := range []struct{ alpha, kelvin, um float64 }{{23.6, 1, 2.36}, {11.5, 5, 5.75}, {5.4, 5, 2.7}} {
		near.To(t, "growth", float64(Warm(100, unit.Ratio(c.alpha), 0, unit.Temperature(20+c.kelvin), 30))*1000, c.um, 1e-9)
	}
	near.To(t, "part and scale alike", float64(Warm(300, 11.5, 11.5, 27, 27)), 0, 1e-15)
	near.To(t, "at 20 °C", float64(Warm(300, 23.6, 8, 20, 20)), 0, 0)
}

// TestTouch plays the touches of an upright hole by a leaning wire: the rims are
// met at top and bottom, and the middle is wrong by half the lean at both faces.
func TestTouch(t *testing.T) {
	const left, right, r, s, z0 = -1.0, 1.0, 0.125, 0.007, 0.0
	at := func(x, h float64) float64 { return x + h*s } // the wire's middle over the height, 0 to 1
	xr := right - r - s                                 // bottom of the wire when its top meets the right wall
	xl := left + r                                      // bottom of the wire meets the left wall
	x0 := (xr + xl) / 2
	near.To(t, "middle of the height", at(x0, 0.5), 0, 1e-12)
	near.To(t, "upper face", at(x0, 1), float64(Share(s, true)), 1e-12)
	near.To(t, "travel lost", 2-2*r-(xr-xl), s, 1e-12)
	near.To(t, "edge", at(xr, z0)-(right-r), -float64(Share(s, false)), 1e-12)
}

// TestHere: the handbook's block. An angle of 0.0057° over 100 mm, then 20 mm.
func TestHere(t *testing.T) {
	shown := unit.Length(100 * math.Tan(0.0057*math.Pi/180))
	near.To(t, "angle stays", float64(Here(shown, 100, 20, 10, false)), 20*math.Tan(0.0057*math.Pi/180), 1e-12)
	// The guides stand off by the whole span's lean; the short span makes it steep.
	off := 110 * math.Tan(0.0057*math.Pi/180)
	near.To(t, "offset stays", float64(Here(shown, 100, 20, 10, true)), off*20/30, 1e-12)
}

// TestRoot: right triangles of whole numbers.
func TestRoot(t *testing.T) {
	near.To(t, "3 4", float64(Root(3, 4)), 5, 0)
	near.To(t, "2 3 6", float64(Root(2, 3, 6)), 7, 0)
	near.To(t, "nothing", float64(Root()), 0, 0)
}
