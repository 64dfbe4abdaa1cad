package calc

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// Law is the law of a pass over the tables of an edition, and what the cuts of
// the edition teach it. It is read once and kept with the book.
type Law struct {
	book    *book.Book
	general process.Law
	none    *process.Shop            // no cut read
	shops   map[bool]*lesson         // by whether the cuts are invented
	known   map[string]*workMaterial // by key
	fault   string
}

// lesson is what one shop's cuts teach, and where they stand.
type lesson struct {
	shop *process.Shop
	cuts []learnt
}

// learnt is a row of the table of cuts as the law takes it.
type learnt struct {
	row book.Row
	cut process.Cut
}

// workMaterial is a work material as the law takes it.
type workMaterial struct {
	law       process.Law
	ratePower float64
	noLayer   bool
	rows      []book.Row
	note      string // how its factors were come by, where no row has them
}

// LawOf returns the law of an edition.
func LawOf(b *book.Book) *Law {
	return b.Keep("law", func() any { return readLaw(b) }).(*Law)
}

func readLaw(b *book.Book) *Law {
	l := &Law{book: b, known: map[string]*workMaterial{}, shops: map[bool]*lesson{}}
	for c, key := range process.Names() {
		if c >= int(process.RaMaterial) {
			break
		}
		r, ok := b.Find("passlaw", key)
		if !ok {
			l.fault = "the law's table has no constant " + quote(key)
			return l
		}
		v := r.Range("value", "n0", 1)
		l.general.Set(process.Constant(c), v.Low, v.Likely, v.High)
	}
	l.none, _ = process.Learn(&l.general, nil)
	if t := b.Table("materials"); t != nil {
		for _, r := range t.Rows {
			if m := l.material(r); m != nil {
				l.known[r.Key] = m
			}
		}
	}
	for _, invented := range []bool{false, true} {
		l.shops[invented] = l.learn(invented)
	}
	return l
}

// Steel's melting point in the table's own unit, against which another is held.
const steel = "steel"

// material reads a work material: its row of factors, or, where it has none, what
// its melting point tells. nil where neither says anything: what does not melt
// gets no number.
func (l *Law) material(of book.Row) *workMaterial {
	m := &workMaterial{}
	f := process.Material{}
	if r, ok := l.book.Find("factors", of.Key); ok {
		f.Ra, f.Rate, f.Gap = r.Range("ra", "n0", 1), r.Range("rate", "n0", 1), r.Range("gap", "n0", 1)
		f.Layer, f.RatePower = r.Range("layer", "n0", 1), r.Num("rate_power_n0")
		f.NoLayer = f.Layer.Likely == 0
		m.rows = []book.Row{r}
	} else {
		ref, _ := l.book.Find("materials", steel)
		melts, base := of.Num("melting_likely_degc"), ref.Num("melting_likely_degc")
		if melts <= 0 || base <= 0 {
			return nil
		}
		f = process.ByMelting(melts / base)
		m.rows, m.note = []book.Row{of, ref}, "by its melting point alone"
	}
	if f.NoLayer {
		f.Layer = unit.Exactly(1)
	}
	m.law, m.ratePower, m.noLayer = l.general.With(f), f.RatePower, f.NoLayer
	return m
}

// learn reads the cuts that are invented, or those that are not: a shop of its own
// learns nothing from cuts that nobody made.
func (l *Law) learn(invented bool) *lesson {
	t := l.book.Table("cuts")
	if t == nil {
		return nil
	}
	out := &lesson{}
	var cuts []process.Cut
	for _, r := range t.Rows {
		if (r.Provenance == "invented") != invented || l.book.Stale(r) != "" {
			continue
		}
		if c, ok := l.cut(r); ok {
			out.cuts = append(out.cuts, learnt{r, c})
			cuts = append(cuts, c)
		}
	}
	if len(cuts) == 0 {
		return nil
	}
	shop, err := process.Learn(&l.general, cuts)
	if err != nil {
		return nil
	}
	out.shop = shop
	return out
}

