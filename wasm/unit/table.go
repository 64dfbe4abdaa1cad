package unit

import "strings"

// symbol is one unit: its canonical symbol, other spellings, and how a number
// in it becomes one in the base unit: v*num/den, plus add. Two whole numbers
// instead of one factor keep 3 thou the double nearest to 0.0762. Every entry is
// constant, spellings too, so that the tables are data and not code.
type symbol struct {
	_             [0]func() // never compared, so no code for comparing is made
	symbol        string
	also          string // other spellings, between bars
	num, den, add float64
	invert        bool // the base is num divided by the number: a resistivity
	note          string
}

// symbols is the table of the units of a kind, the base unit first. Factors are definitions: 1 in = 25.4 mm, 1 lbf =
// 4.4482216152605 N, 1 lb = 453.59237 g.
func (k Kind) symbols() []symbol {
	switch k {
	case LengthKind:
		return lengths()
	case AngleKind:
		return []symbol{
			{symbol: "°", also: "deg|degree|degrees|º", num: 1, den: 1},
			{symbol: "′", also: "'|arcmin", num: 1, den: 60},
			{symbol: "″", also: "\"|arcsec", num: 1, den: 3600},
			{symbol: "rad", num: 57.29577951308232, den: 1}}
	case AreaKind:
		return []symbol{
			{symbol: "mm²", also: "mm2|mm^2|sq mm", num: 1, den: 1},
			{symbol: "cm²", also: "cm2|cm^2", num: 100, den: 1},
			{symbol: "in²", also: "in2|in^2|sq in", num: 64516, den: 100},
			{symbol: "µm²", also: "um2|um^2|µm2|µm^2", num: 1, den: 1e6}}
	case AreaRateKind:
		return []symbol{
			{symbol: "mm²/min", also: "mm2/min|mm^2/min", num: 1, den: 1},
			{symbol: "in²/h", also: "in2/h|in^2/h|in²/hr|in2/hr|sq in/h", num: 64516, den: 6000},
			{symbol: "mm²/h", also: "mm2/h|mm^2/h", num: 1, den: 60}}
	case SpeedKind:
		return []symbol{
			{symbol: "mm/min", num: 1, den: 1}, {symbol: "in/min", also: "ipm", num: 254, den: 10},
			{symbol: "m/min", num: 1000, den: 1}, {symbol: "mm/s", num: 60, den: 1}}
	case RoughnessKind:
		return []symbol{
			{symbol: "µm", also: "um|micron|microns", num: 1, den: 1},
			{symbol: "µin", also: "uin|microinch|microinches", num: 254, den: 10000},
			{symbol: "nm", num: 1, den: 1000}}
	case ConductivityKind:
		return conductivities()
	case TemperatureKind:
		return []symbol{
			{symbol: "°C", also: "C|degC|deg C", num: 1, den: 1},
			{symbol: "°F", also: "F|degF|deg F", num: 5, den: 9, add: -160.0 / 9},
			{symbol: "K", num: 1, den: 1, add: -273.15}}
	case TimeKind:
		return []symbol{
			{symbol: "s", also: "sec|second|seconds", num: 1, den: 1},
			{symbol: "min", also: "minute|minutes", num: 60, den: 1},
			{symbol: "h", also: "hr|hour|hours", num: 3600, den: 1},
			{symbol: "d", also: "day|days", num: 86400, den: 1},
			{symbol: "ms", num: 1, den: 1000}, {symbol: "µs", also: "us", num: 1, den: 1e6}}
	}
	return k.electrical()
}

func lengths() []symbol {
	return []symbol{
		{symbol: "mm", also: "millimetre|millimetres|millimeter|millimeters", num: 1, den: 1},
		{symbol: "µm", also: "um|micron|microns|micrometre|micrometres", num: 1, den: 1000},
		{symbol: "thou", also: "thousandth|thousandths", num: 254, den: 10000},
		{symbol: "tenths", also: "tenth", num: 254, den: 100000, note: "tenths are ten-thousandths of an inch: 1 tenth = 0.0001 in"},
		{symbol: "in", also: "\"|inch|inches|″", num: 254, den: 10},
		{symbol: "mil", also: "mils", num: 254, den: 10000, note: "a mil is a thousandth of an inch, the same as 1 thou"},
		{symbol: "µin", also: "uin|microinch", num: 254, den: 1e7},
		{symbol: "nm", num: 1, den: 1e6},
		{symbol: "cm", num: 10, den: 1},
		{symbol: "m", num: 1000, den: 1}}
}

