package job

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/calc"
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
	asked   map[string]*calc.Reply // by calculator and inputs, of all aims of one sheet
	refused []string
}

// inputs says what each calculator is asked: "field=fact", "field:text" for a
// word of its own, or "field!" for one that stays empty: only the time of the
// whole piece was asked, not that of a pass. A fact that is not known leaves the
// field at its default.
const inputs = `corner wire=wire radius:radius asks=asks angle=angle pass:last-pass dielectric=dielectric slot=slot material:plain thickness=height finish=finish machine:machine
slot wire=wire width=slot depth=height dielectric=dielectric material=material machine:machine
ladder wire=wire dielectric=dielectric passes=passes material:plain thickness=height radius=radius angle=angle machine:machine
finish ra=finish wire=wire dielectric=dielectric material=material thickness=height machine:machine
rate material=material thickness=height wire=wire dielectric=dielectric flushing=flushing path:path passes=passes starts=openings tabs:tabs machine:machine
wire wire=wire kind=wire-type taper=taper machine:machine
thread wire=wire kind=wire-type thickness=height hole:hole led:led machine:machine
start from:from wire=wire distance:distance thickness=height led:led machine:machine
slug material=material width=slug-width length:slug-length thickness=height wire=wire dielectric=dielectric skims:skims machine:machine
recast pair:pair stock:stock
leach cobalt=cobalt conductivity:low-water gap:gap
bow thickness=height wire=wire kind=wire-type tension:pull other:pull-skim pass:skim-pass
pickup datum:from-datum tolerance=tolerance thickness=height material=material wire=wire
inspect what:what width=slot radius=radius angle=angle depth=height tolerance=tolerance ra=finish
size size:size material=material
taper taper=taper thickness=height radius=radius angle=angle wire=wire kind=wire-type
trial cut:cut-name what:trial size:nominal measured:found slot:test-slot wire=wire pass=passes passes=passes offsets:offsets gaps:gaps ra:got-ra time! length=length thickness=height material=material dielectric=dielectric flushing=flushing machine:machine
`

// ask gives a calculator's answer for this job, nil when it refused.
func (s *subs) ask(id string) *calc.Answer {
	rep, asked := s.replies[id]
	if id == "corner" && s.job.facts.is(factAsks, "none") {
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
		name, _, _ := cut(strings.Replace(pair, ":", "=", 1), "=")
		key += "\n" + values[name]
	}
	if _, is := s.asked[key]; !is {
		s.asked[key] = c.Eval(s.job.book, calc.Input{Values: values, System: s.system, Strict: true})
	}
	return s.asked[key]
}

// line is what a calculator is asked.
func line(id string) string {
	_, rest, _ := strings.Cut("\n"+inputs, "\n"+id+" ")
	rest, _, _ = strings.Cut(rest, "\n")
	return rest
}

func (s *subs) values(id string) map[string]string {
	values := map[string]string{}
	for _, pair := range strings.Fields(line(id)) {
		if name, empty := strings.CutSuffix(pair, "!"); empty {
			values[name] = ""
			continue
		}
		name, what, ok := cut(pair, "=")
		text := ""
		if ok {
			text = s.job.facts.spell(what)
		} else {
			name, what, _ = cut(pair, ":")
			text = s.special(what)
		}
		if text != "" {
			values[name] = text
		}
	}
	return values
}

// spell is a fact as a calculator's field reads it.
func (f *facts) spell(name string) string {
	i := f.of.fact(name)
	d := f.of.facts[i]
	switch {
	case !f.known[i]:
		return ""
	case !d.numeric():
		return f.text[i]
	}
	return unit.Print(d.kind, f.num[i], unit.Style{Unit: d.kind.Base(), Decimals: 9, Trim: true})
}

func inUnit(v float64, name string) string {
	return unit.Fixed(v, 9) + " " + name
}

// usualDistance is from the contour to the start in mm where there is room, as
// the calculator of starts has it. Common practice, no source.
const usualDistance = 3