// cut is a row of the table of cuts as the law takes it; false where the law does
// not reach.
func (l *Law) cut(r book.Row) (process.Cut, bool) {
	m := l.known[r.Cell("material")]
	pass, err := strconv.Atoi(r.Cell("pass"))
	if m == nil || err != nil {
		return process.Cut{}, false
	}
	q := book.Cut{Machine: r.Cell("machine"), Material: r.Cell("material"), Dielectric: r.Cell("dielectric"), Flushing: r.Cell("flushing"),
		Thickness: unit.Length(r.Num("thickness_mm")), Wire: unit.Length(r.Num("wire_mm"))}
	c := process.Cut{Setup: l.setup(q, m), Law: &m.law, Material: q.Material, Machine: q.Machine, Job: r.Cell("cut"), Pass: pass}
	if !c.Covers() {
		return process.Cut{}, false
	}
	if pass == 1 {
		c.Read[process.RateOf] = r.Num("rate_mm2min")
	} else {
		c.Read[process.SkimOf] = r.Num("speed_mmmin")
		if was, ok := l.book.Find("cuts", r.Cell("cut"), strconv.Itoa(pass-1)); ok && was.Num("left_um") > r.Num("left_um") {
			c.Takes = unit.Length((was.Num("left_um") - r.Num("left_um")) / 1000)
		}
	}
	c.Read[process.GapOf], c.Read[process.RaOf] = r.Num("gap_um")/1000, r.Num("ra_um")
	return c, true
}

// usualHeight is the height in wire diameters that is taken where none is given:
// the one that the law's constants are given for.
const usualHeight = 160

// setup is what stays the same over the passes of a cut. Without a machine the
// wire tells the class that is usual for it: precision up to 0.1 mm, production
// from 0.15 mm, between the two by the logarithm. Common practice, no source.
func (l *Law) setup(q book.Cut, m *workMaterial) process.Setup {
	s := process.Setup{Wire: q.Wire, Height: q.Thickness, RatePower: m.ratePower, NoLayer: m.noLayer}
	if s.Height == 0 {
		s.Height = min(usualHeight*q.Wire, process.HeightTo)
	}
	if q.Dielectric == "oil" {
		s.Fluid = process.Oil
	}
	const fine, coarse = 0.1, 0.15
	x := math.Log(float64(q.Wire)/fine) / math.Log(coarse/fine)
	s.Class = process.Precision * math.Pow(process.Production/process.Precision, min(1, max(0, x)))
	s.LowSupply = q.Wire <= fine+1e-9
	if r, ok := l.book.Find("flushings", q.Flushing); ok {
		s.Flushing = r.Num("share_likely_n0")
	}
	card, ok := l.book.Find("machines", q.Machine)
	if !ok {
		return s
	}
	switch card.Cell("class") {
	case "precision":
		s.Class = process.Precision
	case "production":
		s.Class = process.Production
	}
	switch card.Cell("supply") {
	case "low":
		s.LowSupply = true
	case "usual":
		s.LowSupply = false
	}
	s.Stored = l.stored(q, s, l.none)
	return s
}

// stored is the charge in pF that the finest face on the machine's card tells, in the
// material it was shown in, steel where the card does not say; zero where it shows none.
func (l *Law) stored(q book.Cut, s process.Setup, shop *process.Shop) float64 {
	card, ok := l.book.Find("machines", q.Machine)
	if !ok || card.Num("finest_ra_um") <= 0 {
		return 0
	}
	shown := steel
	if c := card.Cell("finest_material"); c != "" {
		shown = c
	}
	m := l.known[shown]
	if m == nil {
		return 0
	}
	s.Wire, s.Height = unit.Length(card.Num("finest_wire_mm")), unit.Length(card.Num("finest_height_mm"))
	if !s.Covers() {
		return 0
	}
	return shop.Law(&m.law, shown).Stored(s, unit.Roughness(card.Num("finest_ra_um")))
}

// Plan is what the law says of the passes of one cut.
type Plan struct {
	OK       bool
	Why      string // why the law says nothing, where it does not
	Rows     []book.Row
	Material string // how its factors were come by, where no row has them
	Setup    process.Setup
	Passes   []process.Pass // likely values, as the shop's cuts leave the law

	of     *Law
	q      book.Cut
	known  *workMaterial
	law    *process.Law
	lesson *lesson
	shop   *process.Shop
	flush  unit.Range
	alone  bool                                      // a constant is the reader's own
	said   [process.Kinds][MostPasses + 1]unit.Range // predictions asked before, for what the plan takes
}

