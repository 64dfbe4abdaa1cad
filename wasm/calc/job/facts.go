package job

import (
	"strings"

	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// fact is one word that rules may speak of, by its place in the vocabulary. A
// misspelt one does not compile.
type fact int

// The facts: the reader's, then those worked out, then the decisions that are
// choices, each of which is a fact once it is taken.
const (
	factAim fact = iota
	factAsks
	factRadius
	factAngle
	factSlot
	factTooth
	factHeight
	factMaterial
	factCondition
	factCobalt
	factSize
	factGrows
	factTolerance
	factTenthTolerance
	factFinish
	factMeasured
	factDatum
	factTaper
	factKind
	factLength
	factOpenings
	factQuantity
	factDrawing
	factOil
	factStartHole
	factUnattended
	factNozzles
	factCard
	factCardWater
	factCardOil
	factWireWater
	factWireOil
	factCornerWire
	factSlotWire
	factWaterReaches
	factWallRatio
	factSlotRatio
	factSlugWidth
	factCurrency
	factSlugMass
	factTolerancePasses
	factFinishPasses
	factReachWire
	factWireBy
	factNextWire
	factNextNeeds
	factNextSlot
	factCardMost
	factWire
	factReaches
	factWireLeft
	factWireNeeds
	factSlotNeeds
	factWireSure
	factRoughKerf
	factBetterWire
	factSlugKerfs
	factFinestLeft
	factOtherCard
	factSlotTakes
	factPull
	factCardPullLeast
	factCardTakes
	factCardPlus
	factCardAlternating
	factCardPull
	factCardConducts
	factCardTaper
	factFound
	factLeastHole
	factCardName
	factPullsAlone
	factHoleLeast
	factHoleFits
	factStartDistance
	factPasses
	factRa
	factRaBest
	factBarrel
	factSkimWord
	factLeftNow
	factSpoolHours
	factHours
	factAllHours
	factNothing
	factOwnWire
	factOwnPasses
	factDrives
	factDielectric
	factRoughing
	factWireType
	factMachine
	factFlushing
	factPolarity
	factCan
	factStart
	factThreading
	factAfterBreak
	factTension
	factTilt
	factSlug
	factOrder
	factRelax
	factLeadIn
	factDirection
	factClamping
	factPickup
	factSurface
	factCobaltLoss
	factShape
	factWarmth
	factTime
	factSpool
	factInspection
	factCount // how many there are
)

// vocabulary is what rules may speak of, one fact a line in the order of the
// constants (a test holds them together):
//
//	name kind @decision | inputs it comes from
//
// A kind is that of a quantity, or "of" with the words it may be, or "word", or
// "decision" for one that is a choice. What has an @ is known only after that
// decision, and depends on it beside what it names.
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
reach-wire length @roughing | radius asks angle slot machine drawing dielectric
wire-by of even last no @roughing | radius asks angle slot machine drawing dielectric
next-wire length @roughing | radius asks angle slot machine drawing dielectric
next-needs length @roughing | radius asks angle slot machine drawing dielectric
next-slot length @roughing | radius asks angle slot machine drawing dielectric
card-most length @roughing | machine
wire length @wire |
reaches of even last no @wire | radius asks slot machine drawing
wire-left length @wire |
wire-needs length @wire |
slot-needs length @wire |
wire-sure length @wire |
rough-kerf length @wire |
better-wire length @wire | radius asks angle slot machine drawing dielectric
slug-kerfs ratio @wire | slug-width length drawing
finest-left length @wire | machine oil
other-card word @wire | radius asks angle slot machine thickness drawing oil
slot-takes of skims one-pass no unknown @wire | slot drawing
pull ratio @machine | wire wire-type
card-pull-least ratio @machine | machine
card-takes of yes dielectric wire height taper @machine | machine thickness taper
card-plus of yes no @machine |
card-alternating of yes no @machine |
card-pull word @machine |
card-conducts ratio @machine |
card-taper angle @machine | thickness
found of yes no @machine | thickness
least-hole length @machine |
card-name word @machine | machine thickness
pulls-alone of yes no @machine |
hole-least length @machine | wire thickness
hole-fits of yes tight no @machine | wire kind slug-width length thickness drawing
start-distance length @machine | wire kind slug-width length thickness drawing
passes count @passes |
ra roughness @passes | machine material thickness
ra-best roughness @passes | machine material thickness
barrel length @passes | thickness wire wire-type
skim-word word @passes |
left-now length @passes | wire dielectric
spool-hours ratio @passes | wire wire-type
hours ratio @passes | machine material thickness length nozzles openings
all-hours ratio @passes | machine material thickness length nozzles openings quantity
nothing word @slug | openings
own-wire of yes no @inspection |
own-passes of yes no @inspection |
drives decision |
dielectric decision |
roughing decision |
wire-type decision |
machine decision |
flushing decision |
polarity decision |
can decision |
start decision |
threading decision |
after-break decision |
tension decision |
tilt decision |
slug decision |
order decision |
relax decision |
lead-in decision |
direction decision |
clamping decision |
pickup decision |
surface decision |
cobalt-loss decision |
shape decision |
warmth decision |
time decision |
spool decision |
inspection decision |`

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

// term is one fact as the vocabulary has it.
type term struct {
	name    string
	kind    unit.Kind // 0 for a word
	options []string  // nil for any word
	after   int       // how many decisions are taken when it is known
	from    []string
}

// numeric reports whether the fact is a number.
func (f term) numeric() bool { return f.kind != 0 }

// readVocabulary reads the facts and their names.
func (r *rules) readVocabulary() {
	r.names = map[string]fact{}
	for i, line := range strings.Split(vocabulary, "\n") {
		head, from, _ := strings.Cut(line, "|")
		head, decision, later := strings.Cut(head, "@")
		w := strings.Fields(head)
		f := term{name: w[0], from: strings.Fields(from)}
		if later {
			decision = strings.TrimSpace(decision)
			f.after, f.from = r.stage(decision)+1, append(f.from, decision)
		}
		switch w[1] {
		case "of":
			f.options = w[2:]
		case "word":
		case "decision":
			f.options, f.after, f.from = r.words(f.name), r.stage(f.name)+1, []string{f.name}
		default:
			f.kind = kindOf(w[1])
		}
		r.facts = append(r.facts, f)
		r.names[f.name] = fact(i)
	}
	for i := range r.steps {
		if d := &r.steps[i]; d.kind != all {
			d.fact = r.fact(d.name)
		}
	}
}

// fact is a fact named in one of this package's own lists. A name that is not in
// the vocabulary is a slip of ours, and every job comes here.
func (r *rules) fact(name string) fact {
	i, ok := r.names[name]
	if !ok {
		panic("job: there is no fact " + spell.Straight(name))
	}
	return i
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
func (f *facts) number(i fact, v float64) {
	f.num[i], f.known[i] = v, true
}

// word notes a word.
func (f *facts) word(i fact, v string) {
	f.text[i], f.known[i] = v, true
}

// flag notes yes or no.
func (f *facts) flag(i fact, on bool) {
	if on {
		f.word(i, "yes")
	} else {
		f.word(i, "no")
	}
}

// at is a quantity, zero when it is not known.
func (f *facts) at(i fact) float64 {
	if f.known[i] {
		return f.num[i]
	}
	return 0
}

// is reports whether a word stands so.
func (f *facts) is(i fact, v string) bool {
	return f.known[i] && f.text[i] == v
}

// get is a word, "" when it is not known.
func (f *facts) get(i fact) string {
	if f.known[i] {
		return f.text[i]
	}
	return ""
}

// knows reports whether a fact is known.
func (f *facts) knows(i fact) bool { return f.known[i] }
