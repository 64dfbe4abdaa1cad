package panel

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// allowed lists the elements and attributes that a slot may hold.
func allowed() (elements, attributes []string) {
	return []string{"p", "div", "span", "dl", "dt", "dd", "ul", "ol", "li", "b", "table", "caption", "thead", "tbody", "tr", "th", "td", "details", "summary", "i", "sub", "aside", "figure", "figcaption",
			"a", "svg", "path", "circle", "line", "rect", "text", "button", "html", "head", "body"},
		[]string{"class", "scope", "role", "tabindex", "viewbox", "preserveaspectratio", "aria-hidden", "aria-label", "d", "cx", "cy", "r", "x", "y", "x1", "x2", "y1", "y2", "width", "height", "text-anchor", "type", "data-file", "data-at", "data-page", "data-line"}
}

func checkSlot(t *testing.T, name, markup string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(markup))
	if err != nil {
		t.Fatal(err)
	}
	elements, attributes := allowed()
	for n := range doc.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if !slices.Contains(elements, n.Data) {
			t.Errorf("slot %s holds <%s>", name, n.Data)
		}
		for _, a := range n.Attr {
			if !slices.Contains(attributes, strings.ToLower(a.Key)) {
				t.Errorf("slot %s holds %s=%q on <%s>", name, a.Key, a.Val, n.Data)
			}
		}
	}
}

// hostile is an invented calculator that says what it is told.
func hostile(say string) *calc.Calculator {
	return &calc.Calculator{ID: "hostile", Title: "t", Question: say, Summary: "s", Build: func(f *calc.Form, _ *book.Book) calc.Run {
		var in, out unit.Length
		var pick string
		size := calc.Ask(f, &in, "size: l\nis 1 mm\nkeys mm thou\nranges")
		size.Label, size.Help, size.Options = say, say, []calc.Option{{Value: say, Label: say}}
		field := calc.AskChoice(f, &pick, "pick: l\noption a: l")
		field.Label, field.Options[0].Label = say, say
		calc.Tell(f, &out, "out: l\nrises size").Label = say
		calc.TellChoice(f, &pick, "choice: l").Label = say
		return calc.Run{
			Point: func(p *calc.Point) {
				out = in
				p.Step(calc.Step{Name: say, Formula: say, Put: say, Equals: say})
			},
			Say: func(_ *calc.Result, a *calc.Answer) {
				a.Headline, a.Lead, a.General = say, say, true
				a.Sheet = &calc.Sheet{Title: []calc.Entry{{Name: say, Label: say, Text: say}}, Checks: []string{say}, Open: []string{say},
					Lines: []calc.Line{{Name: say, Label: say, What: say, Range: say, Because: say, Sure: say, Page: say, Own: true, Breaks: say}}}
				a.Note(say)
				a.Caution(say, say)
				a.Cite(say, say, say)
				a.Steps = append(a.Steps, calc.Step{Name: say, Source: say})
				a.Tables = []calc.Table{{Title: say, Note: say, Columns: []calc.Column{{Head: say}, {Head: say, Axis: &calc.Axis{High: 1, Mark: 0.5, HasMark: true}}, {Head: say, Blank: true}},
					Rows: [][]calc.Cell{{{Text: say, Strong: true}, {Range: &unit.Range{Low: 0.1, Likely: 0.2, High: 0.3}}, {}}}}}
				a.Figure = figure.New(say, say, 100, 100, true)
				a.Figure.Label(10, 50, say, -1)
				a.Figure.Point(10, 90, say, -1, 50, 50)
				a.Figure.Dim(figure.Point{X: 10, Y: 10}, figure.Point{X: 60, Y: 10}, 10, say, false)
			},
		}
	}}
}

// FuzzSlots: whatever a text holds, a slot stays inside the list of elements
// and attributes.
func FuzzSlots(f *testing.F) {
	f.Add(`<script>alert(1)</script>`)
	f.Add(`" onload="x`)
	f.Add(`'><img src=x onerror=y>`)
	f.Add("</p></div></section><style>*{}</style>&lt;")
	f.Fuzz(func(t *testing.T, say string) {
		if strings.ContainsRune(say, 0) {
			return // a parser drops it
		}
		c := hostile(say)
		for _, values := range []map[string]string{nil, {"size": say}, {"size": "1 to 2 mm", "pick": say}, {say: say}} {
			rep := c.Eval(&book.Book{}, calc.Input{Values: values})
			for _, s := range Slots(rep, unit.Inch) {
				if plain, _, _ := strings.Cut(s.Name, "."); plain == "text" || plain == "key" || plain == "show" || plain == "bad" || plain == "link" {
					continue // for the host, never markup
				}
				checkSlot(t, s.Name, s.Value)
			}
		}
	})
}

