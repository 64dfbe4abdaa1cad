package leach

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

// sayNothing is the charge in C/cm² beyond which the bound is not given. At 6 %
// cobalt it stands for some 34 µm, at the end of the tens of micrometres that
// were ever reported; a skeleton so deep holds back the current, or breaks off,
// and a depth from the formula would be a number about nothing.
const sayNothing = 10

type form struct {
	_                  [0]func() // never compared, so no code for comparing is made
	from, mean         string
	book               *book.Book
	cobalt, share      unit.Percent
	k                  unit.Conductivity
	v                  unit.Voltage
	gap, zone, removed unit.Length
	wire, thickness    unit.Length
	pass               string
	removedGiven       bool
	feed               unit.Speed
	q                  unit.ChargeDensity
	corrosion          unit.CurrentDensity
	time               unit.Time

	depth           unit.Length
	charge          unit.ChargeDensity
	dwell           unit.Time
	leak            unit.CurrentDensity
	density         unit.Density
	removedBy, says string
}

// Calculator declares the cobalt-loss calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "leach", Title: "Cobalt loss", Question: "How deep is the cobalt gone?",
		Summary: "An upper bound for the depth without binder on cemented carbide, from one pass, a charge or a soak, and whether the skims remove it.",
		Tables:  []string{"law", "cobalt cobalt_pct density_*_gcm3"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	pass := func() bool { return in.from == "pass" }
	soak := func() bool { return in.from == "soak" }
	calc.AskChoice(f, &in.from, `from: Worked out from
		group Carbide
		is pass
		option pass: one pass
		option charge: a charge
		option soak: a soak`)
	calc.Ask(f, &in.cobalt, `cobalt: Cobalt in the carbide, by mass
		mark cobalt
		is 6 %
		keys %
		usual 3 % to 25 %
		min 0.5 %: binderless grades have nothing to lose
		max 40 %: no grade for tools holds more
		ranges`)
	calc.AskChoice(f, &in.mean, `mean: Mean voltage of the pulses
		group Pass
		is direct
		option direct: direct, work +
		option zero: alternating, zero mean`).ShowIf = pass
	calc.Ask(f, &in.k, `conductivity: Conductivity of the water
		is 10 µS/cm
		keys µS/cm kΩ·cm MΩ·cm
		usual 0.5 µS/cm to 30 µS/cm
		min 0.03 µS/cm: no water reads less
		max 10000 µS/cm: no dielectric conducts like this
		ranges`).ShowIf = pass
	calc.Ask(f, &in.v, `voltage: Mean voltage across the gap
		mark -
		is 40 V
		keys V
		usual 1 V to 80 V
		min 0 V: the sign is that of the work and is taken as plus
		max 400 V: no generator for this work holds more on average
		ranges`).ShowIf = pass
	calc.Ask(f, &in.wire, `wire: Wire
		is 0.25 mm
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this`).ShowIf = pass
	calc.AskThickness(f, &in.thickness).ShowIf = pass
	calc.AskChoice(f, &in.pass, "pass: The pass\nis rough"+calc.LastPass).ShowIf = pass
	d := calc.AskGiven(f, &in.gap, new(bool), `gap: Spark gap, each side
		help Leave it empty to take the law's, for carbide in water.
		keys µm mm thou tenths; thou
		usual 3 µm to 70 µm
		min 0.5 µm: below this the wire touches
		max 1 mm: no spark crosses a gap this wide
		ranges`)
	d.Fallback, d.ShowIf = func() calc.Fallback { return calc.GapOf(in.book, in.cut(), in.pass) }, pass
	d = calc.AskGiven(f, &in.zone, new(bool), `zone: Length of wall in the spark zone
		help Leave it empty to take the wire and two likely gaps.
		keys mm µm thou; thou
		usual 0.03 mm to 0.5 mm
		above 0 mm: the zone has a length
		max 10 mm: no wire's zone is this long
		ranges`)
	d.Fallback, d.ShowIf = in.sparkZone, pass
	d = calc.AskGiven(f, &in.feed, new(bool), `feed: Feed of the pass
		help Leave it empty to take the law's.
		keys mm/min in/min; in/min
		usual 0.1 mm/min to 15 mm/min
		min 0.001 mm/min: a wire that stands has no dwell to work out
		max 1000 mm/min: no pass runs this fast
		ranges`)
	d.Fallback, d.ShowIf = in.lawFeed, pass
	calc.Ask(f, &in.q, `charge: Charge on each square centimetre
		group Charge
		is 1 C/cm²
		keys C/cm²
		usual 0.05 C/cm² to 10 C/cm²
		min 0 C/cm²: a charge that dissolves is counted as plus
		max 100000 C/cm²: this is far past anything a wall sees
		ranges`).ShowIf = func() bool { return in.from == "charge" }
	calc.Ask(f, &in.corrosion, `corrosion-current: Corrosion current while soaking
		group Soak
		is 0.451 µA/cm²
		help The default is an upper limit measured in plain water.
		keys µA/cm² mA/cm²
		usual 0.05 µA/cm² to 5 µA/cm²
		min 0 µA/cm²: a corrosion current is counted as plus
		max 1000000 µA/cm²: this is no soak any more
		ranges`).ShowIf = soak
	calc.Ask(f, &in.time, `time: Time in the water
		mark -
		is 24 h
		keys h d min
		usual 0.2 h to 200 h
		min 0 h: time does not run back
		max 100000 h: a part is not left for ten years
		ranges`).ShowIf = soak
	calc.Ask(f, &in.share, `share: Share of the current that takes cobalt
		group Bound
		is 100 %
		help 100 % is the upper bound.
		keys %
		usual 10 % to 100 %
		min 0 %: a share is not negative
		max 100 %: no more than all of it
		ranges
		advanced`)
	calc.AskGiven(f, &in.removed, &in.removedGiven, `removed: Stock that all later passes take together
		help From the pass plan.
		keys µm mm thou; thou
		usual 5 µm to 100 µm
		min 0 µm: stock is not negative
		max 2 mm: skims do not take this much
		ranges
		advanced`)
}

