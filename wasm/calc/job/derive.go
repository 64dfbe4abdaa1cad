package job

import (
	"math"
	"strings"

	"kerfbook/wasm/book"
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
	k := wireIn{unit.Length(f.Number(factWire)), f.Word(factDielectric)}
	least, most := j.holeFor(k)
	f.SetNumber(factHoleLeast, least.Low)
	f.SetWord(factHoleFits, "yes")
	// The hole stands off as usual, or as far as one that threads needs in every case;
	// an opening's no farther than the middle of what falls out.
	left := j.toolOf(k.wire, k.dielectric).left
	short := float64(least.High-start.Most(usualDistance, left).Low) / 2
	distance := usualDistance + math.Max(0, math.Ceil(short*2)/2)
	if f.Is(factKind, "opening") {
		distance = math.Min(distance, f.Number(factSlugWidth)/2)
	}
	f.SetNumber(factStartDistance, distance)
	if !f.Is(factKind, "opening") {
		return
	}
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
	d, kind := unit.Length(f.Number(factWire)), f.Word(factWireType)
	if n > 1 {
		f.SetNumber(factBarrel, float64(j.barrel(d, kind)))
		word := "skims"
		if n == 2 {
			word = "skim"
		}
		f.SetWord(factSkimWord, word)
	}
	f.SetNumber(factSpoolHours, j.spoolHours(d, kind))
}

// currency is the word of the table of prices.
func currency(b *book.Book) string {
	if r, ok := b.Find("prices", "machine-hour"); ok && strings.TrimSpace(r.Cell("currency")) != "" {
		return r.Cell("currency")
	}
	return "your currency"
}
