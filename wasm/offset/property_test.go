package offset

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/geom"
)

// star is a random contour, counter-clockwise, some of its sides arcs.
func star(rng *rand.Rand, n int, at geom.Point, size float64) geom.Contour {
	pts := make([]geom.Point, n)
	for i := range pts {
		a := (float64(i) + 0.6*rng.Float64()) * 2 * math.Pi / float64(n)
		r := size * (0.35 + 0.65*rng.Float64())
		pts[i] = geom.Point{X: at.X + r*math.Cos(a), Y: at.Y + r*math.Sin(a)}
	}
	var c geom.Contour
	for i, p := range pts {
		b := 0.0
		if rng.IntN(3) == 0 {
			b = 0.35 * (rng.Float64() - 0.5)
		}
		c = append(c, geom.Bulge(p, pts[(i+1)%n], b))
	}
	return c
}

// simple reports whether a contour does not meet itself.
func simple(c geom.Contour) bool {
	for i := range c {
		for j := i + 1; j < len(c); j++ {
			list, along := geom.Cross(&c[i], &c[j], nil)
			if along {
				return false
			}
			for _, x := range list {
				end := x.At.Dist(c[i].A) < 1e-9 || x.At.Dist(c[i].B) < 1e-9
				if !end || j != i+1 && !(i == 0 && j == len(c)-1) {
					return false
				}
			}
		}
	}
	return true
}

// check holds a result against its definition by brute force.
func check(t *testing.T, region []geom.Contour, r *Result, name string) {
	t.Helper()
	dist := func(p geom.Point) float64 {
		d := math.Inf(1)
		for _, c := range region {
			for _, q := range c {
				d = math.Min(d, q.Dist(p))
			}
		}
		return d
	}
	reach := r.Reach
	if !r.Exact {
		reach *= 1 - 2e-6
	}
	var path []geom.Piece
	for _, c := range r.Path {
		for i, p := range c {
			if gap := p.B.Dist(c[(i+1)%len(c)].A); gap > 1e-8 {
				t.Errorf("%s: the path has a gap of %g", name, gap)
			}
			for _, s := range []float64{0, 0.21, 0.5, 0.83} {
				if d := dist(p.At(s)); d < reach-2e-9 {
					t.Errorf("%s: the path comes within %.12g of the contour, %.12g is the reach", name, d, r.Reach)
				}
			}
		}
		path = append(path, c...)
	}
	// Every place of the contour is touched, or lies in a pocket.
	for _, c := range region {
		for _, q := range c {
			for _, s := range []float64{0.1, 0.37, 0.6, 0.9} {
				p, near := q.At(s), math.Inf(1)
				for _, a := range path {
					near = math.Min(near, a.Dist(p))
				}
				if near <= r.Reach*(1+1e-7) {
					continue
				}
				if len(r.Pockets) == 0 {
					t.Errorf("%s: the contour at %v stays %g from the path and no pocket is listed", name, p, near)
				}
			}
		}
	}
	sum := 0.0
	for _, k := range r.Pockets {
		sum += k.Area
		if k.Area < -1e-9 {
			t.Errorf("%s: a pocket of %g mm²", name, k.Area)
		}
	}
	if math.Abs(sum-r.Leftover) > 1e-9*(1+r.Leftover) {
		t.Errorf("%s: the pockets hold %g, together %g stays", name, sum, r.Leftover)
	}
	whole, came := 0.0, 0.0
	for _, c := range region {
		whole += c.Area()
	}
	for _, c := range r.Cut {
		came += c.Area()
	}
	if math.Abs(whole-came-r.Leftover) > 1e-6*(1+math.Abs(whole)) {
		t.Errorf("%s: the region has %g, comes out with %g, and %g stays", name, whole, came, r.Leftover)
	}
}

