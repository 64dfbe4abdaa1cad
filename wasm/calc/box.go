package calc

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/unit"
)

const (
	maxFree     = 8    // free ranges an answer may have
	maxGrid     = 243  // combinations of low, likely and high looked at
	searchSteps = 9    // points a side in the first pass of a search
	searchTol   = 1e-7 // share of a field's width at which the search stops
)

// Result is what Say works from.
type Result struct {
	System   unit.System
	ranges   map[string]unit.Range
	picks    map[string]Pick
	inputs   map[string]unit.Range
	Excluded int // combinations left out because they cannot be
	Looked   int
	Why      string // of the first one left out
}

// Of returns the range of a numeric answer in base units.
func (r *Result) Of(name string) unit.Range { return r.ranges[name] }

// In returns the range of an input in base units.
func (r *Result) In(name string) unit.Range { return r.inputs[name] }

// Pick returns a choice with all it can be.
func (r *Result) Pick(name string) Pick { return r.picks[name] }

// Could reports whether the choice can come out as value.
func (r *Result) Could(name, value string) bool {
	for _, o := range r.picks[name].All {
		if o.Value == value {
			return true
		}
	}
	return false
}

// sample is one evaluated point.
type sample struct {
	nums       []float64
	texts      []string
	impossible string
}

func (e *evaluation) at(p *Point) sample {
	e.run.Point(p)
	s := sample{impossible: p.impossible}
	for _, o := range e.form.outs {
		v, t := math.NaN(), ""
		if o.Choice {
			t = o.getText()
		} else if o.Applies == nil || o.Applies() {
			v = o.get()
		}
		s.nums, s.texts = append(s.nums, v), append(s.texts, t)
	}
	return s
}

func (e *evaluation) likely() {
	for _, f := range e.free {
		f.set(f.r.Likely)
	}
}

func (e *evaluation) answer() (*Answer, []Problem) {
	if len(e.free) > maxFree {
		var names []string
		for _, f := range e.free {
			names = append(names, f.label)
		}
		return nil, []Problem{{Text: "at most " + strconv.Itoa(maxFree) + " inputs may be ranges at once, here are " +
			strconv.Itoa(len(e.free)) + ": give one number for some of " + strings.Join(names, ", ")}}
	}
	e.likely()
	lp := &Point{keep: true}
	mid := e.at(lp)
	if mid.impossible != "" {
		if found, ok := e.anyPossible(); ok {
			mid = found
		} else {
			return nil, []Problem{{Text: mid.impossible}}
		}
	}
	res := &Result{System: e.system, ranges: map[string]unit.Range{}, picks: map[string]Pick{}, inputs: map[string]unit.Range{}}
	for _, f := range e.free {
		res.inputs[f.name] = f.r
	}
	grid := e.grid(res)
	a := &Answer{Steps: lp.steps}
	for i, o := range e.form.outs {
		if o.Choice {
			p := e.pick(i, o, mid, grid)
			res.picks[o.Name] = p
			a.Choices = append(a.Choices, p)
			continue
		}
		r := e.rangeOf(i, o, mid, grid)
		if math.IsNaN(r.Likely) {
			continue
		}
		res.ranges[o.Name] = r
		st := o.style(e.system)
		a.Values = append(a.Values, Finding{Name: o.Name, Label: o.Label, Help: o.Help, Range: r, Kind: o.Kind, Style: st,
			Text: printRange(o.Kind, r, st), Main: o.Main, Width: e.widest(i, r)})
	}
	e.likely()
	e.run.Point(&Point{})
	e.run.Say(res, a)
	if res.Excluded > 0 {
		a.Note(strconv.Itoa(res.Excluded) + " of " + strconv.Itoa(res.Looked) + " combinations of the ranges were left out because they cannot be: " + res.Why + ".")
	}
	return a, nil
}

func printRange(k unit.Kind, r unit.Range, st unit.Style) string {
	if math.IsInf(r.High, 1) || math.IsInf(r.Likely, 1) {
		return "no limit"
	}
	return unit.PrintRange(k, r, st)
}

// style is the printed form of an answer for the reader's system.
func (o Out) style(s unit.System) unit.Style {
	if s == unit.Inch && o.InchUnit != "" {
		return unit.Style{Unit: o.InchUnit, Decimals: o.InchDecimals, Trim: true}
	}
	if s == unit.Metric && o.Unit != "" || o.Unit != "" && o.InchUnit == "" && o.Kind.Style(unit.Inch).Unit == o.Kind.Style(unit.Metric).Unit {
		return unit.Style{Unit: o.Unit, Decimals: o.Decimals, Trim: true}
	}
	return o.Kind.Style(s)
}

