package check

import (
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
)

// Unread names the columns of the handbook's tables that no calculator reads and no
// page prints: a slip in a name, or a number that nobody would miss. A shop may leave
// out the chapter that prints a column, so its edition is not asked.
func (s *Site) Unread() book.Faults {
	var out book.Faults
	read := s.Set.Columns(s.Content.Book)
	for _, p := range s.Pages {
		for _, b := range p.Blocks {
			if t, ok := b.(*Table); ok {
				read[t.Name] = append(read[t.Name], t.columns...)
			}
		}
	}
	for _, t := range s.Content.Book.Tables() {
		// A table that nothing reads and that has no row stands only so that a
		// shop's folder with one still opens: no number is missed.
		if len(t.Rows) == 0 && len(read[t.Name]) == 0 {
			continue
		}
		// What a row is called, the unit of its number and a remark are for whoever
		// reads the file.
		known := append(slices.Clone(t.Keys), "source", "place", "provenance", "name", "unit", "remark")
		for _, column := range t.Columns {
			if slices.Contains(known, column) || slices.Contains(read[t.Name], column) {
				continue
			}
			text := "nothing reads the column " + spell.Quote(column) + " of the table " + spell.Quote(t.Name) + ": no calculator, and no table of a page"
			others := slices.DeleteFunc(slices.Clone(t.Columns), func(c string) bool { return c == column })
			if near, ok := spell.Nearest(column, others); ok {
				text += "; did you mean " + spell.Quote(near) + "?"
			}
			out = append(out, t.Fault(column, text))
		}
	}
	return out
}
