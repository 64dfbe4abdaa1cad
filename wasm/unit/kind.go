// Package unit reads and prints quantities in the spellings of the trade:
// lengths, angles, area rates, roughness, conductivity and the rest. A value is
// a float64 in the base unit of its kind; text stands at every border, and all
// rounding of the house is done here. It may import the standard library's text
// and number packages, and spell.
package unit

// System is the reader's system of units.
type System uint8

// The systems.
const (
	Metric System = iota
	Inch
)

// Kind names one kind of quantity. The kinds, their types, names and units are made
// of kinds.txt.
//
//go:generate go run generate.go
type Kind uint8

// Typed is any of the typed quantities.
type Typed interface {
	~float64
	Kind() Kind
}

// Range is what is known of a value: never below Low, never above High.
type Range struct{ Low, Likely, High float64 }

// Exactly is a range without width.
func Exactly(v float64) Range { return Range{v, v, v} }

// IsPoint reports whether the range has no width.
func (r Range) IsPoint() bool { return r.Low == r.High }

// String is the kind's name in a sentence.
func (k Kind) String() string { return k.face().name }

// Base is the symbol of the base unit; "" for plain numbers.
func (k Kind) Base() string { return k.face().base }

// Units lists the symbols offered for a kind, the base unit first.
func (k Kind) Units() []string {
	var out []string
	for _, u := range k.symbols() {
		out = append(out, u.symbol)
	}
	return out
}

// KindByName finds a kind by its name: "length", "area rate".
func KindByName(name string) (Kind, bool) {
	for k := LengthKind; k <= lastKind; k++ {
		if k.String() == name {
			return k, true
		}
	}
	return 0, false
}
