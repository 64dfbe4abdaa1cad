package offset

import (
	"math"
	"testing"

	"kerfbook/testdata/spent"
	"kerfbook/wasm/geom"
)

// TestRoom: what an offset takes is bounded by its pieces, in bytes and in how often
// it asks for memory. In the page the collector stops the work, so both are paid in
// time there: a comb of 10,000 pieces took 32 MB in 45,000 parts when each raw piece
// and each place had lists of its own.
func TestRoom(t *testing.T) {
	c := []geom.Contour{comb(2500)}
	of := func() {
		if _, err := Of(c, 0.15); err != nil {
			t.Fatal(err)
		}
	}
	if got := spent.Bytes(of); got > 22<<20 {
		t.Errorf("a comb of 10,000 pieces allocates %d bytes", got)
	}
	if got := testing.AllocsPerRun(2, of); got > 300 {
		t.Errorf("a comb of 10,000 pieces asked for memory %g times", got)
	}
	// A region that is asked again has its room, and a path alone takes little.
	g := New(c)
	again := func(want Want) func() {
		return func() {
			if _, err := g.Of(0.15, want); err != nil {
				t.Fatal(err)
			}
		}
	}
	again(Everything)()
	if got := spent.Bytes(again(Paths)); got > 6<<20 {
		t.Errorf("a path of 10,000 pieces at a further reach allocates %d bytes", got)
	}
	// 40,000 square holes are 600 kB of text.
	var holes []geom.Contour
	for i := range 40_000 {
		x, y := float64(i%200*2), float64(i/200*2)
		holes = append(holes, poly(x, y, x+1, y, x+1, y+1, x, y+1))
	}
	if got := spent.Bytes(func() {
		if _, err := Of(holes, 0.15); err != nil {
			t.Fatal(err)
		}
	}); got > 400<<20 {
		t.Errorf("40,000 square holes allocate %d MB in all", got>>20)
	}
}

// TestRegion: a region asked at many reaches, for less or for all, answers each as
// one that was never asked before, to the bit.
func TestRegion(t *testing.T) {
	round := geom.Contour{geom.About(geom.Point{X: 30, Y: 5}, 2, 0, math.Pi), geom.About(geom.Point{X: 30, Y: 5}, 2, math.Pi, math.Pi)}
	region := []geom.Contour{comb(12), round}
	g := New(region)
	same := func(a, b []geom.Contour) bool {
		if len(a) != len(b) {
			return false
		}
		for i := range a {
			if len(a[i]) != len(b[i]) {
				return false
			}
			for k := range a[i] {
				if a[i][k] != b[i][k] {
					return false
				}
			}
		}
		return true
	}
	for _, reach := range []float64{0.15, 0.02, 0.001, 0.19, 0.2, 0.3, 1.2, 0.002, 0.15, 5} {
		fresh, err := Of(region, reach)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []Want{Everything, Paths, Leaves} {
			r, err := g.Of(reach, want)
			if err != nil {
				t.Fatal(err)
			}
			if !same(r.Path, fresh.Path) || r.Length != fresh.Length || r.Exact != fresh.Exact || r.Reach != fresh.Reach {
				t.Errorf("reach %g, wanting %d: another path than at the first asking", reach, want)
			}
			if want >= Leaves && (r.Leftover != fresh.Leftover || len(r.Pockets) != len(fresh.Pockets)) {
				t.Errorf("reach %g, wanting %d: %g stays in %d places, not %g in %d", reach, want, r.Leftover, len(r.Pockets), fresh.Leftover, len(fresh.Pockets))
			}
			if want == Everything && !same(r.Cut, fresh.Cut) {
				t.Errorf("reach %g: another contour comes out than at the first asking", reach)
			}
		}
		// What was answered stays as it was.
		if kept, err := g.Of(reach, Everything); err != nil {
			t.Fatal(err)
		} else if _, err := g.Of(reach/2, Everything); err != nil || !same(kept.Path, fresh.Path) || !same(kept.Cut, fresh.Cut) {
			t.Errorf("reach %g: a further question changed an answer (%v)", reach, err)
		}
	}
}
