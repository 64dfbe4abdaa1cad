package calc

import (
	"strconv"
	"strings"

	"kerfbook/wasm/unit"
)

// A declaration may be written as text, one fact a line, instead of as a
// struct: it reads like the form it makes, and packs to a fifth of the code.
// The first line is "name: Label". Then, for a field:
//
//	group Gap                    heading it stands under
//	is 0.25 mm                   default; without it the field is optional
//	keys mm µm thou; thou        units beside it; then that of a bare number in inches
//	usual 0.02 mm to 0.36 mm     outside it a hint is given
//	min 0 µm: a gap is …         also above, max, below, each with its reason
//	option water: water          a choice, or a value offered beside the field
//	if dielectric water          shown only while another choice stands so; also unless
//	help Leave it empty to …
//	card dielectrics             held against the chosen machine card: see AskMachine
//	mark ⌀                       an answer names it among its inputs, with this before it; - for the value alone
//	ranges, advanced             alone on their line
//	ordered                      a list that keeps its order and its repeats
//
// and for an answer:
//
//	rises gap left               fields with which it never falls; also falls
//	unit kΩ·cm 3                 printed unit and decimals; inch for a reader in inches
//	digits 3                     decimals of the kind's own unit
//	word fits: fits              what a choice is called
//	given                        given by Say, not by Point: see Result.Give
//	if, unless, help, main       as above
//
// "keys length" and "keys small" stand for the four length keys. An unknown
// line is a fault that NewSet reports. What is read is kept with the
// calculator, so that an evaluation reads no text again.

// Ask declares a quantity bound to dst from text.
func Ask[T unit.Typed](f *Form, dst *T, text string) *Field {
	d := f.ask(text)
	d.Kind, d.Shape = (*dst).Kind(), QuantityShape
	d.set, d.get = func(v float64) { *dst = T(v) }, func() float64 { return float64(*dst) }
	return &d.Field
}

// AskGiven is Ask for a field that may stay empty; given tells whether it was typed.
func AskGiven[T unit.Typed](f *Form, dst *T, given *bool, text string) *Field {
	d := Ask(f, dst, text)
	f.fields[len(f.fields)-1].given = given
	d.Optional = true
	return d
}

// AskSpan declares a quantity whose tolerance is a demand, from text.
func AskSpan[T unit.Typed](f *Form, dst *Span[T], text string) *Field {
	var zero T
	d := f.ask(text)
	d.Kind, d.Shape, d.Ranges, d.Demand = zero.Kind(), QuantityShape, true, true
	d.setSpan = func(r unit.Range) { *dst = Span[T]{T(r.Low), T(r.Likely), T(r.High)} }
	d.get = func() float64 { return float64(dst.Likely) }
	return &d.Field
}

// AskList declares a list of quantities bound to dst from text.
func AskList[T unit.Typed](f *Form, dst *[]T, text string) *Field {
	var zero T
	d := f.ask(text)
	d.Kind, d.Shape = zero.Kind(), ListShape
	d.setList = func(vs []float64) {
		*dst = (*dst)[:0]
		for _, v := range vs {
			*dst = append(*dst, T(v))
		}
	}
	return &d.Field
}

// AskChoice declares a choice bound to dst from text.
func AskChoice(f *Form, dst *string, text string) *Field {
	d := f.ask(text)
	d.Shape = ChoiceShape
	if d.Default == "" && len(d.Options) > 0 {
		d.Default = d.Options[0].Value
	}
	d.setText, d.getText = func(s string) { *dst = s }, func() string { return *dst }
	return &d.Field
}

// AskText declares a text of several lines, empty by default. It stands in no
// link.
func AskText(f *Form, dst *string, text string) *Field {
	d := f.ask(text)
	d.Shape, d.Optional = TextShape, true
	d.setText = func(s string) { *dst = s }
	return &d.Field
}

// AskWord declares a short name in one line: the name of a cut. It may stand in
// a link. Without a default it is optional.
func AskWord(f *Form, dst *string, text string) *Field {
	d := f.ask(text)
	d.Shape, d.Optional = WordShape, d.Default == ""
	d.setText, d.getText = func(s string) { *dst = s }, func() string { return *dst }
	return &d.Field
}

// AskWords declares one line of words: what a part is called. It may stay empty,
// holds at most 60 characters, and stands in links.
func AskWords(f *Form, dst *string, text string) *Field {
	d := f.ask(text)
	d.Shape, d.Optional, d.free = WordShape, true, true
	d.setText, d.getText = func(s string) { *dst = s }, func() string { return *dst }
	return &d.Field
}

// Tell declares a numeric answer from text.
func Tell[T unit.Typed](f *Form, src *T, text string) *Out {
	d := f.tell(text)
	d.Kind = (*src).Kind()
	d.get = func() float64 { return float64(*src) }
	return &d.Out
}

