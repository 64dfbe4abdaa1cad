package water

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/laws"
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
		if in.oil.Table == "" {
			in.oil, _ = in.book.Find("dielectrics", "oil")
		}
		// The conducting end of its range: 1 S/m is 10,000 µS/cm.
		k := unit.Conductivity(1e4 / in.oil.Num("resistivity_low_ohmm"))
		in.leak = laws.Leak(k, in.v, in.gap)
		if p.Stepping() {
			in.stepLeak(p, k, "")
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
	}
	if in.k < bound*rounded {
		p.Impossible("no water reads below " + calc.Put(bound, "µS/cm", 4) + " at this temperature: the ions of water itself carry that much")
	}
	in.resistivity = unit.LiquidResistivity(1000 / in.k25)
	in.leak = laws.Leak(own, in.v, in.gap)
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
		p.Work("conductivity-25 = {conductivity-25:µS/cm 4} | conductivity at 25 °C | κ25 = κ / (1 + α (t - 25)) | {conductivity:µS/cm 4} / {1} | iso-7888", factor)
	}
	p.Work("resistivity | resistivity | ρ = 1 / κ25 | 1 / {conductivity-25:µS/cm 4} | definition")
	if in.compensated == "yes" && in.t != 25 {
		p.Work("leak = {2} | conductivity as the water is | κ = κ25 (1 + α (t - 25)), pure water at least | {conductivity-25:µS/cm 4} × {1} | iso-7888", factor, calc.Put(own, "µS/cm", 4))
	}
	in.stepLeak(p, own, "leak")
}

func (in *form) stepLeak(p *calc.Point, own unit.Conductivity, answer string) {
	p.Work(answer+" = {1} | leakage current, at most | j = κ V / g | {2} × {voltage} / {gap:µm 2} | Ohm's law", current(in.leak), calc.Put(own, "µS/cm", 5))
}

// current prints a current density in the unit that shows it.
func current(j unit.CurrentDensity) string {
	if j != 0 && j < 1e-4 {
		return calc.Put(j, "µA/cm²", 3)
	}
	return calc.Put(j, "A/cm²", 5)
}
