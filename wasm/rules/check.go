package rules

import (
	"slices"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
)

// Check says what is wrong with the table. asked reports whether answers of a
// calculator of a name may be printed.
func (t *Table) Check(asked func(id string) bool) book.Faults {
	c := &checker{Table: t, asked: asked}
	for _, row := range Rows(c.book, "decisions") {
		if name := row.Cell("decision"); c.Stage(name) < 0 {
			c.fault(row, "decision", "", "there is no decision "+name+Meant(name, c.decided()))
		}
		c.placeholders(row, "what")
		c.placeholders(row, "range")
	}
	list := Rows(c.book, "rules")
	for i := range c.List {
		rule := &c.List[i]
		if rule.stage < 0 {
			c.fault(rule.Row, "decides", "", "nothing is decided under "+spell.Straight(rule.Decides)+Meant(rule.Decides, c.decided()))
		} else {
			c.asks(rule)
			c.when(rule)
		}
		c.over(rule, list)
		if rule.Text == "" {
			c.fault(rule.Row, "text", "", "a rule says why: its text is empty")
		}
		c.placeholders(rule.Row, "text")
	}
	c.complete(list)
	return c.faults
}

// Meant is the advice "; did you mean x?" when a known word is near.
func Meant(word string, known []string) string {
	if near, ok := spell.Nearest(word, known); ok {
		return "; did you mean " + near + "?"
	}
	return ""
}

// checker goes over the rules as they were read and notes what is wrong.
type checker struct {
	*Table
	asked  func(id string) bool
	faults book.Faults
}

// fault notes what is wrong in a cell, at a word of it if one is given.
func (c *checker) fault(row *book.Row, column, word, text string) {
	c.faults = append(c.faults, row.Fault(column, word, text))
}

// over sees that a rule outranks rules of its own decision.
func (c *checker) over(rule *Rule, list []*book.Row) {
	for _, name := range strings.Fields(rule.Row.Cell("over")) {
		i := slices.IndexFunc(list, func(r *book.Row) bool { return r.Key == name })
		switch {
		case i < 0:
			c.fault(rule.Row, "over", name, "there is no rule "+name+Meant(name, keys(list)))
		case list[i].Cell("decides") != rule.Decides:
			c.fault(rule.Row, "over", name, name+" decides "+list[i].Cell("decides")+", so "+rule.Name+" cannot outrank it")
		}
	}
}

// complete sees that every decision has a rule that always fires.
func (c *checker) complete(list []*book.Row) {
	for i := range c.Steps {
		d := &c.Steps[i]
		if !d.Settles() || len(list) == 0 {
			continue
		}
		if !slices.ContainsFunc(c.by[i], func(k int) bool { return len(c.List[k].when) == 0 }) {
			c.fault(list[0], "decides", "", "no rule without a condition decides "+d.Name+", so a job could be left without it")
		}
		if d.Kind == Choice && len(c.Options[d.Name]) == 0 {
			c.fault(list[0], "decides", "", "the table of decisions has no option for "+d.Name)
		}
	}
}

func (c *checker) decided() []string {
	var out []string
	for i := range c.Steps {
		out = append(out, c.Steps[i].Name)
	}
	return out
}

func keys(rows []*book.Row) []string {
	var out []string
	for _, row := range rows {
		out = append(out, row.Key)
	}
	return out
}

