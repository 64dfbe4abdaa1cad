package process

import (
	"math"

	"kerfbook/wasm/unit"
)

// Print is what a drawing demands of the process, as far as the process decides it.
type Print struct {
	Radius unit.Length    // the largest inside radius that may be left; 0 where none bounds it
	Slot   unit.Length    // the narrowest slot; 0 where there is none
	Ra     unit.Roughness // the coarsest face
	Width  unit.Length    // the whole width of the closest tolerance
}

// Process is one way to cut a part, and what comes of it.
type Process struct {
	_      [0]func() // never compared, so no code for comparing is made
	Wire   unit.Length
	Fluid  Fluid
	Passes int

	Even    bool        // roughing is to keep its stock in the corner
	Left    unit.Range  // inside radius that the last pass leaves, mm
	Rough   unit.Range  // kerf of roughing, mm
	Stock   unit.Length // a side that roughing leaves
	Ra      unit.Range  // of the last pass, µm
	Shape   unit.Length // how hollow or round the last pass leaves the wall
	Read    unit.Length // by how much a reading of a size is off
	Hours   unit.Range  // of one piece
	Cutting unit.Range  // hours of it in which the wire cuts
	Cost    float64     // of one attempt
	Skim    float64     // of one more skim, where a face can be cut again
	Others  []Bound     // limits that no demand of the print moves
	Useful  bool        // its last pass gains and takes something
	Asked   bool        // it has the passes that good practice asks for
}

// Limit names what holds a process back.
type Limit uint8

// The limits.
const (
	Corner    Limit       = iota // the last pass reaches into the inside corner
	EvenStock                    // roughing keeps its stock in the corner
	SlotRough                    // roughing goes into the slot
	SlotSkims                    // so do the skims of both walls
	Finish                       // the face
	Wall                         // the wall's shape within the tolerance
	Reading                      // a size can be read closely enough
	Height                       // the wire can be threaded and run through the part
	Hole                         // a hole that threads it goes into what falls out
	Spool                        // one spool lasts while nobody is there
	Card                         // the machine takes it
	Limits    = int(iota)        // how many there are
)

// State is how a limit stands.
type State uint8

// The states, from the best.
const (
	Holds   State = iota // the printed range lies inside
	MayFail              // part of it lies outside
	Asks                 // somebody's word is needed, or it holds only in part
	Fails                // it is more likely outside than not
)

// Bound is one limit held against a process.
type Bound struct {
	Limit Limit
	State State
	Asks  float64    // what is demanded, in the unit of what it gets; 0 where it is no number
	Gets  unit.Range // what the process gives
	Share float64    // of such jobs in which it fails
}

// Margin is what is left between the likely value and the demand, below 0 where it
// is missed.
func (h Bound) Margin() float64 { return h.Asks - h.Gets.Likely }

// A printed range ends where one in twenty lies beyond: up to that a limit holds.
// What is more likely missed than not fails.
const (
	holdsTo = 0.05
	failsAt = 0.5
	sumTo   = 0.1 // what all limits may add up to under a plain Yes
)

// Above is the share of a distribution above a limit, where r are its five, fifty
// and ninety-five in a hundred: two halves of log-normal bells that meet in the middle.
func Above(r unit.Range, limit float64) float64 {
	switch {
	case limit <= 0:
		return 1
	case r.Low <= 0 || r.Low >= r.High: // known
		if r.Likely > limit {
			return 1
		}
		return 0
	}
	side := r.High / r.Likely
	if limit < r.Likely {
		side = r.Likely / r.Low
	}
	z := math.Log(limit/r.Likely) / math.Log(side) * nineInTen / 2
	return math.Erfc(z/math.Sqrt2) / 2
}

// above holds a value that may be missed upwards.
func above(l Limit, asks float64, gets unit.Range, share float64) Bound {
	h := Bound{Limit: l, Asks: asks, Gets: gets, Share: share}
	switch {
	case share > failsAt:
		h.State = Fails
	case share > holdsTo:
		h.State = MayFail
	}
	return h
}

