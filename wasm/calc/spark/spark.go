package spark

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                              [0]func() // never compared, so no code for comparing is made
	book                           *book.Book
	shape, polarity                string
	voltage, breakdown, supply     unit.Voltage
	current                        unit.Current
	on, off                        unit.Time
	capacitance                    unit.Capacitance
	resistor                       unit.Resistance
	typed                          unit.Energy
	rate                           unit.Frequency
	rateGiven                      bool
	anode, cathode                 unit.Percent
	anodeGiven, cathodeGiven       bool
	factor, ra                     unit.Roughness
	factorGiven, powerGiven, asked bool
	exponent                       unit.Ratio
	heat                           unit.Energy
	bowl                           unit.Ratio

	energy, work, wire, rest, wanted unit.Energy
	limit                            unit.Frequency
	power                            unit.Power
	period, wait                     unit.Time
	mean                             unit.Current
	best                             unit.Percent
	melt                             unit.Volume
	crater                           unit.Length
	face                             unit.Roughness
	belongs                          string
}

// Calculator declares the spark calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "spark", Title: "The spark's energy and its crater", Question: "How much energy has one spark, and can it leave this roughness?",
		Summary: "Energy of one pulse, mean power and period, the split between work and wire, the crater's size, and the roughness that belongs to the energy.",
		Tables:  []string{"shares pole share_*_pct", "sparklaws value_*_n0"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.split(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.shape, `shape: Pulse
		group Pulse
		option triangle: current rises and falls, a triangle
		option flat: current is constant
		option rc: a capacitor discharges
		option known: its energy is known`)
	calc.Ask(f, &in.voltage, `voltage: Voltage while it sparks
		if shape triangle flat
		is 20 to 30 V
		help Not the open voltage: once the spark burns, the voltage falls and hardly depends on the current.
		keys V
		usual 15 V to 40 V
		above 0 V: a spark has a voltage
		max 400 V: this is an open voltage
		ranges`)
	calc.Ask(f, &in.current, `current: Peak current
		mark -
		if shape triangle flat
		is 400 A
		keys A
		usual 1 A to 1000 A
		above 0 A: a spark carries current
		max 5000 A: no wire machine gives this
		ranges`)
	calc.Ask(f, &in.on, `on: Time the current flows
		mark -
		if shape triangle flat
		is 1 µs
		help For a triangle its whole base.
		keys µs
		usual 0.05 µs to 100 µs
		above 0 µs: a pulse lasts
		max 10000 µs: no pulse for cutting lasts this long
		ranges`)
	calc.Ask(f, &in.off, `off: Pause between pulses
		if shape triangle flat
		is 8 µs
		keys µs
		usual 0.5 µs to 200 µs
		min 0 µs: a pause is not negative
		max 100000 µs: this is no cutting`)
	calc.Ask(f, &in.capacitance, `capacitance: Capacitance
		mark -
		if shape rc
		is 10 nF
		help With that of cables and table.
		keys nF pF µF
		usual 0.01 nF to 1000 nF
		above 0 nF: something must be charged
		max 1000000 nF: no circuit for cutting has this`)
	calc.Ask(f, &in.breakdown, `breakdown: Voltage when it sparks
		if shape rc
		is 72 V
		keys V
		usual 10 V to 300 V
		above 0 V: nothing would be stored
		max 1000 V: no machine charges this high
		ranges`)
	calc.Ask(f, &in.supply, `supply: Voltage of the supply
		if shape rc
		is 100 V
		keys V
		usual 20 V to 400 V
		above 0 V: nothing would be charged
		max 10000 V: no machine has this`)
	calc.Ask(f, &in.resistor, `resistor: Charging resistor
		if shape rc
		is 100 Ω
		keys Ω kΩ
		usual 1 Ω to 10000 Ω
		above 0 Ω: a charging circuit has resistance
		max 10000000 Ω: it would hardly charge`)
	calc.Ask(f, &in.typed, `energy: Energy of one spark
		mark -
		if shape known
		is 1 mJ
		keys mJ µJ J
		usual 0.001 mJ to 20 mJ
		above 0 mJ: a spark has energy
		max 100000 mJ: this is the energy of a train of pulses
		ranges`)
	calc.AskGiven(f, &in.rate, &in.rateGiven, `rate: Sparks a second, counted
		help Leave it empty to see the most that pulse and pause allow.
		keys kHz Hz MHz
		usual 0.1 kHz to 1000 kHz
		above 0 kHz: something must spark
		max 100000 kHz: no generator does this`)
}

