package job

import (
	"slices"
	"strings"

	"kerfbook/wasm/book"
)

// From says for every decision which inputs and decisions it depends on. It is
// the same for every job, so the browser does not carry it.
func From(b *book.Book) map[string][]string {
	r := readRules(b)
	out := map[string][]string{}
	for i, d := range r.steps {
		out[d.name] = r.from(i)
	}
	return out
}

// from names the inputs and decisions that a decision depends on: through every
// rule of its own, and through what its line prints.
func (r *rules) from(stage int) []string {
	var out []string
	add := func(names ...string) {
		for _, n := range names {
			if !slices.Contains(out, n) && n != r.steps[stage].name {
				out = append(out, n)
			}
		}
	}
	use := func(name string) {
		if i, ok := r.names[name]; ok {
			add(r.facts[i].from...)
		}
	}
	texts := ""
	for _, k := range r.by[stage] {
		rule := &r.list[k]
		for _, c := range rule.when {
			use(r.facts[c.fact].name)
			if c.other >= 0 {
				use(r.facts[c.other].name)
			}
		}
		if rule.fact >= 0 {
			use(r.facts[rule.fact].name)
		}
		texts += rule.Text
	}
	for _, k := range r.by[r.stage("against")] { // what speaks against the reader's choice
		if rule := &r.list[k]; rule.Asks == r.steps[stage].name {
			for _, c := range rule.when {
				use(r.facts[c.fact].name)
			}
			texts += rule.Text
		}
	}
	for _, row := range r.options[r.steps[stage].name] {
		texts += row.Cell("what") + row.Cell("range")
	}
	switch r.steps[stage].name {
	case "wire": // looked for in the corner and in the slot
		for _, n := range []string{"wire-water", "dielectric", "roughing", "card"} {
			use(n)
		}
	case "machine":
		add("wire", "dielectric", "thickness")
	}
	for _, name := range named(texts) {
		id, _, sub := cut(name, ".")
		if !sub {
			use(name)
			continue
		}
		for _, what := range reached(id) {
			use(what)
		}
	}
	slices.Sort(out)
	return out
}

// reached are the facts behind the answers of another calculator.
func reached(id string) []string {
	var out []string
	for _, pair := range strings.Fields(line(id)) {
		if _, what, ok := cut(pair, "="); ok {
			out = append(out, what)
			continue
		}
		_, what, _ := cut(pair, ":")
		switch what {
		case "radius":
			out = append(out, "radius", "asks")
		case "size":
			out = append(out, "tolerance")
		case "machine":
			out = append(out, "card", "card-takes")
		case "plain":
			out = append(out, "material")
		case "path":
			out = append(out, "length", "openings")
		case "tabs":
			out = append(out, "slug", "openings")
		case "hole":
			out = append(out, "start", "least-hole")
		case "from":
			out = append(out, "start")
		case "distance":
			out = append(out, "start", "start-distance")
		case "from-datum":
			out = append(out, "pickup")
		case "skims", "pair", "skim-pass", "last-pass":
			out = append(out, "passes")
		case "slug-length":
			out = append(out, "slug-width", "length")
		case "stock":
			out = append(out, "wire")
		case "gap":
			out = append(out, "wire", "dielectric")
		case "pull", "pull-skim":
			out = append(out, "wire", "wire-type", "card", "card-takes", "taper")
		case "what":
			out = append(out, "radius", "asks", "slot")
		}
	}
	return out
}
