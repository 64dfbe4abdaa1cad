package rules

import (
	"slices"
	"strings"
)

// From says for every decision which inputs and decisions it depends on: through
// its rules, through what speaks against the user's own choice, and through what
// its line prints. besides names facts that a decision depends on otherwise;
// behind names those behind the answers of a calculator whose name stands in a
// text. It is the same for every case.
func (t *Table) From(besides func(decision string) []string, behind func(id string) []string) map[string][]string {
	out := map[string][]string{}
	for i := range t.Steps {
		d := &t.Steps[i]
		names, texts := t.read(i)
		names = append(names, besides(d.Name)...)
		for _, name := range named(texts) {
			if id, _, sub := strings.Cut(name, "."); sub {
				names = append(names, behind(id)...)
			} else {
				names = append(names, name)
			}
		}
		var from []string
		for _, name := range names {
			f, ok := t.names[name]
			if !ok {
				continue
			}
			for _, n := range t.Terms[f].from {
				if n != d.Name && !slices.Contains(from, n) {
					from = append(from, n)
				}
			}
		}
		slices.Sort(from)
		out[d.Name] = from
	}
	return out
}

// read is the facts that the rules of a decision compare, and the texts that its
// line may print.
func (t *Table) read(stage int) (names []string, texts string) {
	one := func(rule *Rule) {
		for _, c := range rule.when {
			names = append(names, t.Terms[c.fact].Name)
			if c.other >= 0 {
				names = append(names, t.Terms[c.other].Name)
			}
		}
		if rule.fact >= 0 {
			names = append(names, t.Terms[rule.fact].Name)
		}
		texts += rule.Text
	}
	for _, k := range t.by[stage] {
		one(&t.List[k])
	}
	name := t.Steps[stage].Name
	for i := range t.Steps {
		if t.Steps[i].Kind != Against {
			continue
		}
		for _, k := range t.by[i] {
			if t.List[k].Asks == name {
				one(&t.List[k])
			}
		}
	}
	for _, row := range t.Options[name] {
		texts += row.Cell("what") + row.Cell("range")
	}
	return names, texts
}
