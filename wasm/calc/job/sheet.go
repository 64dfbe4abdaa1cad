package job

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// order is the order of the lines on the sheet. It is that of a reader, not that
// in which they are decided.
const order = "can drives machine dielectric wire wire-type roughing flushing start threading after-break tension tilt passes polarity slug order relax lead-in direction clamping pickup surface cobalt-loss shape warmth time spool inspection"

// say works the whole sheet out.
func (in *form) say(r *calc.Result, a *calc.Answer) {
	e := in.bench()
	j := in.job(e)
	in.inputs(j, r, a, "as-decided")
	j.run()
	s := in.subs(j, r.System)
	sheet := &calc.Sheet{}
	a.Sheet = sheet
	in.title(sheet)
	for _, name := range strings.Fields(order) {
		if l := j.line(s, name, a); l != nil {
			sheet.Lines = append(sheet.Lines, *l)
		}
	}
	j.lists(s, sheet, a)
	in.give(r, a, j, s)
	in.band(a, j, s)
	in.passTable(a, j, s)
	in.alternatives(e, r, a, s)
	in.compare(r, a, j, s)
	in.rest(a, j, s)
	a.Files = append(a.Files, calc.File{Name: "job-sheet.txt", What: "the sheet as text", Text: Text(a)})
}

// job is a new job on the bench with the reader's card and decisions.
func (in *form) job(e *bench) *job {
	j := &job{bench: e, facts: e.rules.newFacts(), own: map[string]string{}, ownNum: map[string]float64{}}
	for name, v := range in.own {
		if *v != "" && *v != asDecided {
			j.own[name] = *v
		}
	}
	if *in.given["wire"] {
		j.ownNum["wire"] = float64(in.wire)
	}
	if *in.given["passes"] {
		j.ownNum["passes"] = float64(in.passes)
	}
	for _, c := range e.cards {
		if c.Key == in.machine {
			j.chosen = c
		}
	}
	return j
}

func (in *form) subs(j *job, system unit.System) *subs {
	typed := map[string]string{}
	if in.asks != "none" && in.asks != "sharp" {
		typed["radius"] = span(in.radius.Low, in.radius.Likely, in.radius.High)
	}
	if j.facts.is(factDrawing, "yes") && j.facts.at(factRadius) > 0 {
		typed["radius"] = inUnit(j.facts.at(factRadius), "mm")
	}
	typed["size"] = span(in.size.Low, in.size.Likely, in.size.High)
	return &subs{job: j, of: in.of, system: system, typed: typed, replies: map[string]*calc.Reply{}, asked: map[string]*calc.Reply{}}
}

// span spells a demand with its tolerance as the print would.
func span(low, likely, high unit.Length) string {
	if high-low < same {
		return inUnit(float64(likely), "mm")
	}
	return unit.Fixed(float64(likely), 9) + " +" + unit.Fixed(float64(high-likely), 9) + "/-" + unit.Fixed(float64(likely-low), 9) + " mm"
}

// easy is the width of tolerance taken when the print gives none: what wire
// cutting holds without care. Common practice, no source.
const easy = 0.1

