package calc

import (
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// Sheet is a whole process in the open: every decision with its reason.
type Sheet struct {
	Title        []Entry // part, number, revision, quantity, as far as given
	Print        []Said  // everything that the sheet rests on
	Lines        []Line
	Alternatives []Alternative
	Checks       []string // to be looked at and signed
	Open         []string // questions that only the shop or the customer can answer
	Process      *Process // as values, nil where the law says nothing
}

// Process is the process of a sheet as values, for programs: what was decided, its
// passes, and what it was weighed against.
type Process struct {
	Decided     process.Weighed
	Passes      []PassLine
	Lost, Front []process.Weighed
	Demands     []process.Priced
}

// PassLine is one pass of the plan: lengths in mm, roughness in µm, feed in mm/min.
type PassLine struct {
	Offset, Takes, Leaves, Ra, Feed unit.Range
	Polarity                        string
}

// Said is one thing that a sheet rests on: told by the reader, or assumed.
type Said struct {
	_                 [0]func() // never compared, so no code for comparing is made
	Name, Label, Text string
	Assumed           bool
}

// Entry is one field of a title block.
type Entry struct{ Name, Label, Text string }

// Line is one decision of a sheet.
type Line struct {
	Name, Label string
	What        string   // what is decided
	Range       string   // how far it may differ
	Because     string   // the rule's words with the numbers put in
	Sure        string   // standard, cited, measured cut, table, our estimate, rule, geometry
	Page        string   // where the handbook says more
	Rules       []string // names of the rules that fired
	Own         bool     // the user's override
	Breaks      string   // what an override breaks
}

// Alternative is another aim for the same print, side by side.
type Alternative struct {
	Name, Label string
	Cells       []Entry // what it comes to, the same names for all
	GivesUp     string
}

// Prints reports whether a field stands among what the sheet rests on.
func (s *Sheet) Prints(name string) bool {
	for _, i := range s.Print {
		if i.Name == name {
			return true
		}
	}
	return false
}

// Titled reports whether a field stands in the title block.
func (s *Sheet) Titled(name string) bool {
	for _, e := range s.Title {
		if e.Name == name {
			return true
		}
	}
	return false
}

// Line returns the line of that name.
func (s *Sheet) Line(name string) (Line, bool) {
	for _, l := range s.Lines {
		if l.Name == name {
			return l, true
		}
	}
	return Line{}, false
}

// Give sets a numeric answer declared as given.
func (r *Result) Give(a *Answer, name string, v unit.Range) {
	for _, o := range r.form.outs {
		if o.Name == name && o.Given && !o.Choice {
			if !sound(v) {
				a.Note(unsound(o.Label))
				return
			}
			st := o.style(r.System)
			r.ranges[name] = v
			a.Values = append(a.Values, Finding{Name: o.Name, Label: o.Label, Help: o.Help, Range: v, Kind: o.Kind, Style: st,
				Text: printRange(o.Kind, v, st), Main: o.Main})
		}
	}
}

// GiveChoice sets an answer that is a choice and declared as given; label is what
// a reader sees, "" for the declared word.
func (r *Result) GiveChoice(a *Answer, name, value, label string) {
	for _, o := range r.form.outs {
		if o.Name == name && o.Given && o.Choice {
			w := o.word(value)
			if label != "" {
				w.Label = label
			}
			p := Pick{Name: o.Name, Label: o.Label, Likely: w, All: []Option{w}}
			r.picks[name] = p
			a.Choices = append(a.Choices, p)
		}
	}
}

// Instead puts one declared word in the place of a choice that comes out more than
// one way: "no or yes" is no answer. What separates the ways stays with it.
func (r *Result) Instead(a *Answer, name, value string) {
	for _, o := range r.form.outs {
		if o.Name != name || !o.Choice {
			continue
		}
		for i := range a.Choices {
			if p := &a.Choices[i]; p.Name == name {
				p.Likely = o.word(value)
				p.All = []Option{p.Likely}
				r.picks[name] = *p
			}
		}
	}
}
