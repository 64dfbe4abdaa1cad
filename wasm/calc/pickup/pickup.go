package pickup

import (
	"math"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                       [0]func() // never compared, so no code for comparing is made
	book                                    *book.Book
	datum, zone, stays, material            string
	tolerance, distance, height             unit.Length
	spread, thin, dirt, axis                unit.Length
	shown, block, outside                   unit.Length
	work, scale                             unit.Ratio
	workGiven, travelGiven                  bool
	tw, ts                                  unit.Temperature
	wire, hole, travel                      unit.Length
	allowed, worst, sum, expanded, both     unit.Length
	touch, touchSum, half, burr, here, lean unit.Length
	warm, add, clean, missing               unit.Length
	used                                    unit.Percent
	verdict, first                          string
}

// Calculator declares the pick-up calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "pickup", Title: "Where is the part?", Question: "How far may the form stand off its datum, and does the tolerance allow it?",
		Summary: "Touch, half wire, burr, lean, axes and warmth: each one's share in the place of the form, at worst and by root-sum.",
		Tables:  []string{"materials name", "properties value_*_n0"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.more(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.datum, "datum: Datum\ngroup Print\noption hole: a hole, touched from both sides\noption edge: an edge, touched from one side")
	calc.AskChoice(f, &in.zone, "zone: The tolerance is\noption each: plus or minus, in each axis\noption round: a round zone, its diameter")
	calc.Ask(f, &in.tolerance, `tolerance: Tolerance of the place
		mark tolerance
		is 0.01 mm
		help Plus or minus this; for a round zone its diameter.
		keys length
		usual 0.002 mm to 0.1 mm
		above 0 mm: without a tolerance nothing passes
		max 10 mm: any touch is good enough`)
	calc.Ask(f, &in.distance, `distance: Distance from the datum to the form
		mark distance
		is 50 mm
		keys mm in; in
		usual 5 mm to 300 mm
		min 0 mm: taken without its sign
		max 2000 mm: no machine is this long`)
	calc.AskThickness(f, &in.height).Card = "" // no card is chosen here
	calc.Ask(f, &in.spread, `spread: One touch is off by, each way
		group Touch
		is 1 to 3 µm
		help Half the spread of ten touches on a clean ground block.
		keys small
		usual 0.5 µm to 10 µm
		min 0 µm: taken without its sign
		max 1 mm: this is no touch
		ranges`)
	calc.Ask(f, &in.thin, `wire-error: Wire's diameter differs from the table's by
		is 0 to 3 µm
		help Measure fresh wire. In a hole it cancels.
		keys small
		usual 0 µm to 10 µm
		min 0 µm: taken without its sign
		max 0.2 mm: measure the wire
		ranges`)
	calc.Ask(f, &in.dirt, `dirt: Burr, chip or film on one wall
		is 0 to 2 µm
		help Also what one wall is out of true.
		keys small
		usual 0 µm to 20 µm
		min 0 µm: taken without its sign
		max 1 mm: clean it first
		ranges`)
	calc.Ask(f, &in.axis, `axis: Axes are off over that distance, each way
		is 1 to 2 µm
		help From the machine's acceptance or a step gauge.
		keys small
		usual 0.5 µm to 10 µm
		min 0 µm: taken without its sign
		max 1 mm: the machine needs repair
		ranges`)
}

