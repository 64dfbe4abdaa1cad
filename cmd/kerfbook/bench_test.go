package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/yuin/goldmark"

	"kerfbook/site"
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

// BenchmarkPublish compares publishing with its floor: the same markdown through
// goldmark and the same bytes to disk.
func BenchmarkPublish(b *testing.B) {
	wasm := wasmBytes(b)
	o := options("../../content")
	o.Wasm = wasm
	sample := &lockedFiles{files: site.Files{}}
	if _, err := site.Publish(context.Background(), o, sample); err != nil {
		b.Fatal(err)
	}
	var pages [][]byte
	err := filepath.WalkDir("../../content", func(name string, d os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(name, ".md") {
			var text []byte
			text, err = os.ReadFile(name)
			pages = append(pages, text)
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			dir := b.TempDir()
			for _, p := range pages {
				var out bytes.Buffer
				if err := goldmark.Convert(p, &out); err != nil {
					b.Fatal(err)
				}
			}
			for name, data := range sample.files {
				file := filepath.Join(dir, name)
				_ = os.MkdirAll(filepath.Dir(file), 0o755)
				if err := os.WriteFile(file, data, 0o644); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("publish", func(b *testing.B) {
		for b.Loop() {
			to := filepath.Join(b.TempDir(), "published")
			f, err := site.OpenFolder(to, site.FolderOptions{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := site.Publish(context.Background(), o, f); err != nil {
				b.Fatal(err)
			}
			if err := f.Commit(); err != nil {
				b.Fatal(err)
			}
		}
	})
}
