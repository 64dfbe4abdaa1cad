package unit

import "strings"

// OnPrint lets a text stand as on a print: R or ⌀ beside a length, max or min, a
// tolerance class, and Rz, Rt or Rq where Ra is meant. What the tables say of them is
// asked for here, since this package holds none.
type OnPrint interface {
	// Class gives the limits of a tolerance class for a size, in mm from the size: "H7",
	// 40. A class that is not held comes back as a fault in words.
	Class(name string, size float64) (low, high float64, fault string)
	// Ratio is how many times Ra a figure is, "Rz"; zero where no table says it.
	Ratio(figure string) Range
}

// Printed is what a print has around a number.
type Printed struct {
	_      [0]func() // never compared, so no code for comparing is made
	Sign   string    // "R", "⌀"
	Limit  string    // "max", "min"
	Class  string    // "H7"
	Figure string    // "Rz", "Rt", "Rq", from which the Ra was made; "Ra"
}

// Turned reports whether the range read is not the number typed: the limits of a class,
// the Ra of an Rz. The last note of the reading says how.
func (d *Printed) Turned() bool { return d.Class != "" || d.Figure != "" && d.Figure != "Ra" }

// around are the words that may stand before or behind a number, each with what it
// says, for lengths from the start and for roughness from the bar.
const around = "⌀=⌀ ø=⌀ Ø=⌀ ∅=⌀ dia.=⌀ dia=⌀ r=R |maximum=max max.=max max=max ≤=max <==max minimum=min min.=min min=min ≥=min >==min ra=Ra rz=Rz rt=Rt rq=Rq u=U l=L"

// undress takes what a print has around a number off it.
func (p *parser) undress() *Error {
	words, rough, _ := strings.Cut(around, "|")
	switch {
	case p.o.OnPrint == nil:
		return nil
	case p.kind == LengthKind:
		words += rough[:strings.Index(rough, " ra=")]
	case p.kind == RoughnessKind:
		words = rough
	default:
		return nil
	}
	for rest := words; rest != ""; {
		var one string
		one, rest, _ = strings.Cut(rest, " ")
		cut := strings.LastIndexByte(one, '=')
		if !p.strip(one[:cut]) {
			continue
		}
		at, what := &p.on.Limit, one[cut+1:]
		switch {
		case what == "R" || what == "⌀":
			at = &p.on.Sign
		case what == "L" || what == "min" && p.kind == RoughnessKind:
			return p.all("this is a lower limit of roughness; here the largest value that the print allows is wanted")
		case what[0] == 'R':
			at = &p.on.Figure
		}
		if *at != "" {
			return p.all("“" + *at + "” and “" + what + "” do not stand together")
		}
		if what != "U" { // the mark of an upper limit
			*at = what
		}
		rest = words
	}
	if p.s == "" {
		return p.all("there is no number in “" + p.whole + "”")
	}
	if p.kind == LengthKind {
		return p.ofClass()
	}
	return nil
}

// all is a fault of the whole text.
func (p *parser) all(what string) *Error { return p.fail(-p.off, len(p.whole), what) }

// strip takes a word off the start or the end, where it is not part of a longer one.
func (p *parser) strip(word string) bool {
	text := turned(p.s, 'A')
	if rest, ok := strings.CutPrefix(text, word); ok && (rest == "" || !letter(word) || !letter(rest[:1])) {
		rest = strings.TrimPrefix(rest, " ")
		at := len(text) - len(rest)
		p.s, p.off = p.s[at:], p.off+at
		return true
	}
	if rest, ok := strings.CutSuffix(text, word); ok && rest != "" && letter(word[:1]) && !letter(rest) && word != "u" && word != "l" {
		p.s = strings.TrimSuffix(p.s[:len(rest)], " ")
		return true
	}
	return false
}

// ofClass takes a tolerance class off a length: a letter or two and one digit or two, as
// in "40 H7", "40H7", "40 mm H7", "40 H7 mm".
func (p *parser) ofClass() *Error {
	head, tail := p.s, ""
	last := strings.LastIndexByte(head, ' ') + 1
	if _, unit := p.kind.find(head[last:]); unit && last > 0 {
		head, tail = head[:last-1], head[last-1:]
		last = strings.LastIndexByte(head, ' ') + 1
	}
	digits := strings.TrimRight(head, "0123456789")
	at := len(digits)
	for at > last && letter(head[:at]) {
		at--
	}
	name := head[at:]
	two := strings.Contains("cd ef fg js za zb zc", turned(digits[at:], 'A'))
	switch {
	case at == 0 || at == len(digits) || len(digits)-at > 2 || len(digits)-at == 2 && !two || len(head) == len(digits) || len(head)-len(digits) > 2:
		return nil
	case head[at-1] == '/':
		return p.fail(last, len(head)-last, "a fit has two classes, of the hole and of the shaft; write that of the part that is cut, as in 40 H7")
	case at > last && numberLength(head[last:at]) != at-last:
		return nil
	case at > last && name[0] == 'e':
		return p.fail(last, len(head)-last, "“"+head[last:]+"” can also be a power of ten; put a space before the class, as in 40 e7")
	}
	p.on.Class = name
	p.s = strings.TrimSuffix(head[:at], " ") + tail
	return nil
}

// dress puts the meaning of what stood around the number into its reading.
func (p *parser) dress(rd *Reading) error {
	on, r := &p.on, &rd.Range
	note, fault := "", ""
	switch {
	case on.Limit+on.Class != "" && !r.IsPoint(), on.Limit != "" && on.Class != "":
		fault = "“" + strings.TrimSpace(on.Class+" "+on.Limit) + "” does not go with a tolerance, a range or another limit"
	case on.Class != "" && !p.o.Ranges:
		fault = "one value is wanted here, without a tolerance"
	case on.Class != "":
		var low, high float64
		low, high, fault = p.o.OnPrint.Class(on.Class, r.Likely)
		*r = about(r.Likely, decimal(r.Likely+low), decimal(r.Likely+high))
		note = "the limits are those of ISO 286-1, from memory, place not seen"
	case on.Turned():
		n := p.o.OnPrint.Ratio(on.Figure)
		if n.Low == 0 || rd.Unit == "N" || rd.Unit == "VDI" {
			fault = "a number in µm or µin is wanted after " + on.Figure
			break
		}
		*r = Range{decimal(r.Low / n.High), decimal(r.Likely / n.Likely), decimal(r.High / n.Low)}
		note = "by the table of ratios, common practice; no standard turns one into the other"
		if !p.o.Ranges {
			*r = Exactly(r.Low)
			note = "the smallest Ra by the table of ratios, common practice: it holds the print in any case"
		}
		rd.Unit = on.Figure
	case on.Limit == "max":
		note = "at most: worked with this value itself"
	case on.Limit != "":
		note = "at least: worked with this value itself"
	}
	if fault != "" {
		return p.all(fault)
	}
	if note != "" {
		rd.Notes = append(rd.Notes, note)
	}
	rd.Text, rd.On = p.dressed(rd.Text), on
	return nil
}

// dressed writes a number with what belongs to it. R, ⌀ and Ra say what the field says
// already.
func (p *parser) dressed(text string) string {
	if p.on.Figure != "Ra" {
		text = p.on.Figure + " " + text
	}
	return strings.TrimSpace(strings.TrimSpace(text+" "+p.on.Class) + " " + p.on.Limit)
}