// asks looks at what a rule asks for: an option, a bound, or nothing.
func (c *checker) asks(rule *Rule) {
	d := &c.Steps[rule.stage]
	switch {
	case d.Kind == Against:
		if c.Stage(rule.Asks) < 0 {
			c.fault(rule.Row, "asks", "", "there is no decision "+spell.Straight(rule.Asks)+" to speak against"+Meant(rule.Asks, c.decided()))
		}
	case d.Kind == All:
		if rule.Asks != "" {
			c.fault(rule.Row, "asks", "", "a "+d.Name+" asks for nothing: leave this empty")
		}
	case d.Kind == Bound:
		op, value, _ := strings.Cut(rule.Asks, " ")
		if op != "<=" && op != ">=" {
			c.fault(rule.Row, "asks", "", d.Name+" is bounded by <= or >= and a value, for example \">= 3\"; this is "+spell.Straight(rule.Asks))
		} else if i, ok := c.names[value]; ok && c.Terms[i].Kind == d.Unit {
			c.known(rule, "asks", value, i)
		} else if _, err := readNumber(value, d.Unit); err != nil {
			c.fault(rule.Row, "asks", value, err.Error())
		}
	default:
		if words := c.Words(d.Name); !slices.Contains(words, rule.Asks) {
			c.fault(rule.Row, "asks", "", d.Name+" is one of "+strings.Join(words, ", ")+", not "+spell.Straight(rule.Asks)+Meant(rule.Asks, words))
		}
	}
}

// when looks at the condition of a rule.
func (c *checker) when(rule *Rule) {
	for _, part := range comparisons(rule.Row.Cell("when")) {
		name, op, value := part[0], part[1], part[2]
		if value == "" {
			c.fault(rule.Row, "when", strings.TrimSpace(name+" "+op), "a comparison is a fact, a sign and a value: \"height > 40 mm\"")
			continue
		}
		i, ok := c.names[name]
		if !ok {
			c.fault(rule.Row, "when", name, "there is no fact "+spell.Straight(name)+Meant(name, c.factNames()))
			continue
		}
		f := &c.Terms[i]
		if !strings.Contains(" = != < <= > >= ", " "+op+" ") || !f.Numeric() && op != "=" && op != "!=" {
			c.fault(rule.Row, "when", op, f.Name+" is compared by "+map[bool]string{true: "= != < <= > >=", false: "= or !="}[f.Numeric()]+", not by "+spell.Straight(op))
			continue
		}
		if c.known(rule, "when", name, i) {
			c.value(rule, f, value)
		}
	}
}

// value looks at what a fact is compared with.
func (c *checker) value(rule *Rule, f *Term, value string) {
	if f.Numeric() {
		if i, is := c.names[value]; is && c.Terms[i].Kind == f.Kind {
			c.known(rule, "when", value, i)
		} else if _, err := readNumber(value, f.Kind); err != nil {
			c.fault(rule.Row, "when", value, err.Error())
		}
		return
	}
	if f.Options != nil && !slices.Contains(f.Options, value) {
		c.fault(rule.Row, "when", value, f.Name+" is one of "+strings.Join(f.Options, ", ")+", not "+spell.Straight(value)+Meant(value, f.Options))
	} else if f.Table != "" {
		if _, there := c.book.Find(f.Table, value); !there {
			c.fault(rule.Row, "when", value, "the table of "+f.Table+" has no "+spell.Straight(value)+Meant(value, keys(Rows(c.book, f.Table))))
		}
	}
}

// known reports whether a fact is known before a rule's decision is taken.
func (c *checker) known(rule *Rule, column, word string, i Fact) bool {
	if c.Terms[i].after <= rule.stage {
		return true
	}
	c.fault(rule.Row, column, word, word+" is not known before "+rule.Decides+" is decided: it comes after "+c.Steps[c.Terms[i].after-1].Name)
	return false
}

func (c *checker) factNames() []string {
	var out []string
	for i := range c.Terms {
		out = append(out, c.Terms[i].Name)
	}
	return out
}

// placeholders sees that the names in braces of a text are facts, or answers of
// a calculator that is asked.
func (c *checker) placeholders(row *book.Row, column string) {
	for _, name := range named(row.Cell(column)) {
		if id, _, sub := strings.Cut(name, "."); sub {
			if !c.asked(id) {
				c.fault(row, column, name, "no calculator "+spell.Straight(id)+" is asked for an answer to print")
			}
		} else if _, ok := c.names[name]; !ok {
			c.fault(row, column, name, "there is no fact "+spell.Straight(name)+" to print"+Meant(name, c.factNames()))
		}
	}
}
