package panel

import "kerfbook/wasm/calc"

// jobKeys are what a reader does with a whole job: keep it, open one that was
// kept, print it. The host acts on them.
func jobKeys(b *builder) {
	b.raw("<div class=\"job-keys\" role=\"group\" aria-label=\"This job\"><button type=\"button\" class=\"key\" data-job=\"save\">Save as a file</button>" +
		"<label class=\"key\">Open a file<input type=\"file\" class=\"unseen\" data-job=\"open\"></label>" +
		"<button type=\"button\" class=\"key\" data-job=\"link\">Copy its link</button><button type=\"button\" class=\"key\" data-job=\"print\">Print the sheet</button>" +
		"<button type=\"button\" class=\"key\" data-job=\"new\">New job</button></div><p class=\"job-told\" role=\"status\" data-job=\"told\"></p>")
}

// sheet writes a job sheet: what stands in its title block, every decision as
// a term with what follows from it, then checks and open questions. "Read more"
// names a page of the handbook; host and site make an address of it.
func sheet(rep *calc.Reply) string {
	s := rep.Answer.Sheet
	var b builder
	b.raw("<p class=\"job-head\">Job sheet</p>")
	demands(&b, rep)
	b.open("dl", "sheet-lines")
	for _, l := range s.Lines {
		class := "sheet-line"
		if l.Own {
			class += " own"
		}
		if l.Breaks != "" {
			class += " breaks"
		}
		b.start("div", class)
		b.attr("data-line", l.Name)
		b.raw("><dt>")
		b.text(l.Label)
		b.raw("</dt><dd class=\"sheet-what\">")
		b.text(l.What)
		if l.Own {
			b.raw(" ")
			b.el("span", "sheet-own", "your own decision")
		}
		b.raw("</dd>")
		for _, part := range [...][3]string{{"sheet-range", l.Range, ""}, {"sheet-because", l.Because, "Because "}, {"sheet-breaks", l.Breaks, "It breaks something: "}} {
			if part[1] != "" {
				b.el("dd", part[0], part[2]+part[1])
			}
		}
		b.raw("<dd class=\"sheet-sure\">")
		b.text("How sure: " + l.Sure)
		if l.Page != "" {
			b.raw(" ")
			b.start("a", "more")
			b.attr("data-page", l.Page)
			b.raw(">")
			b.text("read more")
			b.raw("</a>")
		}
		b.raw("</dd></div>")
	}
	b.raw("</dl>")
	for _, list := range [...]struct {
		class, head string
		items       []string
	}{{"sheet-checks", "To check and sign", s.Checks}, {"sheet-open", "Open questions", s.Open}} {
		if len(list.items) == 0 {
			continue
		}
		b.el("p", "label", list.head)
		b.open("ul", list.class)
		for _, i := range list.items {
			b.el("li", "", i)
		}
		b.raw("</ul>")
	}
	return b.String()
}

// jobTitle is the part's own half of the title block, in the fields of ISO 7200;
// what only a pen can say is left empty. The number of the sheet stands beside it,
// in the margin of each printed page.
func jobTitle(s *calc.Sheet) string {
	var b builder
	b.open("dl", "sheet-title")
	entry := func(label, text string) {
		b.raw("<div><dt>")
		b.text(label)
		b.raw("</dt><dd>")
		b.text(text)
		b.raw("</dd></div>")
	}
	entry("Document type", "Job sheet, wire EDM")
	for _, e := range s.Title {
		entry(e.Label, e.Text)
	}
	for _, label := range [...]string{"Date of issue", "Creator", "Approval"} {
		entry(label, "")
	}
	b.raw("</dl>")
	return b.String()
}

// demands lists what the sheet rests on, told or assumed, and whatever else the
// reader set.
func demands(b *builder, rep *calc.Reply) {
	b.el("p", "label", "What the print says")
	b.open("dl", "sheet-given")
	entry := func(label, text string, assumed bool) {
		b.raw("<div><dt>")
		b.text(label)
		b.raw("</dt><dd>")
		b.text(text)
		if assumed {
			b.raw(" ")
			b.el("span", "assumed", "(assumed)")
		}
		b.raw("</dd></div>")
	}
	for _, i := range rep.Answer.Sheet.Print {
		entry(i.Label, i.Text, i.Assumed)
	}
	for _, f := range rep.Fields {
		text := f.Text
		for _, o := range f.Options {
			if f.Shape == calc.ChoiceShape && o.Value == f.Text {
				text = o.Label
			}
		}
		if !f.Shown || text == "" || f.Shape == calc.TextShape || f.Shape == calc.WordShape || f.Text == f.Default || rep.Answer.Sheet.Prints(f.Name) {
			continue
		}
		entry(f.Label, text, false)
	}
	b.raw("</dl>")
}
