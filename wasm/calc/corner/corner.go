package corner

import (
	"slices"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// same is the difference in millimetres below which two radii count as equal:
// a billionth of a millimetre, far below any print and above the rounding of
// sums of lengths.
const same = 1e-9

// form holds the typed inputs and answers of one evaluation.
type form struct {
	_           [0]func() // never compared, so no code for comparing is made
	asks        string
	radius      calc.Span[unit.Length]
	angle       unit.Angle
	wire        unit.Length
	wires       []unit.Length
	machine     string
	dielectric  string
	pass        string
	gap         unit.Length
	gapGiven    bool
	roughGiven  bool
	leftGiven   bool
	lawSilent   bool // the law says nothing of this wire's roughing
	roughGap    unit.Length
	left        unit.Length
	clearance   unit.Length
	punch       bool
	slot        unit.Length
	slotGiven   bool
	material    string
	thickness   unit.Length
	thickGiven  bool
	finish      unit.Roughness
	finishGiven bool

	kerf                                                   unit.Length
	passes                                                 string
	leaves, gapLimit, rough, evenWire, punchCorner, askFor unit.Length
	uncut                                                  unit.Length
	uncutArea                                              unit.Area
	verdict, roughFits, largest, larger                    string
	sharp                                                  bool
	book                                                   *book.Book
	ownGaps                                                []unit.Range // of the listed wires, by the law
	names                                                  []string     // of the listed wires
}

// Calculator declares the corner calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID:       "corner",
		Title:    "Inside corner",
		Question: "Which wire for this inside corner?",
		Summary:  "The radius a wire and its gap leave, the wires that reach the print's radius, and whether roughing fits too.",
		Tables:   []string{"law", "wires", "materials name", "machines wire_from_mm wire_to_mm"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.OfferWires(in.book, calc.Ask(f, &in.wire, `wire: Wire on the machine
		mark ⌀
		group Corner
		is 0.25 mm
		card wire_from_mm wire_to_mm
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this`))
	calc.AskSpan(f, &in.radius, `radius: Inside radius on the print
		mark R
		is 0.15 mm
		keys length
		usual 0.02 mm to 5 mm
		above 0 mm: for a corner without a radius choose “sharp”
		max 1000 mm: a radius this large is no corner`).ShowIf = func() bool { return in.asks != "sharp" }
	calc.AskChoice(f, &in.asks, `asks: The print asks for
		is maximum
		option maximum: R at most
		option plus-minus: R with ±
		option minimum: R at least
		option sharp: sharp`)
	calc.Ask(f, &in.angle, `angle: Angle of the corner, on the wire's side
		mark -
		is 90°
		keys °
		usual 20° to 170°
		min 5°: below this the uncut tip is longer than eleven tool radii and the formula says nothing useful
		max 175°: above this the two walls are nearly one
		ranges`)
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskChoice(f, &in.dielectric, `dielectric: Dielectric
		group Gap
		is water
		card dielectrics
		option water: water
		option oil: oil`)
	calc.AskChoice(f, &in.pass, `pass: Last pass
		is fine
		help The pass that leaves the finished corner.`+calc.LastPass)
	calc.AskGiven(f, &in.gap, &in.gapGiven, `gap: Spark gap of the last pass, each side
		help Leave it empty to take the law's range. A measured gap is always better.
		keys small
		usual 1 µm to 70 µm
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide
		ranges`).Fallback = func() calc.Fallback { return calc.GapOf(in.book, in.cut(in.wire), in.pass) }
	in.rest(f)
	calc.AskGiven(f, &in.roughGap, &in.roughGiven, `rough-gap: Spark gap of roughing, each side
		keys small
		usual 2 µm to 70 µm
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide
		ranges
		advanced`).Fallback = func() calc.Fallback { return in.ifKnown(calc.GapOf(in.book, in.cut(in.wire), "rough")) }
	calc.AskGiven(f, &in.left, &in.leftGiven, `left: Stock left by roughing, each side
		keys small
		usual 2 µm to 0.12 mm
		min 0 µm: stock left is not negative
		max 2 mm: skims do not take this much
		ranges
		advanced`).Fallback = func() calc.Fallback { return in.ifKnown(calc.LeftOf(in.book, in.cut(in.wire))) }
	calc.OfferWires(in.book, calc.AskList(f, &in.wires, `wires: Wires the machine can run
		is 0.05 mm; 0.07 mm; 0.1 mm; 0.15 mm; 0.2 mm; 0.25 mm; 0.3 mm
		keys length
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this
		advanced`))
	calc.AskGiven(f, &in.clearance, &in.punch, `clearance: Punch and die: clearance, each side
		help Leave it empty when there is no punch.
		keys small
		usual 1 µm to 0.5 mm
		min 0 µm: clearance per side is not negative
		max 5 mm: this is wider than any clearance for cutting sheet
		ranges
		advanced`)
}

// rest is what else the print says; all of it may stay empty.
func (in *form) rest(f *calc.Form) {
	calc.AskGiven(f, &in.slot, &in.slotGiven, `slot: Narrowest slot
		mark slot
		group The rest of the print
		keys length
		usual 0.03 mm to 5 mm
		above 0 mm: a slot has a width
		max 1000 mm: a slot this wide is none`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material")
	calc.AskGiven(f, &in.thickness, &in.thickGiven, `thickness: Thickness
		card - height_mm
		keys mm in; in
		usual 0.5 mm to 200 mm
		above 0 mm: the part has a thickness
		max 1000 mm: no machine takes more`)
	calc.AskGiven(f, &in.finish, &in.finishGiven, `finish: Finish, Ra
		keys µm µin; µin
		usual 0.1 µm to 6 µm
		min 0.006 µm: no face is finer
		max 80 µm: no cut face is rougher`)
}

// ifKnown leaves roughing out where the law says nothing of it: the corner itself is
// answered by a typed gap alone.
func (in *form) ifKnown(fb calc.Fallback) calc.Fallback {
	if fb.Wanted != "" {
		in.lawSilent = true
		return calc.Fallback{Note: fb.Wanted}
	}
	return fb
}

// roughKnown reports whether roughing's gap and stock are known.
func (in *form) roughKnown() bool { return !in.lawSilent || in.roughGiven && in.leftGiven }

// cut asks for the shop's measured cut with a wire.
func (in *form) cut(d unit.Length) book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: d}
}

