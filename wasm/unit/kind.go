// Package unit reads and prints quantities in the spellings of the trade:
// lengths, angles, area rates, roughness, conductivity and the rest. A value is
// a float64 in the base unit of its kind; text stands at every border, and all
// rounding of the house is done here. It may import the standard library's text
// and number packages only.
package unit

// System is the reader's system of units.
type System uint8

// The systems.
const (
	Metric System = iota
	Inch
)

// Kind names one kind of quantity.
type Kind uint8

// The kinds, with their base units.
const (
	LengthKind            Kind = iota + 1 // mm
	AngleKind                             // °
	AreaKind                              // mm²
	AreaRateKind                          // mm²/min
	SpeedKind                             // mm/min
	RoughnessKind                         // µm Ra
	ConductivityKind                      // µS/cm
	TemperatureKind                       // °C
	TimeKind                              // s
	VoltageKind                           // V
	CurrentKind                           // A
	CurrentDensityKind                    // A/cm²
	CapacitanceKind                       // nF
	EnergyKind                            // mJ
	ForceKind                             // N
	StressKind                            // MPa
	MassKind                              // g
	ChargeKind                            // C
	ChargeDensityKind                     // C/cm²
	MoneyKind                             // no unit of ours: the shop's currency
	RatioKind                             // a plain number
	PercentKind                           // %
	CountKind                             // a whole number
	DensityKind                           // g/cm³
	ExpansionKind                         // ppm/K
	HeatConductivityKind                  // W/(m·K)
	ResistivityKind                       // µΩ·m
	HardnessKind                          // HV
	PowerKind                             // W
	FrequencyKind                         // kHz
	ResistanceKind                        // Ω
	VolumeKind                            // mm³
	VolumeRateKind                        // mm³/min
	LineLoadKind                          // N/m
	LiquidResistivityKind                 // kΩ·cm
	lastKind              = LiquidResistivityKind
)

// Typed quantities, in base units.
type (
	Length            float64
	Angle             float64
	Area              float64
	AreaRate          float64
	Speed             float64
	Roughness         float64
	Conductivity      float64
	Temperature       float64
	Time              float64
	Voltage           float64
	Current           float64
	CurrentDensity    float64
	Capacitance       float64
	Energy            float64
	Force             float64
	Stress            float64
	Mass              float64
	Charge            float64
	ChargeDensity     float64
	Money             float64
	Ratio             float64
	Percent           float64
	Count             float64
	Density           float64
	Expansion         float64
	HeatConductivity  float64
	Resistivity       float64
	Hardness          float64
	Power             float64
	Frequency         float64
	Resistance        float64
	Volume            float64
	VolumeRate        float64
	LineLoad          float64
	LiquidResistivity float64
)

// Typed is any of the typed quantities.
type Typed interface {
	~float64
	Kind() Kind
}

// Kind methods tell the kind of a typed quantity.
func (Length) Kind() Kind           { return LengthKind }
func (Angle) Kind() Kind            { return AngleKind }
func (Area) Kind() Kind             { return AreaKind }
func (AreaRate) Kind() Kind         { return AreaRateKind }
func (Speed) Kind() Kind            { return SpeedKind }
func (Roughness) Kind() Kind        { return RoughnessKind }
func (Conductivity) Kind() Kind     { return ConductivityKind }
func (Temperature) Kind() Kind      { return TemperatureKind }
func (Time) Kind() Kind             { return TimeKind }
func (Voltage) Kind() Kind          { return VoltageKind }
func (Current) Kind() Kind          { return CurrentKind }
func (CurrentDensity) Kind() Kind   { return CurrentDensityKind }
func (Capacitance) Kind() Kind      { return CapacitanceKind }
func (Energy) Kind() Kind           { return EnergyKind }
func (Force) Kind() Kind            { return ForceKind }
func (Stress) Kind() Kind           { return StressKind }
func (Mass) Kind() Kind             { return MassKind }
func (Charge) Kind() Kind           { return ChargeKind }
func (ChargeDensity) Kind() Kind    { return ChargeDensityKind }
func (Money) Kind() Kind            { return MoneyKind }
func (Ratio) Kind() Kind            { return RatioKind }
func (Percent) Kind() Kind          { return PercentKind }
func (Count) Kind() Kind            { return CountKind }
func (Density) Kind() Kind          { return DensityKind }
func (Expansion) Kind() Kind        { return ExpansionKind }
func (HeatConductivity) Kind() Kind { return HeatConductivityKind }
func (Resistivity) Kind() Kind      { return ResistivityKind }
func (Hardness) Kind() Kind         { return HardnessKind }
func (Power) Kind() Kind            { return PowerKind }
func (Frequency) Kind() Kind        { return FrequencyKind }
func (Resistance) Kind() Kind       { return ResistanceKind }
func (Volume) Kind() Kind           { return VolumeKind }
func (VolumeRate) Kind() Kind       { return VolumeRateKind }
func (LineLoad) Kind() Kind         { return LineLoadKind }

// Kind is apart from that of metals: a thousand million times as large.
func (LiquidResistivity) Kind() Kind { return LiquidResistivityKind }

// Range is what is known of a value: never below Low, never above High.
type Range struct{ Low, Likely, High float64 }

// Exactly is a range without width.
func Exactly(v float64) Range { return Range{v, v, v} }

// IsPoint reports whether the range has no width.
func (r Range) IsPoint() bool { return r.Low == r.High }

// String is the kind's name in a sentence.
func (k Kind) String() string { return k.face().name }

// Base is the symbol of the base unit; "" for plain numbers.
func (k Kind) Base() string { return k.face().base }

// Units lists the symbols offered for a kind, the base unit first.
func (k Kind) Units() []string {
	var out []string
	for _, u := range k.symbols() {
		out = append(out, u.symbol)
	}
	return out
}

// KindByName finds a kind by its name: "length", "area rate".
func KindByName(name string) (Kind, bool) {
	for k := LengthKind; k <= lastKind; k++ {
		if k.String() == name {
			return k, true
		}
	}
	return 0, false
}