func small() *calc.Reply {
	c := &calc.Calculator{ID: "twice", Title: "Twice", Question: "How much is twice?", Summary: "s", Build: func(f *calc.Form, _ *book.Book) calc.Run {
		var in, out unit.Length
		calc.Ask(f, &in, "size: Size\ngroup Part\nis 1 mm\nkeys mm thou\nranges")
		calc.Tell(f, &out, "twice: Twice\nrises size")
		return calc.Run{Point: func(p *calc.Point) {
			out = 2 * in
			p.Step(calc.Step{Name: "twice", Formula: "2 s", Put: "2 × 1 mm", Equals: "2 mm"})
		}, Say: func(_ *calc.Result, a *calc.Answer) {
			a.Verdict, a.Headline, a.Lead = calc.Yes, "Yes, 2 mm", "Twice it is."
		}}
	}}
	return c.Eval(&book.Book{}, calc.Input{Values: map[string]string{"size": "1 to 2 mm"}})
}

// TestSlots holds the whole reply of one small calculator.
func TestSlots(t *testing.T) {
	var got strings.Builder
	for _, s := range Slots(small(), unit.Metric) {
		got.WriteString(s.Name + ": " + s.Value + "\n")
	}
	const want = `field.size: <p class="understood">1 to 2 mm = 39.37 to 78.74 thou</p>
text.size: 1 to 2 mm
key.size: mm
show.size: 1
bad.size: 0
refused: 
say: Yes, 2 mm. Twice it is.
band: <p class="headline yes">Yes, 2 mm</p><p class="for">Size 1 to 2 mm</p><p class="lead">Twice it is.</p>
link: size=1%20to%202%20mm
answer: <dl class="values"><div><dt>Twice</dt><dd>3 mm (2 to 4)<span class="width">all of this range is: Size</span></dd></div></dl>
tables: 
figure: 
files: 
steps: <details class="working"><summary>How it was worked out</summary><ol class="steps"><li><span class="step-name">twice</span> <span class="step-work">2 <i>s</i> = 2 × 1 mm = <b>2 mm</b></span></li></ol></details>
`
	if got.String() != want {
		t.Errorf("got\n%s\nwant\n%s", got.String(), want)
	}
}

// TestBand: a band names the inputs that its answer is for, and one without an
// answer says neither yes nor no and names the field.
func TestBand(t *testing.T) {
	var a, b, c, d unit.Length
	var list []unit.Length
	var pick, text string
	k := &calc.Calculator{ID: "inputs", Title: "t", Question: "q", Summary: "s", Build: func(f *calc.Form, _ *book.Book) calc.Run {
		calc.Ask(f, &a, "a: Wire\nmark ⌀\nis 1 mm\nkeys mm\nmax 9 mm: the bench ends there")
		calc.AskChoice(f, &pick, "pick: Work\nmark -\noption s: steel\noption c: carbide <b>")
		calc.Ask(f, &b, "b: Gap\nis 2 mm\nkeys mm")
		calc.Ask(f, &c, "c: Hidden\nmark h\nif pick c\nis 3 mm\nkeys mm")
		calc.AskList(f, &list, "list: Sizes\nis 1 mm\nkeys mm")
		calc.AskText(f, &text, "text: Drawing")
		for _, name := range []string{"e", "f"} {
			calc.Ask(f, &d, name+": Depth "+name+"\nis 4 mm\nkeys mm")
		}
		calc.Tell(f, &d, "out: Out")
		return calc.Run{Point: func(*calc.Point) {}, Say: func(_ *calc.Result, a *calc.Answer) {
			a.Verdict, a.Headline, a.Lead = calc.No, "No", "It does not."
		}}
	}}
	for _, c := range []struct{ in, want string }{
		{"", `<p class="headline no">No</p><p class="for">⌀ 1 mm · steel</p><p class="lead">It does not.</p>`},
		{"b=5 mm;list=1 mm, 2 mm", `<p class="headline no">No</p><p class="for">⌀ 1 mm · steel · Gap 5 mm · Sizes 2 values</p><p class="lead">It does not.</p>`},
		{"pick=c;text=M0 0", `<p class="headline no">No</p><p class="for">⌀ 1 mm · carbide &lt;b&gt; · h 3 mm · Drawing given</p><p class="lead">It does not.</p>`},
		{"pick=c;b=5 mm;list=2 mm;text=x;e=1 mm;f=1 mm", `<p class="headline no">No</p><p class="for">⌀ 1 mm · carbide &lt;b&gt; · Gap 5 mm · h 3 mm · Sizes 1 values · Drawing given · and more</p><p class="lead">It does not.</p>`},
		{"a=thin", `<p class="headline none">No answer: “Wire” cannot be read</p><p class="lead">“thin” does not start with a number; write a number and mm, µm, thou, tenths or in, for example 3 thou.</p>`},
		{"a=12 mm", `<p class="headline none">No answer: “Wire” is refused</p><p class="lead">Wire is at most 9 mm, this is 12 mm: the bench ends there.</p>`},
		{"nonsense=1", `<p class="headline none">No answer</p><p class="lead">There is no field &#34;nonsense&#34;; inputs has a, pick, b, c, list, text, e, f.</p>`},
	} {
		values := map[string]string{}
		for _, pair := range strings.Split(c.in, ";") {
			if name, value, ok := strings.Cut(pair, "="); ok {
				values[name] = value
			}
		}
		got, link := "", false
		for _, s := range Slots(k.Eval(&book.Book{}, calc.Input{Values: values}), unit.Metric) {
			if s.Name == "band" {
				got = s.Value
			}
			link = link || s.Name == "link"
		}
		if got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.in, got, c.want)
		}
		if link == strings.Contains(got, "none") {
			t.Errorf("%s: a link %v with the band %s", c.in, link, got)
		}
	}
}

