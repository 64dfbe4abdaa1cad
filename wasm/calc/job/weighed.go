package job

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/process"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// why is the reason of a neighbour of the chosen process, as its fact prints it.
func (s *subs) why(name string) string {
	j := s.job
	switch name {
	case "thicker-why":
		if j.thick == nil {
			return "does not go in at all"
		}
		return s.loses(j.thick, j.found[0])
	case "finer-why":
		return s.loses(j.fine, j.found[0])
	case "fewer-why":
		return s.loses(j.fewer, j.found[0])
	}
	switch {
	case j.rival != nil:
		return "in " + fluidOf(j.rival) + " the best is " + s.small(float64(j.rival.Wire)) + " in " + spell.Count(j.rival.Passes, "pass") + ": it " + s.loses(j.rival, j.free)
	case j.free == nil:
		return "the law of a pass says nothing here"
	case j.Facts.Is(factOil, "no") && j.free.is().Fluid == process.Water:
		return "this shop has no oil"
	case j.chosen == nil:
		return "no card here runs the other"
	}
	return "the chosen card has nothing else"
}

// loses says by what a process loses to the chosen one: the limit that it does not
// hold, or what a good piece costs more.
func (s *subs) loses(w *process.Weighed, to *weighing) string {
	if w == nil || to == nil {
		return ""
	}
	best := to.is()
	if w.Verdict > process.Yes {
		if b, ok := w.Why(&best); ok {
			return s.fails(w, b)
		}
	}
	if w.Verdict > process.Yes && w.Share > best.Share+0.02 {
		return "may fail in " + s.percent(w.Share) + " of such jobs in all, for " + s.percent(best.Share)
	}
	switch more := w.Good/best.Good - 1; {
	case more >= 0.005:
		return "costs " + s.more(more) + " for a good piece"
	case more > -0.005:
		return "costs the same"
	}
	return "costs " + s.percent(1-w.Good/best.Good) + " less, and is less sure"
}

// more is what something costs more, as a share or as times.
func (s *subs) more(by float64) string {
	if by >= 0.995 {
		return unit.Fixed(math.Round(10*(1+by))/10, 1) + " times as much"
	}
	return s.percent(by) + " more"
}

// percent rounds to what a range bears.
func (s *subs) percent(share float64) string {
	return strconv.Itoa(int(math.Round(100*share))) + " %"
}

// fails says how a limit is not held.
func (s *subs) fails(w *process.Weighed, b process.Bound) string {
	in := s.percent(b.Share) + " of such jobs"
	switch b.Limit {
	case process.Corner:
		if b.State == process.Fails {
			return "leaves R " + s.small(b.Gets.Likely)
		}
		return "leaves more than R " + s.small(b.Asks) + " in " + in
	case process.EvenStock:
		return "keeps no even stock in the corner: roughing needs R " + s.small(b.Gets.Likely)
	case process.SlotRough:
		if b.State == process.Fails {
			return "cuts a kerf of " + s.small(b.Gets.Likely)
		}
		return "does not go into the slot in " + in
	case process.SlotSkims:
		return "needs a slot of " + s.small(b.Gets.Likely) + " for its skims"
	case process.Finish:
		if b.State == process.Fails {
			return "comes to Ra " + s.put(unit.RoughnessKind, b.Gets.Likely)
		}
		return "misses Ra " + s.put(unit.RoughnessKind, b.Asks) + " in " + in
	case process.Wall:
		return "bends the wall by " + s.put(unit.LengthKind, b.Gets.Likely)
	case process.Height:
		return "is seldom run through more than " + s.put(unit.LengthKind, b.Asks)
	case process.Hole:
		return "needs a start hole of " + s.small(b.Gets.Likely)
	case process.Spool:
		return "outlasts its spool"
	}
	return "goes on no card here"
}

// put is a value as the sheet prints it.
func (s *subs) put(k unit.Kind, v float64) string {
	st := k.Style(s.system)
	st.Trim = true
	return unit.Print(k, v, st)
}

// small is a length in the corner or the slot.
func (s *subs) small(v float64) string { return s.put(unit.LengthKind, v) }

// tiny is a small length.
func (s *subs) tiny(v float64) string {
	st := unit.Style{Unit: "µm", Decimals: 2, Trim: true}
	if s.system == unit.Inch {
		st = unit.Style{Unit: "thou", Decimals: 3, Trim: true}
	}
	return unit.Print(unit.LengthKind, v, st)
}

// limitNames head the limits on the sheet.
var limitNames = [process.Limits]string{"Inside radius", "Even stock in the corner", "Slot, roughing", "Slot, with skims", "Finish, Ra", "Shape of the wall", "Height for this wire", "Start hole", "Spool, alone", "Machine"}