// split declares where the energy goes and what is asked of the face.
func (in *form) split(f *calc.Form) {
	calc.AskChoice(f, &in.polarity, `polarity: Polarity
		group Where the energy goes
		option minus: wire −, work +
		option plus: wire +, work −`)
	calc.AskGiven(f, &in.anode, &in.anodeGiven, `anode: Share into the positive side
		help Leave it empty to take the published span. It depends on pulse length, metals and fluid.
		keys %
		usual 5 % to 50 %
		min 0 %: a share is not negative
		max 100 %: it cannot take more than all
		ranges`).Fallback = func() calc.Fallback { return in.share("anode") }
	calc.AskGiven(f, &in.cathode, &in.cathodeGiven, `cathode: Share into the negative side
		keys %
		usual 5 % to 45 %
		min 0 %: a share is not negative
		max 100 %: it cannot take more than all
		ranges`).Fallback = func() calc.Fallback { return in.share("cathode") }
	calc.Ask(f, &in.heat, `heat: Heat that melts 1 mm³
		advanced
		is 9.69 J
		help Iron, warmed from room temperature and melted: 9.69 J.
		keys J mJ
		usual 2 J to 60 J
		above 0 J: melting takes heat
		max 1000 J: no metal takes this`)
	calc.Ask(f, &in.bowl, `bowl: Crater's depth over its diameter
		advanced
		is 0.065
		help 0.05 to 0.08; weak evidence, no place to cite. 0.5 is a half sphere.
		usual 0.03 to 0.5
		min 0.01: flatter is no crater
		max 0.5: deeper than a half sphere is a hole`)
	calc.AskGiven(f, &in.ra, &in.asked, `ra: Roughness asked
		group Face
		help Leave it empty to see what the energy leaves.
		keys µm µin; µin
		usual 0.05 µm to 12 µm
		min 0.006 µm: the standard's smallest band starts here
		max 80 µm: the standard's largest band ends here
		ranges`)
	calc.AskGiven(f, &in.factor, &in.factorGiven, `factor: Ra of a spark of 1 mJ
		advanced
		help From a face of your own: its Ra, brought to 1 mJ by the exponent.
		keys µm µin; µin
		usual 1 µm to 5 µm
		above 0 µm: a spark leaves a mark
		max 50 µm: no metal is marked this deep
		ranges`).Fallback = func() calc.Fallback { return in.law("ra-factor", unit.RoughnessKind, "µm") }
	calc.AskGiven(f, &in.exponent, &in.powerGiven, `exponent: Exponent of the energy
		advanced
		usual 0.2 to 0.5
		min 0.1: roughness follows the energy
		max 1: roughness goes more slowly than the energy
		ranges`).Fallback = func() calc.Fallback { return in.law("ra-exponent", unit.RatioKind, "") }
}

// share is the span of the published shares of a pole; its middle is ours.
func (in *form) share(pole string) calc.Fallback {
	fb := calc.Fallback{Range: unit.Range{Low: 100}}
	for _, r := range in.book.Table("shares").Rows {
		if r.Cell("pole") == pole {
			fb.Range.Low = min(fb.Range.Low, r.Num("share_low_pct"))
			fb.Range.High = max(fb.Range.High, r.Num("share_high_pct"))
			fb.Rows = append(fb.Rows, r)
		}
	}
	fb.Range.Likely = (fb.Range.Low + fb.Range.High) / 2
	fb.Note = calc.FromTable(unit.PercentKind, fb.Range, "%") + ", from memory; no study with a wire in water"
	return fb
}

