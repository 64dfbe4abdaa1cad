package main

import (
	"testing"

	"kerfbook/wasm/border"
	"kerfbook/wasm/catalog"
)

// BenchmarkAnswer compares one answer natively and in the shipped wasm, in one
// run.
func BenchmarkAnswer(b *testing.B) {
	_, text := canonicalBook(b)
	give := border.Encode([]border.Pair{{Name: "book"}, {Name: "book", Value: text}})
	request := border.Encode([]border.Pair{{Name: "answer"}, {Name: "calculator", Value: "corner"}, {Name: "in.radius", Value: "3 thou"}, {Name: "in.gap", Value: "3 to 10 µm"}})
	b.Run("native", func(b *testing.B) {
		d := &border.Desk{Calculators: catalog.New}
		d.Ask(give)
		for b.Loop() {
			d.Ask(request)
		}
	})
	b.Run("wasm", func(b *testing.B) {
		r := start(b)
		r.say(b, give)
		for b.Loop() {
			r.say(b, request)
		}
	})
}
