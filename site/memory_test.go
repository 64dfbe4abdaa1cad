package site

import (
	"bytes"
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// asking is the trial's content with calculators that count their answers.
func asking(asked *atomic.Int32) Options {
	o := trial(content())
	o.Calculators = func(b *book.Book) (*calc.Set, error) {
		list := []*calc.Calculator{double(b), half(b)}
		for _, k := range list {
			build := k.Build
			k.Build = func(f *calc.Form, b *book.Book) calc.Run {
				run := build(f, b)
				say := run.Say
				run.Say = func(r *calc.Result, a *calc.Answer) { asked.Add(1); say(r, a) }
				return run
			}
		}
		return calc.NewSet(b, list...)
	}
	return o
}

// TestMemory: what was answered once is not computed again, by the next publication
// or the next command; other inputs, tables or programs are; a file that is damaged
// or foreign is replaced; and every byte is as if nothing were remembered.
func TestMemory(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "memory")
	var asked atomic.Int32
	publish := func(o Options) Files {
		t.Helper()
		asked.Store(0)
		sink := &locked{files: Files{}}
		if _, err := Publish(context.Background(), o, sink); err != nil {
			t.Fatal(err)
		}
		return sink.files
	}
	plain := publish(asking(&asked))
	all := asked.Load()
	if all < 5 {
		t.Fatalf("only %d answers", all)
	}
	step := func(what string, o Options, want int32, files Files) {
		t.Helper()
		got := publish(o)
		if asked.Load() != want {
			t.Errorf("%s: %d answers were computed, want %d", what, asked.Load(), want)
		}
		if !maps.EqualFunc(got, files, bytes.Equal) {
			t.Errorf("%s: the bytes differ", what)
		}
		if err := o.Memory.Err(); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	with := func(code string) Options {
		o := asking(&asked)
		o.Memory = OpenMemory(dir, code)
		return o
	}
	first := with("one")
	publish(first)
	once := asked.Load() // an example that stands twice is computed once
	if once > all {
		t.Errorf("%d answers were computed, without a memory %d", once, all)
	}
	step("the same process again", first, 0, plain)
	step("the next command", with("one"), 0, plain)
	step("another program", with("two"), once, plain)
	step("no folder", func() Options { o := asking(&asked); o.Memory = OpenMemory("", "one"); return o }(), once, plain)

	changed := func(o Options, file, old, new string) Options {
		c := content()
		text := strings.Replace(string(c[file].Data), old, new, 1)
		if text == string(c[file].Data) {
			t.Fatalf("%s has no %q", file, old)
		}
		c[file].Data = []byte(text)
		o.Content = c
		return o
	}
	words := func(o Options) Options { return changed(o, "handbook/10-how/20-more.md", "More of it", "Less of it") }
	step("another word", words(with("one")), 0, publish(words(asking(&asked))))
	inputs := func(o Options) Options { return changed(o, "handbook/10-how/index.md", "size = 3 mm", "size = 5 mm") }
	step("another input", inputs(with("one")), 1, publish(inputs(asking(&asked))))
	cell := func(o Options) Options { return changed(o, "data/sizes.csv", "one,1,", "one,2,") }
	step("another cell", cell(with("one")), once, publish(cell(asking(&asked))))

	// Damaged, cut off, foreign, and a folder in its place.
	names, err := filepath.Glob(filepath.Join(dir, "answers-*.bin"))
	if err != nil || len(names) != 3 {
		t.Fatalf("the folder holds %v, %v", names, err)
	}
	for _, bad := range []string{"", "kerfbook answers 1\n", "PK\x03\x04", strings.Repeat("x", 10_000)} {
		for _, name := range names {
			if err := os.WriteFile(name, []byte(bad), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		step("a damaged file", with("one"), once, plain)
		step("the file that replaced it", with("one"), 0, plain)
	}
	file := filepath.Join(t.TempDir(), "a-file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	o := asking(&asked)
	o.Memory = OpenMemory(filepath.Join(file, "x"), "one")
	if got := publish(o); !maps.EqualFunc(got, plain, bytes.Equal) || o.Memory.Err() == nil {
		t.Errorf("a folder that cannot be made: %v", o.Memory.Err())
	}
}

// TestMemoryTogether: several commands at once use one folder; each is whole.
func TestMemoryTogether(t *testing.T) {
	dir := t.TempDir()
	var asked atomic.Int32
	var wg sync.WaitGroup
	got := make([]Files, 6)
	for i := range got {
		wg.Go(func() {
			for range 3 {
				o := asking(&asked)
				o.Memory = OpenMemory(dir, "one")
				sink := &locked{files: Files{}}
				if _, err := Publish(context.Background(), o, sink); err != nil || o.Memory.Err() != nil {
					t.Error(err, o.Memory.Err())
				}
				got[i] = sink.files
			}
		})
	}
	wg.Wait()
	if i := slices.IndexFunc(got, func(f Files) bool { return !maps.EqualFunc(f, got[0], bytes.Equal) }); i >= 0 {
		t.Errorf("command %d published other bytes", i)
	}
	asked.Store(0)
	o := asking(&asked)
	o.Memory = OpenMemory(dir, "one")
	if _, err := Publish(context.Background(), o, &locked{files: Files{}}); err != nil || asked.Load() != 0 {
		t.Errorf("after them %d answers were computed (%v)", asked.Load(), err)
	}
}