// inputs notes what the reader gave.
func (in *form) inputs(j *job, r *calc.Result, a *calc.Answer, aim string) {
	f := j.facts
	f.word(factAim, aim)
	f.word(factAsks, in.asks)
	radius := in.radius.High
	if in.asks == "maximum" {
		radius = in.radius.Low
	}
	f.number(factRadius, float64(radius))
	f.number(factAngle, float64(in.angle))
	f.number(factHeight, float64(in.thickness))
	if in.slotGiven {
		f.number(factSlot, float64(in.slot))
	}
	if in.toothGiven {
		f.number(factTooth, float64(in.tooth))
	}
	f.word(factMaterial, in.material)
	f.word(factCondition, in.condition)
	if in.material == "carbide" {
		f.number(factCobalt, float64(in.cobalt))
		if in.condition != "ground" {
			f.word(factCondition, "sintered")
		}
	}
	width := float64(in.size.High - in.size.Low)
	if width <= same {
		width = easy
	}
	f.number(factSize, float64(in.size.Likely))
	f.number(factTolerance, width)
	f.number(factFinish, float64(unit.Nominal(in.finish))) // 32 µin on a print is 0.8 µm
	f.word(factMeasured, in.measured)
	f.word(factDatum, in.datum)
	if in.taper > 0 {
		f.number(factTaper, float64(in.taper))
	}
	f.word(factKind, in.kind)
	f.number(factLength, float64(in.length))
	f.number(factOpenings, float64(in.openings))
	f.number(factQuantity, float64(in.quantity))
	f.word(factOil, in.oil)
	f.word(factStartHole, in.startHole)
	f.word(factUnattended, in.unattended)
	f.word(factNozzles, in.nozzle)
	if in.slugGiven {
		f.number(factSlugWidth, float64(in.slugWidth))
	}
	f.flag(factDrawing, in.drawing != "")
	if in.drawing != "" && in.of("profile") != nil {
		in.readDrawing(j, r, a)
	}
}

// readDrawing lets the drawing decide radius, angle, slot and length.
func (in *form) readDrawing(j *job, r *calc.Result, a *calc.Answer) {
	side := "opening"
	if in.kind == "punch" {
		side = "punch"
	}
	rep := in.of("profile").Eval(in.book, calc.Input{Values: map[string]string{"sample": "own", "drawing": in.drawing, "side": side}, System: r.System})
	if rep.Answer == nil {
		for _, p := range rep.Problems {
			a.Note("The drawing was not read, so the numbers typed count: " + p.Text + ".")
		}
		j.facts.flag(factDrawing, false)
		return
	}
	said := ""
	for _, pair := range [...]struct {
		answer string
		fact   fact
	}{{"smallest-inside-radius", factRadius}, {"smallest-included-angle", factAngle}, {"narrowest-slot", factSlot}, {"path-length", factLength}} {
		if v, ok := rep.Answer.Value(pair.answer); ok && v.Range.Likely > 0 {
			j.facts.number(pair.fact, v.Range.Likely)
			join(&said, j.rules.facts[pair.fact].name+" "+unit.Print(v.Kind, v.Range.Likely, v.Style))
		}
	}
	a.Figure = rep.Answer.Figure
	a.Note("The drawing decides: " + said + ". What was typed for these is not used.")
	if _, ok := rep.Answer.Value("smallest-inside-radius"); !ok {
		a.Note("It has no inside radius: where it has an inside corner, that one is drawn sharp, and what was typed for the corner counts.")
	} else if j.facts.is(factAsks, "none") || j.facts.is(factAsks, "sharp") {
		j.facts.word(factAsks, "maximum") // it has an inside corner, and this one is round
	}
}

// title is what stands in the title block.
func (in *form) title(s *calc.Sheet) {
	s.Title = []calc.Entry{{Name: "part", Label: "Part", Text: in.part}, {Name: "number", Label: "Drawing number", Text: in.number},
		{Name: "revision", Label: "Revision", Text: in.revision}, {Name: "quantity", Label: "Pieces", Text: strconv.Itoa(int(in.quantity))}}
}

