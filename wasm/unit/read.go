package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Options says how a text is to be read.
type Options struct {
	_       [0]func() // never compared, so no code for comparing is made
	Unit    string    // unit of a bare number; "" refuses one
	Ranges  bool      // ranges and tolerances are allowed
	OnPrint OnPrint   // the text may stand as on a print; nil: it may not
}

// Reading is what was understood.
type Reading struct {
	Range Range    // base unit
	Text  string   // the text in canonical spelling, always with its unit
	Unit  string   // canonical symbol; "N" and "VDI" for roughness grades
	Bare  bool     // no unit was typed
	Notes []string // what the reader should know about the spelling
	On    *Printed // what a print has around the number
}

// Error is a text that cannot be read: what was wrong, where, and what would
// be right.
type Error struct {
	Text    string
	At, Len int // bytes in Text
	What    string
	Want    string
}

func (e *Error) Error() string {
	if e.Want == "" {
		return e.What
	}
	return e.What + "; " + e.Want
}

func wrong(text string, at, n int, what, want string) *Error {
	return &Error{Text: text, At: min(at, len(text)), Len: max(0, min(n, len(text)-at)), What: what, Want: want}
}

// maxText is the longest text read; nobody types more into a field.
const maxText = 200

// Read reads one quantity: "3 thou", ".0008\"", "1/64 in", "2 to 6 µm", "0.06
// ±0.01 mm", "N5". A bare number takes o.Unit. The likely value of a plain range
// is its middle. Errors are *Error.
func Read(text string, k Kind, o Options) (Reading, error) {
	if len(text) > maxText {
		return Reading{}, wrong(text, maxText, len(text)-maxText, "this is longer than any value", "write a number and its unit")
	}
	p := &parser{text: text, kind: k, o: o}
	p.fold()
	if p.s == "" {
		return Reading{}, wrong(text, 0, 0, "nothing is written here", p.example())
	}
	if err := p.undress(); err != nil {
		return Reading{}, err
	}
	err := p.read()
	if err == nil {
		err = p.dress(&p.rd)
	}
	if err != nil {
		return Reading{}, err
	}
	rd := p.rd
	for _, v := range []float64{rd.Range.Low, rd.Range.Likely, rd.Range.High} {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e15 {
			return Reading{}, wrong(text, 0, len(text), "“"+p.s+"” is too large to be a "+k.String(), p.example())
		}
	}
	return rd, nil
}

// ReadList reads several quantities: "0.05, 0.1, 0.15 mm". An item without a
// unit takes the unit of the next item that has one.
func ReadList(text string, k Kind, o Options) ([]Reading, error) {
	if len(text) > 20*maxText {
		return nil, wrong(text, 0, len(text), "this list is too long", "write a few values")
	}
	items := splitList(text)
	var out []Reading
	unit := o.Unit
	for i := len(items) - 1; i >= 0; i-- {
		rd, err := Read(items[i].text, k, Options{Unit: unit})
		if err != nil {
			if e, ok := err.(*Error); ok {
				e.Text, e.At = text, e.At+items[i].at
			}
			return nil, err
		}
		unit = rd.Unit
		out = append([]Reading{rd}, out...)
	}
	if len(out) == 0 {
		return nil, wrong(text, 0, len(text), "the list is empty", "write values with a unit, for example 0.1, 0.15 mm")
	}
	return out, nil
}

type item struct {
	text string
	at   int
}

// splitList cuts at semicolons, at commas before a space, and at spaces between
// numbers.
func splitList(text string) []item {
	var out []item
	start := 0
	cut := func(end, next int) {
		if s := strings.TrimSpace(text[start:end]); s != "" {
			out = append(out, item{s, start + strings.Index(text[start:end], s)})
		}
		start = next
	}
	for i := 0; i < len(text); i++ {
		switch {
		case text[i] == ';', text[i] == ',' && i+1 < len(text) && text[i+1] == ' ':
			cut(i, i+1)
		case text[i] == ' ' && i > 0 && isDigit(text[i-1]) && i+1 < len(text) && (isDigit(text[i+1]) || text[i+1] == '.'):
			cut(i, i+1)
		}
	}
	cut(len(text), len(text))
	return out
}

