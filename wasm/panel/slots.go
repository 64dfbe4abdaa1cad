package panel

import (
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// Slot is one named piece of a reply: markup, or plain text for the host.
type Slot struct{ Name, Value string }

// Slots turns a reply into what the page replaces. Without an answer the fields,
// the refusal, the spoken line and a band that says so are sent, and no link: by
// this the page knows that what it shows of an answer is of other fields.
func Slots(rep *calc.Reply, sys unit.System) []Slot {
	var out []Slot
	for _, f := range rep.Fields {
		text := f.Text
		if f.Shape == calc.TextShape {
			text = "" // the page has it already
		}
		out = append(out, Slot{"field." + f.Name, echo(f)},
			Slot{"text." + f.Name, text}, Slot{"key." + f.Name, f.Key},
			Slot{"show." + f.Name, flag(f.Shown)}, Slot{"bad." + f.Name, flag(f.Problem != "")})
		if f.Shape == calc.ChoiceShape && f.Card != "" {
			out = append(out, Slot{"off." + f.Name, strings.Join(f.Off, "; ")})
		}
	}
	out = append(out, Slot{"refused", refused(rep)}, Slot{"say", escape(say(rep))})
	out = append(out, Slot{"band", band(rep)})
	if rep.Answer == nil {
		return out
	}
	out = append(out, Slot{"link", Link(rep)}, Slot{"answer", answer(rep.Answer, nil)},
		Slot{"tables", tables(rep.Answer)}, Slot{"figure", figureSlot(rep.Answer)}, Slot{"files", files(rep.Answer)}, Slot{"steps", steps(rep.Answer)})
	if rep.Answer.Sheet != nil {
		out = append(out, Slot{"sheet", sheet(rep)}, Slot{"job-title", jobTitle(rep.Answer.Sheet)})
	}
	for _, f := range rep.Answer.Files {
		out = append(out, Slot{"file." + f.Name, f.Text})
	}
	return out
}

// files lists what can be carried away.
func files(a *calc.Answer) string {
	if len(a.Files) == 0 {
		return ""
	}
	var b builder
	b.raw("<div class=\"files\"><p class=\"label\">To carry away</p><ul>")
	for _, f := range a.Files {
		b.raw("<li>")
		b.start("button", "key")
		b.attr("type", "button")
		b.attr("data-file", f.Name)
		b.raw(">")
		b.text(f.Name)
		b.raw("</button> ")
		b.text(f.What)
		b.raw("</li>")
	}
	b.raw("</ul></div>")
	return b.String()
}

func flag(on bool) string {
	if on {
		return "1"
	}
	return "0"
}

// Link is the state of a calculator as the value of a fragment: every field
// that differs from its default, with its unit. A text of several lines stands in
// it as its digest.
func Link(rep *calc.Reply) string {
	var parts []string
	for _, f := range rep.Fields {
		switch {
		case f.Text == "" || f.Text == f.Default || f.Problem != "":
		case f.Shape == calc.TextShape:
			parts = append(parts, f.Name+".digest="+digest(f.Text))
		default:
			parts = append(parts, f.Name+"="+percent(f.Text))
		}
	}
	return strings.Join(parts, "&")
}

// digest names a text that is too long for a link, so that a page knows whether
// it has the same one: FNV-1a, 64 bits.
func digest(text string) string {
	h := uint64(14695981039346656037)
	for i := range len(text) {
		h = (h ^ uint64(text[i])) * 1099511628211
	}
	const hex = "0123456789abcdef"
	var out [16]byte
	for i := range out {
		out[i] = hex[h>>(60-4*i)&15]
	}
	return string(out[:])
}

// echo says under a field what was understood, what is odd, or what is wrong.
func echo(f calc.State) string {
	var b builder
	if f.Problem != "" {
		b.el("p", "problem", sentence(f.Problem))
		return b.String()
	}
	if f.Shape != calc.ChoiceShape && f.Echo != "" && f.Echo != f.Text {
		b.el("p", "understood", f.Echo)
	}
	for _, n := range f.Notes {
		b.el("p", "hint", sentence(n))
	}
	return b.String()
}

// sentence gives a message its capital and its full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	if c := s[0]; c >= 'a' && c <= 'z' {
		s = string(c-32) + s[1:]
	}
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") && !strings.HasSuffix(s, "!") {
		s += "."
	}
	return s
}

func refused(rep *calc.Reply) string {
	var b builder
	for _, p := range rep.Problems {
		if p.Field == "" {
			b.el("p", "problem", sentence(p.Text))
		}
	}
	return b.String()
}

// say is the one sentence of the live region.
func say(rep *calc.Reply) string {
	if a := rep.Answer; a != nil {
		return a.Headline + ". " + a.Lead
	}
	for _, p := range rep.Problems {
		return sentence(p.Text)
	}
	return ""
}

// band is what stands over the form: the verdict, the inputs it is for, what
// follows. A band without an answer names the field that keeps it.
func band(rep *calc.Reply) string {
	var b builder
	a := rep.Answer
	if a == nil {
		head := "No answer"
		for _, f := range rep.Fields {
			if f.Problem != "" {
				how := "” cannot be read"
				if f.Text != "" {
					how = "” is refused"
				}
				head += ": “" + f.Label + how
				break
			}
		}
		b.el("p", "headline none", head)
		b.el("p", "lead", say(rep))
		return b.String()
	}
	b.el("p", "headline "+class(string(a.Verdict)), a.Headline)
	if list := inputs(rep.Fields); list != "" {
		b.el("p", "for", list)
	}
	if a.Lead != "" {
		b.el("p", "lead", a.Lead)
	}
	if a.General {
		b.el("p", "general", "General range, not your machine.")
	}
	return b.String()
}

