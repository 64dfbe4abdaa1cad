package calc

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/unit"
)

const (
	maxFree     = 8    // free ranges an answer may have; two to this power corners are looked at
	searchSteps = 9    // points a side in the first pass of a search
	searchTol   = 1e-6 // share of a field's width at which the search stops
)

// Result is what Say works from.
type Result struct {
	form     *Form
	System   unit.System
	ranges   map[string]unit.Range
	picks    map[string]Pick
	inputs   map[string]unit.Range
	typed    map[string]string // texts as they were given
	Excluded int               // combinations left out because they cannot be
	Looked   int
	Why      string // of the first one left out
}

// Of returns the range of a numeric answer in base units.
func (r *Result) Of(name string) unit.Range { return r.ranges[name] }

// In returns the range of an input in base units.
func (r *Result) In(name string) unit.Range { return r.inputs[name] }

// Given says what stands in a field: its label and its text, as typed or as the form
// has it when nobody typed, with the words of an option. assumed is true when nobody
// did. A field that is not there, or not shown, gives no label.
func (r *Result) Given(name string) (label, text string, assumed bool) {
	d := r.form.field(name)
	if d == nil || d.ShowIf != nil && !d.ShowIf() {
		return "", "", false
	}
	text, typed := r.typed[d.Name]
	if !typed {
		text = d.Default
	}
	for _, o := range d.Options {
		if d.Shape == ChoiceShape && o.Value == text {
			text = o.Label
		}
	}
	return d.Label, text, !typed
}

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
	at         []float64 // where the free fields stood, for samples of the grid
}

func (e *evaluation) at(p *Point) sample {
	e.run.Point(p)
	n := len(e.form.outs)
	if len(e.spare) < n { // many points are looked at: their room is made in one piece
		e.spare, e.spareText = make([]float64, 64*n), make([]string, 64*n)
	}
	s := sample{impossible: p.impossible, nums: e.spare[:n:n], texts: e.spareText[:n:n]}
	e.spare, e.spareText = e.spare[n:], e.spareText[n:]
	for i, o := range e.form.outs {
		switch {
		case o.Choice:
			s.texts[i] = o.getText()
		case o.Applies == nil || o.Applies():
			s.nums[i] = o.get()
		default:
			s.nums[i] = math.NaN()
		}
	}
	return s
}

// lineSteps is how many steps a field is tried at along its range, the others
// at their likely values.
const lineSteps = 8

