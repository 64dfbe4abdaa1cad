package process

import (
	"math"

	"kerfbook/wasm/unit"
)

// Demand names one thing that a print asks for and that might be asked for otherwise.
type Demand uint8

// The demands.
const (
	AskRadius Demand = iota
	AskSlot
	AskRa
	AskWidth
	Demands = int(iota)
)

// Value is what the print demands, in mm or µm; 0 where it demands nothing.
func (of Print) Value(d Demand) float64 {
	switch d {
	case AskRadius:
		return float64(of.Radius)
	case AskSlot:
		return float64(of.Slot)
	case AskRa:
		return float64(of.Ra)
	}
	return float64(of.Width)
}

// With is the print with another value of one demand.
func (of Print) With(d Demand, v float64) Print {
	switch d {
	case AskRadius:
		of.Radius = unit.Length(v)
	case AskSlot:
		of.Slot = unit.Length(v)
	case AskRa:
		of.Ra = unit.Roughness(v)
	default:
		of.Width = unit.Length(v)
	}
	return of
}

// preferred returns the numbers of series R 20 within a decade. ISO 3, from memory.
func preferred() [20]float64 {
	return [...]float64{1, 1.12, 1.25, 1.4, 1.6, 1.8, 2, 2.24, 2.5, 2.8, 3.15, 3.55, 4, 4.5, 5, 5.6, 6.3, 7.1, 8, 9}
}

// Steps by which a face and a tolerance are asked for finer: roughness by the steps
// of its usual values, a tolerance by those between grades of ISO 286.
const (
	raStep    = 1.25
	widthStep = 1.6
)

// Notch is the print with one demand a notch easier or harder: a radius and a slot by
// the next number of series R 20, a face by a quarter, a tolerance by one grade.
func (of Print) Notch(d Demand, harder bool) Print {
	v := of.Value(d)
	switch d {
	case AskRadius, AskSlot:
		// A wider radius or slot is easier.
		return of.With(d, nextPreferred(v, !harder))
	case AskRa:
		return of.With(d, step(v, raStep, !harder))
	}
	return of.With(d, step(v, widthStep, !harder))
}

// step multiplies or divides, to three figures.
func step(v, by float64, up bool) float64 {
	if !up {
		by = 1 / by
	}
	return figures(v*by, 3)
}

// figures rounds to so many significant figures.
func figures(v float64, n int) float64 {
	scale := math.Pow(10, float64(n-1)-math.Floor(math.Log10(v)))
	return math.Round(v*scale) / scale
}

// nextPreferred is the nearest number of series R 20 above or below a value.
func nextPreferred(v float64, up bool) float64 {
	best := 0.0
	decade := math.Pow(10, math.Floor(math.Log10(v))-1)
	for range 3 {
		for _, p := range preferred() {
			x := figures(p*decade, 3)
			if up && x > v*(1+hair) && best == 0 || !up && x < v*(1-hair) {
				best = x
			}
		}
		decade *= 10
	}
	return best
}

// Priced is the print with one demand changed, and the best process for it.
type Priced struct {
	Demand Demand
	Asks   float64 // instead of what the print asks
	Best   Weighed
	OK     bool // there is a process at all
}

// Prices says what each demand costs: for each alone, a notch easier and a notch
// harder, the cheapest good piece. ways gives the processes for a print.
func Prices(of Print, ways func(Print) []*Process) []Priced {
	var out []Priced
	for d := range Demand(Demands) {
		if of.Value(d) <= 0 {
			continue
		}
		for _, harder := range [...]bool{false, true} {
			asks := of.Notch(d, harder)
			p := Priced{Demand: d, Asks: asks.Value(d)}
			if best, all := Weigh(ways(asks), asks, Cheapest); best >= 0 {
				p.Best, p.OK = all[best], true
			}
			out = append(out, p)
		}
	}
	return out
}

// notches is how far the least change is looked for: two decades of a radius.
const notches = 40

// LeastChange is the one demand that, made easier by the fewest notches, lets a print
// through: to a plain yes, or, where none does, to only if. false where no change of
// one demand helps. was is the verdict without a change.
func LeastChange(of Print, was Verdict, ways func(Print) []*Process) (Priced, bool) {
	var found Priced
	ok := false
	for want := Yes; want < was && !ok; want++ {
		least := notches
		for d := range Demand(Demands) {
			if of.Value(d) <= 0 {
				continue
			}
			asks := of
			for n := 1; n < least; n++ {
				asks = asks.Notch(d, false)
				best, all := Weigh(ways(asks), asks, Cheapest)
				if best >= 0 && all[best].Verdict <= want {
					found, ok, least = Priced{d, asks.Value(d), all[best], true}, true, n
				}
			}
		}
	}
	return found, ok
}
