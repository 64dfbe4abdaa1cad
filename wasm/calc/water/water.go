package water

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

type form struct {
	_                       [0]func() // never compared, so no code for comparing is made
	book                    *book.Book
	dielectric, compensated string
	machine                 string
	material                string
	k, openAir              unit.Conductivity
	t, flash                unit.Temperature
	alpha                   unit.Percent
	flashGiven, airGiven    bool
	v                       unit.Voltage
	gap                     unit.Length

	k25, pure, floor   unit.Conductivity
	resistivity        unit.LiquidResistivity
	leak               unit.CurrentDensity
	target, loop       string
	grade              string
	ghs, clp, nfpa     string
	known              []Known // published conductivities of the purest water
	targetRow, oil     book.Row
	pure25, low, high  unit.Conductivity // of the tables, read once
	targetLow, targetH string
}

// Calculator declares the water calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "water", Title: "Dielectric", Question: "What does the water's reading mean?",
		Summary: "Conductivity and resistivity, at 25 °C and as read, what pure and open water read, the current that leaks between the sparks, and what oil changes.",
		Tables:  []string{"waters target_*_uscm", "airwater floor_*_uscm", "purewater temperature_degc pure_uscm", "machines", "dielectrics resistivity_low_ohmm"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func materials() []calc.Option {
	return []calc.Option{{Value: "steel", Label: "steel"}, {Value: "steel-fine", Label: "steel, fine finish"}, {Value: "carbide", Label: "carbide"},
		{Value: "aluminium", Label: "aluminium"}, {Value: "copper", Label: "copper"}, {Value: "titanium", Label: "titanium"}}
}

func (in *form) water() bool { return in.dielectric == "water" }

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskChoice(f, &in.dielectric, `dielectric: Dielectric
		group Dielectric
		is water
		card dielectrics
		option water: water
		option oil: oil`)
	calc.Ask(f, &in.k, `conductivity: Reading of the meter
		mark -
		is 10 µS/cm
		card conductivity_from_uscm conductivity_to_uscm
		keys µS/cm kΩ·cm MΩ·cm
		usual 0.06 µS/cm to 100 µS/cm
		above 0 µS/cm: every water conducts a little
		max 100000 µS/cm: this is sea water and more
		ranges`).ShowIf = in.water
	calc.Ask(f, &in.t, `temperature: Temperature of the water
		mark -
		is 25 °C
		help Read it on the same meter, at the same moment.
		keys °C °F; °F
		usual 15 °C to 40 °C
		min 1 °C: water freezes below
		max 100 °C: water boils above
		ranges`).ShowIf = in.water
	calc.AskChoice(f, &in.compensated, `compensated: The meter corrects to 25 °C
		is yes
		option yes: yes
		option no: no`).ShowIf = in.water
	{
		d := calc.AskChoice(f, &in.material, `material: Work
		is steel`)
		d.Options = materials()
		d.ShowIf = in.water
	}
	calc.Ask(f, &in.v, `voltage: Mean voltage across the gap
		group Gap
		is 40 V
		help Zero for pulses of zero mean.
		keys V
		usual 0.5 V to 80 V
		min 0 V: the sign is that of the work and is taken as plus
		max 400 V: no generator for this work holds more across the gap on average
		ranges`)
	calc.Ask(f, &in.gap, `gap: Spark gap, each side
		is 30 µm
		keys µm mm thou tenths; thou
		usual 2 µm to 70 µm
		min 0.5 µm: below this the wire touches
		max 1 mm: no spark crosses a gap this wide
		ranges`)
	calc.AskGiven(f, &in.flash, &in.flashGiven, `flash: Flash point of the oil
		help From the safety data sheet.
		keys °C °F; °F
		usual 55 °C to 140 °C
		min -50 °C: no dielectric has a lower one
		max 400 °C: no dielectric has a higher one
		ranges`).ShowIf = func() bool { return in.dielectric == "oil" }
	calc.Ask(f, &in.alpha, `coefficient: Change of the conductivity, for each kelvin
		group Water
		is 2 %
		help Tank water 1.9 to 2.1 %; ultrapure water about 5.5 %, near 25 °C only.
		keys %
		usual 1.9 % to 2.1 %
		min 0 %: warm water does not conduct worse
		max 8 %: no water changes faster
		ranges
		advanced`).ShowIf = in.water
	{
		d := calc.AskGiven(f, &in.openAir, &in.airGiven, `open-air: What your tank reads open to the air, resin off
		help Leave it empty to take the published range.
		keys µS/cm kΩ·cm MΩ·cm
		usual 0.5 µS/cm to 3 µS/cm
		min 0.05 µS/cm: water open to the air takes up carbon dioxide
		max 100 µS/cm: air alone does not do this: there is salt in the tank
		advanced
		ranges`)
		d.Fallback = in.published
		d.ShowIf = in.water
	}
}

// published is the open-air floor of the table. Oil has none.
func (in *form) published() calc.Fallback {
	row, ok := in.book.Find("airwater", "open tank")
	if !ok || !in.water() {
		return calc.Fallback{}
	}
	r := row.Range("floor", "uscm", 1)
	return calc.Fallback{Range: r, Rows: []book.Row{row}, Note: calc.FromTable(unit.ConductivityKind, r, "µS/cm")}
}

func (in *form) answers(f *calc.Form) {
	water := in.water
	calc.Tell(f, &in.k25, `conductivity-25: Conductivity at 25 °C
		rises conductivity
		falls temperature
		main`).Applies = water
	calc.Tell(f, &in.resistivity, `resistivity: Resistivity at 25 °C
		rises temperature
		falls conductivity`).Applies = water
	calc.Tell(f, &in.pure, `pure: The purest water at this temperature
		rises temperature
		unit µS/cm 4`).Applies = water
	calc.Tell(f, &in.floor, `floor: Water open to the air
		rises open-air`).Applies = water
	calc.Tell(f, &in.leak, `leak: Leakage current, at most
		rises conductivity voltage
		falls gap`).Applies = water
	na := calc.Option{Value: "does-not-apply", Label: "does not apply to oil"}
	calc.TellChoice(f, &in.target, "target: Against the usual range for this work").Words = []calc.Option{
		{Value: "below", Label: "below it"}, {Value: "inside", Label: "inside it"}, {Value: "above", Label: "above it"}, {Value: "none", Label: na.Label}}
	calc.TellChoice(f, &in.loop, "loop: Needs a resin loop that polishes all the time").Words = []calc.Option{
		{Value: "yes", Label: "yes, it is below water open to the air"}, {Value: "no", Label: "no"}, na}
	calc.TellChoice(f, &in.grade, "grade: Grade of laboratory water, by conductivity alone").Words = []calc.Option{
		{Value: "1", Label: "grade 1"}, {Value: "2", Label: "grade 2"}, {Value: "3", Label: "grade 3"}, {Value: "none", Label: "no grade, above 5 µS/cm"}, na}
	class := []calc.Option{{Value: "none", Label: "not a flammable liquid by this list"}, {Value: "not-asked", Label: "no flash point was given"}}
	calc.TellChoice(f, &in.ghs, "ghs: Category in the globally harmonised system").Words = class
	calc.TellChoice(f, &in.clp, "clp: Category in the European regulation").Words = class
	calc.TellChoice(f, &in.nfpa, "nfpa: Older class of the American fire code").Words = class
}
