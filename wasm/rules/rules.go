// Package rules decides by a table of rules: each row asks for something under
// one decision when its conditions hold, and says why. The package knows facts
// with their kinds, rows, conditions and the order of the decisions, which its
// caller gives it, and nothing of any trade. It also says what is wrong with a
// table, what a decision depends on, and which rules a sweep of cases leaves out;
// a program that only decides does not carry these.
//
// It may import book, spell and unit.
package rules

import (
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// Manner is how the rules of a decision are combined.
type Manner uint8

// The manners.
const (
	Choice  Manner = iota // one option; those outranked drop out
	Bound                 // bounds on a number; all hold
	Worst                 // the worst option of those that fired
	All                   // every rule that fires counts, nothing is settled
	Against               // as All: what speaks against a decision that the user took
)

// Decision is one line to be decided.
type Decision struct {
	Name string
	Kind Manner
	Unit unit.Kind // of a bound
	Fact Fact      // what it is known as once it is taken, -1 when nothing is settled
	_    [0]func() // never compared, so no code for comparing is made
}

// Settles reports whether something is settled by the decision.
func (d *Decision) Settles() bool { return d.Kind < All }

// Language is what a table of rules speaks of.
type Language struct {
	// Decisions names what is decided, in the order in which it is. A quantity after
	// a colon is that of a bound; a word after an exclamation mark is another manner
	// than a choice: "wire:length can!worst check!all".
	Decisions string
	// Vocabulary has one fact a line:
	//
	//	name kind @decision | inputs it comes from
	//
	// A kind is that of a quantity, "of" with the words it may be, "in" with the
	// table whose keys it may be, "word" for any word, or "decision" for one that is
	// a choice. What has an @ is known only after that decision, and depends on it
	// beside what it names.
	Vocabulary string
}

// decisions returns what is decided, in order.
func (l Language) decisions() []Decision {
	var out []Decision
	for _, w := range strings.Fields(l.Decisions) {
		name, how, _ := strings.Cut(w, "!")
		name, quantity, isBound := strings.Cut(name, ":")
		d := Decision{Name: name, Fact: -1}
		switch {
		case isBound:
			d.Kind, d.Unit = Bound, kindOf(quantity)
		case how == "worst":
			d.Kind = Worst
		case how == "all":
			d.Kind = All
		case how == "against":
			d.Kind = Against
		}
		out = append(out, d)
	}
	return out
}

// comparison is one condition of a rule.
type comparison struct {
	fact  Fact
	op    string
	num   float64
	text  string
	other Fact // compared with, -1 for none
}

// Rule is one row of the table of rules, read.
type Rule struct {
	Name, Decides, Asks string
	Text, Page          string
	Row                 *book.Row
	when                []comparison
	over                []int // rules it outranks
	stage               int
	op                  string // of a bound
	num                 float64
	fact                Fact // of a bound, -1 for a number
}

// Bare reports whether the rule has no condition.
func (r *Rule) Bare() bool { return len(r.when) == 0 }

// Table is the rules of a book, read, with the vocabulary that they speak.
type Table struct {
	Terms   []Term
	List    []Rule
	Steps   []Decision
	Options map[string][]*book.Row // rows of the table of decisions by decision

	book   *book.Book
	names  map[string]Fact
	by     [][]int        // rules of each decision
	places map[string]int // of the decisions by name
}

// Read reads the tables "rules" and "decisions" of a book. A row with something
// wrong in it decides nothing: Check says what it is.
func Read(b *book.Book, l Language) *Table {
	t := &Table{book: b, Options: map[string][]*book.Row{}, Steps: l.decisions(), places: map[string]int{}}
	for i := range t.Steps {
		t.places[t.Steps[i].Name] = i
	}
	for _, row := range Rows(b, "decisions") {
		name := row.Cell("decision")
		t.Options[name] = append(t.Options[name], row)
	}
	t.readVocabulary(l.Vocabulary)
	t.by = make([][]int, len(t.Steps))
	places := map[string]int{}
	list := Rows(b, "rules")
	for i, row := range list {
		places[row.Key] = i
	}
	for i, row := range list {
		rule := Rule{Name: row.Key, Decides: row.Cell("decides"), Asks: row.Cell("asks"), Text: row.Cell("text"), Page: row.Cell("page"), Row: row, fact: -1}
		rule.stage = t.Stage(rule.Decides)
		if rule.stage >= 0 && t.asks(&rule) && t.when(&rule) {
			t.by[rule.stage] = append(t.by[rule.stage], i)
		}
		for _, name := range strings.Fields(row.Cell("over")) {
			if j, ok := places[name]; ok {
				rule.over = append(rule.over, j)
			}
		}
		t.List = append(t.List, rule)
	}
	return t
}

// Rows are those of a table of a book, none when it is not there.
func Rows(b *book.Book, table string) []*book.Row {
	var out []*book.Row
	if t := b.Table(table); t != nil {
		for i := range t.Rows {
			out = append(out, &t.Rows[i])
		}
	}
	return out
}

// Words are the options of a decision.
func (t *Table) Words(decision string) []string {
	var out []string
	for _, row := range t.Options[decision] {
		out = append(out, row.Cell("option"))
	}
	return out
}

// Stage is a decision's place in the order; -1 when there is none of the name.
func (t *Table) Stage(decision string) int {
	if i, ok := t.places[decision]; ok {
		return i
	}
	return -1
}

// asks reads the bound that a rule asks for.
func (t *Table) asks(rule *Rule) bool {
	d := &t.Steps[rule.stage]
	if d.Kind != Bound {
		return true
	}
	op, value, _ := strings.Cut(rule.Asks, " ")
	rule.op = op
	if i, ok := t.names[value]; ok {
		rule.fact = i
		return true
	}
	var err error
	rule.num, err = readNumber(value, d.Unit)
	return err == nil
}

// when reads the condition of a rule.
func (t *Table) when(rule *Rule) bool {
	for _, part := range comparisons(rule.Row.Cell("when")) {
		i, ok := t.names[part[0]]
		if !ok {
			return false
		}
		c := comparison{fact: i, op: part[1], text: part[2], other: -1}
		if f := &t.Terms[i]; f.Numeric() {
			if j, is := t.names[part[2]]; is && t.Terms[j].Kind == f.Kind {
				c.other = j
			} else {
				var err error
				if c.num, err = readNumber(part[2], f.Kind); err != nil {
					return false
				}
			}
		}
		rule.when = append(rule.when, c)
	}
	return true
}

// comparisons cuts a condition into its comparisons: fact, sign, value.
func comparisons(text string) [][3]string {
	var out [][3]string
	for text != "" {
		var part string
		part, text, _ = strings.Cut(text, " and ")
		name, rest, _ := strings.Cut(strings.TrimSpace(part), " ")
		op, value, _ := strings.Cut(rest, " ")
		out = append(out, [3]string{name, op, value})
	}
	return out
}

// readNumber reads one number with its unit.
func readNumber(text string, k unit.Kind) (float64, error) {
	o := unit.Options{}
	if k == unit.CountKind || k == unit.RatioKind {
		o.Unit = k.Base()
	}
	rd, err := unit.Read(text, k, o)
	return rd.Range.Likely, err
}
