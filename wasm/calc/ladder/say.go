package ladder

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// offsetStyle prints offsets to 1 µm or 0.05 thou; one digit finer only when
// every gap was typed, that is, measured.
func (in *form) offsetStyle(s unit.System) (st unit.Style, step float64) {
	measured := true
	for i := range in.n() {
		measured = measured && in.gapGiven[i]
	}
	switch {
	case s == unit.Inch && measured:
		return unit.Style{Unit: "thou", Decimals: 2}, 0.01 * 0.0254
	case s == unit.Inch:
		return unit.Style{Unit: "thou", Decimals: 2}, 0.05 * 0.0254
	case measured:
		return unit.Style{Unit: "mm", Decimals: 4, Trim: true}, 0.0001
	}
	return unit.Style{Unit: "mm", Decimals: 3}, 0.001
}

func rounded(r unit.Range, step float64) unit.Range {
	f := func(v float64) float64 { return math.Round(v/step+1e-9) * step }
	return unit.Range{Low: f(r.Low), Likely: f(r.Likely), High: f(r.High)}
}

func small(v unit.Length, s unit.System) string {
	if s == unit.Inch {
		return calc.Put(v, "thou", 2)
	}
	return calc.Put(v, "µm", 1)
}

func polarityName(p string) string {
	switch p {
	case "wire-plus":
		return "wire + / work −"
	case "alternating":
		return "alternating, zero mean"
	}
	return "wire − / work +"
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	s := r.System
	st, step := in.offsetStyle(s)
	for i := range a.Values {
		if f := &a.Values[i]; len(f.Name) > 7 && f.Name[:7] == "offset-" && in.direction == "plan" {
			f.Style, f.Text = st, unit.PrintRange(unit.LengthKind, rounded(f.Range, step), st)
		}
	}
	in.byLaw(r, a)
	in.verdict(r, a, st, step)
	a.Tables = append(a.Tables, in.table(r, st, step))
	for i := range in.n() {
		if !in.gapGiven[i] {
			a.General = true
		}
	}
	in.notes(a, s)
	a.Cite("kalpakjian-schmid", "wire EDM text, place not seen", "kerf = wire + 2 × gap")
	a.Cites("huang-2006; abstract; wire metal in the surface after a reversed last pass @ more wire metal stays in the surface")
	a.Figure = in.draw(s)
}

// byLaw gives roughness and feed of every pass as the law has them for what the
// pass takes.
func (in *form) byLaw(r *calc.Result, a *calc.Answer) {
	p := in.law()
	if !p.OK {
		return
	}
	a.Used(p.Rows...)
	for i := range in.n() {
		no := strconv.Itoa(i + 1)
		r.Give(a, "ra-"+no, p.Ra(i+1))
		if i == in.n()-1 {
			r.Give(a, "finish", p.Ra(i+1))
		}
		if i > 0 && in.takes[i] > 0 && in.direction == "plan" { // read back, the stock is in question itself
			least := p.Passes[i-1].Ra
			at := func(takes float64) unit.Range { return p.Feed(i+1, max(unit.Length(takes), unit.Length(least)/1000)) }
			takes := r.Of("takes-" + no) // more stock goes slower
			likely := at(float64(in.takes[i])).Likely
			r.Give(a, "feed-"+no, unit.Range{Low: min(likely, at(takes.High).Low), Likely: likely, High: max(likely, at(max(0, takes.Low)).High)})
		}
	}
}

func (in *form) verdict(r *calc.Result, a *calc.Answer, st unit.Style, step float64) {
	s := r.System
	last := strconv.Itoa(in.n())
	offset := unit.PrintRange(unit.LengthKind, rounded(r.Of("offset-"+last), step), st)
	if in.direction == "plan" {
		a.Headline = last + " passes, last offset " + unit.Print(unit.LengthKind, rounded(r.Of("offset-"+last), step).Likely, st)
		a.Lead = "To start the test cut with: your machine's own settings win. Last offset " + offset + "; the tool leaves R " + calc.SayRange(unit.LengthKind, r.Of("corner-"+last), s) + "."
		return
	}
	p := r.Pick("problem")
	if len(p.All) == 1 && p.Likely.Value == "none" {
		a.Verdict, a.Headline = calc.Yes, "Yes, these offsets make a plan"
		a.Lead = "Every skim takes something. The tool leaves R " + calc.SayRange(unit.LengthKind, r.Of("corner-"+last), s) + "; the narrowest slot for all passes is " + calc.SayRange(unit.LengthKind, r.Of("slot"), s) + "."
		return
	}
	a.Verdict, a.Headline = calc.No, "No: in pass "+in.where+" "+p.Likely.Label
	if in.problem == "none" {
		a.Verdict, a.Headline = calc.OnlyIf, "Only if the gaps are what you hope"
	}
	a.Lead = "Either this number is wrong, or the gap of a pass is not what was typed. Measure the gaps before you change an offset."
	if p.When != "" {
		a.Note(p.When + ".")
	}
}