// Plan asks the law for a cut in a number of passes. With a chosen machine the
// edition's cuts count; without one the law is general.
func (l *Law) Plan(q book.Cut, passes int) *Plan {
	p := &Plan{of: l, q: q, shop: l.none, flush: unit.Exactly(1)}
	if l.fault != "" {
		p.Why = l.fault
		return p
	}
	if p.known = l.known[q.Material]; p.known == nil {
		p.Why = "the law of a pass has neither factors nor a melting point of this material, and what does not melt gets no number"
		return p
	}
	p.Rows, p.Material = p.known.rows, p.known.note
	p.Setup = l.setup(q, p.known)
	if !p.Setup.Covers() {
		p.Why = "the law of a pass holds for wires of 0.02 to 0.36 mm and heights of 0.3 to 400 mm"
		return p
	}
	if card, ok := l.book.Find("machines", q.Machine); ok {
		p.lesson = l.shops[card.Provenance == "invented"]
	}
	p.law = &p.known.law
	if p.lesson != nil {
		p.shop = p.lesson.shop
		p.law = p.shop.Law(p.law, q.Material)
	}
	if s := l.stored(q, p.Setup, p.shop); s > 0 { // what the card shows holds, whatever cuts say of the rest
		p.Setup.Stored = s
	}
	if r, ok := l.book.Find("flushings", q.Flushing); ok {
		p.flush = r.Range("share", "n0", 1)
		p.Rows = append(p.Rows[:len(p.Rows):len(p.Rows)], r)
	}
	p.Passes, p.OK = p.law.Ladder(p.Setup, max(1, passes), false), true
	return p
}

// predict is the nine in ten of a quantity of a pass, worked out once.
func (p *Plan) predict(k process.Kind, pass int, takes unit.Length) unit.Range {
	if takes == 0 && pass <= MostPasses {
		if kept := &p.said[k][pass]; kept.Likely == 0 {
			*kept = p.predicted(k, pass, 0)
		}
		return p.said[k][pass]
	}
	return p.predicted(k, pass, takes)
}

func (p *Plan) predicted(k process.Kind, pass int, takes unit.Length) unit.Range {
	if p.alone {
		return p.law.Alone(p.law.Of(p.Setup, k, pass, takes))
	}
	m := p.shop.Predict(&p.known.law, p.Setup, k, pass, takes, p.q.Material, p.q.Machine, process.Next)
	return process.NineInTen(m)
}

// Gap is the gap a side of a pass, 1 is roughing. The gap of a pass is never above
// that of the pass before.
func (p *Plan) Gap(pass int) unit.Range { return p.falling(process.GapOf, pass) }

// Ra is the roughness in µm of the face that a pass leaves.
func (p *Plan) Ra(pass int) unit.Range { return p.falling(process.RaOf, pass) }

// Layer is the molten layer that a pass leaves, in mm; nothing where the material
// does not melt.
func (p *Plan) Layer(pass int) unit.Range {
	if !p.OK || p.Setup.NoLayer {
		return unit.Range{}
	}
	return p.falling(process.LayerOf, pass)
}

func (p *Plan) falling(k process.Kind, pass int) unit.Range {
	if !p.OK {
		return unit.Range{}
	}
	r := p.predict(k, pass, 0)
	if pass > 1 {
		was := p.predict(k, pass-1, 0)
		r.Low, r.High = min(r.Low, was.Low), min(r.High, was.High)
		r.Likely = min(r.Likely, was.Likely)
	}
	return r
}

// Left is the stock a side that a pass leaves for those after it: a setting, with
// a range only where layer and roughness decide it.
func (p *Plan) Left(pass int) unit.Range {
	if !p.OK || pass >= len(p.Passes) {
		return unit.Range{}
	}
	return unit.Exactly(float64(p.Passes[pass-1].Left))
}

// Rate is the area rate of roughing in mm²/min.
func (p *Plan) Rate() unit.Range {
	if !p.OK {
		return unit.Range{}
	}
	r := p.predict(process.RateOf, 1, 0)
	if p.flushed() {
		return r
	}
	return spread(r, p.flush)
}

// flushed reports whether a cut of this machine was read with this flushing: what it
// leaves of the rate is then learnt and not guessed.
func (p *Plan) flushed() bool {
	if p.lesson == nil {
		return false
	}
	for _, c := range p.lesson.cuts {
		if c.cut.Machine == p.q.Machine && c.row.Cell("flushing") == p.q.Flushing && c.cut.Read[process.RateOf] > 0 {
			return true
		}
	}
	return false
}

