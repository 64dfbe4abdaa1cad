package calc

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// Input is what a reader gave: the typed text of each field, the unit key last
// pressed beside it, and the reader's system.
type Input struct {
	Values map[string]string
	Keys   map[string]string
	System unit.System
	// Strict refuses a number without a unit, as in links, saved jobs, worked
	// examples and the command line.
	Strict bool
	// Reading asks for the fields alone: they are read and nothing is worked out.
	Reading bool
}

// Reply is what comes back: the state of each field, and the answer when every
// field could be read.
type Reply struct {
	Calculator *Calculator
	Fields     []State
	Answer     *Answer // nil when a field or the combination is refused
	Problems   []Problem
}

// State is a field after reading.
type State struct {
	Field
	Text    string // canonical text, with its unit; what a link carries
	Echo    string // what was understood, in both systems
	Notes   []string
	Key     string // unit key understood
	Given   bool   // typed by the reader, or default; false when the fallback stands in
	Shown   bool
	Problem string
	At, Len int // of the problem, bytes in the typed text
	Range   unit.Range
	Off     []string // options that the chosen machine card does not have
}

// Problem is a refused input. Field is "" for a problem of the whole form.
type Problem struct{ Field, Text string }

// Field returns the state of a field.
func (r *Reply) Field(name string) (State, bool) {
	for _, s := range r.Fields {
		if s.Name == name || slices.Contains(s.Aliases, name) {
			return s, true
		}
	}
	return State{}, false
}

// Eval reads the input and answers it. It never panics on an input; every
// refusal is a Problem that names the field, what was read and what would be
// right.
func (c *Calculator) Eval(b *book.Book, in Input) *Reply {
	f, run := c.form(b)
	rep := &Reply{Calculator: c}
	values := map[string]string{}
	var unknown []string
	for name, text := range in.Values {
		if d := f.field(name); d != nil {
			values[d.Name] = text
		} else {
			unknown = append(unknown, name)
		}
	}
	sortSmall(unknown)
	for _, name := range unknown {
		text := meant(name, f.names())
		if text == "" {
			text = "; " + c.ID + " has " + strings.Join(f.names(), ", ")
		}
		rep.Problems = append(rep.Problems, Problem{Text: "there is no field " + quote(name) + text})
	}
	e := &evaluation{form: f, run: run, book: b, system: in.System, defaults: c.defaults, typed: map[string]string{}, rows: map[string][]book.Row{}}
	if f.machine != nil { // every field is held against its card, those before it too
		if name, _ := e.option(f.field("machine"), strings.TrimSpace(values["machine"])); name != "" {
			*f.machine = name
		}
	}
	rep.Fields = make([]State, len(f.fields))
	// What is empty and may be filled from a measured cut or a table comes last: the
	// cut is looked for by material and thickness, which may stand after it.
	var empty []int
	for i, d := range f.fields {
		text, typed := values[d.Name]
		if !typed {
			text = d.Default
		}
		if d.Fallback != nil && d.Optional && strings.TrimSpace(text) == "" {
			empty = append(empty, i)
			continue
		}
		st := e.read(d, strings.TrimSpace(text), in, typed)
		if st.Problem == "" {
			e.hold(d, &st, in.Strict && typed)
		}
		if st.Problem != "" {
			rep.Problems = append(rep.Problems, Problem{d.Name, st.Problem})
		}
		rep.Fields[i] = st
	}
	for _, i := range empty {
		rep.Fields[i] = e.fallback(f.fields[i], State{Field: f.fields[i].Field})
	}
	f.inOrder(e.free)
	e.agree(rep, values)
	for i, d := range f.fields {
		rep.Fields[i].Shown = d.ShowIf == nil || d.ShowIf()
	}
	for i, d := range f.fields { // a page sends what nobody touched too, and a bare number without its unit
		if _, typed := values[d.Name]; typed && (in.Strict || rep.Fields[i].Text != d.Default) {
			e.typed[d.Name] = rep.Fields[i].Text
		}
	}
	rep.wants(empty, in.Reading)
	if len(rep.Problems) > 0 || in.Reading {
		return rep
	}
	rep.Answer, rep.Problems = e.answer()
	if rep.Answer != nil {
		e.refuseCard(rep)
		for i := range rep.Fields {
			if s := &rep.Fields[i]; s.Problem == "" {
				rep.Answer.Used(e.rows[s.Name]...)
			}
		}
		for _, note := range e.told {
			rep.Answer.Note(note)
		}
		rep.Answer.entered()
	}
	return rep
}

