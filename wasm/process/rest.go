package process

import "kerfbook/wasm/unit"

// Rest is what cannot be switched off: the charge that a last spark has when
// nothing else is left to it.
type Rest struct {
	Gap    unit.Length // a side, at which it strikes
	Wall   float64     // pF of the wire before the wall
	Stored float64     // pF that the machine and its leads hold
	Volts  float64
	Energy float64 // mJ
}

// Rest returns the charge of the last spark at its gap.
func (l *Law) Rest(s Setup) Rest {
	t := l.at(s)
	g, e, _ := t.solve(0)
	return Rest{Gap: unit.Length(g * l.Likely[GapMaterial]), Wall: t.wall(g) * 1e12, Stored: t.cm, Volts: l.Likely[t.volt], Energy: e}
}

// RestConstants are the two constants that the charge of a setup hangs on: the
// voltage when it strikes, and the capacitance of the machine and its leads.
func (s Setup) RestConstants() (volts, store Constant) {
	switch {
	case s.Fluid == Oil:
		return VoltOil, StoreOil
	case s.LowSupply:
		return VoltWaterLow, StoreWaterLow
	}
	return VoltWater, StoreWater
}
