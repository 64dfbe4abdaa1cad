package job

import (
	"strings"

	"kerfbook/wasm/unit"
)

// vocabulary is what rules may speak of, one fact a line:
//
//	name kind | inputs it comes from
//
// A kind is that of a quantity, or "of" with the words it may be, or "word".
// A line "after DECISION" starts those that are known only after it; they
// depend on that decision beside what they name. Every decision that is a
// choice is itself a fact after it is taken.
const vocabulary = `aim of as-decided cheapest finest safest |
asks of maximum plus-minus minimum sharp none | asks
radius length | radius asks drawing
angle angle | angle drawing
slot length | slot drawing
tooth length | tooth
height length | thickness
material word | material
condition of hardened annealed sintered ground | condition
cobalt percent | cobalt material
size length | size
grows length | size material
tolerance length | size
tenth-tolerance length | size
finish roughness | finish
measured of not-said along across | measured
datum of not-said edges hole | datum
taper angle | taper
kind of opening punch | kind
length length | length drawing
openings count | openings
quantity count | quantity
drawing of yes no | drawing
oil of allowed no | oil
start-hole of allowed no | start-hole
unattended of no yes | unattended
nozzles of both one-off both-off stepped | nozzles
card of chosen any | machine
card-water of yes no | machine
card-oil of yes no | machine
wire-water length | radius asks angle slot machine drawing
wire-oil length | radius asks angle slot machine drawing
corner-wire length | radius asks machine drawing
slot-wire length | slot machine drawing
water-reaches of even last no | radius asks slot machine drawing
wall-ratio ratio | tooth thickness
slot-ratio ratio | slot thickness drawing
slug-width length | slug-width length drawing
currency word |
slug-mass mass | slug-width length thickness material drawing
tolerance-passes count | size
finish-passes count | finish
after roughing
reach-wire length | radius asks angle slot machine drawing dielectric
wire-by of even last no | radius asks angle slot machine drawing dielectric
next-wire length | radius asks angle slot machine drawing dielectric
next-needs length | radius asks angle slot machine drawing dielectric
next-slot length | radius asks angle slot machine drawing dielectric
card-most length | machine
after wire
wire length |
reaches of even last no | radius asks slot machine drawing
wire-left length |
wire-needs length |
slot-needs length |
wire-sure length |
rough-kerf length |
better-wire length | radius asks angle slot machine drawing dielectric
slug-kerfs ratio | slug-width length drawing
finest-left length | machine oil
other-card word | radius asks angle slot machine thickness drawing oil
slot-takes of skims one-pass no unknown | slot drawing
after machine
pull ratio | wire wire-type
card-pull-least ratio | machine
card-takes of yes dielectric wire height taper | machine thickness taper
card-plus of yes no |
card-alternating of yes no |
card-pull word |
card-conducts ratio |
card-taper angle | thickness
found of yes no | thickness
least-hole length |
card-name word | machine thickness
pulls-alone of yes no |
hole-least length | wire thickness
hole-fits of yes tight no | wire kind slug-width length thickness drawing
after passes
passes count |
ra roughness | machine material thickness
ra-best roughness | machine material thickness
barrel length | thickness wire wire-type
skim-word word |
left-now length | wire dielectric
spool-hours ratio | wire wire-type
hours ratio | machine material thickness length nozzles openings
all-hours ratio | machine material thickness length nozzles openings quantity
after slug
nothing word | openings
after inspection
own-wire of yes no |
own-passes of yes no |
`

// kinds are the quantities of the vocabulary.
func kindOf(word string) unit.Kind {
	switch word {
	case "length":
		return unit.LengthKind
	case "angle":
		return unit.AngleKind
	case "percent":
		return unit.PercentKind
	case "roughness":
		return unit.RoughnessKind
	case "count":
		return unit.CountKind
	case "mass":
		return unit.MassKind
	}
	return unit.RatioKind
}

// fact is one word of the vocabulary.
type fact struct {
	name    string
	kind    unit.Kind // 0 for a word
	options []string  // nil for any word
	after   int       // how many decisions are taken when it is known
	from    []string
}

// numeric reports whether the fact is a number.
func (f fact) numeric() bool { return f.kind != 0 }

// readVocabulary reads the facts, with the decisions that are choices as facts
// too.
func (r *rules) readVocabulary() ([]fact, map[string]int) {
	var list []fact
	after, decision := 0, ""
	for text := vocabulary; text != ""; {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		if name, ok := strings.CutPrefix(line, "after "); ok {
			decision, after = name, r.stage(name)+1
			continue
		}
		head, from, _ := strings.Cut(line, "|")
		w := strings.Fields(head)
		f := fact{name: w[0], after: after, from: strings.Fields(from)}
		if decision != "" {
			f.from = append(f.from, decision)
		}
		switch w[1] {
		case "of":
			f.options = w[2:]
		case "word":
		default:
			f.kind = kindOf(w[1])
		}
		list = append(list, f)
	}
	for i, d := range r.steps {
		if d.kind == choice || d.kind == worst {
			list = append(list, fact{name: d.name, options: r.words(d.name), after: i + 1, from: []string{d.name}})
		}
	}
	names := map[string]int{}
	for i, f := range list {
		names[f.name] = i
	}
	return list, names
}

// facts are what is known of one job.
type facts struct {
	of    *rules
	num   []float64
	text  []string
	known []bool
}

func (r *rules) newFacts() *facts {
	n := len(r.facts)
	return &facts{of: r, num: make([]float64, n), text: make([]string, n), known: make([]bool, n)}
}

// clear forgets everything, to be used for another job.
func (f *facts) clear() { clear(f.known) }

// number notes a quantity in the base unit of its kind.
func (f *facts) number(name string, v float64) {
	i := f.of.names[name]
	f.num[i], f.known[i] = v, true
}

// word notes a word.
func (f *facts) word(name, v string) {
	i := f.of.names[name]
	f.text[i], f.known[i] = v, true
}

// flag notes yes or no.
func (f *facts) flag(name string, on bool) {
	if on {
		f.word(name, "yes")
	} else {
		f.word(name, "no")
	}
}

// at is a quantity, zero when it is not known.
func (f *facts) at(name string) float64 {
	if i := f.of.names[name]; f.known[i] {
		return f.num[i]
	}
	return 0
}

// is reports whether a word stands so.
func (f *facts) is(name, v string) bool {
	i := f.of.names[name]
	return f.known[i] && f.text[i] == v
}

// get is a word, "" when it is not known.
func (f *facts) get(name string) string {
	if i := f.of.names[name]; f.known[i] {
		return f.text[i]
	}
	return ""
}

// knows reports whether a fact is known.
func (f *facts) knows(name string) bool { return f.known[f.of.names[name]] }
