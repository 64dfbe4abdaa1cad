package panel

import (
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// Options says where a calculator stands.
type Options struct {
	Prefix  string                  // before every id, one of a kind on the page
	Heading int                     // level of its heading
	Compact bool                    // on the first page: the band, wire and radius come first
	Link    func(id string) string  // address of its own page; "" when it is this page
	Cite    func(key string) string // address of a work in the bibliography
	Edition []calc.Entry            // what a printed job sheet says of the handbook
}

// Form writes a whole calculator as it stands before any script: its answer for
// the inputs it has, its fields, its figure and its working.
func Form(rep *calc.Reply, o Options) string {
	var b builder
	c := rep.Calculator
	class := "calc"
	if o.Compact {
		class = "calc compact"
	}
	b.start("section", class)
	b.attr("id", o.Prefix)
	b.attr("data-calculator", c.ID)
	if c.Long {
		b.attr("data-long", "")
	}
	b.attr("aria-labelledby", o.Prefix+"-t")
	b.raw(">")
	tag := "h" + string(rune('0'+max(2, min(6, o.Heading))))
	b.start(tag, "calc-title")
	b.attr("id", o.Prefix+"-t")
	b.raw(">")
	if href := o.link(c.ID); href != "" {
		b.start("a", "")
		b.attr("href", href)
		b.raw(">")
		b.text(c.Question)
		b.raw("</a>")
	} else {
		b.text(c.Question)
	}
	b.raw("</")
	b.raw(tag)
	b.raw(">")
	whole := rep.Answer != nil && rep.Answer.Sheet != nil
	// A question that takes long can be stopped, and the sheet of a whole job stands
	// far below the form: both keys stay in view with the answer.
	class = "band"
	if whole {
		class = "band has-sheet"
	}
	b.open("div", class)
	b.raw("<div class=\"band-text\" data-slot=\"band\">")
	b.raw(band(rep))
	b.raw("</div>")
	if c.Long {
		b.raw("<button type=\"button\" class=\"key busy\" data-stop=\"1\" hidden>Stop</button>")
	}
	if whole {
		b.start("a", "key to-sheet")
		b.attr("href", "#"+o.Prefix+"-sheet")
		b.attr("data-job", "sheet")
		b.raw(">To the sheet</a>")
	}
	b.raw("</div><div class=\"refused\" data-slot=\"refused\">")
	b.raw(refused(rep))
	b.raw("</div>")
	b.raw("<p class=\"needs-script\">The fields answer when scripts may run. Without them, the answer shown is for the values you see here.</p>")
	b.raw("<div class=\"bench\">")
	fields(&b, rep, o)
	b.raw("<div class=\"side\">")
	if c.Long {
		b.raw("<div class=\"views\" role=\"group\" aria-label=\"Look at the drawing\"><button type=\"button\" class=\"key\" data-view=\"in\">nearer</button><button type=\"button\" class=\"key\" data-view=\"out\">farther</button><button type=\"button\" class=\"key\" data-view=\"all\">all</button></div>")
	}
	b.raw("<div data-slot=\"figure\">")
	if rep.Answer != nil {
		b.raw(figureSlot(rep.Answer))
	}
	b.raw("</div><div class=\"answer\" data-slot=\"answer\">")
	if rep.Answer != nil {
		b.raw(answer(rep.Answer, o.Cite))
	}
	b.raw("</div></div></div>")
	if whole {
		b.start("div", "job-place")
		b.attr("id", o.Prefix+"-sheet")
		b.attr("tabindex", "-1")
		b.raw(">")
		jobKeys(&b)
		b.raw("</div><div class=\"job\" data-slot=\"sheet\">")
		b.raw(sheet(rep))
		b.raw("</div>")
	}
	b.raw("<div class=\"tables\" data-slot=\"tables\">")
	if rep.Answer != nil {
		b.raw(tables(rep.Answer))
	}
	b.raw("</div><div data-slot=\"files\">")
	if rep.Answer != nil {
		b.raw(files(rep.Answer))
	}
	b.raw("</div><div data-slot=\"steps\">")
	if rep.Answer != nil {
		b.raw(steps(rep.Answer))
	}
	b.raw("</div>")
	if whole {
		b.raw("<footer class=\"job-foot\"><div class=\"job-foot-in\"><div data-slot=\"job-title\">")
		b.raw(jobTitle(rep.Answer.Sheet))
		b.raw("</div>")
		b.open("dl", "job-edition")
		for _, e := range o.Edition {
			b.raw("<div><dt>")
			b.text(e.Label)
			b.raw("</dt><dd>")
			b.text(e.Text)
			b.raw("</dd></div>")
		}
		b.raw("</dl></div></footer>")
	}
	b.raw("<div class=\"unseen\" role=\"status\" aria-live=\"polite\" data-slot=\"say\"></div></section>\n")
	return b.String()
}

func (o Options) link(id string) string {
	if o.Link == nil {
		return ""
	}
	return o.Link(id)
}

func fields(b *builder, rep *calc.Reply, o Options) {
	b.start("form", "fields")
	b.attr("autocomplete", "off")
	b.raw(">")
	shut, nth := "", 0
	groups := countGroups(rep)
	for _, f := range rep.Fields {
		if f.Advanced {
			continue
		}
		if f.Group != "" {
			b.raw(shut)
			nth++
			// The form of a whole job is long: what stands between the print and the
			// shop is folded.
			if rep.Answer != nil && rep.Answer.Sheet != nil && nth > 1 && nth < groups {
				shut = "</details>"
				b.raw("<details class=\"more\">")
				b.el("summary", "", f.Group)
			} else {
				shut = "</fieldset>"
				b.raw("<fieldset>")
				b.el("legend", "", f.Group)
			}
		}
		field(b, f, o.Prefix+"-"+f.Name)
	}
	b.raw(shut)
	fold := "" // the heading of the fold that is open
	for _, f := range rep.Fields {
		if !f.Advanced {
			continue
		}
		head := f.Group
		if head == "" && fold == "" {
			head = "More inputs"
		}
		if head != "" && head != fold {
			if fold != "" {
				b.raw("</details>")
			}
			fold = head
			b.raw("<details class=\"more\">")
			b.el("summary", "", head)
		}
		field(b, f, o.Prefix+"-"+f.Name)
	}
	if fold != "" {
		b.raw("</details>")
	}
	b.raw("</form>")
}

// countGroups counts the groups of fields that stand in the open.
func countGroups(rep *calc.Reply) int {
	n := 0
	for _, f := range rep.Fields {
		if f.Group != "" && !f.Advanced {
			n++
		}
	}
	return n
}

func field(b *builder, f calc.State, id string) {
	attrs := []string{"data-field", f.Name, "data-default", f.Default, "data-shape", shapeName(f.Shape)}
	if len(f.Aliases) > 0 {
		attrs = append(attrs, "data-also", strings.Join(f.Aliases, " "))
	}
	if !f.Shown {
		attrs = append(attrs, "hidden", "")
	}
	b.start("div", "field")
	for i := 0; i+1 < len(attrs); i += 2 {
		b.attr(attrs[i], attrs[i+1])
	}
	b.raw(">")
	if f.Shape == calc.TextShape {
		area(b, f, id)
	} else if f.Shape == calc.ChoiceShape || f.Kind == unit.CountKind && len(f.Options) > 0 {
		choice(b, f, id)
	} else {
		entry(b, f, id)
	}
	if f.Help != "" {
		b.el("p", "help", f.Help)
	}
	b.start("div", "echo")
	b.attr("id", id+"-e")
	b.attr("data-slot", "field."+f.Name)
	b.raw(">")
	b.raw(echo(f))
	b.raw("</div></div>")
}

func shapeName(s calc.Shape) string {
	switch s {
	case calc.ChoiceShape:
		return "choice"
	case calc.ListShape:
		return "list"
	case calc.TextShape:
		return "text"
	case calc.WordShape:
		return "word"
	}
	return "quantity"
}

// choice is a row of keys, one pressed; the value stands in a hidden input, so
// that the host reads every field alike.
func choice(b *builder, f calc.State, id string) {
	b.start("span", "label")
	b.attr("id", id+"-l")
	b.raw(">")
	b.text(f.Label)
	b.raw("</span>")
	b.start("input", "")
	b.attr("id", id)
	b.attr("name", f.Name)
	b.attr("type", "hidden")
	b.attr("value", f.Text)
	b.raw(">")
	b.start("div", "chips")
	b.attr("role", "group")
	b.attr("aria-labelledby", id+"-l")
	b.attr("aria-describedby", id+"-e")
	b.raw(">")
	for _, o := range f.Options {
		b.start("button", "chip")
		b.attr("type", "button")
		b.attr("data-pick", o.Value)
		b.attr("aria-pressed", truth(o.Value == f.Text))
		b.raw(">")
		b.text(o.Label)
		b.raw("</button>")
	}
	b.raw("</div>")
}

// area is a field for a text of several lines, with a file beside it.
func area(b *builder, f calc.State, id string) {
	b.start("label", "label")
	b.attr("for", id)
	b.raw(">")
	b.text(f.Label)
	b.raw("</label>")
	b.start("input", "file")
	b.attr("type", "file")
	b.attr("aria-label", "A file: "+f.Label)
	b.raw(">")
	b.start("textarea", "")
	b.attr("id", id)
	b.attr("name", f.Name)
	b.attr("rows", "6")
	b.attr("spellcheck", "false")
	b.attr("aria-describedby", id+"-e")
	b.raw("></textarea>")
}

func truth(v bool) string {
	if v {
		return "true"
	}
	return "false"
}

func entry(b *builder, f calc.State, id string) {
	b.start("label", "label")
	b.attr("for", id)
	b.raw(">")
	b.text(f.Label)
	b.raw("</label>")
	if len(f.Options) > 0 {
		b.start("div", "chips")
		b.attr("role", "group")
		b.attr("aria-label", f.Label)
		b.raw(">")
		for _, o := range f.Options {
			b.start("button", "chip")
			b.attr("type", "button")
			b.attr("data-pick", o.Value)
			b.attr("aria-pressed", truth(f.Shape == calc.QuantityShape && o.Value == f.Text))
			b.raw(">")
			b.text(o.Label)
			b.raw("</button>")
		}
		b.raw("</div>")
	}
	b.raw("<div class=\"entry\">")
	b.start("input", "")
	b.attr("id", id)
	b.attr("name", f.Name)
	b.attr("type", "text")
	b.attr("inputmode", "text")
	b.attr("enterkeyhint", "done")
	b.attr("spellcheck", "false")
	b.attr("autocapitalize", "off")
	b.attr("value", f.Text)
	b.attr("aria-describedby", id+"-e")
	b.raw(">")
	if len(f.Keys) > 1 {
		b.start("div", "keys")
		b.attr("role", "group")
		b.attr("aria-label", "Unit of: "+f.Label)
		b.raw(">")
		for _, k := range f.Keys {
			b.start("button", "key")
			b.attr("type", "button")
			b.attr("data-key", k)
			b.attr("aria-pressed", truth(k == f.Key))
			b.raw(">")
			b.text(k)
			b.raw("</button>")
		}
		b.raw("</div>")
	}
	b.raw("</div>")
}