// Feed is the feed of a skim in mm/min that takes so much a side; 0 takes what the
// plan says.
func (p *Plan) Feed(pass int, takes unit.Length) unit.Range {
	if !p.OK || pass < 2 {
		return unit.Range{}
	}
	if takes == 0 && pass <= len(p.Passes) {
		takes = p.Passes[pass-1].Takes
	}
	return p.predict(process.SkimOf, pass, takes)
}

// Skims is the one feed in mm/min at which all skims of the plan take as long as
// they do at their own: the harmonic mean. Zero where the plan has none.
func (p *Plan) Skims() unit.Range {
	if !p.OK || len(p.Passes) < 2 {
		return unit.Range{}
	}
	var low, likely, high float64
	for k := 2; k <= len(p.Passes); k++ {
		r := p.Feed(k, 0)
		low, likely, high = low+1/r.Low, likely+1/r.Likely, high+1/r.High
	}
	n := float64(len(p.Passes) - 1)
	return unit.Range{Low: n / low, Likely: n / likely, High: n / high}
}

// Repeats is what the machine repeats: its card's, else the usual.
func (p *Plan) Repeats() unit.Length {
	if card, ok := p.of.book.Find("machines", p.q.Machine); ok && card.Num("repeats_um") > 0 {
		return unit.Length(card.Num("repeats_um") / 1000)
	}
	return process.Repeats
}

// Useful is how many passes of at most most are worth cutting here, and why the
// next is not.
func (p *Plan) Useful(most int) (int, process.Ends) {
	if !p.OK {
		return most, process.GoesOn
	}
	return p.law.Useful(p.Setup, most, p.Repeats())
}

// MostPasses is the most that the law is asked for.
const MostPasses = 9

// Reaches is the first pass, as the last of its plan, after which Ra is likely to
// be as fine as that; 0 where none of the plan's passes is.
func (p *Plan) Reaches(ra unit.Roughness) int {
	for k := 1; k <= len(p.Passes); k++ {
		if p.Ra(k).Likely <= float64(ra)*(1+1e-9) {
			return k
		}
	}
	return 0
}

// Floor is the roughness in µm that no number of passes passes below.
func (p *Plan) Floor() unit.Range {
	if !p.OK {
		return unit.Range{}
	}
	if p.alone {
		return p.law.Alone(p.law.Floor(p.Setup, true))
	}
	return process.NineInTen(p.shop.PredictFloor(&p.known.law, p.Setup, p.q.Material, p.q.Machine))
}

// spread puts the range of a factor beside a range whose likely value holds it
// already: what moves apart is added as squares of logarithms.
func spread(r, factor unit.Range) unit.Range {
	if factor.Low >= factor.High || factor.Low <= 0 || r.Low <= 0 {
		return r
	}
	side := func(end, mid, f, fmid float64) float64 {
		x, y := math.Log(end/mid), math.Log(f/fmid)
		return math.Sqrt(x*x + y*y)
	}
	return unit.Range{Low: r.Likely * math.Exp(-side(r.Low, r.Likely, factor.Low, factor.Likely)), Likely: r.Likely,
		High: r.Likely * math.Exp(side(r.High, r.Likely, factor.High, factor.Likely))}
}

// Rest is the charge that cannot be switched off in this cut.
func (p *Plan) Rest() process.Rest {
	if !p.OK {
		return process.Rest{}
	}
	return p.law.Rest(p.Setup)
}

// Take puts the reader's own value in the place of one of the law's constants, for
// this plan alone; no cut counts then.
func (p *Plan) Take(c process.Constant, r unit.Range) {
	if !p.OK {
		return
	}
	own := p.known.law
	if p.alone {
		own = *p.law
	}
	own.Set(c, r.Low, r.Likely, r.High)
	p.law, p.alone, p.lesson = &own, true, nil
	p.Passes = p.law.Ladder(p.Setup, len(p.Passes), false)
	clear(p.said[:])
}

// Constant is the likely value of one of the law's constants here.
func (p *Plan) Constant(c process.Constant) unit.Range {
	r, _ := p.of.book.Find("passlaw", process.Names()[c])
	v := r.Range("value", "n0", 1)
	return unit.Range{Low: v.Low, Likely: p.law.Likely[c], High: v.High}
}

// FloorLikely is the likely value of Floor, without its range: for plots.
func (p *Plan) FloorLikely() float64 { return p.law.Floor(p.Setup, false).Value }