// special is a word that is not one fact.
func (s *subs) special(what string) string {
	f := s.job.facts
	switch what {
	case "led": // by the card: a machine that threads itself leads the wire
		if f.is(factPullsAlone, "yes") {
			return "jet"
		}
		return "pushed"
	case "last-pass":
		return s.job.lastPass()
	case "machine":
		return s.job.machine()
	case "plain":
		return plain(f.get(factMaterial))
	case "path":
		return inUnit(f.at(factLength)*f.at(factOpenings), "mm")
	case "tabs":
		if f.is(factSlug, "tab") {
			return strconv.Itoa(int(f.at(factOpenings)))
		}
		return "0"
	case "hole":
		if f.is(factStart, "hole") {
			if v, ok := s.value("start", "smallest"); ok {
				return inUnit(math.Max(v.High, f.at(factLeastHole)), "mm")
			}
		}
		return ""
	case "distance": // to the edge as usual; a hole stands off as far as it needs
		if f.is(factStart, "edge") {
			return inUnit(usualDistance, "mm")
		}
		return f.spell("start-distance")
	case "from":
		if f.is(factStart, "edge") {
			return "edge"
		}
		return "hole"
	case "from-datum":
		if f.is(factPickup, "edge") {
			return "edge"
		}
		return "hole"
	case "skims":
		return strconv.Itoa(int(f.at(factPasses)) - 1)
	case "slug-length":
		return inUnit(math.Max(f.at(factSlugWidth), f.at(factLength)/2-f.at(factSlugWidth)), "mm")
	case "pair":
		switch n := f.at(factPasses); {
		case n < 2:
			return "rough"
		case n < 4:
			return "skim"
		}
		return "fine"
	case "stock":
		left, _, _ := s.job.book.Left(unit.Length(f.at(factWire)))
		return inUnit(left.Likely, "mm")
	case "low-water":
		if row, ok := s.job.book.Find("waters", "carbide"); ok {
			return row.Cell("target_low_uscm") + " to " + row.Cell("target_high_uscm") + " µS/cm"
		}
	case "gap":
		q := s.job.cut()
		q.Flushing = ""
		g := calc.GapRange(s.job.book, q, "rough")
		return inUnit(g.Likely, "mm")
	case "pull", "pull-skim":
		name := "tension-rough"
		if what == "pull-skim" || f.at(factPasses) > 1 { // the wall that is measured is the last pass's
			name = "tension-skim"
		}
		if v, ok := s.value("wire", name); ok {
			return inUnit(v.Likely, "N")
		}
	case "skim-pass":
		if f.at(factPasses) > 1 {
			return "skim"
		}
		return "full"
	case "what":
		if f.knows(factRadius) {
			return "corner"
		}
		if f.knows(factSlot) {
			return "slot"
		}
		return "finish"
	}
	return s.typed[what]
}

// plain is the name of a material where only the five groups are known.
func plain(material string) string {
	switch material {
	case "carbide", "aluminium", "copper", "titanium":
		return material
	}
	return "steel"
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
	id, what, _ := cut(name, ".")
	what, part, _ := cut(what, ".")
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

// fill puts facts and answers into a text. A piece between square brackets is
// left out when one of its names is not known.
func (s *subs) fill(text string) string {
	out, _ := s.piece(text)
	return out
}

func (s *subs) piece(text string) (string, bool) {
	var out strings.Builder
	whole := true
	for text != "" {
		i := strings.IndexAny(text, "{[")
		if i < 0 {
			out.WriteString(text)
			break
		}
		out.WriteString(text[:i])
		if text[i] == '[' {
			inner, rest, _ := cut(text[i+1:], "]")
			if t, ok := s.piece(inner); ok {
				out.WriteString(t)
			}
			text = rest
			continue
		}
		inner, rest, _ := cut(text[i+1:], "}")
		t, ok := s.word(inner)
		whole = whole && ok
		out.WriteString(t)
		text = rest
	}
	return out.String(), whole
}

// word is one name in braces; after a colon stands "small" for a small length, or
// what is counted: {passes:pass} is "1 pass" or "3 passes".
func (s *subs) word(inner string) (string, bool) {
	name, form, _ := cut(inner, ":")
	if strings.Contains(name, ".") {
		return s.print(name)
	}
	f := s.job.facts
	i, ok := f.of.names[name]
	if !ok || !f.known[i] {
		return "—", false
	}
	d := f.of.facts[i]
	if !d.numeric() {
		for _, row := range f.of.options[name] {
			if row.Cell("option") == f.text[i] {
				return row.Cell("label"), true
			}
		}
		if name == "material" {
			if row, ok := s.job.book.Find("materials", f.text[i]); ok {
				return row.Cell("name"), true
			}
		}
		return f.text[i], true
	}
	st := d.kind.Style(s.system)
	if st.Trim = true; d.kind == unit.RatioKind {
		st.Decimals = 1
	}
	if d.kind == unit.MassKind { // the slug's outline is a guess
		st.Decimals = 0
		if f.num[i] < 10 {
			st.Decimals = 1
		}
	}
	switch {
	case form != "" && d.kind == unit.CountKind:
		return count(f.num[i], form), true
	case form == "small":
		st = unit.Style{Unit: "µm", Decimals: 1, Trim: true}
		if s.system == unit.Inch {
			st = unit.Style{Unit: "thou", Decimals: 2, Trim: true}
		}
	}
	return unit.Print(d.kind, f.num[i], st), true
}

// count is a number with what is counted.
func count(n float64, noun string) string {
	text := unit.Fixed(n, 0) + " " + noun
	switch {
	case n == 1:
		return text
	case strings.HasSuffix(noun, "s"):
		return text + "es"
	}
	return text + "s"
}
