package calc

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// Form collects a calculator's declarations.
type Form struct {
	fields []*bound
	outs   []*boundOut
	faults []string
	known  *declared // what the texts say, when they were read before

	machine *string    // the chosen machine card
	cards   []book.Row // all of them
}

// Shape says how a field is typed.
type Shape uint8

// The shapes of a field.
const (
	QuantityShape Shape = iota // a number with a unit, perhaps a range
	ListShape                  // several numbers with units: "0.05, 0.1 mm"
	ChoiceShape                // one of the options
	TextShape                  // a text of several lines: a drawing
	WordShape                  // a short name in one line: "LQ-12"; stands in links
)

// Field declares one input.
type Field struct {
	Name    string // public name
	Aliases []string
	Label   string // stands above the field
	Help    string // one sentence under it, may be empty
	Group   string // heading under which it stands; "" joins the group before
	Default string // text with its unit, or an option's value; "" with Optional
	// Optional fields may stay empty. Given then reports false, and the bound
	// variable holds what Fallback gives, or zero.
	Optional bool
	// Fallback is asked when an optional field is empty, after the fields
	// declared before it are set: a table's range for this wire, say.
	Fallback func() Fallback
	Keys     []string // unit keys beside the field, the first is the metric default
	InchKey  string   // unit of a bare number for a reader in inches; "" takes Keys[0]
	Usual    [2]string
	Ranges   bool
	Limits   []Limit
	Options  []Option // choices; for quantities: values offered as chips
	ShowIf   func() bool
	Advanced bool   // folded away until asked for
	Mark     string // what stands before its value where an answer names its inputs: "⌀", "R"; "-" for nothing
	Ordered  bool   // a list of readings: order and repeats count
	when     string // the condition of ShowIf, as it was written
	Card     string // columns of the machine card that bound it

	Shape  Shape
	Kind   unit.Kind
	Demand bool // a Span: its tolerance is known, not searched
}

// Option is one choice, or one value offered beside a field.
type Option struct{ Value, Label string }

// Fallback is the value an empty field takes and where it came from.
type Fallback struct {
	Range unit.Range
	Rows  []book.Row
	Note  string // shown beside the field: "from the table of gaps: 30 to 60 µm"
	// Measured is set when the shop read just this, Taught when its cuts of this
	// material on this machine reach here.
	Measured, Taught bool
	// Wanted says why there is no value, where no answer can be without one: the
	// field is then asked for.
	Wanted string
	// Together names a quantity that several fields' ranges come from, so that
	// they move as one: all gaps of a machine run wide, or all narrow.
	Together string
}

// Limit bounds a field. Text carries the unit; Reason is shown with the refusal.
type Limit struct {
	Min, Max string // one of the two
	Open     bool   // the limit itself is refused too
	Reason   string
}

// at is the limit as a number; a text that does not read was found by NewSet.
func (l Limit) at(k unit.Kind) float64 {
	rd, err := unit.Read(l.Min+l.Max, k, unit.Options{Unit: countUnit(k)})
	if err != nil {
		return 0
	}
	return rd.Range.Likely
}

type bound struct {
	Field
	set     func(float64)
	setSpan func(unit.Range)
	setList func([]float64)
	setText func(string)
	given   *bool
	get     func() float64 // of a quantity declared from text
	getText func() string  // of a choice or a word declared from text
	free    bool           // any printable words, not a short name
}

// Span is a demand of the print with its tolerance. Unlike a range it is not
// something unknown: all three values hold at every point.
type Span[T unit.Typed] struct{ Low, Likely, High T }

// Out declares one answer: a number with its direction in every field that
// takes a range, or a choice.
type Out struct {
	Name  string // public name
	Label string
	Help  string
	// Rises and Falls name the fields with which the answer never falls or
	// never rises. A field that takes a range and stands in neither is searched.
	Rises, Falls []string
	Unit         string // printed unit; "" the kind's own for the reader's system
	InchUnit     string // printed unit for a reader in inches
	Decimals     int    // decimals in Unit; 0 with Unit "" the kind's own
	InchDecimals int
	Main         bool // shown in the answer band
	Kind         unit.Kind
	Choice       bool
	Words        []Option // for a choice: what each value is called in a sentence
	// Applies tells, after a Point, whether the number means anything there; an
	// answer that does not apply is left out of the reply. nil: always.
	Applies func() bool
	// Given marks an answer that Say gives, with Result.Give or GiveChoice.
	Given bool
	when  string // the condition of Applies, as it was written
}

