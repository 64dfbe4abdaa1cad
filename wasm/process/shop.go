package process

import (
	"math"

	"kerfbook/wasm/fit"
	"kerfbook/wasm/unit"
)

// Kind is what a reading is of.
type Kind uint8

// The kinds of readings.
const (
	RateOf  Kind = iota // area rate of roughing
	SkimOf              // feed of a skim, for what it takes
	GapOf               // gap a side
	RaOf                // roughness
	LayerOf             // molten layer
	Kinds   = int(iota)
)

// Cut is one pass that a shop cut and read.
type Cut struct {
	_ [0]func() // never compared, so no code for comparing is made
	Setup
	Law      *Law   // of the cut's material
	Material string // keys: what is equal is the same
	Machine  string
	Job      string
	Pass     int         // 1 is roughing
	Takes    unit.Length // a side, of a skim; 0 takes the law's
	Read     [Kinds]float64
}

// What a shop differs by that the law's constants do not hold, as standard
// deviations of logarithms: a material from its own general factors, a machine
// from its class. Our estimate.
const apart = 0.10

// jobShare is what the passes of one job err together, as a share of the noise.
// Our estimate.
const jobShare = 0.7

// noises are the values that the noise of a reading is looked for among, with
// log-normal weights about 0.075. Our estimate.
func noises() fit.Noise {
	n := fit.Noise{SD: []float64{0.04, 0.055, 0.075, 0.10, 0.14, 0.19}, Share: jobShare}
	for _, s := range n.SD {
		x := math.Log(s/0.075) / math.Log(1.5)
		n.Weight = append(n.Weight, math.Exp(-x*x/2))
	}
	return n
}

// misread is the standard deviation of the logarithm that reading a value leaves:
// a gap and a layer to 1 µm, Ra to 0.02 µm and a twentieth.
func misread(k Kind, v float64) float64 {
	switch k {
	case GapOf, LayerOf:
		return 0.001 / v
	case RaOf:
		return 0.02/v + 0.05
	}
	return 0
}

// Shop is the law as a shop's own cuts leave it. With no cut it is the general law.
type Shop struct {
	belief    *fit.Belief
	prior     []float64
	materials []string
	machines  []string
	general   [Constants]float64 // spreads of the constants that all materials share
	readings  []fit.Reading
	cuts      []Cut
	moved     []float64 // where the unknowns stand about which the law is drawn straight
}

// ownFrom is the first constant that belongs to a material.
const ownFrom = RaMaterial

// Learn reads a shop's cuts. Each cut's law must be the one law with the factors
// of the cut's material; a reading of 0 was not taken.
func Learn(general *Law, cuts []Cut) (*Shop, error) {
	s := &Shop{cuts: cuts}
	copy(s.general[:], general.Spread[:ownFrom])
	at := func(list *[]string, key string) {
		for _, old := range *list {
			if old == key {
				return
			}
		}
		*list = append(*list, key)
	}
	for _, c := range cuts {
		at(&s.materials, c.Material)
		at(&s.machines, c.Machine)
	}
	s.prior = make([]float64, s.width())
	for i, sd := range s.general[:ownFrom] {
		s.prior[i] = small(sd)
	}
	for i := int(ownFrom); i < len(s.prior); i++ {
		s.prior[i] = apart
	}
	for i, m := range s.materials {
		for _, c := range cuts {
			if c.Material == m {
				for f := ownFrom; int(f) < Constants; f++ {
					s.prior[s.own(i)+int(f-ownFrom)] = small(c.Law.Spread[f])
				}
			}
		}
	}
	s.moved = make([]float64, len(s.prior))
	for range settles {
		if err := s.learn(); err != nil {
			return nil, err
		}
		if len(cuts) == 0 {
			break
		}
		s.move()
	}
	return s, s.learn()
}

// settles is how often the law is drawn as straight lines anew about what the cuts
// say: it is curved, and a shop may lie far from its middle.
const settles = 1

// learn reads the cuts with the law straight about where it was moved to.
func (s *Shop) learn() error {
	blocks := map[[2]string]int{}
	s.readings = s.readings[:0]
	for _, c := range s.cuts {
		l := s.Law(c.Law, c.Material)
		for k := range Kind(Kinds) {
			v := c.Read[k]
			if v == 0 {
				continue
			}
			q := l.Of(c.Setup, k, c.Pass, c.Takes)
			key := [2]string{c.Job, string(rune('0' + k))}
			if _, ok := blocks[key]; !ok {
				blocks[key] = len(blocks)
			}
			row, _ := s.row(&q.By, k, c.Law, c.Material, c.Machine)
			s.readings = append(s.readings, fit.Reading{Row: row, Y: math.Log(v/q.Value) + s.along(row), Error: misread(k, q.Value), Block: blocks[key]})
		}
	}
	var err error
	s.belief, err = fit.Learn(s.prior, s.readings, noises())
	return err
}

// move puts the constants where the cuts say that they likely are.
func (s *Shop) move() {
	s.moved = s.belief.Middle()
}

// along is what the moved constants make of a row; what a shop differs by besides
// does not bend the law and is not moved.
func (s *Shop) along(row []float64) float64 {
	sum := 0.0
	for i := range row {
		if s.bends(i) {
			sum += row[i] * s.moved[i]
		}
	}
	return sum
}

