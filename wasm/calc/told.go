package calc

import (
	"math"

	"kerfbook/wasm/unit"
)

// sound reports whether a range can be told: three numbers, none above the next.
func sound(r unit.Range) bool {
	return r.Low <= r.Likely && r.Likely <= r.High && !math.IsInf(r.Low, 0)
}

// unsound says that an answer was left out because its range cannot be.
func unsound(label string) string {
	return label + " is left out: its range came out with its ends the wrong way round, a fault of this calculator."
}

func printRange(k unit.Kind, r unit.Range, st unit.Style) string {
	if math.IsInf(r.High, 1) || math.IsInf(r.Likely, 1) {
		return "no limit"
	}
	return unit.PrintRange(k, r, st)
}

// style is the printed form of an answer for the reader's system.
func (o Out) style(s unit.System) unit.Style {
	if s == unit.Inch && o.InchUnit != "" {
		return unit.Style{Unit: o.InchUnit, Decimals: o.InchDecimals, Trim: true}
	}
	if s == unit.Metric && o.Unit != "" || o.Unit != "" && o.InchUnit == "" && o.Kind.Style(unit.Inch).Unit == o.Kind.Style(unit.Metric).Unit {
		return unit.Style{Unit: o.Unit, Decimals: o.Decimals, Trim: true}
	}
	st := o.Kind.Style(s)
	if o.Unit == "" && o.Decimals > 0 {
		st.Decimals = o.Decimals
	}
	return st
}
