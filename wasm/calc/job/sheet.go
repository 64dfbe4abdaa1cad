package job

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// order is the order of the lines on the sheet. It is that of a reader, not that
// in which they are decided.
const order = "can drives machine dielectric wire wire-type roughing flushing start threading after-break tension tilt passes polarity slug order relax lead-in direction clamping pickup surface cobalt-loss shape warmth time spool inspection"

// say works the whole sheet out.
func (in *form) say(r *calc.Result, a *calc.Answer) {
	e := in.cache()
	j := in.job(e)
	in.inputs(j, r, a, "as-decided")
	j.Run(j)
	s := in.subs(j, r.System)
	sheet := &calc.Sheet{}
	a.Sheet = sheet
	in.title(sheet)
	printed(r, sheet)
	for _, name := range strings.Fields(order) {
		if l := j.line(s, name, a); l != nil {
			sheet.Lines = append(sheet.Lines, *l)
		}
	}
	j.lists(s, sheet, a)
	in.give(r, a, j, s)
	in.band(a, j, s)
	if j.now != nil {
		sheet.Process = &calc.Process{Decided: *j.now}
	}
	in.passTable(a, j, s)
	in.limits(a, j, s)
	in.alternatives(e, r, a, s)
	in.front(a, j, s)
	in.losers(a, j, s)
	in.demands(a, j, s)
	in.quote(a, j, s)
	in.compare(r, a, j, s)
	in.rest(a, j, s)
	a.Files = append(a.Files, calc.File{Name: "job-sheet.txt", What: "the sheet as text", Text: Text(a)})
}

