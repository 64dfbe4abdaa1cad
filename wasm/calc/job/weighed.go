package job

import (
	"math"
	"slices"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
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
	case process.Reading:
		return "asks for a reading within " + s.tiny(b.Asks)
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
var limitNames = [process.Limits]string{"Inside radius", "Even stock in the corner", "Slot, roughing", "Slot, with skims", "Finish, Ra", "Shape of the wall", "Reading of a size", "Height for this wire", "Room for a start hole", "Spool, alone", "Machine"}

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
		case process.Wall, process.Reading:
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
		if p := a.Sheet.Process; p != nil {
			p.Lost = append(p.Lost, *o)
		}
		add(t, []string{s.small(float64(o.Wire)), fluidOf(o), strconv.Itoa(o.Passes), verdictWords[max(o.Verdict, j.floor())], s.loses(o, w)}, 0)
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, *t)
	}
}

// floor is the verdict that what is not weighed leaves to every process: the sheet's own,
// where it is worse than the limits of what was decided.
func (j *job) floor() process.Verdict {
	v := process.Verdict(max(0, slices.Index([]string{"yes", "only-if", "no"}, j.Facts.Word(factCan))))
	if j.now != nil && v > j.now.Verdict {
		return v
	}
	return process.Yes
}

// priced is what a print with another demand comes to, beside the chosen process.
func (s *subs) priced(w, best *process.Weighed) string {
	even := w.Verdict == best.Verdict && w.Words == best.Words && math.Abs(w.Share-best.Share) < 0.02
	said := ""
	switch more := w.Good/best.Good - 1; {
	case max(w.Verdict, s.job.floor()) == process.No:
		return "not to be had here"
	case !even && w.Verdict > process.Yes && process.Surer(w, best):
		said = "surer, still only if"
	case !even && w.Verdict > process.Yes:
		said = "only if"
	case math.Abs(more) < 0.005:
		said = "the same"
	case more > 0:
		said = s.more(more)
	default:
		said = s.percent(-more) + " less"
	}
	if w.Verdict < best.Verdict {
		said = verdictWords[max(w.Verdict, s.job.floor())] + ", " + said
	}
	if w.Wire != best.Wire || w.Fluid != best.Fluid {
		said += " (" + s.small(float64(w.Wire)) + " in " + fluidOf(w) + ")"
	} else if w.Passes != best.Passes {
		said += " (" + spell.Count(w.Passes, "pass") + ")"
	}
	return said
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
	t := newTable("What each demand costs", "Each demand alone, a notch easier and a notch harder, by the cheapest good piece, all else as printed; they do not add up.", "The print asks|Easier|As printed|Harder")
	value := func(d process.Demand, v float64) string {
		if d == process.AskRa {
			return s.put(unit.RoughnessKind, v)
		}
		return s.small(v)
	}
	prices := process.Prices(of, ways)
	if p := a.Sheet.Process; p != nil {
		p.Demands = prices
	}
	for i := 0; i+1 < len(prices); i += 2 {
		d := prices[i].Demand
		cell := func(p process.Priced) string {
			if !p.OK {
				return "—"
			}
			return value(d, p.Asks) + ": " + s.priced(&p.Best, &best)
		}
		add(t, []string{demandNames[d], cell(prices[i]), value(d, of.Value(d)), cell(prices[i+1])}, 0)
	}
	a.Tables = append(a.Tables, *t)
	if best.Verdict == process.Yes || j.floor() > process.Yes {
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
	t := newTable("Hours against finish", "Of all processes as sure as the best, those of which none is both faster and finer; none takes more than ten times the hours.", "Hours|Ra|Wire|In|Passes")
	for _, i := range list {
		o := &w.all[i]
		if p := a.Sheet.Process; p != nil {
			p.Front = append(p.Front, *o)
		}
		add(t, []string{unit.Fixed(o.Hours.Likely, 2), s.put(unit.RoughnessKind, o.Ra.Likely), s.small(float64(o.Wire)), fluidOf(o), strconv.Itoa(o.Passes)}, 0)
	}
	t.Figure = s.frontPlot(w, list)
	a.Tables = append(a.Tables, *t)
}

// frontPlot draws the front: hours across, finish upwards, both in decades.
func (s *subs) frontPlot(w *weighing, list []int) *figure.Drawing {
	best := w.is()
	first, last := &w.all[list[0]], &w.all[list[len(list)-1]]
	d := figure.New("What a finer finish costs in hours", "Each point is a process of which none is both faster and finer, from "+unit.Fixed(first.Hours.Likely, 2)+" h with Ra "+s.put(unit.RoughnessKind, first.Ra.Likely)+" to "+unit.Fixed(last.Hours.Likely, 2)+" h with Ra "+s.put(unit.RoughnessKind, last.Ra.Likely)+". The large one is chosen.", 360, 300, false)
	name, unitOf := "Ra, µm", 1.0
	if s.system == unit.Inch {
		name, unitOf = "Ra, µin", 0.0254
	}
	g := figure.NewPlot(d, decades(first.Hours.Likely, last.Hours.Likely, 1, "hours of a piece"), decades(min(last.Ra.Likely, s.job.Facts.Number(factFinish)), max(first.Ra.Likely, s.job.Facts.Number(factFinish)), unitOf, name))
	g.Level(s.job.Facts.Number(factFinish), "the print")
	var xs, ys []float64
	for _, i := range list {
		xs, ys = append(xs, w.all[i].Hours.Likely), append(ys, w.all[i].Ra.Likely)
	}
	g.Curve(figure.Thin, xs, ys)
	for _, i := range list {
		at := g.At(w.all[i].Hours.Likely, w.all[i].Ra.Likely)
		if w.all[i].Process != best.Process {
			d.Circle(figure.Thin, at.X, at.Y, 3.5, false)
			continue
		}
		d.Circle(figure.Outline, at.X, at.Y, 6, true)
		d.Label(at.X+11, at.Y-8, "chosen", -1)
	}
	return d
}

// decades is an axis from a little below the low end to a little above the high one, with
// places at 1, 2 and 5 of each decade; at names of a unit that is so large.
func decades(low, high, unitOf float64, name string) figure.Axis {
	a := figure.Axis{Low: low / 1.25, High: high * 1.25, Log: true, Name: name}
	for at := math.Pow(10, math.Floor(math.Log10(a.Low/unitOf))); at*unitOf <= a.High; at *= 10 {
		for _, k := range [...]float64{1, 2, 5} {
			if v := at * k * unitOf; v >= a.Low && v <= a.High {
				a.At = append(a.At, v)
				a.Names = append(a.Names, unit.Number(at*k, unit.Style{Decimals: 3, Trim: true}))
			}
		}
	}
	return a
}