// limits is the table of what holds the process back.
func (in *form) limits(a *calc.Answer, j *job, s *subs) {
	if j.now == nil {
		return
	}
	t := newTable("Limits", "Nine in ten of such jobs lie within each range. What may fail adds up to "+s.percent(j.now.Share)+"; a plain yes bears 10 %.", "Limit|Asked|Comes to|Stands|May fail")
	for _, b := range j.now.Bounds {
		asks, gets := "", ""
		kind := unit.LengthKind
		switch b.Limit {
		case process.Finish:
			kind = unit.RoughnessKind
		case process.Wall:
			asks, gets = s.tiny(b.Asks), s.tiny(b.Gets.Likely)
		case process.Spool:
			asks, gets = unit.Fixed(b.Asks, 0)+" h", unit.Fixed(b.Gets.Low, 1)+" to "+unit.Fixed(b.Gets.High, 1)+" h"
		}
		if b.Asks > 0 && asks == "" {
			asks = s.put(kind, b.Asks)
			st := kind.Style(s.system)
			st.Trim = true
			gets = unit.PrintRange(kind, b.Gets, st)
		}
		if asks == "" && b.State == process.Holds {
			continue // nothing is asked
		}
		fail := "—"
		if b.Share >= 0.005 {
			fail = s.percent(b.Share)
		}
		add(t, []string{limitNames[b.Limit], asks, gets, [...]string{"holds", "may fail", "ask", "fails"}[b.State], fail}, 0)
	}
	a.Tables = append(a.Tables, *t)
}

// fluidOf is a fluid as the sheet names it.
func fluidOf(w *process.Weighed) string { return fluidWord(w.Fluid) }

// verdicts as the tables write them.
var verdictWords = [...]string{"yes", "only if", "no"}

// losers is the table of the processes that lost narrowly, with their one reason.
func (in *form) losers(a *calc.Answer, j *job, s *subs) {
	w := j.free
	if w == nil {
		return
	}
	t := newTable("What lost narrowly", "Each wire at its best, of "+spell.Count(len(w.all), "process")+" weighed.", "Wire|In|Passes|Can it be cut|It")
	t.Columns[4].Right = false
	for _, i := range process.Losers(w.all, w.best, 5) {
		o := &w.all[i]
		add(t, []string{s.small(float64(o.Wire)), fluidOf(o), strconv.Itoa(o.Passes), verdictWords[o.Verdict], s.loses(o, w)}, 0)
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, *t)
	}
}

// demandNames head the demands on the sheet.
var demandNames = [process.Demands]string{"Inside radius", "Slot", "Ra", "Tolerance, whole width"}

// demands is the table of what each demand costs, and the least change of the print that
// lets it through.
func (in *form) demands(a *calc.Answer, j *job, s *subs) {
	w := j.free
	if w == nil || j.Facts.Is(factAsks, "sharp") {
		return
	}
	of := j.print()
	ways := func(p process.Print) []*process.Process { return j.ways(p, own{}) }
	best := w.is()
	t := newTable("What each demand costs", "Each demand alone, a notch easier and a notch harder, by the cheapest good piece; they do not add up.", "The print asks|Instead of|Can it be cut|Wire|In|Passes|A good piece costs")
	t.Columns[6].Right = false
	value := func(d process.Demand, v float64) string {
		if d == process.AskRa {
			return s.put(unit.RoughnessKind, v)
		}
		return s.small(v)
	}
	asked := func(d process.Demand, v float64) string {
		return demandNames[d] + " " + value(d, v)
	}
	for _, p := range process.Prices(of, ways) {
		if !p.OK {
			continue
		}
		costs := "not to be had here"
		if p.Best.Verdict < process.No {
			more := p.Best.Good/best.Good - 1
			even := p.Best.Verdict == best.Verdict && p.Best.Words == best.Words && math.Abs(p.Best.Share-best.Share) < 0.02
			switch {
			case p.Best.Verdict > process.Yes && !even && process.Surer(&p.Best, &best):
				costs = "no price yet, but surer"
			case p.Best.Verdict > process.Yes && !even:
				costs = "no price yet, and less sure"
			case math.Abs(more) < 0.005:
				costs = "the same"
			case more > 0:
				costs = s.more(more)
			default:
				costs = s.percent(-more) + " less"
			}
		}
		add(t, []string{asked(p.Demand, p.Asks), value(p.Demand, of.Value(p.Demand)), verdictWords[p.Best.Verdict], s.small(float64(p.Best.Wire)), fluidOf(&p.Best), strconv.Itoa(p.Best.Passes), costs}, 0)
	}
	a.Tables = append(a.Tables, *t)
	if best.Verdict == process.Yes {
		return
	}
	if p, ok := process.LeastChange(of, best.Verdict, ways); ok {
		text := "May the print ask for " + [...]string{"an inside radius of ", "a slot of ", "Ra ", "a tolerance whose whole width is "}[p.Demand] + value(p.Demand, p.Asks) + "? That is the least change that makes it "
		if p.Best.Verdict == process.Yes {
			text += "a plain yes: "
		} else {
			text += "only if: "
		}
		a.Sheet.Open = append(a.Sheet.Open, text+"wire "+s.small(float64(p.Best.Wire))+" in "+fluidOf(&p.Best)+", "+spell.Count(p.Best.Passes, "pass"))
	}
}

// front is the table of processes of which none is both faster and finer.
func (in *form) front(a *calc.Answer, j *job, s *subs) {
	w := j.free
	if w == nil || w.is().Verdict == process.No {
		return
	}
	list := process.Front(w.all, w.best)
	if len(list) < 2 {
		return
	}
	t := newTable("Hours against finish", "Of all processes as sure as the best, those of which none is both faster and finer.", "Hours|Ra|Wire|In|Passes")
	for _, i := range list {
		o := &w.all[i]
		add(t, []string{unit.Fixed(o.Hours.Likely, 2), s.put(unit.RoughnessKind, o.Ra.Likely), s.small(float64(o.Wire)), fluidOf(o), strconv.Itoa(o.Passes)}, 0)
	}
	a.Tables = append(a.Tables, *t)
}
