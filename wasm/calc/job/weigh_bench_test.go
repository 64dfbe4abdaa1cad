package job

import (
	"testing"

	"kerfbook/wasm/rules"
)

// BenchmarkWeigh is the weighing of one job: the law asked for every wire and fluid, every
// process held against the print.
func BenchmarkWeigh(b *testing.B) {
	j := &job{cache: newCache(readBook(b))}
	j.Case = j.rules.NewCase()
	rng := rules.Dice(1)
	j.throw(&rng)
	j.Begin()
	b.ResetTimer()
	for range b.N {
		j.asks, j.near = nil, nil
		j.weigh()
	}
}
