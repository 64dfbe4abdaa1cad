package slot

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                    [0]func() // never compared, so no code for comparing is made
	book                                 *book.Book
	machine, material, dielectric, walls string
	width                                calc.Span[unit.Length]
	depth, wire, gap, left, last, height unit.Length
	gapGiven, leftGiven, lastGiven       bool
	kerf, all, play, side, dip, reach    unit.Length
	most                                 unit.Length
	uncut                                unit.Area
	verdict, largest                     string
	cards                                []sized
}

// sized is a wire of the table with its roughing gap and stock left.
type sized struct {
	d         unit.Length
	name      string
	gap, left unit.Range
}

// Calculator declares the slot calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "slot", Title: "Slot", Question: "Does this wire go into this slot, and may both walls be skimmed?",
		Summary: "Slot width against kerf and two-sided skims, the largest wire, and what stays uncut at the floor.",
		Tables:  []string{"law", "wires", "machines wire_from_mm wire_to_mm", "materials name"},
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
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nhelp Which measured cuts count, once a machine is chosen.\nadvanced")
	calc.AskSpan(f, &in.width, `width: Width of the slot on the print
		mark slot
		group Slot
		is 0.4 mm
		keys mm µm thou tenths; thou
		usual 0.03 mm to 5 mm
		above 0 mm: a slot has a width
		max 1000 mm: this is an opening, and any wire enters it`)
	calc.AskChoice(f, &in.walls, "walls: Both walls\noption skimmed: roughed and skimmed\noption one-pass: in one pass")
	calc.Ask(f, &in.depth, `depth: Depth of the slot
		is 5 mm
		keys mm in; in
		usual 0.1 mm to 50 mm
		above 0 mm: a slot has a depth
		max 1000 mm: no machine reaches this`)
	calc.AskWire(f, in.book, &in.wire).Group = "Wire"
	calc.AskDielectric(f, &in.dielectric)
	calc.AskHeight(f, &in.height)
	calc.AskGap(f, &in.gap, &in.gapGiven, "gap: Spark gap of roughing, each side", func() calc.Fallback { return calc.GapOf(in.book, in.cut(in.wire), "rough") })
	calc.AskGiven(f, &in.left, &in.leftGiven, `left: Stock left by roughing, each side
		if walls skimmed
		keys small
		usual 2 µm to 120 µm
		min 0 µm: stock left is not negative
		max 2 mm: skims do not take this much
		ranges`).Fallback = func() calc.Fallback { return calc.LeftOf(in.book, in.cut(in.wire)) }
	calc.AskGap(f, &in.last, &in.lastGiven, "last-gap: Spark gap of the last pass, each side\nif walls skimmed\nadvanced", func() calc.Fallback { return calc.GapOf(in.book, in.cut(in.wire), "fine") })
}

func (in *form) answers(f *calc.Form) {
	skimmed := func() bool { return in.walls == "skimmed" }
	calc.TellChoice(f, &in.verdict, "verdict: Can this wire cut it\nword yes: Yes\nword one-pass: Only in one pass\nword no: No")
	calc.Tell(f, &in.kerf, "kerf: Kerf of roughing\nmain\nrises gap")
	calc.Tell(f, &in.all, "all-passes: Narrowest slot for all passes on both walls\nrises gap left").Applies = skimmed
	calc.Tell(f, &in.play, "play: Slot less kerf\nfalls gap")
	calc.Tell(f, &in.side, "off-side: Cut too wide, each side\nrises gap").Applies = func() bool { return in.play < 0 }
	calc.Tell(f, &in.most, "largest-here: Largest wire at this gap\nfalls gap left").Applies = func() bool { return in.most > 0 }
	calc.TellChoice(f, &in.largest, "largest-wire: Largest wire that is sure to do it")
	calc.Tell(f, &in.reach, "radius: Radius at the corners of the floor\nrises gap last-gap")
	calc.Tell(f, &in.uncut, "uncut-area: Left uncut in the slot\ndigits 6\nrises gap last-gap")
	calc.Tell(f, &in.dip, "dip: How far it enters the mouth\ndigits 5\nfalls gap last-gap").Applies = func() bool { return !in.stands() }
}

// stands reports whether the wire comes down to the floor before the mouth stops it.
func (in *form) stands() bool { return Fits(2*Half(in.reach, in.depth), in.width.Low) }

