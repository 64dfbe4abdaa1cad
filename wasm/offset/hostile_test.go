package offset

import (
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/testdata/sweep"
	"kerfbook/wasm/geom"
)

// squares are n times n holes in a square pattern.
func squares(n int) (c []geom.Contour) {
	for i := range n {
		for j := range n {
			x, y := 2*float64(i), 2*float64(j)
			c = append(c, poly(x, y, x+1, y, x+1, y+1, x, y+1))
		}
	}
	return c
}

// hostile are inputs of about n contours or n/2 pieces that once took minutes or
// hundreds of megabytes, with n 40,000.
func hostile(n int) map[string][]geom.Contour {
	out := map[string][]geom.Contour{"squares beside each other": squares(int(math.Sqrt(float64(n))))}
	var c []geom.Contour
	for i := range n {
		r := 1 + 0.01*float64(i)
		c = append(c, poly(-r, -r, r, -r, r, r, -r, r))
	}
	out["squares one in the other"] = c
	var turned []geom.Contour
	for _, s := range c {
		turned = append(turned, geom.Moved(1, 0.4, geom.Point{}).Contour(s))
	}
	out["squares one in the other, turned"] = turned
	c = nil
	for i := range n / 4 {
		s, k := math.Sincos(math.Pi * float64(i) * 4 / float64(n))
		m := geom.Map{A: k, B: s, E: 0.01 * float64(i%97)}
		c = append(c, m.Contour(poly(-50, 0, 50, -0.001, 50, 0.001)))
	}
	out["crossing slivers"] = c
	c = nil
	for i := range n {
		a, w := 2*math.Pi*float64(i)/float64(n), 0.8*math.Pi/float64(n)
		c = append(c, poly(0, 0, 10*math.Cos(a), 10*math.Sin(a), 10*math.Cos(a+w), 10*math.Sin(a+w)))
	}
	out["triangles sharing a point"] = c
	var p []float64
	for i := range n / 2 {
		a := 2 * math.Pi * float64(i) * 2 / float64(n)
		p = append(p, 0.1*math.Cos(a), 0.1*math.Sin(a))
	}
	out["chords of a hole smaller than the tool"] = []geom.Contour{poly(p...)}
	p = nil
	for i := range n / 2 {
		a := 20 * math.Pi * float64(i) * 2 / float64(n)
		r := 0.02 + 0.0001*float64(i%7)
		p = append(p, 0.001*float64(i)+r*math.Cos(a), r*math.Sin(a))
	}
	p = append(p, 30, 5, 0, 5)
	out["chords of a curl"] = []geom.Contour{poly(p...)}
	p = nil
	for i := range n / 2 {
		p = append(p, 0.0005*float64(i), 0.1*float64(i%2))
	}
	p = append(p, 12, 5, 0, 5)
	out["teeth finer than the tool"] = []geom.Contour{poly(p...)}
	p = nil
	for i := range n / 8 {
		x := 0.1 * float64(i)
		p = append(p, x, 0, x, 300, x+0.05, 300, x+0.05, 0)
	}
	p = append(p, 501, -1, 0, -1)
	out["long fins"] = []geom.Contour{poly(p...)}
	return out
}

// TestHostile: each is answered or refused with a place, and no more is taken for it
// than a bounded number of looks, kept lists and bytes for each piece. The bytes are
// all that was ever taken, so that they do not depend on when it was given back; a
// piece is some twenty bytes of text at least.
func TestHostile(t *testing.T) {
	for name, contours := range hostile(sweep.Part(40000)) {
		n := 0
		for _, c := range contours {
			n += len(c)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		region, depth, err := Nested(contours, false)
		named := func(err error) {
			var f *Fault
			if err != nil && (!errors.As(err, &f) || !strings.Contains(err.Error(), "too many pieces meet or cross")) {
				t.Errorf("%s: %v", name, err)
			}
		}
		named(err)
		if err != nil {
			region = contours
		} else if len(depth) != len(contours) || len(region) != len(contours) {
			t.Errorf("%s: %d depths, %d contours, %d were given", name, len(depth), len(region), len(contours))
		}
		r, err := Of(region, 0.15)
		named(err)
		if err == nil && (math.IsNaN(r.Leftover) || r.Length < 0) {
			t.Errorf("%s: %g mm² stay, the path is %g mm long", name, r.Leftover, r.Length)
		}
		f := Find(region, 1.6, 0.15, 1e-4)
		if f.Within < 1.6 && f.Within != 0.2 && f.Within != 0 {
			t.Errorf("%s: looked for necks within %g", name, f.Within)
		}
		Widest(region, 12)
		runtime.ReadMemStats(&after)
		if got := (after.TotalAlloc - before.TotalAlloc) / uint64(n); got > 12000 {
			t.Errorf("%s: %d bytes were taken for each of %d pieces", name, got, n)
		}
	}
}

// TestManyHoles: a plate of 40,000 holes is a part, and is answered in full.
func TestManyHoles(t *testing.T) {
	contours := append(squares(200), poly(-1, -1, 400, -1, 400, 400, -1, 400))
	region, depth, err := Nested(contours, false)
	if err != nil {
		t.Fatal(err)
	}
	if depth[0] != 1 || depth[40000] != 0 {
		t.Errorf("a hole lies %d deep, the outline %d", depth[0], depth[40000])
	}
	r := of(t, 0.15, region...)
	near.Share(t, "left in 160,000 corners", r.Leftover, 160000*0.15*0.15*(1-math.Pi/4), 1e-9)
	if len(r.Path) != 40001 {
		t.Errorf("%d paths", len(r.Path))
	}
	f := Find(region, 1.6, 0.15, 1e-4)
	if f.Within != 1.6 || math.Abs(f.Necks[0].Value-1) > 1e-9 || math.Abs(f.Walls[0].Value-1) > 1e-9 {
		t.Errorf("within %g the narrowest are %v and %v", f.Within, f.Necks[0], f.Walls[0])
	}
	// Wider than the holes: each is an island of no use, in the metal of none.
	r = of(t, 0.6, region...)
	if len(r.Path) != 1 {
		t.Errorf("%d paths where only the outline can be cut", len(r.Path))
	}
}

// TestNestedPlainly: the depth by the ray against the winding of every contour about
// a place of every other, on shapes in shapes.
func TestNestedPlainly(t *testing.T) {
	for seed := range 60 {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		var list []geom.Contour
		for range 40 {
			x, y, r := math.Round(rng.Float64()*9), math.Round(rng.Float64()*9), 0.45*rng.Float64()
			for k := range 1 + rng.IntN(4) { // one in the other
				c := star(rng, 5, geom.Point{X: x, Y: y}, r)
				for i := range c {
					c[i] = geom.Moved(math.Pow(0.3, float64(k)), 0, geom.Point{}).Piece(geom.Moved(1, 0, geom.Point{X: -x, Y: -y}).Piece(c[i]))
					c[i] = geom.Moved(1, 0, geom.Point{X: x, Y: y}).Piece(c[i])
				}
				if rng.IntN(2) == 0 {
					c = c.Back()
				}
				list = append(list, c)
			}
		}
		_, depth, err := Nested(list, true)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range list {
			q, want := within(c, c.Area()), 0
			for j, d := range list {
				if i != j && d.Inside(q) {
					want++
				}
			}
			if depth[i] != want {
				t.Errorf("seed %d: contour %d lies %d deep, %d is wanted", seed, i, depth[i], want)
			}
		}
	}
}
