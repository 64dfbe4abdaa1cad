package rules

import (
	"math"
	"slices"
)

// Audit is what a sweep over many cases says about the rules.
type Audit struct {
	Unfired []Rule      // rules that no case fires
	Pairs   [][2]string // rules that ask for different things of the same case, with no order between them
	Cases   int
}

// Sweep notes of many cases which rules fire and which pairs disagree.
type Sweep struct {
	table *Table
	fired []bool
	seen  map[[2]string]bool
	pairs [][2]string
	cases int
}

// NewSweep begins a sweep of the table.
func (t *Table) NewSweep() *Sweep {
	return &Sweep{table: t, fired: make([]bool, len(t.List)), seen: map[[2]string]bool{}}
}

// Fires notes which rules fire in a case that ran.
func (s *Sweep) Fires(c *Case) {
	s.cases++
	for i := range c.Out {
		o := &c.Out[i]
		for _, k := range slices.Concat(o.Fired, o.Against, o.Clash) {
			s.fired[k] = true
		}
	}
}

// Note notes which rules fire in a case that ran, and which of them disagree.
func (s *Sweep) Note(c *Case) {
	s.Fires(c)
	for i := range c.Out {
		o := &c.Out[i]
		if len(o.Clash) == 0 {
			continue
		}
		first := o.Fired
		if s.table.Steps[i].Kind == Bound || len(first) == 0 {
			first = o.Clash[:1]
		}
		for _, k := range o.Clash {
			s.pair([2]string{s.table.List[first[0]].Name, s.table.List[k].Name})
		}
	}
}

func (s *Sweep) pair(p [2]string) {
	if p[0] != p[1] && !s.seen[p] {
		s.seen[p] = true
		s.pairs = append(s.pairs, p)
	}
}

// Add takes over what another sweep of the same table noted.
func (s *Sweep) Add(other *Sweep) {
	s.cases += other.cases
	for k, did := range other.fired {
		s.fired[k] = s.fired[k] || did
	}
	for _, p := range other.pairs {
		s.pair(p)
	}
}

// Audit is what was found.
func (s *Sweep) Audit() Audit {
	out := Audit{Pairs: s.pairs, Cases: s.cases}
	for i, did := range s.fired {
		if !did {
			out.Unfired = append(out.Unfired, s.table.List[i])
		}
	}
	return out
}

// Dice is a small generator of even numbers (splitmix64), the same everywhere.
type Dice uint64

// Next is the next 64 bits.
func (d *Dice) Next() uint64 {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Part is a number from 0 up to 1.
func (d *Dice) Part() float64 { return float64(d.Next()>>11) / (1 << 53) }

// One picks a word.
func (d *Dice) One(words []string) string { return words[d.Next()%uint64(len(words))] }

// Span is a number between two, even in its logarithm.
func (d *Dice) Span(low, high float64) float64 {
	return low * math.Pow(high/low, d.Part())
}