// Limits holds a process against a print: every limit that applies, in the order of
// their names.
func (p *Process) Limits(of Print) []Bound {
	out := make([]Bound, 0, Limits)
	if of.Radius > 0 {
		half := float64(p.Wire) / 2
		gap := unit.Range{Low: p.Left.Low - half, Likely: p.Left.Likely - half, High: p.Left.High - half}
		out = append(out, above(Corner, float64(of.Radius), p.Left, Above(gap, float64(of.Radius)-half)))
		if p.Even && p.Passes > 1 {
			needs := p.Rough.Likely/2 + float64(p.Stock)
			h := Bound{Limit: EvenStock, Asks: float64(of.Radius), Gets: unit.Exactly(needs)}
			if needs > float64(of.Radius)+hair {
				h.State = Asks
			}
			out = append(out, h)
		}
	}
	if of.Slot > 0 {
		d := float64(p.Wire)
		gaps := unit.Range{Low: p.Rough.Low - d, Likely: p.Rough.Likely - d, High: p.Rough.High - d}
		out = append(out, above(SlotRough, float64(of.Slot), p.Rough, Above(gaps, float64(of.Slot)-d)))
		if p.Passes > 1 {
			needs := p.Rough.Likely + 2*float64(p.Stock)
			h := Bound{Limit: SlotSkims, Asks: float64(of.Slot), Gets: unit.Exactly(needs)}
			if needs > float64(of.Slot)+hair {
				h.State = Asks
			}
			out = append(out, h)
		}
	}
	if of.Ra > 0 {
		out = append(out, above(Finish, float64(of.Ra), p.Ra, Above(p.Ra, float64(of.Ra)*(1+hair))))
	}
	if of.Width > 0 && p.Passes > 1 {
		h := Bound{Limit: Wall, Asks: float64(of.Width), Gets: unit.Exactly(float64(p.Shape))}
		if p.Shape > of.Width {
			h.State = Asks
		}
		out = append(out, h)
	}
	if of.Width > 0 && p.Read > 0 {
		h := Bound{Limit: Reading, Asks: float64(of.Width) / 2, Gets: unit.Exactly(float64(p.Read))}
		switch share := float64(p.Read) / h.Asks; {
		case share >= 1-hair:
			h.State, h.Share = Fails, 1
		case share > readsTo+hair:
			h.State = Asks
		}
		out = append(out, h)
	}
	return append(out, p.Others...)
}

// readsTo is the share of half a tolerance that a reading may spend without a word.
// Common practice, no source.
const readsTo = 0.3

// hair is the difference below which two values count as equal.
const hair = 1e-9

// Verdict is what a process's limits come to.
type Verdict uint8

// The verdicts, from the best.
const (
	Yes Verdict = iota
	OnlyIf
	No
)

// Judge says whether a process is sure: yes where every limit holds and what may
// fail adds up to one in ten at most, which is true whatever hangs together; no
// where one fails, or the sum is above a half; else only if. sum is at most 1.
func Judge(list []Bound) (v Verdict, sum float64) {
	for _, h := range list {
		sum += h.Share
		switch h.State {
		case Fails:
			v = No
		case MayFail, Asks:
			v = max(v, OnlyIf)
		}
	}
	switch {
	case sum > failsAt:
		v = No
	case sum > sumTo:
		v = max(v, OnlyIf)
	}
	return v, min(sum, 1)
}

// Weighed is one process held against a print.
type Weighed struct {
	*Process
	Bounds  []Bound
	Verdict Verdict
	Share   float64 // what may fail, added up
	Words   int     // how many limits need somebody's word
	Miss    float64 // how far off the limits that fail are, as logarithms, added up
	Good    float64 // expected cost of a good piece
}

// Hold holds a process against a print.
func (p *Process) Hold(of Print) Weighed {
	w := Weighed{Process: p, Bounds: p.Limits(of)}
	w.Verdict, w.Share = Judge(w.Bounds)
	again, lost := 0.0, 0.0
	for _, h := range w.Bounds {
		if h.State == Asks {
			w.Words++
		}
		if h.State == Fails {
			w.Miss++ // a machine that does not take it is a long way off
			if h.Asks > 0 && h.Gets.Likely > 0 {
				w.Miss += math.Log(h.Gets.Likely/h.Asks) - 1
			}
		}
		if h.Limit == Finish {
			again = h.Share // the face can be cut once more
		} else {
			lost += h.Share
		}
	}
	w.Good = (p.Cost + again*p.Skim) / (1 - min(lost, mostLost))
	return w
}

// mostLost keeps the cost of what never succeeds a number.
const mostLost = 0.99

// Aim is by what processes that are equally sure are chosen.
type Aim uint8

// The aims.
const (
	Cheapest Aim = iota // expected cost of a good piece
	Soonest             // hours, at the upper end of nine in ten
	Finest              // the cheapest within 8 % of the finest
	Surest              // the least that may fail, to two in a hundred
)

// missed is the step to which what fails is told apart by how far off it is.
const missed = 0.05

// grain is the step to which what may fail is told apart where nothing is sure.
const grain = 0.02

// Weigh returns the process to choose among a list by an aim, and all of them held
// against the print. Sure ones go before others; among what is not sure goes first what
// needs fewer words, then the surer, and where all fail what fails by least. Ties go to fewer passes, then to the thicker wire. best is -1 where the
// list is empty.
func Weigh(list []*Process, of Print, aim Aim) (best int, all []Weighed) {
	best = -1
	all = make([]Weighed, len(list))
	finest := math.Inf(1)
	for i, p := range list {
		all[i] = p.Hold(of)
		if p.offered() && best >= 0 && all[i].Verdict > all[best].Verdict {
			continue
		}
		if p.offered() && (best < 0 || all[i].Verdict < all[best].Verdict) {
			best, finest = i, math.Inf(1)
		}
		if p.offered() {
			finest = min(finest, p.Ra.Likely)
		}
	}
	if best < 0 {
		return best, all
	}
	least := all[best].Verdict
	for i := range all {
		w := &all[i]
		if !w.offered() || w.Verdict != least || aim == Finest && w.Ra.Likely > (1+leastGain)*finest {
			continue
		}
		if b := &all[best]; aim == Finest && b.Ra.Likely > (1+leastGain)*finest || w.before(b, aim) {
			best = i
		}
	}
	return best, all
}

