package trial

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/fit"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                    [0]func() // never compared, so no code for comparing is made
	book                                 *book.Book
	what, machine, material              string
	dielectric, flushing, scatter, sure  string
	cut                                  string
	slot, measured, size, stay           unit.Length
	wire, length, thickness              unit.Length
	pass, passes                         unit.Count
	offsets, gaps                        []unit.Length
	time                                 unit.Time
	timed                                bool
	ra, raAt, raLow, raHigh, rLow, rHigh unit.Roughness
	raGiven                              bool
	energies                             []unit.Energy
	readings                             []unit.Roughness
	energy                               unit.Energy
	law                                  *Law
	fault                                string
	fitted                               bool

	gap, correction, takesNow, takesThen unit.Length
	rate                                 unit.AreaRate
	speed                                unit.Speed
	factor                               unit.Roughness
	exponent, exponentLow, exponentHigh  unit.Ratio
	turn                                 string
}

// Calculator declares the test cut.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "trial", Title: "Test cut", Question: "What does my test cut say about gap, offset, rate and finish?",
		Summary: "The gap from a slot, the offset correction with its sign, the rate, roughness fitted against energy, and a line for the table of cuts.",
		Tables:  []string{"wires", "machines", "materials name", "flushings name"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.cutFields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

const sizeLimits = `
		keys length
		usual 0.5 mm to 200 mm
		above 0 mm: a size is more than nothing
		max 5000 mm: no machine takes more`

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.what, `what: What was cut
		group Measured
		option slot: a through slot, cut by one pass
		option opening: an opening, measured across both walls
		option punch: a punch, measured across both walls`)
	calc.Ask(f, &in.slot, `slot: Width of the slot
		mark slot
		if what slot
		is 0.265 to 0.267 mm
		help Well inside, not at the mouth. The doubt of the gauge belongs in: 0.266 ±0.001 mm.
		keys length
		usual 0.03 mm to 0.5 mm
		above 0 mm: a slot has a width
		max 3 mm: one pass of a wire leaves no slot this wide
		ranges`)
	calc.Ask(f, &in.measured, `measured: Size as measured
		mark measured
		unless what slot
		is 10.005 to 10.007 mm
		help With the doubt of the gauge. Part and gauge at one temperature.
		ranges`+sizeLimits)
	calc.Ask(f, &in.size, "size: Size in the program\nmark size\nunless what slot\nis 10 mm"+sizeLimits)
	calc.Ask(f, &in.stay, `stay: Stock meant to stay after this pass
		unless what slot
		is 0 µm
		help On each wall; 0 for the last pass.
		keys small
		usual 0 µm to 100 µm
		min 0 µm: stock is not negative
		max 1 mm: this is no skim's stock`)
	calc.Ask(f, &in.wire, `wire: Wire, as measured
		mark ⌀
		is 0.25 mm
		help With a light micrometer or a microscope, not from the label.
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this
		card wire_from_mm wire_to_mm
		ranges`)
	count := "\nusual 1 to 6\nmin 1: roughing is pass 1\nmax 6: more passes than this gain nothing that this plan can show"
	calc.Ask(f, &in.pass, "pass: Pass that made the wall\nis 4\nhelp Roughing is 1."+count)
	calc.Ask(f, &in.passes, "passes: Passes in all\nis 4"+count)
	calc.AskList(f, &in.offsets, `offsets: Offsets on the control, in order of the passes
		unless what slot
		ordered
		is 0.231; 0.16; 0.142; 0.134 mm
		help Yours, from the control; the four here are invented. With them the stock of each pass is shown.
		keys length
		min 0 mm: taken without its sign
		max 5 mm: no plan for wire needs more`)
	calc.AskList(f, &in.gaps, `gaps: Gaps that the plan believed, in the same order
		unless what slot
		ordered
		is 42; 20; 13; 9 µm
		keys small
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide`)
}

