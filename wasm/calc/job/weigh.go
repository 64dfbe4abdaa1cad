package job

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/bow"
	"kerfbook/wasm/calc/rate"
	"kerfbook/wasm/calc/start"
	"kerfbook/wasm/calc/wire"
	"kerfbook/wasm/process"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// said is what the law says of one wire in one fluid for this job, asked once.
type said struct {
	of      wireIn
	plan    *calc.Plan
	rate    unit.Range
	gap, ra [most + 1]unit.Range // by pass
	feed    [most + 1]unit.Range // of a pass that others follow
	ends    [most + 1]unit.Range // of the same pass where it is the last
	useful  int
	hole    *process.Bound // for the start hole, once asked
}

// wireIn is a wire in a fluid.
type wireIn struct {
	wire       unit.Length
	dielectric string
}

// said asks the law for a wire in a fluid, for all passes that a plan may have.
func (j *job) said(k wireIn) *said {
	for _, s := range j.asks {
		if s.of == k {
			return s
		}
	}
	f := j.Facts
	q := book.Cut{Machine: "any", Material: f.Word(factMaterial), Dielectric: k.dielectric, Flushing: j.Consider(j.Table.Stage("flushing")).Value, Thickness: unit.Length(f.Number(factHeight)), Wire: k.wire}
	if j.chosen != nil && j.takesIn(j.chosen, k) == "yes" {
		q.Machine = j.chosen.Key
	}
	s := &said{of: k, plan: j.law.Plan(q, most)}
	if s.plan.OK {
		j.read(s, q)
	}
	j.asks = append(j.asks, s)
	return s
}

// read asks the plan for what the weighing wants. The audit, which runs a hundred
// thousand jobs to see which rules fire, takes the likely values and a usual spread.
func (j *job) read(s *said, q book.Cut) {
	s.useful, _ = process.Useful(s.plan.Passes, s.plan.Repeats())
	if j.quick {
		usual := func(v, times float64) unit.Range { return unit.Range{Low: v / times, Likely: v, High: v * times} }
		for i, p := range s.plan.Passes {
			s.gap[i+1], s.ra[i+1] = usual(float64(p.Gap), 1.3), usual(float64(p.Ra), 1.6)
			s.feed[i+1] = usual(float64(p.Feed), 1.7)
			s.ends[i+1] = s.feed[i+1]
		}
		s.rate = usual(float64(s.plan.Passes[0].Rate), 1.9)
		return
	}
	s.rate = s.plan.Rate()
	for n := 1; n <= most; n++ {
		s.gap[n], s.ra[n] = s.plan.Gap(n), s.plan.Ra(n)
		if own, ok := calc.GapRow(j.book, q, calc.StageOf(n)); ok {
			s.gap[n] = own.Range
		}
		if n > 1 {
			if n < most {
				s.feed[n] = s.plan.Feed(n, 0)
			}
			s.ends[n] = s.plan.Feed(n, s.plan.Passes[n-2].Left)
		}
	}
}

// own says which of the reader's own decisions a weighing keeps.
type own struct{ dielectric, wire, passes bool }

// print is what the drawing demands, as the facts have it.
func (j *job) print() process.Print {
	f := j.Facts
	return process.Print{Radius: unit.Length(f.Number(factRadius)), Slot: unit.Length(f.Number(factSlot)), Ra: unit.Roughness(f.Number(factFinish)), Width: unit.Length(f.Number(factTolerance))}
}

// ways are the processes that the shop could run for a print, each once. The facts
// that rules decide by are set for each, apart from those of the job.
func (j *job) ways(of process.Print, keep own) []*process.Process {
	was := j.Facts
	j.Facts = j.base.Clone()
	j.demand(of)
	list := j.waysIn(keep, true)
	if len(list) == 0 { // rules that leave no wire are given up
		list = j.waysIn(keep, false)
	}
	j.Facts = was
	return list
}

// demand puts a print's demands among the facts.
func (j *job) demand(of process.Print) {
	f := j.Facts
	if of.Radius > 0 {
		f.SetNumber(factRadius, float64(of.Radius))
	}
	if of.Slot > 0 {
		f.SetNumber(factSlot, float64(of.Slot))
	}
	f.SetNumber(factFinish, float64(of.Ra))
	if f.Number(factTolerance) != float64(of.Width) {
		f.SetNumber(factTolerance, float64(of.Width))
		was := j.asked
		f.SetNumber(factTolerancePasses, float64(j.passesWithin(float64(of.Width))))
		j.asked = was // the row that the sheet rests on
	}
}