// wants asks for the empty fields that are shown and without which there is no
// answer. Where another field is refused, what it would have filled is not asked for, nor
// where the fields are only read.
func (rep *Reply) wants(empty []int, reading bool) {
	refused := reading || len(rep.Problems) > 0
	for _, i := range empty {
		s := &rep.Fields[i]
		if s.Problem == "" {
			continue
		}
		if s.Shown && !refused {
			rep.Problems = append(rep.Problems, Problem{s.Name, s.Problem})
		} else {
			s.Problem = ""
		}
	}
}

// inOrder sorts free fields as the form has them, so that a range is searched the
// same way whether a field was typed or filled.
func (f *Form) inOrder(list []free) {
	at := func(x free) int {
		for i, d := range f.fields {
			if d.Name == x.names[0] {
				return i
			}
		}
		return 0
	}
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && at(list[j]) < at(list[j-1]); j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
}

// hold holds a field against the chosen machine card. A choice that the card
// does not have is changed to the first that it has, and said so; typed in a
// link or a saved job it is refused. A quantity beyond the card is answered,
// with the refusal in the answer.
func (e *evaluation) hold(d *bound, st *State, strict bool) {
	if d.Shape == ChoiceShape {
		off, say := e.form.offChoice(d)
		if say == "" {
			return
		}
		st.Off = off
		if slices.Contains(off, st.Text) {
			if strict {
				st.Problem = say
				return
			}
			for _, o := range d.Options {
				if !slices.Contains(off, o.Value) {
					d.setText(o.Value)
					st.Text, st.Key = o.Value, o.Value
					say += " Taken instead: " + o.Label + "."
					break
				}
			}
		}
		st.Notes = append(st.Notes, say)
		return
	}
	if st.Shape != QuantityShape || !st.Given {
		return
	}
	if why := e.form.offCard(d, st.Range); why != "" {
		st.Notes = append(st.Notes, why)
		e.off = append(e.off, d)
	}
}

// refuseCard puts into the answer what the chosen card does not take, for the
// fields that are shown.
func (e *evaluation) refuseCard(rep *Reply) {
	a := rep.Answer
	for _, d := range e.off {
		if st, _ := rep.Field(d.Name); !st.Shown {
			continue
		}
		st, _ := rep.Field(d.Name)
		if a.Verdict == Yes || a.Verdict == OnlyIf {
			card, _ := e.form.card()
			a.Verdict, a.Headline = No, "No, not on "+card.Cell("name")
			for i, p := range a.Choices {
				if p.Name == "verdict" {
					a.Choices[i].Likely = Option{"not-on-machine", a.Headline}
					a.Choices[i].All, a.Choices[i].When = []Option{a.Choices[i].Likely}, ""
				}
			}
		}
		a.Lead = e.form.offCard(d, st.Range) + ". " + a.Lead
	}
	if card, ok := e.form.card(); ok {
		a.Used(card)
		if about := card.Cell("remark"); about != "" {
			text := "Machine: " + card.Cell("name") + ", " + about + "."
			if card.Provenance == "invented" {
				text += " This card is invented."
			}
			a.Note(text)
		}
	}
	if e.measured || e.taught {
		a.General = false
	}
	a.Measured, a.Taught = e.measured, e.taught
}

// sortSmall sorts a short list. The library's sort is a good deal of code, and
// nothing here is long.
func sortSmall[T string | float64](list []T) {
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && list[j] < list[j-1]; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
}

func (f *Form) names() []string {
	var out []string
	for _, d := range f.fields {
		out = append(out, d.Name)
	}
	return out
}

// evaluation carries one Eval.
type evaluation struct {
	form      *Form
	run       Run
	book      *book.Book
	printed   []book.Row // rows that a reading from a print took, until they are kept
	told      []string   // what was made of inputs, where the answer must say so too
	limited   string     // field that a print gives as a limit
	limit     string     // which: "maximum" or "minimum"
	system    unit.System
	free      []free                // fields whose range is not a point
	rows      map[string][]book.Row // rows behind a field's fallback
	defaults  map[string]State      // read when the set was made
	typed     map[string]string     // texts by the field's own name
	off       []*bound              // quantities beyond the machine card
	measured  bool                  // a fallback is what the shop read
	taught    bool                  // a fallback comes from the law as the shop's cuts taught it here
	whole     bool                  // every corner of the box can be
	spare     []float64             // memory of a sample that is no longer read, for the next one
	spareText []string
	lines     [][]sample // free fields along their ranges, evaluated when first asked
}

