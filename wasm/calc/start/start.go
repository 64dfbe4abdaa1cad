package start

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                           [0]func() // never compared, so no code for comparing is made
	book                        *book.Book
	machine, from, led          string
	wire, distance, hole        unit.Length
	holeGiven                   bool
	position, taper, layer      unit.Length
	straight, jet, floor, stock unit.Length
	overlap                     unit.Length
	stockGiven                  bool
	height                      unit.Length
	largest, smallest, between  unit.Length
	lead, cut                   unit.Length
	diameters                   unit.Ratio
	verdict, fits               string
}

// Calculator declares the start calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "start", Title: "Start hole", Question: "Where do I start, and how large may the hole be?",
		Summary: "The smallest and the largest start hole, whether anything lies between, lead-in length and overlap.",
		Tables:  []string{"law", "wires", "machines hole_mm dielectrics"},
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
	calc.AskChoice(f, &in.from, "from: Start from\ngroup Start\noption hole: a hole\noption edge: the edge")
	calc.AskWire(f, in.book, &in.wire)
	calc.Ask(f, &in.distance, `distance: Contour to the centre of the hole
		mark to the contour
		is 3 mm
		help At right angles to the contour. From an edge: contour to the edge.
		keys length
		usual 0.2 mm to 10 mm
		above 0 mm: on the contour the hole stays in the part
		max 500 mm: a start this far away only costs time
		ranges`)
	calc.AskGiven(f, &in.hole, &in.holeGiven, `hole: Hole you have in mind
		mark hole
		if from hole
		keys length
		usual 0.05 mm to 5 mm
		above 0 mm: a hole has a width
		max 100 mm: this is an opening
		ranges`)
	calc.Ask(f, &in.position, `position: The hole may stand off its place by
		group What is wrong with the hole
		if from hole
		is 0.02 to 0.1 mm
		keys length
		usual 0.01 mm to 0.3 mm
		min 0 mm: an error has no sign here
		max 10 mm: then measure it first
		ranges`)
	calc.Ask(f, &in.taper, `taper: It widens over its depth by, each side
		if from hole
		is 0.01 to 0.05 mm
		help Holes made by sparks are narrower at the bottom.
		keys length
		usual 0 mm to 0.1 mm
		min 0 mm: give the amount without its sign
		max 10 mm: this is a cone
		ranges`)
	calc.Ask(f, &in.layer, `layer: Damaged layer of its wall
		if from hole
		is 0.02 to 0.05 mm
		help Melted and cracked by drilling with sparks; 0 for a drilled or ground hole. Common practice, no source.
		keys small
		usual 0 µm to 60 µm
		min 0 µm: a layer is not negative
		max 2 mm: no drilling damages this deep
		ranges`)
	calc.AskGiven(f, &in.stock, &in.stockGiven, `stock: Stock left for the skims
		keys small
		usual 0 µm to 120 µm
		min 0 µm: stock left is not negative
		max 2 mm: skims do not take this much
		ranges`).Fallback = func() calc.Fallback {
		return calc.LeftOf(in.book, book.Cut{Machine: in.machine, Material: "steel", Dielectric: in.fluid(), Thickness: in.height, Wire: in.wire})
	}
	d := calc.AskThickness(f, &in.height)
	d.Group, d.ShowIf = "What threading wants", func() bool { return in.from == "hole" }
	calc.AskLed(f, &in.led).ShowIf = func() bool { return in.from == "hole" }
	calc.AskGiven(f, &in.straight, new(bool), `straight: The wire strays by
		if from hole
		help Leave it empty to take the usual curl over the thickness and what the guide stands above it. The threading calculator takes your own.
		keys length
		usual 0 mm to 1 mm
		min 0 mm: a straight wire strays by nothing
		max 20 mm: this wire does not thread
		ranges`).Fallback = func() calc.Fallback { return calc.StrayOver(in.height, in.led == "jet") }
	calc.Ask(f, &in.jet, `jet: Width that the jet wants beside the wire
		if from hole
		is 0 to 0.2 mm
		keys length
		usual 0 mm to 0.6 mm
		min 0 mm: nothing is 0
		max 10 mm: no jet needs this
		ranges`)
	calc.AskGiven(f, &in.floor, new(bool), `floor: Smallest hole the machine threads
		if from hole
		help From its card or its manual.
		keys length
		usual 0.05 mm to 3 mm
		min 0 mm: a hole is not negative
		max 20 mm: no machine wants this`).Fallback = in.card
	calc.Ask(f, &in.overlap, `overlap: Overlap at the end of each pass
		is 0.2 mm
		advanced
		keys length
		usual 0 mm to 2 mm
		min 0 mm: an overlap is not negative
		max 100 mm: this is another pass
		ranges`)
}

