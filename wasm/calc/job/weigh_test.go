package job

import (
	"math"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/process"
	"kerfbook/wasm/rules"
)

// TestNever: over jobs by chance no sheet says a better word than its limits bear, decides
// otherwise than it weighed, gives one number in two ways, or offers as another aim what is
// no better at it.
func TestNever(t *testing.T) {
	e := newCache(readBook(t))
	j := &job{cache: e, Case: e.rules.NewCase()}
	rng := rules.Dice(5)
	verdicts := map[string]int{}
	for range sweep.Part(10_000) {
		j.Facts.Clear()
		j.asks, j.near = nil, nil
		j.throw(&rng)
		j.Facts.SetWord(factAim, "as-decided")
		clear(j.Own)
		clear(j.OwnNum)
		j.Run(j)
		f := j.Facts
		if j.now == nil {
			if j.free != nil {
				t.Fatal("what was decided is not among what was weighed")
			}
			continue
		}
		verdicts[f.Word(factCan)]++
		rank := map[string]process.Verdict{"yes": process.Yes, "only-if": process.OnlyIf, "no": process.No}
		if rank[f.Word(factCan)] < j.now.Verdict {
			t.Fatalf("the sheet says %s, its limits bear only %d: %+v", f.Word(factCan), j.now.Verdict, j.now.Bounds)
		}
		if j.now.Process != j.free.is().Process {
			t.Fatal("the process decided is not the one chosen")
		}
		if math.Abs(j.left().Likely-j.now.Left.Likely) > 1e-9 || math.Abs(j.ra().Likely-j.now.Ra.Likely) > 1e-9 {
			t.Fatalf("radius left %g and %g, Ra %g and %g", j.left().Likely, j.now.Left.Likely, j.ra().Likely, j.now.Ra.Likely)
		}
		if n := int(f.Number(factPasses)); n < int(j.Out[j.Table.Stage("passes")].Low) {
			t.Fatalf("%d passes, the rules ask for %g", n, j.Out[j.Table.Stage("passes")].Low)
		}
		was := j.free.is()
		for _, aim := range []process.Aim{process.Soonest, process.Finest, process.Surest} {
			best, all := process.Weigh(j.ways(j.print(), own{}), j.print(), aim)
			w := all[best]
			switch {
			case w.Verdict != was.Verdict:
				t.Fatalf("aim %d gives another verdict", aim)
			case w.Verdict > process.Yes: // the surest of all, whatever the aim
			case aim == process.Soonest && w.Hours.High > was.Hours.High, aim == process.Finest && w.Ra.Likely > 1.08*was.Ra.Likely, aim == process.Surest && w.Share > was.Share+0.02:
				t.Fatalf("aim %d: %+v is no better than %+v", aim, w.Process, was.Process)
			}
		}
	}
	if verdicts["yes"] == 0 || verdicts["only-if"] == 0 || verdicts["no"] == 0 {
		t.Errorf("the jobs do not try every verdict: %v", verdicts)
	}
	t.Log(verdicts)
}
