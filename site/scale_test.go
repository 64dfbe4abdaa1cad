package site

import (
	"fmt"
	"runtime"
	"testing"
	"testing/fstest"
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

// BenchmarkPages: a hundred generated pages over their floor, and a thousand over a
// hundred, in one run. Each publication starts with an empty memory.
func BenchmarkPages(b *testing.B) {
	of := func(n int) Options {
		o := trial(many(n))
		o.OneFile = true
		return o
	}
	few, lots := of(100), of(1000)
	parts := floorOf(b, few)
	each := make([]cost, len(parts))
	var floor, hundred, thousand cost
	var most uint64
	for b.Loop() {
		for i, p := range parts {
			each[i].round(p.do)
		}
		for _, x := range []struct {
			o Options
			c *cost
		}{{few, &hundred}, {lots, &thousand}} {
			x.o.Memory = OpenMemory("", "")
			x.c.round(func() { toFolder(b, x.o) })
		}
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		most = max(most, m.HeapSys)
	}
	for i, c := range each {
		floor.wall += c.wall
		floor.cpu += c.cpu
		c.report(b, parts[i].name, cost{})
	}
	floor.report(b, "floor", cost{})
	hundred.report(b, "100-pages", floor)
	thousand.report(b, "1000-pages", cost{})
	b.ReportMetric(float64(thousand.wall)/float64(hundred.wall), "1000/100")
	b.ReportMetric(float64(thousand.cpu)/float64(hundred.cpu), "1000/100-cpu")
	b.ReportMetric(float64(most)/1e6, "heap-MB")
}