// fluids are the dielectrics that the shop has for this job, water first.
func (j *job) fluids(keep own) []string {
	if v := j.Own["dielectric"]; v != "" && keep.dielectric {
		return []string{v}
	}
	if o := j.Consider(j.Table.Stage("dielectric")); len(o.Fired) > 0 && !j.Table.List[o.Fired[0]].Bare() {
		return []string{o.Value} // a rule decides, and not the cost
	}
	var out []string
	for _, d := range [...]string{"water", "oil"} {
		if j.may(d) {
			out = append(out, d)
		}
	}
	switch {
	case len(out) == 0 && j.Facts.Is(factCardOil, "yes"):
		return []string{"oil"}
	case len(out) == 0:
		return []string{"water"}
	case len(out) == 2 && j.Facts.Is(factAim, "safest"):
		return out[1:] // oil carries no current
	}
	return out
}

func (j *job) waysIn(keep own, bounded bool) []*process.Process {
	f, t := j.Facts, j.Table
	var out []*process.Process
	ownWire, isWire := j.OwnNum["wire"]
	for _, dielectric := range j.fluids(keep) {
		f.SetWord(factDielectric, dielectric)
		f.SetWord(factRoughing, j.Consider(t.Stage("roughing")).Value)
		wires := j.wires
		if isWire && keep.wire {
			wires = []unit.Length{unit.Length(ownWire)}
		}
		bounds, first := j.Consider(t.Stage("wire")), len(out)
		for _, d := range wires {
			if !(isWire && keep.wire) && (!j.listed(d) || bounded && (float64(d) > bounds.Top+same || float64(d) < bounds.Low-same)) {
				continue
			}
			if len(out) > first && !j.enters(d) { // the list goes from the thinnest, which stands for what is not to be had
				continue
			}
			f.SetNumber(factWire, float64(d))
			f.SetWord(factWireType, j.Consider(t.Stage("wire-type")).Value)
			out = append(out, j.ladder(wireIn{d, dielectric}, keep)...)
		}
	}
	return out
}

// enters reports whether a wire without any gap goes into corner and slot.
func (j *job) enters(d unit.Length) bool {
	f := j.Facts
	return (!f.Knows(factRadius) || float64(d)/2 < f.Number(factRadius)) && (!f.Knows(factSlot) || float64(d) < f.Number(factSlot))
}