// TestForm: the whole calculator, as it stands without script, is one sound
// tree with an id for every label.
func TestForm(t *testing.T) {
	doc, err := html.Parse(strings.NewReader(Form(small(), Options{Prefix: "p", Heading: 2, Link: func(string) string { return "x.html" }})))
	if err != nil {
		t.Fatal(err)
	}
	ids, wanted := map[string]bool{}, []string{}
	for n := range doc.Descendants() {
		for _, a := range n.Attr {
			switch a.Key {
			case "id":
				ids[a.Val] = true
			case "for", "aria-describedby", "aria-labelledby":
				wanted = append(wanted, a.Val)
			case "style":
				t.Errorf("<%s style>", n.Data)
			}
		}
	}
	for _, id := range wanted {
		if !ids[id] {
			t.Errorf("nothing has the id %s", id)
		}
	}
	if len(wanted) < 3 {
		t.Errorf("only %v are named", wanted)
	}
}

func TestConflicts(t *testing.T) {
	for _, c := range []struct {
		name string
		draw func(*figure.Drawing)
		want []string
	}{
		{"two labels apart", func(d *figure.Drawing) { d.Label(10, 30, "one", -1); d.Label(10, 70, "two", -1) }, nil},
		{"two labels meet", func(d *figure.Drawing) { d.Label(10, 30, "one", -1); d.Label(20, 36, "two", -1) }, []string{`the texts "one" and "two" meet`}},
		{"a label leaves", func(d *figure.Drawing) { d.Label(190, 30, "outside", -1) }, []string{`the text "outside" leaves the drawing`}},
		{"a label on a thick line", func(d *figure.Drawing) { d.Label(10, 30, "one", -1); d.Line(figure.Outline, 0, 26, 100, 26) }, []string{`the text "one" meets a thick line`}},
		{"a label on a thin line", func(d *figure.Drawing) { d.Label(10, 30, "one", -1); d.Line(figure.Thin, 0, 26, 100, 26) }, nil},
		{"a label beside a thick circle", func(d *figure.Drawing) { d.Label(10, 30, "one", -1); d.Circle(figure.Outline, 150, 50, 30, false) }, nil},
		{"a label on a thick circle", func(d *figure.Drawing) { d.Label(110, 54, "one", -1); d.Circle(figure.Outline, 150, 50, 30, false) }, []string{`the text "one" meets a thick circle`}},
		{"a dimension's text on a label", func(d *figure.Drawing) {
			d.Label(80, 44, "one", 0)
			d.Dim(figure.Point{X: 50, Y: 60}, figure.Point{X: 110, Y: 60}, 10, "10", false)
		}, []string{`the texts "one" and "10" meet`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := figure.New("t", "a", 200, 100, true)
			c.draw(d)
			if got := Conflicts(d); !slices.Equal(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
