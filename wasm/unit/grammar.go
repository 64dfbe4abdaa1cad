package unit

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/spell"
)

// single is one number with the unit that stands at it, if any.
type single struct {
	v      float64
	text   string // digits as typed, in canonical spelling
	unit   symbol
	has    bool
	at, to int // bytes in the folded text
}

// read reads the whole text: a grade, one value, a range, or a tolerance.
func (p *parser) read() error {
	if p.kind == RoughnessKind {
		if ok, err := p.grade(); ok || err != nil {
			return err
		}
	}
	g := &grammar{parser: p, words: p.words()}
	first, err := g.single()
	if err != nil {
		return err
	}
	g.space()
	if g.end() {
		return g.point(first)
	}
	at := g.here()
	if g.take("±") || g.take("+/-") || g.take("+-") {
		return g.tolerance(first, at)
	}
	if up, down, ok := g.deviations(); ok {
		return g.limits(first, up, down, at, "")
	}
	switch {
	case g.peek("+"):
		return g.fail(at, len(g.s)-at, asTolerance)
	case g.take("("):
		return g.bracket(first, at)
	case g.separator():
		return g.span(first, at, false)
	case g.kind == LengthKind && g.take("/"):
		return g.span(first, at, true)
	}
	return g.unexpected()
}

// grammar walks the words.
type grammar struct {
	*parser
	words []word
	i     int
	apart bool // "/" parts two deviations, unless it is a plain fraction
}

const asTolerance = "a tolerance is written ±0.01, +0.01/-0 or -0.01/-0.02"

func (g *grammar) end() bool { return g.i >= len(g.words) }

func (g *grammar) here() int {
	if g.end() {
		return len(g.s)
	}
	return g.words[g.i].at
}

func (g *grammar) space() {
	for !g.end() && g.words[g.i].text == " " {
		g.i++
	}
}

// peek looks whether the coming words spell text.
func (g *grammar) peek(text string) bool {
	return strings.HasPrefix(g.s[g.here():], text)
}

func (g *grammar) take(text string) bool {
	if !g.peek(text) {
		return false
	}
	to := g.here() + len(text)
	for !g.end() && g.words[g.i].at < to {
		g.i++
	}
	g.space()
	return true
}

// separator takes a range mark.
func (g *grammar) separator() bool {
	for _, mark := range []string{"to ", "...", "..", "…", "–", "—", "-"} {
		if g.take(mark) {
			return true
		}
	}
	return false
}

// single reads a sign, a number or fraction, and its unit; for angles and times
// also several parts, 1°30' or 2 h 30 min.
func (g *grammar) single() (single, error) {
	g.space()
	s := single{at: g.here()}
	sign := 1.0
	if g.take("-") {
		sign, s.text = -1, "-"
	} else if g.take("+") {
		sign = 1
	}
	if g.end() || !g.words[g.i].number {
		return s, g.noNumber()
	}
	v, text, err := g.value(g.words[g.i])
	if err != nil {
		return s, err
	}
	g.i++
	s.v, s.text = v, s.text+text
	if err := g.fraction(&s); err != nil {
		return s, err
	}
	s.v *= sign
	g.unitOf(&s)
	if s.has && (g.kind == AngleKind || g.kind == TimeKind) {
		if err := g.compound(&s, sign); err != nil {
			return s, err
		}
	}
	s.to = g.here()
	return s, nil
}

// fraction reads "/64" after a whole number, "1 1/2" and "1-1/2".
func (g *grammar) fraction(s *single) *Error {
	save := g.i
	whole := 0.0
	num := s.v
	text := s.text
	dash := !g.end() && g.words[g.i].text == "-"
	if !g.end() && (dash || g.words[g.i].text == " ") && g.i+2 < len(g.words) && g.words[g.i+1].number && g.words[g.i+2].text == "/" {
		v, t, err := g.value(g.words[g.i+1])
		if err != nil {
			return err
		}
		whole, num, text = s.v, v, s.text+" "+t
		g.i += 2
	}
	if g.end() || g.words[g.i].text != "/" || g.i+1 >= len(g.words) || !g.words[g.i+1].number {
		g.i = save
		return nil
	}
	den, t, err := g.value(g.words[g.i+1])
	if err != nil {
		return err
	}
	plain := den != 0 && num == math.Trunc(num) && den == math.Trunc(den) && whole == math.Trunc(whole)
	// 1-1/2 is no range, which would run downwards; 1-3/2 is one, and so is 1/8-1/4.
	if dash && !(plain && whole >= 1 && num < den) {
		g.i = save
		return nil
	}
	if !plain && (g.apart || g.kind == LengthKind && whole == 0 && den != 0) {
		g.i = save // two deviations, or two limits of a size
		return nil
	}
	if !plain {
		return g.fail(s.at, g.words[g.i+1].at+len(t)-s.at, "“"+text+"/"+t+"” is not a fraction of whole numbers")
	}
	g.i += 2
	s.v, s.text = whole+num/den, text+"/"+t
	return nil
}