// cut is the carbide in water that the law is asked about.
func (in *form) cut() book.Cut {
	return book.Cut{Material: "carbide", Dielectric: "water", Thickness: in.thickness, Wire: in.wire}
}

// sparkZone is the wire and its two gaps.
func (in *form) sparkZone() calc.Fallback {
	gap := calc.GapRange(in.book, in.cut(), in.pass)
	if gap.Likely == 0 {
		return calc.Fallback{} // the gap is asked for
	}
	v := in.wire + 2*unit.Length(gap.Likely)
	return calc.Fallback{Range: unit.Exactly(float64(v)), Note: "the wire and two likely gaps: " + calc.Put(v, "mm", 3)}
}

// lawFeed is the feed of roughing, or of the skim.
func (in *form) lawFeed() calc.Fallback {
	n := calc.PassOf(in.pass)
	p := calc.LawOf(in.book).Plan(in.cut(), n)
	if n > 1 || !p.OK {
		return p.ToldFeed(n, 0)
	}
	fb := calc.RateOf(in.book, in.cut())
	fb.Range = calc.Times(fb.Range, unit.Exactly(1/float64(in.thickness)))
	fb.Note += ", over the thickness"
	return fb
}

func (in *form) answers(f *calc.Form) {
	up := []string{"conductivity", "voltage", "zone", "charge", "corrosion-current", "time"}
	down := []string{"gap", "feed"}
	calc.TellChoice(f, &in.says, `says: The bound
		word depth: gives a depth
		word nothing: says nothing here`)
	{
		d := calc.Tell(f, &in.depth, `depth: Depth without binder, at most
		unit µm 2
		inch thou 4
		main`)
		d.Applies = func() bool { return in.says == "depth" }
		d.Falls = append(down, "cobalt")
		d.Rises = append(up, "share")
	}
	{
		d := calc.Tell(f, &in.charge, "charge-density: Charge on the wall")
		d.Falls = down
		d.Rises = up
	}
	calc.Tell(f, &in.dwell, `dwell: Time in the spark zone
		rises zone
		falls feed`).Applies = func() bool { return in.from == "pass" }
	calc.Tell(f, &in.leak, `leak: Leakage current, at most
		rises conductivity voltage
		falls gap`).Applies = func() bool { return in.from == "pass" }
	calc.Tell(f, &in.density, `density: Density of the carbide
		given`)
	calc.TellChoice(f, &in.removedBy, `removed-by-skims: The later passes take it away
		word yes: yes
		word no: no
		word unknown: not known: type what they take`)
}

func (in *form) point(p *calc.Point) {
	in.density = laws.CarbideDensity(in.cobalt)
	in.dwell = Dwell(in.zone, in.feed)
	in.leak = laws.Leak(in.k, in.v, in.gap)
	switch in.from {
	case "charge":
		in.charge = in.q
	case "soak":
		in.charge = Charge(in.corrosion, in.time)
	default:
		if in.mean == "zero" {
			in.leak = 0
		}
		in.charge = Charge(in.leak, in.dwell)
	}
	in.depth = laws.CobaltDepth(in.charge, in.cobalt) * unit.Length(in.share/100)
	in.says = "depth"
	if in.charge > sayNothing {
		in.says = "nothing"
	}
	in.removedBy = "unknown"
	switch {
	case in.says == "nothing" || !in.removedGiven:
	case in.removed >= in.depth:
		in.removedBy = "yes"
	default:
		in.removedBy = "no"
	}
	if p.Stepping() {
		in.steps(p)
	}
}

func (in *form) steps(p *calc.Point) {
	switch in.from {
	case "soak":
		p.Work("charge-density = {charge-density:C/cm² 5} | charge | i t | {1} × {2} | definition", calc.Put(in.corrosion, "µA/cm²", 4), calc.Put(in.time, "h", 3))
	case "pass":
		p.Work(`leak = {leak:A/cm² 5} | leakage current, at most | κ V / g | {1} × {2} / {3} | Ohm's law
			dwell | time in the spark zone | zone / feed | {4} / {5} | definition
			charge-density | charge | j t | {leak:A/cm² 5} × {dwell} | definition`,
			calc.Put(in.k, "µS/cm", 4), calc.Put(in.v, "V", 3), calc.Put(in.gap, "µm", 2), calc.Put(in.zone, "mm", 4), calc.Put(in.feed, "mm/min", 4))
	}
	p.Work(`density = {density:g/cm³ 2} | density of the carbide | 1 / (w/8.90 + (1 - w)/15.63) | w = {1} | rule of mixtures
		depth = {depth:µm 3} | depth without binder | q E / (F w ρ) | {charge-density} × 29.47 / (96485 × {1} × {density:g/cm³ 2}) | astm-g102`, calc.Put(in.cobalt, "%", 3))
}
