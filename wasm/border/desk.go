package border

import (
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/panel"
	"kerfbook/wasm/unit"
)

// Desk answers requests with a set of calculators and the book it was given.
type Desk struct {
	// Calculators makes the set for a book; catalog.New in the shipped program.
	Calculators func(*book.Book) (*calc.Set, error)
	// Trusted, where it is set, finds the calculators of a book instead: those of
	// the browser, which nobody checks again.
	Trusted func(*book.Book) func(id string) (*calc.Calculator, bool)
	// Rest, where it is set, tidies up while nobody types.
	Rest func()
	find func(id string) (*calc.Calculator, bool)
	book *book.Book
	sent map[string]sending // by place
}

// Ask answers one request. The verbs:
//
//	book      value "book": the edition's canonical book; answers "ok"
//	save      as answer, with "edition" and lines "keep.NAME" that stay as they are;
//	          answers "saved", the job as lines, and "link", the same for a link's
//	          fragment, unless a field is refused. Nothing is worked out
//	open      the lines of a saved job; answers "calculator", "units", lines
//	          "in.FIELD", "keep.NAME" and "told"
//	rest      nobody types for a moment; answers "ok"
//	answer    "calculator", "units" (metric or inch), "in.FIELD" typed texts,
//	          "key.FIELD" unit keys just pressed, "strict" 1 to refuse a number
//	          without its unit; answers the named slots. With "place" and "turn" it
//	          answers only those that changed since "have" (see sending)
//
// A request that cannot be understood is answered by a line "error".
func (d *Desk) Ask(request string) string {
	if !utf8.ValidString(request) {
		return fail("the request is not UTF-8 text")
	}
	pairs := Decode(request)
	if len(pairs) == 0 {
		return fail("the request is empty")
	}
	switch pairs[0].Name {
	case "book":
		return d.takeBook(pairs[1:])
	case "answer":
		return d.answer(pairs[1:])
	case "rest":
		if d.Rest != nil {
			d.Rest()
		}
		return Encode([]Pair{{"ok", ""}})
	case "save":
		return d.save(pairs[1:])
	case "open":
		return d.open(pairs[1:])
	}
	return fail("there is no verb " + pairs[0].Name)
}

func fail(text string) string { return Encode([]Pair{{"error", text}}) }

func (d *Desk) takeBook(pairs []Pair) string {
	for _, p := range pairs {
		if p.Name != "book" {
			continue
		}
		b, err := book.Parse(p.Value)
		if err != nil {
			return fail("the book cannot be read: " + err.Error())
		}
		if d.Trusted != nil {
			d.find = d.Trusted(b)
		} else {
			set, err := d.Calculators(b)
			if err != nil {
				return fail("the calculators cannot use this book: " + err.Error())
			}
			d.find = set.Find
		}
		d.book, d.sent = b, nil
		return Encode([]Pair{{"ok", ""}})
	}
	return fail("the verb book wants a line book")
}

func (d *Desk) answer(pairs []Pair) string {
	c, in, refused := d.asked(pairs)
	if refused != "" {
		return fail(refused)
	}
	return Encode(append([]Pair{{"ok", c.ID}}, d.changed(pairs, panel.Slots(c.Eval(d.book, in), in.System))...))
}

// asked reads which calculator is asked and with what.
func (d *Desk) asked(pairs []Pair) (c *calc.Calculator, in calc.Input, refused string) {
	if d.find == nil {
		return nil, in, "no book was given yet"
	}
	in = calc.Input{Values: map[string]string{}, Keys: map[string]string{}}
	id := ""
	for _, p := range pairs {
		if name, ok := strings.CutPrefix(p.Name, "in."); ok {
			in.Values[name] = p.Value
		} else if name, ok := strings.CutPrefix(p.Name, "key."); ok {
			in.Keys[name] = p.Value
		} else if p.Name == "units" && p.Value == "inch" {
			in.System = unit.Inch
		} else if p.Name == "strict" {
			in.Strict = p.Value == "1"
		} else if p.Name == "calculator" {
			id = p.Value
		}
	}
	c, ok := d.find(id)
	if !ok {
		return nil, in, "there is no calculator " + id
	}
	return c, in, ""
}

// save writes what was typed as a job to keep. A field that is refused is kept
// as it was typed: nothing is lost.
func (d *Desk) save(pairs []Pair) string {
	c, in, refused := d.asked(pairs)
	if refused != "" {
		return fail(refused)
	}
	in.Reading = true
	rep := c.Eval(d.book, in)
	s := Keep(rep, in.System)
	link := []Pair{{"link", panel.Link(rep)}}
	for _, f := range rep.Fields {
		if f.Problem != "" {
			s.Inputs = append(s.Inputs, Pair{f.Name, in.Values[f.Name]})
			link = nil
		}
	}
	for _, p := range pairs {
		if name, ok := strings.CutPrefix(p.Name, "keep."); ok {
			s.Unknown = append(s.Unknown, Pair{name, p.Value})
		} else if p.Name == "edition" {
			s.Edition = p.Value
		}
	}
	return Encode(append([]Pair{{"ok", c.ID}, {"saved", Encode(s.Pairs())}}, link...))
}

// open reads a job that was kept.
func (d *Desk) open(pairs []Pair) string {
	if d.find == nil {
		return fail("no book was given yet")
	}
	s, err := ReadSaved(pairs)
	if err != nil {
		return fail(err.Error())
	}
	c, ok := d.find(s.Calculator)
	if !ok {
		return fail("it is of the calculator " + quoted(s.Calculator) + ", which this handbook does not have")
	}
	s, told := s.Fit(c, d.book)
	out := []Pair{{"ok", c.ID}, {"calculator", c.ID}, {"units", "metric"}, {"told", strings.Join(told, "\n")}}
	if s.System == unit.Inch {
		out[2].Value = "inch"
	}
	for _, p := range s.Inputs {
		out = append(out, Pair{"in." + p.Name, p.Value})
	}
	for _, p := range s.Unknown {
		out = append(out, Pair{"keep." + p.Name, p.Value})
	}
	return Encode(out)
}
