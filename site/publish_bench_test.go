package site

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/words"
	"kerfbook/site/theme"
	"kerfbook/wasm/catalog"
)

// Publishing the real handbook is held against its floor, in one run: what the
// libraries cost that it cannot do without, one after the other on one processor.
// Both are told in wall time and in processor time, the least of all rounds: on a
// machine that others use the least is nearest to the truth.

// cost is the least wall time and the least processor time of several rounds.
type cost struct{ wall, cpu time.Duration }

func (c *cost) round(do func()) {
	runtime.GC() // a round does not pay for the one before
	wall, cpu := time.Now(), processorTime()
	do()
	w, p := time.Since(wall), processorTime()-cpu
	if c.wall == 0 || w < c.wall {
		c.wall = w
	}
	if c.cpu == 0 || p < c.cpu {
		c.cpu = p
	}
}

func (c *cost) report(b *testing.B, name string, floor cost) {
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1e3 }
	b.ReportMetric(ms(c.wall), name+"-ms")
	b.ReportMetric(ms(c.cpu), name+"-cpu-ms")
	if floor.wall > 0 {
		b.ReportMetric(float64(c.wall)/float64(floor.wall), name+"/floor")
		b.ReportMetric(float64(c.cpu)/float64(floor.cpu), name+"/floor-cpu")
	}
}

// handbook is a copy of the real content that may be changed, and its options.
func handbook(b *testing.B) (dir string, o Options) {
	b.Helper()
	dir = b.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../content")); err != nil {
		b.Fatal(err)
	}
	wasm, err := BuildWasm(context.Background(), "..")
	if err != nil {
		b.Fatal(err)
	}
	return dir, Options{Content: os.DirFS(dir), Calculators: catalog.New, Evidence: os.DirFS("../testdata"), Toolchain: runtime.Version(), OneFile: true, Wasm: wasm}
}

// floorOf are the parts of the floor: markdown of every page twice, the program
// lexer, the bundles, the packing of the one file, the writing of every file.
func floorOf(b *testing.B, o Options) []struct {
	name string
	do   func()
} {
	b.Helper()
	sample := &locked{files: Files{}}
	if _, err := Publish(context.Background(), o, sample); err != nil {
		b.Fatal(err)
	}
	var pages [][]byte
	var programs []string
	err := fs.WalkDir(o.Content, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".md") {
			return err
		}
		text, err := fs.ReadFile(o.Content, name)
		pages = append(pages, text)
		for i, piece := range strings.Split(string(text), "```") {
			if program, ok := strings.CutPrefix(piece, "nc\n"); ok && i%2 == 1 {
				programs = append(programs, program)
			}
		}
		return err
	})
	if err != nil || len(pages) < 50 || len(programs) == 0 {
		b.Fatalf("%d pages, %d programs, %v", len(pages), len(programs), err)
	}
	lexer, err := words.New()
	if err != nil {
		b.Fatal(err)
	}
	md := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList, extension.Strikethrough))
	must := func(err error) {
		if err != nil {
			b.Fatal(err)
		}
	}
	packed := func() []byte { // what the one file packs beside the calculators: every sheet, and the tables
		var all bytes.Buffer
		for name, data := range sample.files {
			if strings.HasSuffix(name, ".html") && name != "handbook-one-file.html" || strings.HasPrefix(name, "book-") && strings.HasSuffix(name, ".txt") {
				all.Write(data)
			}
		}
		return all.Bytes()
	}()
	return []struct {
		name string
		do   func()
	}{
		{"goldmark", func() {
			for range 2 {
				for _, p := range pages {
					var out bytes.Buffer
					must(md.Convert(p, &out))
				}
			}
		}},
		{"chroma", func() {
			for _, p := range programs {
				_, _, err := lexer.Set(p)
				must(err)
			}
		}},
		{"esbuild", func() {
			_, err := bundle.Style(theme.Sources(), "css/style.css")
			must(err)
			work, err := bundle.Script(theme.Sources(), "ts/work.ts", nil)
			must(err)
			_, err = bundle.Script(theme.Sources(), "ts/host.ts", map[string]string{"WORK_TEXT": string(work), "WORK_NAME": ""})
			must(err)
		}},
		{"gzip", func() { _ = bundle.Packed(packed) }},
		{"gzip-wasm", func() { _ = bundle.Packed(o.Wasm) }},
		{"write", func() { must(write(b, sample.files)) }},
	}
}

// write puts files into a new folder, and nothing more.
func write(b *testing.B, files map[string][]byte) error {
	dir, err := os.MkdirTemp(b.TempDir(), "")
	for name, data := range files {
		if err == nil {
			err = os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o755)
		}
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o644)
		}
	}
	return err
}

// toFolder publishes as the command does.
func toFolder(b *testing.B, o Options) {
	f, err := OpenFolder(filepath.Join(b.TempDir(), "published"), FolderOptions{})
	if err != nil {
		b.Fatal(err)
	}
	if _, err := Publish(context.Background(), o, f); err != nil {
		b.Fatal(err)
	}
	if err := f.Commit(); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkPublish: the real handbook with nothing remembered, and again after one
// page changed, over the floor.
func BenchmarkPublish(b *testing.B) {
	dir, o := handbook(b)
	parts := floorOf(b, o)
	memory := b.TempDir()
	publish := func(o Options) { toFolder(b, o) }
	remembering := func() Options {
		o := o
		o.Memory = OpenMemory(memory, "the benchmark") // a new command: nothing but the folder is kept
		return o
	}
	publish(remembering())
	page := filepath.Join(dir, "first.md")
	text, err := os.ReadFile(page)
	if err != nil {
		b.Fatal(err)
	}
	var floor, anew, again cost
	each := make([]cost, len(parts))
	rounds := 0
	for b.Loop() {
		rounds++
		for i, p := range parts {
			each[i].round(p.do)
		}
		anew.round(func() { publish(o) })
		if err := os.WriteFile(page, fmt.Appendf(nil, "%s\nAnother %d.\n", text, rounds), 0o644); err != nil {
			b.Fatal(err)
		}
		again.round(func() { publish(remembering()) })
	}
	var program cost // the packing of the calculators is much of the floor: the ratios stand without it too
	for i, c := range each {
		floor.wall += c.wall
		floor.cpu += c.cpu
		if parts[i].name == "gzip-wasm" {
			program = c
		}
		c.report(b, parts[i].name, cost{})
	}
	floor.report(b, "floor", cost{})
	anew.report(b, "anew", floor)
	again.report(b, "again", floor)
	for _, c := range []*cost{&floor, &anew, &again} {
		c.wall -= program.wall
		c.cpu -= program.cpu
	}
	anew.report(b, "anew-but-wasm", floor)
	again.report(b, "again-but-wasm", floor)
}

// BenchmarkSave: what preview does when a page of the real handbook is saved.
func BenchmarkSave(b *testing.B) {
	dir, o := handbook(b)
	o.OneFile, o.Packed, o.Memory = false, Pack(o.Wasm), OpenMemory("", "")
	page := filepath.Join(dir, "first.md")
	text, err := os.ReadFile(page)
	if err != nil {
		b.Fatal(err)
	}
	save := func(n int) {
		if err := os.WriteFile(page, fmt.Appendf(nil, "%s\nAnother %d.\n", text, n), 0o644); err != nil {
			b.Fatal(err)
		}
		if _, err := Publish(context.Background(), o, &locked{files: Files{}}); err != nil {
			b.Fatal(err)
		}
	}
	save(0)
	var saved cost
	for n := 1; b.Loop(); n++ {
		saved.round(func() { save(n) })
	}
	saved.report(b, "save", cost{})
}
