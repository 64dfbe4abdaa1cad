package trial

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	if in.what == "slot" {
		a.Headline = r.Text("The gap of pass {pass} is {gap}")
		a.Lead = in.swept(r)
		a.Note("This is the gap of the pass that cut the slot, and of no other pass. Do not put it into the rest of the plan.")
		if in.pass > 1 {
			a.Note("A slot cut with a skim's settings runs in full metal. Along a wall, with room for the debris, the same settings may leave another gap: an opening that all passes have cut tells that.")
		}
		a.Note("Wear makes the wire thinner on its way down, and a swinging wire cuts wider. Measure at three heights; one number hides the bow.")
	} else {
		in.sayCorrection(r, a)
	}
	if in.law != nil {
		in.sayLaw(r, a)
	}
	in.sayFile(r, a)
	a.Cites("kalpakjian-schmid; wire EDM text, place not seen; width of the kerf")
	in.draw(r, a)
	if in.law != nil {
		in.drawLaw(r, a.Figure)
	}
}

// swept tells rate and speed, where the pass was timed.
func (in *form) swept(r *calc.Result) string {
	if !in.timed {
		return ""
	}
	return r.Text("It swept {rate} at {speed}.")
}

func (in *form) sayCorrection(r *calc.Result, a *calc.Answer) {
	t := r.Pick("turn")
	big := in.what == "opening" && in.correction > 0 || in.what == "punch" && in.correction < 0
	size := map[bool]string{true: "too large", false: "too small"}[big]
	st := unit.Style{Unit: "µm", Decimals: 2, Trim: true}
	if r.System == unit.Inch {
		st = unit.Style{Unit: "thou", Decimals: 3, Trim: true}
	}
	amount := unit.PrintRange(unit.LengthKind, positive(r.Of("correction")), st)
	switch {
	case len(t.All) > 1:
		a.Headline = "Leave the offset: the gauge cannot tell which way it is off"
		a.Lead = r.Text("Half the size error is {correction}, on both sides of nothing. Measure better, or cut again.")
	case t.Likely.Value == "none":
		a.Headline = "Leave the offset: the size is right"
	case t.Likely.Value == "more":
		a.Headline = r.Text("More offset, by {1}: the {2} is {3}", amount, in.what, size)
		a.Lead = r.Text("Add half the size error to the offset of pass {pass}. There is too little metal, and the wire must stay further away.")
	default:
		a.Headline = r.Text("Less offset, by {1}: the {2} is {3}", amount, in.what, size)
		a.Lead = r.Text("Take half the size error off the offset of pass {pass}. There is too much metal, and the wire must come closer.")
	}
	if swept := in.swept(r); a.Lead != "" && swept != "" {
		a.Lead += " " + swept
	} else {
		a.Lead += swept
	}
	a.Note("Opening too large or punch too small: more offset. Opening too small or punch too large: less offset. If the second test has twice the error of the first, the direction was wrong.")
	a.Note("The sign holds for a control that counts the offset as a positive number. Where it does not, “more” means further from the part.")
	if in.planned() {
		in.sayStock(r, a)
	} else {
		a.Note(r.Text("The stock of the passes is not shown: that wants {passes} offsets and {passes} gaps, and there are {1} and {2}.", strconv.Itoa(len(in.offsets)), strconv.Itoa(len(in.gaps))))
	}
	if in.pass < in.passes && in.stay == 0 {
		a.Note(r.Text("Pass {pass} is not the last of {passes}, and no stock was meant to stay. If skims follow, type what was meant to stay: else the correction eats it."))
	}
	if math.Abs(float64(in.correction)) > 0.02 {
		a.Note("An error this large is seldom a gap. Look for the wrong tool number, a doubled correction, a moved part or a wrong wire before you type it in.")
	}
	a.Note("Both opening and punch too large, or both too small: that is temperature, scale or clamping, and no offset mends it.")
	a.Caution("WARNING", "A wrong offset or sign drives the wire and the heads along a wrong path. Check the number with a second person or on a dry run, as the machine's manual demands.")
}