// bends reports whether an unknown is a constant of the law.
func (s *Shop) bends(i int) bool {
	if i < int(ownFrom) {
		return true
	}
	i -= int(ownFrom)
	each := Constants - int(ownFrom) + Kinds
	return i < len(s.materials)*each && i%each < Constants-int(ownFrom)
}

// Law returns the law of a material with its constants where the shop's cuts say
// that they likely are.
func (s *Shop) Law(l *Law, material string) *Law {
	out := *l
	for i := range out.Likely[:ownFrom] {
		out.Likely[i] *= math.Exp(s.moved[i])
	}
	if m := index(s.materials, material); m >= 0 {
		for i := ownFrom; int(i) < Constants; i++ {
			out.Likely[i] *= math.Exp(s.moved[s.own(m)+int(i-ownFrom)])
		}
	}
	return &out
}

// small keeps a constant that has no spread from having no row.
func small(sd float64) float64 { return max(sd, 1e-9) }

// The unknowns: the constants that all materials share, then for each material its
// own factors and what it differs by for each kind, then for each machine that.
func (s *Shop) own(material int) int { return int(ownFrom) + material*(Constants-int(ownFrom)+Kinds) }

func (s *Shop) machine(i int) int { return s.own(len(s.materials)) + i*Kinds }

func (s *Shop) width() int { return s.machine(len(s.machines)) }

// row is a quantity as it hangs on the unknowns, and the variance of what no cut
// speaks of: a material or a machine that was never cut.
func (s *Shop) row(by *Gradient, k Kind, l *Law, material, machine string) (row []float64, own float64) {
	row = make([]float64, s.width())
	copy(row, by[:ownFrom])
	if i := index(s.materials, material); i >= 0 {
		copy(row[s.own(i):], by[ownFrom:])
		row[s.own(i)+Constants-int(ownFrom)+int(k)] = 1
	} else {
		own += apart * apart
		for f := ownFrom; int(f) < Constants; f++ {
			own += by[f] * by[f] * l.Spread[f] * l.Spread[f]
		}
	}
	if i := index(s.machines, machine); i >= 0 {
		row[s.machine(i)+int(k)] = 1
	} else {
		own += apart * apart
	}
	return row, own
}

func index(list []string, key string) int {
	for i, k := range list {
		if k == key {
			return i
		}
	}
	return -1
}

// Of returns one quantity of a pass with its gradient; takes is what a skim takes
// a side, 0 for what the law would take.
func (l *Law) Of(s Setup, k Kind, pass int, takes unit.Length) Quantity {
	t := l.at(s)
	if k == RateOf || k == SkimOf && pass == 1 {
		return t.area
	}
	p := t.pass(pass-1, true)
	switch k {
	case GapOf:
		return Quantity{float64(p.Gap), p.Gradient.Gap}
	case RaOf:
		return Quantity{float64(p.Ra), p.Gradient.Ra}
	case LayerOf:
		return Quantity{float64(p.Layer), p.Gradient.Layer}
	}
	list := []Pass{t.pass(pass-2, true), p}
	if takes > 0 {
		list[0].Left, list[1].Left = takes, 0
		list[0].Gradient.Left, list[1].Gradient.Left = Gradient{}, Gradient{}
	}
	t.feed(&list[1], list[0])
	return Quantity{float64(list[1].Feed), list[1].Gradient.Feed}
}

// Ask is which of three ranges is wanted.
type Ask uint8

// The three ranges.
const (
	Mean Ask = iota // the process's own mean
	Next            // the next reading of a new job
)

// Predict returns a quantity of a pass as the shop's cuts leave it: the
// distribution of its logarithm. l is the law with the factors of the material.
func (s *Shop) Predict(l *Law, set Setup, k Kind, pass int, takes unit.Length, material, machine string, ask Ask) fit.Mixture {
	return s.predict(s.Law(l, material).Of(set, k, pass, takes), k, l, material, machine, ask)
}

// PredictFloor is Predict for the roughness that no number of passes passes below.
func (s *Shop) PredictFloor(l *Law, set Setup, material, machine string) fit.Mixture {
	return s.predict(s.Law(l, material).Floor(set, true), RaOf, l, material, machine, Next)
}

func (s *Shop) predict(q Quantity, k Kind, l *Law, material, machine string, ask Ask) fit.Mixture {
	row, own := s.row(&q.By, k, l, material, machine)
	of := 0.0
	if ask == Next {
		of = 1 + jobShare*jobShare
	}
	m := s.belief.At(row, own, of)
	shift := math.Log(q.Value) - s.along(row)
	for i := range m.Mean {
		m.Mean[i] += shift
	}
	return m
}

// Alone is the nine in ten of the next reading of a quantity where no cut was read:
// the law's own spread, what a material and a machine differ by, and the usual noise.
func (l *Law) Alone(q Quantity) unit.Range {
	const noise = 0.075 * 0.075 * (1 + jobShare*jobShare)
	dev := l.Deviation(&q.By)
	f := math.Exp(nineInTen / 2 * math.Sqrt(dev*dev+2*apart*apart+noise))
	return unit.Range{Low: q.Value / f, Likely: q.Value, High: q.Value * f}
}

// NineInTen is the range that nine in ten of a logarithm's distribution lie in, and
// its middle.
func NineInTen(m fit.Mixture) unit.Range {
	return unit.Range{Low: math.Exp(m.Quantile(0.05)), Likely: math.Exp(m.Quantile(0.5)), High: math.Exp(m.Quantile(0.95))}
}
