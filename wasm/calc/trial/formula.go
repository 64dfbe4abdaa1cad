// Package trial answers what a test cut says: the gap of the pass that cut a
// slot, the offset correction of an opening or punch, the rate, and the
// roughness fitted against energy. It may import book, calc, figure, fit and unit.
package trial

import (
	"math"

	"kerfbook/wasm/fit"
	"kerfbook/wasm/unit"
)

// Gap returns the gap on each side of the one pass that cut a slot: (slot - d)/2,
// the kerf of Kalpakjian & Schmid turned round (place not seen).
func Gap(slot, d unit.Length) unit.Length { return (slot - d) / 2 }

// Correction returns what is added to the offset of the pass that made a size:
// half the size error, more when there is too little metal. stay is the stock
// meant to stay on each wall. Geometry: a width has two walls.
func Correction(measured, program, stay unit.Length, opening bool) unit.Length {
	if opening {
		return (measured - (program - 2*stay)) / 2
	}
	return ((program + 2*stay) - measured) / 2
}

// WallGap returns the gap of the pass that made the wall of a size, from its
// offset: o - d/2 + (W - W0)/2 for an opening; a punch turns the last sign.
// Geometry.
func WallGap(offset, d, measured, program unit.Length, opening bool) unit.Length {
	return offset - d/2 + Correction(measured, program, 0, opening)
}

// Takes returns what each pass after the first takes off the wall:
// (o₁ - g₁) - (o₂ - g₂). Geometry.
func Takes(offsets, gaps []unit.Length) []unit.Length {
	out := make([]unit.Length, len(offsets))
	for i := 1; i < len(offsets); i++ {
		out[i] = (offsets[i-1] - gaps[i-1]) - (offsets[i] - gaps[i])
	}
	return out
}

// Law is roughness against energy: Ra = K Eⁿ, E in mJ and Ra in µm.
type Law struct {
	K, N float64
	SD   float64 // of the exponent
	t    float64 // Student's t
	log  bool    // scatter in proportion: fitted in logarithms
	f    *fit.Fit
}

// Fit fits the law to readings. In proportion, logarithms make it a straight
// line; otherwise the curve itself is fitted, from where that line starts it.
func Fit(e, ra []float64, share float64, proportion bool) (*Law, error) {
	var rows [][]float64
	var y []float64
	for i := range e {
		rows, y = append(rows, []float64{1, math.Log(e[i])}), append(y, math.Log(ra[i]))
	}
	f, err := fit.Linear(rows, y)
	if err != nil {
		return nil, err
	}
	l := &Law{K: math.Exp(f.B[0]), N: f.B[1], log: proportion, f: f}
	if !proportion {
		if l.f, err = fit.Curve(power, e, ra, []float64{l.K, l.N}); err != nil {
			return nil, err
		}
		l.K, l.N = l.f.B[0], l.f.B[1]
	}
	l.SD, l.t = l.f.SD[1], fit.T(share, l.f.DF)
	return l, nil
}

func power(b []float64, e float64, d []float64) float64 {
	v := math.Pow(e, b[1])
	if d != nil {
		d[0], d[1] = v, b[0]*v*math.Log(e)
	}
	return b[0] * v
}

// At returns the fitted roughness at an energy.
func (l *Law) At(e float64) float64 { return l.K * math.Pow(e, l.N) }

// Limits returns the limits of the fitted roughness at an energy, by Student's
// t; with one set, those of one more reading.
func (l *Law) Limits(e float64, one bool) (low, high float64) {
	v := l.At(e)
	x := []float64{1, math.Log(e)}
	if !l.log {
		power(l.f.B, e, x)
	}
	sd := l.f.Along(x)
	if one {
		sd = math.Hypot(sd, l.f.S)
	}
	if l.log {
		return v * math.Exp(-l.t*sd), v * math.Exp(l.t*sd)
	}
	return max(0, v-l.t*sd), v + l.t*sd
}

// Half is half the width of the exponent's limits.
func (l *Law) Half() float64 { return l.t * l.SD }