// unitOf takes the unit that follows, with or without a space.
func (g *grammar) unitOf(s *single) {
	save := g.i
	g.space()
	if !g.end() && g.words[g.i].unit {
		s.unit, s.has = g.words[g.i].symbol, true
		g.i++
		return
	}
	g.i = save
}

// compound adds smaller parts: each unit smaller than the one before.
func (g *grammar) compound(s *single, sign float64) *Error {
	total := s.unit.base(s.v)
	text := withUnit(s.text, s.unit.symbol)
	last := s.unit
	parts := 1
	for {
		save := g.i
		g.space()
		if g.end() || !g.words[g.i].number {
			g.i = save
			break
		}
		v, t, err := g.value(g.words[g.i])
		if err != nil {
			return err
		}
		part := single{}
		at := g.words[g.i].at
		g.i++
		g.unitOf(&part)
		if !part.has {
			g.i = save
			break
		}
		if part.unit.base(1) >= last.base(1) || v*part.unit.base(1) >= last.base(1) {
			return g.fail(at, len(t), "“"+t+" "+part.unit.symbol+"” does not belong after "+last.symbol)
		}
		total += sign * part.unit.base(v)
		gap := " "
		if g.kind == AngleKind {
			gap = ""
		}
		text += gap + withUnit(t, part.unit.symbol)
		last = part.unit
		parts++
	}
	if parts > 1 {
		base, _ := g.kind.find(g.kind.Base())
		s.v, s.text, s.unit = total, text, symbol{num: base.num, den: base.den}
	}
	return nil
}

func (g *grammar) noNumber() *Error {
	at := g.here()
	if g.end() {
		return g.fail(at, 0, "a number is missing at the end of “"+g.s+"”")
	}
	return g.fail(at, len(g.s)-at, "“"+g.s[at:]+"” does not start with a number")
}

// unexpected explains what stands where a unit or nothing should.
func (g *grammar) unexpected() *Error {
	at := g.here()
	rest := g.s[at:]
	first := strings.FieldsFunc(rest, func(r rune) bool { return r == ' ' })[0]
	if g.kind == LengthKind && strings.HasPrefix(rest, "'") {
		return g.fail(at, 1, "“'” would be feet, which no wire is measured in")
	}
	for k := LengthKind; k <= lastKind; k++ {
		if k == g.kind {
			continue
		}
		if u, ok := k.find(first); ok && u.symbol != "" {
			return g.fail(at, len(first), "“"+first+"” measures "+k.String()+", a "+g.kind.String()+" is wanted")
		}
	}
	if _, ok := g.kind.find(first); ok {
		return g.fail(at, len(first), "“"+first+"” is a second unit where one is enough")
	}
	what := "“" + first + "” is not a unit of " + g.kind.String()
	if near := g.nearest(first); near != "" {
		what += ", perhaps “" + near + "”"
	}
	if g.i > 0 && g.words[g.i].number {
		what = "“" + first + "” is a second number where one was wanted"
	}
	return g.fail(at, len(first), what)
}

// nearest finds a unit one slip of the fingers away.
func (g *grammar) nearest(name string) string {
	for _, u := range g.kind.symbols() {
		for spelled, rest := u.symbol, u.also; spelled != ""; spelled, rest, _ = strings.Cut(rest, "|") {
			if upper(spelled) == upper(name) || len(name) > 1 && len(spelled) > 1 && spell.Slips(spelled, name) == 1 {
				return u.symbol
			}
		}
	}
	return ""
}

// unit settles which unit a number has.
func (g *grammar) settle(s *single, other *single) (bool, error) {
	if s.has {
		return false, nil
	}
	if other != nil && other.has {
		s.unit, s.has = other.unit, true
		return false, nil
	}
	if g.o.Unit == "" && g.kind.Base() != "" {
		return false, g.fail(s.at, s.to-s.at, "“"+s.text+"” has no unit")
	}
	u, ok := g.kind.find(g.o.Unit)
	if !ok {
		u, ok = g.kind.find(g.kind.Base())
	}
	if !ok {
		return false, g.fail(s.at, s.to-s.at, "“"+g.o.Unit+"” is not a unit of "+g.kind.String())
	}
	s.unit, s.has = u, true
	return true, nil
}