// fluid is that of the machine's card, water where nothing says otherwise: the
// stock left hardly knows the fluid.
func (in *form) fluid() string {
	r, _ := in.book.Find("machines", in.machine)
	if r.Cell("dielectrics") == "oil" {
		return "oil"
	}
	return "water"
}

func (in *form) card() calc.Fallback {
	r, ok := in.book.Find("machines", in.machine)
	if !ok {
		return calc.Fallback{}
	}
	v := unit.Exactly(r.Num("hole_mm"))
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: "from the machine's card: " + calc.Put(unit.Length(v.Likely), "mm", 3)}
}

func (in *form) answers(f *calc.Form) {
	hole := func() bool { return in.from == "hole" }
	calc.TellChoice(f, &in.verdict, "verdict: A hole between the two\nword yes: Yes\nword no: No\nword edge: no hole, from the edge")
	calc.Tell(f, &in.smallest, "smallest: Smallest hole\nmain\nrises position taper straight jet").Applies = hole
	calc.Tell(f, &in.largest, "largest: Largest hole\nmain\nrises distance\nfalls position taper layer stock").Applies = hole
	calc.Tell(f, &in.between, "between: Between the two\nrises distance\nfalls position taper layer stock straight jet").Applies = hole
	calc.Tell(f, &in.diameters, "diameters: Smallest hole in wire diameters\ndigits 1\nrises position taper straight jet").Applies = hole
	calc.TellChoice(f, &in.fits, "fits: The hole you have in mind\nword yes: fits\nword too-small: too small to thread\nword too-large: too large, its wall stays in the part\nword not-asked: no hole was given")
	calc.Tell(f, &in.lead, "lead: Length to cut before the contour\nrises distance\nfalls hole position taper straight jet")
	calc.Tell(f, &in.cut, "path: Path that is cut besides the contour\nrises distance overlap\nfalls hole position taper straight jet")
}

func (in *form) point(p *calc.Point) {
	in.largest = Largest(in.distance, in.stock, in.position, in.taper+in.layer)
	in.smallest = Smallest(in.wire, in.straight, in.position, in.taper, in.jet, in.floor)
	in.between = in.largest - in.smallest
	in.diameters = unit.Ratio(in.smallest / in.wire)
	in.lead = max(0, in.distance-in.made()/2)
	in.cut = in.lead + in.overlap
	in.verdict, in.fits = "yes", "not-asked"
	switch {
	case in.from == "edge":
		in.verdict = "edge"
	case in.between < 0:
		in.verdict = "no"
	}
	if in.holeGiven && in.from == "hole" {
		in.fits = "yes"
		if in.hole < in.smallest {
			in.fits = "too-small"
		} else if in.hole > in.largest {
			in.fits = "too-large"
		}
	}
	if p.Stepping() {
		in.work(p)
	}
}