// inputs names what an answer is for, so that the band stands alone on a
// picture: the marked fields, and everything that was set otherwise than usual.
func inputs(fields []calc.State) string {
	const most = 6
	list, named := "", 0
	for _, f := range fields {
		if !f.Shown || f.Text == "" || f.Mark == "" && f.Text == f.Default {
			continue
		}
		if named > 0 {
			list += " · "
		}
		if named++; named > most {
			return list + "and more"
		}
		mark := f.Mark + " "
		switch f.Mark {
		case "":
			mark = f.Label + " "
		case "-":
			mark = ""
		}
		list += mark + shortly(f)
	}
	return list
}

// shortly is what stands in a field: a list by its length, a choice in its words.
func shortly(f calc.State) string {
	switch f.Shape {
	case calc.ListShape:
		return f.Echo
	case calc.TextShape: // a drawing is named and not printed
		return "given"
	case calc.ChoiceShape:
		for _, o := range f.Options {
			if o.Value == f.Text {
				return o.Label
			}
		}
	}
	return f.Text
}

// class makes a style's name of a verdict or a signal word: "Only if" is only-if.
func class(word string) string {
	if word == "" {
		return "plain"
	}
	out := []byte(word)
	for i, c := range out {
		if c == ' ' {
			out[i] = '-'
		} else if c >= 'A' && c <= 'Z' {
			out[i] = c + 'a' - 'A'
		}
	}
	return string(out)
}

// answer holds what stands beside the fields: values, choices, notes,
// cautions, rows and sources. cite gives the address of a work, nil for none.
func answer(a *calc.Answer, cite func(string) string) string {
	var b builder
	b.open("dl", "values")
	for _, f := range a.Values {
		b.raw("<div><dt>")
		b.text(f.Label)
		b.raw("</dt><dd>")
		b.text(f.Text)
		if f.Width != "" {
			b.el("span", "width", f.Width)
		}
		b.raw("</dd></div>")
	}
	for _, p := range a.Choices {
		if len(p.All) == 1 && p.Likely.Value == "not-asked" {
			continue // nobody asked, so nobody is told
		}
		b.raw("<div><dt>")
		b.text(p.Label)
		b.raw("</dt><dd>")
		var all []string
		for _, o := range p.All {
			all = append(all, o.Label)
		}
		b.text(strings.Join(all, " or "))
		if p.When != "" {
			b.el("span", "width", p.When)
		}
		b.raw("</dd></div>")
	}
	b.raw("</dl>")
	for _, c := range a.Cautions {
		b.open("aside", "caution caution-"+class(c.Word))
		b.el("p", "caution-word", c.Word)
		b.raw("<div class=\"caution-text\">")
		b.el("p", "", c.Text)
		b.raw("</div></aside>")
	}
	if len(a.Notes) > 0 {
		b.open("ul", "notes")
		for _, n := range a.Notes {
			b.el("li", "", n)
		}
		b.raw("</ul>")
	}
	origins(&b, a, cite)
	return b.String()
}

func tables(a *calc.Answer) string {
	var b builder
	for _, t := range a.Tables {
		table(&b, t)
	}
	return b.String()
}

// origins says which rows and which publications the answer rests on.
func origins(b *builder, a *calc.Answer, cite func(string) string) {
	if len(a.Rows) == 0 && len(a.Sources) == 0 {
		return
	}
	b.raw("<details class=\"origins\"><summary>Where the numbers come from</summary><ul>")
	for _, s := range a.Sources {
		b.raw("<li>")
		b.text(s.What + ": ")
		if cite != nil {
			b.start("a", "cite")
			b.attr("href", cite(s.Key))
			b.raw(">")
			b.text(s.Key)
			b.raw("</a>")
		} else {
			b.text(s.Key)
		}
		if s.Place != "" {
			b.text(", " + s.Place)
		}
		b.raw("</li>")
	}
	for _, r := range a.Rows {
		b.raw("<li>")
		if r.Ours {
			b.el("b", "ours-word", "our shop: ")
		}
		b.text("table " + r.Table + ", row " + r.Key + ": " + r.Provenance)
		b.raw("</li>")
	}
	b.raw("</ul></details>")
}

func steps(a *calc.Answer) string {
	var b builder
	if len(a.Steps) == 0 {
		return ""
	}
	b.raw("<details class=\"working\"><summary>How it was worked out</summary><ol class=\"steps\">")
	for _, s := range a.Steps {
		b.raw("<li>")
		b.el("span", "step-name", s.Name)
		b.raw(" <span class=\"step-work\">")
		working(&b, s.Formula, true)
		if s.Put != "" {
			b.raw(" = ")
			working(&b, s.Put, false)
		}
		b.raw(" = <b>")
		working(&b, s.Equals, false)
		b.raw("</b></span>")
		if s.Source != "" {
			b.raw(" ")
			b.el("span", "step-source", "("+s.Source+")")
		}
		b.raw("</li>")
	}
	b.raw("</ol></details>")
	return b.String()
}

func figureSlot(a *calc.Answer) string {
	if a.Figure == nil {
		return ""
	}
	var b builder
	b.raw("<figure class=\"drawing\">")
	b.raw(SVG(a.Figure))
	b.el("figcaption", "", a.Figure.Title)
	b.raw("</figure>")
	return b.String()
}
