package job

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/rate"
	"kerfbook/wasm/calc/size"
	"kerfbook/wasm/calc/slot"
	"kerfbook/wasm/calc/slug"
	"kerfbook/wasm/calc/taper"
	"kerfbook/wasm/unit"
)

// same is the difference in millimetres below which two lengths count as equal.
const same = 1e-9

// tool is one wire of the table in one dielectric, as the tables have it.
type tool struct {
	wire              unit.Length
	rough, fine, left unit.Range
}

// even is the radius with which roughing keeps its stock in the corner.
func (t tool) even() unit.Length {
	return corner.Roughing(t.wire, unit.Length(t.rough.Likely), unit.Length(t.left.Likely))
}

// last is the radius that the last pass is sure to leave.
func (t tool) last() unit.Length { return corner.Left(t.wire, unit.Length(t.fine.High)) }

// all is the slot in which both walls get every pass.
func (t tool) all() unit.Length {
	return slot.All(t.wire, unit.Length(t.rough.Likely), unit.Length(t.left.Likely))
}

// kerf is the slot of roughing alone.
func (t tool) kerf() unit.Length { return slot.Kerf(t.wire, unit.Length(t.rough.Likely)) }

// bench is what the engine looks up often, looked up once.
type bench struct {
	rules *rules
	book  *book.Book
	water []tool
	oil   []tool
	cards []*book.Row
	cuts  []*book.Row
}

func newBench(b *book.Book) *bench {
	e := &bench{rules: readRules(b), book: b}
	for _, d := range b.Wires() {
		e.water, e.oil = append(e.water, e.tool(d, "water")), append(e.oil, e.tool(d, "oil"))
	}
	e.cards, e.cuts = rows(b, "machines"), rows(b, "cuts")
	return e
}

func (e *bench) tool(d unit.Length, dielectric string) tool {
	t := tool{wire: d}
	t.rough, _, _ = e.book.Gap(d, dielectric, "rough")
	t.fine, _, _ = e.book.Gap(d, dielectric, "fine")
	t.left, _, _ = e.book.Left(d)
	return t
}

func (e *bench) tools(dielectric string) []tool {
	if dielectric == "oil" {
		return e.oil
	}
	return e.water
}

// tools are the bench's, with the gaps that the shop measured on the chosen
// machine in the place of the table's.
func (j *job) tools(dielectric string) []tool {
	list := j.bench.tools(dielectric)
	if j.chosen == nil || !j.cutOn(j.chosen.Key, dielectric) {
		return list
	}
	if j.near[dielectric] == nil {
		own := slices.Clone(list)
		for i := range own {
			own[i] = j.measured(own[i], dielectric)
		}
		if j.near == nil {
			j.near = map[string][]tool{}
		}
		j.near[dielectric] = own
	}
	return j.near[dielectric]
}

// cutOn reports whether a cut was measured on a machine in a dielectric.
func (e *bench) cutOn(machine, dielectric string) bool {
	for _, r := range e.cuts {
		if r.Cell("machine") == machine && r.Cell("dielectric") == dielectric {
			return true
		}
	}
	return false
}

// measured puts the shop's own gaps into a tool, where a cut is near enough.
func (j *job) measured(t tool, dielectric string) tool {
	q := book.Cut{Machine: j.chosen.Key, Material: j.facts.get(factMaterial), Dielectric: dielectric, Thickness: unit.Length(j.facts.at(factHeight)), Wire: t.wire}
	if fb, ok := calc.MeasuredGap(j.book, q, "rough"); ok {
		t.rough, j.lent = fb.Range, append(j.lent, fb.Rows...)
	}
	if fb, ok := calc.MeasuredGap(j.book, q, "fine"); ok {
		t.fine, j.lent = fb.Range, append(j.lent, fb.Rows...)
	}
	return t
}