// grid evaluates the combinations of low, likely and high of the free fields.
func (e *evaluation) grid(res *Result) []sample {
	all := 1
	for range e.free {
		all *= 3
	}
	// Beyond maxGrid combinations every step-th is taken; the step has no factor
	// in common with a power of three, so that none comes twice.
	n, step := all, 1
	if all > maxGrid {
		n, step = maxGrid, all/maxGrid+1
	}
	out := make([]sample, 0, n)
	for i := range n {
		k := i * step % all
		for _, f := range e.free {
			f.set([3]float64{f.r.Likely, f.r.Low, f.r.High}[k%3])
			k /= 3
		}
		s := e.at(&Point{})
		if s.impossible != "" {
			if res.Excluded++; res.Why == "" {
				res.Why = s.impossible
			}
			continue
		}
		out = append(out, s)
	}
	res.Looked = n
	e.likely()
	return out
}

func (e *evaluation) anyPossible() (sample, bool) {
	res := &Result{}
	if grid := e.grid(res); len(grid) > 0 {
		return grid[0], true
	}
	return sample{}, false
}

// rangeOf finds the least and greatest value of an answer over the box. Fields
// with a declared direction stand at their ends; the others are searched.
func (e *evaluation) rangeOf(i int, o *boundOut, mid sample, grid []sample) unit.Range {
	r := unit.Range{Low: mid.nums[i], Likely: mid.nums[i], High: mid.nums[i]}
	if len(e.free) == 0 {
		return r
	}
	take := func(s sample) {
		if v := s.nums[i]; s.impossible == "" && !math.IsNaN(v) {
			if math.IsNaN(r.Low) {
				r = unit.Range{Low: v, Likely: v, High: v}
			}
			r.Low, r.High = math.Min(r.Low, v), math.Max(r.High, v)
		}
	}
	for _, s := range grid {
		take(s)
	}
	var searched []free
	for k, f := range e.free {
		if !slices.Contains(o.Rises, f.name) && !slices.Contains(o.Falls, f.name) && e.moves(k, i) {
			searched = append(searched, f)
		}
	}
	for _, up := range []bool{false, true} {
		for _, f := range e.free {
			switch {
			case slices.Contains(o.Rises, f.name) == up && slices.Contains(o.Rises, f.name),
				slices.Contains(o.Falls, f.name) != up && slices.Contains(o.Falls, f.name):
				f.set(f.r.High)
			case slices.Contains(o.Rises, f.name), slices.Contains(o.Falls, f.name):
				f.set(f.r.Low)
			}
		}
		e.search(i, up, searched, take)
	}
	e.likely()
	return r
}

// moves reports whether free field k changes answer i at all: tried with the
// other fields likely, low and high. What never moves is not searched.
func (e *evaluation) moves(k, i int) bool {
	if e.moved == nil {
		e.moved = make([][]bool, len(e.free))
	}
	if e.moved[k] == nil {
		e.moved[k] = make([]bool, len(e.form.outs))
		for at := range 3 {
			for _, f := range e.free {
				f.set([3]float64{f.r.Likely, f.r.Low, f.r.High}[at])
			}
			f := e.free[k]
			var first sample
			for j, x := range []float64{f.r.Low, f.r.Likely, f.r.High} {
				f.set(x)
				s := e.at(&Point{})
				if j == 0 {
					first = s
				}
				for o := range s.nums {
					same := s.nums[o] == first.nums[o] || math.IsNaN(s.nums[o]) && math.IsNaN(first.nums[o])
					e.moved[k][o] = e.moved[k][o] || !same || s.impossible != first.impossible
				}
			}
		}
		e.likely()
	}
	return e.moved[k][i]
}