// more declares the lean, the warmth and the check of the travel.
func (in *form) more(f *calc.Form) {
	calc.Ask(f, &in.shown, `lean: Wire leans on the block by
		group Lean
		is 0 to 3 µm
		keys small
		usual 0 µm to 20 µm
		min 0 µm: taken without its sign
		max 2 mm: this is a taper
		ranges`)
	calc.Ask(f, &in.block, `block: Height of the block
		is 100 mm
		keys mm in; in
		usual 20 mm to 150 mm
		above 0 mm: a block has a height
		max 1000 mm: no machine takes more`)
	calc.AskChoice(f, &in.stays, "stays: From the block to the part there stays\noption offset: the offset of the guides\noption angle: the angle")
	calc.Ask(f, &in.outside, `outside: Span outside the part, both guides together
		if stays offset
		advanced
		is 10 mm
		keys mm in; in
		usual 2 mm to 100 mm
		min 0 mm: guides stand outside the part
		max 500 mm: no machine reaches this`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\ngroup Warmth\nis steel")
	calc.AskGiven(f, &in.work, &in.workGiven, `expansion: Expansion of the part, millionths a kelvin
		advanced
		help Leave it empty to take the table. From a value for 1 °F: multiply by 1.8.
		usual 3 to 25
		min 0: no work metal shrinks as it warms
		max 60: no work metal grows as much
		ranges`).Fallback = in.table
	calc.Ask(f, &in.tw, `part-temperature: Part during the cut
		is 20 to 22 °C
		keys °C °F; °F
		usual 15 °C to 35 °C
		min 0 °C: water freezes
		max 80 °C: no fluid is kept this warm
		ranges`)
	calc.Ask(f, &in.ts, `scale-temperature: Scales of the machine
		is 20 to 21 °C
		keys °C °F; °F
		usual 15 °C to 35 °C
		min 0 °C: water freezes
		max 80 °C: no machine is this warm
		ranges`)
	calc.Ask(f, &in.scale, `scale-expansion: Expansion of the scales, millionths a kelvin
		advanced
		is 10.5
		help From the machine's manual; 8 for glass and 10 to 11.5 for steel are common practice. A control that corrects its scales for warmth: 0.
		usual 0 to 12
		min 0: 0 stands for a control that corrects them
		max 30: no scale grows as much`)
	calc.AskWire(f, in.book, &in.wire).Card = ""
	calc.Ask(f, &in.hole, `hole: Datum hole, gauged
		group Check
		if datum hole
		is 2 mm
		keys length
		usual 0.3 mm to 20 mm
		above 0 mm: a hole has a diameter
		max 500 mm: this is an opening`)
	calc.AskGiven(f, &in.travel, &in.travelGiven, `travel: Travel that the control shows
		if datum hole
		help Leave it empty to see what a clean hole gives.
		keys length
		usual 0.1 mm to 20 mm
		min 0 mm: taken without its sign
		max 500 mm: this is an opening`)
}

func (in *form) table() calc.Fallback {
	r, ok := in.book.Find("properties", in.material, "expansion")
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range("value", "n0", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.RatioKind, v, "")}
}

func (in *form) answers(f *calc.Form) {
	small := "\nunit µm 2\ninch thou 3\nrises "
	is := func() bool { return in.datum == "hole" }
	calc.TellChoice(f, &in.verdict, "verdict: The tolerance holds\nword yes: yes, even at worst\nword likely: by root-sum, not at worst\nword no: no")
	calc.Tell(f, &in.worst, "worst: Off its place, at worst\nmain"+small+"spread wire-error dirt axis lean")
	calc.Tell(f, &in.sum, "root-sum: Off its place, by root-sum\nmain"+small+"spread wire-error dirt axis lean")
	calc.Tell(f, &in.expanded, "expanded: Expanded uncertainty, k = 2"+small+"spread wire-error dirt axis lean")
	calc.Tell(f, &in.allowed, "allowed: Allowed in each axis, each way\nunit µm 2\ninch thou 3")
	calc.Tell(f, &in.used, "used: Share of it taken at worst\nrises spread wire-error dirt axis lean")
	calc.TellChoice(f, &in.first, "first: Largest part\nword touch: the touch\nword half-wire: the half wire\nword dirt: the burr or film\nword lean: the lean\nword axis: the axes\nword warm: the warmth")
	calc.Tell(f, &in.touch, "touch: Touch"+small+"spread")
	calc.Tell(f, &in.half, "half-wire: Half wire"+small+"wire-error")
	calc.Tell(f, &in.burr, "from-dirt: Burr or film"+small+"dirt")
	calc.Tell(f, &in.here, "lean-here: The wire leans over this part by"+small+"lean")
	calc.Tell(f, &in.lean, "from-lean: Lean, at the worse face"+small+"lean")
	calc.Tell(f, &in.warm, "warm: Part longer than its scales say\nunit µm 2\ninch thou 3\nrises part-temperature\nfalls scale-temperature")
	calc.Tell(f, &in.both, "both-axes: Off its place in both axes at once, at worst"+small+"spread wire-error dirt axis lean")
	calc.Tell(f, &in.add, "add: Half wire to add at an edge").Applies = func() bool { return !is() }
	calc.Tell(f, &in.clean, "clean-travel: Travel in a clean hole, wire upright").Applies = is
	calc.Tell(f, &in.missing, "missing: Travel that is missing\nunit µm 2\ninch thou 3").Applies = func() bool { return is() && in.travelGiven }
}

