package near

import (
	"math"
	"testing"
)

// record is a test that only remembers whether it failed.
type record struct {
	testing.TB
	failed bool
}

func (r *record) Helper()               {}
func (r *record) Errorf(string, ...any) { r.failed = true }

func TestNear(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		got, want, tol float64
		near, share    bool
	}{
		{1, 1, 0, true, true}, {1.1, 1, 0.2, true, true}, {1.3, 1, 0.2, false, false}, {11, 10, 0.2, false, true}, {0.11, 0.1, 0.05, true, false},
		{0, 0, 0, true, true}, {1e-12, 0, 1e-9, true, false}, {nan, 1, 1e9, false, false}, {1, nan, 1e9, false, false}, {nan, nan, 1, false, false}, {inf, inf, 1, true, true}, {inf, 1, 1, false, false}, {-inf, inf, 1, false, false},
	} {
		for name, ok := range map[string]bool{"to": c.near, "share": c.share} {
			r := &record{}
			if name == "to" {
				To(r, "it", c.got, c.want, c.tol)
			} else {
				Share(r, "it", c.got, c.want, c.tol)
			}
			if r.failed == ok {
				t.Errorf("%s: %v beside %v within %v is near: %v", name, c.got, c.want, c.tol, !r.failed)
			}
		}
	}
	for _, c := range []struct {
		got, want []float64
		near      bool
	}{{nil, nil, true}, {[]float64{1, 2}, []float64{1, 2.1}, false}, {[]float64{1, 2}, []float64{1, 2}, true}, {[]float64{1}, []float64{1, 2}, false}, {[]float64{1, 2}, []float64{1}, false}} {
		r := &record{}
		if All(r, "it", c.got, c.want, 0.01); r.failed == c.near {
			t.Errorf("%v beside %v is near: %v", c.got, c.want, !r.failed)
		}
	}
}