func (in *form) law(name string, k unit.Kind, symbol string) calc.Fallback {
	r, ok := in.book.Find("sparklaws", name)
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range("value", "n0", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(k, v, symbol) + ", " + r.Provenance}
}

func (in *form) pulsed() bool { return in.shape == "triangle" || in.shape == "flat" }

func (in *form) answers(f *calc.Form) {
	rated := func() bool { return in.rate > 0 }
	asked := func() bool { return in.asked }
	rc := func() bool { return in.shape == "rc" }
	calc.TellChoice(f, &in.belongs, "belongs: The energy belongs to the roughness asked\nword yes: yes, within 15 %\nword coarser: no, it leaves a rougher face\nword finer: no, it leaves a finer face\nword not-asked: no roughness was asked")
	calc.Tell(f, &in.energy, "energy: Energy of one spark\nmain\nrises voltage current on breakdown energy")
	calc.Tell(f, &in.face, "roughness: Ra that belongs to it\nmain\nunit µm 2\ninch µin 0\nrises voltage current on breakdown energy factor")
	calc.Tell(f, &in.wanted, "energy-for: Energy that belongs to the roughness asked\nunit µJ 1\nrises ra\nfalls factor").Applies = asked
	calc.Tell(f, &in.limit, "rate-most: Sparks a second, at most\nunit kHz 2\nfalls on breakdown").Applies = func() bool { return in.shape != "known" }
	calc.Tell(f, &in.power, "power: Mean power\nmain\nunit W 1").Applies = rated
	calc.Tell(f, &in.period, "period: Mean time from spark to spark\nunit µs 2\nrises on breakdown").Applies = rated
	calc.Tell(f, &in.wait, "wait: Mean wait before the spark\nunit µs 2\nfalls on").Applies = func() bool { return in.rateGiven && in.pulsed() }
	calc.Tell(f, &in.mean, "mean-current: Mean current\nunit A 2").Applies = func() bool { return in.rate > 0 && in.shape != "known" }
	calc.Tell(f, &in.best, "best-share: Power over the best this circuit can give\nunit % 1").Applies = rc
	calc.Tell(f, &in.work, "into-work: Energy into the work\nunit µJ 1\nrises voltage current on breakdown energy")
	calc.Tell(f, &in.wire, "into-wire: Energy into the wire\nunit µJ 1\nrises voltage current on breakdown energy")
	calc.Tell(f, &in.rest, "into-rest: Energy into fluid and plasma\nunit µJ 1\nrises voltage current on breakdown energy\nfalls anode cathode")
	calc.Tell(f, &in.melt, "melt: Metal it can melt, at most\nunit µm³ 0\ninch µm³ 0\nrises voltage current on breakdown energy")
	calc.Tell(f, &in.crater, "crater: Crater of that volume, diameter\nunit µm 1\ninch thou 2\nrises voltage current on breakdown energy")
}

func (in *form) point(p *calc.Point) {
	in.pulse(p)
	in.work, in.wire = in.energy*unit.Energy(in.anode)/100, in.energy*unit.Energy(in.cathode)/100
	in.rest = in.energy - in.work - in.wire
	if in.rest < -1e-9*in.energy {
		p.Impossible("both sides together take more than all of the energy")
	}
	if in.polarity == "plus" {
		in.work, in.wire = in.wire, in.work
	}
	in.melt = Melt(in.work, in.heat)
	in.crater = Crater(in.melt, in.bowl)
	in.face = Roughness(in.energy, in.factor, in.exponent)
	in.wanted = EnergyFor(in.ra, in.factor, in.exponent)
	const near = 1.15 // repeated settings differ by as much
	switch {
	case !in.asked:
		in.belongs = "not-asked"
	case in.face > in.ra*near:
		in.belongs = "coarser"
	case in.face < in.ra/near:
		in.belongs = "finer"
	default:
		in.belongs = "yes"
	}
	if p.Stepping() {
		in.steps(p)
	}
}

