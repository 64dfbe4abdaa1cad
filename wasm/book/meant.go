package book

import "kerfbook/wasm/spell"

// Lacks says that the table has no column of a name, and which was perhaps meant;
// "" when it has it.
func (t *Table) Lacks(column string) string {
	if t.Column(column) {
		return ""
	}
	return "the table " + spell.Quote(t.Name) + " has no column " + spell.Quote(column) + meant(column, t.Columns)
}

// meant asks whether the nearest of the names was meant; "" when none is near.
func meant(name string, among []string) string {
	if near, ok := spell.Nearest(name, among); ok {
		return ", did you mean " + spell.Quote(near) + "?"
	}
	return ""
}