// The ways to write a resistivity of water.
const (
	ohmsMega  = "MΩcm|MΩ cm|Mohm cm|Mohm·cm|MOhm cm|Mohm.cm|megohm cm|MΩ*cm|MΩ·cm"
	ohmsKilo  = "kΩcm|kΩ cm|kohm cm|kohm·cm|kOhm cm|kohm.cm|kΩ*cm"
	ohms      = "Ωcm|Ω cm|ohm cm|ohm·cm"
	ohmsMetre = "Ωm|ohm m|ohm·m|Ω m"
)

// conductivities hold resistivities too: 1 MΩ·cm is 1 µS/cm, a larger one less.
func conductivities() []symbol {
	return []symbol{
		{symbol: "µS/cm", also: "uS/cm|µS|uS", num: 1, den: 1},
		{symbol: "mS/cm", num: 1000, den: 1},
		{symbol: "S/m", num: 10000, den: 1},
		{symbol: "mS/m", num: 10, den: 1},
		{symbol: "MΩ·cm", also: ohmsMega, num: 1, den: 1, invert: true},
		{symbol: "kΩ·cm", also: ohmsKilo, num: 1000, den: 1, invert: true},
		{symbol: "Ω·cm", also: ohms, num: 1e6, den: 1, invert: true},
		{symbol: "Ω·m", also: ohmsMetre, num: 1e4, den: 1, invert: true}}
}

func (k Kind) electrical() []symbol {
	switch k {
	case VoltageKind:
		return []symbol{{symbol: "V", num: 1, den: 1}, {symbol: "mV", num: 1, den: 1000}, {symbol: "kV", num: 1000, den: 1}}
	case CurrentKind:
		return []symbol{{symbol: "A", num: 1, den: 1}, {symbol: "mA", num: 1, den: 1000}, {symbol: "µA", also: "uA", num: 1, den: 1e6}}
	case CurrentDensityKind:
		return []symbol{{symbol: "A/cm²", num: 1, den: 1}, {symbol: "mA/cm²", also: "mA/cm2", num: 1, den: 1000},
			{symbol: "µA/cm²", also: "uA/cm2|µA/cm2|uA/cm²", num: 1, den: 1e6}}
	case CapacitanceKind:
		return []symbol{{symbol: "nF", num: 1, den: 1}, {symbol: "pF", num: 1, den: 1000}, {symbol: "µF", also: "uF", num: 1000, den: 1}}
	case EnergyKind:
		return []symbol{{symbol: "mJ", num: 1, den: 1}, {symbol: "J", num: 1000, den: 1}, {symbol: "µJ", also: "uJ", num: 1, den: 1000}}
	case ChargeKind:
		return []symbol{{symbol: "C", num: 1, den: 1}, {symbol: "mC", num: 1, den: 1000}, {symbol: "A·h", also: "Ah", num: 3600, den: 1}}
	case ChargeDensityKind:
		return []symbol{{symbol: "C/cm²", num: 1, den: 1}, {symbol: "mC/cm²", also: "mC/cm2", num: 1, den: 1000}}
	case ExpansionKind:
		return []symbol{{symbol: "ppm/K", also: "ppm/°C|µm/m/K|10⁻⁶/K", num: 1, den: 1}, {symbol: "ppm/°F", num: 9, den: 5}}
	case HeatConductivityKind:
		return []symbol{{symbol: "W/(m·K)", also: "W/mK|W/m/K|W/m·K", num: 1, den: 1}}
	case ResistivityKind:
		return []symbol{{symbol: "µΩ·m", also: "µΩm|uohm m|µohm·m", num: 1, den: 1}, {symbol: "µΩ·cm", also: "µΩcm|uohm cm", num: 1, den: 100}}
	case LiquidResistivityKind:
		return []symbol{{symbol: "kΩ·cm", also: ohmsKilo, num: 1, den: 1}, {symbol: "MΩ·cm", also: ohmsMega, num: 1000, den: 1},
			{symbol: "Ω·cm", also: ohms, num: 1, den: 1000}, {symbol: "Ω·m", also: ohmsMetre, num: 1, den: 10}}
	case HardnessKind:
		return []symbol{{symbol: "HV", also: "HV30|HV10", num: 1, den: 1}}
	case PowerKind:
		return []symbol{{symbol: "W", num: 1, den: 1}, {symbol: "kW", num: 1000, den: 1}, {symbol: "mW", num: 1, den: 1000}}
	case FrequencyKind:
		return []symbol{{symbol: "kHz", num: 1, den: 1}, {symbol: "Hz", num: 1, den: 1000}, {symbol: "MHz", num: 1000, den: 1}}
	case ResistanceKind:
		return []symbol{{symbol: "Ω", also: "ohm|ohms|Ohm", num: 1, den: 1}, {symbol: "kΩ", also: "kohm|kOhm", num: 1000, den: 1}}
	case PercentKind:
		return []symbol{{symbol: "%", num: 1, den: 1}, {symbol: "percent", num: 1, den: 1}}
	case DensityKind:
		return []symbol{{symbol: "g/cm³", num: 1, den: 1}, {symbol: "kg/m³", also: "kg/m3", num: 1, den: 1000}}
	case MoneyKind:
		return []symbol{{symbol: "", num: 1, den: 1}}
	case RatioKind:
		return []symbol{{symbol: "", num: 1, den: 1}}
	case CountKind:
		return []symbol{{symbol: "", num: 1, den: 1}}
	}
	return k.mechanical()
}

