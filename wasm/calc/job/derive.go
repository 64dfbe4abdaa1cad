package job

import (
	"math"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc/bow"
	"kerfbook/wasm/calc/start"
	"kerfbook/wasm/calc/taper"
	"kerfbook/wasm/calc/wire"
	"kerfbook/wasm/unit"
)

// may reports whether the reader's machine and shop have a dielectric.
func (j *job) may(dielectric string) bool {
	if dielectric == "oil" {
		return j.Facts.Is(factCardOil, "yes") && !j.Facts.Is(factOil, "no")
	}
	return j.Facts.Is(factCardWater, "yes")
}

// afterRoughing notes the wire that corner and slot come to in the dielectric
// taken, before any other bound, and what the next thicker one would need.
func (j *job) afterRoughing() {
	f := j.Facts
	tools := j.tools(f.Word(factDielectric))
	last := f.Is(factRoughing, "last")
	t, by := j.largest(tools, math.Inf(1), 0)
	if last {
		if only, ok := j.lastOnly(tools, math.Inf(1)); ok {
			t, by = only, "last"
		}
	}
	f.SetNumber(factReachWire, float64(t.wire))
	f.SetWord(factWireBy, by)
	for _, n := range tools {
		if n.wire <= t.wire+same {
			continue
		}
		if !j.listed(n.wire) {
			f.SetNumber(factCardMost, j.chosen.Num("wire_to_mm"))
			break
		}
		in, takes := j.reach(n)
		f.SetNumber(factNextWire, float64(n.wire))
		switch {
		case takes == "no":
			f.SetNumber(factNextSlot, float64(n.kerf()))
		case takes == "one-pass" && !last:
			f.SetNumber(factNextSlot, float64(n.all()))
		case in == "no" && last:
			f.SetNumber(factNextNeeds, float64(n.last()))
		case in != "even":
			f.SetNumber(factNextNeeds, float64(n.even()))
		}
		break
	}
}

// pulses notes what else the reader's card says: its polarities, its tension, the
// conductivity of its water and its steepest taper. Without a card any polarity may be had.
func (j *job) pulses() {
	f := j.Facts
	plus, alternating := true, true
	if c := j.chosen; c != nil {
		plus, alternating = hasWord(c.Cell("polarities"), "wire-plus"), hasWord(c.Cell("polarities"), "alternating")
		f.SetWord(factCardPull, c.Cell("tension_from_n")+" to "+c.Cell("tension_to_n")+" N")
		f.SetNumber(factCardPullLeast, c.Num("tension_from_n"))
		if c.Cell("conductivity_from_uscm") != "" {
			f.SetNumber(factCardConducts, c.Num("conductivity_from_uscm"))
		}
		f.SetNumber(factCardTaper, float64(taper.OfCard(c, unit.Length(f.Number(factHeight)))))
	}
	if t, ok := j.book.Find("wiretypes", f.Word(factWireType)); ok {
		f.SetNumber(factPull, roughShare*float64(wire.Breaking(unit.Stress(t.Num("uts_likely_mpa")), unit.Length(f.Number(factWire)))))
	}
	f.SetFlag(factCardPlus, plus)
	f.SetFlag(factCardAlternating, alternating)
}

// hole notes whether a start hole that threads the wire goes into what falls out.
func (j *job) hole() {
	f := j.Facts
	floor := unit.Length(0)
	if j.machine() != "any" {
		floor = unit.Length(j.chosen.Num("hole_mm"))
	}
	least := start.Least(unit.Length(f.Number(factWire)), unit.Length(f.Number(factHeight)), floor, f.Is(factPullsAlone, "yes"))
	f.SetNumber(factHoleLeast, least.Low)
	f.SetWord(factHoleFits, "yes")
	// The hole stands off as usual, or as far as one that threads needs in every case;
	// an opening's no farther than the middle of what falls out.
	left := j.toolOf(unit.Length(f.Number(factWire)), f.Word(factDielectric)).left
	short := float64(least.High-start.Most(usualDistance, left).Low) / 2
	distance := usualDistance + math.Max(0, math.Ceil(short*2)/2)
	if f.Is(factKind, "opening") {
		distance = math.Min(distance, f.Number(factSlugWidth)/2)
	}
	f.SetNumber(factStartDistance, distance)
	if !f.Is(factKind, "opening") {
		return
	}
	most := start.Most(unit.Length(f.Number(factSlugWidth)/2), left)
	switch {
	case most.High < least.Low-same:
		f.SetWord(factHoleFits, "no")
	case most.Low < least.High-same:
		f.SetWord(factHoleFits, "tight")
	}
}

// spoolFeed is the wire speed as the calculator of wires has it. Common practice, no
// source.
const spoolFeed unit.Speed = 10000

// skimShare is the middle of the tension in the skims, as a share of what breaks
// the wire; roughShare that of roughing: the calculator of wires has the ranges.
const skimShare, roughShare = 0.4, 0.275

// bends notes what depends on the wire and the number of passes: how hollow or round
// the last pass leaves a wall, and how long a spool lasts.
func (j *job) bends(n int) {
	f := j.Facts
	t, ok := j.book.Find("wiretypes", f.Word(factWireType))
	d := unit.Length(f.Number(factWire))
	if !ok {
		return
	}
	if n > 1 {
		push, _ := j.book.Find("pushes", "skim")
		pull := skimShare * wire.Breaking(unit.Stress(t.Num("uts_likely_mpa")), d)
		f.SetNumber(factBarrel, float64(bow.Barrel(unit.Length(f.Number(factHeight)), unit.LineLoad(push.Num("load_likely_npm")), pull)))
		word := "skims"
		if n == 2 {
			word = "skim"
		}
		f.SetWord(factSkimWord, word)
	}
	full, _ := wire.Spool(j.book, d)
	f.SetNumber(factSpoolHours, float64(wire.Lasts(full, wire.PerMetre(unit.Density(t.Num("density_likely_kgm3")/1000), d), spoolFeed))/3600)
}

// currency is the word of the table of prices.
func currency(b *book.Book) string {
	if r, ok := b.Find("prices", "machine-hour"); ok && strings.TrimSpace(r.Cell("currency")) != "" {
		return r.Cell("currency")
	}
	return "your currency"
}
