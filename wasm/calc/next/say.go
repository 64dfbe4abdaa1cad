package next

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// shown is how many cuts the table lists.
const shown = 5

// little is the fall of ln(high/low) below which no test is worth its hour.
const little = 0.02

func times(r unit.Range) string { return unit.Fixed(r.High/r.Low, 2) + " times" }

func (in *form) subject() string {
	switch in.kind() {
	case process.RaOf:
		return "the roughness of the last pass"
	case process.GapOf:
		return "the gap of the last pass"
	}
	return "the hours of cutting"
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	p, t := in.ask()
	if !p.OK {
		a.Headline, a.Lead = "No number here", "The law says nothing of this cut: "+p.Why+"."
		return
	}
	a.Used(p.Rows...)
	words, rows, own := p.Grounds(in.kind(), max(1, int(in.passes)))
	if in.kind() == process.RateOf {
		words, rows, own = p.Grounds(in.kind(), 1)
	}
	a.Used(rows...)
	a.General = !own
	s := r.System
	r.Give(a, "width", unit.Exactly(t.Now.High/t.Now.Low))
	_, now, _ := in.printed(t.Now, s)
	r.Give(a, in.decide, now)
	known := unit.PrintRange(in.printed(t.Now, s))
	a.Note("It rests on the law of a pass, " + words + ".")
	if len(t.Best) == 0 || t.Best[0].Gain < little {
		in.nothing(a, t, known)
	} else {
		in.best(r, a, t, known)
	}
	a.Figure = in.draw(p, t, s)
	in.doubts(a, p, s)
}

// nothing says that no test is worth its hours.
func (in *form) nothing(a *calc.Answer, t calc.Teaching, known string) {
	a.Headline = "Cut the job itself"
	a.Lead = capital(in.subject()) + " is known as " + known + ". "
	if in.kind() == process.RateOf {
		a.Lead = "The hours of cutting are known as " + known + ". "
	}
	if len(t.Best) == 0 {
		a.Lead += "Every test cut here takes longer than the job. Read the job's own passes and write them down."
		return
	}
	a.Lead += "No test cut narrows that by as much as 2 %. What is left is the usual noise from one job to the next."
}

func capital(s string) string { return string(s[0]-'a'+'A') + s[1:] }

// best says which cut to make.
func (in *form) best(r *calc.Result, a *calc.Answer, t calc.Teaching, known string) {
	s, b := r.System, t.Best[0]
	r.Give(a, "width-after", unit.Exactly(b.After.High/b.After.Low))
	r.Give(a, "test-wire", unit.Exactly(float64(b.Wire)))
	r.Give(a, "test-height", unit.Exactly(float64(b.Height)))
	r.Give(a, "test-passes", unit.Exactly(float64(b.Passes)))
	r.Give(a, "test-hours", unit.Exactly(b.Hours*3600))
	r.Give(a, "test-cost", unit.Exactly(b.Hours*float64(in.rate)))
	a.Headline = "Cut " + calc.WireName(b.Wire, s) + " through " + calc.Say(b.Height, s) + " in " + passes(b.Passes)
	a.Lead = r.Text("Now "+in.subject()+" can be told as "+known+", {1} from low to high. After that cut it is likely {2}. It takes {test-hours} of the machine, of which a quarter of an hour is for clamping, threading and reading.", times(t.Now), times(b.After))
	tb := calc.Table{Title: "The cuts that teach most for an hour. Now: " + known + ", " + times(t.Now),
		Columns: columnsOf("Wire", ">Height", ">Passes", ">Hours", ">Cost", "Range after", ">Width after", ">Gain an hour"),
		Note:    "Gain is the fall of ln(high/low). The likely value will move with the readings; the range after stands about the value of now. Cuts dearer than the job are left out."}
	for i, x := range t.Best[:min(shown, len(t.Best))] {
		row := cellsOf(i == 0, calc.WireName(x.Wire, s), calc.Say(x.Height, s), strconv.Itoa(x.Passes), unit.Fixed(x.Hours, 2), unit.Fixed(x.Hours*float64(in.rate), 0),
			unit.PrintRange(in.printed(x.After, s)), unit.Fixed(x.After.High/x.After.Low, 2), unit.Fixed(x.Teaches(), 3))
		tb.Rows = append(tb.Rows, row)
	}
	a.Tables = append(a.Tables, tb)
	a.Note("The gain is foretold, not promised. Readings can also show that the shop scatters more than was thought, and then a range grows although something was learnt.")
	if price, ok := in.book.Find("prices", "machine-hour"); ok && unit.Money(price.Num("amount_n0")) == in.rate {
		a.Used(price)
	}
	a.Files = append(a.Files, calc.File{Name: "test-cut-card.txt", What: "a card to cut and read it by", Text: in.card(b)})
}

// columnsOf are columns by their heads; > before one sets it right.
func columnsOf(heads ...string) (out []calc.Column) {
	for _, h := range heads {
		right := h[0] == '>'
		if right {
			h = h[1:]
		}
		out = append(out, calc.Column{Head: h, Right: right})
	}
	return out
}

func cellsOf(strong bool, texts ...string) (out []calc.Cell) {
	for _, t := range texts {
		out = append(out, calc.Cell{Text: t, Strong: strong})
	}
	return out
}

func passes(n int) string {
	if n == 1 {
		return "one pass"
	}
	return strconv.Itoa(n) + " passes"
}