func (in *form) point(p *calc.Point) {
	hole := in.datum == "hole"
	in.touch, in.touchSum, in.half = in.spread, in.spread, in.thin/2
	if hole { // the mean of two touches; the wire's diameter falls out
		in.touchSum, in.half = in.spread/math.Sqrt2, 0
	}
	in.burr = Share(in.dirt, hole)
	in.here = Here(in.shown, in.block, in.height, in.outside, in.stays == "offset")
	in.lean = Share(in.here, hole)
	in.warm = Warm(in.distance, in.work, in.scale, in.tw, in.ts)
	warm := unit.Length(math.Abs(float64(in.warm)))
	in.worst = in.touch + in.half + in.burr + in.lean + in.axis + warm
	in.sum = warm + Root(in.touchSum, in.half, in.burr, in.lean, in.axis)
	in.expanded = warm + calc.Expanded(in.sum-warm)
	in.both = in.worst * math.Sqrt2
	in.allowed = in.tolerance
	if in.zone == "round" {
		in.allowed = in.tolerance / 2 / math.Sqrt2
	}
	in.used = unit.Percent(in.worst / in.allowed * 100)
	in.verdict = "yes"
	if in.sum > in.allowed*(1+1e-9) {
		in.verdict = "no"
	} else if in.worst > in.allowed*(1+1e-9) {
		in.verdict = "likely"
	}
	in.first = "touch"
	most := in.touch
	for _, c := range [...]struct {
		name string
		v    unit.Length
	}{{"half-wire", in.half}, {"dirt", in.burr}, {"lean", in.lean}, {"axis", in.axis}, {"warm", warm}} {
		if c.v > most {
			in.first, most = c.name, c.v
		}
	}
	in.add, in.clean = in.wire/2, in.hole-in.wire
	in.missing = in.clean - in.travel
	if hole && in.clean <= 0 {
		p.Impossible("the wire does not go into the datum hole")
	}
	if p.Stepping() {
		in.steps(p, hole)
	}
}

// steps writes the working down.
func (in *form) steps(p *calc.Point, hole bool) {
	share, wire, touch, lean := " | {1}", "δd / 2 | {wire-error:µm 2} / 2", "({touch})²", "s = s0 H / Hb"
	put := "{lean:µm 2} × {thickness} / {block}"
	if hole {
		share, wire, touch = " / 2 | {1} / 2", "equal on both sides | 0", "({touch})² / 2"
	}
	if in.stays == "offset" {
		lean, put = "s = s0 (Hb + z) / Hb × H / (H + z)", "{lean:µm 2} × ({block} + {outside}) / {block} × {thickness} / ({thickness} + {outside})"
	}
	on := func(v string) string { return strings.ReplaceAll(share, "{1}", v) }
	p.Work(`half-wire | half wire | `+wire+` | geometry
		from-dirt | burr or film | e`+on("{dirt:µm 2}")+` | geometry
		lean-here | lean over this part | `+lean+` | `+put+` | geometry
		from-lean | lean at the worse face | s`+on("{lean-here}")+` | geometry
		warm | part longer than its scales say | L (αw (Tw - 20 °C) - αs (Ts - 20 °C)) | {distance} × ({expansion} × ({part-temperature} - 20 °C) - {scale-expansion} × ({scale-temperature} - 20 °C)) / 10⁶ | iso-1
		worst | at worst | sum of all | {touch} + {half-wire} + {from-dirt} + {from-lean} + {axis:µm 2} + {warm} without its sign | definition
		root-sum | root-sum | √(sum of the squares) + warmth; a mean of two touches counts by half its square | √(`+touch+` + ({half-wire})² + ({from-dirt})² + ({from-lean})² + ({axis:µm 2})²) + {warm} without its sign | definition
		expanded | expanded uncertainty, k = 2 | 2 × √(sum of the squares / 3) + warmth | 2 / √3 × ({root-sum} - {warm} without its sign) + {warm} without its sign | jcgm-100
		allowed | allowed in each axis | t{1} | {tolerance:µm 2}{1} | geometry`,
		map[bool]string{true: " / (2 √2)"}[in.zone == "round"])
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.workGiven
	v := r.Pick("verdict")
	switch {
	case len(v.All) == 1 && v.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: off by {worst.high} at worst, {allowed} is allowed")
	case len(v.All) == 1 && v.Likely.Value == "no":
		a.Verdict, a.Headline = calc.No, r.Text("No: by root-sum alone {root-sum}, {allowed} is allowed")
	case len(v.All) == 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if not all errors fall on one side: {worst} at worst, {root-sum} by root-sum")
	default:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the values stay at the good end: {worst} at worst, {allowed} is allowed")
	}
	a.Lead = r.Text("Likely {root-sum.likely} by root-sum and {worst.likely} at worst, in each axis. Largest part: {first}.")
	if in.datum == "hole" {
		a.Note(r.Text("The wire's diameter, and all that is equal on both walls, cancels. What sits on one wall, and the lean, enter by half. Travel in a clean hole with an upright wire: {clean-travel}."))
		if in.travelGiven {
			in.sayTravel(r, a)
		}
	} else {
		a.Note(r.Text("An edge takes burr, film and lean in full, and half of what the wire differs. Add {add} once: many controls add it by themselves."))
	}
	a.Note(r.Text("Over this part the wire leans {lean-here}. At a hole the place is right at half the height and off by half of it at both faces; at an edge it is off by up to all of it. Square the wire at the height at which you cut."))
	if in.zone == "round" {
		a.Note(r.Text("A round zone is held against both axes off at once, {both-axes} at worst; so {allowed} is left for each."))
	}
	if w := r.Of("warm"); w.Low != 0 || w.High != 0 {
		a.Note(r.Text("Cut so, the form stands {warm} too near to the datum once all is at 20 °C (68 °F); a minus says too far. This shift goes the same way every time, so it is added in full. Correct it, or let part and fluid reach one temperature."))
	}
	a.Note(r.Text("Root-sum is a shop's estimate with no level of confidence. With u = a/√3 for each limit, U = 2 u, about 95 in 100, is {expanded}, the warmth in full."))
	a.Note("Root-sum holds for errors that know nothing of each other. A burr, a film and a lean push one way every time: if you know of one, trust the sum at worst, or mend it.")
	a.Note("Do not trust this where the datum is drilled, cast, plated or loose, where the part moves when cut free, or for the width of the form: that is the gap's matter. Spread, axes and lean stand here as common practice, no source: type your own.")
	a.Caution("WARNING", "Clean and touch with the generator off, as the machine's manual says. A head that meets a clamp breaks guides and throws parts.")
	a.Cites("jcgm-100; rectangular distribution and law of propagation, from memory, place not seen; the expanded uncertainty\niso-1; reference temperature; 20 °C")
	in.draw(r, a)
}

