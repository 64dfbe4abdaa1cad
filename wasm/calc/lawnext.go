package calc

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// What a shop's cuts leave open, and which cut would tell.

// Teaching is what test cuts would teach of one quantity of a plan.
type Teaching struct {
	Now   unit.Range // nine in ten of the next job's, in h, mm or µm
	Hours float64    // of the job on the machine
	Best  []process.Taught
}

// question is what decides about a plan: process.RateOf asks for the hours along a
// path, GapOf and RaOf for the last pass.
func (p *Plan) question(k process.Kind, path unit.Length) process.Question {
	return process.Question{Setup: p.Setup, Law: &p.known.law, Material: p.q.Material, Machine: p.q.Machine, Kind: k, Passes: len(p.Passes), Path: path}
}

// opened is the plan's shop with its material and machine among what it can learn of.
func (p *Plan) opened(q process.Question) *process.Shop {
	name := "next|" + q.Machine + "|" + q.Material
	return p.of.book.Keep(name, func() any {
		s, err := p.shop.Opened(&p.of.general, q)
		if err != nil {
			return p.shop
		}
		return s
	}).(*process.Shop)
}

// Teaching ranks test cuts by what an hour of each would teach of this plan: wires
// and heights in passes, on the plan's machine, in its material and fluid. What the
// law does not cover, and what is dearer than the job, is left out.
func (p *Plan) Teaching(k process.Kind, path unit.Length, at []book.Cut, passes []int) Teaching {
	if !p.OK {
		return Teaching{}
	}
	q := p.question(k, path)
	shop := p.opened(q)
	var tests []process.Test
	for _, c := range at {
		set := p.of.setup(c, p.known)
		if !set.Covers() {
			continue
		}
		for _, n := range passes {
			tests = append(tests, process.Test{Setup: set, Passes: n})
		}
	}
	return Teaching{Now: process.NineInTen(shop.Answer(q)), Hours: shop.Hours(q), Best: shop.Rank(q, tests)}
}

// Fed reports whether cuts of the edition stand behind the plan, and how many.
func (p *Plan) Fed() int {
	if p.lesson == nil {
		return 0
	}
	return len(p.lesson.cuts)
}

// Places are the wires and heights that the plan's cuts were made with, in its fluid.
func (p *Plan) Places() (wires, heights []float64) {
	if p.lesson == nil {
		return nil, nil
	}
	for _, c := range p.lesson.cuts {
		if c.cut.Fluid == p.Setup.Fluid {
			wires, heights = append(wires, float64(c.cut.Wire)), append(heights, float64(c.cut.Height))
		}
	}
	return wires, heights
}

// Doubt is one reading of a shop's cuts against what all its others say.
type Doubt struct {
	process.Held
	Row book.Row
}

// Drifting is a machine whose rate changes with the date.
type Drifting struct {
	Machine, Since string  // its name, and the date of the first rate
	Share          float64 // by which it cuts faster at the last: -0.12 is slower
}

// doubts are kept with the book: they hang on its cuts alone.
type doubts struct {
	held   []Doubt
	drifts []Drifting
}

// Doubts holds every reading behind the plan against the others, and says which
// machines' rates change with the date.
func (p *Plan) Doubts() ([]Doubt, []Drifting) {
	if p.lesson == nil {
		return nil, nil
	}
	l, name := p.lesson, "doubts"
	if l == p.of.shops[true] {
		name = "doubts of invented cuts"
	}
	d := p.of.book.Keep(name, func() any { return l.doubt(p.of.book) }).(*doubts)
	return d.held, d.drifts
}

func (l *lesson) doubt(b *book.Book) *doubts {
	out := &doubts{}
	for _, h := range l.shop.Held() {
		out.held = append(out.held, Doubt{h, l.cuts[h.Cut].row})
	}
	var days []float64
	var machines []string
	for _, c := range l.cuts {
		days = append(days, day(c.row.Cell("on")))
		known := false
		for _, m := range machines {
			known = known || m == c.cut.Machine
		}
		if !known {
			machines = append(machines, c.cut.Machine)
		}
	}
	for _, m := range machines {
		d, ok := l.shop.Drift(m, days)
		if !ok {
			continue
		}
		s := Drifting{Machine: m, Share: math.Expm1(d.Change)}
		if card, ok := b.Find("machines", m); ok {
			s.Machine = card.Cell("name")
		}
		for i, c := range l.cuts {
			if days[i] == d.From && c.cut.Machine == m {
				s.Since = c.row.Cell("on")
			}
		}
		out.drifts = append(out.drifts, s)
	}
	return out
}

// day counts the days of a date YYYY-MM-DD from one fixed day, or, for YYYY-MM,
// those of the month's middle; NaN where the text is no date. The count is that of
// the Gregorian calendar, with March as the year's first month.
func day(text string) float64 {
	part := strings.Split(text, "-")
	if len(part) == 2 {
		part = append(part, "15")
	}
	if len(part) != 3 {
		return math.NaN()
	}
	var n [3]int
	for i, s := range part {
		v, err := strconv.Atoi(s)
		if err != nil {
			return math.NaN()
		}
		n[i] = v
	}
	y, m := n[0], n[1]-3
	if m < 0 {
		y, m = y-1, m+12
	}
	return float64(365*y + y/4 - y/100 + y/400 + (153*m+2)/5 + n[2])
}

// Grounds says on what a quantity of a pass rests, with the rows, and whether the
// shop read it or its cuts reach there.
func (p *Plan) Grounds(k process.Kind, pass int) (words string, rows []book.Row, own bool) {
	words, rows, measured, taught := p.rests(k, pass)
	return words, rows, measured || taught
}
