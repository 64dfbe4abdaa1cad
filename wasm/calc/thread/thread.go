package thread

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// finest is the wire from which the height limit of the finest wires is offered,
// and fineLimit that height: half an inch. Common practice, no source.
const finest, fineLimit unit.Length = 0.03, 12.7

// inPlace and lowEnough are the wire from which, and the height up to which, a
// machine that leads the wire is let try where it broke. Common practice, no source.
const inPlace, lowEnough unit.Length = 0.2, 100

// byMachine is the diameter below which nobody threads by hand. Common practice,
// no source.
const byMachine unit.Length = 0.07

type form struct {
	_                       [0]func() // never compared, so no code for comparing is made
	book                    *book.Book
	machine, kind, ends     string
	led                     string
	wire, height, exit      unit.Length
	free, length            unit.Length
	hole, slot              unit.Length
	slotGiven, limited      bool
	freeGiven               bool
	tip                     unit.Percent
	curl, limit             unit.Length
	row                     book.Row
	young                   unit.Stress
	density                 unit.Density
	hold                    float64 // K of the ends
	stands                  unit.Length
	push                    unit.Force
	wander, room, slotRoom  unit.Length
	verdict, broken, itself string
}

// Calculator declares the thread calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "thread", Title: "Threading", Question: "Will this wire thread, and again after a break?",
		Summary: "How far the tip strays on its way from the guide to the lower face, the room in hole and slot, the push it bears, and where to thread after a break.",
		Tables:  []string{"wires", "wiretypes name young_likely_gpa density_likely_kgm3", "machines"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskWire(f, in.book, &in.wire).Group = "Wire and part"
	calc.AskRows(f, in.book, "wiretypes", &in.kind, "kind: What it is made of")
	calc.AskThickness(f, &in.height)
	calc.Ask(f, &in.exit, `above: Guide's exit or threading tube above the part
		is `+calc.Exit+`
		help Where the wire is last held on its way down. The default is common practice, no source.
		keys mm in; in
		usual 0.5 mm to 40 mm
		min 0 mm: the guide stands outside the part
		max 500 mm: no machine leaves so much free
		ranges`)
	calc.Ask(f, &in.hole, `hole: Start hole
		mark hole
		is 1 mm
		keys length
		usual 0.05 mm to 5 mm
		above 0 mm: a hole has a width
		max 100 mm: this is an opening, not a start hole
		ranges
		card hole_mm -`)
	calc.AskGiven(f, &in.slot, &in.slotGiven, `slot: Slot to thread in after a break
		help The width that is cut. Leave it empty when the wire goes back to the start.
		keys length
		usual 0.03 mm to 0.5 mm
		above 0 mm: a slot has a width
		max 10 mm: this is an opening, not a slot
		ranges`)
	calc.AskGiven(f, &in.curl, new(bool), `curl: The tip strays over 100 mm of free wire
		group What the wire does
		help Hang 100 mm from a straight edge and measure. Left empty, it is the usual curl of a spool, or of an end drawn straight: common practice, no source.
		keys mm in; in
		usual 0.2 mm to 20 mm
		min 0 mm: a straight wire strays by nothing
		max 200 mm: this wire is a spiral
		ranges`).Fallback = func() calc.Fallback { return calc.CurlOf(in.led == "jet") }
	calc.AskLed(f, &in.led)
	calc.Ask(f, &in.tip, `tip: The tip is thicker than the wire by
		is 5 to 30 %
		help Melted, bent or sheared ends are oversize. Common practice, no source.
		keys %
		usual 0 % to 50 %
		min 0 %: a drawn-out tip is thinner, take 0
		max 300 %: this is a bead
		ranges`)
	calc.AskGiven(f, &in.free, &in.freeGiven, `free: Free length of the wire
		group Pushing
		advanced
		help From where it is last held to the lower face. Leave it empty to take the part and what the guide stands above it.
		keys mm in; in
		usual 2 mm to 200 mm
		above 0 mm: without a free length nothing buckles
		max 1000 mm: no machine leaves so much free
		ranges`)
	calc.AskChoice(f, &in.ends, `ends: How its ends are held
		advanced
		is fixed-pinned
		option pinned: both turn
		option fixed-pinned: one held, one turns
		option fixed: both held
		option free: one held, one free`)
	calc.AskGiven(f, &in.limit, &in.limited, `limit: Tallest part for this wire
		advanced
		help From your machine's manual. For the finest wire half an inch is common practice, no source.
		keys mm in; in
		usual 3 mm to 400 mm
		above 0 mm: then nothing is cut
		max 2000 mm: no machine is this tall`).Fallback = func() calc.Fallback {
		if in.wire <= finest {
			return calc.Fallback{Range: unit.Exactly(float64(fineLimit)), Note: "common practice for the finest wire: 12.7 mm"}
		}
		return calc.Fallback{}
	}
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.verdict, "verdict: Threads through the hole\nword yes: Yes\nword led: Only if the jet leads it\nword no: No")
	calc.Tell(f, &in.wander, "wander: The tip strays by\nmain\nrises curl above free")
	calc.Tell(f, &in.length, "length: Free length, from the guide to the lower face\nunit mm 2\nrises above free")
	calc.Tell(f, &in.push, "push: Bears a push of\nunit mN 2\nfalls above free")
	calc.Tell(f, &in.stands, "stands: Would stand upright, held at its foot\nunit mm 1")
	calc.Tell(f, &in.room, "room: Room on each side in the hole\nrises hole\nfalls tip")
	calc.Tell(f, &in.slotRoom, "slot-room: Room on each side in the slot\nrises slot\nfalls tip").Applies = func() bool { return in.slotGiven }
	calc.TellChoice(f, &in.broken, "after-break: After a break\nword start: back to the start\nword slot: in the slot, where it broke\nword try: try it where it broke, else back to the start\nword not-asked: no slot was given")
	calc.TellChoice(f, &in.itself, "itself: Who threads\nword machine: the machine, nobody holds a wire this fine\nword either: machine or hand")
}

