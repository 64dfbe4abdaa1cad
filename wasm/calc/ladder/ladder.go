package ladder

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

const maxPasses = 6

type form struct {
	_           [0]func() // never compared, so no code for comparing is made
	book        *book.Book
	direction   string
	wire        unit.Length
	dielectric  string
	passes      unit.Count
	gap         [maxPasses]unit.Length
	gapGiven    [maxPasses]bool
	left        [maxPasses]unit.Length
	held        [maxPasses]unit.Length // offsets on the control
	polarity    [maxPasses]string
	radius      unit.Length
	radiusGiven bool
	angle       unit.Angle
	machine     string
	material    string
	thickness   unit.Length

	offset, takes, leaves, corner, cornerStock [maxPasses]unit.Length
	kerf, slot                                 unit.Length
	finish                                     unit.Roughness
	ra                                         [maxPasses]unit.Roughness // given by say, with their range
	feed                                       [maxPasses]unit.Speed
	plan                                       *calc.Plan
	problem, where                             string
}

// Calculator declares the pass plan.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "ladder", Title: "Pass plan", Question: "Which offset for each pass?",
		Summary: "Offsets, stock and corners for roughing and skims; and the other way round, what the offsets on the control take off and which of them looks wrong.",
		Tables:  []string{"law", "materials name", "machines"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.passFields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) n() int { return int(in.passes) }

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.direction, `direction: What is asked
		group Plan
		is plan
		option plan: plan the offsets
		option read-back: read the control's offsets`)
	calc.AskMachine(f, in.book, &in.machine)
	calc.Ask(f, &in.wire, `wire: Wire
		mark ⌀
		group Wire and work
		is 0.25 mm
		card wire_from_mm wire_to_mm
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this`)
	calc.AskChoice(f, &in.dielectric, `dielectric: Dielectric
		is water
		card dielectrics
		option water: water
		option oil: oil`)
	calc.Ask(f, &in.passes, `passes: Passes, roughing included
		mark passes
		is 4
		usual 1 to 6
		min 1: there is at least the roughing pass
		max 6: more passes than this gain nothing that this plan can show
		option 1: 1
		option 2: 2
		option 3: 3
		option 4: 4
		option 5: 5
		option 6: 6`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Work")
	calc.Ask(f, &in.thickness, `thickness: Thickness
		is 20 mm
		card - height_mm
		keys mm in; in
		usual 0.5 mm to 200 mm
		above 0 mm: the part has a thickness
		max 1000 mm: no machine takes more
		advanced`)
}

// passFields declares the fields of each pass.
func (in *form) passFields(f *calc.Form) {
	for i := range maxPasses {
		no := strconv.Itoa(i + 1)
		used := func() bool { return i < in.n() }
		group := "Pass " + no
		if i == 0 {
			group = "Pass 1, roughing"
		}
		{
			d := calc.AskGiven(f, &in.gap[i], &in.gapGiven[i], "gap-"+no+": Gap of pass "+no+`
		group `+group+`
		keys small
		usual 1 µm to 70 µm
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide
		ranges`)
			d.Fallback = func() calc.Fallback { return in.lawGap(i) }
			d.ShowIf = used
		}
		if i < maxPasses-1 {
			var given bool
			{
				d := calc.AskGiven(f, &in.left[i], &given, "left-"+no+": Stock left after pass "+no+`
		keys small
		usual 0.5 µm to 0.12 mm
		min 0 µm: stock left is not negative
		max 2 mm: skims do not take this much
		ranges`)
				d.Fallback = func() calc.Fallback { return in.lawLeft(i) }
				d.ShowIf = func() bool { return i < in.n()-1 && in.direction == "plan" }
			}
		}
		var given bool
		calc.AskGiven(f, &in.held[i], &given, "offset-"+no+": Offset "+no+` on the control
		keys length
		usual 0.012 mm to 0.35 mm
		min 0 mm: offsets are written as plus here
		max 5 mm: no plan for wire needs more`).ShowIf = func() bool { return used() && in.direction == "read-back" }
		calc.AskChoice(f, &in.polarity[i], "polarity-"+no+": Polarity of pass "+no+`
		is wire-minus
		card polarities
		option wire-minus: wire − / work +
		option wire-plus: wire + / work −
		option alternating: alternating, zero mean`).ShowIf = used
	}
	calc.AskGiven(f, &in.radius, &in.radiusGiven, `radius: Smallest inside radius of the contour
		mark R
		keys length
		usual 0.02 mm to 5 mm
		min 0 mm: a radius is not negative; 0 is a sharp corner
		max 1000 mm: a radius this large is no corner
		advanced`)
	calc.Ask(f, &in.angle, `angle: Angle of that corner
		is 90°
		keys °
		usual 20° to 170°
		min 5°: below this the corner is a slit
		max 175°: above this the two walls are nearly one
		advanced`)
}

