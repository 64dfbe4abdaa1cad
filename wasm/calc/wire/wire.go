package wire

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// hair is a human hair, 50 to 100 µm. Common practice, no source.
const hair unit.Length = 0.07

// The tapers at which a softer wire is wanted. Common practice, no source.
const halfHardFrom, softFrom unit.Angle = 7, 15

type form struct {
	_                        [0]func() // never compared, so no code for comparing is made
	book                     *book.Book
	machine, kind            string
	wire, other              unit.Length
	strength                 unit.Stress
	strengthGiven, set       bool
	tension                  unit.Force
	shareRough, shareSkim    unit.Percent
	feed                     unit.Speed
	spool                    unit.Mass
	night                    unit.Time
	taper                    unit.Angle
	row                      book.Row
	breaking, rough, skim    unit.Force
	stress                   unit.Stress
	share                    unit.Percent
	metre, hour              unit.Mass
	length                   unit.Length
	life                     unit.Time
	stiffer, section, hairs  unit.Ratio
	lasts, temper, threading string
}

// Calculator declares the wire calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "wire", Title: "Wire", Question: "How hard may I pull this wire, and will the spool last the night?",
		Summary: "Breaking load, tension for roughing and skimming, mass, spool life, temper and stiffness of a wire.",
		Tables:  []string{"wires spool_kg", "wiretypes name uts_*_mpa young_likely_gpa density_likely_kgm3 temper", "machines"},
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
	calc.AskWire(f, in.book, &in.wire).Group = "Wire"
	calc.AskRows(f, in.book, "wiretypes", &in.kind, "kind: What it is made of")
	calc.AskGiven(f, &in.strength, &in.strengthGiven, `strength: Tensile strength
		help Leave it empty to take the table's range; the spool's certificate is better.
		keys MPa ksi; ksi
		usual 250 MPa to 4000 MPa
		min 50 MPa: no wire this weak can be pulled through guides
		max 10000 MPa: no drawn wire is this strong
		ranges`).Fallback = in.table
	calc.Ask(f, &in.shareRough, `share-rough: Share of the breaking load, roughing
		group Tension
		is 20 to 35 %
		help Of the cold breaking load. Heat and craters take the rest.
		keys %
		usual 10 % to 60 %
		above 0 %: a wire without tension does not stand straight
		max 100 %: it breaks
		ranges`)
	calc.Ask(f, &in.shareSkim, `share-skim: Share of the breaking load, skimming
		is 30 to 50 %
		keys %
		usual 20 % to 70 %
		above 0 %: a wire without tension does not stand straight
		max 100 %: it breaks
		ranges`)
	calc.AskGiven(f, &in.tension, &in.set, `tension: Tension that is set
		help Newtons at the wire, by gauge or by your own table, not the number on the control.
		keys N gf lbf; lbf
		usual 0.1 N to 30 N
		above 0 N: a wire without tension does not stand straight
		max 1000 N: no cutting wire holds this
		ranges
		card tension_from_n tension_to_n`)
	calc.Ask(f, &in.feed, `feed: Wire speed
		group Spool
		is 10 m/min
		keys m/min in/min; in/min
		usual 0.1 m/min to 20 m/min
		above 0 m/min: a standing wire breaks
		max 100 m/min: no machine runs wire this fast
		ranges`)
	calc.AskGiven(f, &in.spool, new(bool), `spool: Wire on the spool
		mark -
		help Leave it empty for a spool as it is usually sold. Fine wire comes in hundreds of grams.
		keys kg lb; lb
		usual 0.1 kg to 25 kg
		above 0 kg: an empty spool lasts no time
		max 100 kg: no spool is this heavy
		ranges`).Fallback = func() calc.Fallback {
		v, row := Spool(in.book, in.wire)
		return calc.Fallback{Rows: []book.Row{row}, Range: unit.Exactly(float64(v)), Note: "a spool as it is usually sold: " + calc.Put(v, "kg", 2)}
	}
	calc.Ask(f, &in.night, `night: Hours it must last
		is 14 h
		keys h
		usual 1 h to 72 h
		min 0 h: time does not run back
		max 1000 h: this is six weeks`)
	calc.AskGiven(f, &in.taper, new(bool), `taper: Steepest taper of the job
		advanced
		keys °
		usual 0° to 30°
		min 0°: the angle is taken without its sign
		max 60°: no guides lean this far
		card - taper_flat_deg`)
	calc.Ask(f, &in.other, `other: Compare with a wire of
		is 0.1 mm
		advanced
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this`)
}