// pulse works out energy and times of the chosen pulse.
func (in *form) pulse(p *calc.Point) {
	var charge float64 // of one spark, C
	in.limit = unit.Frequency(1 / float64(in.on+in.off) / 1000)
	switch in.shape {
	case "flat":
		in.energy, charge = Flat(in.voltage, in.current, in.on), float64(in.current)*float64(in.on)
	case "triangle":
		in.energy, charge = Triangle(in.voltage, in.current, in.on), float64(in.current)*float64(in.on)/2
	case "known":
		in.energy, in.limit = in.typed, 0
	default:
		in.energy, charge = Stored(in.capacitance, in.breakdown), float64(in.capacitance)*float64(in.breakdown)*1e-9
		if in.breakdown >= in.supply*(1-1e-9) {
			p.Impossible("a capacitor is not charged up to its supply: the voltage when it sparks must be below it")
			return
		}
		in.limit = unit.Frequency(1e6 / (float64(in.resistor) * float64(in.capacitance) * Constants(in.breakdown, in.supply)))
		in.best = BestShare(in.breakdown, in.supply)
	}
	if !in.rateGiven {
		in.rate = in.limit
	} else if in.limit > 0 && in.rate > in.limit*(1+1e-9) {
		p.Impossible("so many sparks a second do not fit: each takes its pulse and pause, or its charging")
	}
	in.power = Power(in.energy, in.rate)
	in.period = unit.Time(0.001 / float64(in.rate))
	in.wait = in.period - in.on - in.off
	in.mean = unit.Current(charge * float64(in.rate) * 1000)
}

func (in *form) steps(p *calc.Point) {
	switch in.shape {
	case "flat":
		p.Work(`energy | energy of one spark | U I t | {voltage} × {current} × {on:µs 3} | definition`)
	case "triangle":
		p.Work(`energy | energy of one spark | U I t / 2 | {voltage} × {current} × {on:µs 3} / 2 | definition`)
	case "rc":
		p.Work(`energy | energy of one spark | C V² / 2 | {capacitance} × ({breakdown})² / 2 | definition
			rate-most | sparks a second, at most | 1 / (-R C ln(1 - V/V0)) | 1 / (-{resistor} × {capacitance} × ln(1 - {breakdown} / {supply})) | pandey-shan
			best-share | power over the best | (V/V0)² / x over its greatest, x = -ln(1 - V/V0) | {breakdown}, {supply} | pandey-shan`)
	}
	if in.pulsed() {
		p.Work(`rate-most | sparks a second, at most | 1 / (t + pause) | 1 / ({on:µs 3} + {off:µs 3}) | definition
			wait | mean wait before the spark | 1 / f - t - pause | {period} - {on:µs 3} - {off:µs 3} | definition`)
	}
	share := "{cathode}"
	if in.polarity == "minus" {
		share = "{anode}"
	}
	p.Work(`power | mean power | E f | {energy} × {1} | definition
		into-work | energy into the work | share × E | `+share+` × {energy} | definition
		melt | metal it can melt, at most | energy into the work / heat of 1 mm³ | {into-work} / {heat:J 3} | definition
		crater | diameter of a bowl of that volume | cube root of 6 V / (π k (3/4 + k²)) | k = {bowl} | geometry
		roughness | Ra that belongs to it, K by common practice | K (E / 1 mJ)^n | {factor} × {energy}^{exponent} | mcgeough-1988
		energy-for | energy that belongs to the Ra asked | (Ra / K)^(1/n) mJ | ({ra} / {factor})^(1/{exponent}) | mcgeough-1988`,
		calc.Put(in.rate, "kHz", 3))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.factorGiven || !in.powerGiven
	a.Headline = r.Text("{energy} in one spark; Ra {roughness} belongs to it")
	if in.asked {
		in.judge(r, a)
	}
	if in.rate > 0 {
		a.Lead = r.Text("Mean power {power}, a spark every {period}. ")
		if !in.rateGiven {
			a.Lead += "That is the most: every wait before a spark lowers it. Type the counted sparks if your machine shows them. "
		}
	}
	if in.anodeGiven && in.cathodeGiven {
		a.Lead += r.Text("Of one spark {into-work} go into the work and {into-wire} into the wire.")
	}
	a.Note("Use the roughness between two faces of one machine, metal and fluid. For a single face it only finds claims that cannot be true. Below the floor of your machine the face stops following.")
	a.Note("Published shares come from sunk electrodes in oil and disagree by a factor of five. So the split is yours to type; a wire in water was not measured. Left empty, it is that whole span, and work, wire, melt and crater are an order of size.")
	if in.pulsed() && in.on > 5e-6 {
		a.Note("Pulses above about 5 µs are those of sunk electrodes and reciprocating wires. Somewhere at tens of µs the negative side begins to lose more than the positive: common practice.")
	}
	if in.polarity == "plus" {
		a.Note("With wire + the wire wears more and the rate drops: common practice. It is used for gentle last passes. Never write “straight” or “normal” polarity alone: write the signs.")
	}
	if in.shape == "rc" {
		a.Note(r.Text("An RC circuit gives its best power when it sparks at 0.715 of the supply. Here it gives {best-share} of that, the time of the spark neglected. Cables and table add to a small capacitor and set a least energy."))
	}
	a.Note(r.Text("Most of the melt freezes again on the wall, and heat also runs off into the metal. So {crater} is the upper end for a crater, and its depth is not told: depths over diameter of 0.05 to 0.08 are weak evidence."))
	a.Caution("WARNING", "Pulses are measured only by a person licensed under the local code: open gap and leads carry dangerous voltage.")
	a.Cites(`mcgeough-1988; place not seen, from memory; exponents 0.3 to 0.45
		maradia-2015; abstract; the shares depend on metals and change during the pulse @ Published shares come from sunk electrodes`)
	in.draw(r, a)
}

