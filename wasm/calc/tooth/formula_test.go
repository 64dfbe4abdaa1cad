package tooth

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
)

func TestInvolute(t *testing.T) {
	for deg := 0.5; deg < 60; deg += 0.5 {
		phi := deg * math.Pi / 180
		near.To(t, "the angle of its own involute", InvertInv(Inv(phi)), phi, 1e-12)
	}
	if InvertInv(-1) != 0 || InvertInv(0) != 0 {
		t.Error("no involute has an angle")
	}
}

// TestRack: with very many teeth the gear is a rack, whose space at the
// reference line is half the pitch and widens by 2 tan α for each height.
func TestRack(t *testing.T) {
	g := Gear{Z: 1e6, M: 1, Alpha: 20 * math.Pi / 180, Root: 1e6 - 2.5}
	near.To(t, "space of a rack", g.Space(g.Pitch()), math.Pi/2, 1e-6)
	near.To(t, "a module above", g.Space(g.Pitch()+2), math.Pi/2+2*math.Tan(g.Alpha), 1e-4)
	// The disc between straight walls on a flat floor: w = floor width.
	floor := math.Pi/2 - 2.5*math.Tan(g.Alpha)
	a := math.Pi/2 + g.Alpha // between wall and floor, on the space's side
	near.To(t, "disc between straight walls", g.Disc(), floor*math.Tan(a/2), 1e-4)
}

// TestMirror: an internal gear's space is the external tooth of the same numbers.
func TestMirror(t *testing.T) {
	ext := Gear{Z: 40, M: 0.5, Alpha: 20 * math.Pi / 180, X: 0.2}
	in := ext
	in.Internal = true
	for d := 19.0; d < 21; d += 0.25 {
		near.To(t, "space and tooth", in.Space(d), ext.Tooth(d), 1e-12)
		near.To(t, "space and tooth make the pitch", ext.Space(d)+ext.Tooth(d), math.Pi*d/40, 1e-12)
	}
	near.To(t, "scale", Gear{Z: 40, M: 1, Alpha: ext.Alpha, X: 0.2}.Space(42), 2*ext.Space(21), 1e-12)
}

// TestPins: pins that touch at the reference circle stand where plane geometry
// says; a larger pin stands farther out.
func TestPins(t *testing.T) {
	g := Gear{Z: 30, M: 1, Alpha: 20 * math.Pi / 180, Root: 27.5}
	last := 0.0
	for dp := 1.2; dp < 2.4; dp += 0.1 {
		m := g.Pins(dp)
		if m <= last {
			t.Errorf("a pin of %g mm gives %g, no more than a smaller one", dp, m)
		}
		last = m
	}
	odd := Gear{Z: 31, M: 1, Alpha: g.Alpha, Root: 28.5}
	even := 2*odd.centre(0.864) + 1.728
	if m := odd.Pins(1.728); m >= even || m < even*0.99 {
		t.Errorf("over an odd number of teeth the size is %g of %g", m, even)
	}
}

// TestFillet: the reference's table of root fillets, cut by a rack.
func TestFillet(t *testing.T) {
	for _, c := range []struct {
		h, rho float64
		want   [4]float64
	}{{1.25, 0.38, [4]float64{0.490175, 0.449632, 0.416267, 0.394879}}, {1.25, 0.3, [4]float64{0.429856, 0.382420, 0.343079, 0.317713}},
		{1.25, 0.25, [4]float64{0.392857, 0.340909, 0.297619, 0.269608}}, {1.4, 0.39, [4]float64{0.535521, 0.482652, 0.438553, 0.409998}}} {
		for i, z := range []float64{12, 20, 40, 100} {
			near.To(t, "fillet", Gear{Z: z, M: 1}.Fillet(c.h, c.rho), c.want[i], 1e-6)
		}
	}
	if g := (Gear{Z: 12, M: 1, Alpha: 20 * math.Pi / 180}); !g.Undercut(1) {
		t.Error("twelve teeth without shift are undercut")
	}
	if g := (Gear{Z: 12, M: 1, Alpha: 20 * math.Pi / 180, X: 0.2982}); g.Undercut(1) {
		t.Error("a shift of 0.2982 is enough for twelve teeth")
	}
}