// search looks for the extreme of answer i over the searched fields: field by
// field it subdivides around the best point until the step is searchTol of the
// width, and goes round until a whole round finds nothing better.
func (e *evaluation) search(i int, up bool, fields []free, take func(sample)) {
	better := func(a, b float64) bool { return !math.IsNaN(a) && (math.IsNaN(b) || up && a > b || !up && a < b) }
	best := math.NaN()
	try := func() bool {
		s := e.at(&Point{})
		take(s)
		if s.impossible == "" && better(s.nums[i], best) {
			best = s.nums[i]
			return true
		}
		return false
	}
	for _, f := range fields {
		f.set(f.r.Likely)
	}
	try()
	at := make([]float64, len(fields))
	for k, f := range fields {
		at[k] = f.r.Likely
	}
	for range 4 {
		moved := false
		for k, f := range fields {
			lo, hi := f.r.Low, f.r.High
			for hi-lo > searchTol*(f.r.High-f.r.Low) {
				step := (hi - lo) / (searchSteps - 1)
				for j := range searchSteps {
					x := lo + step*float64(j)
					f.set(x)
					if try() {
						at[k], moved = x, true
					}
				}
				lo, hi = math.Max(f.r.Low, at[k]-step), math.Min(f.r.High, at[k]+step)
			}
			f.set(at[k])
		}
		if !moved || len(fields) < 2 {
			break
		}
	}
}

// widest names the input that makes most of an answer's width.
func (e *evaluation) widest(i int, r unit.Range) string {
	if len(e.free) == 0 || r.High-r.Low <= 1e-12*math.Abs(r.High) || math.IsInf(r.High, 0) {
		return ""
	}
	name, most := "", 0.0
	for _, f := range e.free {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range []float64{f.r.Low, f.r.Likely, f.r.High} {
			f.set(v)
			if s := e.at(&Point{}); s.impossible == "" && !math.IsNaN(s.nums[i]) {
				lo, hi = math.Min(lo, s.nums[i]), math.Max(hi, s.nums[i])
			}
		}
		f.set(f.r.Likely)
		if hi-lo > most {
			name, most = f.label, hi-lo
		}
	}
	if name == "" {
		return ""
	}
	if len(e.free) == 1 {
		return "all of this range is: " + name
	}
	return "most of this range is: " + name
}

// pick lists every value a choice takes in the box and what separates them.
func (e *evaluation) pick(i int, o *boundOut, mid sample, grid []sample) Pick {
	word := func(v string) Option {
		for _, w := range o.Words {
			if w.Value == v {
				return w
			}
		}
		return Option{v, v}
	}
	p := Pick{Name: o.Name, Label: o.Label, Likely: word(mid.texts[i])}
	seen := map[string]bool{mid.texts[i]: true}
	p.All = append(p.All, p.Likely)
	add := func(s sample) {
		if s.impossible == "" && !seen[s.texts[i]] {
			seen[s.texts[i]] = true
			p.All = append(p.All, word(s.texts[i]))
		}
	}
	for _, s := range grid {
		add(s)
	}
	for _, f := range e.free { // between the grid's points too
		for j := range searchSteps * 4 {
			f.set(f.r.Low + (f.r.High-f.r.Low)*float64(j)/float64(searchSteps*4-1))
			add(e.at(&Point{}))
		}
		f.set(f.r.Likely)
	}
	if len(p.All) > 1 {
		p.When = e.separates(i, word)
	}
	return p
}

// separates says where along each free field the choice changes, the others at
// their likely values: "up to gap 0.0127 mm: Yes, above: No".
func (e *evaluation) separates(i int, word func(string) Option) string {
	var parts []string
	for _, f := range e.free {
		value := func(x float64) string {
			f.set(x)
			s := e.at(&Point{})
			if s.impossible != "" {
				return ""
			}
			return s.texts[i]
		}
		last, lastX := value(f.r.Low), f.r.Low
		var text []string
		for j := 1; j <= searchSteps*4; j++ {
			x := f.r.Low + (f.r.High-f.r.Low)*float64(j)/float64(searchSteps*4)
			now := value(x)
			if now != last && now != "" && last != "" {
				lo, hi := lastX, x
				for range 60 {
					m := lo + (hi-lo)/2
					if value(m) == last {
						lo = m
					} else {
						hi = m
					}
				}
				text = append(text, word(last).Label+" up to "+unit.Print(f.kind, lo, f.style))
				last = value(hi)
			}
			lastX = x
			if now != "" {
				last = now
			}
		}
		f.set(f.r.Likely)
		if len(text) > 0 {
			parts = append(parts, f.label+": "+strings.Join(append(text, word(last).Label+" above"), ", "))
		}
	}
	return strings.Join(parts, "; ")
}