func (g *grammar) notes(list ...single) []string {
	var out []string
	for _, s := range list {
		if s.unit.note != "" && !slices.Contains(out, s.unit.note) {
			out = append(out, s.unit.note)
		}
	}
	return out
}

func (g *grammar) point(s single) error {
	bare, err := g.settle(&s, nil)
	if err != nil {
		return err
	}
	v := s.unit.base(s.v)
	if g.kind == CountKind && v != math.Trunc(v) {
		return g.fail(s.at, s.to-s.at, "“"+s.text+"” is not a whole number")
	}
	if s.unit.invert && s.v <= 0 {
		return g.fail(s.at, s.to-s.at, "a resistivity is more than zero")
	}
	g.rd = Reading{Range: Exactly(v), Text: withUnit(s.text, s.unit.symbol), Unit: symbolOf(s.unit, g.kind), Bare: bare, Notes: g.notes(s)}
	return nil
}

func symbolOf(u symbol, k Kind) string {
	if u.symbol == "" && k != MoneyKind && k != RatioKind && k != CountKind {
		return k.Base()
	}
	return u.symbol
}

// span reads the second end of a range, or the second limit of a size: "39.99/40.01",
// either of them first.
func (g *grammar) span(a single, at int, size bool) error {
	if !g.o.Ranges {
		return g.fail(at, len(g.s)-at, "one value is wanted here, not a range")
	}
	b, err := g.single()
	if err != nil {
		return err
	}
	g.space()
	if !g.end() {
		return g.unexpected()
	}
	bare, err := g.ends(&a, &b)
	if err != nil {
		return err
	}
	lo, hi := a.unit.base(a.v), b.unit.base(b.v)
	if size && lo > hi {
		a, b, lo, hi = b, a, hi, lo
	}
	if size && hi > 2*lo {
		return g.fail(0, len(g.s), "“"+g.s+"” is neither a fraction of whole numbers nor two limits of a size, as 39.99/40.01 is")
	}
	text := a.text + " to " + withUnit(b.text, b.unit.symbol)
	if a.unit.symbol != b.unit.symbol || a.unit.symbol == "" && g.kind.Base() != "" {
		text = withUnit(a.text, a.unit.symbol) + " to " + withUnit(b.text, b.unit.symbol)
	}
	if a.unit.invert {
		lo, hi = hi, lo
	}
	if lo > hi || a.unit.invert && (a.v <= 0 || a.v > b.v) {
		return g.fail(0, len(g.s), "the range “"+text+"” runs downwards: the smaller value stands first")
	}
	g.rd = Reading{Range: Range{lo, lo + (hi-lo)/2, hi}, Text: text, Unit: symbolOf(b.unit, g.kind), Bare: bare, Notes: g.notes(a, b)}
	return nil
}

func (g *grammar) ends(a, b *single) (bool, error) {
	if _, err := g.settle(a, b); err != nil {
		return false, err
	}
	bare, err := g.settle(b, a)
	return bare, err
}

// tolerance reads the number after ±.
func (g *grammar) tolerance(a single, at int) error {
	b, err := g.single()
	if err != nil {
		return err
	}
	return g.limits(a, b, b, at, " ±"+b.text)
}

// deviations reads "+0.01/-0", "+0.02 0", "-0.009 -0.025" to the end of the text; what
// is no such pair is left where it stands.
func (g *grammar) deviations() (up, down single, ok bool) {
	save, signs := g.i, 0
	g.apart = true
	for _, s := range []*single{&up, &down} {
		g.space()
		if g.peek("+") || g.peek("-") {
			signs++
		}
		one, err := g.single()
		if ok = err == nil && (one.v == 0 || g.s[one.at] < '0'); !ok {
			break
		}
		*s = one
		if s == &up {
			g.space()
			g.take("/")
		}
	}
	g.space()
	g.apart = false
	if ok = ok && signs > 0 && g.end(); !ok {
		g.i = save
	}
	if up.v < down.v {
		up, down = down, up
	}
	return up, down, ok
}