func (in *form) cutFields(f *calc.Form) {
	calc.Ask(f, &in.length, `length: Length of the cut
		group Rate
		is 20 mm
		keys mm in; in
		usual 1 mm to 1000 mm
		above 0 mm: a cut has a length
		max 100000 mm: no spool lasts this long`)
	calc.AskThickness(f, &in.thickness)
	calc.AskGiven(f, &in.time, &in.timed, `time: Time for this length
		is 160 s
		help Of this pass alone, from the clock and not from the display. Leave it empty where nobody timed it.
		keys s min h
		usual 10 s to 10 h
		above 0 s: a cut takes time
		max 100 d: no cut takes this long`)
	roughness := "\nkeys µm µin; µin\nusual 0.05 µm to 12 µm\nmin 0.006 µm: the standard's smallest band starts here\nmax 80 µm: the standard's largest band ends here"
	calc.AskGiven(f, &in.ra, &in.raGiven, "ra: Roughness Ra of this wall\ngroup Finish"+roughness)
	calc.AskList(f, &in.energies, `energies: Energies of several cuts
		ordered
		help One for each Ra below, in the same order: 0.05; 0.4; 3 mJ. A number in proportion to the energy serves as well, current times on-time for one.
		keys mJ µJ; mJ
		above 0 mJ: a spark has energy
		max 100 J: no spark of a wire has this`).Optional = true
	calc.AskList(f, &in.readings, "readings: Ra read on them\nordered\nhelp In the same order: 0.9; 1.8; 3.6 µm."+roughness).Optional = true
	calc.Ask(f, &in.energy, `energy: Energy asked about
		is 1 mJ
		keys mJ µJ; mJ
		usual 0.001 mJ to 20 mJ
		above 0 mJ: a spark has energy
		max 100 J: no spark of a wire has this`)
	calc.AskChoice(f, &in.scatter, `scatter: Ra scatters
		advanced
		option share: in proportion to itself
		option amount: by the same amount everywhere`)
	calc.AskChoice(f, &in.sure, "confidence: Confidence\nadvanced\noption 95: 95 %\noption 90: 90 %\noption 99: 99 %")
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material")
	calc.AskDielectric(f, &in.dielectric)
	calc.AskRows(f, in.book, "flushings", &in.flushing, "flushing: Flushing")
	calc.AskWord(f, &in.cut, `cut: Name of the cut
		is 1
		help It names the line for the table of cuts: LQ-12. A number alone is written as cut-12.`).Aliases = []string{"number"}
}

func (in *form) answers(f *calc.Form) {
	skimmed := func() bool { return in.what != "slot" }
	lists := func() bool { return in.planned() }
	fitted := func() bool { return in.law != nil }
	timed := func() bool { return in.timed }
	calc.Tell(f, &in.gap, "gap: Gap of this pass, each side\nmain\nunit µm 2\ninch thou 3").Applies = func() bool { return !skimmed() || lists() }
	calc.TellChoice(f, &in.turn, "turn: The offset\nword slot: a slot does not tell\nword more: more offset\nword less: less offset\nword none: no change")
	calc.Tell(f, &in.correction, "correction: Added to the offset of this pass\nmain\nunit µm 2\ninch thou 3\nhelp Half the size error. Below zero it is taken off.").Applies = skimmed
	second := func() bool { return lists() && in.pass > 1 }
	calc.Tell(f, &in.takesNow, "takes-now: This pass took\nunit µm 2\ninch thou 3").Applies = second
	calc.Tell(f, &in.takesThen, "takes-then: With the correction it takes\nunit µm 2\ninch thou 3").Applies = second
	calc.Tell(f, &in.rate, "rate: Area rate of this pass").Applies = timed
	calc.Tell(f, &in.speed, "speed: Speed along the contour").Applies = timed
	calc.Tell(f, &in.exponent, "exponent: Exponent of the energy\ndigits 3").Applies = fitted
	calc.Tell(f, &in.exponentLow, "exponent-low: Its lower limit\ndigits 3").Applies = fitted
	calc.Tell(f, &in.exponentHigh, "exponent-high: Its upper limit\ndigits 3").Applies = fitted
	calc.Tell(f, &in.factor, "ra-at-1: Fitted Ra at 1 mJ\ndigits 4").Applies = fitted
	calc.Tell(f, &in.raAt, "ra-fit: Fitted Ra at the energy asked about\nmain").Applies = fitted
	calc.Tell(f, &in.raLow, "ra-low: Lower limit of the fit").Applies = fitted
	calc.Tell(f, &in.raHigh, "ra-high: Upper limit of the fit").Applies = fitted
	calc.Tell(f, &in.rLow, "reading-low: One more reading, lower limit").Applies = fitted
	calc.Tell(f, &in.rHigh, "reading-high: One more reading, upper limit").Applies = fitted
}

// planned reports whether every pass has an offset and a gap.
func (in *form) planned() bool {
	n := int(in.passes)
	return in.what != "slot" && len(in.offsets) == n && len(in.gaps) == n
}

func (in *form) point(p *calc.Point) {
	if !in.fitted {
		in.fitRa()
		in.fitted = true
	}
	if in.fault != "" {
		p.Impossible(in.fault)
		return
	}
	if in.pass > in.passes {
		p.Impossible("pass " + strconv.Itoa(int(in.pass)) + " cannot be one of " + strconv.Itoa(int(in.passes)))
		return
	}
	if in.timed {
		in.speed = unit.Speed(float64(in.length) / float64(in.time) * 60)
		in.rate = unit.AreaRate(float64(in.speed) * float64(in.thickness))
	}
	if in.what == "slot" {
		in.turn = "slot"
		in.gap = Gap(in.slot, in.wire)
		if in.gap < 0 {
			p.Impossible("the slot is narrower than the wire: one of the two was measured wrongly")
		}
	} else {
		in.correct()
	}
	if p.Stepping() {
		in.work(p)
	}
}

