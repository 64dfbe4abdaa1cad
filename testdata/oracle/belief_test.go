package oracle

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os/exec"
	"testing"

	"kerfbook/wasm/fit"
)

// question is what both sides are asked: an invented shop's readings.
type question struct {
	Prior  []float64   `json:"prior"`
	Rows   [][]float64 `json:"rows"`
	Y      []float64   `json:"y"`
	Error  []float64   `json:"error"`
	Block  []int       `json:"block"`
	SD     []float64   `json:"sd"`
	Weight []float64   `json:"weight"`
	Share  float64     `json:"share"`
	Ask    []float64   `json:"ask"`
	Own    float64     `json:"own"`
	Of     float64     `json:"of"`
}

// TestBelief: ten invented shops of one to thirty readings in jobs of three, learnt by
// reflections here and by dense algebra in scipy: the weights of the noises, the mean
// and the deviation of an answer.
func TestBelief(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 7))
	var in bytes.Buffer
	var asked []question
	for shop := range 10 {
		q := question{SD: []float64{0.04, 0.055, 0.075, 0.10, 0.14, 0.19}, Weight: []float64{0.3, 0.7, 1, 0.8, 0.4, 0.1}, Share: 0.7, Own: 0.01, Of: 1.49}
		unknowns := 4 + rng.IntN(20)
		for range unknowns {
			q.Prior = append(q.Prior, 0.02+0.3*rng.Float64())
			q.Ask = append(q.Ask, rng.NormFloat64())
		}
		for i := range 1 + 3*shop {
			row := make([]float64, unknowns)
			for j := range row {
				row[j] = rng.NormFloat64()
			}
			q.Rows, q.Y = append(q.Rows, row), append(q.Y, 0.3*rng.NormFloat64())
			q.Error, q.Block = append(q.Error, 0.05*rng.Float64()), append(q.Block, i/3)
		}
		asked = append(asked, q)
		if err := json.NewEncoder(&in).Encode(q); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("/usr/bin/python3", "belief.py")
	cmd.Stdin = &in
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("scipy did not run: %v\n%s", err, said.String())
	}
	at := 0
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); at++ {
		var theirs struct{ Weight, Mean, SD []float64 }
		if err := json.Unmarshal(lines.Bytes(), &theirs); err != nil {
			t.Fatal(err)
		}
		q := asked[at]
		var readings []fit.Reading
		for i, row := range q.Rows {
			readings = append(readings, fit.Reading{Row: row, Y: q.Y[i], Error: q.Error[i], Block: q.Block[i]})
		}
		b, err := fit.Learn(q.Prior, readings, fit.Noise{SD: q.SD, Weight: q.Weight, Share: q.Share})
		if err != nil {
			t.Fatal(err)
		}
		ours := b.At(q.Ask, q.Own, q.Of)
		for i := range q.SD {
			for _, c := range [...]struct {
				what         string
				ours, theirs float64
			}{{"weight", ours.Weight[i], theirs.Weight[i]}, {"mean", ours.Mean[i], theirs.Mean[i]}, {"deviation", ours.SD[i], theirs.SD[i]}} {
				if math.Abs(c.ours-c.theirs) > 1e-9*(1+math.Abs(c.theirs)) {
					t.Errorf("shop %d, noise %g: %s %.12g, scipy has %.12g", at, q.SD[i], c.what, c.ours, c.theirs)
				}
			}
		}
	}
	if at != len(asked) {
		t.Fatalf("%d answers for %d shops", at, len(asked))
	}
}
