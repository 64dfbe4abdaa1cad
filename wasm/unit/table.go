package unit

import "strings"

// symbol is one unit: its canonical symbol, other spellings, and how a number
// in it becomes one in the base unit: v*num/den, plus add. Two whole numbers
// instead of one factor keep 3 thou the double nearest to 0.0762. Every entry is
// constant, spellings too, so that the tables are data and not code.
type symbol struct {
	_             [0]func() // never compared, so no code for comparing is made
	symbol        string
	also          string // other spellings, between bars
	num, den, add float64
	invert        bool // the base is num divided by the number: a resistivity
	note          string
}

// face is how a kind is named and printed. It is asked for at every number, so
// it stands apart from the units, whose table is made anew at each look.
type face struct {
	name, base string
	digits     int
	inch       string // unit of print in inches; "" prints the base unit there too
	inchDigits int
}

// Style is the default printed form for a reader's system.
func (k Kind) Style(s System) Style {
	f := k.face()
	if s == Inch && f.inch != "" {
		return Style{f.inch, f.inchDigits, true}
	}
	return Style{f.base, f.digits, true}
}

// find looks a unit up by symbol or other spelling. The lengths that are looked
// up most are answered without their table.
func (k Kind) find(name string) (symbol, bool) {
	if k == LengthKind {
		switch name {
		case "mm":
			return symbol{symbol: "mm", num: 1, den: 1}, true
		case "µm":
			return symbol{symbol: "µm", num: 1, den: 1000}, true
		case "thou":
			return symbol{symbol: "thou", num: 254, den: 10000}, true
		}
	}
	if f := k.face(); name == f.base {
		return symbol{symbol: name, num: 1, den: 1}, true
	}
	for _, u := range k.symbols() {
		if u.symbol == name || spelled(u.also, name) {
			return u, true
		}
	}
	return symbol{}, false
}

// spelled looks for one name between the bars.
func spelled(also, name string) bool {
	if name == "" {
		return false
	}
	for also != "" {
		one, rest, _ := strings.Cut(also, "|")
		if one == name {
			return true
		}
		also = rest
	}
	return false
}

// base turns a number in this unit into the base unit.
func (u symbol) base(v float64) float64 {
	if u.invert {
		return u.num / v
	}
	if u.den == 1 && u.num == 1 && u.add == 0 {
		return v
	}
	return v*u.num/u.den + u.add
}

// from turns a base value into a number in this unit.
func (u symbol) from(v float64) float64 {
	if u.invert {
		return u.num / v
	}
	if u.den == 1 && u.num == 1 && u.add == 0 {
		return v
	}
	return (v - u.add) * u.den / u.num
}
