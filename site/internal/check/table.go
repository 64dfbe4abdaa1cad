package check

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/site/diag"
	"kerfbook/site/internal/source"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/spell"
	"kerfbook/wasm/unit"
)

// Table is one of the edition's tables, or a grid of a calculator's answers, as
// a page prints it.
type Table struct {
	Title, Note string
	Heads       []Head
	Rows        [][]Cell
	From        Cell   // where all rows come from, when it is one place
	Name        string // of the edition's table; "" for a grid
	columns     []string
	numbers     int
}

// Head is a column's heading.
type Head struct {
	Text, Unit string
	Right      bool // numbers
}

// Cell is one value; Other is the same in the other system of units.
type Cell struct {
	Text, Other string
	Work        *source.Work // of a cell that says where its row comes from
	Ours        bool         // the row is the shop's own
}

// column is a heading and the columns of the table that make it.
type column struct {
	stem   string
	suffix string
	low    bool   // low, likely and high stand beside each other
	base   string // what stands before _low_
	single string
}

// suffixes name the units of the columns, and what the other system prints. Its
// keys are those of book.Units.
var suffixes = map[string]struct {
	name     string
	kind     unit.Kind
	other    string
	decimals int
}{
	"mm": {"mm", unit.LengthKind, "thou", 2}, "um": {"µm", unit.LengthKind, "thou", 2}, "uin": {name: "µin"}, "pct": {name: "%"}, "deg": {name: "°"},
	"mm2min": {"mm²/min", unit.AreaRateKind, "in²/h", 1}, "mmmin": {"mm/min", unit.SpeedKind, "in/min", 2}, "uscm": {name: "µS/cm"}, "degc": {"°C", unit.TemperatureKind, "°F", 0},
	"v": {name: "V"}, "n": {name: "N"}, "mpa": {name: "MPa"}, "gpa": {name: "GPa"}, "gcm3": {name: "g/cm³"}, "kgm3": {name: "kg/m³"}, "n0": {}, "wmk": {name: "W/(m·K)"}, "ppmk": {name: "10⁻⁶/K"},
	"uohmm": {name: "µΩ·m"}, "mpas": {name: "mPa·s"}, "mvm": {name: "MV/m"}, "kjkgk": {name: "kJ/(kg·K)"}, "mohmcm": {name: "MΩ·cm"}, "hv": {name: "HV"}, "ohmm": {name: "Ω·m"}, "npm": {name: "N/m"},
	"bar": {"bar", unit.StressKind, "psi", 0}, "lmin": {name: "l/min"}, "h": {name: "h"}, "kg": {"kg", unit.MassKind, "lb", 1},
}

// Named is how a column is called in running text, and the unit of its numbers:
// "gap low" and "µm" of gap_low_um.
func Named(column string) (name, unit string) {
	if i := strings.LastIndexByte(column, '_'); i > 0 {
		if u, ok := suffixes[column[i+1:]]; ok {
			column, unit = column[:i], u.name
		}
	}
	return strings.ReplaceAll(column, "_", " "), unit
}

// columns groups the columns of a table: low, likely and high are one heading.
func columns(t *book.Table) []column {
	var out []column
	for _, name := range t.Columns {
		if slices.Contains([]string{"source", "place", "provenance"}, name) {
			continue
		}
		stem, suffix := name, ""
		if i := strings.LastIndexByte(name, '_'); i > 0 {
			if _, ok := suffixes[name[i+1:]]; ok {
				stem, suffix = name[:i], name[i+1:]
			}
		}
		base, end := stem, ""
		if i := strings.LastIndexByte(stem, '_'); i > 0 {
			base, end = stem[:i], stem[i+1:]
		}
		whole := slices.Contains(t.Columns, base+"_low_"+suffix) && slices.Contains(t.Columns, base+"_likely_"+suffix)
		switch {
		case whole && (end == "likely" || end == "high"):
		case whole && end == "low":
			k := column{stem: base, suffix: suffix, low: true, base: base}
			if slices.Contains(t.Columns, base) {
				k.stem = base + "_" + suffix // beside a column of the same name
			}
			out = append(out, k)
		case end == "likely":
			out = append(out, column{stem: base, suffix: suffix, single: name})
		default:
			out = append(out, column{stem: stem, suffix: suffix, single: name})
		}
	}
	return out
}