func (k Kind) mechanical() []symbol {
	switch k {
	case ForceKind:
		return []symbol{{symbol: "N", num: 1, den: 1}, {symbol: "mN", num: 1, den: 1000}, {symbol: "kN", num: 1000, den: 1},
			{symbol: "lbf", num: 4.4482216152605, den: 1}, {symbol: "gf", num: 9.80665, den: 1000}, {symbol: "kgf", num: 9.80665, den: 1}}
	case StressKind:
		return []symbol{{symbol: "MPa", also: "N/mm²|N/mm2", num: 1, den: 1}, {symbol: "GPa", num: 1000, den: 1},
			{symbol: "ksi", num: 6.894757293168361, den: 1}, {symbol: "psi", num: 6.894757293168361, den: 1000}}
	case MassKind:
		return []symbol{{symbol: "g", num: 1, den: 1}, {symbol: "kg", num: 1000, den: 1}, {symbol: "mg", num: 1, den: 1000},
			{symbol: "lb", num: 453.59237, den: 1}, {symbol: "oz", num: 28.349523125, den: 1}}
	case VolumeKind:
		return []symbol{{symbol: "mm³", also: "mm3|mm^3", num: 1, den: 1}, {symbol: "cm³", also: "cm3", num: 1000, den: 1},
			{symbol: "in³", also: "in3", num: 16387064, den: 1000}, {symbol: "µm³", also: "um3", num: 1, den: 1e9}}
	case VolumeRateKind:
		return []symbol{{symbol: "mm³/min", also: "mm3/min", num: 1, den: 1}, {symbol: "mm³/h", also: "mm3/h", num: 1, den: 60},
			{symbol: "mm³/s", also: "mm3/s", num: 60, den: 1}, {symbol: "in³/min", also: "in3/min", num: 16387064, den: 1000}}
	}
	if k == LineLoadKind {
		return []symbol{{symbol: "N/m", also: "mN/mm", num: 1, den: 1}, {symbol: "N/mm", num: 1000, den: 1},
			{symbol: "lbf/in", also: "lb/in", num: 4.4482216152605, den: 0.0254}, {symbol: "gf/mm", num: 980665, den: 100000}}
	}
	return nil
}

// Style is the default printed form for a reader's system.
func (k Kind) Style(s System) Style {
	if s == Inch {
		return k.face().inch
	}
	return k.face().metric
}

// find looks a unit up by symbol or other spelling. The lengths that are looked
// up most are answered without their table.
func (k Kind) find(name string) (symbol, bool) {
	if k == LengthKind {
		switch name {
		case "mm":
			return symbol{symbol: "mm", num: 1, den: 1}, true
		case "µm":
			return symbol{symbol: "µm", num: 1, den: 1000}, true
		case "thou":
			return symbol{symbol: "thou", num: 254, den: 10000}, true
		}
	}
	if f := k.face(); name == f.base {
		return symbol{symbol: name, num: 1, den: 1}, true
	}
	for _, u := range k.symbols() {
		if u.symbol == name || spelled(u.also, name) {
			return u, true
		}
	}
	return symbol{}, false
}

// spelled looks for one name between the bars.
func spelled(also, name string) bool {
	if name == "" {
		return false
	}
	for also != "" {
		one, rest, _ := strings.Cut(also, "|")
		if one == name {
			return true
		}
		also = rest
	}
	return false
}

// base turns a number in this unit into the base unit.
func (u symbol) base(v float64) float64 {
	if u.invert {
		return u.num / v
	}
	if u.den == 1 && u.num == 1 && u.add == 0 {
		return v
	}
	return v*u.num/u.den + u.add
}

// from turns a base value into a number in this unit.
func (u symbol) from(v float64) float64 {
	if u.invert {
		return u.num / v
	}
	if u.den == 1 && u.num == 1 && u.add == 0 {
		return v
	}
	return (v - u.add) * u.den / u.num
}
