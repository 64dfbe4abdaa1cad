package job

import (
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// subs are the other calculators, asked for this job when a line first needs
// their answer.
type subs struct {
	job     *job
	of      func(id string) *calc.Calculator
	system  unit.System
	typed   map[string]string // inputs as they were typed, where a calculator wants the text
	replies map[string]*calc.Reply
	asked   map[string]*calc.Reply // by calculator and inputs; all alternatives of one sheet share it
	refused []string
}

// ask gives a calculator's answer for this job, nil when it refused.
func (s *subs) ask(id string) *calc.Answer {
	rep, asked := s.replies[id]
	if id == "corner" && s.job.Facts.Is(factAsks, "none") {
		return nil // it answers for a corner
	}
	if !asked {
		if c := s.of(id); c != nil {
			rep = s.once(c, s.values(id))
			for _, p := range rep.Problems {
				s.refused = append(s.refused, c.Title+": "+p.Text)
			}
		}
		s.replies[id] = rep
	}
	if rep == nil {
		return nil
	}
	return rep.Answer
}

// once asks a calculator, unless it was asked the same for another aim.
func (s *subs) once(c *calc.Calculator, values map[string]string) *calc.Reply {
	key := c.ID
	for _, pair := range strings.Fields(line(c.ID)) {
		name, _, _ := strings.Cut(strings.Replace(pair, ":", "=", 1), "=")
		key += "\n" + values[name]
	}
	if _, is := s.asked[key]; !is {
		s.asked[key] = c.Eval(s.job.book, calc.Input{Values: values, System: s.system, Strict: true})
	}
	return s.asked[key]
}

func (s *subs) values(id string) map[string]string {
	values := map[string]string{}
	for _, pair := range strings.Fields(line(id)) {
		if name, empty := strings.CutSuffix(pair, "!"); empty {
			values[name] = ""
			continue
		}
		name, what, ok := strings.Cut(pair, "=")
		text := ""
		if ok {
			text = s.job.Facts.Spell(s.job.Table.Fact(what))
		} else {
			name, what, _ = strings.Cut(pair, ":")
			text = s.derive(what)
		}
		if text != "" {
			values[name] = text
		}
	}
	return values
}

func inUnit(v float64, name string) string {
	return unit.Fixed(v, 9) + " " + name
}

// value is one numeric answer of another calculator.
func (s *subs) value(id, name string) (unit.Range, bool) {
	if a := s.ask(id); a != nil {
		if v, ok := a.Value(name); ok {
			return v.Range, true
		}
	}
	return unit.Range{}, false
}

// likely is its likely value, zero without one.
func (s *subs) likely(id, name string) float64 {
	v, _ := s.value(id, name)
	return v.Likely
}

// print is "calculator.answer", "calculator.answer.likely" or "calculator.headline".
func (s *subs) print(name string) (string, bool) {
	id, what, _ := strings.Cut(name, ".")
	what, part, _ := strings.Cut(what, ".")
	a := s.ask(id)
	if a == nil {
		return "", false
	}
	switch what {
	case "headline":
		return a.Headline, true
	}
	if p, ok := a.Pick(what); ok {
		return p.Likely.Label, true
	}
	v, ok := a.Value(what)
	if !ok {
		return "", false
	}
	if room, _ := a.Pick("verdict"); id == "start" && what == "largest" && room.Likely.Value == "no" {
		return "", false // no hole fits in the usual case, so the largest is no bound
	}
	switch part {
	case "likely":
		return unit.Print(v.Kind, v.Range.Likely, v.Style), true
	case "low":
		return unit.Print(v.Kind, v.Range.Low, v.Style), true
	case "high":
		return unit.Print(v.Kind, v.Range.High, v.Style), true
	}
	return v.Text, true
}

// fill puts facts and answers into a text.
func (s *subs) fill(text string) string { return rules.Fill(text, s.word) }

// word is one name in braces; after a colon stands "small" for a small length, or
// what is counted: {passes:pass} is "1 pass" or "3 passes".
func (s *subs) word(inner string) (string, bool) {
	name, form, _ := strings.Cut(inner, ":")
	if strings.Contains(name, ".") {
		return s.print(name)
	}
	f := s.job.Facts
	i, ok := s.job.Table.Find(name)
	if !ok || !f.Knows(i) {
		return "—", false
	}
	d := &s.job.Table.Terms[i]
	if !d.Numeric() {
		word := f.Word(i)
		if strings.HasSuffix(name, "-why") {
			return s.why(name), true
		}
		for _, row := range s.job.Table.Options[name] {
			if row.Cell("option") == word {
				return row.Cell("label"), true
			}
		}
		if d.Table != "" {
			if row, ok := s.job.book.Find(d.Table, word); ok {
				return row.Cell("name"), true
			}
		}
		return word, true
	}
	v := f.Number(i)
	st := d.Kind.Style(s.system)
	if st.Trim = true; d.Kind == unit.RatioKind {
		st.Decimals = 1
	}
	if d.Kind == unit.MassKind { // the slug's outline is a guess
		st.Decimals = 0
		switch {
		case v < 10:
			st.Decimals = 1
		case v >= 1000 && s.system == unit.Metric:
			st = unit.Style{Unit: "kg", Decimals: 1, Trim: true}
		}
	}
	if strings.HasSuffix(name, "-share") {
		st.Decimals = 0
	}
	if d.Kind == unit.RoughnessKind && s.system == unit.Metric && v >= 0.1 {
		st.Decimals = 2 // the law knows no more
	}
	switch {
	case form != "" && d.Kind == unit.CountKind:
		return spell.Count(int(v), form), true
	case form == "small":
		st = unit.Style{Unit: "µm", Decimals: 1, Trim: true}
		if s.system == unit.Inch {
			st = unit.Style{Unit: "thou", Decimals: 2, Trim: true}
		}
	}
	return unit.Print(d.Kind, v, st), true
}