// TestRandom cuts random contours, 400 in the whole sweep, some with islands, at six reaches, from
// the inside and from the outside: what stays never falls as the reach grows.
func TestRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	made := 0
	for made < sweep.Part(400) {
		c := star(rng, 5+rng.IntN(14), geom.Point{}, 10)
		if !simple(c) {
			continue
		}
		made++
		region := []geom.Contour{c}
		if made%3 == 0 { // an island round the middle
			i := star(rng, 4+rng.IntN(5), geom.Point{X: rng.Float64() * 0.4}, 1.5)
			if simple(i) {
				region = append(region, i.Back())
			}
		}
		if made%2 == 0 { // a punch: the outside is free
			for i := range region {
				region[i] = region[i].Back()
			}
		}
		last := 0.0
		for _, reach := range []float64{0.02, 0.1, 0.3, 0.7, 1.2, 2.5} {
			name := fmt.Sprintf("contour %d, reach %g", made, reach)
			r, err := Of(region, reach)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			check(t, region, r, name)
			if r.Leftover < last-1e-6*(1+last) {
				t.Errorf("%s: %g stays, with a smaller reach it was %g", name, r.Leftover, last)
			}
			last = r.Leftover
		}
	}
}

// TestInvariance: turned, moved a kilometre, mirrored, scaled, travelled from
// another start, the same stays.
func TestInvariance(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	for made := 0; made < 40; {
		c := star(rng, 6+rng.IntN(9), geom.Point{}, 10)
		if !simple(c) {
			continue
		}
		made++
		const reach = 0.4
		want, err := Of([]geom.Contour{c}, reach)
		if err != nil {
			t.Fatal(err)
		}
		k := rng.IntN(len(c))
		shifted := append(append(geom.Contour{}, c[k:]...), c[:k]...)
		for name, v := range map[string]struct {
			c     geom.Contour
			scale float64
			tol   float64
		}{
			"another start": {shifted, 1, 1e-10},
			"turned":        {geom.Moved(1, 1.234, geom.Point{}).Contour(c), 1, 1e-9},
			"moved":         {geom.Moved(1, 0, geom.Point{X: 1e6, Y: -1e6}).Contour(c), 1, 1e-4},
			"scaled":        {geom.Moved(37, 0.2, geom.Point{}).Contour(c), 37, 1e-9},
			"mirrored":      {geom.Map{A: 1, Mirror: true}.Contour(c).Back(), 1, 1e-9},
		} {
			got, err := Of([]geom.Contour{v.c}, reach*v.scale)
			if err != nil {
				t.Errorf("%d %s: %v", made, name, err)
				continue
			}
			if d := math.Abs(got.Leftover/v.scale/v.scale - want.Leftover); d > v.tol*(1+want.Leftover) {
				t.Errorf("%d %s: %.12g stays, %.12g is wanted", made, name, got.Leftover/v.scale/v.scale, want.Leftover)
			}
			if d := math.Abs(got.Length/v.scale - want.Length); d > v.tol*(1+want.Length) {
				t.Errorf("%d %s: the path is %.12g long, %.12g is wanted", made, name, got.Length/v.scale, want.Length)
			}
			if len(got.Path) != len(want.Path) || len(got.Pockets) != len(want.Pockets) {
				t.Errorf("%d %s: %d loops and %d pockets, %d and %d are wanted", made, name, len(got.Path), len(got.Pockets), len(want.Path), len(want.Pockets))
			}
		}
	}
}

// comb is a plate of n slots: 4 n + 4 pieces.
func comb(n int) geom.Contour {
	pts := []float64{0, 0, float64(n), 0, float64(n), 3}
	for i := n - 1; i >= 0; i-- {
		x := float64(i)
		pts = append(pts, x+0.9, 3, x+0.9, 1, x+0.5, 1, x+0.5, 3)
	}
	pts = append(pts, 0, 3)
	return poly(pts...)
}

