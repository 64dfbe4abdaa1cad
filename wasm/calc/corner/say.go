package corner

import (
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

func millimetres(d unit.Length) string {
	return unit.Print(unit.LengthKind, float64(d), unit.Style{Unit: "mm", Decimals: 4, Trim: true})
}

// wireName is a wire as the trade writes it: "⌀ 0.10 mm", or in inches.
func wireName(d unit.Length, s unit.System) string {
	if s == unit.Inch {
		return "⌀ " + unit.Print(unit.LengthKind, float64(d), unit.Style{Unit: "thou", Decimals: 2, Trim: true})
	}
	decimals := 2
	if float64(d)*1000 != float64(int(float64(d)*1000/10+0.5)*10) {
		decimals = 3
	}
	return "⌀ " + unit.Print(unit.LengthKind, float64(d), unit.Style{Unit: "mm", Decimals: decimals})
}

func length(v float64, s unit.System) string {
	return unit.Print(unit.LengthKind, v, unit.LengthKind.Style(s))
}

func small(v float64, s unit.System) string {
	st := unit.Style{Unit: "µm", Decimals: 1, Trim: true}
	if s == unit.Inch {
		st = unit.Style{Unit: "thou", Decimals: 2, Trim: true}
	}
	return unit.Print(unit.LengthKind, v, st)
}

func (in *form) steps(p *calc.Point) {
	half := calc.Put(in.angle/2, "°", 2)
	p.Work("= {radius-left} | radius the wire leaves | r = d/2 + g | {wire} / 2 + {gap} | kalpakjian-schmid")
	if !in.sharp {
		p.Work("= {1} | widest gap that still works | g = R - d/2 | {2} - {wire} / 2 | geometry", millimetres(in.gapLimit), millimetres(in.target()))
	}
	p.Work(`= {rough-radius} | radius roughing needs for even stock | r = d/2 + rough gap + stock left | {wire} / 2 + {rough-gap} + {left} | geometry
		= {uncut-distance} | left uncut, vertex to wall | e = r (1 / sin(θ/2) - 1) | {radius-left} × (1 / sin({1}) - 1) | geometry
		= {uncut-area:mm² 6} | area left uncut | A = r² (cot(θ/2) - (π - θ)/2) | ({radius-left})² × (1 / tan({1}) - {2}) | iso-21771`, half, unit.Fixed(1.5707963267948966-float64(in.angle)*3.141592653589793/360, 4))
	if in.punch {
		p.Work("= {punch-corner} | outside corner of the punch | r_punch = r - c | {radius-left} - {clearance} | geometry")
	}
}

// say puts the verdict first and the reason next to it.
func (in *form) say(r *calc.Result, a *calc.Answer) {
	s := r.System
	leaves := r.Of("radius-left")
	in.band(r, a)
	a.General = !in.gapGiven
	if in.sharp {
		a.Note("No wire makes a sharp inside corner. Ask the customer for a radius of " + length(leaves.High, s) + " or more, or whether the part may be made of two pieces that meet in the corner.")
	}
	switch in.asks {
	case "plus-minus":
		a.Note("With ± the radius is programmed as an arc and not left to the wire: program " + length(max(float64(in.radius.Likely), leaves.High), s) + " and measure it.")
	case "maximum":
		a.Note("“R at most” may come out smaller: a sharp programmed corner leaves the tool's own radius.")
	case "minimum":
		a.Note("“R at least”: program " + length(max(float64(in.radius.Likely), leaves.High), s) + " or more as an arc.")
	}
	in.roughing(r, a)
	a.Tables = append(a.Tables, in.table(s))
	if in.punch {
		in.pair(r, a)
	}
	if !in.gapGiven {
		a.Note("The gap comes from the law of a pass. Cut a test slot with this pass, measure it, and type gap = (slot - wire) / 2.")
	}
	in.sayRest(r, a)
	a.Cite("kalpakjian-schmid", "wire EDM text, place not seen", "kerf = wire + 2 × gap")
	a.Figure = in.draw(s, leaves)
}

func (in *form) band(r *calc.Result, a *calc.Answer) {
	s := r.System
	leaves := r.Of("radius-left")
	style := unit.LengthKind.Style(s)
	left := "It leaves R " + unit.PrintRange(unit.LengthKind, leaves, style) + "."
	verdict := r.Pick("verdict")
	wire := wireName(in.wire, s)
	limit := "Works up to a gap of " + small(float64(in.gapLimit), s) + " a side."
	if in.asks == "minimum" && !in.slotGiven {
		limit = "Any larger radius is good too."
	}
	if in.slotGiven {
		limit += " Its slot is " + unit.PrintRange(unit.LengthKind, r.Of("kerf"), style) + ", the print's " + length(float64(in.slot), s) + "."
	}
	switch {
	case in.sharp:
		a.Verdict, a.Headline = calc.No, "No wire cuts it sharp"
		a.Lead = "With " + wire + " ask for R " + length(leaves.High, s) + ". " + left
		return
	case len(verdict.All) == 1 && verdict.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, "Yes, with "+wire
	case len(verdict.All) == 1 && verdict.Likely.Value == "no":
		a.Verdict, a.Headline = calc.No, "No, not with "+wire
	case !r.Could("verdict", "no"):
		a.Verdict, a.Headline = calc.OnlyIf, "Only if R is programmed at "+length(leaves.High, s)+" or more"
	default:
		a.Verdict, a.Headline = calc.OnlyIf, "Only if the gap stays at "+small(float64(in.gapLimit), s)+" or less"
	}
	if in.gapLimit <= same && (in.asks != "minimum" || in.slotGiven) {
		limit = "Half of this wire is already " + length(float64(in.wire/2), s) + ": it fails at every gap above zero."
		if in.slotGiven && in.wire >= in.slot-same {
			limit = "This wire is as wide as the slot: it fails at every gap above zero."
		}
	}
	a.Lead = left + " " + limit + in.advice(s)
}

// advice names the wire to change to and the next larger that is not sure.
func (in *form) advice(s unit.System) string {
	out := ""
	var best, next unit.Length
	nextGap := unit.Range{}
	for i, d := range in.wires {
		if in.able(d, unit.Length(in.gapOf(i).High)) == "yes" {
			best, next = d, 0
		} else if next == 0 {
			next, nextGap = d, in.gapOf(i)
		}
	}
	switch {
	case best == 0:
		out = " None of the wires listed is sure to reach it."
	case best != in.wire:
		out = " Largest wire that is sure to: " + wireName(best, s) + "."
	}
	if next != 0 && best != 0 {
		at := ""
		if in.limit(next) <= same && (in.asks != "minimum" || in.slotGiven) {
			at = " at any gap"
		} else if in.able(next, unit.Length(nextGap.Low)) == "yes" {
			at = " at the wide end of its gap"
		}
		out += " The next larger, " + wireName(next, s) + ", fails" + at + "."
	}
	return out
}

func (in *form) roughing(r *calc.Result, a *calc.Answer) {
	s := r.System
	fits := r.Pick("rough-fits")
	need := unit.PrintRange(unit.LengthKind, r.Of("rough-radius"), unit.LengthKind.Style(s))
	switch {
	case in.asks == "minimum" || in.sharp || !in.roughKnown():
		return
	case len(fits.All) == 1 && fits.Likely.Value == "fits":
		a.Note("Roughing with even stock fits: it needs R " + need + ".")
	case len(fits.All) == 1:
		a.Note("Roughing with even stock does not fit: it needs R " + need + ", the print allows " + length(float64(in.target()), s) +
			". The first skim then meets extra stock in the corner. Program no arc there that is smaller than the offset of roughing: a sharp corner runs, or give the roughing pass its own corner radius.")
	default:
		a.Note("Roughing with even stock may not fit: it needs R " + need + ", the print allows " + length(float64(in.target()), s) +
			". " + fits.When + ". Where it does not, the first skim meets extra stock: leave the corner sharp, or give the roughing pass its own corner radius.")
	}
}

// sayRest says what the other words of the print ask for.
func (in *form) sayRest(r *calc.Result, a *calc.Answer) {
	if in.finishGiven {
		a.Note(in.finishSaid(r.System))
	}
	if in.material == "carbide" {
		what := "Oil keeps the cobalt of carbide, and its gap is smaller."
		if in.dielectric == "water" {
			what = "Carbide in water: use pulses of zero mean, clean water and skims that take the damaged layer, or cut in oil. See the cobalt loss."
		}
		a.Note(what)
	}
	if in.thickGiven && float64(in.thickness) > 400*float64(in.wire) {
		a.Note("The part is more than 400 wire diameters tall. Common practice, no source: expect bow, hard flushing and wire breaks, and prove it on a test cut of the full height.")
	}
}

// finishSaid says what the finish asks of this wire, by the law of a pass.
func (in *form) finishSaid(s unit.System) string {
	p := calc.LawOf(in.book).Plan(in.cut(in.wire), calc.MostPasses)
	asked := "Ra " + calc.Say(in.finish, s)
	switch n, err := strconv.Atoi(in.passes); {
	case !p.OK:
		return "How many passes " + asked + " takes is not known: " + p.Why + "."
	case err != nil:
		return asked + " is finer than this wire gets here: the floor is Ra " + calc.SayRange(unit.RoughnessKind, p.Floor(), s) + ", by the law of a pass."
	default:
		return "For " + asked + " plan " + in.passes + " passes: the last is likely to leave Ra " + calc.SayRange(unit.RoughnessKind, p.Ra(n), s) + ", by the law of a pass. The pass plan gives their offsets."
	}
}

// table compares the wires the machine can run on one shared axis.
func (in *form) table(s unit.System) calc.Table {
	st := unit.LengthKind.Style(s)
	top := float64(in.target()) * 1.25
	for i, d := range in.wires {
		top = max(top, float64(Left(d, unit.Length(in.gapOf(i).High))))
	}
	axis := &calc.Axis{Low: 0, High: top, Mark: float64(in.target()), HasMark: !in.sharp, Head: "0 to " + unit.Print(unit.LengthKind, top, st)}
	last := "R " + length(float64(in.target()), s) + " at most"
	if in.sharp || in.asks == "minimum" {
		last = "reaches it"
	}
	t := calc.Table{Title: "The wires this machine can run", Columns: []calc.Column{{Head: "Wire"}, {Head: "Radius left", Right: true}, {Head: axis.Head, Axis: axis}, {Head: last, Right: true}}}
	for i, d := range in.wires {
		g := in.gapOf(i)
		left := unit.Range{Low: float64(Left(d, unit.Length(g.Low))), Likely: float64(Left(d, unit.Length(g.Likely))), High: float64(Left(d, unit.Length(g.High)))}
		low, high := in.able(d, unit.Length(g.Low)), in.able(d, unit.Length(g.High))
		word := "yes"
		switch {
		case high != "yes" && low == "yes":
			word = "only if gap ≤ " + small(float64(in.limit(d)), s)
		case high == "only-if":
			word = "only if programmed"
		case high == "no" && (in.sharp || in.limit(d) > same):
			word = "no"
		case high == "no":
			word = "no, at any gap"
		}
		t.Rows = append(t.Rows, []calc.Cell{{Text: wireName(d, s)}, {Text: unit.Print(unit.LengthKind, left.Likely, st)}, {Range: &left}, {Text: word, Strong: high != "yes"}})
	}
	if !in.gapGiven {
		t.Note = "Each wire with its own gap by the law, " + in.dielectric + ", " + in.pass + " pass."
	} else {
		t.Note = "Each wire with the gap typed above."
	}
	return t
}

func (in *form) pair(r *calc.Result, a *calc.Answer) {
	s := r.System
	p := r.Of("punch-corner")
	text := "The die's inside corner comes out at R " + length(r.Of("radius-left").Likely, s) + ". A punch corner of R " +
		unit.PrintRange(unit.LengthKind, p, unit.LengthKind.Style(s)) + " keeps the clearance all round it."
	if p.Low <= 0 {
		text += " Where this is zero the punch corner may stay sharp: the clearance at the corner is then larger than asked for."
	}
	a.Note(text)
}
