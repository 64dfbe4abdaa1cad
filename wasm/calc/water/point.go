package water

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// rounded is how far below the table a reading of pure water may lie before it
// is refused: the table's values are printed with two digits.
const rounded = 0.98

// The span of temperature in which a coefficient above saltWater is taken for
// that of ultrapure water: it rises steeply, and 5.5 % is its value at 25 °C.
const (
	saltWater  unit.Percent     = 3
	ultrapureL unit.Temperature = 15
	ultrapureH unit.Temperature = 35
)

func (in *form) point(p *calc.Point) {
	in.ghs, in.clp, in.nfpa = "not-asked", "not-asked", "not-asked"
	if in.flashGiven {
		in.ghs, in.clp, in.nfpa = GHS(in.flash), CLP(in.flash), NFPA(in.flash)
	}
	in.target, in.loop, in.grade = "none", "does-not-apply", "does-not-apply"
	if !in.water() {
		in.leak = Leak(OilConductivity, in.v, in.gap)
		if p.Stepping() {
			in.stepLeak(p, OilConductivity, "")
		}
		return
	}
	in.lookUp()
	in.pure, in.floor = Pure(in.known, in.t), in.openAir
	if in.alpha > saltWater && (in.t < ultrapureL || in.t > ultrapureH) {
		p.Impossible("a change of more than " + calc.Put(saltWater, "%", 1) + " for each kelvin is that of ultrapure water and holds near 25 °C only, here from " +
			calc.Put(ultrapureL, "°C", 1) + " to " + calc.Put(ultrapureH, "°C", 1))
	}
	// A compensated reading is one at 25 °C already; at its own temperature the
	// water conducts more or less, and never less than pure water.
	in.k25 = in.k
	own, bound := max(At(in.k, in.t, in.alpha), in.pure), in.pure25
	if in.compensated == "no" {
		in.k25, own, bound = At25(in.k, in.t, in.alpha), in.k, in.pure
		if in.t < in.known[0].T {
			bound = icePoint // colder than the table: what holds at any temperature
		}
	}
	if in.k < bound*rounded {
		p.Impossible("no water reads below " + calc.Put(bound, "µS/cm", 4) + " at this temperature: the ions of water itself carry that much")
	}
	in.leak = Leak(own, in.v, in.gap)
	in.target = Against(in.k25, in.low, in.high)
	in.grade = Grade(in.k25)
	in.loop = "no"
	if in.k25 < in.openAir {
		in.loop = "yes"
	}
	if p.Stepping() {
		in.steps(p, own)
	}
}

// lookUp reads the tables once: they are the same at every point.
func (in *form) lookUp() {
	if in.known != nil {
		return
	}
	for _, r := range in.book.Table("purewater").Rows {
		in.known = append(in.known, Known{unit.Temperature(r.Num("temperature_degc")), unit.Conductivity(r.Num("pure_uscm"))})
	}
	in.pure25 = Pure(in.known, 25)
	in.targetRow, _ = in.book.Find("waters", in.material)
	in.low, in.high = unit.Conductivity(in.targetRow.Num("target_low_uscm")), unit.Conductivity(in.targetRow.Num("target_high_uscm"))
}

func (in *form) steps(p *calc.Point, own unit.Conductivity) {
	factor := "(1 + " + calc.Put(in.alpha, "%", 2) + " × (" + unit.Fixed(float64(in.t), 1) + " - 25))"
	if in.compensated == "no" {
		p.Step(calc.Step{For: "conductivity-25", Name: "conductivity at 25 °C", Formula: "κ25 = κ / (1 + α (t - 25))",
			Put: calc.Put(in.k, "µS/cm", 4) + " / " + factor, Equals: calc.Put(in.k25, "µS/cm", 4), Source: "iso-7888"})
	}
	p.Step(calc.Step{For: "resistivity", Name: "resistivity", Formula: "ρ = 1 / κ25", Put: "1 / " + calc.Put(in.k25, "µS/cm", 4), Equals: calc.Put(in.k25, "kΩ·cm", 3)})
	if in.compensated == "yes" && in.t != 25 {
		p.Step(calc.Step{For: "leak", Name: "conductivity as the water is", Formula: "κ = κ25 (1 + α (t - 25)), pure water at least",
			Put: calc.Put(in.k25, "µS/cm", 4) + " × " + factor, Equals: calc.Put(own, "µS/cm", 4), Source: "iso-7888"})
	}
	in.stepLeak(p, own, "leak")
}

func (in *form) stepLeak(p *calc.Point, own unit.Conductivity, answer string) {
	p.Step(calc.Step{For: answer, Name: "leakage current, at most", Formula: "j = κ V / g", Put: calc.Put(own, "µS/cm", 5) + " × " + calc.Put(in.v, "V", 3) + " / " + calc.Put(in.gap, "µm", 2),
		Equals: current(in.leak)})
}

// current prints a current density in the unit that shows it.
func current(j unit.CurrentDensity) string {
	if j != 0 && j < 1e-4 {
		return calc.Put(j, "µA/cm²", 3)
	}
	return calc.Put(j, "A/cm²", 5)
}
