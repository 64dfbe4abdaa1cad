// Package job answers the whole question: what the print says in, a complete
// process out, each decision with its reason. The reasons are rules of the
// table of rules; the numbers are answers of the other calculators, which it is
// given. It holds no formula that one of them has.
//
// It may import book, calc, laws, rules, spell, unit and the topics whose formulas
// make its facts.
package job

import (
	"strings"
	"sync/atomic"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// form holds the typed inputs of one evaluation.
type form struct {
	_    [0]func() // never compared, so no code for comparing is made
	book *book.Book
	of   func(id string) *calc.Calculator
	kept *atomic.Pointer[cache]

	radius, size                                     calc.Span[unit.Length]
	angle                                            unit.Angle
	taper                                            unit.Angle
	slot, tooth, thickness, length, slugWidth        unit.Length
	slotGiven, toothGiven, slugGiven                 bool
	finish                                           unit.Roughness
	cobalt                                           unit.Percent
	quantity, openings                               unit.Count
	asks, material, condition, measured, datum, kind string
	part, number, revision, drawing                  string
	machine, oil, startHole, unattended, nozzle      string

	wire   unit.Length
	passes unit.Count
	own    map[string]*string // overrides that are choices, by decision
	given  map[string]*bool   // overrides that are numbers, by decision

	gotError, gotRadius, gotGap unit.Length
	gotRa                       unit.Roughness
	gotTime                     unit.Time
	got                         [5]bool

	outWire                                   unit.Length
	outPasses                                 unit.Count
	outRa                                     unit.Roughness
	outTime                                   unit.Time
	outCost                                   unit.Money
	outRadius, outSpare                       unit.Length
	outVerdict, outDielectric, outStart       string
	outType, outPolarity, outMachine, outSlug string
}

// Calculator declares the job sheet; of gives the other calculators by name.
func Calculator(of func(id string) *calc.Calculator) *calc.Calculator {
	kept := &atomic.Pointer[cache]{}
	return &calc.Calculator{
		ID: "job", Title: "Job sheet", Question: "How is this part cut, from the print to the inspection?",
		Summary: "Every decision from the wire to the inspection, with its range, its reason and how sure it is; overrides, alternatives and the cut's own results.",
		Tables:  []string{"rules decides asks when over text page", "decisions decision option name label what range sure headline", "law", "wires tallest_mm", "readings error_likely_um", "wiretypes uts_likely_mpa density_likely_kgm3", "machines dielectrics polarities wire_from_mm wire_to_mm hole_mm height_mm tension_from_n tension_to_n conductivity_from_uscm threading", "flushings name", "dielectrics", "materials name density_likely_gcm3 shear_likely_mpa", "asks width_um", "properties value_likely_n0", "prices currency amount_n0", "quote each name work_n0 machine_n0 amount_n0", "pushes load_likely_npm", "waters target_low_uscm target_high_uscm"},
		Long:    true,
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b, of: of, kept: kept, own: map[string]*string{}, given: map[string]*bool{}}
			in.fields(f)
			in.more(f)
			in.decisions(f)
			in.after(f)
			in.answers(f)
			return calc.Run{Point: in.knows, Say: in.say}
		},
	}
}

// knows refuses a material of which the law of a pass has no number: a sheet of
// noughts would be the answer.
func (in *form) knows(p *calc.Point) {
	q := book.Cut{Material: in.material, Dielectric: "water", Thickness: in.thickness, Wire: usualWire}
	if plan := calc.LawOf(in.book).Plan(q, 1); !plan.OK {
		p.Impossible(plan.Why)
	}
}

// usualWire is in mm, what shops keep on the machine. Common practice.
const usualWire = 0.25

// cache is what is looked up often, kept with the calculator for the book it
// was looked up in. It is only read after that.
func (in *form) cache() *cache {
	if e := in.kept.Load(); e != nil && e.book == in.book {
		return e
	}
	e := newCache(in.book)
	in.kept.Store(e)
	return e
}

