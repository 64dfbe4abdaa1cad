package process

import (
	"math"

	"kerfbook/wasm/fit"
	"kerfbook/wasm/unit"
)

// What a test cut is taken to be, our estimate: 30 mm of wall, as a slot or around a
// square opening, and 5 mm of approach with every pass, and a quarter of an hour to
// clamp, thread and read.
const (
	TestPath unit.Length = 30
	approach unit.Length = 5
	TestSet              = 0.25 // h
)

// Question is the quantity of a job that decides: GapOf or RaOf of its last pass, or
// with RateOf the hours of all its passes.
type Question struct {
	Setup
	Law               *Law // of the material
	Material, Machine string
	Kind              Kind
	Passes            int
	Path              unit.Length
}

// aim is a question's answer as it hangs on the unknowns: its logarithm at the moved
// constants, its row, and how many times the noise's variance a new job brings.
type aim struct {
	log float64
	row []float64
	job float64
}

// hours are those of so many passes along a path, by their likely feeds.
func hours(list []Pass, path unit.Length) float64 {
	sum := 0.0
	for _, p := range list {
		sum += float64(path) / float64(p.Feed) / 60
	}
	return sum
}

// Hours are those of the job on the machine by the law as the shop's cuts leave it.
func (s *Shop) Hours(q Question) float64 {
	return hours(s.Law(q.Law, q.Material).Ladder(q.Setup, q.Passes, false), q.Path)
}

// aim works a question out. The hours' logarithm moves with each feed's by that
// pass's share of the time; the job's part of the noise moves all skims as one.
func (s *Shop) aim(q Question) aim {
	l := s.Law(q.Law, q.Material)
	if q.Kind != RateOf {
		of := l.Of(q.Setup, q.Kind, q.Passes, 0)
		row, _ := s.row(&of.By, q.Kind, q.Law, q.Material, q.Machine)
		return aim{math.Log(of.Value), row, 1 + jobShare*jobShare}
	}
	list := l.Ladder(q.Setup, q.Passes, true)
	all := hours(list, q.Path)
	out := aim{log: math.Log(all), row: make([]float64, s.width())}
	skims := 0.0
	for i, p := range list {
		k, share := SkimOf, hours(list[i:i+1], q.Path)/all
		if i == 0 {
			k = RateOf
			out.job += share * share * jobShare * jobShare
		} else {
			skims += share
		}
		row, _ := s.row(&p.Gradient.Feed, k, q.Law, q.Material, q.Machine)
		for j, v := range row {
			out.row[j] -= share * v
		}
		out.job += share * share
	}
	out.job += skims * skims * jobShare * jobShare
	return out
}

// Answer is what is known of the question's answer: the distribution of its
// logarithm in the next job, in hours, mm or µm. The shop must be opened for it.
func (s *Shop) Answer(q Question) fit.Mixture { return s.answer(s.aim(q)) }

func (s *Shop) answer(a aim) fit.Mixture {
	m := s.belief.At(a.row, 0, a.job)
	for i := range m.Mean {
		m.Mean[i] += a.log - s.along(a.row)
	}
	return m
}

// Opened is the shop with this material and machine among what it can learn of: a
// machine that was never cut on has a way of its own, which a test would tell.
func (s *Shop) Opened(general *Law, q Question) (*Shop, error) {
	if index(s.materials, q.Material) >= 0 && index(s.machines, q.Machine) >= 0 {
		return s, nil
	}
	unread := Cut{Setup: q.Setup, Law: q.Law, Material: q.Material, Machine: q.Machine, Pass: 1}
	return Learn(general, append(append([]Cut{}, s.cuts...), unread))
}

// Test is a cut that could be made to learn from: on the machine and in the material
// of the question, in so many passes.
type Test struct {
	Setup
	Passes int
}

// Taught is a test with what it would teach.
type Taught struct {
	Test
	Index int        // among the tests
	Hours float64    // on the machine
	After unit.Range // the answer's nine in ten when it was read, its middle unmoved
	Gain  float64    // fall of ln(high/low)
}

// Teaches is the gain for an hour.
func (t Taught) Teaches() float64 { return t.Gain / t.Hours }

// would are the readings that a test of so many passes gives: the clock of every pass, and
// the gap and the roughness of the last. The job is a new one.
func (s *Shop) would(q Question, l *Law, t Test, list []Pass) []fit.Reading {
	var out []fit.Reading
	add := func(k Kind, pass int, takes unit.Length) {
		of := l.Of(t.Setup, k, pass, takes)
		row, _ := s.row(&of.By, k, q.Law, q.Material, q.Machine)
		out = append(out, fit.Reading{Row: row, Error: misread(k, of.Value), Block: int(k)})
	}
	add(RateOf, 1, 0)
	for i := 1; i < t.Passes; i++ {
		add(SkimOf, i+1, list[i].Takes)
	}
	add(GapOf, t.Passes, 0)
	add(RaOf, t.Passes, 0)
	return out
}

// Rank orders tests by what an hour of them teaches of the question: the fall of
// ln(high/low) of its answer for each hour on the machine, TestSet with it. Tests
// dearer than the job itself are left out, for then the job is the test. The shop
// must be opened for the question.
func (s *Shop) Rank(q Question, tests []Test) []Taught {
	l := s.Law(q.Law, q.Material)
	a := s.aim(q)
	now := s.answer(a)
	width := NineInTen(now)
	most := hours(l.Ladder(q.Setup, q.Passes, false), q.Path+approach) + TestSet
	var out []Taught
	for i, t := range tests {
		list := l.Ladder(t.Setup, t.Passes, false)
		h := hours(list, TestPath+approach) + TestSet
		if h > most {
			continue
		}
		then := NineInTen(now.Narrowed(s.belief.Falls(a.row, s.would(q, l, t, list))))
		stay := width.Likely / then.Likely // the mixture's middle moves a little with its widths
		then = unit.Range{Low: then.Low * stay, Likely: width.Likely, High: then.High * stay}
		gain := math.Log(width.High/width.Low) - math.Log(then.High/then.Low)
		out = append(out, Taught{Test: t, Index: i, Hours: h, After: then, Gain: gain})
	}
	for i := range out { // few, and the library's sort packs to a kilobyte and more
		for j := i; j > 0 && out[j].Teaches() > out[j-1].Teaches(); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}
