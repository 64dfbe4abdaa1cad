package job

import (
	"slices"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
)

// Rules reads the table of rules and says what is wrong with it, and with the words
// of machine cards that a rule decides by. The browser
// does not carry this: nothing is published with a fault.
func Rules(b *book.Book) ([]Rule, book.Faults) {
	c := &checker{rules: readRules(b)}
	for _, row := range rows(b, "decisions") {
		if name := row.Cell("decision"); c.stage(name) < 0 {
			c.fault(row, "decision", "", "there is no decision "+name+nearest(name, c.decided()))
		}
		c.placeholders(row, "what")
		c.placeholders(row, "range")
	}
	list := rows(b, "rules")
	for i := range c.list {
		rule := &c.list[i]
		if rule.stage < 0 {
			c.fault(rule.Row, "decides", "", "nothing is decided under "+spell.Straight(rule.Decides)+nearest(rule.Decides, c.decided()))
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
	for _, row := range rows(b, "machines") {
		if word := row.Cell("threading"); word != "" && word != "alone" && word != "hand" {
			c.fault(row, "threading", "", "threading is alone or hand, or it is empty, not "+spell.Straight(word)+nearest(word, []string{"alone", "hand"}))
		}
	}
	return c.list, c.faults
}

// checker goes over the rules as they were read and notes what is wrong.
type checker struct {
	*rules
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
			c.fault(rule.Row, "over", name, "there is no rule "+name+nearest(name, keys(list)))
		case list[i].Cell("decides") != rule.Decides:
			c.fault(rule.Row, "over", name, name+" decides "+list[i].Cell("decides")+", so "+rule.Name+" cannot outrank it")
		}
	}
}

// complete sees that every decision has a rule that always fires.
func (c *checker) complete(list []*book.Row) {
	for i, d := range c.steps {
		if d.kind == all || len(list) == 0 {
			continue
		}
		if !slices.ContainsFunc(c.by[i], func(k int) bool { return len(c.list[k].when) == 0 }) {
			c.fault(list[0], "decides", "", "no rule without a condition decides "+d.name+", so a job could be left without it")
		}
		if d.kind == choice && len(c.options[d.name]) == 0 {
			c.fault(list[0], "decides", "", "the table of decisions has no option for "+d.name)
		}
	}
}

func (c *checker) decided() []string {
	var out []string
	for _, d := range c.steps {
		out = append(out, d.name)
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
	d := c.steps[rule.stage]
	switch {
	case d.name == "against":
		if c.stage(rule.Asks) < 0 {
			c.fault(rule.Row, "asks", "", "there is no decision "+spell.Straight(rule.Asks)+" to speak against"+nearest(rule.Asks, c.decided()))
		}
	case d.kind == all:
		if rule.Asks != "" {
			c.fault(rule.Row, "asks", "", "a "+d.name+" asks for nothing: leave this empty")
		}
	case d.kind == bound:
		op, value, _ := cut(rule.Asks, " ")
		if op != "<=" && op != ">=" {
			c.fault(rule.Row, "asks", "", d.name+" is bounded by <= or >= and a value, for example \">= 3\"; this is "+spell.Straight(rule.Asks))
		} else if i, ok := c.names[value]; ok && c.facts[i].kind == d.unit {
			c.known(rule, "asks", value, i)
		} else if _, err := value1(value, d.unit); err != nil {
			c.fault(rule.Row, "asks", value, err.Error())
		}
	default:
		if words := c.words(d.name); !slices.Contains(words, rule.Asks) {
			c.fault(rule.Row, "asks", "", d.name+" is one of "+strings.Join(words, ", ")+", not "+spell.Straight(rule.Asks)+nearest(rule.Asks, words))
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
			c.fault(rule.Row, "when", name, "there is no fact "+spell.Straight(name)+nearest(name, c.factNames()))
			continue
		}
		f := c.facts[i]
		if !strings.Contains(" = != < <= > >= ", " "+op+" ") || !f.numeric() && op != "=" && op != "!=" {
			c.fault(rule.Row, "when", op, f.name+" is compared by "+map[bool]string{true: "= != < <= > >=", false: "= or !="}[f.numeric()]+", not by "+spell.Straight(op))
			continue
		}
		if c.known(rule, "when", name, i) {
			c.value(rule, f, value)
		}
	}
}

// value looks at what a fact is compared with.
func (c *checker) value(rule *Rule, f term, value string) {
	if f.numeric() {
		if i, is := c.names[value]; is && c.facts[i].kind == f.kind {
			c.known(rule, "when", value, i)
		} else if _, err := value1(value, f.kind); err != nil {
			c.fault(rule.Row, "when", value, err.Error())
		}
		return
	}
	if f.options != nil && !slices.Contains(f.options, value) {
		c.fault(rule.Row, "when", value, f.name+" is one of "+strings.Join(f.options, ", ")+", not "+spell.Straight(value)+nearest(value, f.options))
	} else if f.name == "material" {
		if _, there := c.book.Find("materials", value); !there {
			c.fault(rule.Row, "when", value, "the table of materials has no "+spell.Straight(value)+nearest(value, keys(rows(c.book, "materials"))))
		}
	}
}

// known reports whether a fact is known before a rule's decision is taken.
func (c *checker) known(rule *Rule, column, word string, i fact) bool {
	if c.facts[i].after <= rule.stage {
		return true
	}
	c.fault(rule.Row, column, word, word+" is not known before "+rule.Decides+" is decided: it comes after "+c.steps[c.facts[i].after-1].name)
	return false
}

func (c *checker) factNames() []string {
	var out []string
	for _, f := range c.facts {
		out = append(out, f.name)
	}
	return out
}

// placeholders sees that the names in braces of a text are facts, or answers of
// a calculator that is asked.
func (c *checker) placeholders(row *book.Row, column string) {
	for _, name := range named(row.Cell(column)) {
		if id, _, sub := cut(name, "."); sub {
			if line(id) == "" {
				c.fault(row, column, name, "no calculator "+spell.Straight(id)+" is asked for an answer to print")
			}
		} else if _, ok := c.names[name]; !ok {
			c.fault(row, column, name, "there is no fact "+spell.Straight(name)+" to print"+nearest(name, c.factNames()))
		}
	}
}

// named are the names in braces of a text.
func named(text string) []string {
	var out []string
	for {
		_, rest, found := cut(text, "{")
		if !found {
			return out
		}
		var inner string
		inner, text, _ = cut(rest, "}")
		name, _, _ := cut(inner, ":")
		out = append(out, name)
	}
}
