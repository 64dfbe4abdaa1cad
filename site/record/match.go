package record

import (
	"fmt"
	"slices"
	"strings"
)

// place is where an answer stands: its page, what kind of block it is, which
// calculator answers, and the name that the author gave it, if any. The running
// number of an answer without a name is not kept: it shifts when a block is
// put in before it. The page is the new edition's; of one that only the old
// edition has, it is the old address and before is true, since another page may
// have taken that address.
type place struct {
	page, kind, calculator string
	before                 bool
}

func placeOf(a Answer) (at place, anchor string) {
	name, _, _ := strings.Cut(a.ID, " ")
	page, anchor, _ := strings.Cut(name, "#")
	return place{page: page, kind: a.Kind, calculator: a.Calculator}, anchor
}

// placeBefore is the place of an answer of the old edition.
func (d *diff) placeBefore(a Answer) (at place, anchor string) {
	at, anchor = placeOf(a)
	_, was := d.oldPage[at.page]
	_, is := d.page[at.page]
	if to := d.nowPage[at.page]; to != "" {
		at.page = to
	} else {
		at.before = was || is
	}
	return at, anchor
}

// candidate is an answer that waits for its partner.
type candidate struct {
	Answer
	anchor string
}

// answers pairs the answers of each place. The same name with the same inputs
// comes first, then the same inputs, then the same name, and last those that
// share the most inputs; so an example put in is one new answer, and the thirty
// behind it keep their partners.
func (c *Changes) answers(d *diff) {
	groups := map[place]*[2][]candidate{}
	group := func(at place) *[2][]candidate {
		if groups[at] == nil {
			groups[at] = &[2][]candidate{}
		}
		return groups[at]
	}
	var order []place
	for _, a := range d.now.Answers {
		at, anchor := placeOf(a)
		if groups[at] == nil {
			order = append(order, at)
		}
		g := group(at)
		g[1] = append(g[1], candidate{a, anchor})
	}
	for _, a := range d.old.Answers {
		at, anchor := d.placeBefore(a)
		if groups[at] == nil {
			order = append(order, at)
		}
		g := group(at)
		g[0] = append(g[0], candidate{a, anchor})
	}
	var came, gone []AnswerChange
	for _, at := range order {
		g := groups[at]
		partner := pair(g[0], g[1])
		taken := map[int]bool{}
		for i, n := range g[1] {
			j := partner[i]
			if j < 0 {
				came = append(came, c.alone(d, Came, at, n.Answer))
				continue
			}
			taken[j] = true
			if ch, ok := c.changed(d, at, g[0][j].Answer, n.Answer); ok {
				c.Answers = append(c.Answers, ch)
			}
		}
		for j, o := range g[0] {
			if !taken[j] {
				gone = append(gone, c.alone(d, Gone, at, o.Answer))
			}
		}
	}
	c.Answers = append(append(c.Answers, came...), gone...)
}

// pair returns for each new answer the index of its old one, or -1.
func pair(old, now []candidate) []int {
	partner := make([]int, len(now))
	for i := range partner {
		partner[i] = -1
	}
	free := make([]bool, len(old))
	for j := range free {
		free[j] = true
	}
	pass := func(fits func(o, n candidate) bool) {
		for i, n := range now {
			for j, o := range old {
				if partner[i] < 0 && free[j] && fits(o, n) {
					partner[i], free[j] = j, false
				}
			}
		}
	}
	same := func(o, n candidate) bool { return slices.Equal(o.Inputs, n.Inputs) }
	pass(func(o, n candidate) bool {
		return o.anchor == n.anchor && same(o, n) && slices.Equal(o.Values, n.Values)
	})
	pass(func(o, n candidate) bool { return o.anchor == n.anchor && same(o, n) })
	pass(same)
	pass(func(o, n candidate) bool { return o.anchor == n.anchor && o.anchor != "" })
	// Of two pairs that share as much, the one nearer to the head comes first, then
	// the one less far apart: the same pairs come out when the editions are swapped.
	for {
		best, bi, bj := 0, -1, -1
		for i, n := range now {
			for j, o := range old {
				if partner[i] >= 0 || !free[j] || o.anchor != "" && n.anchor != "" {
					continue
				}
				score := 2 * shared(o.Inputs, n.Inputs)
				if o.ID == n.ID {
					score++
				}
				nearer := score == best && bi >= 0 && (i+j < bi+bj || i+j == bi+bj && max(i, j) < max(bi, bj))
				if score > best || nearer {
					best, bi, bj = score, i, j
				}
			}
		}
		if bi < 0 {
			return partner
		}
		partner[bi], free[bj] = bj, false
	}
}

// shared counts the inputs that two answers have alike.
func shared(a, b []NamedText) int {
	n := 0
	for _, x := range a {
		if slices.Contains(b, x) {
			n++
		}
	}
	return n
}

// changed reports a pair whose printed values differ.
func (c *Changes) changed(d *diff, at place, old, now Answer) (AnswerChange, bool) {
	values := valuesMoved(old, now, d.old.Kerfbook > 1 && d.now.Kerfbook > 1)
	if len(values) == 0 {
		return AnswerChange{}, false
	}
	ch := c.about(d, Changed, at, now)
	ch.Values, ch.Causes = values, d.causes(old, now, d.old.Wasm != d.now.Wasm)
	return ch, true
}

