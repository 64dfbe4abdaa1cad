package site

import (
	"bytes"
	"context"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"kerfbook/site/diag"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// shopCalculators are the two invented calculators, of which double takes its
// factor from the tables.
func shopCalculators(b *book.Book) (*calc.Set, error) {
	row, _ := b.Find("sizes", "one")
	twice := invented("double", "How much is twice this?", func(v unit.Length) unit.Length { return 2 * v * unit.Length(row.Num("size_mm")) })
	return calc.NewSet(b, twice, half(b))
}

// handbookFiles is the invented handbook that the shop's folder is laid over.
func handbookFiles() fstest.MapFS {
	c := content()
	for name, text := range map[string]string{
		"first.md":                     "---\ntitle: First\nnumber: \"001\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nStart here: [on](handbook/10-how/index.md#why).\n",
		"data/sizes.csv":               "# title: Sizes\n# key: name\nname,size_mm,gap_low_um,gap_likely_um,gap_high_um,source,place,provenance\none,1,4,5,6,work,page 1,cited\ntwo,2,,,,,,invented\nthree,3,,,,,,invented\n",
		"data/prices.csv":              "# title: Prices\n# key: price\nprice,amount_n0,currency,source,place,provenance\nmachine-hour,40,,,,invented\nwork-hour,30,,,,invented\n",
		"data/machines.csv":            "# title: Cards\n# key: machine\nmachine,name,source,place,provenance\nquay,Quay,,,invented\nloft,Loft,,,invented\n",
		"handbook/10-how/20-more.md":   "---\ntitle: More\nnumber: \"011\"\naliases: [old/more.html]\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nMore of it, and [the chapter that may be left out](../20-tall/index.md#part).\n\n## First\n\nOne.\n\n### Within\n\nTwo.\n\n## Second\n\nThree.\n",
		"handbook/20-tall/index.md":    "---\ntitle: Tall\nnumber: \"020\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nTall parts.\n\n## Part\n\nText.\n",
		"handbook/20-tall/10-other.md": "---\ntitle: Other\nnumber: \"021\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nOther parts.\n",
		"handbook/30-end/index.md":     "---\ntitle: End\nnumber: \"030\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nThe end, not [the way](../10-how/20-more.md#second).\n",
		"handbook/40-safety/index.md":  "---\ntitle: Safety\nnumber: \"040\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nTake care.\n",
	} {
		c[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return c
}

const goodShop = "owner: Lantern Quay (invented)\nscheme: LQ-\nrevision: C\ndate: \"2026-02-03\"\n"

// shopFolder makes a shop's folder of names and texts.
func shopFolder(files ...string) fstest.MapFS {
	out := fstest.MapFS{"shop.yaml": &fstest.MapFile{Data: []byte(goodShop)}}
	for i := 0; i+1 < len(files); i += 2 {
		out[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return out
}

func withShop(shop fs.FS) Options {
	o := trial(handbookFiles())
	o.Calculators, o.Shop = shopCalculators, shop
	return o
}

// publishShop publishes and returns the files, and what a person is told.
func publishShop(t testing.TB, shop fs.FS) (Files, *Result, string, error) {
	t.Helper()
	sink := &locked{files: Files{}}
	res, err := Publish(context.Background(), withShop(shop), sink)
	var told strings.Builder
	if err := diag.Render(&told, res.Messages, res.Texts, res.Pages); err != nil {
		t.Fatal(err)
	}
	return sink.files, res, told.String(), err
}

// wholeShop shows each thing that a shop's folder can do.
func wholeShop() fstest.MapFS {
	return shopFolder(
		"shop.yaml", "# machines: in a comment is none\n"+goodShop+"approvals:\n  - {role: process lead, by: N. N., date: \"2026-02-01\"}\n  - {role: quality}\nunits: inch\ncurrency: crowns\nrates:\n  machine-hour: 62\nmachines: [quay]\nleave-out: [tall]\n",
		"data/sizes.csv", "\ufeffname;size_mm;gap_low_um;provenance;source;delete\r\none;1,5;3;cited;our-report;\r\nthree;;;;;yes\r\nfour;4;;measured;;\r\n",
		"rules.csv", "# title: Rules of ours\n# key: rule\nrule,words,source,place,provenance\nsoak,no plate overnight,,,measured\n",
		"bibliography.yaml", "works:\n  - key: our-report\n    kind: dataset\n    title: A report of ours (invented)\n    seen: seen\n",
		"glossary.yaml", "terms:\n  - term: rack\n    text: Where the spools stand.\n",
		"figures/our-rack.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><path d=\"M0 0h9\" style=\"stroke:#123;fill:none\"/></svg>",
		"pages/a-way.md", "\ufeff---\r\ntitle: Our way\r\nnumber: Q01\r\nchapter: our-shop\r\n---\r\nThe rack stands here. See [the start](our-shop.md) and [the end](../30-end/index.md).\r\n\r\n![The rack.](figures/our-rack.svg)\r\n",
		"pages/our-shop.md", "---\ntitle: Our shop\nnumber: Q00\nchapter: our-shop\nopens: true\n---\nOur own chapter, [as changed](ours.md).\n",
		"pages/new.md", "---\ntitle: Ours in how\nnumber: Q02\nchapter: how\n---\nWith our rows [@our-report].\n\n```worked double\nid: own\ntitle: ours\nsize = 2 mm\nresult ≈ 6 mm\n```\n",
		"pages/end.md", "---\ntitle: Our end\nreplaces: end/index.html\n---\nOur own end, without [tall parts](../20-tall/index.md).\n",
		"pages/before.md", "---\ntitle: before it\nbefore: how/more.html#second\n---\nSet before.\n\n```text\nnever closed\n",
		"pages/after.md", "---\nafter: how/more.html#first\n---\nSet after.\n",
	)
}

// textOf is the text of the part of a page with this class or element, as lines.
func plainOf(t *testing.T, page []byte, found func(n *html.Node) bool) string {
	t.Helper()
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var s strings.Builder
	var write func(n *html.Node)
	write = func(n *html.Node) {
		if n.Type == html.TextNode {
			s.WriteString(strings.ReplaceAll(n.Data, "\n", " "))
		}
		for ch := range n.ChildNodes() {
			write(ch)
		}
		switch n.Data {
		case "p", "h1", "h2", "h3", "tr", "li", "dd", "pre", "figcaption":
			s.WriteString("\n")
		case "td", "th", "dt":
			s.WriteString(" | ")
		}
	}
	for n := range doc.Descendants() {
		if found(n) {
			write(n)
			break
		}
	}
	var lines []string
	for line := range strings.Lines(s.String()) {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, strings.Trim(line, "| "))
		}
	}
	return strings.Join(lines, "\n")
}

// TestShopEdition: everything that a shop's folder can do stands on the page of
// differences and in the pages themselves.
func TestShopEdition(t *testing.T) {
	files, res, told, err := publishShop(t, wholeShop())
	if err != nil {
		t.Fatal(err, told)
	}
	again, _, _, _ := publishShop(t, wholeShop())
	for name, data := range files {
		if !bytes.Equal(data, again[name]) {
			t.Errorf("%s differs from one publication to the next", name)
		}
	}
	one := whole(t, files[oneFileName])
	files[oneFileName] = one
	crawl(t, files)
	contained(t, files)
	const want = `This edition is Lantern Quay (invented)’s own. Here stands everything in which it is not the handbook’s: 6 table rows, 1 rule, 5 pages, 1 chapter left out.
Table rows
Row | What we do | The handbook’s | Ours | Stands in
machines loft | deleted | name Loft; provenance invented | | shop.yaml, line 13
prices machine-hour | replaced | amount 40; currency empty; provenance invented | amount 62; currency crowns; provenance measured | shop.yaml, line 12
prices work-hour | replaced | currency empty; provenance invented | currency crowns; provenance measured | shop.yaml, line 10
sizes one | replaced | size 1 mm; gap low 4 µm; source work | size 1.5 mm; gap low 3 µm; source our-report | data/sizes.csv, line 2
sizes three | deleted | size 3 mm; provenance invented | | data/sizes.csv, line 3
sizes four | added | | size 4 mm; provenance measured | data/sizes.csv, line 4
Rules
Row | What we do | The handbook’s | Ours | Stands in
rules soak | added | | words no plate overnight; provenance measured | rules.csv, line 4
Pages
More has our text set into it: first, before it.
Ours in how is a page of our own.
Our end stands in the place of the handbook’s.
Our shop is a page of our own.
Our way is a page of our own.
The chapter “Tall” (2 pages) is left out.
Examples that our rows move
The handbook’s sentences around these examples were written with its own values. Read them once with ours.
How much?, worked example: Result 6 mm where the handbook has 4 mm.`
	if got := plainOf(t, files["ours.html"], func(n *html.Node) bool { return len(n.Attr) > 0 && strings.HasPrefix(n.Attr[0].Val, "body kind-") }); got != want {
		t.Errorf("the page of differences reads\n%s\nwant\n%s", got, want)
	}
	for _, c := range []struct {
		page  string
		holds []string
		lacks []string
	}{
		{"how/index.html", []string{`6 mm <span class="ours-was">our shop; the handbook’s tables give 4 mm</span>`, `<p class="ours-mark">Our shop: rests on our rows sizes one, sizes four</p>`, `<span class="result">6 mm</span>`}, nil},
		{"how/more.html", []string{
			`the chapter that may be left out <span class="left-out">(left out of our edition)</span>`,
			"<p>Two.</p>\n<section class=\"ours\"><p class=\"ours-mark\">Our shop</p>\n<p>Set after.</p>\n</section>\n<section class=\"ours\"><p class=\"ours-mark\">Our shop: before it</p>\n<p>Set before.</p>\n<pre class=\"plain\"><code>never closed\n</code></pre>\n</section>\n<h2 id=\"second\">Second</h2>\n<p>Three.</p>"}, []string{"../tall/"}},
		{"how/new.html", []string{`<p class="ours-mark">Our shop: a page of our own</p>`, `href="../bibliography.html#our-report"`}, []string{"ours-was"}},
		{"end/index.html", []string{`<p class="ours-mark">Our shop: this page stands in the place of the handbook’s</p>`, "<h1>Our end</h1>", "LQ-030", "tall parts <span class=\"left-out\">"}, []string{"The end, not"}},
		{"our-shop/index.html", []string{"<h1>Our shop</h1>", `<a href="../ours.html">as changed</a>`}, nil},
		{"our-shop/a-way.html", []string{`<a class="term" href="../glossary.html#t-rack">rack</a>`, `<img class="shop-figure" alt="The rack." src="data:image/svg+xml;base64,`, `<a href="index.html">the start</a>`, `<a href="../end/index.html">the end</a>`}, nil},
		{"glossary.html", []string{"Where the spools stand."}, nil},
		{"bibliography.html", []string{`<li id="our-report"><cite>A report of ours (invented)</cite>.`}, nil},
		{"index.html", []string{`class="no-script inch" data-units="inch"`, "<dd>process lead N. N. 2026-02-01; quality</dd>", "<dd>Lantern Quay (invented)</dd>", "<dd>LQ-001</dd>", "<dd>2026-02-03</dd>"}, []string{"tall/index.html"}},
		{"contents.html", []string{`<a href="ours.html"><span class="num">L7</span> What we do differently</a>`}, []string{"tall/"}},
	} {
		page := string(files[c.page])
		for _, want := range c.holds {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %s\n%s", c.page, want, page)
			}
		}
		for _, not := range c.lacks {
			if strings.Contains(page, not) {
				t.Errorf("%s holds %s", c.page, not)
			}
		}
	}
	if files["tall/index.html"] != nil || files["tall/other.html"] != nil {
		t.Error("the chapter left out is published")
	}
	answered := map[string]string{}
	for _, a := range res.Edition.Answers {
		if len(a.Values) > 0 {
			answered[a.ID] = a.Values[0].Text
		}
		if !slices.Equal(a.Rows, []string{"sizes one", "sizes two", "sizes four"}) {
			t.Errorf("the answer %s rests on %v", a.ID, a.Rows)
		}
	}
	if want := (map[string]string{
		"how/index.html#two worked double": "6 mm", "how/index.html calculator half": "0.5 mm", "how/index.html figure double": "9 mm",
		"how/new.html#own worked double": "6 mm", "calculators/double.html default double": "3 mm", "calculators/half.html default half": "0.5 mm",
	}); !maps.Equal(answered, want) {
		t.Errorf("the edition's answers are %v", answered)
	}
}

// TestNoShop: without a shop, and with one that changes nothing, the tables are the
// handbook's to the byte, and no page says “our shop”.
func TestNoShop(t *testing.T) {
	plain, _, _, err := publishShop(t, nil)
	if err != nil {
		t.Fatal(err)
	}
	same, _, _, err := publishShop(t, shopFolder())
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range plain {
		switch {
		case strings.HasPrefix(name, "book-"), strings.HasPrefix(name, "style-"), strings.HasPrefix(name, "host-"), strings.HasPrefix(name, "calc-"), strings.HasPrefix(name, "work-"):
			if !bytes.Equal(data, same[name]) {
				t.Errorf("%s is another with a shop that changes nothing", name)
			}
		case bytes.Contains(data, []byte("class=\"ours")), bytes.Contains(data, []byte("href=\"ours.html")):
			t.Errorf("%s speaks of a shop", name)
		}
	}
	if plain["ours.html"] != nil || same["ours.html"] == nil {
		t.Error("the page of differences is the shop's alone")
	}
}

// TestShopFaults: whose mistake it is decides what is told, and where.
func TestShopFaults(t *testing.T) {
	moved := []string{"data/sizes.csv", "name,size_mm\none,1.5\n"}
	example := func(result string) string {
		return "```worked double\nsize = 2 mm\nresult ≈ " + result + "\n```\n"
	}
	for _, c := range []struct {
		name string
		page string // the handbook's page of examples
		shop fstest.MapFS
		want string
	}{
		{"the handbook's own mistake stays one", strings.Replace(goodPage, "result ≈ 4 mm", "result ≈ 5 mm", 1), shopFolder(moved...),
			"handbook/10-how/index.md:13:10: error: the worked example gives 6 mm, the page says 5 mm\n   13 | result ≈ 5 mm\n      |          ~~~~\n      = result of “double”: f(size) = 2 mm\n1 error in 1 of 7 pages\n"},
		{"the shop's own page is held against its tables", goodPage, shopFolder(append(moved, "pages/own.md", aPage("Here.\n\n"+example("4 mm")))...),
			"shop/pages/own.md:11:10: error: the worked example gives 6 mm, the page says 4 mm\n   11 | result ≈ 4 mm\n      |          ~~~~\n      = result of “double”: f(size) = 2 mm\n1 error in 1 of 8 pages\n"},
		{"so is a piece set into the handbook's", goodPage, shopFolder(append(moved, "pages/own.md", "---\nafter: how/more.html#first\n---\nIn.\n\n"+example("4 mm"))...),
			"shop/pages/own.md:8:10: error: the worked example gives 6 mm, the page says 4 mm\n    8 | result ≈ 4 mm\n      |          ~~~~\n      = result of “double”: f(size) = 2 mm\n1 error in 1 of 7 pages\n"},
		{"and a page in the place of another", goodPage, shopFolder(append(moved, "pages/own.md", "---\nreplaces: end/index.html\n---\nIn.\n\n"+example("4 mm"))...),
			"shop/pages/own.md:8:10: error: the worked example gives 6 mm, the page says 4 mm\n    8 | result ≈ 4 mm\n      |          ~~~~\n      = result of “double”: f(size) = 2 mm\n1 error in 1 of 7 pages\n"},
		{"without a shop's rows the page is right", goodPage, shopFolder(), "no errors in 7 pages\n"},
	} {
		files := handbookFiles()
		files["handbook/10-how/index.md"] = &fstest.MapFile{Data: []byte(c.page)}
		o := withShop(c.shop)
		o.Content = files
		res, _ := Check(o)
		var told strings.Builder
		if err := diag.Render(&told, res.Messages, res.Texts, res.Pages); err != nil {
			t.Fatal(err)
		}
		if told.String() != c.want {
			t.Errorf("%s: told\n%s\nwant\n%s", c.name, told.String(), c.want)
		}
	}
}