// table prints one of the edition's tables. Lines: "columns:" the stems wanted,
// "head: stem = text" another heading, "where: column = text" the rows wanted.
func (c *checker) table(b fence) {
	name, at := b.arg, b.argAt
	t := c.book().Table(name)
	if t == nil {
		var names []string
		for _, x := range c.book().Tables() {
			names = append(names, x.Name)
		}
		c.problem(diag.TableUnknown, at, at+len(name), "there is no table "+spell.Quote(name)+suggest(name, names))
		return
	}
	all := columns(t)
	var stems []string
	for _, k := range all {
		stems = append(stems, k.stem)
	}
	out := &Table{Title: t.Title, Note: t.Note, Name: t.Name}
	heads, where, wanted := map[string]string{}, map[string]string{}, stems
	for _, l := range c.lines(b) {
		if strings.TrimSpace(l.text) == "" {
			continue
		}
		e, mark, ok := split(l)
		left, right, two := strings.Cut(e.text, "=")
		left, right = strings.TrimSpace(left), strings.TrimSpace(right)
		switch {
		case ok && mark == ":" && e.name == "columns":
			wanted = strings.Fields(e.text)
			for _, w := range wanted {
				if !slices.Contains(stems, w) {
					c.problem(diag.ColumnUnknown, e.textAt, e.textAt+len(e.text), "the table "+spell.Quote(name)+" has no column "+spell.Quote(w)+suggest(w, stems))
					return
				}
			}
		case ok && mark == ":" && e.name == "head" && two && slices.Contains(stems, left):
			heads[left] = right
		case ok && mark == ":" && e.name == "where" && two && slices.Contains(t.Columns, left):
			where[left] = right
		case ok && mark == ":" && e.name == "title":
			out.Title = e.text
		default:
			c.problem(diag.BlockLine, l.at, l.at+len(l.text), "a line here is “columns: …”, “title: …”, “head: column = text” or “where: column = text”; the columns are "+strings.Join(stems, ", "))
			return
		}
	}
	for k := range where {
		out.columns = append(out.columns, k)
	}
	var shown []column
	for _, w := range wanted {
		k := all[slices.Index(stems, w)]
		text := heads[w]
		if text == "" {
			text = strings.ReplaceAll(w, "_", " ")
			text = strings.ToUpper(text[:1]) + text[1:]
		}
		shown = append(shown, k)
		out.columns = append(out.columns, k.names()...)
		out.Heads = append(out.Heads, Head{text, suffixes[k.suffix].name, k.suffix != ""})
	}
	var from []Cell
rows:
	for _, r := range t.Rows {
		for k, v := range where {
			if r.Cell(k) != v {
				continue rows
			}
		}
		var cells []Cell
		for _, k := range shown {
			cell := k.cell(r)
			if k.suffix != "" && cell.Text != "" {
				out.numbers++
			}
			cells = append(cells, cell)
		}
		out.Rows = append(out.Rows, cells)
		from = append(from, c.from(r))
	}
	if len(out.Rows) == 0 && c.shop() && c.site.Content.Base.Table(name) != nil {
		out.Note = strings.TrimSpace("Our shop's edition has no row of this kind. " + out.Note)
	} else if len(out.Rows) == 0 {
		c.problem(diag.TableRows, at, at+len(name), "no row of the table "+spell.Quote(name)+" is as asked")
	}
	out.source(from)
	c.page.Blocks[b.FencedCodeBlock] = out
}

// source says where the rows come from: once when all come from one place, else
// in a column.
func (t *Table) source(from []Cell) {
	same := len(from) > 0
	for _, f := range from {
		same = same && !f.Ours && f.Text == from[0].Text && (f.Work == nil) == (from[0].Work == nil) && (f.Work == nil || f.Work.Key == from[0].Work.Key)
	}
	if same {
		t.From = from[0]
		return
	}
	t.Heads = append(t.Heads, Head{Text: "From"})
	for i := range t.Rows {
		t.Rows[i] = append(t.Rows[i], from[i])
	}
}

// names are the columns of the table that make a heading.
func (k column) names() []string {
	if !k.low {
		return []string{k.single}
	}
	return []string{k.base + "_low_" + k.suffix, k.base + "_likely_" + k.suffix, k.base + "_high_" + k.suffix}
}

// cell prints a value, in both systems where there are two.
func (k column) cell(r book.Row) Cell {
	u := suffixes[k.suffix]
	other := func(v float64) float64 {
		switch k.suffix {
		case "um":
			v /= 1000
		case "kg":
			v *= 1000
		case "bar":
			v /= 10 // to MPa
		}
		return unit.In(u.kind, v, u.other)
	}
	style := unit.Style{Unit: u.other, Decimals: u.decimals, Trim: true}
	kind := u.kind
	if k.suffix == "um" && strings.HasPrefix(k.stem, "ra") {
		kind, style = unit.RoughnessKind, unit.Style{Unit: "µin", Decimals: 0}
		other = func(v float64) float64 { return unit.In(kind, v, "µin") }
	}
	// A value that the usual decimals would round to nothing, or to one step, gets more.
	if kind != 0 {
		least := k.single
		if k.low {
			least = k.base + "_low_" + k.suffix
		}
		for v := math.Abs(other(r.Num(least))); v > 0 && v*math.Pow10(style.Decimals) < 2 && style.Decimals < 8; style.Decimals++ {
		}
	}
	number := func(v float64) string { return unit.Number(other(v), style) }
	if !k.low {
		cell := Cell{Text: r.Cell(k.single)}
		if kind != 0 && cell.Text != "" {
			cell.Other = number(r.Num(k.single)) + " " + style.Unit
		}
		return cell
	}
	at := func(end string) string { return k.base + "_" + end + "_" + k.suffix }
	low, likely, high := r.Cell(at("low")), r.Cell(at("likely")), r.Cell(at("high"))
	switch {
	case likely == "" && low == "":
		return Cell{}
	case low == "" || low == high:
		cell := Cell{Text: likely}
		if kind != 0 {
			cell.Other = number(r.Num(at("likely"))) + " " + style.Unit
		}
		return cell
	}
	cell := Cell{Text: likely + " (" + low + " to " + high + ")"}
	if kind != 0 {
		cell.Other = number(r.Num(at("likely"))) + " (" + number(r.Num(at("low"))) + " to " + number(r.Num(at("high"))) + ") " + style.Unit
	}
	return cell
}