func (in *form) answers(f *calc.Form) {
	vertex := func() bool { return !in.sharp }
	calc.TellChoice(f, &in.verdict, `verdict: Can this wire cut it
		word yes: Yes
		word no: No
		word only-if: Only if programmed`)
	calc.Tell(f, &in.leaves, `radius-left: Radius the wire leaves
		rises gap
		main`)
	calc.Tell(f, &in.gapLimit, `gap-limit: Works up to a gap of
		unit µm 1
		inch thou 2`).Applies = func() bool { return !in.sharp && (in.asks != "minimum" || in.slotGiven) }
	calc.Tell(f, &in.rough, `rough-radius: Radius roughing needs for even stock
		rises rough-gap left`).Applies = in.roughKnown
	calc.TellChoice(f, &in.roughFits, `rough-fits: Roughing with even stock
		word fits: fits
		word does-not-fit: does not fit
		word unknown: not known`)
	calc.Tell(f, &in.evenWire, `largest-even-wire: Largest wire for even stock, at this gap and stock
		falls rough-gap left`).Applies = func() bool { return vertex() && in.roughKnown() }
	calc.Tell(f, &in.uncut, `uncut-distance: Left uncut, vertex to wall
		rises gap
		falls angle`)
	calc.Tell(f, &in.uncutArea, `uncut-area: Area left uncut
		rises gap
		falls angle`)
	calc.TellChoice(f, &in.largest, "largest-wire: Largest wire that reaches it")
	calc.TellChoice(f, &in.larger, "next-larger: Next larger wire, not sure to reach it")
	calc.Tell(f, &in.kerf, `kerf: Slot this pass leaves
		rises gap`)
	calc.TellChoice(f, &in.passes, `passes: Passes for the finish, by the law
		word not-asked: no finish was given
		word none: no number of passes makes it so fine`)
	calc.Tell(f, &in.punchCorner, `punch-corner: Outside corner of the punch
		rises gap
		falls clearance`).Applies = func() bool { return in.punch }
	calc.Tell(f, &in.askFor, `ask-for: Radius to ask the customer for
		rises gap
		main`).Applies = func() bool { return in.sharp }
}

