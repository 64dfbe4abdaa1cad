// Package floor answers how fine a face can get: the roughness that no number of
// passes passes below, by wire, height, fluid and the charge that cannot be switched
// off. It may import book, calc, figure, process and unit.
package floor

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                      [0]func() // never compared, so no code for comparing is made
	book                                   *book.Book
	machine, material, dielectric          string
	wire, thickness                        unit.Length
	asked, floor                           unit.Roughness
	askedGiven, voltageGiven, chargedGiven bool
	voltage                                unit.Voltage
	stored, wall, all                      unit.Capacitance
	energy                                 unit.Energy
	gap                                    unit.Length
	passes                                 unit.Count
	reaches                                string
}

// Calculator declares the floor calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "floor", Title: "Finest face", Question: "How fine can it get?",
		Summary: "The roughness that no number of passes passes below, by wire, height, fluid and the charge that cannot be switched off, drawn over the height in water and in oil.",
		Tables:  []string{"law", "materials name", "machines", "wires"},
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
	calc.AskWire(f, in.book, &in.wire).Group = "Cut"
	calc.AskThickness(f, &in.thickness)
	calc.AskDielectric(f, &in.dielectric)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -")
	calc.AskGiven(f, &in.asked, &in.askedGiven, `finish: Finish on the print, Ra
		mark Ra
		help Leave it empty to see the floor alone.
		keys µm µin; µin
		usual 0.05 µm to 6 µm
		min 0.006 µm: no face is finer
		max 80 µm: no cut face is rougher`)
	calc.AskGiven(f, &in.voltage, &in.voltageGiven, `voltage: Voltage at the gap when the last skim strikes
		group The charge that stays
		advanced
		help Leave it empty to take the law's. An upper bound: below some voltage nothing strikes.
		keys V
		usual 40 V to 120 V
		above 0 V: nothing would strike
		max 400 V: no last skim strikes at this
		ranges`).Fallback = func() calc.Fallback { return in.constant(0, "V", 1) }
	calc.AskGiven(f, &in.stored, &in.chargedGiven, `stored: Capacitance of machine and leads that cannot be switched off
		advanced
		help Leave it empty to take the law's, or what the finest face of the machine's card tells.
		keys pF nF
		usual 5 pF to 1000 pF
		above 0 pF: a wire and its leads hold something
		max 100000 pF: this is a capacitor that can be taken out
		ranges`).Fallback = func() calc.Fallback { return in.constant(1, "pF", 0.001) }
}

// base is what the law says of the cut before anything typed.
func (in *form) base() *calc.Plan {
	return calc.LawOf(in.book).Plan(book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}, calc.MostPasses)
}

// plan is what the law says with what was typed.
func (in *form) plan(r *calc.Result) *calc.Plan {
	p := in.base()
	if !p.OK {
		return p
	}
	volts, store := p.Setup.RestConstants()
	if in.voltageGiven {
		p.Take(volts, or(r.In("voltage"), float64(in.voltage)))
	}
	if in.chargedGiven {
		v := or(r.In("stored"), float64(in.stored))
		p.Setup.Stored = 0
		p.Take(store, unit.Range{Low: v.Low * 1000, Likely: v.Likely * 1000, High: v.High * 1000})
	}
	return p
}

// or is a range, or the one value where the input had none.
func or(r unit.Range, v float64) unit.Range {
	if r.Likely == 0 {
		return unit.Exactly(v)
	}
	return r
}

// constant is one of the two constants of the charge, with what the card tells.
func (in *form) constant(which int, name string, scale float64) calc.Fallback {
	p := in.base()
	if !p.OK {
		return calc.Fallback{Wanted: p.Why}
	}
	volts, store := p.Setup.RestConstants()
	c := [...]process.Constant{volts, store}[which]
	v := p.Constant(c)
	note := "the law's: " + unit.Number(v.Low, unit.Style{Decimals: 0}) + " to " + unit.Number(v.High, unit.Style{Decimals: 0}) + " " + name
	if c == store && p.Setup.Stored > 0 {
		v, note = unit.Exactly(p.Setup.Stored), "from the finest face on the machine's card: "+unit.Number(p.Setup.Stored, unit.Style{Decimals: 1, Trim: true})+" "+name
	}
	return calc.Fallback{Range: unit.Exactly(v.Likely * scale), Note: note}
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.reaches, "reaches: The print's finish can be had\nword yes: yes\nword no: no\nword perhaps: perhaps\nword not-asked: no finish was given\ngiven")
	calc.Tell(f, &in.floor, "floor: Finest Ra\nmain\ngiven\ndigits 3")
	calc.Tell(f, &in.passes, "passes: Passes worth cutting\nmain\ngiven\ndigits 0")
	calc.Tell(f, &in.gap, "gap: Gap of that last spark, each side\nunit µm 1\ninch thou 2\ngiven")
	calc.Tell(f, &in.wall, "wall: Capacitance of wire and wall\nunit pF 1\ngiven")
	calc.Tell(f, &in.all, "all: With that of machine and leads\nunit pF 1\ngiven")
	calc.Tell(f, &in.energy, "energy: Energy of that last spark\nunit µJ 3\ngiven")
}

