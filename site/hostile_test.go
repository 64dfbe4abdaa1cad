package site

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"golang.org/x/net/html"

	"kerfbook/site/theme"
	"kerfbook/testdata/spent"
)

// mostSpent bounds what broken content may cost, in bytes allocated: twice what the
// dearest of it takes, a table of 3 MB whose rows are all wrong.
const mostSpent = 256 << 20

// shopElements are what a page of an edition may be made of; shopAttrs are the
// attributes that some element of it may have.
var (
	shopElements = strings.Fields("html head meta title link script body a article header main section aside footer nav div p h1 h2 h3 h4 h5 h6 ul ol li dl dt dd table thead tbody tr th td caption figure figcaption svg g path line polyline polygon rect circle ellipse text tspan desc defs marker pattern img form fieldset legend label input select option button output code pre span strong em b i del sup sub br hr blockquote cite kbd details summary template math mrow mi mn mo mfrac msup msub msqrt mtext mstyle annotation semantics small time")
	shopNever    = strings.Fields("iframe object embed foreignobject applet base frame frameset video audio source image use animate set style")
)

// contained proves of every page that nothing of a shop's folder came through but
// text: no script, no event, no address outside, no foreign element.
func contained(t *testing.T, files Files) {
	t.Helper()
	for name, data := range files {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		doc, err := html.Parse(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		for n := range doc.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			tag := strings.ToLower(n.Data)
			switch {
			case tag == "script" && name != oneFileName && n.FirstChild != nil,
				tag == "style" && name != oneFileName,
				tag != "style" && contains(shopNever, tag),
				tag != "style" && !contains(shopElements, tag):
				t.Errorf("%s holds <%s>", name, n.Data)
			}
			for _, a := range n.Attr {
				low := strings.ToLower(strings.TrimSpace(a.Val))
				switch {
				case strings.HasPrefix(strings.ToLower(a.Key), "on"), a.Key == "style", a.Key == "srcdoc", a.Key == "formaction":
					t.Errorf("%s: <%s %s>", name, n.Data, a.Key)
				case n.Data == "img" && a.Key == "src":
					drawing(t, name, a.Val)
				case a.Key == "src" && tag == "script":
					if strings.ContainsAny(strings.TrimLeft(low, "./"), "/:") {
						t.Errorf("%s: a script from %s", name, a.Val)
					}
				case (a.Key == "href" || a.Key == "src" || a.Key == "action") && low != "data:,":
					before, _, _ := strings.Cut(low, "#")
					before, _, _ = strings.Cut(before, "?")
					if strings.ContainsAny(before, ":\\") || strings.HasPrefix(before, "/") {
						t.Errorf("%s: <%s %s=%q> leads out", name, n.Data, a.Key, a.Val)
					}
				}
			}
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// drawing proves that a picture is a drawing of shapes and text alone.
func drawing(t *testing.T, page, src string) {
	t.Helper()
	text, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(src, "data:image/svg+xml;base64,"))
	if err != nil {
		t.Errorf("%s: a picture from %.60s", page, src)
		return
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s: the drawing is no XML: %v", page, err)
			return
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			if contains(strings.Fields("script foreignObject image use a style animate set iframe metadata"), tok.Name.Local) {
				t.Errorf("%s: the drawing holds <%s>", page, tok.Name.Local)
			}
			seen := map[string]bool{}
			for _, a := range tok.Attr {
				if name := a.Name.Local; name != "xmlns" && (seen[name] || strings.HasPrefix(strings.ToLower(name), "on") || name == "href" || name == "style" || strings.Contains(a.Value, "http")) {
					t.Errorf("%s: the drawing has %s=%q", page, name, a.Value)
				}
				seen[a.Name.Local] = true
			}
		case xml.Directive, xml.ProcInst:
			t.Errorf("%s: the drawing holds %v", page, tok)
		}
	}
}

// aPage is a page of the shop's with this text.
func aPage(text string) string {
	return "---\ntitle: A page\nnumber: Q1\nchapter: how\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\n" + text
}

const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">`

// shows is a shop with one drawing and a page that shows it.
func shows(svg string) fstest.MapFS {
	return shopFolder("figures/drawn.svg", svg, "pages/shown.md", aPage("Here.\n\n![What it shows.](figures/drawn.svg)\n"))
}

// hostileCase is one such folder. What a person sees of those from a file of
// testdata/shops stands in that file, of the others in testdata/hostile.txt.
type hostileCase struct {
	name      string
	shop      fs.FS
	published bool
	file      string
}

// hostile are folders that somebody made in error or in malice: those here that no
// text holds (links, pipes, bytes, great numbers), and one of each file.
func hostile(t testing.TB) []hostileCase {
	return append(hostileFiles(t), hostileMade(t)...)
}

func hostileMade(t testing.TB) []hostileCase {
	yaml := func(more string) fs.FS { return shopFolder("shop.yaml", goodShop+more) }
	page := func(text string) fs.FS { return shopFolder("pages/a-page.md", aPage(text)) }
	sizes := func(text string) fs.FS { return shopFolder("data/sizes.csv", text) }
	many := fstest.MapFS{"shop.yaml": {Data: []byte(goodShop)}}
	for i := range 3000 {
		many["pages/p"+strings.Repeat("x", i%50)+string(rune('a'+i/50%26))+string(rune('a'+i/1300))+".md"] = &fstest.MapFile{Data: []byte(aPage("x\n"))}
		many["data/t"+strings.Repeat("y", i)+".csv"] = &fstest.MapFile{}
	}
	strangers := fstest.MapFS{"shop.yaml": {Data: []byte(goodShop)}}
	for i := range 200 {
		strangers["photo"+strings.Repeat("o", i)+".jpg"] = &fstest.MapFile{}
	}
	return []hostileCase{
		{"nothing at all", fstest.MapFS{}, false, ""},
		{"a link to a file outside", real(t, func(dir, outside string) error {
			return os.Symlink(filepath.Join(outside, "secret.md"), filepath.Join(dir, "pages", "a-page.md"))
		}), false, ""},
		{"a link to a folder outside", real(t, func(dir, outside string) error {
			return os.Symlink(outside, filepath.Join(dir, "figures"))
		}), false, ""},
		{"a link by dots", real(t, func(dir, outside string) error {
			return os.Symlink("../../"+filepath.Base(outside)+"/secret.md", filepath.Join(dir, "pages", "a-page.md"))
		}), false, ""},
		{"a link in a circle", real(t, func(dir, _ string) error {
			return os.Symlink("round.md", filepath.Join(dir, "pages", "round.md"))
		}), false, ""},
		{"a link to its own folder", real(t, func(dir, _ string) error {
			return os.Symlink("..", filepath.Join(dir, "pages", "again"))
		}), false, ""},
		{"a named pipe among the pages", real(t, func(dir, _ string) error { return pipe(filepath.Join(dir, "pages", "a-page.md")) }), false, ""},
		{"a named pipe for shop.yaml", real(t, func(dir, _ string) error {
			if err := os.Remove(filepath.Join(dir, "shop.yaml")); err != nil {
				return err
			}
			return pipe(filepath.Join(dir, "shop.yaml"))
		}), false, ""},
		{"a name with a backslash and one with an escape", real(t, func(dir, _ string) error {
			return errors.Join(os.WriteFile(filepath.Join(dir, "pages", `a\..\x.md`), nil, 0o600), os.WriteFile(filepath.Join(dir, "pages", "x\x1b[2J.md"), nil, 0o600),
				os.WriteFile(filepath.Join(dir, "pages", "x\xff.md"), nil, 0o600))
		}), false, ""},
		{"three thousand files", many, false, ""},
		{"two hundred photos", strangers, false, ""},
		{"a table of 5 MB", sizes("name,size_mm\n" + strings.Repeat("one,1\n", 5<<20/6)), false, ""},
		{"a table of 3 MB that is all wrong", sizes("name,size_mm\n" + strings.Repeat("one,x\n", 3<<20/6)), false, ""},
		{"a page of 5 MB", page(strings.Repeat("word ", 1<<20)), false, ""},
		{"a drawing of 2 MB", shows(svgHead + strings.Repeat("<path d='M0 0'/>", 1<<17) + "</svg>"), false, ""},
		{"fifty files of 1 MB", func() fs.FS {
			out := shopFolder()
			for i := range 50 {
				out["pages/p"+strings.Repeat("x", i)+".md"] = &fstest.MapFile{Data: []byte(strings.Repeat("a", 1<<20))}
			}
			return out
		}(), false, ""},
		{"a drawing a thousand times", shopFolder("figures/drawn.svg", svgHead+"<desc>"+strings.Repeat("x", 1<<19)+"</desc></svg>", "pages/a-page.md", aPage("Here.\n\n"+strings.Repeat("![x](figures/drawn.svg)\n", 1000))), false, ""},
		{"a thousand calculators", page("Here.\n\n" + strings.Repeat("```calculator half\n```\n\n", 1000)), false, ""},
		{"a drawing a thousand deep", shows(svgHead + strings.Repeat("<g>", 1000) + strings.Repeat("</g>", 1000) + "</svg>"), false, ""},
		{"a drawing of sixty thousand shapes", shows(svgHead + strings.Repeat("<g/>", 60000) + "</svg>"), false, ""},
		{"a drawing that is not XML", shows("\x89PNG\r\n\x1a\n"), false, ""},
		{"escapes as they are", shopFolder("shop.yaml", "owner: x\x1b[2J\nrevision: C\ndate: \"2026-01-01\"\n", "pages/a-page.md", aPage("Red: \x1b[31m.\n")), false, ""},
		{"escapes in cells", sizes("name,size_mm,place\none,1,\x1b[2J\x07\n"), false, ""},
		{"a table as UTF-16", sizes("\xff\xfen\x00a\x00m\x00e\x00"), false, ""},
		{"a table with zero bytes", sizes("name,size_mm\none\x00,1\n"), false, ""},
		{"a page as UTF-16", shopFolder("pages/a-page.md", "\xff\xfe-\x00-\x00-\x00"), false, ""},
		{"brackets without end", shopFolder("shop.yaml", strings.Repeat("[", 200<<10)), false, ""},
		{"dashes without end", shopFolder("shop.yaml", strings.Repeat("- ", 100<<10)), false, ""},
		{"a large shop.yaml", yaml("machines: [" + strings.Repeat("x, ", 200<<10) + "]\n"), false, ""},
	}
}

// real makes a folder on the disk, with another beside it, and opens it as the
// command does.
func real(t testing.TB, make func(dir, outside string) error) fs.FS {
	t.Helper()
	base := t.TempDir()
	dir, outside := filepath.Join(base, "shop"), filepath.Join(base, "outside")
	err := errors.Join(os.MkdirAll(filepath.Join(dir, "pages"), 0o700), os.MkdirAll(outside, 0o700),
		os.WriteFile(filepath.Join(dir, "shop.yaml"), []byte(goodShop), 0o600),
		os.WriteFile(filepath.Join(outside, "secret.md"), []byte(aPage("the secret\n")), 0o600))
	if err == nil {
		err = make(dir, outside)
	}
	if err != nil {
		t.Fatal(err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = root.Close() })
	return root.FS()
}

// TestHostileShops: each folder is told what is wrong, or is published and holds
// nothing but text. What a person sees stands beside the case, or in
// testdata/hostile.txt.
func TestHostileShops(t *testing.T) {
	var all strings.Builder
	for _, c := range hostile(t) {
		var files Files
		var res *Result
		var told string
		var err error
		n := spent.Bytes(func() { files, res, told, err = publishShop(t, c.shop) })
		if n > mostSpent {
			t.Errorf("%s: %d MB were allocated for it, %d are the bound", c.name, n>>20, mostSpent>>20)
		}
		word := "published"
		switch {
		case err == nil:
			files[oneFileName] = whole(t, files[oneFileName])
			contained(t, files)
			if strings.ContainsFunc(res.Edition.Revision+res.Edition.Owner+res.Edition.Date, unicode.IsControl) {
				t.Errorf("%s: the edition's words drive the terminal", c.name)
			}
		case errors.Is(err, ErrContent) && len(files) == 0:
			word = "nothing published"
		default:
			t.Errorf("%s: %v, %d files handed over", c.name, err, len(files))
		}
		if c.published != (err == nil) {
			t.Errorf("%s: published is %v", c.name, err == nil)
		}
		if strings.ContainsFunc(told, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }) {
			t.Errorf("%s: the messages drive the terminal: %q", c.name, told)
		}
		if strings.Contains(told, "the secret") {
			t.Errorf("%s: the secret is told", c.name)
		}
		if names := ids(t, res.Messages); names != "" {
			word += "; " + names
		}
		if c.file != "" {
			holdSaid(t, c.file, saidMark+word+" --\n"+told)
			continue
		}
		all.WriteString("-- " + c.name + ": " + word + " --\n" + told)
	}
	const golden = "testdata/hostile.txt"
	if update() {
		if err := os.WriteFile(golden, []byte(all.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	got, exp := strings.Split(all.String(), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(got), len(exp)) {
		if i >= len(got) || i >= len(exp) || got[i] != exp[i] {
			t.Fatalf("line %d of the messages is\n%s\nwant\n%s", i+1, append(got, "(the end)")[min(i, len(got))], append(exp, "(the end)")[min(i, len(exp))])
		}
	}
}

// BenchmarkHostileShops is the time that the hostile folders take, all of them.
func BenchmarkHostileShops(b *testing.B) {
	list := hostile(b)
	for b.Loop() {
		for _, c := range list {
			_, _, _, _ = publishShop(b, c.shop)
		}
	}
}

// FuzzShop: whatever stands in a shop's folder, nothing panics; what is published
// holds no script.
func FuzzShop(f *testing.F) {
	f.Add(goodShop, "name,size_mm\none,2\n", aPage("Here ![x](figures/drawn.svg).\n\n```worked double\nsize = 2 mm\nresult ≈ 8 mm\n```\n"), svgHead+"<path d=\"M0 0\" style=\"fill:red\"/></svg>")
	f.Add(goodShop+"currency: kr\nmachines: [quay]\nleave-out: [tall]\nrates: {machine-hour: 3}\n", "name;size_mm;delete\r\none;1,5;\r\ntwo;;x\r\n", "---\nafter: how/more.html#first\n---\nIn.\n\n```table sizes\n```\n", "<svg><script/></svg>")
	f.Add("owner: [", "\xff\xfe", "---\nreplaces: end/index.html\n---\nText [a](<javascript:x>) <b> {#x}.\n", "<svg><g>")
	f.Fuzz(func(t *testing.T, yaml, table, page, svg string) {
		shop := shopFolder("shop.yaml", yaml, "data/sizes.csv", table, "pages/a-page.md", page, "figures/drawn.svg", svg)
		s, res, err := load(withShop(shop), nil)
		if err != nil {
			if !errors.Is(err, ErrContent) {
				t.Error(err)
			}
			return
		}
		// The pages alone: bundling the script would be most of the time.
		th, err := theme.New()
		if err != nil {
			t.Fatal(err)
		}
		sink := &locked{files: Files{}}
		p := &press{options: withShop(shop), site: s.site, sink: sink, result: res, made: &assets{theme: th, style: asset{name: "style-0.css"}, script: asset{name: "host-0.js"}}}
		p.begin(s.site.Content.Book.Canonical())
		p.sheets = p.list()
		if err := p.pages(t.Context()); err != nil {
			t.Fatal(err)
		}
		contained(t, sink.files)
	})
}
