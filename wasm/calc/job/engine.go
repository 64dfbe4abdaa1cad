package job

import (
	"math"
	"slices"
)

// holds reports whether every comparison of a rule holds. What is not known
// holds for nothing.
func (j *job) holds(r *Rule) bool {
	f := j.facts
	for _, c := range r.when {
		if !f.known[c.fact] {
			return false
		}
		if !j.rules.facts[c.fact].numeric() {
			if (f.text[c.fact] == c.text) != (c.op == "=") {
				return false
			}
			continue
		}
		to := c.num
		if c.other >= 0 {
			if !f.known[c.other] {
				return false
			}
			to = f.num[c.other]
		}
		if !compare(f.num[c.fact], c.op, to) {
			return false
		}
	}
	return true
}

// compare holds two numbers against each other. Those that differ by less than
// a billionth are the same, as lengths are sums of decimals.
func compare(a float64, op string, b float64) bool {
	equal := math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b))
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

// run takes every decision in order.
func (j *job) run() {
	j.begin()
	j.out = make([]outcome, len(j.rules.steps))
	for i := range j.out {
		d, o := &j.rules.steps[i], &j.out[i]
		fired := j.fire(i)
		switch d.kind {
		case choice:
			j.choose(d, o, fired)
		case bound:
			j.bounded(d, o, fired)
		case worst:
			j.worst(d, o, fired)
		default:
			o.fired = fired
		}
		j.learn(d, o)
	}
}

// fire is the rules of a decision that hold, without those outranked by another
// that holds.
func (j *job) fire(stage int) []int {
	var fired []int
	for _, k := range j.rules.by[stage] {
		r := &j.rules.list[k]
		if r.Decides == "against" && !j.owns(r.Asks) {
			continue
		}
		if j.holds(r) {
			fired = append(fired, k)
		}
	}
	var out []int
	for _, k := range fired {
		outranked := false
		for _, other := range fired {
			outranked = outranked || slices.Contains(j.rules.list[other].over, k)
		}
		if !outranked {
			out = append(out, k)
		}
	}
	return out
}

func (j *job) owns(decision string) bool {
	_, num := j.ownNum[decision]
	return num || j.own[decision] != ""
}

// choose settles on one option. Two rules that ask for different things without
// an order are a clash: the first in the table is taken.
func (j *job) choose(d *decision, o *outcome, fired []int) {
	if len(fired) == 0 {
		return
	}
	o.value = j.rules.list[fired[0]].Asks
	for _, k := range fired {
		if j.rules.list[k].Asks == o.value {
			o.fired = append(o.fired, k)
		} else {
			o.clash = append(o.clash, k)
		}
	}
	if own := j.own[d.name]; own != "" {
		o.own = true
		if own != o.value {
			o.against, o.fired, o.clash, o.value = o.fired, nil, nil, own
			for _, k := range fired {
				if j.rules.list[k].Asks == own {
					o.fired = append(o.fired, k)
				}
			}
		}
	}
}

// worst takes the option that stands last in the table of decisions.
func (j *job) worst(d *decision, o *outcome, fired []int) {
	at := -1
	words := j.rules.words(d.name)
	for _, k := range fired {
		i := slices.Index(words, j.rules.list[k].Asks)
		if i > at {
			at, o.value, o.fired = i, words[i], nil
		}
		if i == at {
			o.fired = append(o.fired, k)
		}
	}
}

// bounded settles on a number between the bounds of all rules that hold.
func (j *job) bounded(d *decision, o *outcome, fired []int) {
	o.low, o.top = math.Inf(-1), math.Inf(1)
	for _, k := range fired {
		r := &j.rules.list[k]
		v := j.boundOf(r)
		if r.op == ">=" {
			o.low = math.Max(o.low, v)
		} else {
			o.top = math.Min(o.top, v)
		}
	}
	if d.name == "wire" {
		o.num = j.pickWire(o)
	} else {
		o.num = math.Min(math.Max(math.Max(1, o.low), 1), most)
		if o.top < o.num {
			o.num = math.Max(1, o.top)
		}
	}
	found := o.num
	if own, ok := j.ownNum[d.name]; ok {
		o.num, o.own = own, true
	}
	for _, k := range fired {
		r := &j.rules.list[k]
		v := j.boundOf(r)
		binds := math.Abs(v-found) <= same || d.name == "wire" && r.op == "<=" && v < j.thicker(found)-same
		if o.own && !compare(o.num, r.op, v) {
			o.against = append(o.against, k)
		} else if binds {
			o.fired = append(o.fired, k)
		}
		if o.low > o.top && (v == o.low || v == o.top) {
			o.clash = append(o.clash, k)
		}
	}
	if len(o.fired) == 0 && !o.own {
		o.fired = fired[:min(1, len(fired))]
	}
}

// thicker is the next wire of the table in the dielectric taken.
func (j *job) thicker(d float64) float64 {
	for _, t := range j.tools(j.facts.get(factDielectric)) {
		if float64(t.wire) > d+same {
			return float64(t.wire)
		}
	}
	return math.Inf(1)
}

func (j *job) boundOf(r *Rule) float64 {
	if r.fact >= 0 {
		return j.facts.num[r.fact]
	}
	return r.num
}

// pickWire is the largest wire that the corner, the slot and the bounds allow.
// Where the bounds leave none they are given up, the lower one first.
func (j *job) pickWire(o *outcome) float64 {
	tools := j.tools(j.facts.get(factDielectric))
	if j.facts.is(factRoughing, "last") {
		if t, ok := j.lastOnly(tools, o.top); ok {
			return float64(t.wire)
		}
	}
	t, reaches := j.largest(tools, o.top, o.low)
	if reaches == "no" {
		t, reaches = j.largest(tools, o.top, 0)
	}
	if reaches == "no" {
		t, _ = j.largest(tools, math.Inf(1), 0)
	}
	return float64(t.wire)
}

// lastOnly is the largest wire that reaches with the last pass, even stock or not.
func (j *job) lastOnly(tools []tool, limit float64) (best tool, ok bool) {
	for _, t := range tools {
		in, takes := j.reach(t)
		if j.listed(t.wire) && float64(t.wire) <= limit+same && in != "no" && takes != "no" {
			best, ok = t, true
		}
	}
	return best, ok && best.wire > 0
}