// line evaluates free field k along its range, once for all answers.
func (e *evaluation) line(k int) []sample {
	if e.lines == nil {
		e.lines = make([][]sample, len(e.free))
	}
	if e.lines[k] == nil {
		f := e.free[k]
		for j := range lineSteps + 1 {
			f.set(f.r.Low + (f.r.High-f.r.Low)*float64(j)/lineSteps)
			e.lines[k] = append(e.lines[k], e.at(&Point{}))
		}
		f.set(f.r.Likely)
	}
	return e.lines[k]
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
	lp := &Point{keep: true, form: e.form}
	mid := e.at(lp)
	if mid.impossible != "" {
		if found, ok := e.anyPossible(); ok {
			mid = found
		} else {
			return nil, []Problem{{Text: mid.impossible}}
		}
	}
	res := &Result{form: e.form, System: e.system, ranges: map[string]unit.Range{}, picks: map[string]Pick{}, inputs: map[string]unit.Range{}, typed: e.typed}
	for _, f := range e.free {
		if f.together == "" {
			res.inputs[f.names[0]] = f.r
		}
	}
	grid := e.grid(res)
	a := &Answer{Steps: lp.steps}
	for i, o := range e.form.outs {
		if o.Given {
			continue
		}
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
		if !sound(r) {
			a.Note(unsound(o.Label))
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

// grid evaluates the likely point and every corner of the box: corner c has free
// field k at its high end where bit k of c is set. An answer that only rises or
// falls with each field has its least and greatest value there.
func (e *evaluation) grid(res *Result) []sample {
	n := 1 << len(e.free)
	out := make([]sample, 0, n+1)
	places := make([]float64, (n+1)*len(e.free))
	for i := range n + 1 {
		at := places[i*len(e.free) : (i+1)*len(e.free)]
		for k, f := range e.free {
			at[k] = f.r.Likely
			if i > 0 {
				at[k] = f.r.Low
				if (i-1)>>k&1 == 1 {
					at[k] = f.r.High
				}
			}
			f.set(at[k])
		}
		s := e.at(&Point{})
		s.at = at
		if s.impossible != "" {
			if res.Excluded++; res.Why == "" {
				res.Why = s.impossible
			}
			continue
		}
		out = append(out, s)
	}
	res.Looked = n + 1
	e.whole = res.Excluded == 0
	if res.Excluded > 0 {
		out = append(out, e.scatter()...)
	}
	e.likely()
	return out
}

// root is the square root of the k-th prime: roots that have no whole-number
// relation, so that the fields of an even sequence do not move in step.
func root(k int) float64 {
	return math.Sqrt([...]float64{2, 3, 5, 7, 11, 13, 17, 19}[k%maxFree])
}

// scatter looks at more points of a box in which not everything can be. The
// points are those of an even sequence (additive, after the plastic numbers), so
// that the same box gives the same answer.
func (e *evaluation) scatter() []sample {
	const points = 200
	var out []sample
	for n := range points {
		at := make([]float64, len(e.free))
		for k, f := range e.free {
			t := math.Mod(0.5+float64(n+1)*root(k), 1)
			at[k] = f.r.Low + (f.r.High-f.r.Low)*t
			f.set(at[k])
		}
		if s := e.at(&Point{}); s.impossible == "" {
			s.at = at
			out = append(out, s)
		}
	}
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
	var searched []int
	for k, f := range e.free {
		if o.direction(f) == 0 && e.moves(k, i, grid) {
			searched = append(searched, k)
		}
	}
	if e.whole && len(searched) == 0 && !slices.ContainsFunc(grid, func(s sample) bool { return math.IsNaN(s.nums[i]) }) {
		return r // the corners were looked at, and nothing lies beyond them
	}
	for _, up := range []bool{false, true} {
		for _, f := range e.free {
			switch d := o.direction(f); {
			case d == 0:
				f.set(f.r.Likely)
			case d > 0 == up:
				f.set(f.r.High)
			default:
				f.set(f.r.Low)
			}
		}
		if corner := e.at(&Point{}); corner.impossible != "" {
			// The end that the directions name cannot be: the extreme lies where
			// it begins to be possible, and every field that matters is searched.
			if from := e.best(i, up, grid); from != nil {
				e.roam(i, up, take, from)
			}
		} else {
			if math.IsNaN(corner.nums[i]) {
				e.push(i, o, up, take, e.best(i, up, grid))
			}
			take(corner)
			e.search(i, up, searched, take)
		}
	}
	e.likely()
	return r
}

// direction is 1 for a field with which the answer never falls, -1 for one with
// which it never rises, 0 for what must be searched.
func (o *boundOut) direction(f free) int {
	up, down := false, false
	for _, name := range f.names {
		up = up || slices.Contains(o.Rises, name)
		down = down || slices.Contains(o.Falls, name)
	}
	switch {
	case up && !down:
		return 1
	case down && !up:
		return -1
	}
	return 0
}

// best is the possible combination looked at so far that is best for answer i.
func (e *evaluation) best(i int, up bool, grid []sample) []float64 {
	best, at := math.NaN(), []float64(nil)
	for _, s := range grid {
		if v := s.nums[i]; !math.IsNaN(v) && (math.IsNaN(best) || up && v > best || !up && v < best) {
			best, at = v, s.at
		}
	}
	return at
}

// push is for an answer that does not apply at the end the directions name: a
// depth that is not given beyond a limit. From the best combination looked at it
// moves each field with a direction towards its better end, as far as the answer
// applies, and leaves the fields there.
func (e *evaluation) push(i int, o *boundOut, up bool, take func(sample), from []float64) {
	for k := range from {
		e.free[k].set(from[k])
	}
	for k := range from {
		f, d := e.free[k], o.direction(e.free[k])
		if d == 0 {
			continue
		}
		applies := func(x float64) bool {
			f.set(x)
			s := e.at(&Point{})
			take(s)
			return s.impossible == "" && !math.IsNaN(s.nums[i])
		}
		good, bad := from[k], f.r.Low
		if d > 0 == up {
			bad = f.r.High
		}
		if applies(bad) {
			continue
		}
		for range 50 {
			if m := good + (bad-good)/2; applies(m) {
				good = m
			} else {
				bad = m
			}
		}
		f.set(good)
	}
}

// roam looks for the extreme of answer i where not every combination can be: it
// tries steps in all fields at once, shorter and shorter, and keeps what is
// better. The steps are those of an even sequence, so that the same box gives
// the same answer. It comes within a few hundredths of the width.
func (e *evaluation) roam(i int, up bool, take func(sample), from []float64) {
	const tries = 500
	at := slices.Clone(from)
	now := make([]float64, len(at))
	best := math.NaN()
	for n := range tries {
		reach := math.Exp(-6 * float64(n) / tries)
		for k, f := range e.free {
			t := math.Mod(0.5+float64(n)*root(k), 1)*2 - 1
			if n == 0 {
				t = 0
			}
			now[k] = math.Max(f.r.Low, math.Min(f.r.High, at[k]+t*reach*(f.r.High-f.r.Low)))
			f.set(now[k])
		}
		s := e.at(&Point{})
		take(s)
		if v := s.nums[i]; s.impossible == "" && !math.IsNaN(v) && (math.IsNaN(best) || up && v > best || !up && v < best) {
			best = v
			copy(at, now)
		}
	}
}

// movePairs is how many pairs of corners are looked at to see whether a field
// that changes nothing along its line changes anything at all.
const movePairs = 16

// moves reports whether free field k changes answer i: along its line, or between
// corners that differ in it alone. What never moves is not searched. Where not
// every corner can be, it is tried at the possible ones.
func (e *evaluation) moves(k, i int, grid []sample) bool {
	differ := func(a, b sample) bool {
		x, y := a.nums[i], b.nums[i]
		return x != y && !(math.IsNaN(x) && math.IsNaN(y)) || a.impossible != b.impossible
	}
	line := e.line(k)
	for _, s := range line[1:] {
		if differ(line[0], s) {
			return true
		}
	}
	if e.whole {
		for c := 0; c < len(grid)-1; c += max(1, (len(grid)-1)/movePairs|1) {
			if differ(grid[1+(c&^(1<<k))], grid[1+(c|1<<k)]) {
				return true
			}
		}
		return false
	}
	defer e.likely()
	f := e.free[k]
	for n := range min(6, len(grid)) {
		for j, g := range e.free {
			g.set(grid[n].at[j])
		}
		var first sample
		for j, x := range []float64{f.r.Low, f.r.Likely, f.r.High} {
			f.set(x)
			if s := e.at(&Point{}); j == 0 {
				first = s
			} else if differ(first, s) {
				return true
			}
		}
	}
	return false
}

// search looks for the extreme of answer i over the searched fields: field by
// field it subdivides around the best point until the step is searchTol of the
// width, and goes round until a whole round finds nothing better.
func (e *evaluation) search(i int, up bool, fields []int, take func(sample)) {
	if len(fields) == 0 {
		return
	}
	better := func(a, b float64) bool { return !math.IsNaN(a) && (math.IsNaN(b) || up && a > b || !up && a < b) }
	best := math.NaN()
	try := func() bool {
		room, roomText := e.spare, e.spareText
		s := e.at(&Point{})
		if len(room) >= len(s.nums) { // try keeps no sample, so the next one may use its memory
			e.spare, e.spareText = room, roomText
		}
		take(s)
		if s.impossible == "" && better(s.nums[i], best) {
			best = s.nums[i]
			return true
		}
		return false
	}
	at := make([]float64, len(e.free))
	for k, f := range e.free {
		at[k] = f.r.Likely
	}
	try()
	for range 4 {
		moved := false
		for _, k := range fields {
			f := e.free[k]
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

// nothing is the share of a range that is rounding: an input that cancels out moves an
// answer by so little, and not the same on every machine.
const nothing = 1e-9

// widest names the input that makes most of an answer's width.
func (e *evaluation) widest(i int, r unit.Range) string {
	if len(e.free) == 0 || r.High-r.Low <= 1e-12*math.Abs(r.High) || math.IsInf(r.High, 0) {
		return ""
	}
	name, most, more := "", 0.0, 0
	for k, f := range e.free {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range e.line(k) {
			if s.impossible == "" && !math.IsNaN(s.nums[i]) {
				lo, hi = math.Min(lo, s.nums[i]), math.Max(hi, s.nums[i])
			}
		}
		if hi-lo > nothing*(r.High-r.Low) {
			more++
		}
		if hi-lo > most {
			name, most = f.label, hi-lo
		}
	}
	if name == "" {
		return ""
	}
	if more == 1 {
		return "all of this range is: " + name
	}
	return "most of this range is: " + name
}

// pick lists every value a choice takes in the box and what separates them.
func (e *evaluation) pick(i int, o *boundOut, mid sample, grid []sample) Pick {
	word := o.word
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
	for k := range e.free { // between the grid's points too
		for _, s := range e.line(k) {
			add(s)
		}
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
	for k, f := range e.free {
		value := func(x float64) string {
			f.set(x)
			return e.at(&Point{}).texts[i]
		}
		line := e.line(k)
		last, lastX := "", f.r.Low
		var text []string
		for j, s := range line {
			x := f.r.Low + (f.r.High-f.r.Low)*float64(j)/lineSteps
			now := s.texts[i]
			if s.impossible != "" {
				continue
			}
			if last != "" && now != last {
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
			}
			last, lastX = now, x
		}
		f.set(f.r.Likely)
		if len(text) > 0 {
			parts = append(parts, f.label+": "+strings.Join(append(text, word(last).Label+" above"), ", "))
		}
	}
	return strings.Join(parts, "; ")
}
