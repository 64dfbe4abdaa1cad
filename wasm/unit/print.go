package unit

import (
	"math"
	"strconv"
	"strings"
)

// Style is a printed form: the unit, and how many decimals. Trim drops zeros
// at the end.
type Style struct {
	Unit     string
	Decimals int
	Trim     bool
}

// Fixed rounds to 12 significant digits first and then half away from zero to
// the given decimals, on the decimal digits themselves, so that 0.05 + 0.0045
// prints 0.055 at three decimals on every machine. Not a number prints "–",
// infinities "∞".
func Fixed(v float64, decimals int) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 1):
		return "∞"
	case math.IsInf(v, -1):
		return "-∞"
	}
	var space [40]byte
	text := strconv.AppendFloat(space[:0], math.Abs(v), 'e', 11, 64) // d.ddddddddddde±xx
	exp := 0
	for _, c := range text[15:] {
		exp = exp*10 + int(c-'0')
	}
	if text[14] == '-' {
		exp = -exp
	}
	digits := append(text[:1], text[2:13]...) // 12 digits, the point after the first
	// Digits before the point: exp+1. Keep exp+1+decimals of them.
	keep := exp + 1 + decimals
	switch {
	case keep < 0:
		digits = digits[:0]
	case keep < len(digits):
		up := digits[keep] >= '5'
		digits = digits[:keep]
		if up {
			digits = increment(digits)
			if len(digits) > keep {
				exp++
			}
		}
	}
	out := make([]byte, 0, 24)
	if v < 0 {
		out = append(out, '-')
	}
	zero := true
	for place := max(exp, 0); place >= -decimals; place-- {
		if place == -1 {
			out = append(out, '.')
		}
		c := byte('0')
		if at := exp - place; at >= 0 && at < len(digits) {
			c = digits[at]
		}
		zero = zero && c == '0'
		out = append(out, c)
	}
	if zero && v < 0 {
		out = out[1:]
	}
	return string(out)
}

// increment adds one to a string of digits; it may grow by one digit.
func increment(digits []byte) []byte {
	for i := len(digits) - 1; i >= 0; i-- {
		if digits[i] != '9' {
			digits[i]++
			return digits
		}
		digits[i] = '0'
	}
	return append([]byte{'1'}, digits...)
}

// Number prints a number that is already in the style's unit.
func Number(v float64, st Style) string {
	text := Fixed(v, st.Decimals)
	if st.Trim && strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// In is a base value as a number in a unit; not a number for a unit the kind
// does not have.
func In(k Kind, v float64, name string) float64 {
	if u, ok := k.find(name); ok {
		return u.from(v)
	}
	if name == "" && k.Base() == "" {
		return v
	}
	return math.NaN()
}

// Print is a base value with its unit.
func Print(k Kind, v float64, st Style) string {
	return withUnit(Number(In(k, v, st.Unit), st), st.Unit)
}

func withUnit(number, symbol string) string {
	switch symbol {
	case "":
		return number
	case "°", "′", "″":
		return number + symbol
	}
	return number + " " + symbol
}

// PrintRange prints "0.054 mm (0.052 to 0.056)"; a point prints as Print. For a
// unit that turns round, such as a resistivity, the ends change places.
func PrintRange(k Kind, r Range, st Style) string {
	likely := Print(k, r.Likely, st)
	if r.IsPoint() {
		return likely
	}
	low, high := In(k, r.Low, st.Unit), In(k, r.High, st.Unit)
	if low > high {
		low, high = high, low
	}
	a, b := Number(low, st), Number(high, st)
	if a == b {
		return likely
	}
	return likely + " (" + a + " to " + b + ")"
}

// Echo says what was understood, in both systems: "3 thou = 0.0762 mm",
// "2 to 6 µm = 0.08 to 0.24 thou".
func Echo(rd Reading, k Kind) string {
	out := []string{rd.Text}
	styles := others(rd, k)
	on := rd.On
	if on == nil {
		on = &Printed{}
	}
	if on.Class != "" { // its limits in its own unit first
		styles = append([]Style{{rd.Unit, 4, true}}, styles...)
	}
	for _, st := range styles {
		lo, hi := In(k, rd.Range.Low, st.Unit), In(k, rd.Range.High, st.Unit)
		if lo > hi {
			lo, hi = hi, lo
		}
		text := Number(lo, st)
		if !rd.Range.IsPoint() {
			text += " to " + Number(hi, st)
		}
		text = withUnit(text, st.Unit)
		if on.Class == "" && on.Turned() {
			text = "Ra " + text
		}
		out = append(out, text)
	}
	return strings.Join(out, " = ")
}

// others are the units in which an echo repeats a reading.
func others(rd Reading, k Kind) []Style {
	size := math.Max(math.Abs(rd.Range.Low), math.Abs(rd.Range.High))
	switch k {
	case LengthKind:
		switch rd.Unit {
		case "mm", "cm", "m":
			if size < 25.4 {
				return []Style{{"thou", 2, true}}
			}
			return []Style{{"in", 4, true}}
		case "µm", "nm":
			return []Style{{"thou", 2 + small(size), true}}
		}
		if size < 0.0508 {
			return []Style{{"µm", 2, true}}
		}
		return []Style{{"mm", 4, true}}
	case RoughnessKind:
		switch rd.Unit {
		case "µm", "nm":
			return []Style{{"µin", 1, true}}
		case "µin":
			return []Style{{"µm", 4, true}}
		}
		return []Style{{"µm", 3, true}, {"µin", 1, true}}
	case ConductivityKind:
		if u, _ := k.find(rd.Unit); u.invert {
			return []Style{{"µS/cm", 3, true}}
		}
		if size > 0 && size < 1.5 {
			return []Style{{"MΩ·cm", 3, true}}
		}
		return []Style{{"kΩ·cm", 2, true}}
	case TimeKind: // nobody reads fourteen hours in seconds
		return nil
	}
	f := k.face()
	if f.inch != "" {
		if rd.Unit == f.inch {
			return []Style{k.Style(Metric)}
		}
		return []Style{k.Style(Inch)}
	}
	if rd.Unit != f.base {
		return []Style{{f.base, 6, true}}
	}
	return nil
}

// small gives one more decimal below a micrometre.
func small(mm float64) int {
	if mm < 0.001 {
		return 1
	}
	return 0
}