// free is one field that ranges, and its setter.
type free struct {
	names    []string // fields that move with it
	label    string
	together string // name of what several fields share; r is then 0, ½, 1
	kind     unit.Kind
	r        unit.Range
	set      func(float64)
	style    unit.Style
}

// join lets another field move with a shared quantity.
func (f *free) join(name string, r unit.Range, set func(float64)) {
	before := f.set
	f.names = append(f.names, name)
	f.set = func(t float64) {
		before(t)
		if t <= 0.5 {
			set(r.Low + (r.Likely-r.Low)*2*t)
		} else {
			set(r.Likely + (r.High-r.Likely)*(2*t-1))
		}
	}
}

func (e *evaluation) read(d *bound, text string, in Input, typed bool) State {
	if st, ok := e.defaults[d.Name]; ok && text == d.Default && in.Keys[d.Name] == "" {
		st.Field = d.Field // with the conditions bound to this form, not to the one it was read with
		if d.given != nil {
			*d.given = true
		}
		e.assign(d, st.Range, d.styleOf(st.Key, e.system))
		return st
	}
	st := State{Field: d.Field, Given: true}
	switch d.Shape {
	case TextShape:
		d.setText(text)
		st.Text, st.Given = text, text != ""
		return st
	case WordShape:
		return e.readWord(d, text, st)
	case ChoiceShape:
		return e.readChoice(d, text, st)
	case ListShape:
		return e.readList(d, text, in, st)
	}
	if text == "" {
		if !d.Optional {
			st.Problem = "a value is wanted here, for example " + d.Default
			return st
		}
		return e.fallback(d, st)
	}
	print := e.print()
	if key := in.Keys[d.Name]; key != "" {
		rekeyed, err := unit.Rekey(text, d.Kind, key, print)
		if err != nil {
			st.refuse(err)
			return st
		}
		text = rekeyed
	}
	rd, err := unit.Read(text, d.Kind, unit.Options{Ranges: d.Ranges, Unit: d.bareUnit(in), OnPrint: print})
	if err != nil {
		st.refuse(err)
		return st
	}
	if st.Problem = e.form.bears(d, rd.On); st.Problem != "" {
		st.Len = len(text)
		return st
	}
	if d.Demand && rd.On.Limit != "" {
		e.limited, e.limit = d.Name, rd.On.Limit+"imum"
	}
	st.Text, st.Key, st.Range = rd.Text, rd.Unit, rd.Range
	st.Echo, st.Notes = unit.Echo(rd, d.Kind), rd.Notes
	if rd.On.Turned() {
		e.rows[d.Name] = e.printed
		e.tell(d, st.Echo+", "+rd.Notes[len(rd.Notes)-1])
	}
	// A default is inside its limits and usual: NewSet has seen to it.
	asked := typed && text != d.Default
	if asked {
		st.Problem = d.limit(rd, rd.Range)
	}
	if st.Problem != "" {
		return st
	}
	if asked && d.Usual[0] != "" {
		if hint, ok := e.suggest(d, rd); ok {
			st.Notes = append(st.Notes, hint)
		}
	}
	if d.given != nil {
		*d.given = true
	}
	e.assign(d, rd.Range, d.styleOf(rd.Unit, e.system))
	return st
}

// tell lets the answer say what was made of an input.
func (e *evaluation) tell(d *bound, what string) { e.told = append(e.told, d.Label+": "+what+".") }

// refuse keeps the error's place, so that the caret or the mark can stand there.
func (s *State) refuse(err error) {
	s.Problem = err.Error()
	if u, ok := err.(*unit.Error); ok {
		s.At, s.Len = u.At, u.Len
	}
}

// bareUnit is the unit a bare number takes: the last key pressed, else the
// field's own for the reader's system; none at all in strict input.
func (d *bound) bareUnit(in Input) string {
	if u := countUnit(d.Kind); u != "" {
		return u
	}
	if in.Strict {
		return ""
	}
	if k := in.Keys[d.Name]; k != "" {
		return k
	}
	if in.System == unit.Inch && d.InchKey != "" {
		return d.InchKey
	}
	if len(d.Keys) > 0 {
		return d.Keys[0]
	}
	return d.Kind.Base()
}

func (d *bound) limit(rd unit.Reading, r unit.Range) string {
	for _, l := range d.Limits {
		at := l.at(d.Kind)
		low := l.Min != "" && (r.Low < at || l.Open && r.Low <= at)
		high := l.Max != "" && (r.High > at || l.Open && r.High >= at)
		if !low && !high {
			continue
		}
		word := map[[2]bool]string{{true, false}: "at least ", {true, true}: "more than ", {false, false}: "at most ", {false, true}: "less than "}[[2]bool{low, l.Open}]
		return d.Label + " is " + word + l.Min + l.Max + ", this is " + rd.Text + ": " + l.Reason
	}
	return ""
}