// point leaves everything to say: the law gives ranges of its own.
func (in *form) point(p *calc.Point) {
	plan := in.base()
	if !plan.OK {
		return
	}
	rest := plan.Rest()
	if in.voltageGiven {
		rest.Volts = float64(in.voltage)
	}
	if in.chargedGiven {
		rest.Stored = float64(in.stored) * 1000
	}
	if p.Stepping() {
		p.Work(`wall = {1} pF | capacitance of wire and wall, a cylinder before a plane | 2π ε₀ ε_r h / arccosh(1 + 2 g/d) | h {thickness:mm 3}, g {2} µm, d {wire:mm 3} | electrostatics
			energy = {3} µJ | energy of the last spark | ½ (C_m + C_g) V² | ½ × ({4} + {1}) pF × ({5} V)² | Ohm's law`,
			unit.Fixed(rest.Wall, 1), unit.Fixed(float64(rest.Gap)*1000, 1), unit.Fixed((rest.Stored+rest.Wall)*rest.Volts*rest.Volts/2*1e-6, 3), unit.Fixed(rest.Stored, 1), unit.Fixed(rest.Volts, 0))
	}
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	p := in.plan(r)
	if !p.OK {
		return
	}
	a.Used(p.Rows...)
	s := r.System
	floor := p.Floor()
	r.Give(a, "floor", floor)
	in.charge(r, a)
	n, why := p.Useful(calc.MostPasses)
	fb := p.ToldRa(n)
	a.General = !fb.Measured && !fb.Taught
	a.Used(fb.Rows...)
	ra := "Ra " + calc.SayRange(unit.RoughnessKind, floor, s)
	in.judge(r, a, floor, ra)
	worth := "After pass " + strconv.Itoa(n) + " another gains less than 8 %"
	switch why {
	case process.TakesNothing:
		worth = "After pass " + strconv.Itoa(n) + " another would take less than the machine repeats"
	case process.GoesOn:
		worth = "Even pass " + strconv.Itoa(n) + " still gains"
	}
	a.Lead = r.Text("The last spark has {energy}, for {all} stay charged at the gap. ") + worth + "."
	a.Note("It rests on " + in.rests(p, n) + ". The charge is an upper bound, a remainder of the setting stays: prove it on a test cut.")
	if in.dielectric == "water" {
		a.Note("Water holds forty times the charge of oil between wire and wall, and the more the taller the part. So a tall part cannot be finished as finely as a flat one, above all in water.")
	} else {
		a.Note("Oil holds little charge between wire and wall, its gap is smaller, and nothing is dissolved. The permittivity explains a part of its finer face, not all of it.")
	}
	a.Figure = in.draw(p, floor, s)
}

// charge gives what stays charged, over the ranges of what was typed.
func (in *form) charge(r *calc.Result, a *calc.Answer) {
	volts, stored := or(r.In("voltage"), float64(in.voltage)), or(r.In("stored"), float64(in.stored))
	fewest, mostUseful := calc.MostPasses, 1
	at := func(v, c float64) process.Rest {
		p := in.base()
		of, store := p.Setup.RestConstants()
		if in.voltageGiven {
			p.Take(of, unit.Exactly(v))
		}
		if in.chargedGiven {
			p.Setup.Stored = 0
			p.Take(store, unit.Exactly(c*1000))
		}
		n, _ := p.Useful(calc.MostPasses)
		fewest, mostUseful = min(fewest, n), max(mostUseful, n)
		return p.Rest()
	}
	likely := at(volts.Likely, stored.Likely)
	useful := float64(fewest)
	ends := []process.Rest{likely}
	if !volts.IsPoint() || !stored.IsPoint() {
		ends = []process.Rest{at(volts.Low, stored.Low), at(volts.Low, stored.High), at(volts.High, stored.Low), at(volts.High, stored.High)}
	}
	r.Give(a, "passes", unit.Range{Low: float64(fewest), Likely: useful, High: float64(mostUseful)})
	for _, q := range [...]struct {
		name string
		of   func(process.Rest) float64
	}{
		{"gap", func(x process.Rest) float64 { return float64(x.Gap) }},
		{"wall", func(x process.Rest) float64 { return x.Wall / 1000 }},
		{"all", func(x process.Rest) float64 { return (x.Wall + x.Stored) / 1000 }},
		{"energy", func(x process.Rest) float64 { return x.Energy }},
	} {
		v := unit.Exactly(q.of(likely))
		for _, e := range ends {
			v.Low, v.High = min(v.Low, q.of(e)), max(v.High, q.of(e))
		}
		r.Give(a, q.name, v)
	}
}