// offered reports whether a process is one that may be chosen.
func (p *Process) offered() bool { return p.Useful && p.Asked }

// before reports whether a process of the same verdict is to be preferred.
func (w *Weighed) before(b *Weighed, aim Aim) bool {
	if x, y := math.Round(w.Miss/missed), math.Round(b.Miss/missed); x != y && w.Verdict == No {
		return x < y
	}
	if w.Verdict > Yes && w.Words != b.Words {
		return w.Words < b.Words
	}
	if x, y := math.Round(w.Share/grain), math.Round(b.Share/grain); x != y && (w.Verdict > Yes || aim == Surest) {
		return x < y
	}
	x, y := w.Good, b.Good
	if aim == Soonest {
		x, y = w.Hours.High, b.Hours.High
	}
	switch {
	case math.Abs(x-y) > hair*math.Abs(y):
		return x < y
	case w.Passes != b.Passes:
		return w.Passes < b.Passes
	}
	return w.Wire > b.Wire
}

// fronts reports whether a process may stand on the front: it is as sure as the best, to
// two in a hundred where that is not sure itself.
func (w *Weighed) fronts(best *Weighed) bool {
	if !w.offered() || w.Verdict != best.Verdict {
		return false
	}
	return w.Verdict == Yes || w.Words <= best.Words && w.Share <= best.Share+grain
}

// Nearer reports whether a process is nearer to being chosen than another: by its
// verdict, then by the cost of a good piece.
func Nearer(w, than *Weighed) bool {
	if w.Verdict != than.Verdict {
		return w.Verdict < than.Verdict
	}
	return w.before(than, Cheapest)
}

// frontTo is how many times the hours of the chosen process the front goes to.
const frontTo = 10

// Surer reports whether less stands in the way of a process than of another: by verdict,
// by the words that are needed, by what may fail.
func Surer(w, than *Weighed) bool {
	if w.Verdict != than.Verdict {
		return w.Verdict < than.Verdict
	}
	if w.Words != than.Words {
		return w.Words < than.Words
	}
	return w.Share < than.Share
}

// Front returns the processes as sure as the best of which none is both faster and
// finer, by rising hours: places in all.
func Front(all []Weighed, best int) []int {
	var out []int
	for i := range all {
		w := &all[i]
		if !w.fronts(&all[best]) {
			continue
		}
		beaten := w.Hours.Likely > frontTo*all[best].Hours.Likely
		for j := range all {
			o := &all[j]
			if j == i || !o.fronts(&all[best]) || o.Hours.Likely > w.Hours.Likely || o.Ra.Likely > w.Ra.Likely {
				continue
			}
			beaten = beaten || o.Hours.Likely < w.Hours.Likely || o.Ra.Likely < w.Ra.Likely || j < i
		}
		if !beaten {
			at := len(out)
			for at > 0 && all[out[at-1]].Hours.Likely > w.Hours.Likely {
				at--
			}
			out = append(out[:at], append([]int{i}, out[at:]...)...)
		}
	}
	return out
}

// Losers returns the best process of every other wire and fluid, and of the chosen
// wire with another number of passes, the nearest first: places in all, at most most.
func Losers(all []Weighed, best, most int) []int {
	var out []int
	nearer := func(i, j int) bool { return Nearer(&all[i], &all[j]) }
	for i := range all {
		w := &all[i]
		if i == best || !w.offered() {
			continue
		}
		at := -1
		for k, j := range out {
			if all[j].Wire == w.Wire && all[j].Fluid == w.Fluid {
				at = k
			}
		}
		if at >= 0 && !nearer(i, out[at]) {
			continue
		}
		if at >= 0 {
			out = append(out[:at], out[at+1:]...)
		}
		at = len(out)
		for at > 0 && nearer(i, out[at-1]) {
			at--
		}
		out = append(out[:at], append([]int{i}, out[at:]...)...)
	}
	return out[:min(most, len(out))]
}

// Why is the limit by which a process loses to the chosen one: the worst of those at
// which it stands worse. false where it loses by its aim alone.
func (w *Weighed) Why(to *Weighed) (Bound, bool) {
	var worst Bound
	for _, b := range w.Bounds {
		for _, c := range to.Bounds {
			if c.Limit != b.Limit || !b.worse(c) {
				continue
			}
			if b.State > worst.State || b.State == worst.State && b.Share > worst.Share {
				worst = b
			}
		}
	}
	return worst, worst.State > Holds
}

// worse reports whether a limit stands worse than the same one of another process.
func (h Bound) worse(c Bound) bool {
	if h.State != c.State {
		return h.State > c.State
	}
	return h.Share > c.Share+holdsTo/2 || h.State == Fails && h.Gets.Likely > c.Gets.Likely*(1+leastGain/2)
}
