package calc

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/unit"
)

// fill replaces each {…} of a sentence by what value gives for it; {1} to {9}
// are the extra texts. A name that is not known stays visible in its braces,
// and the sweep test finds it.
func fill(text string, extra []string, value func(name, form string) (string, bool)) string {
	out := ""
	for {
		head, rest, found := strings.Cut(text, "{")
		out += head
		if !found {
			return out
		}
		var inner string
		inner, text, _ = strings.Cut(rest, "}")
		if inner == "" {
			continue
		}
		name, form, _ := strings.Cut(inner, ":")
		if n := int(inner[0]) - '0'; len(inner) == 1 && n >= 1 && n <= len(extra) {
			out += extra[n-1]
		} else if s, ok := value(name, form); ok {
			out += s
		} else {
			out += "{" + inner + "}"
		}
	}
}

// style reads the form of a placeholder over a given style: "small" for a
// length in µm or thou, or a unit and its decimals: "µm 1".
func style(form string, s unit.System, own unit.Style) unit.Style {
	switch {
	case form == "":
		return own
	case form == "small" && s == unit.Inch:
		return unit.Style{Unit: "thou", Decimals: 2, Trim: true}
	case form == "small":
		return unit.Style{Unit: "µm", Decimals: 1, Trim: true}
	}
	symbol, digits, _ := strings.Cut(form, " ")
	n, _ := strconv.Atoi(digits)
	return unit.Style{Unit: symbol, Decimals: n, Trim: true}
}

// Text fills a sentence with answers and inputs by name, printed for the
// reader's system: "It leaves {radius-left}; up to {gap:small}." A part can be
// asked for: {radius-left.high}, also low and likely. A choice gives its words.
// Extra texts are {1}, {2}.
func (r *Result) Text(text string, extra ...string) string {
	return fill(text, extra, func(name, form string) (string, bool) {
		name, part, _ := strings.Cut(name, ".")
		if p, ok := r.picks[name]; ok {
			var all []string
			for _, o := range p.All {
				all = append(all, o.Label)
			}
			return strings.Join(all, " or "), true
		}
		var kind unit.Kind
		var own unit.Style
		v, ok := r.ranges[name]
		for _, o := range r.form.outs {
			if o.Name == name {
				kind, own = o.Kind, o.style(r.System)
			}
		}
		if d := r.form.field(name); d != nil && !ok {
			if d.getText != nil {
				return optionLabel(d.Options, d.getText()), true
			}
			if d.get == nil {
				return "", false
			}
			kind, own = d.Kind, d.Kind.Style(r.System)
			v = unit.Exactly(d.get())
			if in, free := r.inputs[name]; free {
				v = in
			}
			ok = true
		}
		if !ok {
			return "", false
		}
		switch part {
		case "low":
			v = unit.Exactly(v.Low)
		case "likely":
			v = unit.Exactly(v.Likely)
		case "high":
			v = unit.Exactly(v.High)
		}
		return printRange(kind, v, style(form, r.System, own)), true
	})
}

func optionLabel(list []Option, value string) string {
	for _, o := range list {
		if o.Value == value {
			return o.Label
		}
	}
	return value
}

// Work notes lines of the working, one a line of text:
//
//	answer | name | formula | with the numbers | source
//
// The numbers are filled in by name at the likely point, in metric units, and
// the result is that of the answer; "answer = text" gives the result in words
// instead, and a line may do without an answer. The source is a key of the
// bibliography, or says what the line is: geometry, definition, mechanics. A line whose answer does not apply is left out. Extra texts are {1}, {2}.
func (p *Point) Work(text string, extra ...string) {
	if !p.keep {
		return
	}
	for text != "" {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		part := strings.Split(line+" | | ", "|")
		for i := range part {
			part[i] = strings.TrimSpace(part[i])
		}
		if len(part) < 6 {
			continue
		}
		name, equals, _ := strings.Cut(" "+part[0], " = ")
		name = strings.TrimSpace(name)
		if equals == "" {
			var ok bool
			if equals, ok = p.value(name, ""); !ok {
				continue
			}
		} else {
			equals = fill(equals, extra, p.value)
		}
		p.Step(Step{For: name, Name: fill(part[1], extra, p.value), Formula: fill(part[2], extra, p.value), Put: fill(part[3], extra, p.value), Equals: equals, Source: part[4]})
	}
}

// value prints an answer or input as it stands at this point.
func (p *Point) value(name, form string) (string, bool) {
	for _, o := range p.form.outs {
		if o.Name != name || o.Choice {
			continue
		}
		if v := o.get(); (o.Applies == nil || o.Applies()) && !math.IsNaN(v) {
			return printRange(o.Kind, unit.Exactly(v), style(form, unit.Metric, o.style(unit.Metric))), true
		}
		return "", false
	}
	if d := p.form.field(name); d != nil && d.get != nil {
		return unit.Print(d.Kind, d.get(), style(form, unit.Metric, d.Kind.Style(unit.Metric))), true
	}
	return "", false
}

// Cites adds sources, one a line: "key; place; what it gives". A line counts where a
// step or a row used names the key. What backs a sentence says which, by words of
// it: "key; place; what it gives @ words of the note".
func (a *Answer) Cites(text string) {
	for text != "" {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		part := strings.SplitN(line, "; ", 3)
		if len(part) == 3 {
			what, words, _ := strings.Cut(part[2], " @ ")
			a.cite(Source{strings.TrimSpace(part[0]), part[1], what, words})
		}
	}
}