// job is a new job with the reader's card and decisions.
func (in *form) job(e *cache) *job {
	j := &job{cache: e, Case: e.rules.NewCase()}
	for name, v := range in.own {
		if *v != "" && *v != asDecided {
			j.Own[name] = *v
		}
	}
	if *in.given["wire"] {
		j.OwnNum["wire"] = float64(in.wire)
	}
	if *in.given["passes"] {
		j.OwnNum["passes"] = float64(in.passes)
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
	if j.Facts.Is(factDrawing, "yes") && j.Facts.Number(factRadius) > 0 {
		typed["radius"] = inUnit(j.Facts.Number(factRadius), "mm")
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
	f := j.Facts
	f.SetWord(factAim, aim)
	f.SetWord(factAsks, in.asks)
	radius := in.radius.High
	if in.asks == "maximum" {
		radius = in.radius.Low
	}
	f.SetNumber(factRadius, float64(radius))
	f.SetNumber(factAngle, float64(in.angle))
	f.SetNumber(factHeight, float64(in.thickness))
	if in.slotGiven {
		f.SetNumber(factSlot, float64(in.slot))
	}
	if in.toothGiven {
		f.SetNumber(factTooth, float64(in.tooth))
	}
	f.SetWord(factMaterial, in.material)
	f.SetWord(factCondition, in.condition)
	if in.condition == "hardened" && !hardens(in.material) {
		f.SetWord(factCondition, "annealed") // what cannot be hardened keeps no stress of it
	}
	if in.material == "carbide" {
		f.SetNumber(factCobalt, float64(in.cobalt))
		if in.condition != "ground" {
			f.SetWord(factCondition, "sintered")
		}
	}
	width := float64(in.size.High - in.size.Low)
	if width <= same {
		width = easy
	}
	f.SetNumber(factSize, float64(in.size.Likely))
	f.SetNumber(factTolerance, width)
	f.SetNumber(factFinish, float64(unit.Nominal(in.finish))) // 32 µin on a print is 0.8 µm
	f.SetWord(factMeasured, in.measured)
	f.SetWord(factDatum, in.datum)
	if in.taper > 0 {
		f.SetNumber(factTaper, float64(in.taper))
	}
	f.SetWord(factKind, in.kind)
	f.SetNumber(factLength, float64(in.length))
	f.SetNumber(factOpenings, float64(in.openings))
	f.SetNumber(factQuantity, float64(in.quantity))
	f.SetWord(factOil, in.oil)
	f.SetWord(factStartHole, in.startHole)
	f.SetWord(factUnattended, in.unattended)
	f.SetWord(factNozzles, in.nozzle)
	if in.slugGiven {
		f.SetNumber(factSlugWidth, float64(in.slugWidth))
	}
	f.SetFlag(factDrawing, in.drawing != "")
	if in.drawing != "" && in.of("profile") != nil {
		in.readDrawing(j, r, a)
	}
}

// hardens reports whether a work material is hardened by quenching or ageing, which
// leaves stress in it.
func hardens(material string) bool {
	return hasWord("steel hot-work high-speed powder ph-stainless beryllium-copper", material)
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
		j.Facts.SetFlag(factDrawing, false)
		return
	}
	said := ""
	for _, pair := range [...]struct {
		answer string
		fact   rules.Fact
	}{{"smallest-inside-radius", factRadius}, {"smallest-included-angle", factAngle}, {"narrowest-slot", factSlot}, {"path-length", factLength}} {
		if v, ok := rep.Answer.Value(pair.answer); ok && v.Range.Likely > 0 {
			j.Facts.SetNumber(pair.fact, v.Range.Likely)
			join(&said, j.Table.Terms[pair.fact].Name+" "+unit.Print(v.Kind, v.Range.Likely, v.Style))
		}
	}
	a.Figure = rep.Answer.Figure
	a.Note("The drawing decides: " + said + ". What was typed for these is not used.")
	if _, ok := rep.Answer.Value("smallest-inside-radius"); !ok {
		a.Note("It has no inside radius: where it has an inside corner, that one is drawn sharp, and what was typed for the corner counts.")
	} else if j.Facts.Is(factAsks, "none") || j.Facts.Is(factAsks, "sharp") {
		j.Facts.SetWord(factAsks, "maximum") // it has an inside corner, and this one is round
	}
}

// prints are the fields that say what is to be cut and where, in the order in which
// a print is read.
const prints = "radius asks angle slot tooth thickness material condition cobalt size finish measured datum taper kind length openings quantity slug-width machine oil start-hole unattended nozzles"

// mustSay are those that nobody may leave as they stand: each decides much.
const mustSay = "thickness material size finish length"

// printed puts every input on the sheet, typed or assumed, and asks for those that
// decide much and that nobody touched.
func printed(r *calc.Result, s *calc.Sheet) {
	for _, name := range strings.Fields(prints) {
		label, text, assumed := r.Given(name)
		if label == "" || text == "" {
			continue
		}
		s.Print = append(s.Print, calc.Said{Name: name, Label: label, Text: text, Assumed: assumed})
		if assumed && hasWord(mustSay, name) {
			s.Open = append(s.Open, label+" was not said; the sheet assumes "+text+". What is it?")
		}
	}
}

// title is what stands in the title block.
func (in *form) title(s *calc.Sheet) {
	s.Title = []calc.Entry{{Name: "part", Label: "Part", Text: in.part}, {Name: "number", Label: "Drawing number", Text: in.number},
		{Name: "revision", Label: "Revision", Text: in.revision}, {Name: "quantity", Label: "Pieces", Text: strconv.Itoa(int(in.quantity))}}
}

// line makes one line of the sheet, nil when the decision does not arise.
func (j *job) line(s *subs, name string, a *calc.Answer) *calc.Line {
	i := j.Table.Stage(name)
	d, o := &j.Table.Steps[i], &j.Out[i]
	row := j.row(d, o)
	what, span := row.Cell("what"), row.Cell("range")
	if what == "" {
		return nil
	}
	l := &calc.Line{Name: name, Own: o.Own, Label: row.Cell("name"), What: s.fill(what), Range: s.fill(span), Sure: row.Cell("sure")}
	if o.Own {
		l.Because = "you decided so"
	}
	for _, k := range o.Fired {
		r := &j.Table.List[k]
		if !o.Own || d.Kind != rules.Bound { // the reason of a bound speaks of the number it gave
			if because := s.fill(r.Text); because != "" {
				join(&l.Because, because)
			}
		}
		l.Rules = append(l.Rules, r.Name)
		more(l, r, a)
	}
	for _, k := range o.Against {
		r := &j.Table.List[k]
		if !r.Bare() || d.Kind == rules.Bound {
			join(&l.Breaks, "against the rule "+r.Name+": "+s.fill(r.Text))
		}
		more(l, r, a)
	}
	if o.Own {
		for _, k := range j.Out[j.Table.Stage("against")].Fired {
			if r := &j.Table.List[k]; r.Asks == name {
				join(&l.Breaks, s.fill(r.Text))
			}
		}
	}
	if words := s.byLaw(what + span); words != "" && (l.Sure == "table" || l.Sure == "our estimate") {
		l.Sure = words
	} else if l.Sure == "table" || l.Sure == "rule" {
		l.Sure += " (common practice)"
	}
	for _, k := range o.Fired {
		if j.Table.List[k].Row.Ours {
			l.Sure = "our shop's rule"
		}
	}
	return l
}

// more notes the page that the first rule of a line sends to, and the rule used.
func more(l *calc.Line, r *rules.Rule, a *calc.Answer) {
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
func (j *job) row(d *rules.Decision, o *rules.Outcome) *book.Row {
	for _, r := range j.Table.Options[d.Name] {
		if r.Cell("option") == o.Value || d.Kind == rules.Bound {
			return r
		}
	}
	return &book.Row{}
}

// byLaw says how sure the answers are that a text prints, where they rest on the law
// of a pass: on what the shop read, on the law as its cuts taught it, or on the law
// alone. "" where none does.
func (s *subs) byLaw(text string) string {
	words := ""
	for id, rep := range s.replies {
		if rep == nil || rep.Answer == nil || id == "bow" || !strings.Contains(text, "{"+id+".") {
			continue // of the wire's bend only the offset is the law's, and no line prints it
		}
		for _, r := range rep.Answer.Rows {
			if r.Table != "factors" {
				continue
			}
			switch a := rep.Answer; {
			case a.Measured:
				return "measured cut"
			case a.Taught:
				words = "law of a pass, with your cuts"
			case words == "":
				words = "law of a pass (our estimate)"
			}
		}
	}
	return words
}

// lists are the checks, questions, cautions and notes, and the questions that
// rules without an order leave open.
func (j *job) lists(s *subs, sheet *calc.Sheet, a *calc.Answer) {
	each := func(name string, say func(text string)) {
		for _, k := range j.Out[j.Table.Stage(name)].Fired {
			r := &j.Table.List[k]
			say(s.fill(r.Text))
			a.Used(*r.Row)
		}
	}
	for i, o := range j.Out {
		if len(o.Clash) == 0 {
			continue
		}
		var names []string
		for _, k := range slices.Concat(o.Fired, o.Clash) {
			if !slices.Contains(names, j.Table.List[k].Name) {
				names = append(names, j.Table.List[k].Name)
			}
		}
		sheet.Open = append(sheet.Open, "The rules "+strings.Join(names, " and ")+" ask for different things under "+spell.Straight(j.Table.Steps[i].Name)+" and no order is given; the sheet took the first. Which holds?")
	}
	each("check", func(t string) { sheet.Checks = append(sheet.Checks, t) })
	if j.Facts.Is(factFound, "yes") && !j.Facts.Knows(factPullsAlone) {
		sheet.Open = append(sheet.Open, "Does "+j.Facts.Word(factCardName)+" thread the wire itself? Its card does not say (column threading: alone or hand), so the sheet counts on a hand.")
	}
	row, _ := j.book.Find("materials", j.Facts.Word(factMaterial))
	if how := calc.LawOf(j.book).Plan(j.cut(), 1).Material; how != "" {
		sheet.Open = append(sheet.Open, "The law knows this material "+how+", so its ranges are wide. What did a test cut in "+row.Cell("name")+" give?")
	}
	if !j.Facts.Knows(factGrows) {
		sheet.Open = append(sheet.Open, "How much does "+row.Cell("name")+" grow with heat? No row says, so the sheet leaves warmth out.")
	}
	each("question", func(t string) { sheet.Open = append(sheet.Open, t) })
	each("caution", func(t string) {
		word, text, ok := strings.Cut(t, ": ")
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
