package job

import (
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// manner says how the rules of a decision come together.
type manner uint8

const (
	choice manner = iota // one option; those outranked drop out
	bound                // bounds on a number; all hold
	worst                // the worst option of those that fired
	all                  // every rule that fires is said
)

// decision is one line to be decided.
type decision struct {
	name string
	kind manner
	unit unit.Kind // of a bound
	fact fact      // what it is known as once it is taken
	_    [0]func() // never compared, so no code for comparing is made
}

// decided is what is decided, in the order in which it is. A quantity after a
// colon is that of a bound; a sign says how else rules come together.
const decided = "drives dielectric roughing wire:length wire-type machine flushing passes:count polarity can!worst start threading after-break tension tilt slug order relax lead-in direction clamping pickup surface cobalt-loss shape warmth time spool inspection against!all check!all question!all caution!all note!all"

// decisions returns what is decided, in order.
func decisions() []decision {
	var out []decision
	for _, w := range strings.Fields(decided) {
		name, how, isAll := cut(w, "!")
		name, quantity, isBound := cut(name, ":")
		d := decision{name: name}
		switch {
		case isBound:
			d.kind, d.unit = bound, kindOf(quantity)
		case how == "worst":
			d.kind = worst
		case isAll:
			d.kind = all
		}
		out = append(out, d)
	}
	return out
}

// comparison is one condition of a rule.
type comparison struct {
	fact  fact
	op    string
	num   float64
	text  string
	other fact // compared with, -1 for none
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
	fact                fact // of a bound, -1 for a number
}

// rules are the table read, with the vocabulary it speaks.
type rules struct {
	book    *book.Book
	facts   []term
	names   map[string]fact
	list    []Rule
	by      [][]int // rules of each decision
	steps   []decision
	places  map[string]int         // of the decisions by name
	options map[string][]*book.Row // rows of the table of decisions
}

// readRules reads the table. A row with something wrong in it decides nothing:
// Rules says what it is, and nothing is published with it.
func readRules(b *book.Book) *rules {
	r := &rules{book: b, options: map[string][]*book.Row{}, steps: decisions(), places: map[string]int{}}
	for i, d := range r.steps {
		r.places[d.name] = i
	}
	for _, row := range rows(b, "decisions") {
		name := row.Cell("decision")
		r.options[name] = append(r.options[name], row)
	}
	r.readVocabulary()
	r.by = make([][]int, len(r.steps))
	places := map[string]int{}
	for i, row := range rows(b, "rules") {
		places[row.Key] = i
	}
	for i, row := range rows(b, "rules") {
		rule := Rule{Name: row.Key, Decides: row.Cell("decides"), Asks: row.Cell("asks"), Text: row.Cell("text"), Page: row.Cell("page"), Row: row, fact: -1}
		rule.stage = r.stage(rule.Decides)
		if rule.stage >= 0 && r.asks(&rule) && r.when(&rule) {
			r.by[rule.stage] = append(r.by[rule.stage], i)
		}
		for _, name := range strings.Fields(row.Cell("over")) {
			if j, ok := places[name]; ok {
				rule.over = append(rule.over, j)
			}
		}
		r.list = append(r.list, rule)
	}
	return r
}

// rows are those of a table, none when it is not there.
func rows(b *book.Book, table string) []*book.Row {
	var out []*book.Row
	if t := b.Table(table); t != nil {
		for i := range t.Rows {
			out = append(out, &t.Rows[i])
		}
	}
	return out
}

// words are the options of a decision.
func (r *rules) words(name string) []string {
	var out []string
	for _, row := range r.options[name] {
		out = append(out, row.Cell("option"))
	}
	return out
}

// asks reads the bound that a rule asks for.
func (r *rules) asks(rule *Rule) bool {
	d := r.steps[rule.stage]
	if d.kind != bound {
		return true
	}
	op, value, _ := cut(rule.Asks, " ")
	rule.op = op
	if i, ok := r.names[value]; ok {
		rule.fact = i
		return true
	}
	var err error
	rule.num, err = value1(value, d.unit)
	return err == nil
}

// when reads the condition of a rule.
func (r *rules) when(rule *Rule) bool {
	for _, part := range comparisons(rule.Row.Cell("when")) {
		i, ok := r.names[part[0]]
		if !ok {
			return false
		}
		c := comparison{fact: i, op: part[1], text: part[2], other: -1}
		if f := r.facts[i]; f.numeric() {
			if j, is := r.names[part[2]]; is && r.facts[j].kind == f.kind {
				c.other = j
			} else {
				var err error
				if c.num, err = value1(part[2], f.kind); err != nil {
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
		part, text, _ = cut(text, " and ")
		name, rest, _ := cut(strings.TrimSpace(part), " ")
		op, value, _ := cut(rest, " ")
		out = append(out, [3]string{name, op, value})
	}
	return out
}

// value1 reads one number with its unit.
func value1(text string, k unit.Kind) (float64, error) {
	o := unit.Options{}
	if k == unit.CountKind || k == unit.RatioKind {
		o.Unit = k.Base()
	}
	rd, err := unit.Read(text, k, o)
	return rd.Range.Likely, err
}

// stage is a decision's place in the order; -1 when there is none of the name.
func (r *rules) stage(name string) int {
	if i, ok := r.places[name]; ok {
		return i
	}
	return -1
}
