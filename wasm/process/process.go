// Package process is the law of a pass: from one cause, the energy of a spark,
// follow the gap, the stock left, the offset, the roughness, the molten layer, the
// area rate and the feed of every pass of a wire in a fluid through a height.
// The law is our own model unless a line names a source; its constants are data,
// each with a low, a likely and a high value, and the handbook prints them. It
// knows no text but the names of its constants. It may import unit and fit.
package process

import (
	"math"

	"kerfbook/wasm/unit"
)

// Constant names one constant of the law. Low and high are meant as five and
// ninety-five in a hundred of what shops would find.
type Constant uint8

// The constants, in the order of the table.
const (
	RoughEnergy   Constant    = iota // e, mJ: a roughing spark of a 0.25 mm wire
	EnergyPower                      // n: how that energy grows with the wire
	SkimShare                        // 1/ρ: how much less each skim spends
	VoltWater                        // V at the gap when it strikes in the last skim, water
	VoltWaterLow                     // the same with a finishing supply of low capacitance
	VoltOil                          // the same in oil
	StoreWater                       // C_m, pF: the charge that cannot be switched off, water
	StoreWaterLow                    // the same with a finishing supply of low capacitance
	StoreOil                         // the same in oil
	RaFactor                         // a, µm at 1 mJ
	RaPower                          // p
	LayerFactor                      // c
	LayerPower                       // q
	GapFactor                        // one factor of all gaps
	GapPower                         // how the gap follows the energy
	RoughRate                        // A_0, mm²/min: 0.25 mm, water, steel, 40 mm, class 1
	RatePower                        // how the rate grows with the wire
	RateRise                         // heights over diameter within which the rate rises
	RateFall                         // heights over diameter from which it falls
	TopFeed                          // v_top, mm/min: the fastest skim that a machine drives
	SkimPower                        // how a skim's volume rate follows its energy
	RaMaterial                       // m of the material
	RateMaterial                     // its share of the rate of steel
	GapMaterial                      // its factor of the gap
	LayerMaterial                    // its factor of the molten layer
	Constants     = int(iota)        // how many there are
)

// Names are the constants' keys in the handbook's table. The last four come from
// the row of the material.
func Names() [Constants]string {
	return [Constants]string{
		"rough-energy", "energy-power", "skim-share", "volt-water", "volt-water-low", "volt-oil", "store-water", "store-water-low", "store-oil",
		"ra-factor", "ra-power", "layer-factor", "layer-power", "gap-factor", "gap-power", "rough-rate", "rate-power", "rate-rise", "rate-fall",
		"top-feed", "skim-power", "ra", "rate", "gap", "layer",
	}
}

// Law holds the likely value of every constant and its spread: the standard
// deviation of its logarithm, ln(high/low) / 3.29.
type Law struct {
	Likely, Spread [Constants]float64
}

// nineInTen is how many standard deviations lie between five and ninety-five in a
// hundred of a normal distribution.
const nineInTen = 2 * 1.6448536269514722

// Set puts a constant's range into the law. All three values must be above 0.
func (l *Law) Set(c Constant, low, likely, high float64) {
	l.Likely[c], l.Spread[c] = likely, math.Log(high/low)/nineInTen
}

// Material is what the law knows of a work material: its factors, and how the
// share of the rate depends on the wire.
type Material struct {
	Ra, Rate, Gap, Layer unit.Range
	RatePower            float64 // the share grows with (d / 0.25 mm) to this power, at most to 1
	NoLayer              bool    // it does not melt
}

// With returns the law for a material.
func (l Law) With(m Material) Law {
	for _, f := range [...]struct {
		c Constant
		r unit.Range
	}{{RaMaterial, m.Ra}, {RateMaterial, m.Rate}, {GapMaterial, m.Gap}, {LayerMaterial, m.Layer}} {
		l.Set(f.c, f.r.Low, f.r.Likely, f.r.High)
	}
	return l
}

// ByMelting returns the factors of a material of which nothing is known but its
// melting point, as the ratio to that of steel, both in °C: the share of the rate
// goes with the power -1.23 of the two textbooks' law of die-sinking (Kalpakjian
// and Schmid; Groover), and is off by 2.4 times either way, which is what leaving
// each listed material out in turn showed. The rest is our estimate.
func ByMelting(ratio float64) Material {
	rate := math.Pow(ratio, -1.23)
	return Material{Ra: about(1, 1.5), Rate: about(rate, 2.4), Gap: about(1, 1.25), Layer: about(1, 2)}
}

func about(v, times float64) unit.Range {
	return unit.Range{Low: v / times, Likely: v, High: v * times}
}

// Fluid is what the gap is filled with.
type Fluid uint8

// The fluids.
const (
	Water Fluid = iota
	Oil
)

// Setup is what stays the same over the passes of one part.
type Setup struct {
	Wire, Height unit.Length
	Fluid        Fluid
	LowSupply    bool    // water: a finishing supply of low capacitance
	Class        float64 // of the machine's card: 1 precision, 1.57 production
	Flushing     float64 // share of the rate with both nozzles closed; 0 is taken as 1
	RatePower    float64 // of the material
	NoLayer      bool    // of the material
	Shape        unit.Length
	Stored       float64 // pF that cannot be switched off, as the card's finest face tells; 0 takes the constant
}

// Precision and Production are the two classes of a machine's card.
const (
	Precision  = 1.0
	Production = 1.57
)

// Bounds of the law: outside them no number is printed.
const (
	WireFrom, WireTo     unit.Length = 0.02, 0.36
	HeightFrom, HeightTo unit.Length = 0.3, 400
)

// Covers reports whether the law may be asked: the wire and the height lie within
// its bounds.
func (s Setup) Covers() bool {
	return s.Wire >= WireFrom && s.Wire <= WireTo && s.Height >= HeightFrom && s.Height <= HeightTo
}