// limits is a value with its deviations; mark is how they are written, where it is
// not by two signs.
func (g *grammar) limits(a, up, down single, at int, mark string) error {
	if !g.o.Ranges {
		return g.fail(at, len(g.s)-at, "one value is wanted here, without a tolerance")
	}
	g.space()
	if !g.end() {
		return g.unexpected()
	}
	last := down
	if !last.has && up.has {
		last = up
	}
	bare, err := g.ends(&a, &last)
	if err != nil {
		return err
	}
	for _, s := range []*single{&up, &down} {
		if _, err := g.settle(s, &last); err != nil {
			return err
		}
	}
	if a.unit.invert || mark != "" && up.v < 0 {
		return g.fail(at, len(g.s)-at, asTolerance+", on a value that is not a resistivity")
	}
	if mark != "" {
		down.v = -down.v
	}
	text := withUnit(a.text+mark, a.unit.symbol)
	if other := up.unit.symbol != a.unit.symbol || down.unit.symbol != a.unit.symbol; other || mark == "" {
		high, low := sign(up, "+"), sign(down, "-")
		if text = withUnit(a.text+" "+high+"/"+low, a.unit.symbol); other {
			text = withUnit(a.text, a.unit.symbol) + " " + withUnit(high, up.unit.symbol) + "/" + withUnit(low, down.unit.symbol)
		}
	}
	v := a.unit.base(a.v)
	// The sum is taken on the numbers as typed where the unit is one, so that
	// 0.06 + 0.01 mm is the double nearest to 0.07.
	add := func(s single) float64 {
		if s.unit.symbol == a.unit.symbol {
			return a.unit.base(decimal(a.v + s.v))
		}
		return decimal(v + s.unit.base(s.v))
	}
	g.rd = Reading{Range: about(v, add(down), add(up)), Text: text, Unit: symbolOf(a.unit, g.kind), Bare: bare, Notes: g.notes(a, up, down)}
	return nil
}

// sign writes a deviation with its sign; zero takes that of its side.
func sign(s single, zero string) string {
	digits := strings.TrimPrefix(s.text, "-")
	switch {
	case s.v > 0:
		return "+" + digits
	case s.v < 0:
		return "-" + digits
	}
	return zero + digits
}

// about is a size with its limits. The size itself is likely, or the middle where it
// lies outside them.
func about(v, low, high float64) Range {
	if v < low || v > high {
		v = decimal(low + (high-low)/2)
	}
	return Range{low, v, high}
}

// decimal takes the rounding dust off a sum of typed numbers.
func decimal(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 14, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// bracket reads "4 (2 to 6) µm".
func (g *grammar) bracket(likely single, at int) error {
	if !g.o.Ranges {
		return g.fail(at, len(g.s)-at, "one value is wanted here, not a range")
	}
	a, err := g.single()
	if err != nil {
		return err
	}
	g.space()
	if !g.separator() {
		return g.fail(g.here(), 1, "inside the brackets stands “low to high”")
	}
	b, err := g.single()
	if err != nil {
		return err
	}
	g.space()
	if !g.take(")") {
		return g.fail(g.here(), 1, "the bracket is not closed")
	}
	g.unitOf(&b)
	g.space()
	if !g.end() {
		return g.unexpected()
	}
	if !b.has && likely.has {
		b.unit, b.has = likely.unit, true
	}
	bare, err := g.ends(&a, &b)
	if err != nil {
		return err
	}
	if _, err := g.settle(&likely, &b); err != nil {
		return err
	}
	r := Range{a.unit.base(a.v), likely.unit.base(likely.v), b.unit.base(b.v)}
	if a.unit.invert {
		r.Low, r.High = r.High, r.Low
	}
	if !(r.Low <= r.Likely && r.Likely <= r.High) || a.unit.invert && a.v <= 0 {
		return g.fail(0, len(g.s), "the likely value does not lie between the other two, or they run downwards")
	}
	text := withUnit(likely.text+" ("+a.text+" to "+b.text+")", b.unit.symbol)
	if a.unit.symbol != b.unit.symbol || likely.unit.symbol != b.unit.symbol || b.unit.symbol == "" && g.kind.Base() != "" {
		text = withUnit(likely.text, likely.unit.symbol) + " (" + withUnit(a.text, a.unit.symbol) + " to " + withUnit(b.text, b.unit.symbol) + ")"
	}
	g.rd = Reading{Range: r, Text: text, Unit: symbolOf(b.unit, g.kind), Bare: bare, Notes: g.notes(likely, a, b)}
	return nil
}