// line makes one line of the sheet, nil when the decision does not arise.
func (j *job) line(s *subs, name string, a *calc.Answer) *calc.Line {
	i := j.rules.stage(name)
	d, o := &j.rules.steps[i], &j.out[i]
	row := j.row(d, o)
	what, span := row.Cell("what"), row.Cell("range")
	if what == "" {
		return nil
	}
	l := &calc.Line{Name: name, Own: o.own, Label: row.Cell("name"), What: s.fill(what), Range: s.fill(span), Sure: row.Cell("sure")}
	if o.own {
		l.Because = "you decided so"
	}
	for _, k := range o.fired {
		r := &j.rules.list[k]
		if !o.own || d.kind != bound { // the reason of a bound speaks of the number it gave
			join(&l.Because, s.fill(r.Text))
		}
		l.Rules = append(l.Rules, r.Name)
		more(l, r, a)
	}
	for _, k := range o.against {
		r := &j.rules.list[k]
		if len(r.when) > 0 || d.kind == bound {
			join(&l.Breaks, "against the rule "+r.Name+": "+s.fill(r.Text))
		}
		more(l, r, a)
	}
	if o.own {
		for _, k := range j.out[j.rules.stage("against")].fired {
			if r := &j.rules.list[k]; r.Asks == name {
				join(&l.Breaks, s.fill(r.Text))
			}
		}
	}
	if l.Sure == "table" && s.measured(what+span) {
		l.Sure = "measured cut"
	} else if l.Sure == "table" || l.Sure == "rule" {
		l.Sure += " (common practice)"
	}
	for _, k := range o.fired {
		if j.rules.list[k].Row.Ours {
			l.Sure = "our shop's rule"
		}
	}
	return l
}

// more notes the page that the first rule of a line sends to, and the rule used.
func more(l *calc.Line, r *Rule, a *calc.Answer) {
	if l.Page == "" {
		l.Page = r.Page
	}
	a.Used(*r.Row)
}

// join adds a piece to a text, after a semicolon when it is not the first.
func join(to *string, text string) {
	if *to != "" {
		*to += "; "
	}
	*to += text
}

// row is the row of the table of decisions for what was decided; a bound has one
// row, whose option is empty.
func (j *job) row(d *decision, o *outcome) *book.Row {
	for _, r := range j.rules.options[d.name] {
		if r.Cell("option") == o.value || d.kind == bound {
			return r
		}
	}
	return &book.Row{}
}

// measured reports whether a text prints an answer that rests on the shop's cut.
func (s *subs) measured(text string) bool {
	for id, rep := range s.replies {
		if rep == nil || rep.Answer == nil || !strings.Contains(text, "{"+id+".") {
			continue
		}
		for _, r := range rep.Answer.Rows {
			if r.Table == "cuts" {
				return true
			}
		}
	}
	return false
}

// lists are the checks, questions, cautions and notes, and the questions that
// rules without an order leave open.
func (j *job) lists(s *subs, sheet *calc.Sheet, a *calc.Answer) {
	each := func(name string, say func(text string)) {
		for _, k := range j.out[j.rules.stage(name)].fired {
			r := &j.rules.list[k]
			say(s.fill(r.Text))
			a.Used(*r.Row)
		}
	}
	for i, o := range j.out {
		if len(o.clash) == 0 {
			continue
		}
		var names []string
		for _, k := range slices.Concat(o.fired, o.clash) {
			if !slices.Contains(names, j.rules.list[k].Name) {
				names = append(names, j.rules.list[k].Name)
			}
		}
		sheet.Open = append(sheet.Open, "The rules "+strings.Join(names, " and ")+" ask for different things under "+spell.Straight(j.rules.steps[i].name)+" and no order is given; the sheet took the first. Which holds?")
	}
	each("check", func(t string) { sheet.Checks = append(sheet.Checks, t) })
	if j.facts.is(factFound, "yes") && !j.facts.knows(factPullsAlone) {
		sheet.Open = append(sheet.Open, "Does "+j.facts.get(factCardName)+" thread the wire itself? Its card does not say (column threading: alone or hand), so the sheet counts on a hand.")
	}
	each("question", func(t string) { sheet.Open = append(sheet.Open, t) })
	each("caution", func(t string) {
		word, text, ok := cut(t, ": ")
		if !ok {
			word, text = "CAUTION", t
		}
		a.Caution(word, text)
	})
	sortCautions(a.Cautions)
	each("note", a.Note)
}

// sortCautions puts what can kill first, as ANSI Z535.6 ranks the signal words.
func sortCautions(list []calc.Caution) {
	rank := func(word string) int { return strings.Index("DANGER WARNING CAUTION NOTICE", word) }
	for i := range list { // three at most: no library sort in the browser
		for k := i; k > 0 && rank(list[k].Word) < rank(list[k-1].Word); k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}