// ladder are the processes of one wire in one fluid, by their number of passes.
func (j *job) ladder(k wireIn, keep own) []*process.Process {
	f := j.Facts
	s := j.said(k)
	if !s.plan.OK {
		return nil
	}
	bounds := j.Consider(j.Table.Stage("passes"))
	least := bounds.Least(1, most)
	ownPasses, isOwn := j.OwnNum["passes"]
	isOwn = isOwn && keep.passes
	piece := j.piece(k.wire)
	half := float64(k.wire) / 2
	stock := s.plan.Left(1)
	if s.hole == nil {
		b := j.holeBound(k)
		s.hole = &b
	}
	tall, hole := j.tallBound(k.wire), *s.hole
	card := j.cardBound(k)
	spool := j.spoolHours(k.wire, f.Word(factWireType))
	shape := j.barrel(k.wire, f.Word(factWireType))
	read := unit.Length(j.readingShare() / 100 * f.Number(factTolerance) / 2)
	var out []*process.Process
	skims := unit.Range{} // of all but the last, in s
	for n := 1; n <= most; n++ {
		last := unit.Range{}
		if n > 1 {
			last = along(piece.Path, s.ends[n])
		}
		took := unit.Range{Low: skims.Low + last.Low, Likely: skims.Likely + last.Likely, High: skims.High + last.High}
		if n > 1 && n < most {
			mid := along(piece.Path, s.feed[n])
			skims = unit.Range{Low: skims.Low + mid.Low, Likely: skims.Likely + mid.Likely, High: skims.High + mid.High}
		}
		if isOwn && float64(n) != ownPasses {
			continue
		}
		piece.Starts = j.starts(n)
		p := &process.Process{Wire: k.wire, Passes: n, Even: f.Is(factRoughing, "even"), Ra: s.ra[n], Useful: n <= s.useful || float64(n) <= least || isOwn, Asked: float64(n) >= least-same || isOwn}
		if k.dielectric == "oil" {
			p.Fluid = process.Oil
		}
		g := s.gap[n]
		p.Left = unit.Range{Low: half + g.Low, Likely: half + g.Likely, High: half + g.High}
		g = s.gap[1]
		p.Rough = unit.Range{Low: 2 * (half + g.Low), Likely: 2 * (half + g.Likely), High: 2 * (half + g.High)}
		p.Stock, p.Read = unit.Length(stock.Likely), read
		if n > 1 {
			p.Shape = shape
		}
		for _, c := range [...]struct {
			rate, skims float64
			to, cuts    *float64
		}{{s.rate.High, took.Low, &p.Hours.Low, &p.Cutting.Low}, {s.rate.Likely, took.Likely, &p.Hours.Likely, &p.Cutting.Likely}, {s.rate.Low, took.High, &p.Hours.High, &p.Cutting.High}} {
			all, cost := piece.Costs(unit.AreaRate(c.rate), unit.Time(c.skims))
			*c.cuts = float64(rate.Along(piece.Path, rate.Feed(unit.AreaRate(c.rate), piece.Thickness)))/3600 + c.skims/3600
			*c.to = float64(all) / 3600
			if c.to == &p.Hours.Likely {
				p.Cost = cost
			}
		}
		p.Skim = piece.Skim(unit.Time(along(piece.Path, s.ends[max(2, n)]).Likely))
		p.Others = append(p.Others, tall, hole, card)
		if f.Is(factUnattended, "yes") {
			b := process.Bound{Limit: process.Spool, Asks: spool, Gets: p.Cutting}
			if p.Cutting.High > spool {
				b.State = process.Asks
			}
			p.Others = append(p.Others, b)
		}
		out = append(out, p)
	}
	return out
}

// along is the time in s of a path at a feed, the slowest last.
func along(path unit.Length, feed unit.Range) unit.Range {
	at := func(v float64) float64 { return float64(rate.Along(path, unit.Speed(v))) }
	return unit.Range{Low: at(feed.High), Likely: at(feed.Likely), High: at(feed.Low)}
}

// piece is what one piece takes beside its passes, as the sheet asks for its time.
func (j *job) piece(d unit.Length) rate.Piece {
	f := j.Facts
	kind, _ := j.book.Find("wiretypes", f.Word(factWireType))
	p := rate.Piece{Prices: j.prices, Path: unit.Length(f.Number(factLength) * f.Number(factOpenings)), Thickness: unit.Length(f.Number(factHeight)), Diameter: d, Density: kind.Num("density_likely_kgm3")}
	if j.Consider(j.Table.Stage("slug")).Value == "tab" {
		p.Tabs = unit.Count(f.Number(factOpenings))
	}
	return p
}

// starts is how often the wire is threaded for a piece: where several openings are all
// roughed first, each is entered again for its skims.
func (j *job) starts(passes int) unit.Count {
	n := j.Facts.Number(factOpenings)
	if n > 1 && passes > 1 {
		n = math.Min(2*n, 10000) // what the calculator of rates takes
	}
	return unit.Count(n)
}

// tallBound holds the part's height against what the wire is threaded and run through.
func (j *job) tallBound(d unit.Length) process.Bound {
	h := j.Facts.Number(factHeight)
	b := process.Bound{Limit: process.Height, Gets: unit.Exactly(h)}
	b.Asks = j.tallest(d)
	switch {
	case b.Asks == 0:
	case h > 2*b.Asks:
		b.State, b.Share = process.Fails, 1
	case h > b.Asks:
		b.State = process.Asks
	}
	return b
}

// holeBound holds the hole that threads the wire against what falls out.
func (j *job) holeBound(k wireIn) process.Bound {
	b := process.Bound{Limit: process.Hole}
	if !j.Facts.Is(factKind, "opening") || !j.Facts.Is(factStartHole, "allowed") {
		return b
	}
	least, most := j.holeFor(k)
	b.Asks, b.Gets = most.Low, least
	if most.Low < least.High-same {
		b.State = process.Asks
	}
	return b
}