type boundOut struct {
	Out
	get     func() float64
	getText func() string
}

// validate notes what a declaration gets wrong; a mistake here is ours, never
// the reader's.
func (f *Form) validate() {
	names := map[string]bool{}
	ranged := map[string]bool{}
	for _, d := range f.fields {
		f.checkField(d, names)
		ranged[d.Name] = d.Ranges && d.set != nil
	}
	outs := map[string]bool{}
	for _, d := range f.outs {
		if !publicName(d.Name) || outs[d.Name] {
			f.fault("answer name " + quote(d.Name) + " is not a public name, or declared twice")
		}
		outs[d.Name] = true
		for _, name := range append(append([]string{}, d.Rises...), d.Falls...) {
			if !ranged[name] {
				f.fault("answer " + quote(d.Name) + " declares a direction in " + quote(name) + ", which takes no range")
			}
		}
	}
}

func (f *Form) checkField(d *bound, names map[string]bool) {
	for _, name := range append([]string{d.Name}, d.Aliases...) {
		if !publicName(name) || names[name] {
			f.fault("field name " + quote(name) + " is not a public name, or declared twice")
		}
		names[name] = true
	}
	if d.Label == "" {
		f.fault("field " + quote(d.Name) + " has no label")
	}
	if d.Shape == ChoiceShape {
		if !hasOption(d.Options, d.Default) {
			f.fault("field " + quote(d.Name) + ": default " + quote(d.Default) + " is not one of its options")
		}
		return
	}
	if d.Default == "" && !d.Optional {
		f.fault("field " + quote(d.Name) + " has no default and is not optional")
	}
	if d.Shape == WordShape && d.Default != "" {
		if say, _, _ := wordFault(d.Label, d.Default); say != "" {
			f.fault("field " + quote(d.Name) + ": default: " + say)
		}
	}
	texts := []string{}
	if d.Shape == QuantityShape {
		texts = append(texts, d.Default)
	}
	texts = append(texts, d.Usual[0], d.Usual[1])
	for _, l := range d.Limits {
		text := l.Min + l.Max
		if l.Reason == "" || text == "" || (l.Min != "" && l.Max != "") {
			f.fault("field " + quote(d.Name) + ": a limit lacks its value or its reason")
			continue
		}
		if _, err := unit.Read(text, d.Kind, unit.Options{Unit: countUnit(d.Kind)}); err != nil {
			f.fault("field " + quote(d.Name) + ": limit " + quote(text) + ": " + err.Error())
		}
	}
	for _, text := range texts {
		if text == "" {
			continue
		}
		if _, err := unit.Read(text, d.Kind, unit.Options{Ranges: true, Unit: countUnit(d.Kind)}); err != nil {
			f.fault("field " + quote(d.Name) + ": " + quote(text) + ": " + err.Error())
		}
	}
}

// checkCards holds the columns that fields are held against to the table of cards.
func (f *Form) checkCards(b *book.Book) {
	t := b.Table("machines")
	if t == nil || f.machine == nil {
		return
	}
	for _, d := range f.fields {
		for _, column := range cardColumns(d.Card) {
			if say := t.Lacks(column); say != "" {
				f.fault("field " + quote(d.Name) + " is held against a machine card: " + say)
			}
		}
	}
}

// countUnit lets kinds without a unit be written bare.
func countUnit(k unit.Kind) string {
	if k == unit.CountKind || k == unit.RatioKind || k == unit.MoneyKind {
		return k.Base()
	}
	return ""
}

func (f *Form) fault(text string) { f.faults = append(f.faults, text) }

func hasOption(list []Option, value string) bool {
	for _, o := range list {
		if o.Value == value {
			return true
		}
	}
	return false
}

func (f *Form) field(name string) *bound {
	for _, d := range f.fields {
		if d.Name == name {
			return d
		}
		for _, a := range d.Aliases {
			if a == name {
				return d
			}
		}
	}
	return nil
}
