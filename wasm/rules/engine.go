package rules

import (
	"math"
	"slices"
)

// Case is one case on its way through the decisions.
type Case struct {
	Table  *Table
	Facts  *Facts
	Own    map[string]string  // choices that the user took, by decision
	OwnNum map[string]float64 // numbers that the user took
	Out    []Outcome          // by stage, once it ran
}

// NewCase is a case of which nothing is known.
func (t *Table) NewCase() *Case {
	return &Case{Table: t, Facts: t.NewFacts(), Own: map[string]string{}, OwnNum: map[string]float64{}}
}

// Outcome is what one decision came to.
type Outcome struct {
	Value    string  // the option
	Num      float64 // of a bound
	Fired    []int   // rules that ask for it, or all that fired
	Against  []int   // of the user's own decision: rules that ask for something else
	Clash    []int   // rules that disagree without an order
	Own      bool
	Low, Top float64 // bounds found
}

// Domain is what the caller adds to the rules of a case.
type Domain interface {
	// Begin notes what is known before the first decision.
	Begin()
	// Settle is the number that a bound comes to between its limits.
	Settle(d *Decision, o *Outcome) float64
	// Binds reports whether a limit that is not the number found has led to it all
	// the same.
	Binds(d *Decision, op string, limit, found float64) bool
	// Learn notes what is known after a decision, whose own fact stands already.
	Learn(d *Decision, o *Outcome)
}

// same is the difference below which two numbers count as equal.
const same = 1e-9

// Run takes every decision in order.
func (c *Case) Run(by Domain) {
	by.Begin()
	c.Out = make([]Outcome, len(c.Table.Steps))
	for i := range c.Out {
		d, o := &c.Table.Steps[i], &c.Out[i]
		fired := c.fire(i)
		switch d.Kind {
		case Choice:
			c.choose(d, o, fired)
			c.Facts.SetWord(d.Fact, o.Value)
		case Bound:
			c.bounded(by, d, o, fired)
			c.Facts.SetNumber(d.Fact, o.Num)
		case Worst:
			c.worst(d, o, fired)
			c.Facts.SetWord(d.Fact, o.Value)
		default:
			o.Fired = fired
		}
		by.Learn(d, o)
	}
}

// holds reports whether every comparison of a rule holds. What is not known
// holds for nothing.
func (c *Case) holds(r *Rule) bool {
	f := c.Facts
	for _, w := range r.when {
		if !f.known[w.fact] {
			return false
		}
		if !c.Table.Terms[w.fact].Numeric() {
			if (f.text[w.fact] == w.text) != (w.op == "=") {
				return false
			}
			continue
		}
		to := w.num
		if w.other >= 0 {
			if !f.known[w.other] {
				return false
			}
			to = f.num[w.other]
		}
		if !compare(f.num[w.fact], w.op, to) {
			return false
		}
	}
	return true
}

// compare holds two numbers against each other. Those that differ by less than
// a billionth are the same, as lengths are sums of decimals.
func compare(a float64, op string, b float64) bool {
	equal := math.Abs(a-b) <= same*math.Max(1, math.Abs(b))
	switch op {
	case "=":
		return equal
	case "!=":
		return !equal
	case "<":
		return a < b && !equal
	case "<=":
		return a < b || equal
	case ">":
		return a > b && !equal
	}
	return a > b || equal
}

// fire is the rules of a decision that hold, without those outranked by another
// that holds.
func (c *Case) fire(stage int) []int {
	var fired []int
	for _, k := range c.Table.by[stage] {
		r := &c.Table.List[k]
		if c.Table.Steps[stage].Kind == Against && !c.owns(r.Asks) {
			continue
		}
		if c.holds(r) {
			fired = append(fired, k)
		}
	}
	var out []int
	for _, k := range fired {
		outranked := false
		for _, other := range fired {
			outranked = outranked || slices.Contains(c.Table.List[other].over, k)
		}
		if !outranked {
			out = append(out, k)
		}
	}
	return out
}