// holeFor is the smallest hole that threads a wire, and the largest that goes into
// what falls out.
func (j *job) holeFor(k wireIn) (least, most unit.Range) {
	f := j.Facts
	floor, alone := unit.Length(0), false
	if card := j.cardFor(k); card != nil {
		alone = card.Cell("threading") == "alone"
		if card == j.chosen && j.takesIn(card, k) == "yes" {
			floor = unit.Length(card.Num("hole_mm"))
		}
	}
	left := j.toolOf(k.wire, k.dielectric).left
	return start.Through(k.wire, j.stray(unit.Length(f.Number(factHeight)), alone), floor), start.Most(unit.Length(f.Number(factSlugWidth)/2), left)
}

// stray is how far a wire's tip strays, worked out once for a height and a way of leading.
func (j *job) stray(height unit.Length, led bool) unit.Range {
	s := &j.strays[0]
	if led {
		s = &j.strays[1]
	}
	if s.height != height {
		s.height, s.by = height, calc.StrayOver(height, led).Range
	}
	return s.by
}

// cardFor is the reader's card, else the first that takes the wire in the fluid.
func (j *job) cardFor(k wireIn) *book.Row {
	if j.chosen != nil {
		return j.chosen
	}
	for _, c := range j.cards {
		if j.takesIn(c, k) == "yes" {
			return c
		}
	}
	return nil
}

// cardBound holds the process against the machine.
func (j *job) cardBound(k wireIn) process.Bound {
	b := process.Bound{Limit: process.Card}
	switch {
	case j.chosen != nil && j.takesIn(j.chosen, k) != "yes":
		b.State, b.Share = process.Fails, 1
	case j.chosen == nil && j.cardFor(k) == nil:
		b.State = process.Asks
	}
	return b
}

// barrel is how hollow or round the last skim leaves a wall.
func (j *job) barrel(d unit.Length, kind string) unit.Length {
	t, ok := j.book.Find("wiretypes", kind)
	push, found := j.book.Find("pushes", "skim")
	if !ok || !found {
		return 0
	}
	pull := skimShare * wire.Breaking(unit.Stress(t.Num("uts_likely_mpa")), d)
	return bow.Barrel(unit.Length(j.Facts.Number(factHeight)), unit.LineLoad(push.Num("load_likely_npm")), pull)
}

// spoolHours is how long a full spool of a wire lasts.
func (j *job) spoolHours(d unit.Length, kind string) float64 {
	t, ok := j.book.Find("wiretypes", kind)
	if !ok {
		return math.Inf(1)
	}
	full, _ := wire.Spool(j.book, d)
	return float64(wire.Lasts(full, wire.PerMetre(unit.Density(t.Num("density_likely_kgm3")/1000), d), spoolFeed)) / 3600
}

// aimOf is the aim of the weighing behind a word of the rules.
func (j *job) aimOf() process.Aim {
	switch j.Facts.Word(factAim) {
	case "soonest":
		return process.Soonest
	case "finest":
		return process.Finest
	case "surest", "safest":
		return process.Surest
	}
	return process.Cheapest
}

// weighing is one choice among the ways.
type weighing struct {
	best int
	all  []process.Weighed
}

// is the process chosen.
func (w *weighing) is() process.Weighed { return w.all[w.best] }

func (j *job) choose(keep own) *weighing {
	best, all := process.Weigh(j.ways(j.print(), keep), j.print(), j.aimOf())
	if best < 0 {
		return nil
	}
	return &weighing{best, all}
}

// weigh chooses the process, and what it would be without the reader's own decisions.
func (j *job) weigh() {
	f := j.Facts
	j.base = f.Clone()
	j.free = j.choose(own{})
	j.found = [3]*weighing{j.free, j.free, j.free}
	_, w := j.OwnNum["wire"]
	_, p := j.OwnNum["passes"]
	if d := j.Own["dielectric"] != ""; d || w || p {
		j.found = [3]*weighing{j.choose(own{dielectric: true}), j.choose(own{dielectric: true, wire: true}), j.choose(own{true, true, true})}
	}
	if j.free == nil { // the law says nothing here
		f.SetWord(factWeighed, "water")
		f.SetWord(factStands, "no")
		f.SetWord(factOtherWhy, "yes")
		return
	}
	f.SetWord(factWeighed, fluidWord(j.free.is().Fluid))
	f.SetWord(factStands, [...]string{"yes", "only-if", "no"}[j.free.is().Verdict])
	j.others()
}

