package job

import (
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// give sets the ordinary answers.
func (in *form) give(r *calc.Result, a *calc.Answer, j *job, s *subs) {
	f := j.Facts
	r.GiveChoice(a, "verdict", f.Word(factCan), "")
	r.Give(a, "wire", unit.Exactly(f.Number(factWire)))
	r.GiveChoice(a, "dielectric", f.Word(factDielectric), "")
	r.GiveChoice(a, "wire-type", f.Word(factWireType), j.label(factWireType))
	if c := j.chosen; c != nil {
		r.GiveChoice(a, "machine", c.Key, c.Cell("name"))
	} else if c := j.foundCard(); c != nil {
		r.GiveChoice(a, "machine", c.Key, c.Cell("name")+" would take it")
	} else {
		r.GiveChoice(a, "machine", "none", "")
	}
	r.Give(a, "radius-left", j.left())
	r.Give(a, "passes", unit.Exactly(f.Number(factPasses)))
	r.GiveChoice(a, "polarity", f.Word(factPolarity), j.label(factPolarity))
	r.GiveChoice(a, "start", f.Word(factStart), j.label(factStart))
	r.GiveChoice(a, "slug", f.Word(factSlug), j.label(factSlug))
	r.Give(a, "ra", j.ra())
	for _, name := range []string{"total", "cost"} {
		if v, ok := s.value("rate", name); ok {
			r.Give(a, map[string]string{"total": "time", "cost": "cost"}[name], v)
		}
	}
	switch { // the radius that the sheet's own sentence asks for
	case f.Is(factAsks, "none"):
	case f.Is(factAsks, "sharp"):
		r.Give(a, "ask-for", unit.Exactly(f.Number(factWireSure)))
	case f.Is(factReaches, "no") && !f.Knows(factFinestLeft):
	case f.Is(factReaches, "no"):
		r.Give(a, "ask-for", unit.Exactly(f.Number(factFinestLeft)))
	case f.Is(factReaches, "last") && f.Is(factRoughing, "even"):
		r.Give(a, "ask-for", unit.Exactly(f.Number(factWireNeeds)))
	}
}

// label is what was decided, as the table of decisions calls it.
func (j *job) label(i rules.Fact) string {
	row, _ := j.book.Find("decisions", j.Table.Terms[i].Name, j.Facts.Word(i))
	return row.Cell("label")
}

// left is the inside radius that wire and gap leave.
func (j *job) left() unit.Range {
	half, gap := j.Facts.Number(factWire)/2, j.lastGap()
	return unit.Range{Low: half + gap.Low, Likely: half + gap.Likely, High: half + gap.High}
}

// lastPass names the pass whose gap is left at the end, as the corner's
// calculator does.
func (j *job) lastPass() string { return calc.StageOf(int(j.Facts.Number(factPasses))) }

// lastGap is the gap of the last pass.
func (j *job) lastGap() unit.Range {
	q := j.cut()
	q.Flushing = ""
	return calc.GapRange(j.book, q, j.lastPass())
}

// ra is the roughness to expect, by the law and the shop's own cuts.
func (j *job) ra() unit.Range {
	n := int(j.Facts.Number(factPasses))
	return j.plan(n).Ra(n)
}

// polarity is that of one pass: only the last two change to wire plus.
func (j *job) polarity(s *subs, pass, passes int) string {
	switch {
	case !j.Facts.Is(factPolarity, "wire-plus"):
		return s.fill("{polarity}")
	case pass > 1 && pass > passes-2:
		return "wire plus"
	}
	return "wire minus"
}

// foundCard is the first card that takes the process, nil when none does.
func (j *job) foundCard() *book.Row {
	for _, c := range j.cards {
		if j.takes(c) == "yes" {
			return c
		}
	}
	return nil
}

// band is the verdict and what matters most.
func (in *form) band(a *calc.Answer, j *job, s *subs) {
	i := j.Table.Stage("can")
	can := &j.Out[i]
	row := j.row(&j.Table.Steps[i], can)
	switch can.Value {
	case "yes":
		a.Verdict = calc.Yes
	case "no":
		a.Verdict = calc.No
	default:
		a.Verdict = calc.OnlyIf
	}
	a.Headline = s.fill(row.Cell("headline"))
	l, _ := a.Sheet.Line("can")
	a.Lead = s.fill("Wire {wire}, {wire-type}, in {dielectric}, {passes:pass}, Ra about {ra}[, about {rate.total.likely} a piece].")
	if can.Value != "yes" {
		a.Lead = sentence(l.Because) + " " + a.Lead
	}
	a.General = j.chosen == nil
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// passTable is the plan with columns for the pen.
func (in *form) passTable(a *calc.Answer, j *job, s *subs) {
	plan := s.ask("ladder")
	if plan == nil {
		return
	}
	t := newTable("Passes", "Direction as decided above. Setting and measured are for the pen.", "Pass|Offset|Takes|Leaves|Polarity|Time|Ra|Setting|Measured")
	t.Columns[7].Blank, t.Columns[8].Blank = true, true
	n := int(j.Facts.Number(factPasses))
	text := func(name string) string {
		if v, ok := plan.Value(name); ok {
			return v.Text
		}
		return ""
	}
	times := s.ask("rate")
	for i := 1; i <= n; i++ {
		p := strconv.Itoa(i)
		takes, left, long, ra := text("takes-"+p), text("leaves-"+p), "", ""
		if i == 1 {
			takes = "full cut"
		}
		if i == n {
			left = "—"
		}
		if took := j.passTime(i, times, plan); took > 0 {
			st := unit.Style{Unit: "min", Decimals: 0}
			if took >= 3*3600 {
				st = unit.Style{Unit: "h", Decimals: 1}
			}
			long = unit.Print(unit.TimeKind, took, st)
		}
		if law := j.plan(n); law.OK {
			ra = unit.PrintRange(unit.RoughnessKind, law.Ra(i), unit.Style{Unit: "µm", Decimals: 2, Trim: true})
		}
		add(t, []string{p, text("offset-" + p), takes, left, j.polarity(s, i, n), long, ra, "", ""}, 1)
		if a.Sheet.Process != nil {
			of := func(name string) unit.Range { v, _ := plan.Value(name + p); return v.Range }
			a.Sheet.Process.Passes = append(a.Sheet.Process.Passes, calc.PassLine{Offset: of("offset-"), Takes: of("takes-"), Leaves: of("leaves-"), Ra: j.plan(n).Ra(i), Feed: of("feed-"), Polarity: j.polarity(s, i, n)})
		}
	}
	a.Tables = append(a.Tables, *t)
	a.Files = append(a.Files, in.offsets(j, s, plan))
}

// offsets are the passes as plain lines, to be typed or copied into the control.
func (in *form) offsets(j *job, s *subs, plan *calc.Answer) calc.File {
	st := unit.Style{Unit: "mm", Decimals: 4}
	if s.system == unit.Inch {
		st = unit.Style{Unit: "in", Decimals: 5}
	}
	text := s.fill("Offsets of the wire's middle from the finished wall, in "+st.Unit+". Wire {wire} in {dielectric}.") + "\nLikely values: measure the gap first. The settings and the offsets of the machine's own table win.\n"
	for i := 1; i <= int(j.Facts.Number(factPasses)); i++ {
		p := strconv.Itoa(i)
		v, _ := plan.Value("offset-" + p)
		value, _, _ := strings.Cut(unit.Print(unit.LengthKind, v.Range.Likely, st), " ")
		text += p + "\t" + value + "\n"
	}
	return calc.File{Name: "offsets.txt", What: "the offsets as lines", Text: text}
}

// passTime is how long a pass takes in seconds: roughing as the whole job counts it,
// a skim at its own feed.
func (j *job) passTime(pass int, times, plan *calc.Answer) float64 {
	if times == nil {
		return 0
	}
	if pass == 1 {
		v, _ := times.Value("rough-time")
		return v.Range.Likely
	}
	v, ok := plan.Value("feed-" + strconv.Itoa(pass))
	if !ok {
		return 0
	}
	return j.Facts.Number(factLength) * j.Facts.Number(factOpenings) / v.Range.Likely * 60
}

// newTable is an empty table; heads stand between bars.
func newTable(title, note, heads string) *calc.Table {
	t := &calc.Table{Title: title, Note: note}
	for i, h := range strings.Split(heads, "|") {
		t.Columns = append(t.Columns, calc.Column{Head: h, Right: i > 0})
	}
	return t
}

// add puts a row into a table, one of its cells strong.
func add(t *calc.Table, texts []string, strong int) {
	var row []calc.Cell
	for i, text := range texts {
		row = append(row, calc.Cell{Text: text, Strong: i == strong})
	}
	t.Rows = append(t.Rows, row)
}

// rest takes steps, sources, rows and the figure from the calculators asked.
func (in *form) rest(a *calc.Answer, j *job, s *subs) {
	for _, id := range strings.Fields("corner slot ladder rate wire") {
		rep := s.replies[id]
		if rep == nil || rep.Answer == nil {
			continue
		}
		a.Steps = append(a.Steps, rep.Answer.Steps...)
		for _, c := range rep.Answer.Sources {
			a.Cite(c.Key, c.Place, c.What)
		}
		a.Used(rep.Answer.Rows...)
	}
	if a.Figure == nil {
		for _, id := range [...]string{"corner", "slot"} {
			if c := s.ask(id); c != nil && a.Figure == nil {
				a.Figure = c.Figure
			}
		}
	}
	a.Used(j.asked)
	for _, text := range s.refused {
		a.Note("Left out, " + text + ".")
	}
}
