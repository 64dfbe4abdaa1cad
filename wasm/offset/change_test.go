package offset

import (
	"math"
	"math/rand/v2"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/geom"
)

// measured is what a reader is told of a part.
type measured struct {
	err              error
	neck, wall       float64 // -1 for none
	left, path, deep float64
	verdict          string
}

const mayStay = 0.0537 // mm; no corner of the shapes comes near to it by design

func measure(contours []geom.Contour, opening bool, reach float64) (m measured) {
	region, _, err := Nested(contours, opening)
	if err != nil {
		return measured{err: err}
	}
	r, err := Of(region, reach)
	if err != nil {
		m.err = err
		return m
	}
	m.left, m.path = r.Leftover, r.Length
	whole := false
	for _, k := range r.Pockets {
		m.deep = max(m.deep, k.Depth)
		whole = whole || k.Whole
	}
	switch {
	case len(r.Path) == 0:
		m.verdict = "nowhere"
	case whole || m.deep > mayStay:
		m.verdict = "no"
	default:
		m.verdict = "yes"
	}
	f := Find(region, 4*reach+1, reach, 1e-4)
	m.neck, m.wall = -1, -1
	if len(f.Necks) > 0 {
		m.neck = f.Necks[0].Value
	}
	if len(f.Walls) > 0 {
		m.wall = f.Walls[0].Value
	}
	return m
}

// differs says in what two measurements of one part disagree.
func (m measured) differs(n measured, tol float64) string {
	off := func(a, b float64) bool { return math.Abs(a-b) > tol*(1+math.Abs(b)) }
	switch {
	case m.err != nil || n.err != nil:
		return "no answer"
	case m.verdict != n.verdict:
		return "verdict"
	case off(m.neck, n.neck):
		return "neck"
	case off(m.wall, n.wall):
		return "wall"
	case off(m.left, n.left):
		return "left"
	case off(m.path, n.path):
		return "path"
	}
	return ""
}

// TestChangeNothing: eight ways to draw one part, and one answer. Rounding of the
// last digits makes some 1e-14 of coordinates, and a corner of a few degrees or the
// end of a fit makes a hundred times more of it; noise of 1e-9 mm the same of that:
// so a millionth of a millimetre, and of the value, is what they may differ by.
func TestChangeNothing(t *testing.T) {
	bad := map[string]int{}
	for seed := range sweep.Part(20000) {
		c := makeCase(seed)
		want := measure(c.contours, c.opening, c.reach)
		for i, how := range changes() {
			rng := rand.New(rand.NewPCG(uint64(seed), uint64(i)))
			got := measure(c.change(how, rng), c.opening, c.reach)
			if what := got.differs(want, 1e-6); what != "" {
				key := c.kind + " " + how + " " + what
				bad[key]++
				if bad[key] <= 2 {
					t.Errorf("seed %d, a %s, after %s: %s\n got %+v\nwant %+v", seed, c.kind, how, what, got, want)
				}
			}
		}
	}
	if len(bad) > 0 {
		t.Errorf("in all: %v", bad)
	}
}

// TestNanometre: a drawing right to a nanometre, or turned and saved with six
// decimals, gets the verdict of the exact one, and every one is answered. Areas and
// lengths add up a nanometre or a bulge's last decimal over every vertex, a few
// micrometres at most: 1e-4 of them and of a millimetre is what they may differ by.
func TestNanometre(t *testing.T) {
	bad := map[string]int{}
	for seed := range sweep.Part(20000) {
		c := makeCase(seed)
		want := measure(c.contours, c.opening, c.reach)
		rng := rand.New(rand.NewPCG(uint64(seed), 99))
		for how, drawing := range [...][]geom.Contour{shaken(c.contours, 1e-8, rng), shaken(c.contours, 1e-7, rng), shaken(c.contours, 1e-6, rng), saved(c.contours, 2*math.Pi*rng.Float64())} {
			how := [...]string{"1e-8 mm", "1e-7 mm", "1e-6 mm", "six decimals"}[how]
			if what := measure(drawing, c.opening, c.reach).differs(want, 1e-4); what != "" {
				bad[c.kind+" "+how+" "+what]++
				if bad[c.kind+" "+how+" "+what] < 3 {
					t.Errorf("seed %d, a %s, with %s: %s\n got %+v\nwant %+v", seed, c.kind, how, what, measure(drawing, c.opening, c.reach), want)
				}
			}
		}
	}
	if len(bad) > 0 {
		t.Errorf("in all: %v", bad)
	}
}