// from says where a row comes from.
func (c *checker) from(r book.Row) Cell {
	if w, ok := c.site.Content.Work(r.Source); ok {
		return Cell{Text: r.Place, Work: &w, Ours: r.Ours}
	}
	if r.Provenance == "common practice" {
		return Cell{Text: "common practice, no source", Ours: r.Ours}
	}
	return Cell{Text: r.Provenance, Ours: r.Ours}
}

// grid prints a calculator's answers for several values of one input. Lines:
// "name = value" for what stays, "vary: name = a; b; c", "show: answer; answer",
// "title: text".
func (c *checker) grid(b fence) {
	id, at := b.arg, b.argAt
	k := c.calculator(id, at)
	if k == nil {
		return
	}
	in, wants, extra, ok := c.inputs(k, c.lines(b), true)
	if !ok {
		return
	}
	out := &Table{}
	out.Note = "Every value is computed by the calculator “" + k.Title + "”, which names the formula and its source. Ranges are likely (low to high)."
	for _, w := range wants {
		c.problem(diag.BlockLine, w.at, w.at+len(w.name), "a grid has inputs and the lines title:, vary: and show:, no expected answers")
	}
	var vary, show entry
	for _, x := range extra {
		switch x.name {
		case "title":
			out.Title = x.text
		case "vary":
			vary = x
		case "show":
			show = x
		default:
			c.problem(diag.BlockLine, x.at, x.at+len(x.name), "a grid has the lines title:, vary: and show:, "+spell.Quote(x.name)+" is not known")
		}
	}
	name, values, two := strings.Cut(vary.text, "=")
	name = strings.TrimSpace(name)
	if !two || show.text == "" || out.Title == "" {
		c.problem(diag.BlockLine, at, at+len(id), "a grid wants “title: …”, “vary: input = a; b; c” and “show: answer; answer”")
		return
	}
	for i, v := range strings.Split(values, ";") {
		with := append(slices.Clone(in), entry{name: name, text: strings.TrimSpace(v), at: vary.textAt, textAt: vary.textAt})
		rep := c.eval(k, with)
		if rep == nil {
			return
		}
		w := &Worked{Calculator: k.ID, Inputs: givens(with), Reply: rep}
		values := map[string]string{}
		for _, e := range with {
			values[e.name] = e.text
		}
		inch := &Worked{Reply: c.inInch(k, rep, values)}
		st, found := rep.Field(name)
		if !found {
			c.problem(diag.InputUnknown, vary.textAt, vary.textAt+len(name), "the calculator "+spell.Quote(id)+" has no input "+spell.Quote(name))
			return
		}
		first := strings.TrimSpace(v)
		for _, o := range st.Options {
			if st.Shape == calc.ChoiceShape && o.Value == first {
				first = o.Label
			}
		}
		row := []Cell{{Text: first}}
		if i == 0 {
			out.Heads = append(out.Heads, Head{Text: st.Label})
		}
		for _, s := range strings.Split(show.text, ";") {
			s = strings.TrimSpace(s)
			if i == 0 {
				label, is := w.label(s)
				if !is {
					c.problem(diag.AnswerUnknown, show.textAt, show.textAt+len(show.text), "the calculator "+spell.Quote(id)+" has no answer "+spell.Quote(s)+suggest(s, w.names()))
					return
				}
				out.Heads = append(out.Heads, Head{Text: label, Right: true})
			}
			text, is := w.print(s)
			if !is {
				text = "-"
			} else {
				out.numbers++
			}
			cell := Cell{Text: text}
			if other, both := inch.print(s); both && is && other != text {
				cell.Other = other
			}
			row = append(row, cell)
		}
		out.Rows = append(out.Rows, row)
		if c.refused[rep] == "" {
			c.record("grid", "grid-"+id+"-"+strconv.Itoa(i+1), k.ID, w.Inputs, rep)
		}
	}
	c.page.Blocks[b.FencedCodeBlock] = out
}

// label is how an answer is called.
func (w *Worked) label(name string) (string, bool) {
	if f, ok := w.Reply.Answer.Value(name); ok {
		return f.Label, true
	}
	if p, ok := w.Reply.Answer.Pick(name); ok {
		return p.Label, true
	}
	return "", false
}