func (in *form) point(p *calc.Point) {
	w := in.width.Low
	in.kerf, in.all = Kerf(in.wire, in.gap), All(in.wire, in.gap, in.left)
	in.play = w - in.kerf
	in.side = (in.kerf - w) / 2
	in.verdict = in.judge(in.wire, in.gap, in.left)
	in.reach = in.wire/2 + in.last
	in.most = w - 2*in.gap
	if in.walls == "skimmed" {
		in.most -= 2 * in.left
	} else {
		in.reach = in.wire/2 + in.gap
	}
	in.dip = 0
	if in.stands() {
		in.uncut = Floor(in.reach, in.depth)
	} else {
		in.dip, in.uncut = Dip(in.reach, w), Uncut(in.reach, w, in.depth)
	}
	in.lookUp()
	in.largest = "none"
	for _, c := range in.cards {
		gap, left := unit.Length(c.gap.High), unit.Length(c.left.High)
		if in.gapGiven {
			gap = in.gap
		}
		if in.leftGiven {
			left = in.left
		}
		if in.judge(c.d, gap, left) == "yes" {
			in.largest = c.name
		}
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	w := in.width.Low
	p.Work(`kerf | kerf | d + 2 g | {wire} + 2 × {gap} | kalpakjian-schmid
		all-passes | narrowest slot for all passes | d + 2 (g + stock left) | {wire} + 2 × ({gap} + {left}) | geometry
		play | slot less kerf | w - kerf | {1} - {kerf} | geometry
		uncut-area | left uncut | {2} | {3} | geometry`, calc.Put(w, "mm", 4), in.formula(w), in.numbers(w))
}

func (in *form) formula(w unit.Length) string {
	switch {
	case !in.stands():
	case in.depth >= in.reach:
		return "2 r² (1 - π/4)"
	default:
		return "c (r + D) - r² arcsin(c / r), c = √(2 r D - D²)"
	}
	return "w D - (r² arcsin(w / 2r) - w/2 √(r² - w²/4))"
}

func (in *form) numbers(w unit.Length) string {
	if in.stands() && in.depth >= in.reach {
		return "2 × (" + calc.Put(in.reach, "mm", 4) + ")² × (1 - π/4)"
	}
	return "w " + calc.Put(w, "mm", 4) + ", D " + calc.Put(in.depth, "mm", 4) + ", r " + calc.Put(in.reach, "mm", 4)
}

func (in *form) judge(d, gap, left unit.Length) string {
	switch w := in.width.Low; {
	case !Fits(Kerf(d, gap), w):
		return "no"
	case in.walls == "one-pass" || Fits(All(d, gap, left), w):
		return "yes"
	}
	return "one-pass"
}

// cut asks for the shop's measured cut with a wire.
func (in *form) cut(d unit.Length) book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.height, Wire: d}
}

// lookUp takes gaps and stock of the table's wires once, those of the machine's
// card when one is chosen.
func (in *form) lookUp() {
	if in.cards != nil {
		return
	}
	card, chosen := in.book.Find("machines", in.machine)
	for _, d := range in.book.Wires() {
		if chosen && (float64(d) < card.Num("wire_from_mm")-1e-9 || float64(d) > card.Num("wire_to_mm")+1e-9) {
			continue
		}
		c := sized{d: d, name: calc.Put(d, "mm", 3)}
		c.gap = calc.GapRange(in.book, in.cut(d), "rough")
		c.left = calc.LeftRange(in.book, in.cut(d))
		in.cards = append(in.cards, c)
	}
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.gapGiven
	name := calc.WireName(in.wire, r.System)
	v := r.Pick("verdict")
	need := r.Text("It takes {kerf} for one pass")
	if in.walls == "skimmed" {
		need += r.Text(" and {all-passes} for skims on both walls")
	}
	switch {
	case len(v.All) == 1 && v.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, "Yes, with "+name
	case len(v.All) == 1 && v.Likely.Value == "no":
		a.Verdict, a.Headline = calc.No, "No, "+name+" is too wide for this slot"
	case len(v.All) == 1:
		a.Verdict, a.Headline = calc.OnlyIf, "Only in one pass: no room to skim both walls"
	case r.Could("verdict", "no"):
		a.Verdict, a.Headline = calc.OnlyIf, "Only if the gap is small: "+v.When
	default:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if gap and stock left stay small: {all-passes.high} at worst")
	}
	a.Lead = need + "; the slot is " + calc.Say(in.width.Low, r.System) + " at its narrowest."
	switch in.largest {
	case "none":
		a.Lead += " None of the wires listed is sure to do it."
	case calc.Put(in.wire, "mm", 3):
	default:
		a.Lead += " Largest wire that is sure to: " + in.largest + "."
	}
	if r.Could("verdict", "no") && r.Of("play").Low < 0 {
		say := "Where the kerf is wider than the slot, one pass along its middle cuts it too wide by up to {off-side.high:small} on each side."
		if r.Of("dip").High > 0 {
			say += " The wire enters the mouth of the slot by {dip} and no farther if the walls must stand."
		}
		a.Note(r.Text(say))
	}
	if in.walls == "skimmed" {
		a.Note("Where there is room for roughing only, two ways are left: a finer wire, or one pass with a gentle setting down the middle and no skim. Both walls then carry the roughing face.")
	}
	a.Note(r.Text("The floor's corners keep R {radius} and {uncut-area} of metal. A slot as wide as the kerf counts as cut; in the shop it is a matter of luck."))
	if !in.gapGiven {
		a.Note("The gap comes from the law of a pass. Cut a test slot with this pass, measure it, and type gap = (slot - wire) / 2.")
	}
	in.table(r, a)
	a.Cites("kalpakjian-schmid; wire EDM text, place not seen; kerf = wire + 2 × gap")
	in.draw(r, a)
}