// made is the hole that is made: the one in mind, else the smallest; none from
// the edge.
func (in *form) made() unit.Length {
	switch {
	case in.from == "edge":
		return 0
	case in.holeGiven:
		return in.hole
	}
	return in.smallest
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	p.Work(`largest | largest hole | 2 (distance - stock - position - taper - layer) | 2 × ({distance} - {stock} - {position} - {taper} - {layer}) | geometry
		smallest | smallest hole | d + 2 (stray + position + taper) + jet, never below the machine | {wire} + 2 × ({straight} + {position} + {taper}) + {jet} | geometry
		lead | cut before the contour | distance - hole / 2 | {distance} - {1} / 2 | geometry`, calc.Put(in.made(), "mm", 4))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = true
	if in.from == "edge" {
		a.Headline = r.Text("From the edge: {lead} to cut before the contour")
		a.Lead = "An edge costs no hole. The part opens there: stress moves it, and the last cut has no wall behind it."
		a.Note("Starting from the edge a punch comes free of the plate on one side early. Keep a hole when the contour must not move.")
	} else {
		v := r.Pick("verdict")
		switch {
		case len(v.All) > 1:
			a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the hole is good: {smallest.likely} to {largest.likely} in the usual case")
			a.Lead = r.Text("At worst no hole fits: it wants {smallest.high} and may have {largest.low}. Measure the hole's place, or start farther from the contour.")
			if v.Likely.Value == "no" {
				a.Headline = "Only if the hole is better than usual: in the usual case no hole fits"
				a.Lead = r.Text("It wants {smallest.likely} to thread and may have {largest.likely}. At best {smallest.low} thread and {largest.high} disappear. Start farther from the contour, or make the hole truer and the wire straighter.")
			}
		case v.Likely.Value == "yes":
			a.Verdict, a.Headline = calc.Yes, r.Text("Yes, from {smallest.high} to {largest.low} in every case")
			a.Lead = r.Text("A hole of {smallest} threads, and one of {largest} still disappears in what roughing removes.")
			if r.Of("smallest").High > r.Of("largest").Low {
				a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the hole is made for its place: {smallest.likely} to {largest.likely}")
			}
		default:
			a.Verdict, a.Headline = calc.No, r.Text("No, the smallest hole is {smallest.low}, the largest {largest.high}")
			a.Lead = "Start farther from the contour, make the hole truer, take a finer wire, or start from the edge."
		}
		if in.holeGiven {
			a.Lead += r.Text(" The hole you have in mind: {fits}.")
		}
	}
	a.Note("Put the start on a line at right angles to the contour, 3 to 5 mm away where there is room. Where space is short a fine wire wants a hole of 3 to 6 of its diameters. Common practice, no source.")
	if in.from == "hole" {
		a.Note("How far the wire strays is its curl, and goes with the square of its free length, from the guide or threading tube to the lower face.")
	}
	a.Note("A published study of miniature gears cut with 0.25 mm wire used a start hole of 0.80 mm: 3.2 diameters.")
	a.Note(r.Text("The lead-in is cut and cut again at the end of the pass, with {overlap} of overlap. Its mark is a small step: lay it where nothing slides, seals or is measured, not on a corner, not on a tooth's flank."))
	a.Cites("gears-2021; abstract; a start hole of 0.80 mm for 0.25 mm wire @ A published study of miniature gears")
	in.draw(r, a)
}

// draw shows the contour, the stock and the hole from above, to scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	hole := in.hole
	if !in.holeGiven {
		hole = max(in.smallest, 0)
	}
	if in.from == "edge" {
		hole = 0
	}
	d := figure.New("Contour and start, from above, to scale", r.Text("A contour on the left with hatched part behind it. At {distance.likely} from it stands the start hole with the wire in it; a dashed circle shows how far its wall may reach; the lead-in runs from the wire to the contour."), 360, 250, true)
	reach := float64(hole/2 + in.position + in.taper + in.layer)
	k := min(230/(float64(in.distance)+reach), 80/max(reach, 1e-9))
	x0, y := 60.0, 112.0
	x := x0 + float64(in.distance)*k
	d.Add(figure.Path{From: figure.Point{X: x0, Y: 16}, Closed: true, Hatch: true, Segs: []figure.Segment{{To: figure.Point{X: x0, Y: 208}}, {To: figure.Point{X: x0 - 24, Y: 208}}, {To: figure.Point{X: x0 - 24, Y: 16}}}})
	d.Line(figure.Outline, x0, 16, x0, 208)
	d.Line(figure.Hidden, x0+float64(in.stock)*k, 16, x0+float64(in.stock)*k, 208)
	if in.from == "hole" {
		d.Circle(figure.Outline, x, y, float64(hole)/2*k, false)
		d.Circle(figure.Hidden, x, y, reach*k, false)
		d.Cross(x, y, reach*k, 6)
	} else {
		d.Line(figure.Outline, x, 30, x, 194)
	}
	d.Circle(figure.Wire, x, y, float64(in.wire)/2*k, true)
	d.Line(figure.Thin, x0, y, x, y)
	d.Line(figure.Thin, x0, 208, x0, 222)
	d.Line(figure.Thin, x, y, x, 222)
	d.Label(x0+4, 240, r.Text("contour to start {distance.likely:mm 3}"), -1)
	a.Figure = d
}