func (in *form) point(p *calc.Point) {
	if in.row.Table == "" {
		in.row, _ = in.book.Find("wiretypes", in.kind)
		in.young = unit.Stress(in.row.Num("young_likely_gpa") * 1000)
		in.density = unit.Density(in.row.Num("density_likely_kgm3") / 1000)
		in.hold = map[string]float64{"pinned": 1, "fixed-pinned": 0.69916, "fixed": 0.5, "free": 2}[in.ends]
	}
	in.stands = Stands(in.young, in.density, in.wire)
	in.length = in.height + in.exit
	if in.freeGiven {
		in.length = in.free
	}
	in.push = Push(in.young, in.wire, in.length, in.hold)
	in.wander = calc.Stray(in.curl, in.length)
	thick := in.wire * unit.Length(1+in.tip/100)
	in.room, in.slotRoom = (in.hole-thick)/2, (in.slot-thick)/2
	in.verdict, in.broken, in.itself = "yes", "not-asked", "either"
	led := in.led == "jet"
	switch {
	case in.limit > 0 && in.height > in.limit, in.room <= 0, in.room < in.wander && !led:
		in.verdict = "no"
	case in.room < in.wander:
		in.verdict = "led"
	}
	if in.slotGiven {
		in.broken = "start"
		switch {
		case in.slotRoom > 0 && in.slotRoom >= in.wander:
			in.broken = "slot"
		case in.slotRoom > 0 && led && in.wire >= inPlace && in.height <= lowEnough:
			in.broken = "try"
		}
	}
	if in.wire <= byMachine {
		in.itself = "machine"
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	e, density, k := in.young, in.density, in.hold
	thick := in.wire * unit.Length(1+in.tip/100)
	way, put := "H = thickness + guide above the part", calc.Put(in.height, "mm", 3)+" + "+calc.Put(in.exit, "mm", 3)
	if in.freeGiven {
		way, put = "as typed", calc.Put(in.free, "mm", 3)
	}
	p.Work(`stands | stands free | (7.8373 E d² / (16 ρ g))^(1/3) | (7.8373 × {1} × ({wire})² / (16 × {2} × 9.80665 m/s²))^(1/3) | greenhill-1881
		length | free length | {5} | {6} | geometry
		push | bears a push of | π² E I / (K H)², I = π d⁴ / 64 | π² × {1} × π × ({wire})⁴ / 64 / ({3} × {length})² | euler-column
		wander | the tip strays | curl × (H / 100 mm)², H the free length | {curl} × ({length} / 100 mm)² | geometry
		room | room in the hole | (hole - tip) / 2 | ({hole} - {4}) / 2 | geometry
		slot-room | room in the slot | (slot - tip) / 2 | ({slot} - {4}) / 2 | geometry`, calc.Put(e, "GPa", 1), calc.Put(density, "g/cm³", 3), unit.Number(k, unit.Style{Decimals: 4, Trim: true}), calc.Put(thick, "mm", 4), way, put)
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = true
	name := calc.WireName(in.wire, r.System)
	v := r.Pick("verdict")
	switch {
	case in.limit > 0 && in.height > in.limit:
		a.Verdict, a.Headline = calc.No, r.Text("No, {thickness} is taller than {limit} for this wire")
	case r.Could("verdict", "led"):
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the jet leads it: the tip may stray by {room.low:small}")
	case len(v.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the wire is straight: the tip may stray by {room.low:small}")
	case v.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes, {1} threads through a hole of {hole}", name)
	default:
		a.Verdict, a.Headline = calc.No, r.Text("No, {1} does not find its way through a hole of {hole}", name)
	}
	a.Lead = r.Text("Over {length} of free wire its tip strays by {wander:small}; the hole leaves {room:small} on each side.")
	a.Used(in.row)
	a.Note("The sum is for a curled wire that is pushed down. A jet, suction and a wall that the tip touches at a flat angle lead it on, and are not computed.")
	a.Note(r.Text("Weight pulls a hanging wire straighter; even on its foot it would stand up to {stands}."))
	if in.itself == "machine" {
		a.Note("So fine a wire must be threaded by the machine: the eye does not see its end, and the push it bears is far below what a hand feels.")
	}
	a.Note(r.Text("If the tip catches at the lower face, the wire buckles at {push}. Half the free length bears four times as much; half the diameter bears a sixteenth."))
	switch r.Pick("after-break").Likely.Value {
	case "slot":
		a.Note(r.Text("After a break it can be threaded where it broke: the slot leaves {slot-room:small} on each side. Cut the end clean first."))
	case "try":
		a.Note(r.Text("After a break let the machine try where it broke: the slot leaves {slot-room:small} on each side, and without the jet the tip strays by {wander:small}. If it misses twice, go back to the start. Common practice, no source."))
	case "start":
		a.Note(r.Text("After a break go back to the start: the slot leaves {slot-room:small} on each side and the tip strays by {wander:small}. A broken or sheared end is thicker than the wire, and a slot as wide as the kerf catches it."))
	default:
		a.Note("After a break, go back to the start and run the cut path without current, or thread in the slot where it is wide enough: type its width to see.")
	}
	a.Note("Shears leave a burr that a lens of 100 times shows and a guide catches on. Draw the end out with heat or cut it with the machine's own cutter.")
	a.Caution("CAUTION", "Switch the generator off and wait as the machine's manual says before a hand goes near the wire: its open voltage is dangerous. Wire ends cut.")
	a.Cites(`greenhill-1881; abstract; a column under its own weight
		euler-column; from memory; the load at which a slender column buckles`)
	in.draw(r, a)
}

// draw shows the hole from above with the wire in it, and the heights on a scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("The wire in its hole, and the lengths", r.Text("On the left the start hole of {hole.likely} with the wire of {wire} in it, to scale, and a dashed circle that the tip may reach. Below, the part's height and the free length of the wire."), 360, 332, true)
	big := max(in.hole/2, in.wire/2+in.wander)
	k := 66 / float64(big)
	d.Circle(figure.Outline, 90, 84, float64(in.hole)/2*k, false)
	d.Circle(figure.Hidden, 90, 84, float64(in.wire/2+in.wander)*k, false)
	d.Circle(figure.Wire, 90, 84, float64(in.wire)/2*k, true)
	d.Label(186, 40, r.Text("hole {hole.likely:mm 3}"), -1)
	d.Label(186, 66, r.Text("wire {wire:mm 3}"), -1)
	d.Label(186, 92, r.Text("strays {wander.likely:µm 1}"), -1)
	d.Label(186, 118, r.Text("room {room.likely:µm 1}"), -1)
	top := figure.Nice(float64(max(in.height, in.length)))
	s := figure.NewScale(d, 0, top, false, 204)
	s.Row("part", 0, float64(in.height), float64(in.height), 2)
	s.Row("free wire", 0, float64(in.length), float64(in.length), 1)
	s.Close("mm", []float64{0, top / 2, top}, []string{"0", unit.Fixed(top/2, 1), unit.Fixed(top, 0)})
	a.Figure = d
}
