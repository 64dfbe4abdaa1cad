package catalog

import (
	"testing"

	"kerfbook/wasm/calc"
)

// BenchmarkJob is one whole sheet on its defaults, with its alternatives.
func BenchmarkJob(b *testing.B) {
	tables := readBook(b)
	set, err := New(tables)
	if err != nil {
		b.Fatal(err)
	}
	c, _ := set.Find("job")
	for b.Loop() {
		c.Eval(tables, calc.Input{Strict: true})
	}
}
