package unit

// face is how a kind is named and printed. It is asked for at every number, so
// it stands apart from the units, whose table is made anew at each look.
type face struct {
	name, base   string
	metric, inch Style
}

func (k Kind) face() face {
	switch k {
	case AngleKind:
		return face{"angle", "°", Style{"°", 3, true}, Style{"°", 3, true}}
	case AreaKind:
		return face{"area", "mm²", Style{"mm²", 5, true}, Style{"in²", 8, true}}
	case AreaRateKind:
		return face{"area rate", "mm²/min", Style{"mm²/min", 2, true}, Style{"in²/h", 3, true}}
	case SpeedKind:
		return face{"speed", "mm/min", Style{"mm/min", 3, true}, Style{"in/min", 4, true}}
	case RoughnessKind:
		return face{"roughness", "µm", Style{"µm", 3, true}, Style{"µin", 1, true}}
	case TemperatureKind:
		return face{"temperature", "°C", Style{"°C", 1, true}, Style{"°F", 1, true}}
	case TimeKind:
		return face{"time", "s", Style{"s", 2, true}, Style{"s", 2, true}}
	case LengthKind:
		return face{"length", "mm", Style{"mm", 4, true}, Style{"thou", 2, true}}
	case ConductivityKind:
		return face{"conductivity", "µS/cm", Style{"µS/cm", 3, true}, Style{"µS/cm", 3, true}}
	case ForceKind:
		return face{"force", "N", Style{"N", 3, true}, Style{"lbf", 4, true}}
	case StressKind:
		return face{"stress", "MPa", Style{"MPa", 1, true}, Style{"ksi", 2, true}}
	case MassKind:
		return face{"mass", "g", Style{"g", 3, true}, Style{"lb", 5, true}}
	case ExpansionKind:
		return face{"expansion", "ppm/K", Style{"ppm/K", 2, true}, Style{"ppm/°F", 2, true}}
	case HeatConductivityKind:
		return face{"heat conductivity", "W/(m·K)", Style{"W/(m·K)", 1, true}, Style{"W/(m·K)", 1, true}}
	case ResistivityKind:
		return face{"resistivity", "µΩ·m", Style{"µΩ·m", 4, true}, Style{"µΩ·m", 4, true}}
	case LiquidResistivityKind:
		return face{"resistivity of a liquid", "kΩ·cm", Style{"kΩ·cm", 3, true}, Style{"kΩ·cm", 3, true}}
	case HardnessKind:
		return face{"hardness", "HV", Style{"HV", 0, true}, Style{"HV", 0, true}}
	case PowerKind:
		return face{"power", "W", Style{"W", 3, true}, Style{"W", 3, true}}
	case FrequencyKind:
		return face{"frequency", "kHz", Style{"kHz", 3, true}, Style{"kHz", 3, true}}
	case ResistanceKind:
		return face{"resistance", "Ω", Style{"Ω", 3, true}, Style{"Ω", 3, true}}
	case VolumeKind:
		return face{"volume", "mm³", Style{"mm³", 3, true}, Style{"in³", 6, true}}
	case VolumeRateKind:
		return face{"volume rate", "mm³/min", Style{"mm³/min", 3, true}, Style{"in³/min", 6, true}}
	case LineLoadKind:
		return face{"load on a length", "N/m", Style{"N/m", 4, true}, Style{"lbf/in", 6, true}}
	case VoltageKind:
		return face{"voltage", "V", Style{"V", 3, true}, Style{"V", 3, true}}
	case CurrentKind:
		return face{"current", "A", Style{"A", 4, true}, Style{"A", 4, true}}
	case CurrentDensityKind:
		return face{"current density", "A/cm²", Style{"A/cm²", 4, true}, Style{"A/cm²", 4, true}}
	case CapacitanceKind:
		return face{"capacitance", "nF", Style{"nF", 3, true}, Style{"nF", 3, true}}
	case EnergyKind:
		return face{"energy", "mJ", Style{"mJ", 4, true}, Style{"mJ", 4, true}}
	case ChargeKind:
		return face{"charge", "C", Style{"C", 4, true}, Style{"C", 4, true}}
	case ChargeDensityKind:
		return face{"charge density", "C/cm²", Style{"C/cm²", 4, true}, Style{"C/cm²", 4, true}}
	case PercentKind:
		return face{"share", "%", Style{"%", 2, true}, Style{"%", 2, true}}
	case DensityKind:
		return face{"density", "g/cm³", Style{"g/cm³", 3, true}, Style{"g/cm³", 3, true}}
	case MoneyKind:
		return face{"money", "", Style{"", 2, true}, Style{"", 2, true}}
	case RatioKind:
		return face{"number", "", Style{"", 4, true}, Style{"", 4, true}}
	case CountKind:
		return face{"count", "", Style{"", 0, true}, Style{"", 0, true}}
	}
	return face{name: "quantity"}
}
