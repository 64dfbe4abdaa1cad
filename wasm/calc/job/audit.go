package job

import (
	"math"
	"sync"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
)

// Sweep runs n seeded jobs through the decisions and notes which rules fire and
// which pairs disagree. The jobs are the same for the same seed. recorded are
// jobs of the handbook as they were typed, run too.
func Sweep(b *book.Book, recorded []map[string]string, n int, seed uint64) rules.Audit {
	e := newCache(b)
	s := e.rules.NewSweep()
	for _, values := range recorded {
		if j := recordedJob(e, values); j != nil {
			s.Fires(j.Case)
		}
	}
	var parts [audits]*rules.Sweep
	var all sync.WaitGroup
	for k := range parts {
		parts[k] = e.rules.NewSweep()
		all.Go(func() { sweepPart(e, parts[k], n/audits+min(1, max(0, n%audits-k)), seed+uint64(k)<<32) })
	}
	all.Wait()
	for _, p := range parts {
		s.Add(p)
	}
	return s.Audit()
}

// audits is in how many parts a sweep runs side by side, whatever the machine: so that
// its jobs are the same everywhere.
const audits = 8

// sweepPart runs n jobs by chance and notes what fires.
func sweepPart(e *cache, s *rules.Sweep, n int, seed uint64) {
	j := &job{cache: e, Case: e.rules.NewCase(), quick: true}
	rng := rules.Dice(seed)
	for range n {
		j.Facts.Clear()
		j.asks, j.near = nil, nil
		j.throw(&rng)
		j.Run(j)
		s.Note(j.Case)
	}
}

// recordedJob runs the decisions of a job as it was typed; nil when it is refused.
func recordedJob(e *cache, values map[string]string) *job {
	var ran *job
	c := Calculator(func(string) *calc.Calculator { return nil })
	c.Build = func(f *calc.Form, b *book.Book) calc.Run {
		in := &form{book: b, of: func(string) *calc.Calculator { return nil }, own: map[string]*string{}, given: map[string]*bool{}}
		in.fields(f)
		in.more(f)
		in.decisions(f)
		in.after(f)
		in.answers(f)
		return calc.Run{Point: func(*calc.Point) {}, Say: func(r *calc.Result, a *calc.Answer) {
			ran = in.job(e)
			in.inputs(ran, r, a, "as-decided")
			ran.Run(ran)
		}}
	}
	c.Eval(e.book, calc.Input{Values: values, Strict: true})
	return ran
}

// throw sets the inputs of a job by chance, over what prints usually say.
func (j *job) throw(d *rules.Dice) {
	f := j.Facts
	clear(j.Own)
	clear(j.OwnNum)
	j.chosen = nil
	if len(j.cards) > 0 && d.Part() < 0.4 {
		j.chosen = j.cards[d.Next()%uint64(len(j.cards))]
	}
	word := func(i rules.Fact) {
		if words := j.Table.Terms[i].Options; words != nil {
			f.SetWord(i, d.One(words))
		}
	}
	for _, i := range []rules.Fact{factAim, factAsks, factCondition, factMeasured, factDatum, factKind, factOil, factStartHole, factUnattended, factNozzles} {
		word(i)
	}
	if d.Part() < 0.5 {
		f.SetWord(factAim, "as-decided")
	}
	if t := j.book.Table("materials"); t != nil {
		f.SetWord(factMaterial, t.Rows[d.Next()%uint64(len(t.Rows))].Key)
	}
	f.SetWord(factDrawing, "no")
	for _, s := range [...]struct {
		fact      rules.Fact
		low, high float64
		share     float64
	}{{factRadius, 0.01, 3, 1}, {factAngle, 20, 170, 1}, {factSlot, 0.03, 3, 0.3}, {factTooth, 0.05, 5, 0.3}, {factHeight, 0.5, 250, 1}, {factTolerance, 0.0015, 0.2, 1}, {factFinish, 0.1, 4, 1},
		{factLength, 3, 2000, 1}, {factSlugWidth, 0.5, 100, 0.5}} {
		v := d.Span(s.low, s.high)
		if d.Part() < s.share {
			f.SetNumber(s.fact, v)
		}
	}
	if d.Part() < 0.2 { // a print at the edge of what a wire reaches, as prints are
		f.SetNumber(factRadius, float64(j.wires[d.Next()%uint64(len(j.wires))])/2*d.Span(1.01, 1.2))
	}
	f.SetNumber(factSize, d.Span(0.5, 300))
	if v := d.Part()*40 - 20; v > 0 {
		f.SetNumber(factTaper, v)
	}
	f.SetNumber(factOpenings, math.Ceil(d.Part()*4)) // one to four
	f.SetNumber(factQuantity, math.Ceil(d.Span(0.5, 100)))
	if f.Is(factMaterial, "carbide") {
		f.SetNumber(factCobalt, 3+d.Part()*20)
	}
	for i, s := range j.Table.Steps { // now and then a decision of the reader's own
		if d.Part() > 0.03 {
			continue
		}
		switch {
		case s.Name == "wire":
			j.OwnNum["wire"] = float64(j.wires[d.Next()%uint64(len(j.wires))])
		case s.Name == "passes":
			j.OwnNum["passes"] = math.Ceil(d.Part() * most)
		case s.Kind == rules.Choice && i > 0 && s.Name != "machine":
			j.Own[s.Name] = d.One(j.Table.Words(s.Name))
		}
	}
}