func (in *form) point(p *calc.Point) {
	in.leaves = Left(in.wire, in.gap)
	in.rough = Roughing(in.wire, in.roughGap, in.left)
	in.uncut = UncutDistance(in.leaves, in.angle)
	in.uncutArea = UncutArea(in.leaves, in.angle)
	in.punchCorner = Punch(in.leaves, in.clearance)
	in.sharp = in.asks == "sharp"
	in.gapLimit = in.limit(in.wire)
	in.kerf = in.wire + 2*in.gap
	in.passes = in.passesFor()
	in.evenWire = max(0, EvenWire(in.target(), in.roughGap, in.left))
	in.askFor = in.leaves
	in.verdict = in.able(in.wire, in.gap)
	in.roughFits = "fits"
	if in.asks != "minimum" && (in.sharp || in.rough > in.target()+same) {
		in.roughFits = "does-not-fit"
	}
	if !in.roughKnown() {
		in.roughFits = "unknown"
	}
	in.largest, in.larger = in.choose()
	if p.Stepping() {
		in.steps(p)
	}
}

// target is the radius that decides: the largest the print allows.
func (in *form) target() unit.Length {
	if in.asks == "plus-minus" {
		return in.radius.High
	}
	return in.radius.Low
}

// judge compares the radius a tool leaves with the words of the print.
func (in *form) judge(leaves unit.Length) string {
	switch in.asks {
	case "sharp":
		return "no"
	case "minimum":
		return "yes"
	case "plus-minus":
		// The radius is programmed: any radius from the tool's own upwards.
		switch {
		case leaves <= in.radius.Likely+same:
			return "yes"
		case leaves <= in.radius.High+same:
			return "only-if"
		}
		return "no"
	}
	switch {
	case leaves <= in.radius.Low+same:
		return "yes"
	case leaves <= in.radius.High+same:
		return "only-if"
	}
	return "no"
}

// able judges a wire with a gap by the corner and by the slot.
func (in *form) able(d, gap unit.Length) string {
	if in.slotGiven && d+2*gap > in.slot+same {
		return "no"
	}
	return in.judge(Left(d, gap))
}

// limit is the widest gap with which a wire does both.
func (in *form) limit(d unit.Length) unit.Length {
	g := GapLimit(in.target(), d)
	if in.slotGiven {
		slot := (in.slot - d) / 2
		if in.asks == "minimum" || slot < g {
			return slot
		}
	}
	return g
}

// passesFor is how many passes the finish takes by the law, most nine: the first
// number whose likely roughness is fine enough.
func (in *form) passesFor() string {
	if !in.finishGiven {
		return "not-asked"
	}
	if n := calc.LawOf(in.book).Plan(in.cut(in.wire), calc.MostPasses).Reaches(in.finish); n > 0 {
		return strconv.Itoa(n)
	}
	return "none"
}

// choose finds the largest listed wire that is sure to reach the radius, and
// the next larger one. A typed gap serves for every wire; by the law each wire has
// its own and must do at the wide end of it.
func (in *form) choose() (largest, larger string) {
	largest, larger = "none", "none"
	in.lookUp()
	if in.sharp {
		return largest, larger // no wire does
	}
	for i, d := range in.wires {
		if in.able(d, unit.Length(in.gapOf(i).High)) == "yes" {
			largest, larger = in.names[i], "none"
		} else if larger == "none" {
			larger = in.names[i]
		}
	}
	return largest, larger
}

// lookUp takes the gaps of the listed wires by the law, once: wires,
// dielectric and pass are the same at every point.
func (in *form) lookUp() {
	if in.names != nil {
		return
	}
	// The wire on the machine is one of those it can run.
	at := 0
	for at < len(in.wires) && in.wires[at] < in.wire-same {
		at++
	}
	if at == len(in.wires) || in.wires[at] > in.wire+same {
		in.wires = slices.Insert(in.wires, at, in.wire)
	}
	if card, ok := in.book.Find("machines", in.machine); ok {
		in.wires = slices.DeleteFunc(in.wires, func(d unit.Length) bool {
			return float64(d) < card.Num("wire_from_mm")-same || float64(d) > card.Num("wire_to_mm")+same
		})
	}
	for _, d := range in.wires {
		r := calc.GapRange(in.book, in.cut(d), in.pass)
		in.ownGaps, in.names = append(in.ownGaps, r), append(in.names, millimetres(d))
	}
}

// gapOf is the gap of the i-th listed wire.
func (in *form) gapOf(i int) unit.Range {
	if in.gapGiven {
		return unit.Exactly(float64(in.gap))
	}
	return in.ownGaps[i]
}
