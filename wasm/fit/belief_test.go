package fit

import (
	"math"
	"testing"
)

// TestFlatPrior: with no prior and one noise the belief is ordinary least squares:
// the linear sets of the NIST reference datasets, to their certified digits.
func TestFlatPrior(t *testing.T) {
	for _, c := range []struct {
		name   string
		powers int
		origin bool
		digits float64
	}{{"norris", 0, false, 12}, {"noint1", 0, true, 13}, {"longley", 0, false, 10}, {"wampler1", 5, false, 9}, {"wampler3", 5, false, 9}} {
		t.Run(c.name, func(t *testing.T) {
			s := read(t, c.name)
			var list []Reading
			for i, row := range s.rows {
				r := []float64{}
				if !c.origin {
					r = append(r, 1)
				}
				r = append(r, row[1:]...)
				for k := 2; k <= c.powers; k++ {
					r = append(r, math.Pow(row[1], float64(k)))
				}
				list = append(list, Reading{Row: r, Y: row[0], Block: i})
			}
			prior := make([]float64, len(list[0].Row))
			for j := range prior {
				prior[j] = math.Inf(1)
			}
			b, err := Learn(prior, list, Noise{SD: []float64{1}, Weight: []float64{1}})
			if err != nil {
				t.Fatal(err)
			}
			for j, want := range s.b {
				e := make([]float64, len(prior))
				e[j] = 1
				m := b.At(e, 0, 0)
				if d := digits(m.Mean[0], want); d < c.digits {
					t.Errorf("B%d is %.15g, certified %.15g: %.1f digits", j, m.Mean[0], want, d)
				}
				if s.s > 0 {
					if d := digits(m.SD[0]*s.s, s.sd[j]); d < c.digits {
						t.Errorf("sd of B%d is %.15g, certified %.15g: %.1f digits", j, m.SD[0]*s.s, s.sd[j], d)
					}
				}
			}
		})
	}
}

// TestNormal: one unknown, one reading: the closed form of two normal distributions.
func TestNormal(t *testing.T) {
	const prior, noise, share, misread, y = 0.3, 0.1, 0.7, 0.05, 0.4
	b, err := Learn([]float64{prior}, []Reading{{Row: []float64{1}, Y: y, Error: misread}}, Noise{SD: []float64{noise}, Weight: []float64{1}, Share: share})
	if err != nil {
		t.Fatal(err)
	}
	v := noise*noise*(1+share*share) + misread*misread
	mean, sd := y*prior*prior/(prior*prior+v), math.Sqrt(prior*prior*v/(prior*prior+v))
	m := b.At([]float64{1}, 0, 0)
	if math.Abs(m.Mean[0]-mean) > 1e-14 || math.Abs(m.SD[0]-sd) > 1e-14 {
		t.Errorf("%.15f ± %.15f, by hand %.15f ± %.15f", m.Mean[0], m.SD[0], mean, sd)
	}
	if q := m.Quantile(0.95); math.Abs(q-(mean+1.6448536269514722*sd)) > 1e-12 {
		t.Errorf("nineteen in twenty below %.15f", q)
	}
	if p := m.Below(mean); math.Abs(p-0.5) > 1e-15 {
		t.Errorf("%.15f lies below the middle", p)
	}
}

// TestOpen: an unknown that neither prior nor reading speaks of is an error.
func TestOpen(t *testing.T) {
	_, err := Learn([]float64{1, math.Inf(1)}, []Reading{{Row: []float64{1, 0}, Y: 1}}, Noise{SD: []float64{1}, Weight: []float64{1}})
	if err != ErrDependent {
		t.Errorf("%v", err)
	}
}
