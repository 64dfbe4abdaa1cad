package browse

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	recorded "kerfbook/site/record"
)

// TestOurEdition opens the example shop's edition from disk on both engines: what is
// the shop's is named as the shop's, a calculator answers with its row, and a
// print says how it is held against the handbook.
func TestOurEdition(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "published")
	cmd := exec.Command("go", "run", "./cmd/kerfbook", "publish", "--to", dir, "--shop", "content/shop", "--no-one-file")
	cmd.Dir = "../.."
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("publish: %v\n%s", err, out)
	}
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
			ourEdition(t, b, "file://"+dir+"/")
		})
	}
}

func ourEdition(t *testing.T, b Browser, root string) {
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	open := func(address string) {
		t.Helper()
		must(b.Open(root + address))
		must(Ready(b))
	}
	is := func(what, expression, want string) {
		t.Helper()
		var got string
		if err := b.Eval(expression, &got); err != nil || got != want {
			t.Errorf("%s: %q, want %q (%v)", what, got, want, err)
		}
	}
	const text = `(s => document.querySelector(s)?.innerText.replace(/\s+/g, " ").trim() ?? "")`

	// The calculator computes anew, with the shop's gap, and says whose row it is.
	open("calculators/corner.html")
	must(b.Type(`input[name="radius"]`, "0.14 mm"))
	must(b.Type(`input[name="wire"]`, "0.25 mm\t"))
	must(b.Eval(`(document.querySelector('[name="dielectric"][value="water"]')?.click(), document.querySelector('[name="pass"][value="fine"]')?.click(), 1)`, nil))
	must(b.Type(`input[name="radius"]`, "0.15 mm\t"))
	must(Wait(b, `document.querySelector(".lead").textContent.startsWith("It leaves R 0.1345 mm (0.1335 to 0.136).")`))
	is("the gap", text+`('[data-field="gap"] .understood')`, "from the row of gaps for this wire: 9.5 µm (8.5 to 11)")
	is("the row", `[...document.querySelectorAll("main .ours-word")].map(e => e.parentNode.textContent).join("; ")`, "our shop: table gaps, row 0.25/water/fine: invented")

	open("calculators/rate.html")
	is("the currency", `/\bcrowns\b/.test(document.querySelector("main").innerText) ? "crowns" : ""`, "crowns")

	open("wire/our-spools.html")
	is("a page of the shop's", text+`(".ours-mark")`, "Our shop: a page of our own")
	open("carbide/index.html")
	is("an insert", text+`("section.ours .ours-mark")`, "Our shop: how we rinse carbide")

	open("contents.html")
	is("the chapter left out", `String([...document.querySelectorAll("a[href]")].filter(a => a.getAttribute("href").includes("taper/")).length)`, "0")
	is("the way to the differences", `String(!!document.querySelector('a[href="ours.html"]'))`, "true")
	open("ours.html")
	is("what differs", text+`("main .short")`, "This edition is Lantern Quay Toolroom (invented)’s own. Here stands everything in which it is not the handbook’s: 10 table rows, 2 rules, 5 pages, 1 chapter left out.")
	const under = `(h => { let n = 0; for (let e = h.nextElementSibling; e && e.tagName !== "H2"; e = e.nextElementSibling) n += e.querySelectorAll("tbody tr, li").length; return n; })`
	is("how much stands there", `[...document.querySelectorAll("main h2")].map(h => h.textContent + " " + (h.id === "examples" ? `+under+`(h) > 5 : `+under+`(h))).join("; ")`,
		"Table rows 10; Rules 2; Pages 6; Examples that our rows move true; Measured cuts that take the place of general ranges 2")

	// A print holds its code, and the page of codes has the same beside its number.
	open("carbide/index.html")
	if c, ok := b.(*chromium); ok {
		_, err := chromedp.Call(c.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		must(err)
		var line, code string
		must(b.Eval(text+`(".title-block .current")`, &line))
		must(b.Eval(text+`(".title-block .code")`, &code))
		if want := fmt.Sprintf("Printed from revision C of 2026-11-20. This print is current while sheet LQT-W-060 of the published handbook has the check code %s. Its sheet LQT-W-L8, “Is my print current?”, lists the codes of all.", code); line != want || len(code) != 11 {
			t.Errorf("the print says %q, want %q", line, want)
		}
		e, err := recorded.ReadFolder(os.DirFS(strings.TrimPrefix(root, "file://")))
		must(err)
		if said, err := e.Current(code); err != nil || said != "sheet LQT-W-060 “What does carbide lose in the tank?”, revision C of 2026-11-20: current" {
			t.Errorf("of the code on the print it is said: %s, %v", said, err)
		}
		_, err = chromedp.Call(c.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
		must(err)
	}
	var code string
	must(b.Eval(`document.querySelector(".title-block .code").textContent`, &code))
	open("codes.html")
	is("the code on the list", `[...document.querySelectorAll("main tr")].find(r => r.cells[0].textContent === "LQT-W-060").cells[2].textContent`, code)
	for _, line := range b.Console() {
		t.Errorf("the page complains: %.300s", line)
	}
}