// sayStock shows what the correction does to the stock of every pass.
func (in *form) sayStock(r *calc.Result, a *calc.Answer) {
	small := func(v unit.Length) string {
		if r.System == unit.Inch {
			return calc.Put(v, "thou", 3)
		}
		return calc.Put(v, "µm", 2)
	}
	now, then, offsets := in.stock()
	t := calc.Table{Title: "What the correction does to the passes", Note: "Likely values; the other gaps are those that the plan believed. If all gaps were wrong alike, move every skim's offset by the same amount: then each pass takes what it took.",
		Columns: []calc.Column{{Head: "Pass"}, {Head: "Offset now", Right: true}, {Head: "Took", Right: true}, {Head: "Offset then", Right: true}, {Head: "Takes then", Right: true}}}
	for i := range now {
		row := []calc.Cell{{Text: strconv.Itoa(i + 1), Strong: i == int(in.pass)-1}, {Text: calc.Say(in.offsets[i], r.System)}, {Text: small(now[i])}, {Text: calc.Say(offsets[i], r.System), Strong: i == int(in.pass)-1}, {Text: small(then[i])}}
		if i == 0 {
			row[2].Text, row[4].Text = "full cut", "full cut"
		}
		t.Rows = append(t.Rows, row)
		if i > 0 && then[i] <= 1e-9 {
			a.Note("With the correction pass " + strconv.Itoa(i+1) + " takes nothing. Move the offsets before it by the same amount.")
		}
	}
	a.Tables = append(a.Tables, t)
	if in.pass > 1 {
		a.Note(r.Text("Pass {pass} took {takes-now}; with the correction it takes {takes-then}. The passes before it stay as they are. Should it take less than the roughness before it, the old face shines through."))
	}
	if in.pass < in.passes {
		a.Note(r.Text("The pass after it meets {1} instead of {2}.", small(then[int(in.pass)]), small(now[int(in.pass)])))
	}
	if r.Of("gap").Low < 0 {
		a.Note("A gap below zero cannot be: offset, wire or size was taken wrongly, or the contour was not the one in the program.")
	}
}

// positive is a change without its sign.
func positive(v unit.Range) unit.Range {
	if v.Likely < 0 {
		return unit.Range{Low: -v.High, Likely: -v.Likely, High: -v.Low}
	}
	return v
}

// sayLaw tells the fit and shows its readings.
func (in *form) sayLaw(r *calc.Result, a *calc.Answer) {
	a.Note(r.Text("Ra against energy: exponent {exponent}, at {confidence} between {exponent-low} and {exponent-high}. At {energy} the fit gives {ra-fit}, between {ra-low} and {ra-high}; one more reading would lie between {reading-low} and {reading-high}."))
	if in.exponentLow > 1.0/3 || in.exponentHigh < 1.0/3 {
		a.Note("The limits leave out one third, the exponent of craters that keep their shape. Look whether something else changed from cut to cut: polarity, flushing, passes before.")
	}
	low, high := in.energies[0], in.energies[0]
	for _, e := range in.energies {
		low, high = min(low, e), max(high, e)
	}
	if in.energy < low || in.energy > high {
		a.Note(r.Text("{energy} lies outside the energies that were cut, {1} to {2}. The limits do not hold out there: cut one more.", calc.Say(low, r.System), calc.Say(high, r.System)))
	}
	if in.law.f.DF < 3 {
		a.Note("So few readings give wide limits. Five or more, spread over a decade of energy, serve better.")
	}
	a.Note("The limits know the scatter of these readings only. Another day, wire or water is not in them.")
	t := calc.Table{Title: "Readings and fit", Columns: []calc.Column{{Head: "Energy", Right: true}, {Head: "Ra read", Right: true}, {Head: "Ra fitted", Right: true}, {Head: "Apart", Right: true}}}
	for i, e := range in.energies {
		v := unit.Roughness(in.law.At(float64(e)))
		t.Rows = append(t.Rows, []calc.Cell{{Text: calc.Say(e, r.System)}, {Text: calc.Say(in.readings[i], r.System)}, {Text: calc.Say(v, r.System)}, {Text: unit.Fixed(float64(in.readings[i]/v-1)*100, 1) + " %"}})
	}
	a.Tables = append(a.Tables, t)
	a.Cites("jeswani-1978; from memory; roughness as a power of the energy\nnist-strd; data seen; the certified fits that this one is held against\nabramowitz-stegun; §26.7, place not seen; Student's t")
}

// sayFile writes the line for the table of cuts.
func (in *form) sayFile(r *calc.Result, a *calc.Answer) {
	no := func(v float64, decimals int) string {
		return unit.Number(v, unit.Style{Decimals: decimals, Trim: true})
	}
	rate, speed, gap, ra := "", "", "", ""
	switch {
	case !in.timed:
	case in.pass > 1:
		speed = no(float64(in.speed), 3)
	default:
		rate = no(float64(in.rate), 2)
	}
	if in.what == "slot" || in.planned() {
		gap = no(float64(in.gap)*1000, 2)
	}
	if in.raGiven {
		ra = no(float64(in.ra), 3)
	}
	left := ""
	if in.what != "slot" {
		left = no(float64(in.stay)*1000, 2)
	}
	text := "# title: Measured cuts\n# key: cut pass\ncut,pass,passes,machine,material,thickness_mm,wire_mm,dielectric,flushing,rate_mm2min,speed_mmmin,gap_um,left_um,ra_um,by,on,job,remark,source,place,provenance\n"
	for i, cell := range [...]string{in.cutName(), no(float64(in.pass), 0), no(float64(in.passes), 0), in.machine, in.material, no(float64(in.thickness), 3), no(float64(in.wire), 4),
		in.dielectric, in.flushing, rate, speed, gap, left, ra, "", "", "", in.what, "", "", "measured"} {
		if i > 0 {
			text += ","
		}
		text += quoted(cell)
	}
	a.Files = append(a.Files, calc.File{Name: "cuts.csv", What: "one line for the table of cuts; write who measured it, when and on which job", Text: text + "\n"})
	if in.machine == "any" {
		a.Note("Choose your machine before you keep the line for the table of cuts. A cut counts only for the machine it was made on.")
	}
}

