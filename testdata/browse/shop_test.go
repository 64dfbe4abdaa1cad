package browse

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// inchShop is the example shop with inches as its first units.
func inchShop(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "shop")
	if err := os.CopyFS(dir, os.DirFS("../../content/shop")); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "shop.yaml")
	data, err := os.ReadFile(name)
	if err != nil || !strings.Contains(string(data), "units: metric") {
		t.Fatalf("the example shop has no line units: metric (%v)", err)
	}
	if err := os.WriteFile(name, []byte(strings.Replace(string(data), "units: metric", "units: inch", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestShop: a shop's own edition says what is the shop's own, on the screen in
// light and dark, on paper, and where no script runs.
func TestShop(t *testing.T) {
	dir, err := press("--shop", inchShop(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, noScript := range []bool{false, true} {
		b, err := Chromium(Options{NoScript: noScript})
		if err != nil {
			t.Fatal(err)
		}
		shop(t, sheetPage{t, b}, "file://"+dir+"/", noScript)
		_ = b.Close()
	}
}

func shop(t *testing.T, p sheetPage, root string, noScript bool) {
	open := func(name string) {
		t.Helper()
		if err := p.b.Open(root + name); err != nil {
			t.Fatal(err)
		}
		p.wait(`document.readyState === "complete"`)
	}
	ctx := p.b.(*chromium).ctx
	// The mark of a row and of a page of its own: words, not colour alone, and
	// they stand out from the paper by 4.5 to 1.
	for _, dark := range []string{"light", "dark"} {
		if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: dark}}}); err != nil {
			t.Fatal(err)
		}
		for name, mark := range map[string]string{"wire/our-spools.html": ".ours-mark", "tables/rates.html": ".ours-word", "carbide/index.html": ".ours .ours-mark"} {
			open(name)
			var got struct {
				Text     string
				Contrast float64
			}
			if err := p.b.Eval(`(e => {
				const light = c => { const [r, g, b] = c.match(/[\d.]+/g).slice(0, 3).map(v => (v /= 255) <= .03928 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4); return .2126 * r + .7152 * g + .0722 * b; };
				const of = [light(getComputedStyle(e).color), light(getComputedStyle(document.querySelector(".frame")).backgroundColor)].sort((a, b) => b - a);
				return {Text: e.textContent, Contrast: (of[0] + .05) / (of[1] + .05)};
			})(document.querySelector("`+mark+`"))`, &got); err != nil || !regexp.MustCompile(`(?i)our shop`).MatchString(got.Text) || got.Contrast < 4.5 {
				t.Errorf("%s %s: the mark is %+v (%v)", dark, name, got, err)
			}
		}
	}
	// The drawing of its own.
	open("wire/our-spools.html")
	p.wait(`(i => i.complete && i.naturalWidth === 360 && i.alt !== "" && i.getBoundingClientRect().width > 100)(document.querySelector("img.shop-figure"))`)
	paper(t, p)
	// The list of what is different, on a phone.
	if err := p.b.Size(390, 844); err != nil {
		t.Fatal(err)
	}
	open("contents.html")
	p.wait(`document.querySelector('a[href="ours.html"]')?.textContent === "L7 What we do differently"`)
	open("ours.html")
	var wide, wrap float64
	if err := p.b.Eval(`document.documentElement.scrollWidth - innerWidth`, &wide); err != nil || wide > 0 {
		t.Errorf("ours.html scrolls sideways by %v (%v)", wide, err)
	}
	if err := p.b.Eval(`Math.max(...[...document.querySelectorAll(".wide")].map(e => e.scrollWidth - e.clientWidth))`, &wrap); err != nil || wrap > 0 {
		t.Errorf("a table of ours.html runs out of its box by %v (%v)", wrap, err)
	}
	if got := p.text(`[...document.querySelectorAll(".data td")].filter(e => e.textContent && e.getBoundingClientRect().width < 250).length`); got != "0" {
		t.Errorf("%s cells of ours.html are narrow columns on a phone", got)
	}
	_ = p.b.Screenshot(filepath.Join(shots(t), "ours-phone.png"))
	if err := p.b.Size(768, 1024); err != nil {
		t.Fatal(err)
	}
	// What was left out is said in words and leads nowhere; all links lead somewhere.
	open("calculators/rate.html")
	p.wait(`document.querySelector(".values").textContent.includes("crowns")`)
	p.wait(`document.documentElement.classList.contains("inch")`)
	left := 0
	for _, name := range []string{"contents.html", "ours.html", "corners/index.html", "print/limits.html", "trouble/index.html", "glossary.html"} {
		open(name)
		var n int
		if err := p.b.Eval(`document.querySelectorAll(".left-out").length`, &n); err != nil {
			t.Fatal(err)
		}
		left += n
		var links []string
		if err := p.b.Eval(`[...document.querySelectorAll("a[href]")].map(a => a.href.split("#")[0])`, &links); err != nil {
			t.Fatal(err)
		}
		for _, link := range links {
			if _, err := os.Stat(strings.TrimPrefix(link, "file://")); strings.HasPrefix(link, "file://") && err != nil {
				t.Errorf("%s links to what is not there: %v", name, err)
			}
		}
	}
	if left == 0 {
		t.Error("no place says that a page was left out")
	}
	if noScript {
		return
	}
	// Inches first: the fields start in them, the bar says so, and the answer too.
	open("index.html")
	p.wait(`document.querySelector('[data-system="inch"]').getAttribute("aria-pressed") === "true"`)
	if err := p.b.Type(`input[name="radius"]`, "4 thou\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(p.b, `/thou|in\b/.test(document.querySelector(".compact .headline").textContent + document.querySelector(".compact .lead").textContent) && !/ mm/.test(document.querySelector(".compact .headline").textContent)`); err != nil {
		t.Fatalf("%v: %s", err, p.text(`document.querySelector(".compact .band").textContent`))
	}
	p.quiet()
}

// paper: the print says which edition it is and how to see that it is current.
func paper(t *testing.T, p sheetPage) {
	r, err := chromedp.Call(p.b.(*chromium).ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69})
	if err != nil {
		t.Fatal(err)
	}
	code := p.text(`document.querySelector(".title-block .code").textContent`)
	number := p.text(`[...document.querySelectorAll(".title-block dt")].find(e => e.textContent === "Identification number").nextElementSibling.textContent`)
	sheets, _ := Sheets(r.Data)
	if len(sheets) == 0 || !strings.Contains(sheets[0], "Ourshop:apageofourown") {
		t.Fatalf("%d pages, the first without the shop's mark: %q", len(sheets), sheets)
	}
	for i, s := range sheets {
		for _, want := range []string{"LanternQuayToolroom(invented)", "PrintedfromrevisionCof2026-11-20.Thisprintiscurrentwhilesheet" + number + "ofthepublishedhandbookhasthecheckcode" + code + "."} {
			if !strings.Contains(s, want) {
				t.Errorf("page %d of the print does not say %q", i+1, want)
			}
		}
	}
}
