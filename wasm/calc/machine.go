package calc

import (
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// AskMachine declares the choice of a machine card and binds it to dst; "any"
// is the default and limits nothing. A field with a line "card …" is held
// against the chosen card: "card dielectrics" for a choice that stands in a
// list of the card, "card wire_from_mm wire_to_mm" for a quantity between two
// of its numbers, with - for an open end.
func AskMachine(f *Form, b *book.Book, dst *string) {
	d := AskChoice(f, dst, `machine: Machine
		group Your shop
		help Its card limits what is offered. The cards here are invented; your shop's edition has your own.
		option any: any`)
	f.cards = nil
	f.machine = dst
	t := b.Table("machines")
	if t == nil {
		return
	}
	f.cards = t.Rows
	if len(d.Options) > 1 { // known from before
		return
	}
	for _, r := range t.Rows {
		d.Options = append(d.Options, Option{r.Key, r.Cell("name")})
	}
}

// card is the chosen card.
func (f *Form) card() (book.Row, bool) {
	if f.machine != nil {
		for _, r := range f.cards {
			if r.Key == *f.machine {
				return r, true
			}
		}
	}
	return book.Row{}, false
}

// offered reports whether a card takes this option of a choice.
func (d *bound) offered(card book.Row, value string) bool {
	return card.Cell(d.Card) == "" || strings.Contains(" "+card.Cell(d.Card)+" ", " "+value+" ")
}

// open reports whether a card has no bound in a column: the column is - or none,
// or its cell is empty.
func open(card book.Row, column string) bool {
	return column == "-" || column == "" || card.Cell(column) == ""
}

// takes reports whether a card takes this value of a quantity.
func (d *bound) takes(card book.Row, v unit.Range) bool {
	const same = 1e-9
	from, to, _ := strings.Cut(d.Card, " ")
	return (open(card, from) || v.Low >= card.Num(from)-same) && (open(card, to) || v.High <= card.Num(to)+same)
}

// others names the cards that would do what this one does not.
func (f *Form) others(can func(book.Row) bool) string {
	var names []string
	for _, r := range f.cards {
		if can(r) {
			names = append(names, r.Cell("name"))
		}
	}
	switch len(names) {
	case 0:
		return "No other card here would"
	case 1:
		return names[0] + " would"
	}
	return strings.Join(names, " and ") + " would"
}

// offCard says in words that a quantity is beyond the chosen card; "" when it
// is not.
func (f *Form) offCard(d *bound, r unit.Range) string {
	card, ok := f.card()
	if !ok || d.Card == "" || d.takes(card, r) {
		return ""
	}
	from, to, _ := strings.Cut(d.Card, " ")
	text := " takes " + lowerFirst(d.Label)
	if !open(card, from) {
		text += " from " + d.printCard(card, from)
	}
	if !open(card, to) {
		text += " up to " + d.printCard(card, to)
	}
	return card.Cell("name") + text + ". " + f.others(func(r2 book.Row) bool { return d.takes(r2, r) }) + " allow this"
}

func (d *bound) printCard(card book.Row, column string) string {
	st := d.Kind.Style(unit.Metric)
	return unit.Print(d.Kind, card.Num(column), st)
}

func lowerFirst(s string) string {
	if s != "" && s[0] >= 'A' && s[0] <= 'Z' {
		return string(s[0]+'a'-'A') + s[1:]
	}
	return s
}

// offChoice lists the options that the chosen card does not have and says who
// has them.
func (f *Form) offChoice(d *bound) (off []string, say string) {
	card, ok := f.card()
	if !ok || d.Card == "" || d.Shape != ChoiceShape {
		return nil, ""
	}
	for _, o := range d.Options {
		if !d.offered(card, o.Value) {
			off = append(off, o.Value)
			say += "Not on " + card.Cell("name") + ": " + o.Label + ". " + f.others(func(r book.Row) bool { return d.offered(r, o.Value) }) + " allow it. "
		}
	}
	return off, strings.TrimSpace(say)
}