func (e *evaluation) suggest(d *bound, rd unit.Reading) (string, bool) {
	lo, err1 := unit.Read(d.Usual[0], d.Kind, unit.Options{Unit: countUnit(d.Kind)})
	hi, err2 := unit.Read(d.Usual[1], d.Kind, unit.Options{Unit: countUnit(d.Kind)})
	if err1 != nil || err2 != nil {
		return "", false
	}
	return unit.Suggest(rd, d.Kind, lo.Range.Likely, hi.Range.Likely, d.Keys, e.print())
}

func (d *bound) styleOf(unitSymbol string, s unit.System) unit.Style {
	st := d.Kind.Style(s)
	if unitSymbol == st.Unit || slices.Contains(d.Kind.Units(), unitSymbol) {
		return unit.Style{Unit: unitSymbol, Decimals: max(st.Decimals, 4), Trim: true}
	}
	return st
}

// assign sets the bound variable to the likely value and notes the field when
// it ranges.
func (e *evaluation) assign(d *bound, r unit.Range, st unit.Style) {
	if d.setSpan != nil {
		d.setSpan(r)
		return
	}
	d.set(r.Likely)
	if !r.IsPoint() {
		e.free = append(e.free, free{names: []string{d.Name}, label: d.Label, kind: d.Kind, r: r, set: d.set, style: st})
	}
}

func (e *evaluation) fallback(d *bound, st State) State {
	st.Given = false
	if d.set != nil {
		d.set(0)
	}
	if d.given != nil {
		*d.given = false
	}
	if d.Fallback == nil {
		return st
	}
	fb := d.Fallback()
	if !sound(fb.Range) {
		fb = Fallback{Note: "what the tables give has its ends the wrong way round: type a value"}
	}
	st.Range = fb.Range
	st.Echo = fb.Note
	if fb.Wanted != "" {
		st.Problem = d.Label + " is wanted: " + fb.Wanted
	}
	e.measured, e.taught = e.measured || fb.Measured, e.taught || fb.Taught
	e.rows[d.Name] = fb.Rows
	if fb.Together == "" || fb.Range.IsPoint() {
		e.assign(d, fb.Range, d.Kind.Style(e.system))
		return st
	}
	d.set(fb.Range.Likely)
	for i := range e.free {
		if e.free[i].together == fb.Together {
			e.free[i].join(d.Name, fb.Range, d.set)
			return st
		}
	}
	f := free{label: fb.Together, together: fb.Together, kind: unit.RatioKind, r: unit.Range{Low: 0, Likely: 0.5, High: 1}, set: func(float64) {}, style: unit.Style{Decimals: 2}}
	f.join(d.Name, fb.Range, d.set)
	e.free = append(e.free, f)
	return st
}

func (e *evaluation) readChoice(d *bound, text string, st State) State {
	value, problem := e.option(d, text)
	if problem != "" {
		st.Problem, st.Len = problem, len(text)
		return st
	}
	d.setText(value)
	st.Text, st.Key = value, value
	if label := optionLabel(d.Options, value); value != text && label != text {
		label = quote(text) + " is read as " + label
		st.Notes = append(st.Notes, label)
		e.tell(d, label)
	}
	return st
}

func (e *evaluation) readList(d *bound, text string, in Input, st State) State {
	if text == "" {
		if !d.Optional {
			st.Problem = "at least one value is wanted here, for example " + d.Default
			return st
		}
		st.Given = false
		d.setList(nil)
		return st
	}
	list, err := unit.ReadList(text, d.Kind, unit.Options{Unit: d.bareUnit(in)})
	if err != nil {
		st.refuse(err)
		return st
	}
	var vs []float64
	var texts []string
	for _, rd := range list {
		if text != d.Default { // the default is inside its limits: NewSet has seen to it
			if st.Problem = d.limit(rd, rd.Range); st.Problem != "" {
				return st
			}
		}
		vs = append(vs, rd.Range.Likely)
		texts = append(texts, rd.Text)
		st.Key = rd.Unit
	}
	if !d.Ordered {
		sortSmall(vs)
		vs = slices.Compact(vs)
	}
	d.setList(vs)
	st.Text = strings.Join(texts, "; ")
	st.Echo = strconv.Itoa(len(vs)) + " values"
	return st
}
