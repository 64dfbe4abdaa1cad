package job

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/spell"
)

// Rules reads the table of rules and says what is wrong with it, and with the words
// of machine cards that a rule decides by. The browser
// does not carry this: nothing is published with a fault.
func Rules(b *book.Book) ([]rules.Rule, book.Faults) {
	t := rules.Read(b, language())
	faults := t.Check(func(id string) bool { return line(id) != "" })
	for _, row := range rules.Rows(b, "machines") {
		if word := row.Cell("threading"); word != "" && word != "alone" && word != "hand" {
			faults = append(faults, row.Fault("threading", "", "threading is alone or hand, or it is empty, not "+spell.Straight(word)+rules.Meant(word, []string{"alone", "hand"})))
		}
	}
	return t.List, faults
}