// judge says whether the energy can belong to the roughness asked.
func (in *form) judge(r *calc.Result, a *calc.Answer) {
	p := r.Pick("belongs")
	want := r.Text("Ra {ra}")
	switch {
	case p.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: {energy} can leave ")+want
	case len(p.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if factor and exponent stand at one end: {energy} likely leaves Ra {roughness.likely}, not ")+want
	case p.Likely.Value == "coarser":
		a.Verdict, a.Headline = calc.No, r.Text("No, by the general rule: {energy} is too much for ")+want
	default:
		a.Verdict, a.Headline = calc.No, r.Text("No, by the general rule: {energy} is too little to leave ")+want
	}
	if a.Verdict == calc.No {
		a.Note(r.Text("To {1} belong {energy-for}. Doubt one of the two numbers. Was the energy that of a train of pulses, or of a whole second? Was Ra read after more passes, or after a polish?", want))
	}
}

// draw shows the current of one pulse and its pause.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("Current over time, not to scale", r.Text("The current of one spark over time and the pause after it. One spark holds {energy}; Ra {roughness} belongs to it."), 360, 250, false)
	const y, top = 170.0, 70.0
	pt := func(x, y float64) figure.Point { return figure.Point{X: x, Y: y} }
	d.Line(figure.Thin, 30, y, 340, y)
	d.Line(figure.Thin, 30, y, 30, 40)
	for _, x := range [...]float64{40, 230} {
		pts := []figure.Point{pt(x, y), pt(x+40, top), pt(x+80, y)}
		if !in.pulsed() {
			pts = []figure.Point{pt(x, y), pt(x+10, top), pt(x+24, 130), pt(x+44, 156), pt(x+80, y)}
		} else if in.shape == "flat" {
			pts = []figure.Point{pt(x, y), pt(x, top), pt(x+80, top), pt(x+80, y)}
		}
		d.Poly(figure.Accent, in.pulsed(), pts...)
	}
	d.Label(30, 28, "current", -1)
	d.Label(340, 192, "time", 1)
	if in.pulsed() {
		d.Label(80, 58, r.Text("{current.likely}"), 0)
		d.Label(80, 192, r.Text("{on.likely:µs 3}"), 0)
		d.Label(175, 162, r.Text("{off:µs 2}"), 0)
	}
	d.Label(20, 218, r.Text("E {energy.likely}"), -1)
	d.Label(20, 240, r.Text("Ra {roughness.likely}"), -1)
	a.Figure = d
}
