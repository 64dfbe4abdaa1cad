package job

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// derived is a word after a colon in the table of inputs: a text that is not one
// fact.
type derived struct {
	word string
	from string               // the facts behind it
	text func(s *subs) string // nil, or "" from it: the text as the reader typed it
}

// derivations are all of them.
func derivations() []derived {
	return []derived{
		{"radius", "radius asks", nil},
		{"size", "tolerance", nil},
		{"led", "pulls-alone", (*subs).led},
		{"last-pass", "passes", func(s *subs) string { return s.job.lastPass() }},
		{"machine", "card card-takes", func(s *subs) string { return s.job.machine() }},
		{"path", "length openings", func(s *subs) string {
			return inUnit(s.job.Facts.Number(factLength)*s.job.Facts.Number(factOpenings), "mm")
		}},
		{"tabs", "slug openings", (*subs).tabs},
		{"starts", "openings passes", func(s *subs) string {
			return strconv.Itoa(int(s.job.starts(int(s.job.Facts.Number(factPasses)))))
		}},
		{"hole", "start least-hole", (*subs).hole},
		{"from", "start", func(s *subs) string { return s.either(factStart, "edge", "hole") }},
		{"distance", "start start-distance", (*subs).distance},
		{"from-datum", "pickup", func(s *subs) string { return s.either(factPickup, "edge", "hole") }},
		{"half-tolerance", "tolerance", func(s *subs) string { return inUnit(s.job.Facts.Number(factTolerance)/2, "mm") }},
		{"skims", "passes", func(s *subs) string { return strconv.Itoa(int(s.job.Facts.Number(factPasses)) - 1) }},
		{"slug-length", "slug-width length", (*subs).slugLength},
		{"pair", "passes", (*subs).pair},
		{"stock", "wire dielectric material height", (*subs).stock},
		{"low-water", "", (*subs).lowWater},
		{"gap", "wire dielectric card card-takes material height", (*subs).roughGap},
		{"pull", "passes wire wire-type card card-takes taper", func(s *subs) string { return s.pull(s.job.Facts.Number(factPasses) > 1) }}, // the wall that is measured is the last pass's
		{"pull-skim", "wire wire-type card card-takes taper", func(s *subs) string { return s.pull(true) }},
		{"skim-pass", "passes", (*subs).skimPass},
		{"what", "radius asks slot", (*subs).what},
		// What the reader typed after the cut, or for it; no line depends on these.
		{"cut-name", "", nil}, {"trial", "", nil}, {"nominal", "", nil}, {"found", "", nil}, {"test-slot", "", nil}, {"offsets", "", nil}, {"gaps", "", nil}, {"got-ra", "", nil},
	}
}

// derivation is the one of a word. One that is not there is a slip in the table of
// inputs.
func derivation(list []derived, word string) *derived {
	for i := range list {
		if list[i].word == word {
			return &list[i]
		}
	}
	panic("job: nothing is derived as " + spell.Straight(word))
}

// derive is the text of a word.
func (s *subs) derive(word string) string {
	if d := derivation(s.job.derived, word); d.text != nil {
		if text := d.text(s); text != "" {
			return text
		}
	}
	return s.typed[word]
}

// behind are the facts behind the answers of another calculator.
func behind(id string) []string {
	var out []string
	all := derivations()
	for _, pair := range strings.Fields(line(id)) {
		if _, fact, ok := strings.Cut(pair, "="); ok {
			out = append(out, fact)
		} else if _, word, ok := strings.Cut(pair, ":"); ok {
			out = append(out, strings.Fields(derivation(all, word).from)...)
		}
	}
	return out
}

// From says for every decision which inputs and decisions it depends on. It is
// the same for every job, so the browser does not carry it.
func From(b *book.Book) map[string][]string {
	return rules.Read(b, language()).From(func(decision string) []string {
		switch decision {
		case "wire", "passes", "dielectric": // weighed together
			return []string{"dielectric", "roughing", "wire", "wire-type", "slug", "flushing", "card", "material", "height", "cobalt", "taper", "slug-width", "kind", "start-hole", "unattended", "openings", "length", "quantity", "tooth"}
		case "machine":
			return []string{"wire", "dielectric", "height"}
		}
		return nil
	}, behind)
}

// either is a word if the fact has it, and the other one if not.
func (s *subs) either(i rules.Fact, word, other string) string {
	if s.job.Facts.Is(i, word) {
		return word
	}
	return other
}

// led is by the card: a machine that threads itself leads the wire.
func (s *subs) led() string {
	if s.job.Facts.Is(factPullsAlone, "yes") {
		return "jet"
	}
	return "pushed"
}

func (s *subs) tabs() string {
	if s.job.Facts.Is(factSlug, "tab") {
		return strconv.Itoa(int(s.job.Facts.Number(factOpenings)))
	}
	return "0"
}

func (s *subs) hole() string {
	if s.job.Facts.Is(factStart, "hole") {
		if v, ok := s.value("start", "smallest"); ok {
			return inUnit(math.Max(v.High, s.job.Facts.Number(factLeastHole)), "mm")
		}
	}
	return ""
}

// distance is to the edge as usual; a hole stands off as far as it needs.
func (s *subs) distance() string {
	if s.job.Facts.Is(factStart, "edge") {
		return inUnit(usualDistance, "mm")
	}
	return s.job.Facts.Spell(factStartDistance)
}

func (s *subs) slugLength() string {
	width := s.job.Facts.Number(factSlugWidth)
	return inUnit(math.Max(width, s.job.Facts.Number(factLength)/2-width), "mm")
}

func (s *subs) pair() string {
	switch n := s.job.Facts.Number(factPasses); {
	case n < 2:
		return "rough"
	case n < 4:
		return "skim"
	}
	return "fine"
}

func (s *subs) stock() string {
	left := s.job.toolOf(unit.Length(s.job.Facts.Number(factWire)), s.job.Facts.Word(factDielectric)).left
	return inUnit(left.Likely, "mm")
}

func (s *subs) lowWater() string {
	if row, ok := s.job.book.Find("waters", "carbide"); ok {
		return row.Cell("target_low_uscm") + " to " + row.Cell("target_high_uscm") + " µS/cm"
	}
	return ""
}

func (s *subs) roughGap() string {
	q := s.job.cut()
	q.Flushing = ""
	g := calc.GapRange(s.job.book, q, "rough")
	return inUnit(g.Likely, "mm")
}

func (s *subs) pull(skim bool) string {
	name := "tension-rough"
	if skim {
		name = "tension-skim"
	}
	if v, ok := s.value("wire", name); ok {
		return inUnit(v.Likely, "N")
	}
	return ""
}

func (s *subs) skimPass() string {
	if s.job.Facts.Number(factPasses) > 1 {
		return "skim"
	}
	return "full"
}

func (s *subs) what() string {
	switch {
	case s.job.Facts.Knows(factRadius):
		return "corner"
	case s.job.Facts.Knows(factSlot):
		return "slot"
	}
	return "finish"
}