// law is what the law of a pass says of this plan, asked once.
func (in *form) law() *calc.Plan {
	if in.plan == nil {
		in.plan = calc.LawOf(in.book).Plan(in.cut(), in.n())
	}
	return in.plan
}

// lawGap is the gap of a pass: a row of the shop's, else by the law.
func (in *form) lawGap(i int) calc.Fallback {
	if i >= in.n() {
		return calc.Fallback{}
	}
	if i == 0 || i == 1 && in.n() > 2 || i == in.n()-1 && in.n() > 2 {
		stage := [...]string{"rough", "skim", "fine"}[min(i, 2)]
		if fb, ok := calc.GapRow(in.book, in.cut(), stage); ok {
			return fb
		}
	}
	return in.law().ToldGap(i + 1)
}

// cut is what the law is asked about.
func (in *form) cut() book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}
}

// lawLeft is the stock after a pass, as the plan has it: a setting, which no cut
// teaches.
func (in *form) lawLeft(i int) calc.Fallback {
	if i >= in.n()-1 {
		return calc.Fallback{}
	}
	return in.law().ToldLeft(i + 1)
}

func (in *form) answers(f *calc.Form) {
	for i := range maxPasses {
		no := strconv.Itoa(i + 1)
		used := func() bool { return i < in.n() }
		gap := []string{"gap-" + no}
		left, before, gapBefore := []string{}, []string{}, []string{}
		if i < maxPasses-1 {
			left = []string{"left-" + no}
		}
		if i > 0 {
			before, gapBefore = []string{"left-" + strconv.Itoa(i)}, []string{"gap-" + strconv.Itoa(i)}
		}
		{
			d := calc.Tell(f, &in.offset[i], "offset-"+no+": Offset of pass "+no)
			d.Applies = used
			d.Rises = append(left, gap...)
		}
		{
			d := calc.Tell(f, &in.leaves[i], "leaves-"+no+": Stock left after pass "+no+`
		unit µm 1
		inch thou 2`)
			d.Applies = used
			d.Falls = gap
			d.Rises = left
		}
		{
			d := calc.Tell(f, &in.corner[i], "corner-"+no+": Smallest radius of pass "+no)
			d.Applies = used
			d.Rises = gap
		}
		{
			d := calc.Tell(f, &in.gap[i], "gap-"+no+": Gap of pass "+no+"\nunit µm 1\ninch thou 2")
			d.Applies, d.Rises = used, gap
		}
		calc.Tell(f, &in.ra[i], "ra-"+no+": Roughness that pass "+no+" leaves\ngiven\ndigits 2").Applies = used
		if i > 0 {
			calc.Tell(f, &in.feed[i], "feed-"+no+": Feed of pass "+no+"\ngiven\ndigits 2").Applies = used
			{
				d := calc.Tell(f, &in.takes[i], "takes-"+no+": Stock taken by pass "+no+`
		unit µm 1
		inch thou 2`)
				d.Applies = used
				d.Falls = append(left, gapBefore...)
				d.Rises = append(before, gap...)
			}
		}
	}
	calc.Tell(f, &in.kerf, `kerf-1: Slot that roughing leaves
		rises gap-1`)
	calc.Tell(f, &in.slot, `slot: Narrowest slot that takes all passes
		rises gap-1 left-1`)
	calc.Tell(f, &in.finish, "finish: Roughness to expect\ngiven\ndigits 2")
	calc.TellChoice(f, &in.problem, `problem: What looks wrong
		word none: nothing
		word takes-nothing: a skim takes nothing
		word offsets-do-not-fall: the offsets do not fall
		word below-wire-and-gap: an offset is less than half the wire and the gap
		word offset-missing: an offset is missing`)
}

