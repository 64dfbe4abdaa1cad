package water

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

type form struct {
	book                    *book.Book
	dielectric, compensated string
	material                string
	k, openAir              unit.Conductivity
	t, flash                unit.Temperature
	alpha                   unit.Percent
	flashGiven, airGiven    bool
	v                       unit.Voltage
	gap                     unit.Length

	k25, pure, floor   unit.Conductivity
	leak               unit.CurrentDensity
	target, loop       string
	grade              string
	ghs, clp, nfpa     string
	known              []Known // published conductivities of the purest water
	targetRow          book.Row
	pure25, low, high  unit.Conductivity // of the tables, read once
	targetLow, targetH string
}

// Calculator declares the water calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "water", Title: "Dielectric", Question: "What does the water's reading mean?",
		Summary: "Conductivity and resistivity, at 25 °C and as read, what pure and open water read, the current that leaks between the sparks, and what oil changes.",
		Tables:  []string{"waters", "airwater", "purewater"},
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
	calc.BindChoice(f, &in.dielectric, calc.Field{Name: "dielectric", Label: "Dielectric", Group: "Dielectric", Default: "water",
		Options: []calc.Option{{Value: "water", Label: "water"}, {Value: "oil", Label: "oil"}}})
	calc.Bind(f, &in.k, calc.Field{Name: "conductivity", Label: "Reading of the meter", Default: "10 µS/cm", Ranges: true, ShowIf: in.water,
		Keys: []string{"µS/cm", "kΩ·cm", "MΩ·cm"}, Usual: [2]string{"0.06 µS/cm", "100 µS/cm"},
		Limits: []calc.Limit{calc.Above("0 µS/cm", "every water conducts a little"), calc.AtMost("100000 µS/cm", "this is sea water and more")}})
	calc.Bind(f, &in.t, calc.Field{Name: "temperature", Label: "Temperature of the water", Default: "25 °C", Ranges: true, ShowIf: in.water,
		Help: "Read it on the same meter, at the same moment.",
		Keys: []string{"°C", "°F"}, InchKey: "°F", Usual: [2]string{"15 °C", "40 °C"},
		Limits: []calc.Limit{calc.AtLeast("1 °C", "water freezes below"), calc.AtMost("100 °C", "water boils above")}})
	calc.BindChoice(f, &in.compensated, calc.Field{Name: "compensated", Label: "The meter corrects to 25 °C", Default: "yes", ShowIf: in.water,
		Options: []calc.Option{{Value: "yes", Label: "yes"}, {Value: "no", Label: "no"}}})
	calc.BindChoice(f, &in.material, calc.Field{Name: "material", Label: "Work", Default: "steel", ShowIf: in.water, Options: materials()})
	calc.Bind(f, &in.v, calc.Field{Name: "voltage", Label: "Mean voltage across the gap", Group: "Gap", Default: "40 V", Ranges: true,
		Help: "Zero for pulses of zero mean.", Keys: []string{"V"}, Usual: [2]string{"0.5 V", "80 V"},
		Limits: []calc.Limit{calc.AtLeast("0 V", "the sign is that of the work and is taken as plus"), calc.AtMost("400 V", "no generator for this work holds more across the gap on average")}})
	calc.Bind(f, &in.gap, calc.Field{Name: "gap", Label: "Spark gap, each side", Default: "30 µm", Ranges: true,
		Keys: []string{"µm", "mm", "thou", "tenths"}, InchKey: "thou", Usual: [2]string{"2 µm", "70 µm"},
		Limits: []calc.Limit{calc.AtLeast("0.5 µm", "below this the wire touches"), calc.AtMost("1 mm", "no spark crosses a gap this wide")}})
	calc.BindGiven(f, &in.flash, &in.flashGiven, calc.Field{Name: "flash", Label: "Flash point of the oil", Ranges: true, ShowIf: func() bool { return in.dielectric == "oil" },
		Help: "From the safety data sheet.", Keys: []string{"°C", "°F"}, InchKey: "°F", Usual: [2]string{"55 °C", "140 °C"},
		Limits: []calc.Limit{calc.AtLeast("-50 °C", "no dielectric has a lower one"), calc.AtMost("400 °C", "no dielectric has a higher one")}})
	calc.Bind(f, &in.alpha, calc.Field{Name: "coefficient", Label: "Change of the conductivity, for each kelvin", Group: "Water", Default: "2 %", Ranges: true, Advanced: true, ShowIf: in.water,
		Help: "Tank water 1.9 to 2.1 %; ultrapure water about 5.5 %, near 25 °C only.", Keys: []string{"%"}, Usual: [2]string{"1.9 %", "2.1 %"},
		Limits: []calc.Limit{calc.AtLeast("0 %", "warm water does not conduct worse"), calc.AtMost("8 %", "no water changes faster")}})
	calc.BindGiven(f, &in.openAir, &in.airGiven, calc.Field{Name: "open-air", Label: "What your tank reads open to the air, resin off", Ranges: true, Advanced: true, ShowIf: in.water,
		Help: "Leave it empty to take the published range.", Keys: []string{"µS/cm", "kΩ·cm", "MΩ·cm"}, Usual: [2]string{"0.5 µS/cm", "3 µS/cm"},
		Limits:   []calc.Limit{calc.AtLeast("0.05 µS/cm", "water open to the air takes up carbon dioxide"), calc.AtMost("100 µS/cm", "air alone does not do this: there is salt in the tank")},
		Fallback: in.published})
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
	calc.Value(f, &in.k25, calc.Out{Name: "conductivity-25", Label: "Conductivity at 25 °C", Main: true, Applies: water, Rises: []string{"conductivity"}, Falls: []string{"temperature"}})
	calc.Value(f, &in.k25, calc.Out{Name: "resistivity", Label: "Resistivity at 25 °C", Unit: "kΩ·cm", Decimals: 3, Applies: water, Rises: []string{"conductivity"}, Falls: []string{"temperature"}})
	calc.Value(f, &in.pure, calc.Out{Name: "pure", Label: "The purest water at this temperature", Unit: "µS/cm", Decimals: 4, Applies: water, Rises: []string{"temperature"}})
	calc.Value(f, &in.floor, calc.Out{Name: "floor", Label: "Water open to the air", Applies: water, Rises: []string{"open-air"}})
	calc.Value(f, &in.leak, calc.Out{Name: "leak", Label: "Leakage current, at most", Applies: water, Rises: []string{"conductivity", "voltage"}, Falls: []string{"gap"}})
	na := calc.Option{Value: "does-not-apply", Label: "does not apply to oil"}
	calc.Choose(f, &in.target, calc.Out{Name: "target", Label: "Against the usual range for this work", Words: []calc.Option{
		{Value: "below", Label: "below it"}, {Value: "inside", Label: "inside it"}, {Value: "above", Label: "above it"}, {Value: "none", Label: na.Label}}})
	calc.Choose(f, &in.loop, calc.Out{Name: "loop", Label: "Needs a resin loop that polishes all the time", Words: []calc.Option{
		{Value: "yes", Label: "yes, it is below water open to the air"}, {Value: "no", Label: "no"}, na}})
	calc.Choose(f, &in.grade, calc.Out{Name: "grade", Label: "Grade of laboratory water, by conductivity alone", Words: []calc.Option{
		{Value: "1", Label: "grade 1"}, {Value: "2", Label: "grade 2"}, {Value: "3", Label: "grade 3"}, {Value: "none", Label: "no grade, above 5 µS/cm"}, na}})
	class := []calc.Option{{Value: "none", Label: "not a flammable liquid by this list"}, {Value: "not-asked", Label: "no flash point was given"}}
	calc.Choose(f, &in.ghs, calc.Out{Name: "ghs", Label: "Category in the globally harmonised system", Words: class})
	calc.Choose(f, &in.clp, calc.Out{Name: "clp", Label: "Category in the European regulation", Words: class})
	calc.Choose(f, &in.nfpa, calc.Out{Name: "nfpa", Label: "Older class of the American fire code", Words: class})
}