func (in *form) correct() {
	opening := in.what == "opening"
	in.correction = Correction(in.measured, in.size, in.stay, opening)
	in.turn = "none"
	if in.correction > 1e-7 {
		in.turn = "more"
	} else if in.correction < -1e-7 {
		in.turn = "less"
	}
	if !in.planned() {
		return
	}
	k := int(in.pass) - 1
	in.gap = WallGap(in.offsets[k], in.wire, in.measured, in.size, opening)
	now, then, _ := in.stock()
	in.takesNow, in.takesThen = now[k], then[k]
}

// stock is what each pass takes: as it was cut, with this offset alone
// corrected, and the offsets then.
func (in *form) stock() (now, then, offsets []unit.Length) {
	k := int(in.pass) - 1
	gaps := append([]unit.Length{}, in.gaps...)
	gaps[k] = in.gap
	offsets = append([]unit.Length{}, in.offsets...)
	now = Takes(offsets, gaps)
	offsets[k] += in.correction
	return now, Takes(offsets, gaps), offsets
}

// fitRa fits the readings; nothing in it ranges.
func (in *form) fitRa() {
	if len(in.energies) != len(in.readings) {
		in.fault = "there are " + strconv.Itoa(len(in.energies)) + " energies and " + strconv.Itoa(len(in.readings)) + " readings of Ra: one of each is wanted for every cut"
		return
	}
	if len(in.energies) == 0 {
		return
	}
	var e, ra []float64
	for i := range in.energies {
		e, ra = append(e, float64(in.energies[i])), append(ra, float64(in.readings[i]))
	}
	sure, _ := strconv.ParseFloat(in.sure, 64)
	l, err := Fit(e, ra, sure/100, in.scatter == "share")
	switch err {
	case nil:
	case fit.ErrFew:
		in.fault = "roughness against energy: three cuts at least are wanted, here are " + strconv.Itoa(len(e))
		return
	case fit.ErrDependent:
		in.fault = "roughness against energy: the energies are all the same, so nothing is told about energy"
		return
	default:
		in.fault = "roughness against energy: " + err.Error()
		return
	}
	in.law = l
	in.factor, in.exponent = unit.Roughness(l.K), unit.Ratio(l.N)
	in.exponentLow, in.exponentHigh = in.exponent-unit.Ratio(l.Half()), in.exponent+unit.Ratio(l.Half())
	in.raAt = unit.Roughness(l.At(float64(in.energy)))
	low, high := l.Limits(float64(in.energy), false)
	in.raLow, in.raHigh = unit.Roughness(low), unit.Roughness(high)
	low, high = l.Limits(float64(in.energy), true)
	in.rLow, in.rHigh = unit.Roughness(low), unit.Roughness(high)
	if math.IsInf(high, 0) || math.IsNaN(high) {
		in.fault = "roughness against energy: the limits run out of all bounds; give more readings, and energies that differ more"
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	if in.what == "slot" {
		p.Work("gap | gap of pass {pass} | (b - d) / 2 | ({slot} - {wire}) / 2 | kalpakjian-schmid")
	} else {
		target, error := "W₀ - 2 s", "(W - (W₀ - 2 s)) / 2 | ({measured} - ({size} - 2 × {stay})) / 2"
		sign := "+ (W - W₀) / 2 | {1} - {wire} / 2 + ({measured} - {size}) / 2"
		if in.what == "punch" {
			target, error = "W₀ + 2 s", "((W₀ + 2 s) - W) / 2 | (({size} + 2 × {stay}) - {measured}) / 2"
			sign = "+ (W₀ - W) / 2 | {1} - {wire} / 2 + ({size} - {measured}) / 2"
		}
		p.Work("correction | half the size error against " + target + " | " + error + " | geometry")
		if in.planned() {
			k := int(in.pass) - 1
			p.Work("gap | gap of pass {pass}, from its wall | o - d/2 "+sign+" | geometry", calc.Put(in.offsets[k], "mm", 4))
			if k > 0 {
				p.Work("takes-now | stock this pass took | (o₁ - g₁) - (o₂ - g₂) | ({1} - {2}) - ({3} - {gap}) | geometry",
					calc.Put(in.offsets[k-1], "mm", 4), calc.Put(in.gaps[k-1], "mm", 4), calc.Put(in.offsets[k], "mm", 4))
			}
		}
	}
	p.Work("speed | speed | L / t | {length} / {time} | definition\nrate | area rate | L T / t | {length} × {thickness} / {time} | definition")
	if in.law != nil {
		p.Work(`exponent | exponent, by least squares over {1} readings | Ra = k Eⁿ | {2} | nist-strd
			exponent-high | its upper limit | n + t sd | {exponent} + {3} | abramowitz-stegun
			ra-fit | fitted Ra | k Eⁿ | {ra-at-1} × ({energy} / 1 mJ)^{exponent} | jeswani-1978`,
			strconv.Itoa(len(in.readings)), map[bool]string{true: "ln Ra = ln k + n ln E, by reflections", false: "the curve itself, by damped steps"}[in.law.log],
			unit.Number(in.law.Half(), unit.Style{Decimals: 3, Trim: true}))
	}
}