// sayTravel judges the travel that the control shows against the clean hole's.
func (in *form) sayTravel(r *calc.Result, a *calc.Answer) {
	noise := 2*in.spread + in.here
	switch {
	case in.missing > noise:
		a.Note(r.Text("The control shows {missing} less travel than a clean hole gives, more than touch and lean explain. On one wall alone that moves the middle by half of it. Clean, gauge hole and wire, and touch again."))
	case in.missing < -noise:
		a.Note(r.Text("The control shows more travel than the hole has ({missing} missing): a thinner wire, a late contact, or a hole gauged too small."))
	default:
		a.Note(r.Text("The travel misses {missing}, within what touch and lean explain."))
	}
}

// draw sets the parts above each other on one scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("What each error gives to the place, on one scale; not a shape", r.Text("Bars from nothing to the largest value: touch {touch}, half wire {half-wire}, burr or film {from-dirt}, lean {from-lean}, warmth {warm}; root-sum {root-sum} and worst {worst} against {allowed} allowed."), 360, 436, false)
	w := r.Of("warm")
	top := figure.Nice(max(float64(in.allowed), r.Of("worst").High))
	s := figure.NewScale(d, 0, top, false, 34)
	row := func(text string, v unit.Range, weight uint8) { s.Row(r.Text(text), 0, v.Likely, v.High, weight) }
	row("touch {touch.likely}", r.Of("touch"), 1)
	if in.datum == "edge" {
		row("half wire {half-wire.likely}", r.Of("half-wire"), 1)
	}
	row("burr or film {from-dirt.likely}", r.Of("from-dirt"), 1)
	row("lean {from-lean.likely}", r.Of("from-lean"), 1)
	row("warmth {warm.likely}", unit.Range{Likely: math.Abs(w.Likely), High: max(-w.Low, w.High)}, 1)
	row("root-sum, with the axes {root-sum.likely}", r.Of("root-sum"), 2)
	row("worst, with the axes {worst.likely}", r.Of("worst"), 2)
	row("allowed {allowed}", r.Of("allowed"), 0)
	st := unit.Style{Unit: "µm", Decimals: 1, Trim: true}
	if r.System == unit.Inch {
		st = unit.Style{Unit: "thou", Decimals: 2, Trim: true}
	}
	s.Close("each axis, each way", []float64{0, top}, []string{"0", unit.Print(unit.LengthKind, top, st)})
	a.Figure = d
}