// fields is what every print says.
func (in *form) fields(f *calc.Form) {
	calc.AskSpan(f, &in.radius, `radius: Smallest inside radius
		mark R
		group The print
		is 0.2 mm
		keys length
		usual 0.02 mm to 5 mm
		above 0 mm: for a corner without a radius choose “sharp”
		max 1000 mm: a radius this large is no corner`).ShowIf = func() bool { return in.asks != "sharp" && in.asks != "none" }
	calc.AskChoice(f, &in.asks, `asks: The print asks for
		option maximum: R at most
		option plus-minus: R with ±
		option minimum: R at least
		option sharp: sharp
		option none: no inside corner`)
	calc.Ask(f, &in.angle, `angle: Angle of the corner, on the wire's side
		is 90°
		keys °
		usual 20° to 170°
		min 5°: below this the uncut tip is longer than eleven tool radii and the formula says nothing useful
		max 175°: above this the two walls are nearly one
		unless asks none`)
	calc.AskGiven(f, &in.slot, &in.slotGiven, `slot: Narrowest slot
		mark slot
		keys length
		usual 0.03 mm to 5 mm
		above 0 mm: a slot has a width
		max 1000 mm: a slot this wide is none`)
	calc.AskGiven(f, &in.tooth, &in.toothGiven, `tooth: Thinnest tooth or wall left standing
		keys length
		usual 0.05 mm to 10 mm
		above 0 mm: a wall has a thickness
		max 1000 mm: a wall this thick is none`)
	calc.Ask(f, &in.thickness, `thickness: Thickness
		mark thickness
		is 20 mm
		keys mm in; in
		usual 0.5 mm to 200 mm
		min 0.3 mm: below this the law of a pass says nothing
		max 400 mm: above this the law of a pass says nothing, and few machines take more`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -")
	calc.AskSpan(f, &in.size, `size: Size with the closest tolerance
		mark size
		is 20 ±0.02 mm
		help With its tolerance. Without one the sheet takes what wire cutting gives easily.
		keys mm in; in
		usual 1 mm to 300 mm
		above 0 mm: a size is more than nothing
		max 10000 mm: no machine is this long`)
	calc.Ask(f, &in.finish, `finish: Finish, Ra
		mark Ra
		is 0.8 µm
		keys µm µin; µin
		usual 0.1 µm to 6 µm
		min 0.006 µm: no face is finer
		max 80 µm: no cut face is rougher`)
}

// more is what a print may say too.
func (in *form) more(f *calc.Form) {
	calc.AskWords(f, &in.part, "part: Part\ngroup More of the print")
	calc.AskWords(f, &in.number, "number: Drawing number\nadvanced")
	calc.AskWords(f, &in.revision, "revision: Revision\nadvanced")
	calc.Ask(f, &in.quantity, `quantity: Pieces
		is 1
		usual 1 to 1000
		min 1: without a piece there is no job
		max 1000000: nobody cuts this many by wire`)
	calc.AskChoice(f, &in.kind, `kind: What is cut
		option opening: an opening
		option punch: a punch or a part from outside`)
	calc.Ask(f, &in.length, `length: Length of the contour
		is 80 mm
		keys mm in; in
		usual 3 mm to 3000 mm
		above 0 mm: a contour has a length
		max 1000000 mm: this is a kilometre`)
	calc.Ask(f, &in.openings, `openings: Openings in a piece
		is 1
		usual 1 to 200
		min 1: one contour is one
		max 10000: this is a sieve`)
	calc.Ask(f, &in.taper, `taper: Taper of the wall
		is 0°
		keys °
		usual 0° to 30°
		min 0°: the sign is not asked here
		max 45°: no machine tilts the wire further`)
	calc.AskChoice(f, &in.condition, `condition: Condition
		advanced
		option hardened: hardened
		option annealed: annealed
		option sintered: sintered
		option ground: ground flat on both faces`)
	calc.Ask(f, &in.cobalt, `cobalt: Cobalt in the carbide
		advanced
		is 10 %
		keys %
		usual 3 % to 25 %
		above 0 %: without a binder nothing is leached
		max 40 %: this is no cutting carbide
		if material carbide`)
	calc.AskChoice(f, &in.measured, `measured: Finish measured
		advanced
		option not-said: the print does not say
		option along: along the cut
		option across: across the cut`)
	calc.AskGiven(f, &in.slugWidth, &in.slugGiven, `slug-width: Narrow side of what falls out
		advanced
		help Left empty: a quarter of the contour.
		keys mm in; in
		usual 0.5 mm to 200 mm
		above 0 mm: a slug has a width
		max 10000 mm: no machine is this wide`)
	calc.AskText(f, &in.drawing, "drawing: Drawing\nadvanced\nhelp A profile as DXF, SVG or ISO 6983 words. It then decides radius, angle, slot and length.")
	calc.AskChoice(f, &in.datum, `datum: Datum that the drawing names
		advanced
		option not-said: it names none
		option edges: edges
		option hole: a hole`)
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskChoice(f, &in.oil, "oil: Oil\noption allowed: may be used\noption no: not in this shop\nadvanced")
	calc.AskChoice(f, &in.startHole, "start-hole: Start hole\noption allowed: may be drilled\noption no: none allowed\nadvanced")
	calc.AskChoice(f, &in.unattended, "unattended: Watch\noption no: somebody is there\noption yes: runs alone\nadvanced")
	calc.AskRows(f, in.book, "flushings", &in.nozzle, "nozzles: Flushing\nadvanced")
}

// asDecided is the value of an override that leaves the decision to the rules.
const asDecided = "as-decided"

// decisions are the reader's own; every one is as decided until chosen.
func (in *form) decisions(f *calc.Form) {
	given := func(name string) *bool { in.given[name] = new(bool); return in.given[name] }
	calc.AskGiven(f, &in.wire, given("wire"), `use-wire: Wire
		group Your own decisions
		advanced
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.02 mm: below this the law of a pass says nothing
		max 0.36 mm: wire for cutting ends here, and so does the law of a pass`)
	calc.AskGiven(f, &in.passes, given("passes"), `use-passes: Passes
		advanced
		usual 1 to 6
		min 1: there is at least the roughing pass
		max 6: nobody makes more`)
	t := in.book.Table("decisions")
	for _, d := range []string{"dielectric: Dielectric", "wire-type: What the wire is made of", "polarity: Polarity", "start: Start", "slug: Slug", "tension: Tension", "lead-in: Lead-in", "direction: Direction of the passes", "relax: Relaxing before the finish"} {
		name, label, _ := strings.Cut(d, ": ")
		in.own[name] = new(string)
		ask := calc.AskChoice(f, in.own[name], "use-"+name+": "+label+"\nadvanced\noption "+asDecided+": as decided")
		if len(ask.Options) > 1 || t == nil { // known from before
			continue
		}
		for _, r := range t.Rows {
			if r.Cell("decision") == name {
				ask.Options = append(ask.Options, calc.Option{Value: r.Cell("option"), Label: r.Cell("label")})
			}
		}
	}
}

// after is what the cut itself came to.
func (in *form) after(f *calc.Form) {
	calc.AskGiven(f, &in.gotError, &in.got[0], `got-size-error: Size found, less the size wanted
		group After the cut
		advanced
		help Of one opening or one punch; minus when it is too small.
		keys small
		usual -20 µm to 20 µm
		min -1 mm: this is another part
		max 1 mm: this is another part`)
	calc.AskGiven(f, &in.gotRadius, &in.got[1], "got-radius: Inside radius found\nadvanced\nkeys length\nusual 0.02 mm to 5 mm\nabove 0 mm: a radius is more than nothing\nmax 1000 mm: this is no corner")
	calc.AskGiven(f, &in.gotRa, &in.got[2], "got-ra: Ra found\nadvanced\nkeys µm µin; µin\nusual 0.1 µm to 6 µm\nabove 0 µm: no face is finer than nothing\nmax 80 µm: no cut face is rougher")
	calc.AskGiven(f, &in.gotTime, &in.got[3], "got-time: Time of one piece\nadvanced\nkeys min h\nusual 1 min to 6000 min\nabove 0 min: it took a while\nmax 100000 min: this is two months")
	calc.AskGiven(f, &in.gotGap, &in.got[4], "got-gap: Gap found on the test slot, last pass\nadvanced\nkeys small\nusual 1 µm to 70 µm\nmin 0 µm: a gap is not negative\nmax 1 mm: no spark crosses a gap this wide")
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.outVerdict, "verdict: Can it be cut\ngiven\nword yes: yes\nword only-if: only if\nword no: no")
	calc.Tell(f, &in.outWire, "wire: Wire\ngiven\nmain")
	calc.TellChoice(f, &in.outDielectric, "dielectric: Dielectric\ngiven\nword water: water\nword oil: oil")
	calc.TellChoice(f, &in.outType, "wire-type: Wire's material\ngiven")
	calc.TellChoice(f, &in.outMachine, "machine: Machine card\ngiven")
	calc.Tell(f, &in.outRadius, "radius-left: Inside radius left\ngiven")
	calc.Tell(f, &in.outPasses, "passes: Passes\ngiven\nmain")
	calc.TellChoice(f, &in.outPolarity, "polarity: Polarity\ngiven")
	calc.TellChoice(f, &in.outStart, "start: Start\ngiven")
	calc.TellChoice(f, &in.outSlug, "slug: Slug\ngiven")
	calc.Tell(f, &in.outRa, "ra: Roughness to expect\ngiven\nmain\ndigits 2")
	calc.Tell(f, &in.outTime, "time: Time of one piece\ngiven\nmain\nunit h 2")
	calc.Tell(f, &in.outCost, "cost: Cost of one piece, "+currency(in.book)+"\ngiven\nmain")
	calc.Tell(f, &in.outSpare, "ask-for: Radius to ask the customer for\ngiven")
}
