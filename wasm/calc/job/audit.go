package job

import (
	"math"
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// Audit is what a sweep over many jobs says about the rules.
type Audit struct {
	Unfired []Rule      // rules that no job fires
	Pairs   [][2]string // rules that ask for different things on the same job, with no order between them
	Jobs    int
}

// Sweep runs n seeded jobs through the decisions and notes which rules fire and
// which pairs disagree. The jobs are the same for the same seed. recorded are
// jobs of the handbook as they were typed, run too.
func Sweep(b *book.Book, recorded []map[string]string, n int, seed uint64) Audit {
	e := newBench(b)
	j := &job{bench: e, facts: e.rules.newFacts(), own: map[string]string{}, ownNum: map[string]float64{}}
	fired := make([]bool, len(e.rules.list))
	pairs := map[[2]string]bool{}
	out := Audit{Jobs: n + len(recorded)}
	note := func() {
		for i, o := range j.out {
			for _, k := range slices.Concat(o.fired, o.against, o.clash) {
				fired[k] = true
			}
			if len(o.clash) == 0 {
				continue
			}
			first := o.fired
			if e.rules.steps[i].kind == bound || len(first) == 0 {
				first = o.clash[:1]
			}
			for _, k := range o.clash {
				if p := [2]string{e.rules.list[first[0]].Name, e.rules.list[k].Name}; p[0] != p[1] && !pairs[p] {
					pairs[p] = true
					out.Pairs = append(out.Pairs, p)
				}
			}
		}
	}
	for _, values := range recorded {
		if j := recordedJob(e, values); j != nil {
			for _, o := range j.out {
				for _, k := range slices.Concat(o.fired, o.against, o.clash) {
					fired[k] = true
				}
			}
		}
	}
	rng := dice(seed)
	for range n {
		j.facts.clear()
		j.throw(&rng)
		j.run()
		note()
	}
	for i, did := range fired {
		if !did {
			out.Unfired = append(out.Unfired, e.rules.list[i])
		}
	}
	return out
}

// recordedJob runs the decisions of a job as it was typed; nil when it is refused.
func recordedJob(e *bench, values map[string]string) *job {
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
			ran.run()
		}}
	}
	c.Eval(e.book, calc.Input{Values: values, Strict: true})
	return ran
}

// dice is a small generator of even numbers (splitmix64), the same everywhere.
type dice uint64

func (d *dice) next() uint64 {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// part is a number from 0 up to 1.
func (d *dice) part() float64 { return float64(d.next()>>11) / (1 << 53) }

// one picks a word.
func (d *dice) one(words []string) string { return words[d.next()%uint64(len(words))] }

// span is a number between two, even in its logarithm.
func (d *dice) span(low, high float64) float64 {
	return low * math.Pow(high/low, d.part())
}

// throw sets the inputs of a job by chance, over what prints usually say.
func (j *job) throw(d *dice) {
	f := j.facts
	clear(j.own)
	clear(j.ownNum)
	j.chosen = nil
	if len(j.cards) > 0 && d.part() < 0.4 {
		j.chosen = j.cards[d.next()%uint64(len(j.cards))]
	}
	word := func(i fact) {
		if words := f.of.facts[i].options; words != nil {
			f.word(i, d.one(words))
		}
	}
	for _, i := range []fact{factAim, factAsks, factCondition, factMeasured, factDatum, factKind, factOil, factStartHole, factUnattended, factNozzles} {
		word(i)
	}
	if d.part() < 0.5 {
		f.word(factAim, "as-decided")
	}
	if t := j.book.Table("materials"); t != nil {
		f.word(factMaterial, t.Rows[d.next()%uint64(len(t.Rows))].Key)
	}
	f.word(factDrawing, "no")
	for _, s := range [...]struct {
		fact      fact
		low, high float64
		share     float64
	}{{factRadius, 0.01, 3, 1}, {factAngle, 20, 170, 1}, {factSlot, 0.03, 3, 0.3}, {factTooth, 0.05, 5, 0.3}, {factHeight, 0.5, 250, 1}, {factTolerance, 0.0015, 0.2, 1}, {factFinish, 0.1, 4, 1},
		{factLength, 3, 2000, 1}, {factSlugWidth, 0.5, 100, 0.5}} {
		v := d.span(s.low, s.high)
		if d.part() < s.share {
			f.number(s.fact, v)
		}
	}
	f.number(factSize, d.span(0.5, 300))
	if v := d.part()*40 - 20; v > 0 {
		f.number(factTaper, v)
	}
	f.number(factOpenings, math.Ceil(d.part()*4)) // one to four
	f.number(factQuantity, math.Ceil(d.span(0.5, 100)))
	if f.is(factMaterial, "carbide") {
		f.number(factCobalt, 3+d.part()*20)
	}
	for i, s := range j.rules.steps { // now and then a decision of the reader's own
		if d.part() > 0.03 {
			continue
		}
		switch {
		case s.name == "wire":
			tools := j.water
			j.ownNum["wire"] = float64(tools[d.next()%uint64(len(tools))].wire)
		case s.name == "passes":
			j.ownNum["passes"] = math.Ceil(d.part() * most)
		case s.kind == choice && i > 0 && s.name != "machine":
			j.own[s.name] = d.one(j.rules.words(s.name))
		}
	}
}
