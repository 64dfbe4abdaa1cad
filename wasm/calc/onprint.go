package calc

import (
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Class is that of a tolerance on a print. The rows that a reading used are those of
// the field that is read.
func (e *evaluation) Class(name string, size float64) (low, high float64, fault string) {
	low, high, e.printed, fault = Class(e.book, name, unit.Length(size))
	return low, high, fault
}

// Ratio is how many times Ra a figure of the print is.
func (e *evaluation) Ratio(figure string) unit.Range {
	r, ok := e.book.Find("ratios", figure)
	if !ok {
		return unit.Range{}
	}
	e.printed = []book.Row{r}
	return r.Range("ratio", "n0", 1)
}

// print is what reads a print with the tables of the edition; nil without them.
func (e *evaluation) print() unit.OnPrint {
	if e.book == nil || e.book.Table("deviations") == nil {
		return nil
	}
	return e
}

// bears says what keeps a field from taking what stands beside the number on a print;
// "" when nothing does.
func (f *Form) bears(d *bound, on *unit.Printed) string {
	name := turned(d.Label, 'A')
	radius, diameter := strings.Contains(name, "radius"), d.Mark == "⌀" || strings.Contains(name, "wire") || strings.Contains(name, "diameter")
	say := ""
	switch {
	case on.Sign == "R" && diameter:
		say = " is a diameter, and “R” says radius: write ⌀ and twice the number"
	case on.Sign == "R" && !radius:
		say = " is no radius, and “R” says that this is one: write the number alone if it is meant"
	case on.Sign == "⌀" && radius:
		say = " is a radius, and “⌀” says diameter: write R and half the number"
	case on.Turned() && strings.Contains(name, "found"):
		say = " was read as Ra: nothing else can be turned into it"
	case on.Limit == "" || d.Kind == unit.RoughnessKind:
	case d.Demand && (!radius || f.field("asks") == nil):
		say = " has two limits, and the print gives one: write both, for example 39.98/40 mm or 40 +0/-0.02 mm"
	case d.Ranges && !d.Demand:
		say = " takes a range, and one limit leaves its other end open: write both, for example 2 to 6 µm"
	}
	if say != "" {
		say = d.Label + say
	}
	return say
}

// agree holds “max” or “min” beside a radius against the choice that says the same:
// where it was not chosen it follows, else it must not contradict.
func (e *evaluation) agree(rep *Reply, chosen map[string]string) {
	l := e.form.field("asks") // what a print asks of an inside radius
	if l == nil || e.limit == "" {
		return
	}
	name := l.Name
	_, typed := chosen[name]
	if now := l.getText(); !typed {
		l.setText(e.limit)
	} else if name = e.limited; now == e.limit || now == "sharp" || now == "none" {
		return
	}
	for i := range rep.Fields {
		st := &rep.Fields[i]
		switch {
		case st.Name != name:
		case typed:
			st.Problem = "the number is a " + e.limit + ", and “" + l.Label + "” says otherwise: change one of the two"
			rep.Problems = append(rep.Problems, Problem{name, st.Problem})
		default:
			st.Text, st.Key = e.limit, e.limit
		}
	}
}

// option finds the value that a text names among the options of a choice: by the
// value, by its words, or by another name that the table of materials gives a row of
// that name. Else it says which was perhaps meant.
func (e *evaluation) option(d *bound, text string) (value, problem string) {
	if hasOption(d.Options, text) {
		return text, ""
	}
	var values, among []string // among: each name before the value it stands for
	add := func(name, of string) { among = append(among, name, of) }
	for _, o := range d.Options {
		values = append(values, o.Value)
		add(o.Label, o.Value)
		add(o.Value, o.Value)
	}
	if t := e.materials(); t != nil {
		for i := range t.Rows {
			r := &t.Rows[i]
			for names := r.Cell("also"); names != "" && hasOption(d.Options, r.Key); {
				var one string
				one, names, _ = strings.Cut(names, "; ")
				add(one, r.Key)
			}
		}
	}
	want := folded(text)
	for i := 0; i < len(among); i += 2 {
		if of := among[i+1]; folded(among[i]) == want && value != of {
			if value != "" {
				problem = ", which names more than one of them"
			}
			value = of
		}
	}
	if value == "" {
		problem = meant(text, among)
	} else if problem == "" {
		return value, ""
	}
	return "", d.Label + " is one of " + strings.Join(values, ", ") + "; this is " + quote(text) + problem
}

// materials is the table of materials, where it has a column of other names.
func (e *evaluation) materials() *book.Table {
	if e.book == nil {
		return nil
	}
	t := e.book.Table("materials")
	if t == nil || !t.Column("also") {
		return nil
	}
	return t
}

// folded makes one spelling of the many that a name is typed in: capitals, spaces,
// hyphens and a comma for a point do not count.
func folded(s string) string {
	out := []byte(lower(s))
	n := 0
	for _, c := range out {
		if c == ',' {
			c = '.'
		}
		if c != ' ' && c != '-' && c != 0xc2 && c != 0xa0 { // the last two are a space that keeps words together
			out[n] = c
			n++
		}
	}
	return string(out[:n])
}

// Meant asks whether the nearest of a calculator's fields was meant; "" when none is near.
func (c *Calculator) Meant(b *book.Book, name string) string {
	f, _ := c.form(b)
	return meant(name, f.names())
}

// meant asks whether the nearest of the names was meant; "" when none is near.
func meant(name string, among []string) string {
	if near, ok := spell.Nearest(name, among); ok {
		return "; did you mean " + quote(near) + "?"
	}
	return ""
}
