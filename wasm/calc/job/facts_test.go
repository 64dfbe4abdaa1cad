package job

import (
	"kerfbook/wasm/rules"
	"strings"
	"testing"
)

// spelt is every constant by the name that the vocabulary must have at its place.
var spelt = [factCount]string{
	factAim:             "aim",
	factAsks:            "asks",
	factRadius:          "radius",
	factAngle:           "angle",
	factSlot:            "slot",
	factTooth:           "tooth",
	factHeight:          "height",
	factMaterial:        "material",
	factBrittle:         "brittle",
	factCondition:       "condition",
	factCobalt:          "cobalt",
	factSize:            "size",
	factGrows:           "grows",
	factTolerance:       "tolerance",
	factTenthTolerance:  "tenth-tolerance",
	factReadingShare:    "reading-share",
	factFinish:          "finish",
	factMeasured:        "measured",
	factDatum:           "datum",
	factTaper:           "taper",
	factKind:            "kind",
	factLength:          "length",
	factOpenings:        "openings",
	factQuantity:        "quantity",
	factDrawing:         "drawing",
	factOil:             "oil",
	factStartHole:       "start-hole",
	factUnattended:      "unattended",
	factNozzles:         "nozzles",
	factCard:            "card",
	factCardWater:       "card-water",
	factCardOil:         "card-oil",
	factCornerWire:      "corner-wire",
	factSlotWire:        "slot-wire",
	factWallRatio:       "wall-ratio",
	factSlotRatio:       "slot-ratio",
	factSlugWidth:       "slug-width",
	factCurrency:        "currency",
	factSlugMass:        "slug-mass",
	factSlugSaid:        "slug-said",
	factHalfLength:      "half-length",
	factLean:            "lean",
	factTolerancePasses: "tolerance-passes",
	factWire:            "wire",
	factReaches:         "reaches",
	factWireLeft:        "wire-left",
	factTallest:         "tallest",
	factTallRatio:       "tall-ratio",
	factWireNeeds:       "wire-needs",
	factSlotNeeds:       "slot-needs",
	factWireSure:        "wire-sure",
	factRoughKerf:       "rough-kerf",
	factBetterWire:      "better-wire",
	factSlugKerfs:       "slug-kerfs",
	factFinestLeft:      "finest-left",
	factOtherCard:       "other-card",
	factSlotTakes:       "slot-takes",
	factPull:            "pull",
	factCardPullLeast:   "card-pull-least",
	factCardTakes:       "card-takes",
	factCardPlus:        "card-plus",
	factCardAlternating: "card-alternating",
	factCardPull:        "card-pull",
	factCardConducts:    "card-conducts",
	factCardTaper:       "card-taper",
	factFound:           "found",
	factLeastHole:       "least-hole",
	factCardName:        "card-name",
	factPullsAlone:      "pulls-alone",
	factHoleLeast:       "hole-least",
	factStartDistance:   "start-distance",
	factHoleFits:        "hole-fits",
	factWeighed:         "weighed-dielectric",
	factStands:          "weighed-stands",
	factOtherWhy:        "other-why",
	factWeighedWire:     "weighed-wire",
	factWeighedPasses:   "weighed-passes",
	factThickerWire:     "thicker-wire",
	factThickerWhy:      "thicker-why",
	factFinerWire:       "finer-wire",
	factFinerWhy:        "finer-why",
	factFewerWhy:        "fewer-why",
	factFailShare:       "fail-share",
	factSeveral:         "several",
	factCornerShare:     "corner-share",
	factSlotShare:       "slot-share",
	factFinishShare:     "finish-share",
	factRaSure:          "ra-sure",
	factPasses:          "passes",
	factRa:              "ra",
	factRaBest:          "ra-best",
	factBarrel:          "barrel",
	factSkimWord:        "skim-word",
	factLeftNow:         "left-now",
	factSpoolHours:      "spool-hours",
	factHours:           "hours",
	factMostHours:       "most-hours",
	factAllHours:        "all-hours",
	factNothing:         "nothing",
	factOwnWire:         "own-wire",
	factOwnPasses:       "own-passes",
	factDrives:          "drives",
	factDielectric:      "dielectric",
	factRoughing:        "roughing",
	factWireType:        "wire-type",
	factMachine:         "machine",
	factFlushing:        "flushing",
	factPolarity:        "polarity",
	factCan:             "can",
	factStart:           "start",
	factThreading:       "threading",
	factAfterBreak:      "after-break",
	factTension:         "tension",
	factTilt:            "tilt",
	factSlug:            "slug",
	factOrder:           "order",
	factRelax:           "relax",
	factLeadIn:          "lead-in",
	factDirection:       "direction",
	factClamping:        "clamping",
	factPickup:          "pickup",
	factSurface:         "surface",
	factCobaltLoss:      "cobalt-loss",
	factShape:           "shape",
	factWarmth:          "warmth",
	factTime:            "time",
	factSpool:           "spool",
	factInspection:      "inspection",
}

// TestFacts: every constant stands for the fact of its name, every decision that
// is settled is a fact, and every name that this package looks up in its own lists is
// in the vocabulary.
func TestFacts(t *testing.T) {
	r := rules.Read(readBook(t), language())
	if len(r.Terms) != int(factCount) {
		t.Fatalf("%d facts, %d constants", len(r.Terms), factCount)
	}
	for i, name := range spelt {
		if r.Terms[i].Name != name {
			t.Errorf("the constant for %q stands for %q", name, r.Terms[i].Name)
		}
		if f, ok := r.Find(name); !ok || int(f) != i {
			t.Errorf("the name %q is that of fact %d, not of %d", name, f, i)
		}
	}
	for i := range r.Steps {
		d := &r.Steps[i]
		if _, is := r.Find(d.Name); is != d.Settles() {
			t.Errorf("the decision %s is a fact: %v", d.Name, is)
		}
	}
	known := func(where, name string) {
		if _, ok := r.Find(name); !ok {
			t.Errorf("%s: there is no fact %q", where, name)
		}
	}
	for i, line := range strings.Split(vocabulary, "\n") {
		if _, later, ok := strings.Cut(line, "@"); ok {
			decision, _, _ := strings.Cut(later, "|")
			if r.Stage(strings.TrimSpace(decision)) < 0 {
				t.Errorf("%s is known after %q, which is no decision", r.Terms[i].Name, strings.TrimSpace(decision))
			}
		}
	}
	for line := range strings.Lines(inputs) {
		id, _, _ := strings.Cut(line, " ")
		for _, name := range behind(id) { // a word that nothing is derived as panics here
			known("what is behind "+id, name)
		}
	}
	for _, d := range derivations() {
		if !strings.Contains(inputs, ":"+d.word+" ") && !strings.Contains(inputs, ":"+d.word+"\n") {
			t.Errorf("no calculator is asked for what is derived as %s", d.word)
		}
	}
}

// TestUnknownWord: a misspelt word of the table of inputs stops the first job that
// asks for it; it is not left empty.
func TestUnknownWord(t *testing.T) {
	defer func() {
		if text, _ := recover().(string); text != `job: nothing is derived as "last-pas"` {
			t.Errorf("says %q", text)
		}
	}()
	(&subs{job: &job{cache: newCache(readBook(t))}}).derive("last-pas")
}
