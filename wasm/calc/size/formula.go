// Package size answers what a tolerance asks for and what the temperature takes
// of it: growth of part and gauge, the standard grade, the general tolerance. It
// may import book, calc, figure, laws and unit.
package size

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

// reference is the temperature in °C at which a size on a print holds (ISO 1).
const reference = 20

// Growth returns how much longer a length is at a temperature than at 20 °C:
// α L (T - 20 °C), negative when it is colder. Definition of the expansion.
func Growth(length unit.Length, alpha unit.Expansion, t unit.Temperature) unit.Length {
	return laws.Growth(length, alpha, unit.Ratio(t-reference))
}

// Kelvins returns the change of temperature that grows a length by so much:
// Δ / (α L).
func Kelvins(grown, length unit.Length, alpha unit.Expansion) unit.Ratio {
	return unit.Ratio(float64(grown) * 1e6 / (float64(alpha) * float64(length)))
}

// Grade returns the widest standard grade that a tolerance of this width still
// holds, and the next wider one, for a size in mm; column names the step of
// sizes. A row is empty where the table ends (ISO 286-1, table).
func Grade(t *book.Table, size, width unit.Length) (row, next book.Row, column string) {
	if column = calc.SizeStep(t, size); column == "" {
		return row, next, ""
	}
	for _, r := range t.Rows {
		if r.Num(column) > float64(width)*1000+1e-6 {
			return row, r, column
		}
		row = r
	}
	return row, next, column
}

// General returns the row of a class of general tolerances that holds a size;
// ok is false where the table gives none (ISO 2768-1, table of linear sizes).
func General(t *book.Table, class string, size unit.Length) (book.Row, bool) {
	for _, r := range t.Rows {
		// The first step takes its lower limit too.
		above := r.Num("above_mm")
		if r.Cell("class") == class && float64(size) <= r.Num("to_mm")+1e-9 && (float64(size) > above+1e-9 || above == 0.5 && size >= 0.5) {
			return r, true
		}
	}
	return book.Row{}, false
}