// reading is the name of what was read, and how it is printed.
func reading(k process.Kind, r unit.Range, s unit.System) (string, string) {
	st := func(metric, inch string, decimals, inches int) unit.Style {
		if s == unit.Inch {
			return unit.Style{Unit: inch, Decimals: inches, Trim: true}
		}
		return unit.Style{Unit: metric, Decimals: decimals, Trim: true}
	}
	switch k {
	case process.RateOf:
		return "area rate", unit.PrintRange(unit.AreaRateKind, r, st("mm²/min", "in²/h", 1, 2))
	case process.SkimOf:
		return "feed", unit.PrintRange(unit.SpeedKind, r, st("mm/min", "in/min", 2, 3))
	case process.GapOf:
		return "gap", unit.PrintRange(unit.LengthKind, r, small(s))
	case process.LayerOf:
		return "layer", unit.PrintRange(unit.LengthKind, r, small(s))
	}
	return "Ra", unit.PrintRange(unit.RoughnessKind, r, st("µm", "µin", 2, 1))
}

// doubts holds the readings of the shop's cuts against one another.
func (in *form) doubts(a *calc.Answer, p *calc.Plan, s unit.System) {
	if p.Fed() == 0 {
		a.Note("No cut of yours counts here. Choose a machine that has cuts, and they are held against one another.")
		return
	}
	held, drifts := p.Doubts()
	t := calc.Table{Title: "The cuts of this machine, each reading against what all the others say",
		Columns: columnsOf("Cut", "What", ">Read", "The others say", "Believed"),
		Note:    "The others say where nine in ten such readings would lie. One in ten lies outside, and that is no fault."}
	elsewhere := 0
	for _, d := range held {
		name := d.Row.Cell("cut") + " pass " + d.Row.Cell("pass")
		what, read := reading(d.Kind, unit.Exactly(d.Read), s)
		_, others := reading(d.Kind, d.Says, s)
		believed := "yes"
		switch {
		case d.Odd:
			believed = "cannot be believed by the others"
			a.Note(name + ", " + what + " " + read + ", cannot be believed by the others: they say " + others + ". It still counts. Look at the paper and at the piece before you take it out.")
		case d.Read < d.Says.Low || d.Read > d.Says.High:
			believed = "yes, at the edge"
		}
		if d.Row.Cell("machine") != in.machine {
			elsewhere++
			continue
		}
		a.Used(d.Row)
		t.Rows = append(t.Rows, cellsOf(d.Odd, name, what, read, others, believed))
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, t)
	}
	if elsewhere > 0 {
		a.Note("The other machines' cuts count too, with " + strconv.Itoa(elsewhere) + " readings. Choose one of those machines to see them.")
	}
	for _, d := range drifts {
		way := "slower"
		if d.Share > 0 {
			way = "faster"
		}
		a.Note("Since " + d.Since[:min(7, len(d.Since))] + " " + d.Machine + " cuts " + unit.Fixed(100*math.Abs(d.Share), 0) + " % " + way + ": a straight line through its rates over the date is more than two standard errors off level. The law takes the mean of then and now.")
	}
}

// draw sets the cuts into the plane of wire and height.
func (in *form) draw(p *calc.Plan, t calc.Teaching, s unit.System) *figure.Drawing {
	alt := "Both axes in steps of ten. A ring stands at the job, " + calc.WireName(in.wire, s) + " through " + calc.Say(in.thickness, s)
	wires, heights := p.Places()
	alt += "; small dots at " + strconv.Itoa(len(wires)) + " passes that were read"
	propose := len(t.Best) > 0 && t.Best[0].Gain >= little
	if propose {
		alt += "; a thick cross at the proposed cut, " + calc.WireName(t.Best[0].Wire, s) + " through " + calc.Say(t.Best[0].Height, s)
	}
	d := figure.New("Where your cuts lie, and where the next should", alt+".", 360, 356, false)
	x := figure.Axis{Low: 0.02, High: 0.36, Log: true, At: []float64{0.02, 0.05, 0.1, 0.2, 0.3}, Names: []string{"0.02", "0.05", "0.1", "0.2", "0.3"}, Name: "wire, mm"}
	y := figure.Axis{Low: 0.3, High: 400, Log: true, At: []float64{1, 10, 100}, Names: []string{"1", "10", "100"}, Name: "height, mm"}
	if s == unit.Inch {
		x.At, x.Names, x.Name = []float64{0.0254, 0.0508, 0.127, 0.254}, []string{"1", "2", "5", "10"}, "wire, thou"
		y.At, y.Names, y.Name = []float64{2.54, 25.4, 254}, []string{"0.1", "1", "10"}, "height, in"
	}
	g := figure.NewPlot(d, x, y)
	for i := range wires {
		at := g.At(wires[i], heights[i])
		d.Circle(figure.Wire, at.X, at.Y, 3, true)
	}
	at := g.At(float64(in.wire), float64(in.thickness))
	d.Circle(figure.Outline, at.X, at.Y, 8, false)
	legend := "ring: the job; dots: your cuts"
	if len(wires) == 0 {
		legend = "ring: the job; no cut of yours"
	}
	d.Label(12, 318, legend, -1)
	if propose {
		const arm = 6
		c := g.At(float64(t.Best[0].Wire), float64(t.Best[0].Height))
		d.Line(figure.Accent, c.X-arm, c.Y, c.X+arm, c.Y)
		d.Line(figure.Accent, c.X, c.Y-arm, c.X, c.Y+arm)
		d.Label(12, 342, "thick cross: the cut to make", -1)
	}
	return d
}
