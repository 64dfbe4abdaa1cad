package offset

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/geom"
)

func poly(pts ...float64) geom.Contour {
	var c geom.Contour
	n := len(pts) / 2
	for i := range n {
		j := (i + 1) % n
		c = append(c, geom.Line(geom.Point{X: pts[2*i], Y: pts[2*i+1]}, geom.Point{X: pts[2*j], Y: pts[2*j+1]}))
	}
	return c
}

func of(t *testing.T, reach float64, region ...geom.Contour) *Result {
	t.Helper()
	r, err := Of(region, reach)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// notch is a block with a 60° notch, its outside free: travelled clockwise.
func notch() geom.Contour {
	m := 5 * math.Tan(math.Pi/6)
	return poly(0, 0, 0, 10, 10-m, 10, 10, 5, 10+m, 10, 20, 10, 20, 0)
}

// TestNotch: closed forms of the reference, seen there to 12 digits.
func TestNotch(t *testing.T) {
	for _, c := range []struct{ r, left, path float64 }{{0.135, 0.0124814505974, 66.4368223291}, {0.150, 0.0154091982684, 66.5105245111}, {0.165, 0.0186451299047, 66.5842266930}} {
		r := of(t, c.r, notch())
		near.Share(t, "left", r.Leftover, c.left, 1e-8)
		near.Share(t, "path", r.Length, c.path, 1e-11)
		if len(r.Pockets) != 1 || len(r.Path) != 1 {
			t.Fatalf("%d pockets, %d loops", len(r.Pockets), len(r.Path))
		}
		near.Share(t, "depth", r.Pockets[0].Depth, c.r, 1e-9)
		near.Share(t, "pocket", r.Pockets[0].Area, c.left, 1e-8)
		if len(r.Cut) != 1 {
			t.Fatalf("%d contours come out", len(r.Cut))
		}
		near.Share(t, "as cut", -r.Cut[0].Area()-(-notch().Area()), c.left, 1e-6)
	}
}

func TestRectangle(t *testing.T) {
	r := of(t, 0.5, poly(0, 0, 10, 0, 10, 4, 0, 4))
	near.Share(t, "left", r.Leftover, 4*0.25*(1-math.Pi/4), 1e-10)
	near.Share(t, "path", r.Length, 2*(9+3), 1e-12)
	if len(r.Pockets) != 4 {
		t.Errorf("%d pockets", len(r.Pockets))
	}
	// As wide as the tool: it counts as cut.
	r = of(t, 2, poly(0, 0, 10, 0, 10, 4, 0, 4))
	near.Share(t, "left of a slot of 2 R", r.Leftover, 4*4*(1-math.Pi/4), 1e-5)
	if r.Exact || len(r.Path) != 1 {
		t.Errorf("exact %v, %d loops", r.Exact, len(r.Path))
	}
	r = of(t, 2.1, poly(0, 0, 10, 0, 10, 4, 0, 4))
	near.Share(t, "left of a slot that is too narrow", r.Leftover, 40, 1e-12)
	if len(r.Path) != 0 || len(r.Pockets) != 1 || !r.Pockets[0].Whole {
		t.Errorf("%d loops %v", len(r.Path), r.Pockets)
	}
}

// TestNeck: two chambers joined by a neck narrower than the tool split the path.
func TestNeck(t *testing.T) {
	c := poly(0, 0, 4, 0, 4, 1.8, 6, 1.8, 6, 0, 10, 0, 10, 4, 6, 4, 6, 2.2, 4, 2.2, 4, 4, 0, 4)
	r := of(t, 0.3, c)
	if len(r.Path) != 2 {
		t.Fatalf("%d loops", len(r.Path))
	}
	// The neck keeps what the discs that dip into its mouths do not take.
	dip := 0.3*0.3*math.Asin(0.2/0.3) - 0.2*math.Sqrt(0.09-0.04)
	near.Share(t, "left", r.Leftover, 8*0.09*(1-math.Pi/4)+2*0.4-2*dip, 1e-9)
	if len(r.Pockets) != 9 {
		t.Errorf("%d pockets", len(r.Pockets))
	}
	r = of(t, 0.19, c)
	if len(r.Path) != 1 {
		t.Errorf("%d loops where the tool passes", len(r.Path))
	}
	// A neck so short that the discs of both sides overlap.
	c = poly(0, 0, 4, 0, 4, 1.8, 4.05, 1.8, 4.05, 0, 8.05, 0, 8.05, 4, 4.05, 4, 4.05, 2.2, 4, 2.2, 4, 4, 0, 4)
	r = of(t, 0.3, c)
	if len(r.Path) != 2 {
		t.Fatalf("%d loops", len(r.Path))
	}
	if len(r.Pockets) != 8+2 {
		t.Errorf("%d pockets where discs overlap", len(r.Pockets))
	}
}

func TestCircle(t *testing.T) {
	c := geom.Contour{geom.About(geom.Point{X: 3, Y: 2}, 1.5, 0, math.Pi), geom.About(geom.Point{X: 3, Y: 2}, 1.5, math.Pi, math.Pi)}
	r := of(t, 0.4, c)
	near.Share(t, "path in a circle", r.Length, 2*math.Pi*1.1, 1e-12)
	near.Share(t, "left", r.Leftover, 0, 1e-9)
	r = of(t, 0.4, c.Back())
	near.Share(t, "path round a circle", r.Length, 2*math.Pi*1.9, 1e-12)
	r = of(t, 1.5, c)
	if len(r.Path) != 1 || r.Exact {
		t.Errorf("a hole as wide as the tool: %d loops, exact %v", len(r.Path), r.Exact)
	}
	r = of(t, 1.6, c)
	near.Share(t, "left of a hole that is too small", r.Leftover, math.Pi*2.25, 1e-12)
}

// TestExactFit: a slot as wide as the tool, wider or narrower by shares of it.
func TestNeckDepth(t *testing.T) {
	// Two chambers joined by a channel that is a little too narrow: the tool stops at
	// each mouth, where it touches both corners, and the middle of the channel is
	// farthest from it. Closed form, our own derivation.
	const reach, half, long = 0.15, 0.1495, 6.0
	r := of(t, reach, poly(0, 0, 4, 0, 4, 2-half, 4+long, 2-half, 4+long, 0, 8+long, 0, 8+long, 4, 4+long, 4, 4+long, 2+half, 4, 2+half, 4, 4, 0, 4))
	if len(r.Path) != 2 {
		t.Fatalf("the path has %d parts, want 2", len(r.Path))
	}
	deepest := 0.0
	for _, k := range r.Pockets {
		deepest = max(deepest, k.Depth)
	}
	near.Share(t, "depth", deepest, math.Hypot(long/2+math.Sqrt(reach*reach-half*half), half)-reach, 1e-9)
}

func TestExactFit(t *testing.T) {
	const reach = 0.15
	for _, c := range []struct {
		off  float64
		cut  bool
		hold bool // the reach is taken smaller
	}{{0, true, true}, {1e-12, true, true}, {-1e-12, true, true}, {-9e-7, true, true}, {1e-6, true, false}, {-1.9e-5, true, true}, {-3e-5, false, false}, {1e-3, true, false}, {-1e-3, false, false}} {
		half := reach * (1 + c.off)
		// A punch with a slot, so that the tool comes from outside, turned by some angle.
		m := geom.Moved(1, 0.37, geom.Point{X: 3, Y: 2})
		r := of(t, reach, m.Contour(poly(0, 0, 10, 0, 10, 6, 5+half, 6, 5+half, 2, 5-half, 2, 5-half, 6, 0, 6).Back()))
		floor := 2 * reach * reach * (1 - math.Pi/4)
		if c.cut != (r.Leftover < 2*floor) {
			t.Errorf("off by %g: %g stays", c.off, r.Leftover)
		}
		if c.cut {
			near.Share(t, "floor", r.Leftover, floor, 5e-3)
		}
		if c.hold == r.Exact && c.off > -2e-6 && c.off != 1e-6 {
			t.Errorf("off by %g: exact is %v", c.off, r.Exact)
		}
	}
}

// TestAngles: what stays in a corner of an included angle θ: the vertex R(1/sin(θ/2)
// - 1) from the tool, an area of R² (cot(θ/2) - (π - θ)/2). The numbers are those of
// the reference's table, computed there to ten digits.
func TestAngles(t *testing.T) {
	for _, c := range []struct{ theta, dist, area float64 }{{15, 6.661297576, 6.155857480}, {30, 2.863703305, 2.423053869}, {45, 1.613125930, 1.236116317}, {60, 1, 0.6848532564},
		{90, 0.4142135624, 0.2146018366}, {120, 0.1547005384, 0.05375149359}, {135, 0.08239220029, 0.02151448067}, {150, 0.03527618041, 0.006149804632}, {175, 0.0009526851633, 2.771160865e-5}} {
		// A kite: one corner of θ, three others whose own share is known.
		h := c.theta * math.Pi / 360
		const side = 60.0
		kite := poly(0, 0, side*math.Cos(h), -side*math.Sin(h), side*math.Cos(h)+30, 0, side*math.Cos(h), side*math.Sin(h))
		const reach = 0.15
		r := of(t, reach, kite)
		found := false
		for _, k := range r.Pockets {
			if k.At.Len() > 1e-9 {
				continue
			}
			found = true
			near.Share(t, "depth", k.Depth, reach*c.dist, 1e-7)
			near.Share(t, "area", k.Area, reach*reach*c.area, 1e-5)
		}
		if !found {
			t.Errorf("nothing stays in a corner of %g°", c.theta)
		}
	}
}

// TestBack: the path moved back by the reach is the contour where it was reached.
func TestBack(t *testing.T) {
	// Round everywhere by more than the tool: nothing stays, and back is the same.
	c := geom.Contour{geom.Line(geom.Point{X: 0, Y: 0}, geom.Point{X: 8, Y: 0}), geom.About(geom.Point{X: 8, Y: 0.9}, 0.9, -math.Pi/2, math.Pi),
		geom.Line(geom.Point{X: 8, Y: 1.8}, geom.Point{X: 0, Y: 1.8}), geom.About(geom.Point{X: 0, Y: 0.9}, 0.9, math.Pi/2, math.Pi)}
	r := of(t, 0.5, c)
	near.Share(t, "left", r.Leftover, 0, 1e-9)
	back := of(t, 0.5, r.Path[0].Back())
	near.Share(t, "there and back", -back.Path[0].Area(), c.Area(), 1e-9)
	if len(back.Path) != 1 || len(r.Cut) != 1 {
		t.Errorf("%d and %d contours", len(back.Path), len(r.Cut))
	}
	near.Share(t, "as cut", r.Cut[0].Area(), c.Area(), 1e-9)
	// Concentric arcs that vanish, and a hole that closes.
	ring := func(radius float64, ccw bool) geom.Contour {
		s := math.Pi
		if !ccw {
			s = -s
		}
		return geom.Contour{geom.About(geom.Point{}, radius, 0, s), geom.About(geom.Point{}, radius, s, s)}
	}
	r = of(t, 0.6, ring(3, true), ring(2, false))
	if len(r.Path) != 0 || len(r.Pockets) != 1 {
		t.Errorf("a ring of 1 with a tool of 1.2: %d loops, %d pockets", len(r.Path), len(r.Pockets))
	}
	near.Share(t, "the whole ring stays", r.Leftover, 5*math.Pi, 1e-12)
	r = of(t, 0.4, ring(3, true), ring(2, false))
	if len(r.Path) != 2 {
		t.Errorf("a ring of 1 with a tool of 0.8: %d loops", len(r.Path))
	}
	near.Share(t, "path", r.Length, 2*math.Pi*(2.6+2.4), 1e-12)
}
