package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// drawn are readings in blocks of three, of unknowns and rows drawn by chance.
func drawn(seed uint64, unknowns, n int) (prior []float64, list []Reading) {
	r := rand.New(rand.NewPCG(seed, 3))
	for range unknowns {
		prior = append(prior, 0.1+r.Float64())
	}
	for i := range n {
		row := make([]float64, unknowns)
		y := 0.1 * r.NormFloat64()
		for j := range row {
			row[j] = r.NormFloat64()
			y += row[j] * prior[j] * r.NormFloat64() / 2
		}
		list = append(list, Reading{Row: row, Y: y, Error: 0.02 * r.Float64(), Block: i / 3})
	}
	return prior, list
}

func someNoise() Noise {
	return Noise{SD: []float64{0.05, 0.1, 0.2}, Weight: []float64{1, 2, 1}, Share: 0.7}
}

// TestFalls: the variance that the formula gives is that of learning again with the
// readings added, whatever they come to.
func TestFalls(t *testing.T) {
	for seed := range uint64(20) {
		prior, list := drawn(seed, 6, 12)
		old, more := list[:6], list[6:] // blocks of the new ones are their own
		b, err := Learn(prior, old, someNoise())
		if err != nil {
			t.Fatal(err)
		}
		again, err := Learn(prior, list, someNoise())
		if err != nil {
			t.Fatal(err)
		}
		row := []float64{1, -0.5, 0.3, 0, 2, 0.1}
		then := b.At(row, 0, 0).Narrowed(b.Falls(row, more))
		want := again.At(row, 0, 0)
		for i, sd := range then.SD {
			if math.Abs(sd/want.SD[i]-1) > 1e-9 {
				t.Errorf("seed %d, noise %d: the deviation falls to %.12g, learnt again it is %.12g", seed, i, sd, want.SD[i])
			}
		}
		// One reading: the printed formula itself, from covariances.
		one := []Reading{more[0]}
		v, c, own := b.Covariance(more[0].Row, more[0].Row), b.Covariance(row, more[0].Row), b.Falls(row, one)
		for i, sd := range someNoise().SD {
			noise := sd*sd*(1+0.7*0.7) + more[0].Error*more[0].Error
			if fall := c[i] * c[i] / (noise + v[i]); math.Abs(own[i]/fall-1) > 1e-9 {
				t.Errorf("seed %d, noise %d: falls by %.12g, by the formula %.12g", seed, i, own[i], fall)
			}
		}
	}
}

// TestWithout: what the others say of a reading is what they say when it is left out
// and the rest is learnt again. The left-out reading is alone in its block, so that
// At can say it; that a block helps is held by a straight inverse below.
func TestWithout(t *testing.T) {
	for seed := range uint64(20) {
		prior, list := drawn(seed, 5, 10)
		list[4].Block = 99
		b, err := Learn(prior, list, someNoise())
		if err != nil {
			t.Fatal(err)
		}
		rest := append(append([]Reading{}, list[:4]...), list[5:]...)
		others, err := Learn(prior, rest, someNoise())
		if err != nil {
			t.Fatal(err)
		}
		got, want := b.Without(list)[4], others.At(list[4].Row, list[4].Error*list[4].Error, 1+0.7*0.7)
		for i := range want.Mean {
			if math.Abs(got.Mean[i]-want.Mean[i]) > 1e-8 || math.Abs(got.SD[i]/want.SD[i]-1) > 1e-8 || math.Abs(got.Weight[i]-want.Weight[i]) > 1e-8 {
				t.Errorf("seed %d, noise %d: the others say %.9g ± %.9g (%.6f), learnt again %.9g ± %.9g (%.6f)", seed, i, got.Mean[i], got.SD[i], got.Weight[i], want.Mean[i], want.SD[i], want.Weight[i])
			}
		}
	}
}

// TestWithoutBlock: one unknown, two readings of one job: the conditional normal
// distribution of the first given the second, written out.
func TestWithoutBlock(t *testing.T) {
	const p, sd, share = 0.3, 0.1, 0.7
	list := []Reading{{Row: []float64{1}, Y: 0.5}, {Row: []float64{2}, Y: 0.2, Error: 0.05}}
	b, err := Learn([]float64{p}, list, Noise{SD: []float64{sd}, Weight: []float64{1}, Share: share})
	if err != nil {
		t.Fatal(err)
	}
	job := sd * sd * share * share
	a, c, d := p*p+job+sd*sd, 2*p*p+job, 4*p*p+job+sd*sd+0.05*0.05
	got := b.Without(list)[0]
	if mean, dev := c/d*0.2, math.Sqrt(a-c*c/d); math.Abs(got.Mean[0]-mean) > 1e-12 || math.Abs(got.SD[0]-dev) > 1e-12 {
		t.Errorf("the other says %.12g ± %.12g, by hand %.12g ± %.12g", got.Mean[0], got.SD[0], mean, dev)
	}
}
