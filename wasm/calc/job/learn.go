package job

import (
	"math"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/slot"
	"kerfbook/wasm/calc/slug"
	"kerfbook/wasm/calc/taper"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/process"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// same is the difference in millimetres below which two lengths count as equal.
const same = 1e-9

// job is one job on its way through the decisions.
type job struct {
	*cache
	*rules.Case
	chosen *book.Row         // the machine card of the reader, nil when none is chosen
	near   map[string][]tool // tools of this job, by dielectric

	asked book.Row // of the table of tolerances, that the number of passes rests on

	planned   *calc.Plan // of the cut last asked about
	plannedOf book.Cut

	asks   []*said
	strays [2]struct {
		height unit.Length
		by     unit.Range
	}
	quick                     bool             // the audit's: likely values alone
	base                      *rules.Facts     // what was known before anything was weighed
	free                      *weighing        // without the reader's own decisions
	found                     [3]*weighing     // with that of the fluid, of the wire too, and of the passes too
	rival, thick, fine, fewer *process.Weighed // the other fluid, the neighbours, a pass fewer
	now                       *process.Weighed // what was decided
}

// Begin works out what is known before the first decision; the inputs stand in
// the facts already.
func (j *job) Begin() {
	f := j.Facts
	if f.Knows(factRadius) && (f.Is(factAsks, "sharp") || f.Is(factAsks, "none") || f.Is(factAsks, "minimum")) {
		f.Forget(factRadius) // no radius bounds the wire from above
	}
	has := func(dielectric string) bool {
		if j.chosen == nil {
			for _, c := range j.cards {
				if hasWord(c.Cell("dielectrics"), dielectric) {
					return true
				}
			}
			return len(j.cards) == 0
		}
		return hasWord(j.chosen.Cell("dielectrics"), dielectric)
	}
	f.SetWord(factCard, "any")
	if j.chosen != nil {
		f.SetWord(factCard, "chosen")
	}
	f.SetWord(factCurrency, currency(j.book))
	if row, ok := j.book.Find("properties", f.Word(factMaterial), "expansion"); ok {
		f.SetNumber(factGrows, float64(laws.Growth(unit.Length(f.Number(factSize)), unit.Expansion(row.Num("value_likely_n0")), 3)))
	}
	f.SetFlag(factCardWater, has("water"))
	f.SetFlag(factCardOil, has("oil"))
	byCorner, bySlot := 0.0, 0.0 // the largest in water that each would take alone
	for _, t := range j.tools("water") {
		in, takes := j.reach(t)
		if j.listed(t.wire) && in == "even" {
			byCorner = float64(t.wire)
		}
		if j.listed(t.wire) && takes == "skims" {
			bySlot = float64(t.wire)
		}
	}
	f.SetNumber(factCornerWire, byCorner)
	f.SetNumber(factSlotWire, bySlot)
	if f.Number(factTooth) > 0 {
		f.SetNumber(factWallRatio, f.Number(factHeight)/f.Number(factTooth))
	}
	if f.Number(factSlot) > 0 {
		f.SetNumber(factSlotRatio, f.Number(factHeight)/f.Number(factSlot))
	}
	f.SetFlag(factSlugSaid, f.Knows(factSlugWidth))
	if !f.Knows(factSlugWidth) {
		f.SetNumber(factSlugWidth, f.Number(factLength)/4)
	}
	area := unit.Area(f.Number(factSlugWidth) * math.Max(f.Number(factSlugWidth), f.Number(factLength)/2-f.Number(factSlugWidth)))
	if row, ok := j.book.Find("materials", f.Word(factMaterial)); ok {
		f.SetFlag(factBrittle, row.Num("shear_likely_mpa") == 0) // no strength of a tab is counted on
		f.SetNumber(factSlugMass, float64(slug.Mass(unit.Density(row.Num("density_likely_gcm3")), area, unit.Length(f.Number(factHeight)))))
	}
	f.SetNumber(factTenthTolerance, f.Number(factTolerance)/10)
	f.SetNumber(factReadingShare, j.readingShare())
	f.SetNumber(factHalfLength, f.Number(factLength)/2)
	f.SetNumber(factLean, f.Number(factHeight)*math.Tan(f.Number(factTaper)*math.Pi/180))
	f.SetNumber(factTolerancePasses, float64(j.passesWithin(f.Number(factTolerance))))
	j.weigh()
}

// readingShare is what a reading spends of half the tolerance, in per cent: two
// touches of a ball, by root-sum.
func (j *job) readingShare() float64 {
	row, ok := j.book.Find("readings", "ball")
	half := j.Facts.Number(factTolerance) / 2
	if !ok || half <= 0 {
		return 0
	}
	return 100 * math.Sqrt2 * row.Num("error_likely_um") / 1000 / half
}

// tall notes how tall a part shops cut with a wire, where the table says.
func (j *job) tall(d unit.Length) {
	if most := j.tallest(d); most > 0 {
		j.Facts.SetNumber(factTallest, most)
		j.Facts.SetNumber(factTallRatio, j.Facts.Number(factHeight)/most)
	}
}

// tallest is the tallest part in mm that shops cut with a wire, 0 where the table does
// not say.
func (j *job) tallest(d unit.Length) float64 {
	for _, r := range j.wireRows {
		if math.Abs(r.Num("diameter_mm")-float64(d)) < same {
			return r.Num("tallest_mm")
		}
	}
	return 0
}

func hasWord(list, word string) bool {
	return strings.Contains(" "+list+" ", " "+word+" ")
}

// most is how many passes a plan has at most.
const most = 6

// passesWithin is how many passes the table gives for a width of tolerance.
func (j *job) passesWithin(width float64) int {
	t := j.book.Table("asks")
	for i, r := range t.Rows {
		j.asked = r
		if width*1000 >= r.Num("width_um")-same {
			return min(i+1, most)
		}
	}
	return most
}

// listed reports whether the reader's machine runs a wire.
func (j *job) listed(d unit.Length) bool {
	return j.chosen == nil || float64(d) >= j.chosen.Num("wire_from_mm")-same && float64(d) <= j.chosen.Num("wire_to_mm")+same
}

// reach says how a wire gets into the corner and into the slot.
func (j *job) reach(t tool) (in, slotTakes string) {
	f := j.Facts
	in, slotTakes = "even", "skims"
	if f.Knows(factRadius) {
		r := unit.Length(f.Number(factRadius)) + same
		switch {
		case t.even() <= r:
		case t.last() <= r:
			in = "last"
		default:
			in = "no"
		}
	}
	if f.Knows(factSlot) {
		w := unit.Length(f.Number(factSlot))
		switch {
		case slot.Fits(t.all(), w):
		case slot.Fits(t.kerf(), w):
			slotTakes = "one-pass"
		default:
			slotTakes = "no"
		}
	}
	return in, slotTakes
}

// Settle is the number of a decision that is bounded: the wire that reaches, or the
// fewest passes.
func (j *job) Settle(d *rules.Decision, o *rules.Outcome) float64 {
	switch isWire := d.Name == "wire"; {
	case isWire && j.found[0] != nil:
		return float64(j.found[0].is().Wire)
	case isWire:
		return usualWire
	case j.found[1] != nil:
		return float64(j.found[1].is().Passes)
	}
	return o.Least(1, most)
}

// Binds reports whether a limit keeps the next thicker wire out.
func (j *job) Binds(d *rules.Decision, op string, limit, found float64) bool {
	return d.Name == "wire" && op == "<=" && limit < j.thicker(found)-same
}

// Learn works out what follows from a decision.
func (j *job) Learn(d *rules.Decision, o *rules.Outcome) {
	f := j.Facts
	switch d.Name {
	case "roughing":
		j.neighbours()
		if j.found[0] != nil {
			f.SetNumber(factWeighedWire, float64(j.found[0].is().Wire))
			f.SetNumber(factWeighedPasses, float64(j.found[1].is().Passes))
		}
	case "slug":
		if f.Is(factSlug, "nothing") {
			f.SetWord(factNothing, "the slug of one opening")
			if f.Number(factOpenings) == 1 {
				f.SetWord(factNothing, "the slug")
			}
		}
	case "wire":
		j.afterWire(unit.Length(o.Num))
	case "machine":
		j.afterMachine()
	case "passes":
		j.afterPasses()
	case "inspection":
		_, w := j.OwnNum["wire"]
		_, p := j.OwnNum["passes"]
		f.SetFlag(factOwnWire, w)
		f.SetFlag(factOwnPasses, p)
	}
}

func (j *job) afterWire(d unit.Length) {
	f := j.Facts
	t := j.toolOf(d, f.Word(factDielectric))
	j.tall(d)
	in, takes := j.reach(t)
	f.SetWord(factReaches, in)
	if !f.Knows(factSlot) {
		takes = "unknown"
	}
	f.SetWord(factSlotTakes, takes)
	f.SetNumber(factWireLeft, float64(corner.Left(d, unit.Length(t.fine.Likely))))
	f.SetNumber(factWireNeeds, float64(t.even()))
	f.SetNumber(factSlotNeeds, float64(t.all()))
	f.SetNumber(factWireSure, float64(t.last()))
	f.SetNumber(factRoughKerf, float64(t.kerf()))
	f.SetNumber(factSlugKerfs, f.Number(factSlugWidth)/float64(t.kerf()))
	if w := j.found[0]; w != nil && w.is().Verdict < process.No && w.is().Wire < d-same {
		f.SetNumber(factBetterWire, float64(w.is().Wire)) // only where the reader set a thicker one
	}
	finest := math.Inf(1)
	for _, dielectric := range [2]string{"water", "oil"} {
		for _, t := range j.tools(dielectric) {
			if j.listed(t.wire) && j.may(dielectric) {
				finest = math.Min(finest, float64(t.last()))
			}
		}
	}
	if !math.IsInf(finest, 1) { // a card for oil alone in a shop without oil runs no wire
		f.SetNumber(factFinestLeft, finest)
	}
	if in == "no" || takes == "no" {
		j.elsewhere()
	}
}

// elsewhere notes another card that runs a wire that reaches.
func (j *job) elsewhere() {
	f := j.Facts
	for _, c := range j.cards {
		for _, dielectric := range [2]string{"water", "oil"} {
			if c == j.chosen || dielectric == "oil" && f.Is(factOil, "no") || !hasWord(c.Cell("dielectrics"), dielectric) || f.Number(factHeight) > c.Num("height_mm")+same {
				continue
			}
			for _, t := range j.tools(dielectric) {
				in, takes := j.reach(t)
				if in != "no" && takes != "no" && float64(t.wire) >= c.Num("wire_from_mm")-same && float64(t.wire) <= c.Num("wire_to_mm")+same {
					f.SetWord(factOtherCard, c.Cell("name"))
				}
			}
		}
	}
}

// takes says what of the process a card does not take.
func (j *job) takes(c *book.Row) string {
	return j.takesIn(c, wireIn{unit.Length(j.Facts.Number(factWire)), j.Facts.Word(factDielectric)})
}

func (j *job) takesIn(c *book.Row, k wireIn) string {
	f := j.Facts
	switch d := float64(k.wire); {
	case !hasWord(c.Cell("dielectrics"), k.dielectric):
		return "dielectric"
	case d < c.Num("wire_from_mm")-same || d > c.Num("wire_to_mm")+same:
		return "wire"
	case f.Number(factHeight) > c.Num("height_mm")+same:
		return "height"
	case f.Number(factTaper) > float64(taper.OfCard(c, unit.Length(f.Number(factHeight))))+same:
		return "taper"
	}
	return "yes"
}

func (j *job) afterMachine() {
	f := j.Facts
	card := j.chosen
	f.SetWord(factCardTakes, "yes")
	if card != nil {
		f.SetWord(factCardTakes, j.takes(card))
	}
	j.pulses()
	if card == nil {
		card = j.foundCard()
	}
	f.SetFlag(factFound, card != nil)
	if card != nil {
		f.SetWord(factCardName, card.Cell("name"))
		f.SetNumber(factLeastHole, card.Num("hole_mm"))
		if threads := card.Cell("threading"); threads != "" { // a card of an older folder does not say
			f.SetFlag(factPullsAlone, threads == "alone")
		}
	}
	j.hole()
}

// machine is the name by which the other calculators are asked: the reader's own
// card, as long as it takes the process.
func (j *job) machine() string {
	if j.chosen != nil && j.Facts.Is(factCardTakes, "yes") {
		return j.chosen.Key
	}
	return "any"
}

// cut is the question about a measured cut of this job.
func (j *job) cut() book.Cut {
	f := j.Facts
	return book.Cut{Machine: j.machine(), Material: f.Word(factMaterial), Dielectric: f.Word(factDielectric), Flushing: f.Word(factFlushing),
		Thickness: unit.Length(f.Number(factHeight)), Wire: unit.Length(f.Number(factWire))}
}

func (j *job) afterPasses() {
	f := j.Facts
	n := int(f.Number(factPasses))
	j.judge()
	f.SetNumber(factLeftNow, j.left().Likely)
	j.bends(n)
	var p process.Process // nothing where the law says nothing
	if j.now != nil {
		p = *j.now.Process
	}
	f.SetNumber(factRa, p.Ra.Likely)
	f.SetNumber(factRaBest, p.Ra.Low)
	f.SetNumber(factHours, p.Cutting.Likely)
	f.SetNumber(factMostHours, p.Cutting.High)
	f.SetNumber(factAllHours, p.Cutting.Likely*f.Number(factQuantity))
}