func (c *Case) owns(decision string) bool {
	_, num := c.OwnNum[decision]
	return num || c.Own[decision] != ""
}

// choose settles on one option. Two rules that ask for different things without
// an order are a clash: the first in the table is taken.
func (c *Case) choose(d *Decision, o *Outcome, fired []int) {
	if len(fired) == 0 {
		return
	}
	o.Value = c.Table.List[fired[0]].Asks
	for _, k := range fired {
		if c.Table.List[k].Asks == o.Value {
			o.Fired = append(o.Fired, k)
		} else {
			o.Clash = append(o.Clash, k)
		}
	}
	if own := c.Own[d.Name]; own != "" {
		o.Own = true
		if own != o.Value {
			o.Against, o.Fired, o.Clash, o.Value = o.Fired, nil, nil, own
			for _, k := range fired {
				if c.Table.List[k].Asks == own {
					o.Fired = append(o.Fired, k)
				}
			}
		}
	}
}

// worst takes the option that stands last in the table of decisions.
func (c *Case) worst(d *Decision, o *Outcome, fired []int) {
	at := -1
	words := c.Table.Words(d.Name)
	for _, k := range fired {
		i := slices.Index(words, c.Table.List[k].Asks)
		if i > at {
			at, o.Value, o.Fired = i, words[i], nil
		}
		if i == at {
			o.Fired = append(o.Fired, k)
		}
	}
}

// bounded settles on a number between the bounds of all rules that hold.
func (c *Case) bounded(by Domain, d *Decision, o *Outcome, fired []int) {
	o.Low, o.Top = math.Inf(-1), math.Inf(1)
	for _, k := range fired {
		r := &c.Table.List[k]
		v := c.boundOf(r)
		if r.op == ">=" {
			o.Low = math.Max(o.Low, v)
		} else {
			o.Top = math.Min(o.Top, v)
		}
	}
	o.Num = by.Settle(d, o)
	found := o.Num
	if own, ok := c.OwnNum[d.Name]; ok {
		o.Num, o.Own = own, true
	}
	for _, k := range fired {
		r := &c.Table.List[k]
		v := c.boundOf(r)
		binds := math.Abs(v-found) <= same || by.Binds(d, r.op, v, found)
		if o.Own && !compare(o.Num, r.op, v) {
			o.Against = append(o.Against, k)
		} else if binds {
			o.Fired = append(o.Fired, k)
		}
		if o.Low > o.Top && (v == o.Low || v == o.Top) {
			o.Clash = append(o.Clash, k)
		}
	}
	if len(o.Fired) == 0 && !o.Own {
		o.Fired = fired[:min(1, len(fired))]
	}
}

// Least is the least number from floor to ceiling that the limits allow. Where
// they contradict each other the upper one holds.
func (o *Outcome) Least(floor, ceiling float64) float64 {
	v := math.Min(math.Max(floor, o.Low), ceiling)
	if o.Top < v {
		v = math.Max(floor, o.Top)
	}
	return v
}

func (c *Case) boundOf(r *Rule) float64 {
	if r.fact >= 0 {
		return c.Facts.num[r.fact]
	}
	return r.num
}

// Consider is what a decision comes to with what is known now, without taking it:
// the option, or the bounds.
func (c *Case) Consider(stage int) Outcome {
	d := &c.Table.Steps[stage]
	fired := c.fire(stage)
	var o Outcome
	if d.Kind == Choice {
		c.choose(d, &o, fired)
		return o
	}
	o.Low, o.Top = math.Inf(-1), math.Inf(1)
	for _, k := range fired {
		r := &c.Table.List[k]
		if v := c.boundOf(r); r.op == ">=" {
			o.Low = math.Max(o.Low, v)
		} else {
			o.Top = math.Min(o.Top, v)
		}
	}
	return o
}
