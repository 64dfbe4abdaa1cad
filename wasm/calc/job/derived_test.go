package job

import (
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/start"
	"kerfbook/wasm/calc/wire"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// TestDerivedFrom changes one fact of a seeded job at a time: a derived text changes
// only with the facts that it says it is made of, or with what the calculator that it
// asks is asked.
func TestDerivedFrom(t *testing.T) {
	b := readBook(t)
	e := newCache(b)
	others := map[string]*calc.Calculator{"start": start.Calculator(), "wire": wire.Calculator()}
	asks := map[string]string{"hole": "start", "pull": "wire", "pull-skim": "wire"}
	ask := func(j *job) *subs {
		return &subs{job: j, of: func(id string) *calc.Calculator { return others[id] }, system: unit.Metric,
			typed: map[string]string{}, replies: map[string]*calc.Reply{}, asked: map[string]*calc.Reply{}}
	}
	rng, changed := rules.Dice(5), map[string]bool{"low-water": true} // that one is the table's alone
	for range sweep.Part(200) {
		j := &job{cache: e, Case: e.rules.NewCase()}
		j.throw(&rng)
		j.Run(j)
		texts := func() map[string]string {
			out, s := map[string]string{}, ask(j)
			for _, d := range e.derived {
				if d.text != nil {
					out[d.word] = s.derive(d.word)
				}
			}
			return out
		}
		before, kept := texts(), e.rules.NewFacts()
		for fact := range factCount {
			term := &e.rules.Terms[fact]
			kept.Copy(j.Facts, fact)
			switch {
			case term.Numeric() && term.Kind == unit.CountKind:
				j.Facts.SetNumber(fact, float64(1+rng.Next()%6))
			case term.Numeric():
				j.Facts.SetNumber(fact, rng.Span(0.3, 3)*max(1, j.Facts.Number(fact)))
			case term.Options != nil:
				j.Facts.SetWord(fact, rng.One(term.Options))
			case term.Table != "":
				rows := rules.Rows(b, term.Table)
				j.Facts.SetWord(fact, rows[rng.Next()%uint64(len(rows))].Key)
			}
			after := texts()
			for _, d := range e.derived {
				if after[d.word] == before[d.word] {
					continue
				}
				changed[d.word] = true
				from := strings.Fields(d.from)
				if id := asks[d.word]; id != "" {
					from = append(from, behind(id)...)
				}
				if !slices.Contains(from, term.Name) {
					t.Errorf("%s is made of %q, and changes with %s: from %q to %q", d.word, d.from, term.Name, before[d.word], after[d.word])
				}
			}
			j.Facts.Copy(kept, fact)
		}
	}
	for _, d := range e.derived {
		if d.text != nil && !changed[d.word] {
			t.Errorf("nothing changes %s: the test could not fail", d.word)
		}
	}
}