func (in *form) rests(p *calc.Plan, n int) string {
	if in.voltageGiven || in.chargedGiven {
		return "the law of a pass with the charge that you typed"
	}
	return "the law of a pass, " + p.Basis(n)
}

// judge holds the print's finish against the floor.
func (in *form) judge(r *calc.Result, a *calc.Answer, floor unit.Range, ra string) {
	a.Headline = "No finer than " + ra
	reaches := "not-asked"
	if in.askedGiven {
		asked := "Ra " + calc.Say(in.asked, r.System)
		switch v := float64(in.asked); {
		case v >= floor.High:
			reaches, a.Verdict, a.Headline = "yes", calc.Yes, "Yes, "+asked+" can be had: the floor is "+ra
		case v < floor.Low:
			reaches, a.Verdict, a.Headline = "no", calc.No, "No, "+asked+" is below the floor: "+ra
		default:
			reaches, a.Verdict, a.Headline = "perhaps", calc.OnlyIf, "Only if this machine's charge is small: the floor is "+ra
		}
	}
	r.GiveChoice(a, "reaches", reaches, "")
}

// draw sets the floor over the height in water and in oil, with the reader's point.
func (in *form) draw(p *calc.Plan, floor unit.Range, s unit.System) *figure.Drawing {
	d := figure.New("The finest Ra over the height, in water and in oil",
		"Both axes in steps of ten. In water the finest Ra rises with the height of the part; in oil it stays lower and rises less. At "+calc.Say(in.thickness, s)+" in "+in.dielectric+" it is "+calc.SayRange(unit.RoughnessKind, floor, s)+".", 360, 300, false)
	x := figure.Axis{Low: 0.3, High: 400, Log: true, At: []float64{1, 10, 100}, Names: []string{"1", "10", "100"}, Name: "height of the part, mm"}
	y := figure.Axis{Low: 0.02, High: 2, Log: true, At: []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1, 2}, Names: []string{"0.02", "0.05", "0.1", "0.2", "0.5", "1", "2"}, Name: "finest Ra, µm"}
	if s == unit.Inch {
		x.At, x.Names, x.Name = []float64{2.54, 25.4, 254}, []string{"0.1", "1", "10"}, "height of the part, in"
		y.At, y.Names, y.Name = []float64{0.0254, 0.0508, 0.127, 0.254, 0.508, 1.27}, []string{"1", "2", "5", "10", "20", "50"}, "finest Ra, µin"
	}
	g := figure.NewPlot(d, x, y)
	if in.askedGiven {
		g.Level(float64(in.asked), "the print")
	}
	const steps = 24
	for _, fluid := range [...]string{"water", "oil"} {
		var xs, ys []float64
		for i := range steps + 1 {
			h := 0.3 * math.Pow(400/0.3, float64(i)/steps)
			q := book.Cut{Machine: in.machine, Material: in.material, Dielectric: fluid, Thickness: unit.Length(h), Wire: in.wire}
			of := calc.LawOf(in.book).Plan(q, 1)
			if !of.OK {
				continue
			}
			xs, ys = append(xs, h), append(ys, of.FloorLikely())
		}
		line := figure.Hidden
		if fluid == in.dielectric {
			line = figure.Outline
		}
		g.Curve(line, xs, ys)
		if n := len(xs); n > 0 {
			at := g.At(xs[n-1], ys[n-1])
			if fluid == "water" {
				d.Label(at.X, at.Y-10, fluid, 1)
			} else {
				d.Label(at.X, at.Y+20, fluid, 1)
			}
		}
	}
	g.Mark(float64(in.thickness), floor.Low, floor.Likely, floor.High)
	return d
}