// toolOf is a wire of the table as it was looked up, or another looked up now.
func (j *job) toolOf(d unit.Length, dielectric string) tool {
	for _, t := range j.tools(dielectric) {
		if t.wire == d {
			return t
		}
	}
	t := j.tool(d, dielectric)
	if j.chosen != nil && j.cutOn(j.chosen.Key, dielectric) {
		t = j.measured(t, dielectric)
	}
	return t
}

// job is one job on its way through the decisions.
type job struct {
	*bench
	facts  *facts
	chosen *book.Row         // the machine card of the reader, nil when none is chosen
	own    map[string]string // overrides by decision
	ownNum map[string]float64
	out    []outcome
	near   map[string][]tool // tools with the shop's measured gaps, by dielectric
	lent   []book.Row        // the cuts that they come from
}

// outcome is what one decision came to.
type outcome struct {
	value    string  // the option
	num      float64 // of a bound
	fired    []int   // rules that ask for it, or all that fired
	against  []int   // of an override: rules that ask for something else
	clash    []int   // rules that disagree without an order
	own      bool
	low, top float64 // bounds found
}

// begin works out what is known before the first decision; the inputs stand in
// the facts already.
func (j *job) begin() {
	f := j.facts
	if f.knows(factRadius) && (f.is(factAsks, "sharp") || f.is(factAsks, "none") || f.is(factAsks, "minimum")) {
		f.known[factRadius] = false // no radius bounds the wire from above
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
	f.word(factCard, "any")
	if j.chosen != nil {
		f.word(factCard, "chosen")
	}
	f.word(factCurrency, currency(j.book))
	if row, ok := j.book.Find("properties", f.get(factMaterial), "expansion"); ok {
		f.number(factGrows, float64(size.Growth(unit.Length(f.at(factSize)), unit.Expansion(row.Num("value_likely_n0")), 23)))
	}
	f.flag(factCardWater, has("water"))
	f.flag(factCardOil, has("oil"))
	byCorner, bySlot := 0.0, 0.0 // the largest in water that each would take alone
	for _, t := range j.water {
		in, takes := j.reach(t)
		if j.listed(t.wire) && in == "even" {
			byCorner = float64(t.wire)
		}
		if j.listed(t.wire) && takes == "skims" {
			bySlot = float64(t.wire)
		}
	}
	f.number(factCornerWire, byCorner)
	f.number(factSlotWire, bySlot)
	water, reaches := j.largest(j.water, math.Inf(1), 0)
	f.word(factWaterReaches, reaches)
	if reaches != "no" {
		f.number(factWireWater, float64(water.wire))
	}
	if oil, ok := j.largest(j.oil, math.Inf(1), 0); ok != "no" {
		f.number(factWireOil, float64(oil.wire))
	}
	if f.at(factTooth) > 0 {
		f.number(factWallRatio, f.at(factHeight)/f.at(factTooth))
	}
	if f.at(factSlot) > 0 {
		f.number(factSlotRatio, f.at(factHeight)/f.at(factSlot))
	}
	if !f.knows(factSlugWidth) {
		f.number(factSlugWidth, f.at(factLength)/4)
	}
	area := unit.Area(f.at(factSlugWidth) * math.Max(f.at(factSlugWidth), f.at(factLength)/2-f.at(factSlugWidth)))
	if row, ok := j.book.Find("materials", f.get(factMaterial)); ok {
		f.number(factSlugMass, float64(slug.Mass(unit.Density(row.Num("density_likely_gcm3")), area, unit.Length(f.at(factHeight)))))
	}
	f.number(factTenthTolerance, f.at(factTolerance)/10)
	f.number(factFinishPasses, float64(j.passesFor(unit.Roughness(f.at(factFinish)))))
	f.number(factTolerancePasses, float64(j.passesWithin(f.at(factTolerance))))
}

func hasWord(list, word string) bool {
	return strings.Contains(" "+list+" ", " "+word+" ")
}

// most is how many passes a plan has at most.
const most = 6

// passesFor is the first number of passes in the table whose likely roughness is
// fine enough, the most when none is: the same look-up as the corner's.
func (j *job) passesFor(ra unit.Roughness) int {
	for _, r := range j.book.Table("finishes").Rows {
		if float64(ra) >= r.Num("ra_likely_um") {
			if n, err := strconv.Atoi(r.Cell("passes")); err == nil {
				return min(n, most)
			}
		}
	}
	return most
}

// passesWithin is how many passes the table gives for a width of tolerance.
func (j *job) passesWithin(width float64) int {
	t := j.book.Table("asks")
	for i, r := range t.Rows {
		if width*1000 >= r.Num("width_um")-same {
			return min(i+1, most)
		}
	}
	return most
}

// largest is the largest wire up to a limit and not below a floor that keeps
// even stock in corner and slot; without one, the thinnest that reaches with the
// last pass alone.
func (j *job) largest(tools []tool, limit, floor float64) (tool, string) {
	var even, last, thinnest tool
	hasEven, hasLast := false, false
	for _, t := range tools {
		if !j.listed(t.wire) {
			continue
		}
		if thinnest.wire == 0 {
			thinnest = t
		}
		if float64(t.wire) > limit+same || float64(t.wire) < floor-same {
			continue
		}
		corner, slot := j.reach(t)
		if corner == "even" && slot == "skims" {
			even, hasEven = t, true
		} else if corner != "no" && slot != "no" && !hasLast {
			last, hasLast = t, true
		}
	}
	switch {
	case hasEven:
		return even, "even"
	case hasLast:
		return last, "last"
	}
	return thinnest, "no"
}

// listed reports whether the reader's machine runs a wire.
func (j *job) listed(d unit.Length) bool {
	return j.chosen == nil || float64(d) >= j.chosen.Num("wire_from_mm")-same && float64(d) <= j.chosen.Num("wire_to_mm")+same
}

// reach says how a wire gets into the corner and into the slot.
func (j *job) reach(t tool) (in, slotTakes string) {
	f := j.facts
	in, slotTakes = "even", "skims"
	if f.knows(factRadius) {
		r := unit.Length(f.at(factRadius)) + same
		switch {
		case t.even() <= r:
		case t.last() <= r:
			in = "last"
		default:
			in = "no"
		}
	}
	if f.knows(factSlot) {
		w := unit.Length(f.at(factSlot))
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

// learn notes what is known after a decision.
func (j *job) learn(d *decision, o *outcome) {
	f := j.facts
	switch d.kind {
	case choice, worst:
		f.word(d.fact, o.value)
	case bound:
		f.number(d.fact, o.num)
	}
	switch d.name {
	case "roughing":
		j.afterRoughing()
	case "slug":
		if f.is(factSlug, "nothing") {
			f.word(factNothing, "the slug of one opening")
			if f.at(factOpenings) == 1 {
				f.word(factNothing, "the slug")
			}
		}
	case "wire":
		j.afterWire(unit.Length(o.num))
	case "machine":
		j.afterMachine()
	case "passes":
		j.afterPasses()
	case "inspection":
		_, w := j.ownNum["wire"]
		_, p := j.ownNum["passes"]
		f.flag(factOwnWire, w)
		f.flag(factOwnPasses, p)
	}
}

func (j *job) afterWire(d unit.Length) {
	f := j.facts
	t := j.toolOf(d, f.get(factDielectric))
	in, takes := j.reach(t)
	f.word(factReaches, in)
	if !f.knows(factSlot) {
		takes = "unknown"
	}
	f.word(factSlotTakes, takes)
	f.number(factWireLeft, float64(corner.Left(d, unit.Length(t.fine.Likely))))
	f.number(factWireNeeds, float64(t.even()))
	f.number(factSlotNeeds, float64(t.all()))
	f.number(factWireSure, float64(t.last()))
	f.number(factRoughKerf, float64(t.kerf()))
	f.number(factSlugKerfs, f.at(factSlugWidth)/float64(t.kerf()))
	if _, own := j.ownNum["wire"]; own && !f.is(factWireBy, "no") && f.at(factReachWire) < float64(d)-same {
		f.number(factBetterWire, f.at(factReachWire))
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
		f.number(factFinestLeft, finest)
	}
	if in == "no" || takes == "no" {
		j.elsewhere()
	}
}

// elsewhere notes another card that runs a wire that reaches.
func (j *job) elsewhere() {
	f := j.facts
	for _, c := range j.cards {
		for _, dielectric := range [2]string{"water", "oil"} {
			if c == j.chosen || dielectric == "oil" && f.is(factOil, "no") || !hasWord(c.Cell("dielectrics"), dielectric) || f.at(factHeight) > c.Num("height_mm")+same {
				continue
			}
			for _, t := range j.tools(dielectric) {
				in, takes := j.reach(t)
				if in != "no" && takes != "no" && float64(t.wire) >= c.Num("wire_from_mm")-same && float64(t.wire) <= c.Num("wire_to_mm")+same {
					f.word(factOtherCard, c.Cell("name"))
				}
			}
		}
	}
}

// takes says what of the process a card does not take.
func (j *job) takes(c *book.Row) string {
	f := j.facts
	switch {
	case !hasWord(c.Cell("dielectrics"), f.get(factDielectric)):
		return "dielectric"
	case f.at(factWire) < c.Num("wire_from_mm")-same || f.at(factWire) > c.Num("wire_to_mm")+same:
		return "wire"
	case f.at(factHeight) > c.Num("height_mm")+same:
		return "height"
	case f.at(factTaper) > float64(taper.OfCard(c, unit.Length(f.at(factHeight))))+same:
		return "taper"
	}
	return "yes"
}

func (j *job) afterMachine() {
	f := j.facts
	card := j.chosen
	f.word(factCardTakes, "yes")
	if card != nil {
		f.word(factCardTakes, j.takes(card))
	}
	j.pulses()
	if card == nil {
		card = j.foundCard()
	}
	f.flag(factFound, card != nil)
	if card != nil {
		f.word(factCardName, card.Cell("name"))
		f.number(factLeastHole, card.Num("hole_mm"))
		if threads := card.Cell("threading"); threads != "" { // a card of an older folder does not say
			f.flag(factPullsAlone, threads == "alone")
		}
	}
	j.hole()
}

// machine is the name by which the other calculators are asked: the reader's own
// card, as long as it takes the process.
func (j *job) machine() string {
	if j.chosen != nil && j.facts.is(factCardTakes, "yes") {
		return j.chosen.Key
	}
	return "any"
}

// cut is the question about a measured cut of this job.
func (j *job) cut() book.Cut {
	f := j.facts
	return book.Cut{Machine: j.machine(), Material: f.get(factMaterial), Dielectric: f.get(factDielectric), Flushing: f.get(factFlushing),
		Thickness: unit.Length(f.at(factHeight)), Wire: unit.Length(f.at(factWire))}
}

func (j *job) afterPasses() {
	f := j.facts
	n := int(f.at(factPasses))
	if row, ok := j.book.Find("finishes", strconv.Itoa(n), "any"); ok {
		f.number(factRa, row.Num("ra_likely_um"))
		f.number(factRaBest, row.Num("ra_low_um"))
	}
	if v, ok := j.cutRa(n, n); ok {
		f.number(factRa, v)
		f.number(factRaBest, about(v).Low)
	}
	f.number(factLeftNow, j.left().Likely)
	j.bends(n)
	h := rate.Hours(j.book, j.cut(), unit.Length(f.at(factLength)*f.at(factOpenings)), unit.Count(n))
	f.number(factHours, h)
	f.number(factAllHours, h*f.at(factQuantity))
}