// cutName is the cut's name in its row. A number alone gets a word before it, as
// when cuts had only numbers.
func (in *form) cutName() string {
	if strings.Trim(in.cut, "0123456789") == "" {
		return "cut-" + in.cut
	}
	return in.cut
}

// quoted writes a cell of a CSV line (RFC 4180). A sign # in front is quoted
// too, or the line would be taken for a remark.
func quoted(cell string) string {
	if !strings.ContainsAny(cell, "\",\r\n") && !strings.HasPrefix(cell, "#") && strings.TrimSpace(cell) == cell {
		return cell
	}
	return `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
}

// draw shows wire and slot, or the wall against the contour and the way the
// wire moves.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	if in.what == "slot" {
		in.drawSlot(r, a)
		return
	}
	way := r.Pick("turn").Likely.Value
	wall, end, words := 190.0, 120.0, "more offset: wire away from the part"
	alt := "The wall lies beyond the contour, too little metal: the wire moves away from the part."
	if way == "less" {
		wall, end, words = 150, 76, "less offset: wire towards the part"
		alt = "The wall lies before the contour, too much metal: the wire moves towards the part."
	} else if way == "none" {
		wall, words, alt = 170, "the offset stays", "The wall lies on the contour."
	}
	at := 98.0 // the wire's middle
	d := figure.New("One wall of the "+in.what+" from above; distances drawn much larger", alt+r.Text(" Half the size error is {correction}."), 360, 250, false)
	metal := []figure.Point{{X: wall, Y: 40}, {X: 330, Y: 40}, {X: 330, Y: 180}, {X: wall, Y: 180}}
	d.Add(figure.Path{From: metal[0], Closed: true, Hatch: true, Segs: []figure.Segment{{To: metal[1]}, {To: metal[2]}, {To: metal[3]}}})
	d.Line(figure.Outline, wall, 40, wall, 180)
	d.Line(figure.Centre, 170, 30, 170, 190)
	d.Circle(figure.Wire, at, 90, 30, true)
	if way != "none" {
		if way == "more" {
			end = at - 44
		}
		tip := 9.0
		if end > at {
			tip = -9
		}
		d.Line(figure.Accent, at, 144, end, 144)
		d.Poly(figure.Accent, false, figure.Point{X: end + tip, Y: 138}, figure.Point{X: end, Y: 144}, figure.Point{X: end + tip, Y: 150})
	}
	d.Label(170, 22, "contour of the program", 0)
	d.Label(16, 214, words, -1)
	d.Label(16, 238, r.Text("change {correction.likely:small}, pass {pass}"), -1)
	a.Figure = d
}

func (in *form) drawSlot(r *calc.Result, a *calc.Answer) {
	d := figure.New("Wire and gap in the slot of one pass; gap drawn wider than it is", r.Text("A wire of {wire} stands in a slot of {slot}; on each side a gap of {gap} is left."), 360, 230, false)
	for _, y := range [...]float64{30, 160} {
		pts := []figure.Point{{X: 20, Y: y}, {X: 340, Y: y}, {X: 340, Y: y + 24}, {X: 20, Y: y + 24}}
		d.Add(figure.Path{From: pts[0], Closed: true, Hatch: true, Segs: []figure.Segment{{To: pts[1]}, {To: pts[2]}, {To: pts[3]}}})
	}
	d.Line(figure.Outline, 20, 54, 340, 54)
	d.Line(figure.Outline, 20, 160, 340, 160)
	d.Circle(figure.Wire, 90, 107, 38, true)
	d.Cross(90, 107, 38, 6)
	d.Label(150, 88, r.Text("wire {wire.likely:mm 4}"), -1)
	d.Label(150, 112, r.Text("slot {slot.likely:mm 4}"), -1)
	d.Label(150, 136, r.Text("gap {gap.likely:µm 2}"), -1)
	d.Label(20, 216, r.Text("pass {pass} only"), -1)
	a.Figure = d
}