// Rekey gives a text with another unit for the same digits: "3 mm" with thou is
// "3 thou". With print, what stands on a print beside the digits stays.
func Rekey(text string, k Kind, unit string, print OnPrint) (string, error) {
	u, ok := k.find(unit)
	if !ok {
		return "", wrong(text, 0, len(text), "“"+unit+"” is not a unit of "+k.String(), "units are "+strings.Join(k.Units(), ", "))
	}
	p := &parser{text: text, kind: k, o: Options{Ranges: true, Unit: u.symbol, OnPrint: print}}
	p.fold()
	if err := p.undress(); err != nil {
		return "", err
	}
	var out strings.Builder
	for _, w := range p.words() {
		if w.unit {
			continue
		}
		out.WriteString(w.text)
	}
	digits := strings.TrimSpace(out.String())
	if digits == "" {
		return "", wrong(text, 0, len(text), "there is no number to give the unit "+unit, p.example())
	}
	rd, err := Read(p.dressed(withUnit(digits, u.symbol)), k, Options{Ranges: true, OnPrint: print})
	if err != nil {
		return "", err
	}
	return rd.Text, nil
}

// Suggest says "did you mean 3 thou?" when a reading lies more than ten times
// outside the usual span and one of the units brings the same digits inside.
func Suggest(rd Reading, k Kind, low, high float64, units []string, print OnPrint) (string, bool) {
	v := math.Abs(rd.Range.Likely)
	if v == 0 || v <= high*10 && v >= low/10 {
		return "", false
	}
	for _, u := range units {
		if u == rd.Unit {
			continue
		}
		other, err := Rekey(rd.Text, k, u, print)
		if err != nil {
			continue
		}
		r2, err := Read(other, k, Options{Ranges: true, OnPrint: print})
		if err == nil && math.Abs(r2.Range.Likely) <= high && math.Abs(r2.Range.Likely) >= low {
			return "far outside the usual span: did you mean " + r2.Text + "?", true
		}
	}
	st := k.Style(Metric)
	return "far outside the usual span of " + Number(In(k, low, st.Unit), st) + " to " + Print(k, high, st) + "; is the unit right?", true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// parser reads one text.
type parser struct {
	text  string // as typed
	s     string // folded: plain spaces, plain minus, one micro sign; without what a print has around it
	kind  Kind
	o     Options
	units []symbol // of the kind, taken from the table once

	whole string // folded, with everything around
	off   int    // where s stands in it
	on    Printed
	rd    Reading // what was understood
}

// fold makes one spelling of the many that keyboards give.
func (p *parser) fold() {
	p.units = p.kind.symbols()
	var b strings.Builder
	for _, r := range p.text {
		switch {
		case r == 'μ':
			b.WriteRune('µ')
		case r == '−' || r == '‐' || r == '‑':
			b.WriteByte('-')
		case r == '“' || r == '”' || r == '″':
			b.WriteByte('"')
		case r == '’' || r == '′' || r == '‘':
			b.WriteByte('\'')
		case r == '\u2126':
			b.WriteRune('Ω')
		case r == '⋅' || r == '•':
			b.WriteRune('·')
		case unicode.IsSpace(r) || r == '\u2009' || r == '\u202f' || r == '\u00a0':
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	p.s = strings.Join(strings.Fields(b.String()), " ")
	p.whole = p.s
}

// example is what would be right here.
func (p *parser) example() string {
	switch p.kind {
	case LengthKind:
		return "write a number and mm, µm, thou, tenths or in, for example 3 thou"
	case RoughnessKind:
		return "write a number and µm or µin, or a grade such as N5 or VDI 24"
	case CountKind:
		return "write a whole number"
	case RatioKind, MoneyKind:
		return "write a number"
	}
	return "write a number and one of " + strings.Join(p.kind.Units(), ", ")
}

func (p *parser) fail(at, n int, what string) *Error {
	// Folding changes lengths only for rare characters; the place is the typed
	// text's when both are the same there.
	if p.whole != p.text {
		at, n = -p.off, len(p.text)
	}
	return wrong(p.text, p.off+at, n, what, p.example())
}

func number(text string) (float64, bool) {
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsInf(v, 0)
}
