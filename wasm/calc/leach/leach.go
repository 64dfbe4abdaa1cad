package leach

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/water"
	"kerfbook/wasm/unit"
)

// sayNothing is the charge in C/cm² beyond which the bound is not given. At 6 %
// cobalt it stands for some 34 µm, at the end of the tens of micrometres that
// were ever reported; a skeleton so deep holds back the current, or breaks off,
// and a depth from the formula would be a number about nothing.
const sayNothing = 10

type form struct {
	from, mean         string
	cobalt, share      unit.Percent
	k                  unit.Conductivity
	v                  unit.Voltage
	gap, zone, removed unit.Length
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
		Build: func(f *calc.Form, _ *book.Book) calc.Run {
			in := &form{}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	pass := func() bool { return in.from == "pass" }
	soak := func() bool { return in.from == "soak" }
	calc.BindChoice(f, &in.from, calc.Field{Name: "from", Label: "Worked out from", Group: "Carbide", Default: "pass", Options: []calc.Option{
		{Value: "pass", Label: "one pass"}, {Value: "charge", Label: "a charge"}, {Value: "soak", Label: "a soak"}}})
	calc.Bind(f, &in.cobalt, calc.Field{Name: "cobalt", Label: "Cobalt in the carbide, by mass", Default: "6 %", Ranges: true, Keys: []string{"%"}, Usual: [2]string{"3 %", "25 %"},
		Limits: []calc.Limit{calc.AtLeast("0.5 %", "binderless grades have nothing to lose"), calc.AtMost("40 %", "no grade for tools holds more")}})
	calc.BindChoice(f, &in.mean, calc.Field{Name: "mean", Label: "Mean voltage of the pulses", Group: "Pass", Default: "direct", ShowIf: pass, Options: []calc.Option{
		{Value: "direct", Label: "direct, work +"}, {Value: "zero", Label: "alternating, zero mean"}}})
	calc.Bind(f, &in.k, calc.Field{Name: "conductivity", Label: "Conductivity of the water", Default: "10 µS/cm", Ranges: true, ShowIf: pass,
		Keys: []string{"µS/cm", "kΩ·cm", "MΩ·cm"}, Usual: [2]string{"0.5 µS/cm", "30 µS/cm"},
		Limits: []calc.Limit{calc.AtLeast("0.03 µS/cm", "no water reads less"), calc.AtMost("10000 µS/cm", "no dielectric conducts like this")}})
	calc.Bind(f, &in.v, calc.Field{Name: "voltage", Label: "Mean voltage across the gap", Default: "40 V", Ranges: true, ShowIf: pass, Keys: []string{"V"}, Usual: [2]string{"1 V", "80 V"},
		Limits: []calc.Limit{calc.AtLeast("0 V", "the sign is that of the work and is taken as plus"), calc.AtMost("400 V", "no generator for this work holds more on average")}})
	calc.Bind(f, &in.gap, calc.Field{Name: "gap", Label: "Spark gap, each side", Default: "30 µm", Ranges: true, ShowIf: pass, Keys: []string{"µm", "mm", "thou", "tenths"}, InchKey: "thou", Usual: [2]string{"3 µm", "70 µm"},
		Limits: []calc.Limit{calc.AtLeast("0.5 µm", "below this the wire touches"), calc.AtMost("1 mm", "no spark crosses a gap this wide")}})
	calc.Bind(f, &in.zone, calc.Field{Name: "zone", Label: "Length of wall in the spark zone", Default: "0.3 mm", Ranges: true, ShowIf: pass, Help: "About a wire diameter and two gaps.",
		Keys: []string{"mm", "µm", "thou"}, InchKey: "thou", Usual: [2]string{"0.03 mm", "0.5 mm"},
		Limits: []calc.Limit{calc.Above("0 mm", "the zone has a length"), calc.AtMost("10 mm", "no wire's zone is this long")}})
	calc.Bind(f, &in.feed, calc.Field{Name: "feed", Label: "Feed of the pass", Default: "1 mm/min", Ranges: true, ShowIf: pass, Keys: []string{"mm/min", "in/min"}, InchKey: "in/min", Usual: [2]string{"0.1 mm/min", "15 mm/min"},
		Limits: []calc.Limit{calc.AtLeast("0.001 mm/min", "a wire that stands has no dwell to work out"), calc.AtMost("1000 mm/min", "no pass runs this fast")}})
	calc.Bind(f, &in.q, calc.Field{Name: "charge", Label: "Charge on each square centimetre", Group: "Charge", Default: "1 C/cm²", Ranges: true, ShowIf: func() bool { return in.from == "charge" },
		Keys: []string{"C/cm²"}, Usual: [2]string{"0.05 C/cm²", "10 C/cm²"}, Limits: []calc.Limit{calc.AtLeast("0 C/cm²", "a charge that dissolves is counted as plus"), calc.AtMost("100000 C/cm²", "this is far past anything a wall sees")}})
	calc.Bind(f, &in.corrosion, calc.Field{Name: "corrosion-current", Label: "Corrosion current while soaking", Group: "Soak", Default: "0.451 µA/cm²", Ranges: true, ShowIf: soak,
		Help: "The default is an upper limit measured in plain water.", Keys: []string{"µA/cm²", "mA/cm²"}, Usual: [2]string{"0.05 µA/cm²", "5 µA/cm²"},
		Limits: []calc.Limit{calc.AtLeast("0 µA/cm²", "a corrosion current is counted as plus"), calc.AtMost("1000000 µA/cm²", "this is no soak any more")}})
	calc.Bind(f, &in.time, calc.Field{Name: "time", Label: "Time in the water", Default: "24 h", Ranges: true, ShowIf: soak, Keys: []string{"h", "d", "min"}, Usual: [2]string{"0.2 h", "200 h"},
		Limits: []calc.Limit{calc.AtLeast("0 h", "time does not run back"), calc.AtMost("100000 h", "a part is not left for ten years")}})
	calc.Bind(f, &in.share, calc.Field{Name: "share", Label: "Share of the current that takes cobalt", Group: "Bound", Default: "100 %", Ranges: true, Advanced: true, Help: "100 % is the upper bound.",
		Keys: []string{"%"}, Usual: [2]string{"10 %", "100 %"}, Limits: []calc.Limit{calc.AtLeast("0 %", "a share is not negative"), calc.AtMost("100 %", "no more than all of it")}})
	calc.BindGiven(f, &in.removed, &in.removedGiven, calc.Field{Name: "removed", Label: "Stock that all later passes take together", Ranges: true, Advanced: true, Help: "From the pass plan.",
		Keys: []string{"µm", "mm", "thou"}, InchKey: "thou", Usual: [2]string{"5 µm", "100 µm"},
		Limits: []calc.Limit{calc.AtLeast("0 µm", "stock is not negative"), calc.AtMost("2 mm", "skims do not take this much")}})
}

func (in *form) answers(f *calc.Form) {
	up := []string{"conductivity", "voltage", "zone", "charge", "corrosion-current", "time"}
	down := []string{"gap", "feed"}
	calc.Choose(f, &in.says, calc.Out{Name: "says", Label: "The bound", Words: []calc.Option{{Value: "depth", Label: "gives a depth"}, {Value: "nothing", Label: "says nothing here"}}})
	calc.Value(f, &in.depth, calc.Out{Name: "depth", Label: "Depth without binder, at most", Main: true, Unit: "µm", Decimals: 2, InchUnit: "thou", InchDecimals: 4,
		Applies: func() bool { return in.says == "depth" }, Rises: append(up, "share"), Falls: append(down, "cobalt")})
	calc.Value(f, &in.charge, calc.Out{Name: "charge-density", Label: "Charge on the wall", Rises: up, Falls: down})
	calc.Value(f, &in.dwell, calc.Out{Name: "dwell", Label: "Time in the spark zone", Applies: func() bool { return in.from == "pass" }, Rises: []string{"zone"}, Falls: []string{"feed"}})
	calc.Value(f, &in.leak, calc.Out{Name: "leak", Label: "Leakage current, at most", Applies: func() bool { return in.from == "pass" }, Rises: []string{"conductivity", "voltage"}, Falls: []string{"gap"}})
	calc.Value(f, &in.density, calc.Out{Name: "density", Label: "Density of the carbide", Falls: []string{"cobalt"}})
	calc.Choose(f, &in.removedBy, calc.Out{Name: "removed-by-skims", Label: "The later passes take it away", Words: []calc.Option{
		{Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}, {Value: "unknown", Label: "not known: type what they take"}}})
}

func (in *form) point(p *calc.Point) {
	in.density = Density(in.cobalt)
	in.dwell = Dwell(in.zone, in.feed)
	in.leak = water.Leak(in.k, in.v, in.gap)
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
	in.depth = Depth(in.charge, in.cobalt) * unit.Length(in.share/100)
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
		p.Step(calc.Step{For: "charge-density", Name: "charge", Formula: "i t", Put: calc.Put(in.corrosion, "µA/cm²", 4) + " × " + calc.Put(in.time, "h", 3), Equals: calc.Put(in.charge, "C/cm²", 5)})
	case "pass":
		p.Step(calc.Step{For: "leak", Name: "leakage current, at most", Formula: "κ V / g", Put: calc.Put(in.k, "µS/cm", 4) + " × " + calc.Put(in.v, "V", 3) + " / " + calc.Put(in.gap, "µm", 2), Equals: calc.Put(in.leak, "A/cm²", 5)})
		p.Step(calc.Step{For: "dwell", Name: "time in the spark zone", Formula: "zone / feed", Put: calc.Put(in.zone, "mm", 4) + " / " + calc.Put(in.feed, "mm/min", 4), Equals: calc.Put(in.dwell, "s", 2)})
		p.Step(calc.Step{For: "charge-density", Name: "charge", Formula: "j t", Put: calc.Put(in.leak, "A/cm²", 5) + " × " + calc.Put(in.dwell, "s", 2), Equals: calc.Put(in.charge, "C/cm²", 4)})
	}
	p.Step(calc.Step{For: "density", Name: "density of the carbide", Formula: "1 / (w/8.90 + (1 - w)/15.63)", Put: "w = " + calc.Put(in.cobalt, "%", 3), Equals: calc.Put(in.density, "g/cm³", 2)})
	p.Step(calc.Step{For: "depth", Name: "depth without binder", Formula: "q E / (F w ρ)", Put: calc.Put(in.charge, "C/cm²", 4) + " × 29.47 / (96485 × " + calc.Put(in.cobalt, "%", 3) + " × " + calc.Put(in.density, "g/cm³", 2) + ")",
		Equals: calc.Put(in.depth, "µm", 3), Source: "astm-g102"})
}