func (in *form) table() calc.Fallback {
	r, ok := in.book.Find("wiretypes", in.kind)
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range("uts", "mpa", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.StressKind, v, "MPa")}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.breaking, "breaking: Breaking load, cold\nmain\nrises strength\nunit N 2\ninch lbf 3")
	calc.Tell(f, &in.rough, "tension-rough: Tension for roughing\nrises strength share-rough\nunit N 2\ninch lbf 3")
	calc.Tell(f, &in.skim, "tension-skim: Tension for skimming\nrises strength share-skim\nunit N 2\ninch lbf 3")
	calc.Tell(f, &in.stress, "stress: Stress of the tension set\nrises tension").Applies = func() bool { return in.set }
	calc.Tell(f, &in.share, "share: Share of the breaking load that is set\nrises tension\nfalls strength\nunit % 1").Applies = func() bool { return in.set }
	calc.Tell(f, &in.metre, "mass-metre: Mass of one metre\nunit g 5\ninch oz 6")
	calc.Tell(f, &in.hour, "mass-hour: Wire used in one hour\nunit g 1\nrises feed")
	calc.Tell(f, &in.length, "length: Length on the spool\nunit m 0\nrises spool")
	calc.Tell(f, &in.life, "life: The spool lasts\nmain\nunit h 2\nrises spool\nfalls feed")
	calc.TellChoice(f, &in.lasts, "lasts: Will it last\nword yes: yes\nword no: no")
	calc.TellChoice(f, &in.temper, "temper: Temper for the taper\nword hard: hard\nword half-hard: half-hard\nword soft: soft")
	calc.TellChoice(f, &in.threading, "threads: Threads by machine\nword well: well, it is straight\nword less-well: less well, a soft wire curls")
	calc.Tell(f, &in.stiffer, "stiffer: Times as stiff as the other wire, same make\ndigits 2")
	calc.Tell(f, &in.section, "section: Times the section of the other wire\ndigits 3")
	calc.Tell(f, &in.hairs, "hairs: Human hairs side by side, of 70 µm\ndigits 1")
}