// valuesMoved compares values, and verdicts where they are known: a record of
// version 1 has none.
func valuesMoved(old, now Answer, verdicts bool) []Moved {
	out := movedTexts(old.Values, now.Values)
	if verdicts && old.Verdict != now.Verdict {
		out = append([]Moved{{"verdict", old.Verdict, now.Verdict}}, out...)
	}
	return out
}

// alone reports an answer without a partner: its page came, went or changed.
func (c *Changes) alone(d *diff, s State, at place, a Answer) AnswerChange {
	ch := c.about(d, s, at, a)
	if s == Came {
		ch.Values = movedTexts(nil, a.Values)
	} else {
		ch.Values = movedTexts(a.Values, nil)
	}
	ch.Causes = []Cause{{Kind: "unknown"}}
	state := d.fresh[at.page]
	if at.before {
		state = ""
		if d.gone[at.page] {
			state = Gone
		}
	}
	if state != "" {
		ch.Causes = []Cause{{Kind: "page", Key: at.page, State: state}}
	} else if a.Kind == "default" && d.old.Wasm != d.now.Wasm {
		ch.Causes = []Cause{{Kind: "calculators"}}
	}
	return ch
}

func (c *Changes) about(d *diff, s State, at place, a Answer) AnswerChange {
	p, scheme := d.page[at.page], d.now.Scheme
	if at.before || s == Gone && p.Address == "" {
		p, scheme = d.oldPage[at.page], d.old.Scheme
	}
	ch := AnswerChange{State: s, ID: a.ID, Title: p.Title, Kind: a.Kind, Calculator: a.Calculator, Inputs: a.Inputs, Values: []Moved{}, Causes: []Cause{}}
	if p.Number != "" {
		ch.Sheet = scheme + p.Number
	}
	if ch.Inputs == nil {
		ch.Inputs = []NamedText{}
	}
	return ch
}

// causes lists everything that the answer depends on and that changed: rows it
// used, its inputs, the calculators. What only says where a row comes from
// moves no value. Where nothing of this changed it says that it does not know.
func (d *diff) causes(old, now Answer, program bool) []Cause {
	var out []Cause
	var used []string
	for _, r := range slices.Concat(old.Rows, now.Rows) {
		if !slices.Contains(used, r) {
			used = append(used, r)
		}
	}
	for _, name := range used {
		o, before := d.oldRows[name]
		n, after := d.nowRows[name]
		table, key, _ := strings.Cut(name, " ")
		cause := Cause{Kind: "row", Table: table, Key: key}
		switch {
		case before && after:
			cause.State, cause.Cells = Changed, cellsMoved(o, n, true)
			cause.Cells = slices.DeleteFunc(cause.Cells, func(m Moved) bool { return m.Name == "source" || m.Name == "place" })
			told := o.Cells != nil && n.Cells != nil
			if o.Digest == n.Digest || told && len(cause.Cells) == 0 {
				continue
			}
		case after:
			cause.State = Came
		case before:
			cause.State = Gone
		default:
			continue
		}
		out = append(out, cause)
	}
	if d.lawMoved() && slices.ContainsFunc(used, func(name string) bool { return strings.HasPrefix(name, lawNamedBy+" ") }) {
		out = append(out, Cause{Kind: "law", Table: lawTable})
	}
	if inputs := movedTexts(old.Inputs, now.Inputs); len(inputs) > 0 {
		out = append(out, Cause{Kind: "input", Cells: inputs})
	}
	if program {
		out = append(out, Cause{Kind: "calculators"})
	}
	if len(out) == 0 {
		out = []Cause{{Kind: "unknown"}}
	}
	return out
}

// The table of the law of a pass is read whole: an answer that rests on it names the
// factors of its material, and not every constant.
const lawTable, lawNamedBy = "passlaw", "factors"

// lawMoved reports whether the digest of the law's constants is another in the two
// editions.
func (d *diff) lawMoved() bool {
	of := func(e *Edition) string {
		for _, t := range e.Tables {
			if t.Name == lawTable {
				return t.Digest
			}
		}
		return ""
	}
	return of(d.old) != of(d.now)
}

// Words says a cause in a line.
func (c Cause) Words() string {
	name := strings.TrimSpace(c.Table + " " + c.Key)
	switch c.Kind {
	case "row":
		switch c.State {
		case Came:
			return name + ": a new row"
		case Gone:
			return name + ": the row is gone"
		}
		if len(c.Cells) == 0 {
			return name + ": the row changed"
		}
		return name + ": " + movedWords(c.Cells)
	case "input":
		return "its inputs: " + movedWords(c.Cells)
	case "law":
		return "the constants of the law of a pass moved"
	case "calculators":
		return "the calculators changed"
	case "page":
		switch c.State {
		case Came:
			return "a new page"
		case Gone:
			return "the page is gone"
		}
		return "the page's text"
	}
	return "cause not recorded"
}

func movedWords(list []Moved) string {
	var out []string
	for _, m := range list {
		out = append(out, fmt.Sprintf("%s %s → %s", m.Name, orNone(m.Old), orNone(m.New)))
	}
	return strings.Join(out, ", ")
}

// orNone shows that a value is not there.
func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}
