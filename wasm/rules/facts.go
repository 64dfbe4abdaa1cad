package rules

import (
	"slices"
	"strings"

	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Fact is one word that rules may speak of, by its place in the vocabulary.
type Fact int

// Term is one fact as the vocabulary has it.
type Term struct {
	Name    string
	Kind    unit.Kind // 0 for a word
	Options []string  // nil for any word
	Table   string    // whose keys the word may be
	after   int       // how many decisions are taken when it is known
	from    []string
	_       [0]func() // never compared, so no code for comparing is made
}

// Numeric reports whether the fact is a number.
func (t *Term) Numeric() bool { return t.Kind != 0 }

// kindOf is the quantity of a name. Another name is a slip in a list of ours.
func kindOf(name string) unit.Kind {
	k, ok := unit.KindByName(name)
	if !ok {
		panic("rules: there is no quantity " + spell.Straight(name))
	}
	return k
}

// readVocabulary reads the facts and their names.
func (t *Table) readVocabulary(vocabulary string) {
	t.names = map[string]Fact{}
	for i, line := range strings.Split(vocabulary, "\n") {
		head, from, _ := strings.Cut(line, "|")
		head, decision, later := strings.Cut(head, "@")
		w := strings.Fields(head)
		f := Term{Name: w[0], from: strings.Fields(from)}
		if later {
			decision = strings.TrimSpace(decision)
			f.after, f.from = t.Stage(decision)+1, append(f.from, decision)
		}
		switch w[1] {
		case "of":
			f.Options = w[2:]
		case "in":
			f.Table = w[2]
		case "word":
		case "decision":
			f.Options, f.after, f.from = t.Words(f.Name), t.Stage(f.Name)+1, []string{f.Name}
		default:
			f.Kind = kindOf(w[1])
		}
		t.Terms = append(t.Terms, f)
		t.names[f.Name] = Fact(i)
	}
	for i := range t.Steps {
		if d := &t.Steps[i]; d.Settles() {
			d.Fact = t.Fact(d.Name)
		}
	}
}

// Find is the fact of a name.
func (t *Table) Find(name string) (Fact, bool) {
	i, ok := t.names[name]
	return i, ok
}

// Fact is a fact named in a list of the program's own. A name that is not in the
// vocabulary is a slip there, and not of the table's.
func (t *Table) Fact(name string) Fact {
	i, ok := t.names[name]
	if !ok {
		panic("rules: there is no fact " + spell.Straight(name))
	}
	return i
}

// Facts are what is known of one case.
type Facts struct {
	table *Table
	num   []float64
	text  []string
	known []bool
}

// NewFacts is a case of which nothing is known.
func (t *Table) NewFacts() *Facts {
	n := len(t.Terms)
	return &Facts{table: t, num: make([]float64, n), text: make([]string, n), known: make([]bool, n)}
}

// Clear forgets everything, to be used for another case.
func (f *Facts) Clear() { clear(f.known) }

// Clone is the same knowledge, to be changed apart.
func (f *Facts) Clone() *Facts {
	return &Facts{f.table, slices.Clone(f.num), slices.Clone(f.text), slices.Clone(f.known)}
}

// Forget makes a fact unknown.
func (f *Facts) Forget(i Fact) { f.known[i] = false }

// Copy takes a fact over from another case.
func (f *Facts) Copy(from *Facts, i Fact) {
	f.num[i], f.text[i], f.known[i] = from.num[i], from.text[i], from.known[i]
}

// SetNumber notes a quantity in the base unit of its kind.
func (f *Facts) SetNumber(i Fact, v float64) {
	f.num[i], f.known[i] = v, true
}

// SetWord notes a word.
func (f *Facts) SetWord(i Fact, v string) {
	f.text[i], f.known[i] = v, true
}

// SetFlag notes yes or no.
func (f *Facts) SetFlag(i Fact, on bool) {
	if on {
		f.SetWord(i, "yes")
	} else {
		f.SetWord(i, "no")
	}
}

// Number is a quantity, zero when it is not known.
func (f *Facts) Number(i Fact) float64 {
	if f.known[i] {
		return f.num[i]
	}
	return 0
}

// Word is a word, "" when it is not known.
func (f *Facts) Word(i Fact) string {
	if f.known[i] {
		return f.text[i]
	}
	return ""
}

// Is reports whether a word is known and is this one.
func (f *Facts) Is(i Fact, v string) bool {
	return f.known[i] && f.text[i] == v
}

// Knows reports whether a fact is known.
func (f *Facts) Knows(i Fact) bool { return f.known[i] }

// Spell is a fact in words that read as the same fact; "" when it is not known.
func (f *Facts) Spell(i Fact) string {
	d := &f.table.Terms[i]
	switch {
	case !f.known[i]:
		return ""
	case !d.Numeric():
		return f.text[i]
	}
	return unit.Print(d.Kind, f.num[i], unit.Style{Unit: d.Kind.Base(), Decimals: 9, Trim: true})
}
