package site

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/words"
	"kerfbook/site/theme"
)

// many is invented content of n pages in chapters of fifty.
func many(n int) fstest.MapFS {
	c := content()
	for i := range n {
		dir := fmt.Sprintf("handbook/%d-part-%d", 100+i/50, i/50)
		name := fmt.Sprintf("%s/%d-page-%d.md", dir, 10+i%50, i)
		if i%50 == 0 {
			name = dir + "/index.md"
		}
		text := "---\ntitle: Page " + fmt.Sprint(i) + "\nnumber: \"n" + fmt.Sprint(i) + "\"\n---\n" + goodPage[len("---\ntitle: How much?\nnumber: \"010\"\ndescription: A page.\n---\n"):]
		c[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return c
}

// drop is a sink that keeps nothing, as the disk does.
type drop struct{}

func (drop) Put(string, []byte) error { return nil }

// BenchmarkPages: a thousand generated pages against a hundred.
func BenchmarkPages(b *testing.B) {
	for _, n := range []int{100, 1000} {
		c := many(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var most uint64
			for b.Loop() {
				o := trial(c)
				o.OneFile = false
				if _, err := Publish(context.Background(), o, drop{}); err != nil {
					b.Fatal(err)
				}
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapSys)
			}
			b.ReportMetric(float64(most)/1e6, "heap-MB")
		})
	}
}

// BenchmarkFloor is what the libraries alone cost for the hundred pages:
// markdown to a tree and to HTML, the program's lexer, the theme's bundle.
func BenchmarkFloor(b *testing.B) {
	c := many(100)
	lexer, err := words.New()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := bundle.Style(theme.Sources(), "css/style.css"); err != nil {
			b.Fatal(err)
		}
		if _, err := bundle.Script(theme.Sources(), "ts/host.ts", map[string]string{"WORK_TEXT": "", "WORK_NAME": ""}); err != nil {
			b.Fatal(err)
		}
		for _, f := range c {
			var sink discard
			if err := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList)).Convert(f.Data, &sink); err != nil {
				b.Fatal(err)
			}
			if _, _, err := lexer.Set("N10 G01 X1.\n"); err != nil {
				b.Fatal(err)
			}
		}
	}
}

type discard struct{}

func (*discard) Write(p []byte) (int, error) { return len(p), nil }