func (in *form) point(p *calc.Point) {
	in.problem, in.where = "none", ""
	for i := range in.n() {
		if i > 0 && in.gap[i] > in.gap[i-1]+1e-12 {
			p.Impossible("the gap of pass " + strconv.Itoa(i+1) + " is above the gap of pass " + strconv.Itoa(i) + ", and a skim runs with less energy, not more")
		}
		if in.direction == "plan" {
			left := unit.Length(0)
			if i < in.n()-1 {
				left = in.left[i]
			}
			in.offset[i], in.leaves[i] = Offset(in.wire, in.gap[i], left), left
		} else {
			in.offset[i], in.leaves[i] = in.held[i], Leaves(in.held[i], in.wire, in.gap[i])
		}
		in.corner[i] = in.wire/2 + in.gap[i]
		if i > 0 {
			in.takes[i] = Takes(in.offset[i-1], in.gap[i-1], in.offset[i], in.gap[i])
			in.cornerStock[i] = Surface(in.offset[i-1], in.wire, in.gap[i-1], in.leaves[i-1], in.radius, in.angle) -
				Surface(in.offset[i], in.wire, in.gap[i], in.leaves[i], in.radius, in.angle)
		}
		in.look(i)
	}
	in.kerf, in.slot = in.wire+2*in.gap[0], 2*in.offset[0]
	if p.Stepping() {
		in.steps(p)
	}
}

// look notes the first thing that looks wrong in a plan.
func (in *form) look(i int) {
	const same = 1e-9
	set := func(what string) {
		if in.problem == "none" {
			in.problem, in.where = what, strconv.Itoa(i+1)
		}
	}
	switch {
	case in.direction == "read-back" && in.held[i] == 0:
		set("offset-missing")
	case in.leaves[i] < -same:
		set("below-wire-and-gap")
	case i > 0 && in.offset[i] > in.offset[i-1]-same && in.takes[i] <= same:
		set("offsets-do-not-fall")
	case i > 0 && in.takes[i] <= same:
		set("takes-nothing")
	}
}

func (in *form) steps(p *calc.Point) {
	mm := func(name, no string) string { return "{" + name + "-" + no + ":mm 4}" }
	for i := range in.n() {
		no, before := strconv.Itoa(i+1), strconv.Itoa(i)
		offset, gap, left := mm("offset", no), mm("gap", no), mm("leaves", no)
		if in.direction == "plan" {
			p.Work("offset-" + no + " = " + offset + " | offset of pass " + no + " | d/2 + gap + stock left | {wire:mm 4} / 2 + " + gap + " + " + left + " | kalpakjian-schmid")
		} else {
			p.Work("leaves-" + no + " = " + left + " | stock left after pass " + no + " | offset - d/2 - gap | " + offset + " - {wire:mm 4} / 2 - " + gap + " | kalpakjian-schmid")
		}
		if i > 0 {
			p.Work("takes-" + no + " = " + mm("takes", no) + " | stock taken by pass " + no + " | (offset before - gap before) - (offset - gap) | (" +
				mm("offset", before) + " - " + mm("gap", before) + ") - (" + offset + " - " + gap + ") | geometry")
		}
	}
}