// table has empty columns for what the machine's setting is and what was
// measured.
func (in *form) table(r *calc.Result, st unit.Style, step float64) calc.Table {
	s := r.System
	t := calc.Table{Title: "To start the test cut with: your machine's own settings win",
		Columns: []calc.Column{{Head: "Pass"}, {Head: "Offset", Right: true}, {Head: "Gap", Right: true}, {Head: "Takes", Right: true}, {Head: "Leaves", Right: true}, {Head: "In the corner", Right: true}, {Head: "Ra", Right: true}, {Head: "Feed", Right: true}, {Head: "Polarity"}, {Head: "Setting number", Blank: true}, {Head: "Measured", Blank: true}}}
	for i := range in.n() {
		offset := in.offset[i]
		if in.direction == "plan" {
			offset = unit.Length(rounded(unit.Exactly(float64(offset)), step).Likely)
		}
		takes, corner := "all of the slot", "-"
		if i > 0 {
			takes, corner = small(in.takes[i], s), small(in.cornerStock[i], s)
		}
		no := strconv.Itoa(i + 1)
		ra, feed := "-", "-"
		if r.Of("ra-"+no).Likely > 0 {
			ra = r.Text("{ra-" + no + ".likely}")
		}
		if r.Of("feed-"+no).Likely > 0 {
			feed = r.Text("{feed-" + no + ".likely}")
		}
		t.Rows = append(t.Rows, []calc.Cell{{Text: no}, {Text: unit.Print(unit.LengthKind, float64(offset), st), Strong: true}, {Text: small(in.gap[i], s)}, {Text: takes}, {Text: small(in.leaves[i], s)}, {Text: corner}, {Text: ra}, {Text: feed},
			{Text: polarityName(in.polarity[i])}, {}, {}})
	}
	t.Note = "“In the corner” is what the pass meets on the bisector of an inside corner"
	if in.radiusGiven {
		t.Note += " of R " + calc.Say(in.radius, s)
	} else {
		t.Note += " without a radius"
	}
	t.Note += " and " + calc.Say(in.angle, s) + "."
	return t
}

func (in *form) notes(a *calc.Answer, s unit.System) {
	if in.radiusGiven {
		if in.radius > in.offset[0] {
			a.Note("The contour's radius is larger than the first offset, so every pass meets the same stock in the corner as on the wall.")
		} else {
			a.Note("The contour's radius, " + calc.Say(in.radius, s) + ", is not larger than the first offset, " + calc.Say(in.offset[0], s) +
				". The skims meet more stock in the corner. An arc this small must not stand in the program of roughing: leave the corner sharp, or give roughing its own radius.")
		}
	}
	reversed, carbide := false, in.material == "carbide" && in.dielectric == "water"
	for i := range in.n() {
		reversed = reversed || in.polarity[i] == "wire-plus"
		carbide = carbide && in.polarity[i] == "wire-minus"
	}
	if reversed {
		a.Note("A pass runs with wire + / work −. Its price: it is slower, the wire wears more, and more wire metal stays in the surface. Its gap is another: measure it.")
	}
	if carbide {
		a.Note("Common practice, no source: for carbide in water the last passes are run with alternating pulses of zero mean, or else reversed to wire + / work −, which is slower and wears the wire. Nothing was changed here.")
	}
	if p := in.law(); p.OK {
		a.Note("Roughness to expect: Ra " + calc.SayRange(unit.RoughnessKind, p.Ra(in.n()), s) + ", by the law of a pass, " + p.Basis(in.n()) + ".")
		switch n, why := p.Useful(in.n()); {
		case n >= in.n():
		case why == process.GainsNothing:
			a.Note("Pass " + strconv.Itoa(n+1) + " gains nothing worth its time here: it would lower Ra by less than 8 %, for what cannot be switched off decides. The law of a pass would end the plan at " + strconv.Itoa(n) + ".")
		default:
			a.Note("Pass " + strconv.Itoa(n+1) + " would take less than the " + small(p.Repeats(), s) + " that the machine repeats. The law of a pass would end the plan at " + strconv.Itoa(n) + ".")
		}
	}
	if in.n() > 1 {
		a.Note("Together the skims take " + small(in.leaves[0]-in.leaves[in.n()-1], s) + " a side. That must be more than the molten layer, the roughness and the shape error of roughing together.")
	}
	a.Note("The difference of two offsets is not what a pass takes: the gaps differ too.")
}

// draw shows the strip that each pass takes, measured from the finished wall.
func (in *form) draw(s unit.System) *figure.Drawing {
	n := in.n()
	d := figure.New("What each pass takes from the wall, to scale; the finished wall is on the left",
		"One row for each pass. Roughing leaves "+small(in.leaves[0], s)+" on the wall; the passes after it take it off in strips.", 360, 44+float64(n)*48, true)
	const x0, x1 = 20.0, 340.0
	most := 1e-6
	for i := range n {
		most = math.Max(most, float64(in.leaves[i]))
	}
	at := func(v unit.Length) float64 { return math.Max(0, math.Min(1, float64(v)/most*0.72)) }
	for i := range n {
		y := 40 + float64(i)*48
		to := 1.0
		if i > 0 {
			to = at(in.leaves[i-1])
		}
		from := math.Min(at(in.leaves[i]), to)
		text := "pass " + strconv.Itoa(i+1) + ": offset " + calc.Put(in.offset[i], "mm", 3)
		if s == unit.Inch {
			text = "pass " + strconv.Itoa(i+1) + ": offset " + calc.Put(in.offset[i], "thou", 2)
		}
		if i > 0 {
			text += ", takes " + small(in.takes[i], s)
		}
		d.Label(x0+6, y-12, text, -1)
		weight := uint8(1)
		if i == 0 {
			weight = 0
		} else if i == n-1 {
			weight = 2
		}
		d.Bars = append(d.Bars, figure.Bar{At: figure.Point{X: x0, Y: y + 6}, Length: x1 - x0, Height: 14, From: from, To: to, Likely: from, Weight: weight})
	}
	d.Line(figure.Outline, x0, 40, x0, 34+float64(n)*48)
	return d
}