func BenchmarkComb(b *testing.B) {
	for _, n := range []int{250, 2500, 25000} {
		c := []geom.Contour{comb(n)}
		b.Run(fmt.Sprint(4*n), func(b *testing.B) {
			for b.Loop() {
				if _, err := Of(c, 0.15); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestWidest: the largest round in random contours, against a fine grid of
// places, and in shapes whose answer is known.
func TestWidest(t *testing.T) {
	for name, c := range map[string]struct {
		region []geom.Contour
		r      float64
	}{
		"square":      {[]geom.Contour{poly(0, 0, 4, 0, 4, 4, 0, 4)}, 2},
		"slot":        {[]geom.Contour{poly(0, 0, 40, 0, 40, 1, 0, 1)}, 0.5},
		"triangle":    {[]geom.Contour{poly(0, 0, 3, 0, 0, 4)}, 1},
		"with island": {[]geom.Contour{poly(0, 0, 10, 0, 10, 4, 0, 4), poly(1, 1, 1, 3, 3, 3, 3, 1)}, 2},
	} {
		w, _ := Widest(c.region, 3)
		if len(w) != 1 || math.Abs(w[0].Value-c.r) > 1e-5 {
			t.Errorf("%s: %v, a radius of %g is wanted", name, w, c.r)
		}
	}
	rng := rand.New(rand.NewPCG(2, 2))
	for made := 0; made < 40; {
		c := star(rng, 6+rng.IntN(10), geom.Point{}, 10)
		if !simple(c) {
			continue
		}
		made++
		w, _ := Widest([]geom.Contour{c}, 1)
		if len(w) != 1 {
			t.Fatal("nothing found")
		}
		best := 0.0
		for x := -10.0; x < 10; x += 0.25 {
			for y := -10.0; y < 10; y += 0.25 {
				p := geom.Point{X: x, Y: y}
				if !c.Inside(p) {
					continue
				}
				d := math.Inf(1)
				for _, q := range c {
					d = min(d, q.Dist(p))
				}
				best = max(best, d)
			}
		}
		if w[0].Value < best-1e-9 || w[0].Value > best+0.2 {
			t.Errorf("contour %d: a round of %g was found, the grid has one of %g", made, w[0].Value, best)
		}
	}
}

// TestNecks: local widths and walls where the answer is known.
func TestNecks(t *testing.T) {
	c := poly(0, 0, 4, 0, 4, 1.8, 6, 1.8, 6, 0, 10, 0, 10, 4, 6, 4, 6, 2.2, 4, 2.2, 4, 4, 0, 4)
	f := Find([]geom.Contour{c}, 5, 0.1, 1e-4)
	if len(f.Necks) == 0 || math.Abs(f.Necks[0].Value-0.4) > 1e-12 || math.Abs(f.Necks[0].Long-2) > 1e-12 {
		t.Errorf("the neck is %v", f.Necks)
	}
	if len(f.Angles) != 8 || math.Abs(f.Angles[0].Value-90) > 1e-9 {
		t.Errorf("angles %v", f.Angles)
	}
	f = Find([]geom.Contour{c.Back()}, 5, 0.1, 1e-4) // the same as a punch: the neck is a wall
	if len(f.Walls) == 0 || math.Abs(f.Walls[0].Value-0.4) > 1e-12 {
		t.Errorf("the wall is %v", f.Walls)
	}
	// A wedge-shaped neck between two vertices.
	w := poly(0, 0, 5, 2, 10, 0, 10, 5, 5, 2.3, 0, 5)
	f = Find([]geom.Contour{w}, 3, 0.1, 1e-4)
	if len(f.Necks) == 0 || math.Abs(f.Necks[0].Value-0.3) > 1e-12 {
		t.Errorf("the neck of two vertices is %v", f.Necks)
	}
	// An arc before a straight wall.
	arc := geom.Contour{geom.Line(geom.Point{}, geom.Point{X: 6}), geom.Line(geom.Point{X: 6}, geom.Point{X: 6, Y: 3}), geom.Bulge(geom.Point{X: 6, Y: 3}, geom.Point{Y: 3}, -0.4), geom.Line(geom.Point{Y: 3}, geom.Point{})}
	low := 3.0 - 0.4*3
	f = Find([]geom.Contour{arc}, 5, 0.1, 1e-4)
	if len(f.Necks) == 0 || math.Abs(f.Necks[0].Value-low) > 1e-9 {
		t.Errorf("the neck under an arc is %v, %g is wanted", f.Necks, low)
	}
}
