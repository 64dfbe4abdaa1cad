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
