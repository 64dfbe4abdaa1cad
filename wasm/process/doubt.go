package process

import (
	"math"

	"kerfbook/wasm/fit"
	"kerfbook/wasm/unit"
)

// Held is one reading held against what the law of all the others says.
type Held struct {
	Cut   int // among the cuts that the shop learnt from
	Kind  Kind
	Read  float64
	Says  unit.Range // nine in ten of such a reading by the others
	Share float64    // of readings that would lie as far off, to either side
	Odd   bool       // the others cannot believe it
}

// oddShare is the share below which a reading cannot be believed, divided by the
// number of readings, since among many one lies far off; oddFrom how many cuts it
// takes to say so.
const (
	oddShare = 0.01
	oddFrom  = 3
)

// Held holds every reading against the others. None is dropped.
func (s *Shop) Held() []Held {
	var out []Held
	cuts := 0
	for i, c := range s.cuts {
		was := len(out)
		for k := range Kind(Kinds) {
			if c.Read[k] != 0 {
				out = append(out, Held{Cut: i, Kind: k, Read: c.Read[k]})
			}
		}
		if len(out) > was {
			cuts++
		}
	}
	for i, m := range s.belief.Without(s.readings) {
		h, y := &out[i], s.readings[i].Y
		shift := math.Log(h.Read) - y
		for j := range m.Mean {
			m.Mean[j] += shift
		}
		below := m.Below(math.Log(h.Read))
		h.Says, h.Share = NineInTen(m), 2*min(below, 1-below)
		h.Odd = cuts >= oddFrom && h.Share < oddShare/float64(len(out))
	}
	return out
}

// Drift is a change of a machine's rate of roughing with the date.
type Drift struct {
	From, To float64 // the days of its first and its last reading
	Change   float64 // of the rate's logarithm over that time
	SD       float64
}

// driftFrom is how many rates, on how many days, it takes to speak of a drift, and
// driftOff how many standard errors off zero it must be.
const (
	driftFrom = 4
	driftDays = 3
	driftOff  = 2
)

// Drift lays a straight line over the date through what the law leaves of one
// machine's rates, everything else learnt beside it, and reports whether its slope
// is 2 standard errors off zero. days are those of the cuts, NaN where none is
// written. The line has no prior: only the readings speak.
func (s *Shop) Drift(machine string, days []float64) (Drift, bool) {
	d := Drift{From: math.Inf(1), To: math.Inf(-1)}
	var at []float64 // of each reading, NaN where the line does not touch it
	seen := map[float64]bool{}
	count := 0
	for i, c := range s.cuts {
		for k := range Kind(Kinds) {
			if c.Read[k] == 0 {
				continue
			}
			day := math.NaN()
			if k == RateOf && c.Machine == machine {
				day = math.Inf(1) // at any time
				if !math.IsNaN(days[i]) {
					day = days[i]
					d.From, d.To, seen[day] = min(d.From, day), max(d.To, day), true
					count++
				}
			}
			at = append(at, day)
		}
	}
	if count < driftFrom || len(seen) < driftDays {
		return d, false
	}
	var list []fit.Reading
	for i, r := range s.readings {
		x := 0.0
		switch {
		case math.IsInf(at[i], 1):
			x = 0.5 // nobody wrote when
		case !math.IsNaN(at[i]):
			x = (at[i] - d.From) / (d.To - d.From)
		}
		r.Row = append(append([]float64{}, r.Row...), x)
		list = append(list, r)
	}
	prior := append(append([]float64{}, s.prior...), math.Inf(1))
	b, err := fit.Learn(prior, list, noises())
	if err != nil {
		return d, false
	}
	slope := make([]float64, len(prior))
	slope[len(prior)-1] = 1
	m := b.At(slope, 0, 0)
	square := 0.0
	for i, w := range m.Weight {
		d.Change += w * m.Mean[i]
		square += w * (m.SD[i]*m.SD[i] + m.Mean[i]*m.Mean[i])
	}
	d.SD = math.Sqrt(square - d.Change*d.Change)
	return d, math.Abs(d.Change) > driftOff*d.SD
}