func (in *form) point(p *calc.Point) {
	if in.row.Table == "" {
		in.row, _ = in.book.Find("wiretypes", in.kind)
	}
	in.breaking = Breaking(in.strength, in.wire)
	in.rough = in.breaking * unit.Force(in.shareRough) / 100
	in.skim = in.breaking * unit.Force(in.shareSkim) / 100
	in.stress = Pull(in.tension, in.wire)
	in.share = unit.Percent(in.tension / in.breaking * 100)
	density := unit.Density(in.row.Num("density_likely_kgm3") / 1000)
	in.metre = PerMetre(density, in.wire)
	in.hour = in.metre * unit.Mass(in.feed) / 1000 * 60
	in.length = unit.Length(in.spool / in.metre * 1000)
	in.life = Lasts(in.spool, in.metre, in.feed)
	in.lasts = "no"
	if in.life >= in.night {
		in.lasts = "yes"
	}
	in.temper = "hard"
	if in.taper > softFrom {
		in.temper = "soft"
	} else if in.taper > halfHardFrom {
		in.temper = "half-hard"
	}
	in.threading = "less-well"
	if in.row.Cell("temper") == "hard" {
		in.threading = "well"
	}
	e := unit.Stress(in.row.Num("young_likely_gpa") * 1000)
	in.stiffer = Stiffer(e, in.wire, e, in.other)
	in.section = unit.Ratio(Section(in.wire) / Section(in.other))
	in.hairs = unit.Ratio(in.wire / hair)
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	density := unit.Density(in.row.Num("density_likely_kgm3") / 1000)
	p.Work(`breaking | breaking load | F = S π d² / 4 | {strength} × π × ({wire})² / 4 | mechanics
		tension-rough | tension for roughing | share × F | {share-rough} × {breaking} | mechanics
		tension-skim | tension for skimming | share × F | {share-skim} × {breaking} | mechanics
		stress | stress of the tension set | T / (π d² / 4) | {tension} / (π × ({wire})² / 4) | mechanics
		mass-metre | mass of one metre | ρ π d² / 4 × 1 m | {1} × π × ({wire})² / 4 × 1 m | definition
		life | the spool lasts | spool / (mass of one metre × wire speed) | {spool:kg 3} / ({mass-metre} × {feed:m/min 2}) | definition
		stiffer | stiffness against the other wire | (d / other)⁴ | ({wire} / {other})⁴ | mechanics`, calc.Put(density, "g/cm³", 3))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.strengthGiven
	name := calc.WireName(in.wire, r.System)
	last := r.Pick("lasts")
	switch {
	case len(last.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the wire runs slowly: {life} of wire for {night:h 1}")
	case last.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes, the spool lasts {life}")
	default:
		a.Verdict, a.Headline = calc.No, r.Text("No, the spool lasts {life} only")
	}
	a.Lead = r.Text("{1} breaks at {breaking}, cold. Pull {tension-rough} for roughing and {tension-skim} for skimming, by gauge or by your own table.", name)
	if in.set {
		a.Lead += r.Text(" The tension set is {share} of the breaking load.")
		if r.Of("share").High > 60 {
			a.Verdict, a.Headline = calc.No, r.Text("No, {share} of the breaking load holds only a cold wire")
			a.Caution("CAUTION", "More than 60 % of the breaking load holds only a cold wire. A broken wire whips: keep the doors and guards shut as the machine's manual says.")
		}
	}
	a.Used(in.row)
	a.Note("The number on a control is seldom newtons. Set the tension by a gauge, or by the table you made with one.")
	a.Note(r.Text("For a taper of {taper} take {temper} wire: hard up to 7°, half-hard to 15°, soft above. Common practice, no source."))
	if in.temper != "hard" && in.row.Cell("temper") == "hard" {
		a.Note("This wire is hard. It leaves a guide straight and bends over a length of its own, so the angle comes out wrong, and it breaks sooner there.")
	}
	a.Note(r.Text("It threads {threads}. {1} is {hairs} human hairs wide, has {section} times the section of a wire of {other} and is {stiffer} times as stiff.", name))
	a.Note("A published run that held steady pulled 22 N on 0.30 mm brass, 311 MPa or a third of its strength, while cutting 80 mm of steel.")
	a.Caution("CAUTION", "Spent wire is springy and its ends cut. Gloves and eye protection; no hand near a running spool.")
	a.Cites("sato-2013; table 1, seen; a steady tension @ A published run that held steady")
	in.draw(r, a)
}

// draw shows the sections of the wire, the other wire and a hair, one scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("Sections, one scale", r.Text("Three round sections side by side: the wire, {wire}; the other wire, {other}; a human hair, 0.07 mm. Below them the tensions for roughing and skimming on a scale that ends at the breaking load."), 360, 340, true)
	k := 96 / float64(max(in.wire, in.other, hair))
	x := 70.0
	for i, w := range [...]unit.Length{in.wire, in.other, hair} {
		rad := float64(w) / 2 * k
		kind := figure.Wire
		if i > 0 {
			kind = figure.Thin
		}
		d.Circle(kind, x, 70, rad, i == 0)
		d.Cross(x, 70, rad, 6)
		d.Label(x, 146, [...]string{"wire", "other", "hair"}[i], 0)
		d.Label(x, 166, calc.Put(w, "mm", 3), 0)
		x += 110
	}
	top := figure.Nice(r.Of("breaking").High)
	s := figure.NewScale(d, 0, top, false, 216)
	for _, row := range [...]struct{ name, of string }{{"roughing", "tension-rough"}, {"skimming", "tension-skim"}} {
		v := r.Of(row.of)
		s.Row(row.name, v.Low, v.Likely, v.High, 1)
	}
	b := r.Of("breaking")
	s.D.H += 44
	s.Row("breaks", b.Low, b.Likely, b.High, 2)
	s.D.H += 12
	s.Close("N", []float64{0, top / 2, top}, []string{"0", unit.Fixed(top/2, 2), unit.Fixed(top, 2)})
	a.Figure = d
}
