package browse

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestOneFileMoves: in the one file a move from sheet to sheet is what it is
// between pages: the way back leads to the line where the reader was, title and
// focus follow, a broken fragment leads to the first sheet.
func TestOneFileMoves(t *testing.T) {
	dir := publish(t)
	for name, start := range engines() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b, err := start(Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			if err := b.Size(768, 1024); err != nil {
				t.Fatal(err)
			}
			p := sheetPage{t, b}
			one := "file://" + dir + "/handbook-one-file.html"
			wait := func(condition string) {
				t.Helper()
				if err := Wait(b, condition); err != nil {
					t.Fatalf("%v: %s", err, p.text(`location.hash + " at " + scrollY + ", " + document.title + ", focus on " + document.activeElement.outerHTML.slice(0, 120)`))
				}
			}
			load := func(hash string) {
				t.Helper()
				if err := b.Open(one + hash); err != nil {
					t.Fatal(err)
				}
				wait(`document.documentElement.classList.contains("script") && document.querySelectorAll("article.sheet").length > 50 && document.querySelector("article.sheet.shown") !== null`)
			}
			load("#p-corners")
			wait(`document.querySelector(".sheet.shown").id === "p-corners" && document.title.startsWith(document.querySelector(".sheet.shown h1").textContent + " - ") && document.title.endsWith(" - Kerfbook")`)
			// To a word and back, to the line and the link where the reader was.
			p.do(`scrollTo(0, 1500)`)
			wait(`scrollY === 1500 && history.state?.y === 1500`)
			p.do(`(a => { self.tapped = a; a.focus({ preventScroll: true }); a.click(); })(document.querySelectorAll('.sheet.shown .body a[href^="#p-glossary."]')[3])`)
			// The word is explained in its place first, and Escape takes that away.
			wait(`document.querySelector(".word:popover-open .word-text")?.textContent.length > 20 && document.activeElement.matches(".word") && scrollY === 1500`)
			if err := b.Press("Escape"); err != nil {
				t.Fatal(err)
			}
			wait(`document.querySelector(".word:popover-open") === null && document.activeElement === self.tapped`)
			p.do(`self.tapped.click()`)
			wait(`document.querySelector(".word:popover-open .word-more a") !== null`)
			p.do(`document.querySelector(".word .word-more a").click()`)
			wait(`document.querySelector(".sheet.shown").id === "p-glossary" && document.title.startsWith("Glossary - ") && document.activeElement.id === decodeURIComponent(location.hash.slice(1))`)
			p.do(`history.back()`)
			wait(`document.querySelector(".sheet.shown").id === "p-corners" && scrollY === 1500 && document.activeElement === self.tapped`)
			p.do(`history.forward()`)
			wait(`document.querySelector(".sheet.shown").id === "p-glossary"`)
			p.do(`history.back()`)
			wait(`document.querySelector(".sheet.shown").id === "p-corners" && scrollY === 1500`)
			// To another sheet: its top, its heading, its name; the bar says where it is.
			p.do(`document.querySelector('.bar a[href="#p-contents"]').click()`)
			wait(`document.querySelector(".sheet.shown").id === "p-contents" && document.activeElement.matches(".sheet.shown h1") && scrollY < 20 && document.title.startsWith("Contents - ")`)
			if got := p.text(`[...document.querySelectorAll(".bar [aria-current]")].map(a => a.textContent).join() + document.querySelectorAll(".sheet.shown").length`); got != "Contents1" {
				t.Errorf("the bar says the reader is at %s", got)
			}
			if c, ok := b.(*chromium); ok {
				h, err := chromedp.Call(c.ctx, page.GetNavigationHistory, cdp.Empty{})
				if err != nil {
					t.Fatal(err)
				}
				names := map[string]bool{}
				for _, e := range h.Entries {
					if strings.Contains(e.URL, "handbook-one-file.html") {
						names[e.Title] = true
					}
				}
				if len(names) < 2 {
					t.Errorf("the entries of the history are called %v", names)
				}
			}
			// Read again in the same place.
			p.do(`scrollTo(0, 900)`)
			wait(`history.state?.y === 900`)
			p.do(`location.reload()`)
			wait(`document.querySelectorAll("article.sheet").length > 50 && document.querySelector(".sheet.shown")?.id === "p-contents" && scrollY === 900`)
			// Cut-off and broken fragments.
			for hash, want := range map[string]string{"#%": "p-index", "#100%": "p-index", "#p-corners%E2": "p-index", "#p-corners.%": "p-corners", "#p-index.corner?radius=0.1%": "p-index", "#?": "p-index", "#nonsense": "p-index"} {
				load(hash)
				wait(`[...document.querySelectorAll(".sheet.shown")].map(a => a.id).join() === "` + want + `" && document.querySelector(".sheet.shown h1").getBoundingClientRect().height > 0`)
			}
		})
	}
}

// TestOneFilePrint: what is printed from the one file is the sheet that is
// shown, as many pages as from the folder, each with its number, none empty.
func TestOneFilePrint(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{Before: `self.print = () => { self.printed = true; }`})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	p := sheetPage{t, b}
	sheets := func(name string) []string {
		t.Helper()
		ctx, stop := context.WithTimeout(b.(*chromium).ctx, 3*time.Minute)
		defer stop()
		r, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		_ = os.WriteFile(filepath.Join(shots(t), name+".pdf"), r.Data, 0o644)
		texts, _ := Sheets(r.Data)
		return texts
	}
	for _, c := range []struct {
		name, folder, one string
		job               bool
	}{
		{"a table", "/tables/wires.html", "#p-tables-wires", false},
		{"a job by its key", "/calculators/job.html", "#p-calculators-job", true},
	} {
		var got [2][]string
		for i, address := range []string{"file://" + dir + c.folder, "file://" + dir + "/handbook-one-file.html" + c.one} {
			if err := b.Open(address); err != nil {
				t.Fatal(err)
			}
			if err := Wait(b, `document.documentElement.classList.contains("script") && document.readyState === "complete" && (!document.documentElement.classList.contains("one-file") || document.querySelector(".sheet.shown")?.id === "`+c.one[1:]+`")`); err != nil {
				t.Fatal(err)
			}
			if c.job {
				p.wait(theJob + `.dataset.state === undefined`)
				p.press("print")
				p.wait(`self.printed`)
			}
			got[i] = sheets(strings.ReplaceAll(c.name, " ", "-") + []string{"-folder", "-one"}[i])
			for n, text := range got[i] {
				if !strings.Contains(text, "Sheet"+strconv.Itoa(n+1)+"of"+strconv.Itoa(len(got[i]))) || len(text) < 300 {
					t.Errorf("%s %d, page %d of %d is without its number or empty: %.200s", c.name, i, n+1, len(got[i]), text)
				}
			}
		}
		if len(got[0]) == 0 || len(got[0]) != len(got[1]) {
			t.Errorf("%s: %d pages from the folder, %d from the one file", c.name, len(got[0]), len(got[1]))
		}
	}
}
