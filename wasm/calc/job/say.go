package job

import (
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// give sets the ordinary answers.
func (in *form) give(r *calc.Result, a *calc.Answer, j *job, s *subs) {
	f := j.facts
	r.GiveChoice(a, "verdict", f.get(factCan), "")
	r.Give(a, "wire", unit.Exactly(f.at(factWire)))
	r.GiveChoice(a, "dielectric", f.get(factDielectric), "")
	r.GiveChoice(a, "wire-type", f.get(factWireType), j.label(factWireType))
	if c := j.chosen; c != nil {
		r.GiveChoice(a, "machine", c.Key, c.Cell("name"))
	} else if c := j.foundCard(); c != nil {
		r.GiveChoice(a, "machine", c.Key, c.Cell("name")+" would take it")
	} else {
		r.GiveChoice(a, "machine", "none", "")
	}
	r.Give(a, "radius-left", j.left())
	r.Give(a, "passes", unit.Exactly(f.at(factPasses)))
	r.GiveChoice(a, "polarity", f.get(factPolarity), j.label(factPolarity))
	r.GiveChoice(a, "start", f.get(factStart), j.label(factStart))
	r.GiveChoice(a, "slug", f.get(factSlug), j.label(factSlug))
	r.Give(a, "ra", j.ra())
	for _, name := range []string{"total", "cost"} {
		if v, ok := s.value("rate", name); ok {
			r.Give(a, map[string]string{"total": "time", "cost": "cost"}[name], v)
		}
	}
	switch { // the radius that the sheet's own sentence asks for
	case f.is(factAsks, "none"):
	case f.is(factAsks, "sharp"):
		r.Give(a, "ask-for", unit.Exactly(f.at(factWireSure)))
	case f.is(factReaches, "no") && !f.knows(factFinestLeft):
	case f.is(factReaches, "no"):
		r.Give(a, "ask-for", unit.Exactly(f.at(factFinestLeft)))
	case f.is(factReaches, "last") && f.is(factRoughing, "even"):
		r.Give(a, "ask-for", unit.Exactly(f.at(factWireNeeds)))
	}
}

// label is what was decided, as the table of decisions calls it.
func (j *job) label(i fact) string {
	row, _ := j.book.Find("decisions", j.rules.facts[i].name, j.facts.get(i))
	return row.Cell("label")
}

// left is the inside radius that wire and gap leave.
func (j *job) left() unit.Range {
	half, gap := j.facts.at(factWire)/2, j.lastGap()
	return unit.Range{Low: half + gap.Low, Likely: half + gap.Likely, High: half + gap.High}
}

// lastPass names the pass whose gap is left at the end, as the corner's
// calculator does: a plan of two ends with a coarse skim.
func (j *job) lastPass() string {
	switch j.facts.at(factPasses) {
	case 1:
		return "rough"
	case 2:
		return "skim"
	}
	return "fine"
}

// lastGap is the gap of the last pass.
func (j *job) lastGap() unit.Range {
	q := j.cut()
	q.Flushing = ""
	return calc.GapRange(j.book, q, j.lastPass())
}

// ra is the roughness to expect: of the table, or a fifth either way about the
// shop's own cut.
func (j *job) ra() unit.Range {
	f := j.facts
	n := strconv.Itoa(int(f.at(factPasses)))
	row, _ := j.book.Find("finishes", n, "any")
	r := row.Range("ra", "um", 1)
	if v := f.at(factRa); v != r.Likely {
		r = about(v)
	}
	return r
}

// about is a fifth either way of a measured roughness: common practice, no source.
func about(v float64) unit.Range { return unit.Range{Low: v * 0.8, Likely: v, High: v * 1.2} }

// cutRa is the roughness that the shop measured after a pass of a cut like this.
func (j *job) cutRa(pass, passes int) (float64, bool) {
	q := j.cut()
	q.Pass, q.Passes, q.Flushing = strconv.Itoa(pass), strconv.Itoa(passes), ""
	row, _, _, ok := j.book.Nearest(q, "ra_um")
	return row.Num("ra_um"), ok
}

// polarity is that of one pass: only the last two change to wire plus.
func (j *job) polarity(s *subs, pass, passes int) string {
	switch {
	case !j.facts.is(factPolarity, "wire-plus"):
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
	i := j.rules.stage("can")
	can := &j.out[i]
	row := j.row(&j.rules.steps[i], can)
	switch can.value {
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
	if can.value != "yes" {
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
	n := int(j.facts.at(factPasses))
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
		if times != nil {
			name, share := "skim-time", float64(n-1)
			if i == 1 {
				name, share = "rough-time", 1
			}
			if v, ok := times.Value(name); ok {
				st := unit.Style{Unit: "min", Decimals: 0}
				if v.Range.Likely/share >= 3*3600 {
					st = unit.Style{Unit: "h", Decimals: 1}
				}
				long = unit.Print(unit.TimeKind, v.Range.Likely/share, st)
			}
		}
		if row, ok := j.book.Find("finishes", p, "any"); ok {
			ra = unit.PrintRange(unit.RoughnessKind, row.Range("ra", "um", 1), unit.Style{Unit: "µm", Decimals: 2, Trim: true})
		}
		if v, ok := j.cutRa(i, n); ok {
			ra = unit.PrintRange(unit.RoughnessKind, about(v), unit.Style{Unit: "µm", Decimals: 2, Trim: true})
		}
		if i == n {
			ra = unit.PrintRange(unit.RoughnessKind, j.ra(), unit.Style{Unit: "µm", Decimals: 2, Trim: true})
		}
		add(t, []string{p, text("offset-" + p), takes, left, j.polarity(s, i, n), long, ra, "", ""}, 1)
	}
	a.Tables = append(a.Tables, *t)
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
	for _, text := range s.refused {
		a.Note("Left out, " + text + ".")
	}
	a.Used(j.lent...)
}
