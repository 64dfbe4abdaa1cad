package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"kerfbook/site/diag"
	"kerfbook/testdata/sweep"
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

// TestAgain: whatever an author saves, one save after the other, a process that takes
// over what did not change publishes the bytes, and says the messages, of one that
// starts anew.
func TestAgain(t *testing.T) {
	edits := []struct{ file, old, new string }{
		{"handbook/10-how/20-more.md", "More of it.", "More of it, and a short answer."},
		{"handbook/10-how/20-more.md", "title: More", "title: Most"},
		{"handbook/10-how/20-more.md", "More of it", "See [on](index.md#why) and [there](index.md#two). More of it"},
		{"handbook/10-how/index.md", "## Why", "## Why not"},
		{"handbook/10-how/index.md", "id: two", "id: deux"},
		{"handbook/10-how/index.md", "`=two.result`", "`=deux.result`"},
		{"handbook/10-how/index.md", "size = 2 mm\nresult ≈ 4 mm", "size = 3 mm\nresult ≈ 6 mm"},
		{"handbook/10-how/index.md", "result ≈ 4 mm", "result ≈ 5 mm"},
		{"handbook/10-how/index.md", "The manual *wins*.", "The manual of the short answer *wins*."},
		{"first.md", "index.md#why", "index.md#why-not"},
		{"first.md", "Start here", "Start where the short answer stands, here"},
		{"first.md", "title: First", "title: Foremost"},
		{"glossary.yaml", "short answer", "more of it"},
		{"bibliography.yaml", "title: A work", "title: Another work"},
		{"data/sizes.csv", "one,1,", "one,2,"},
		{"data/sizes.csv", "# title: Sizes", "# title: All sizes"},
		{"edition.yaml", "revision: A", "revision: B"},
		{"edition.yaml", "owner: Nobody", "owner: Somebody"},
	}
	published, refused := 0, 0
	for seed := range max(4, sweep.Part(60)) {
		rng := rand.New(rand.NewPCG(uint64(seed), 6))
		c := content()
		for _, name := range []string{"first.md", "handbook/10-how/20-more.md"} { // nothing is said about them, so they are taken over
			text := string(c[name].Data)
			c[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, "\n---\n", "\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\n", 1))}
		}
		memory := OpenMemory("", "one")
		done := make([]bool, len(edits))
		for step := range 12 {
			if i := rng.IntN(len(edits) + 1); i < len(edits) {
				e := edits[i]
				if done[i] {
					e.old, e.new = e.new, e.old // the author takes it back
				}
				if text := strings.Replace(string(c[e.file].Data), e.old, e.new, 1); text != string(c[e.file].Data) {
					c[e.file] = &fstest.MapFile{Data: []byte(text)}
					done[i] = !done[i]
				}
			} else if name := "handbook/10-how/30-new.md"; c[name] != nil {
				delete(c, name)
			} else {
				c[name] = &fstest.MapFile{Data: []byte("---\ntitle: New\nnumber: \"012\"\n---\nNew, [more](20-more.md).\n")}
			}
			var told [2]string
			var files [2]Files
			for i, m := range []*Memory{nil, memory} {
				o := trial(c)
				o.Memory = m
				sink := &locked{files: Files{}}
				res, err := Publish(context.Background(), o, sink)
				if err != nil && !errors.Is(err, ErrContent) {
					t.Fatal(err)
				}
				var s strings.Builder
				if err := diag.Render(&s, res.Messages, res.Texts, res.Pages); err != nil {
					t.Fatal(err)
				}
				told[i], files[i] = fmt.Sprint(s.String(), res.Unexplained, res.Warnings, res.Counts), sink.files
				if err == nil {
					published++
				} else {
					refused++
				}
			}
			if told[0] != told[1] {
				t.Fatalf("seed %d, step %d: anew\n%s\nagain\n%s", seed, step, told[0], told[1])
			}
			for name, want := range files[0] {
				if got := files[1][name]; !bytes.Equal(got, want) {
					t.Fatalf("seed %d, step %d: %s is\n%s\nwant\n%s", seed, step, name, got, want)
				}
			}
			if len(files[0]) != len(files[1]) {
				t.Fatalf("seed %d, step %d: %d files, want %d", seed, step, len(files[1]), len(files[0]))
			}
		}
	}
	if published < 20 || refused < 20 {
		t.Errorf("%d published, %d refused: both are to be tried", published, refused)
	}
}
