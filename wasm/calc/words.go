package calc

import "kerfbook/wasm/unit"

// Say prints a value in the default style of its kind for a reader's system.
func Say[T unit.Typed](v T, s unit.System) string {
	return unit.Print(v.Kind(), float64(v), v.Kind().Style(s))
}

// SayRange prints a range of the kind of v.
func SayRange(k unit.Kind, r unit.Range, s unit.System) string {
	return unit.PrintRange(k, r, k.Style(s))
}

// Put prints a value in a unit, at most decimals of them, for a line of working.
func Put[T unit.Typed](v T, name string, decimals int) string {
	return unit.Print(v.Kind(), float64(v), unit.Style{Unit: name, Decimals: decimals, Trim: true})
}

// FromTable is a fallback taken from the book; what names it in the note.
func FromTable(k unit.Kind, r unit.Range, name string) string {
	return "from the table: " + unit.PrintRange(k, r, unit.Style{Unit: name, Decimals: 1, Trim: true})
}

// word is what a value of a choice is called.
func (o Out) word(v string) Option {
	for _, w := range o.Words {
		if w.Value == v {
			return w
		}
	}
	return Option{v, v}
}