// TellChoice declares an answer that is a choice from text.
func TellChoice(f *Form, src *string, text string) *Out {
	d := f.tell(text)
	d.Choice = true
	d.getText = func() string { return *src }
	return &d.Out
}

// declared is what a calculator's texts say, kept after they were first read.
type declared struct {
	fields []Field
	outs   []Out
}

func (f *Form) ask(text string) *bound {
	n := len(f.fields)
	d := &bound{}
	if f.known != nil && n < len(f.known.fields) {
		d.Field = f.known.fields[n]
	} else {
		d.Field = f.readField(text)
	}
	d.ShowIf = f.when(d.when)
	f.fields = append(f.fields, d)
	return d
}

func (f *Form) tell(text string) *boundOut {
	n := len(f.outs)
	d := &boundOut{}
	if f.known != nil && n < len(f.known.outs) {
		d.Out = f.known.outs[n]
	} else {
		d.Out = f.readOut(text)
	}
	d.Applies = f.when(d.when)
	f.outs = append(f.outs, d)
	return d
}

// when makes the condition of a line "if FIELD VALUE VALUE …".
func (f *Form) when(text string) func() bool {
	if text == "" {
		return nil
	}
	words := strings.Fields(text)
	return func() bool {
		d := f.field(words[1])
		is := false
		for _, w := range words[2:] {
			is = is || d.getText() == w
		}
		return is == (words[0] == "if")
	}
}

// eachLine calls fn with the first word and the rest of every line after the
// first; it returns the name and label of the first.
func eachLine(text string, fn func(word, rest string)) (name, label string) {
	for first := true; text != ""; first = false {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		line = strings.TrimSpace(line)
		if first {
			name, label, _ = strings.Cut(line, ": ")
			continue
		}
		word, rest, _ := strings.Cut(line, " ")
		fn(word, rest)
	}
	return name, label
}

func (f *Form) readField(text string) Field {
	d := Field{}
	d.Name, d.Label = eachLine(text, func(word, rest string) {
		head, tail, _ := strings.Cut(rest, ": ")
		switch word {
		case "group":
			d.Group = rest
		case "is":
			d.Default = rest
		case "help":
			d.Help = rest
		case "keys":
			d.Keys, d.InchKey = readKeys(rest)
		case "usual":
			low, high, _ := strings.Cut(rest, " to ")
			d.Usual = [2]string{low, high}
		case "min", "above":
			d.Limits = append(d.Limits, Limit{Min: head, Open: word == "above", Reason: tail})
		case "max", "below":
			d.Limits = append(d.Limits, Limit{Max: head, Open: word == "below", Reason: tail})
		case "option":
			d.Options = append(d.Options, Option{head, tail})
		case "if", "unless":
			d.when = word + " " + rest
		case "card":
			d.Card = rest
		case "mark":
			d.Mark = rest
		case "ranges":
			d.Ranges = true
		case "advanced":
			d.Advanced = true
		case "ordered":
			d.Ordered = true
		default:
			f.fault("a field's line " + quote(word+" "+rest) + " is not known")
		}
	})
	return d
}

func readKeys(text string) (keys []string, inch string) {
	switch text {
	case "length":
		text = "mm µm thou tenths; thou"
	case "small":
		text = "µm mm thou tenths; thou"
	}
	head, inch, _ := strings.Cut(text, "; ")
	return strings.Fields(head), inch
}

func (f *Form) readOut(text string) Out {
	d := Out{}
	d.Name, d.Label = eachLine(text, func(word, rest string) {
		switch word {
		case "help":
			d.Help = rest
		case "main":
			d.Main = true
		case "given":
			d.Given = true
		case "rises":
			d.Rises = strings.Fields(rest)
		case "falls":
			d.Falls = strings.Fields(rest)
		case "unit":
			d.Unit, d.Decimals = f.printed(rest)
		case "inch":
			d.InchUnit, d.InchDecimals = f.printed(rest)
		case "digits":
			_, d.Decimals = f.printed(" " + rest)
		case "word":
			value, label, _ := strings.Cut(rest, ": ")
			d.Words = append(d.Words, Option{value, label})
		case "if", "unless":
			d.when = word + " " + rest
		default:
			f.fault("an answer's line " + quote(word+" "+rest) + " is not known")
		}
	})
	return d
}

// printed reads "µm 1"; the unit of a plain number is empty.
func (f *Form) printed(text string) (symbol string, decimals int) {
	symbol, digits, _ := strings.Cut(text, " ")
	n, err := strconv.Atoi(digits)
	if err != nil {
		f.fault("a printed form is a unit and its decimals, not " + quote(text))
	}
	return symbol, n
}