// table compares the wires on one axis with the slot's width as the mark.
func (in *form) table(r *calc.Result, a *calc.Answer) {
	st := unit.LengthKind.Style(r.System)
	top := float64(in.width.Low) * 1.3
	axis := &calc.Axis{High: top, Mark: float64(in.width.Low), HasMark: true, Head: "0 to " + unit.Print(unit.LengthKind, top, st)}
	t := calc.Table{Title: "Wires and this slot", Columns: []calc.Column{{Head: "Wire"}, {Head: "Kerf", Right: true}, {Head: axis.Head, Axis: axis}, {Head: "Goes in", Right: true}},
		Note: "Bars: from the kerf at the narrow end of the gap to what all passes need at the wide end. The line is the slot."}
	for _, c := range in.cards {
		gap, left := c.gap, c.left
		if in.gapGiven {
			gap = unit.Exactly(float64(in.gap))
		}
		need := unit.Range{Low: float64(Kerf(c.d, unit.Length(gap.Low))), Likely: float64(Kerf(c.d, unit.Length(gap.Likely))), High: float64(All(c.d, unit.Length(gap.High), unit.Length(left.High)))}
		if in.walls == "one-pass" {
			need.High = float64(Kerf(c.d, unit.Length(gap.High)))
		}
		if need.Low > top {
			break
		}
		shown := unit.Range{Low: need.Low, Likely: min(need.Likely, top), High: min(need.High, top)}
		word := map[string]string{"yes": "yes", "no": "not sure", "one-pass": "one pass"}[in.judge(c.d, unit.Length(gap.High), unit.Length(left.High))]
		if in.judge(c.d, unit.Length(gap.Low), unit.Length(left.Low)) == "no" {
			word = "no"
		}
		t.Rows = append(t.Rows, []calc.Cell{{Text: calc.WireName(c.d, r.System)}, {Text: unit.Print(unit.LengthKind, need.Likely, st)}, {Range: &shown}, {Text: word, Strong: word != "yes"}})
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, t)
	}
}

// draw shows the slot's end from above with the wire in it, to scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("The wire at the mouth of the slot, to scale", r.Text("A slot {1} wide, hatched walls on both sides, with the wire of {wire} and its roughing kerf of {kerf.likely} as a dashed circle.", calc.Put(in.width.Low, "mm", 4)), 360, 262, true)
	w, kerf := float64(in.width.Low), float64(in.kerf)
	k := 120 / max(w, kerf)
	x, y, half := 120.0, 120.0, w*k/2
	for _, s := range [...]float64{-1, 1} {
		d.Add(figure.Path{From: figure.Point{X: x + s*half, Y: 20}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: x + s*half, Y: 200}}, {To: figure.Point{X: x + s*(half+26), Y: 200}}, {To: figure.Point{X: x + s*(half+26), Y: 20}}}})
		d.Line(figure.Outline, x+s*half, 20, x+s*half, 200)
		d.Line(figure.Thin, x+s*half, 200, x+s*half, 226)
	}
	d.Circle(figure.Hidden, x, y, kerf*k/2, false)
	d.Circle(figure.Wire, x, y, float64(in.wire)*k/2, true)
	d.Cross(x, y, float64(in.wire)*k/2, 8)
	d.Line(figure.Thin, x-half, 220, x+half, 220)
	d.Label(x, 246, r.Text("slot {1}", calc.Put(in.width.Low, "mm", 4)), 0)
	d.Label(228, 60, "wire", -1)
	d.Label(228, 80, r.Text("{wire:mm 3}"), -1)
	d.Label(228, 116, "kerf", -1)
	d.Label(228, 136, r.Text("{kerf.likely:mm 4}"), -1)
	if in.walls == "skimmed" {
		d.Label(228, 172, "all passes", -1)
		d.Label(228, 192, r.Text("{all-passes.likely:mm 4}"), -1)
	}
	a.Figure = d
}
