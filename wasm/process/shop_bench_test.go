package process

import (
	"fmt"
	"testing"
)

// BenchmarkLearn: fifty cuts of five jobs, and what a plan of six passes asks.
func BenchmarkLearn(b *testing.B) {
	s := drawn(1)
	base := general()
	var cuts []Cut
	for j := 0; len(cuts) < 50; j++ {
		cuts = append(cuts, s.job(fmt.Sprint(j), "quay")...)
	}
	b.Run("50 cuts", func(b *testing.B) {
		for b.Loop() {
			if _, err := Learn(&base, cuts[:50]); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkPredict: what a shop's cuts say of four quantities of each of six passes.
func BenchmarkPredict(b *testing.B) {
	l := general()
	s := Setup{Wire: 0.25, Height: 40, Class: Production}
	shop := drawn(1)
	var cuts []Cut
	for j := 0; len(cuts) < 50; j++ {
		cuts = append(cuts, shop.job(fmt.Sprint(j), "quay")...)
	}
	learnt, err := Learn(&l, cuts[:50])
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for pass := 1; pass <= 6; pass++ {
			for _, k := range [...]Kind{GapOf, RaOf, LayerOf, SkimOf} {
				learnt.Predict(&l, s, k, pass, 0, "steel", "quay", Next)
			}
		}
	}
}