func fluidWord(f process.Fluid) string {
	if f == process.Oil {
		return "oil"
	}
	return "water"
}

// others notes what the other fluid would come to.
func (j *job) others() {
	f := j.Facts
	best := j.free.is()
	f.SetWord(factOtherWhy, "yes")
	j.rival = nil
	for i := range j.free.all {
		w := &j.free.all[i]
		if w.Fluid != best.Fluid && w.Asked && w.Useful && (j.rival == nil || process.Nearer(w, j.rival)) {
			j.rival = w
		}
	}
}

// neighbours notes the next thicker and the next finer wire of the fluid taken, each at
// its best, and the process with a pass fewer.
func (j *job) neighbours() {
	f := j.Facts
	w := j.found[0]
	if w == nil {
		return
	}
	best := w.is()
	j.thick, j.fine, j.fewer = nil, nil, nil
	for i := range w.all {
		o := &w.all[i]
		if o.Fluid != best.Fluid || i == w.best {
			continue
		}
		if o.Wire == best.Wire {
			if o.Passes == best.Passes-1 {
				j.fewer = o
			}
			continue
		}
		if !o.Asked || !o.Useful {
			continue
		}
		to := &j.thick
		if o.Wire < best.Wire {
			to = &j.fine
		}
		near := *to == nil || math.Abs(float64(o.Wire-best.Wire)) < math.Abs(float64((*to).Wire-best.Wire))-same
		if near || o.Wire == (*to).Wire && process.Nearer(o, *to) {
			*to = o
		}
	}
	for _, n := range [...]struct {
		is   *process.Weighed
		wire rules.Fact
		why  rules.Fact
	}{{j.thick, factThickerWire, factThickerWhy}, {j.fine, factFinerWire, factFinerWhy}} {
		if n.is != nil {
			f.SetNumber(n.wire, float64(n.is.Wire))
			f.SetWord(n.why, "yes")
		}
	}
	if next := unit.Length(j.thicker(float64(best.Wire))); j.thick == nil && !math.IsInf(float64(next), 1) && j.listed(next) && !j.enters(next) {
		f.SetNumber(factThickerWire, float64(next))
		f.SetWord(factThickerWhy, "yes")
	}
	if j.fewer != nil && j.fewer.Asked {
		f.SetWord(factFewerWhy, "yes")
	}
}

// thicker is the next wire of the table.
func (j *job) thicker(d float64) float64 {
	for _, w := range j.wires {
		if float64(w) > d+same {
			return float64(w)
		}
	}
	return math.Inf(1)
}

// judge notes how the process that was decided stands at its limits.
func (j *job) judge() {
	f := j.Facts
	d, n := unit.Length(f.Number(factWire)), int(f.Number(factPasses))
	for _, i := range [...]rules.Fact{factFailShare, factCornerShare, factSlotShare, factFinishShare} {
		f.SetNumber(i, 0)
	}
	j.now = nil
	for _, w := range j.found {
		if w == nil {
			continue
		}
		for i := range w.all {
			o := &w.all[i]
			if o.Wire == d && o.Passes == n && fluidWord(o.Fluid) == f.Word(factDielectric) {
				j.now = o
			}
		}
	}
	if j.now == nil {
		return
	}
	f.SetNumber(factFailShare, 100*j.now.Share)
	f.SetNumber(factRaSure, j.now.Ra.High)
	count := 0
	for _, b := range j.now.Bounds {
		if b.Share >= 0.01 {
			count++
		}
		switch b.Limit {
		case process.Corner:
			f.SetNumber(factCornerShare, 100*b.Share)
		case process.SlotRough:
			f.SetNumber(factSlotShare, 100*b.Share)
		case process.Finish:
			f.SetNumber(factFinishShare, 100*b.Share)
		}
	}
	f.SetFlag(factSeveral, count > 1 && j.now.Miss == 0)
}
