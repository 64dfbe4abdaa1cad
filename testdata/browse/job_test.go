package browse

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// sheetPage drives the job sheet of a page.
type sheetPage struct {
	t *testing.T
	b Browser
}

const theJob = `document.querySelector('.sheet.shown [data-calculator="job"], html:not(.one-file) [data-calculator="job"]')`

func (p sheetPage) open(url string) {
	p.t.Helper()
	if err := p.b.Open(url); err != nil {
		p.t.Fatal(err)
	}
	if err := Ready(p.b); err != nil {
		p.t.Fatal(err)
	}
	p.wait(theJob + ` !== null`)
}

func (p sheetPage) wait(condition string) {
	p.t.Helper()
	if err := Wait(p.b, condition); err != nil {
		p.t.Fatalf("%v: %s", err, p.text(theJob+`?.querySelector(".band").textContent + " | " + `+theJob+`?.querySelector('[data-job="told"]').textContent + " | " + [...document.querySelectorAll(".problem")].map(e => e.textContent).join(" | ") + location.hash`))
	}
}

func (p sheetPage) do(expression string) {
	p.t.Helper()
	if err := p.b.Eval("("+expression+", 1)", nil); err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
}

func (p sheetPage) text(expression string) string {
	p.t.Helper()
	var s string
	if err := p.b.Eval("String("+expression+")", &s); err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return s
}

func (p sheetPage) press(key string) {
	p.t.Helper()
	p.do(theJob + `.querySelector('[data-job="` + key + `"]').click()`)
}

// told waits for what the page says.
func (p sheetPage) told(start string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`%s.querySelector('[data-job="told"]').textContent.startsWith(%q)`, theJob, start))
}

// file hands a file to the page as a reader's choice does.
func (p sheetPage) file(text string) {
	p.t.Helper()
	quoted, _ := json.Marshal(text)
	p.do(theJob + `.querySelector('[data-job="told"]').textContent = ""`)
	p.do(`(i => { const d = new DataTransfer(); d.items.add(new File([` + string(quoted) + `], "kept.job.json")); i.files = d.files; i.dispatchEvent(new Event("change", {bubbles: true})); })(` + theJob + `.querySelector('input[data-job="open"]'))`)
}

// lines is the sheet as kerfbook work prints its decisions.
func (p sheetPage) lines() string {
	return p.text(`[...` + theJob + `.querySelectorAll(".sheet-line")].map(l => {
		const of = c => l.querySelector(c)?.textContent ?? "", put = (head, c, before) => of(c) ? "   " + head + ": " + of(c).slice(before.length) + "\n" : "";
		return of("dt") + ": " + of(".sheet-what") + "\n" + put("range", ".sheet-range", "") + put("because", ".sheet-because", "Because ") + "   how sure: " + of(".sheet-sure").replace(/^How sure: /, "").replace(/ read more$/, "") + "\n   read more: " + l.querySelector("a.more").dataset.page + "\n";
	}).join("\n")`)
}

func (p sheetPage) quiet() {
	p.t.Helper()
	for _, line := range p.b.Console() {
		p.t.Errorf("the page complains: %.300s", line)
	}
	if got := p.text(`self.hacked`); got != "undefined" {
		p.t.Errorf("a script of a job ran: %s", got)
	}
}

// work asks the same job of the command.
func work(t *testing.T, inputs ...string) string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"run", "./cmd/kerfbook", "work", "job"}, inputs...)...)
	cmd.Dir = "../.."
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return string(out)
}

// listen runs before a page's scripts: what a reader does is counted, and what
// the page hands to the printer, the clipboard or the disk is kept.
const listen = `{
	self.acts = 0;
	addEventListener("click", () => self.acts++, true);
	addEventListener("focusin", e => { if (e.target instanceof HTMLInputElement && e.target.type === "text") self.acts++; }, true);
	self.print = () => { self.printed = self.acts; };
	Object.defineProperty(navigator, "clipboard", {value: {writeText: async t => { self.copied = t; }}});
	URL.createObjectURL = b => { if (b.type === "text/plain") b.text().then(t => { self.carried = t; }); return b.type === "text/plain" ? "#" : made(b); };
}`

var comb = []string{"radius=0.06 mm", "slot=0.4 mm", "thickness=12 mm", "material=carbide", "size=20 ±0.004 mm", "finish=0.3 µm"}

// TestJob: the job sheet as its users have it, from disk, on Chromium.
func TestJob(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{Before: "const made = URL.createObjectURL.bind(URL);" + listen})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Size(768, 1024); err != nil {
		t.Fatal(err)
	}
	disk := "file://" + dir
	t.Run("stranger", func(t *testing.T) { stranger(t, b, disk+"/index.html") })
	t.Run("one file", func(t *testing.T) { stranger(t, b, disk+"/handbook-one-file.html") })
	t.Run("carried", func(t *testing.T) { carried(t, b, disk+"/index.html") })
	t.Run("no script", func(t *testing.T) { noScript(t, disk+"/calculators/job.html") })
	t.Run("kept", func(t *testing.T) { kept(t, b, disk+"/calculators/job.html") })
	t.Run("drawing", func(t *testing.T) { drawing(t, b, disk+"/calculators/job.html") })
	t.Run("broken", func(t *testing.T) { broken(t, b, disk+"/calculators/job.html") })
	t.Run("keys", func(t *testing.T) { keys(t, b, disk+"/calculators/job.html") })
	t.Run("fuzz", func(t *testing.T) { fuzz(t, b, disk+"/calculators/job.html") })
	t.Run("pages", func(t *testing.T) { readMore(t, b, dir) })
	t.Run("sizes", func(t *testing.T) { sizes(t, b, disk+"/calculators/job.html") })
}

// stranger goes from the first page to a printed sheet; the quick answer's
// fields are carried over.
func stranger(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url)
	p.do(`(localStorage.clear(), 1)`)
	p.open(url)
	corner := `.sheet.shown [data-calculator="corner"] `
	if !strings.Contains(url, "one-file") {
		corner = `[data-calculator="corner"] `
	}
	type_ := func(selector, text string) {
		t.Helper()
		if err := b.Type(selector, text+"\t"); err != nil {
			t.Fatal(err)
		}
	}
	type_(corner+`input[name="radius"]`, "0.06 mm")
	p.wait(`location.hash.endsWith("corner?radius=0.06%20mm")`)
	p.do(`document.querySelector("details.grow > summary").click()`)
	p.wait(theJob + `.querySelector('input[name="radius"]').value === "0.06 mm"`)
	job := `details.grow `
	type_(job+`input[name="slot"]`, "0.4 mm")
	type_(job+`input[name="thickness"]`, "12")
	p.do(theJob + `.querySelector('[data-field="material"] [data-pick="carbide"]').click()`)
	type_(job+`input[name="size"]`, "20 ±0.004")
	type_(job+`input[name="finish"]`, "0.3")
	p.do(theJob + `.querySelector('[data-job="sheet"]').click()`)
	p.wait(theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.004 mm") && ` + theJob + `.querySelector('.sheet-given').textContent.includes("0.3 µm") && location.hash.includes("job?") && location.hash.includes("0.004") && location.hash.includes("finish=0.3")`)
	var top, band float64
	if err := b.Eval(theJob+`.querySelector(".job-keys").getBoundingClientRect().top`, &top); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(theJob+`.querySelector(".band").getBoundingClientRect().bottom`, &band); err != nil || top < band-1 || top > 500 {
		t.Errorf("the sheet stands at %v under a band that ends at %v (%v)", top, band, err)
	}
	p.press("print")
	acts := p.text(`self.printed`)
	t.Logf("%s interactions from the first page to the printer", acts)
	if n := len(acts); n > 2 || n == 2 && acts >= "25" {
		t.Errorf("a printed sheet asks for %s interactions, under 25 are wanted", acts)
	}
	if !strings.Contains(url, "one-file") {
		printed(t, p)
	}
	// The address bar holds the state: opened again, the sheet is the same.
	want, address := p.lines(), p.text(`location.href`)
	p.do(`localStorage.clear()`)
	p.open(address)
	p.wait(theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.004 mm")`)
	if got := p.lines(); got != want {
		t.Errorf("the address gives another sheet:\n%s\nwant\n%s", got, want)
	}
	p.quiet()
}

// carried: what the quick form was told is what the whole one starts with, and
// what it shows untold as well.
func carried(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url)
	p.do(`localStorage.clear()`)
	p.open(url)
	for name, value := range map[string]string{"slot": "0.5 mm", "thickness": "15 mm", "finish": "0.4 µm"} {
		if err := b.Type(`.compact input[name="`+name+`"]`, value+"\t"); err != nil {
			t.Fatal(err)
		}
	}
	p.do(`document.querySelector('.compact [data-field="material"] [data-pick="carbide"]').click()`)
	p.do(`document.querySelector("details.grow > summary").click()`)
	p.wait(theJob + `.querySelector(".sheet-given").textContent.includes("carbide")`)
	want := p.text(`document.querySelector('.compact input[name="radius"]').value`) + "|0.5 mm|15 mm|carbide|0.4 µm"
	if got := p.text(`["radius", "slot", "thickness", "material", "finish"].map(n => ` + theJob + `.querySelector('[name="' + n + '"]').value).join("|")`); got != want {
		t.Errorf("carried over is %s, want %s", got, want)
	}
	p.quiet()
}

// noScript: the sheet of the usual values stands there, its links lead on, and
// no key is offered that does nothing.
func noScript(t *testing.T, url string) {
	b, err := Chromium(Options{NoScript: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	p := sheetPage{t, b}
	if err := b.Open(url); err != nil {
		t.Fatal(err)
	}
	p.wait(`document.querySelectorAll(".sheet-line").length > 20`)
	if got := p.text(`[...document.querySelectorAll("a.more, .to-sheet")].filter(a => !a.getAttribute("href")).length + " " + getComputedStyle(document.querySelector(".job-keys")).display + " " + (document.querySelector(document.querySelector(".to-sheet").hash) !== null)`); got != "0 none true" {
		t.Errorf("links that lead nowhere, the keys, the place of the sheet: %s", got)
	}
}

// printed compares what the printer gets with what the command says.
func printed(t *testing.T, p sheetPage) {
	native := work(t, comb...)
	if got := p.lines(); !strings.Contains(native, got) || strings.Count(got, "how sure") < 20 {
		t.Errorf("the sheet in the page:\n%s\nthe command:\n%s", got, native)
	}
	ctx := p.b.(*chromium).ctx
	for _, paper := range []struct {
		name          string
		width, height float64
	}{{"A4", 8.27, 11.69}, {"Letter", 8.5, 11}} {
		p.press("print") // each print ends with the page as it was
		r, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: paper.width, PaperHeight: paper.height})
		if err != nil {
			t.Fatal(err)
		}
		_ = os.WriteFile(filepath.Join(shots(t), "job-"+paper.name+".pdf"), r.Data, 0o644)
		sheets, size := Sheets(r.Data)
		t.Logf("%s: %d pages", paper.name, len(sheets))
		if len(sheets) < 1 || len(sheets) > 3 {
			t.Fatalf("%s: %d pages, 1 to 3 are wanted", paper.name, len(sheets))
		}
		all := strings.Join(sheets, "")
		for i, s := range sheets {
			if w, h := size[i][0]/72, size[i][1]/72; w < paper.width-0.02 || w > paper.width+0.02 || h < paper.height-0.02 || h > paper.height+0.02 {
				t.Errorf("%s: a page of %.2f by %.2f inches", paper.name, w, h)
			}
			for _, want := range []string{"DocumenttypeJobsheet,wireEDM", "Dateofissue", "Creator", "Approval", "Legalowner", "Checkcodeofthehandbook", fmt.Sprintf("Sheet%dof%d", i+1, len(sheets))} {
				if n := strings.Count(s, want); n != 1 {
					t.Errorf("%s, page %d: %q stands %d times", paper.name, i+1, want, n)
				}
			}
		}
		missing := 0
		for _, line := range strings.Split(native[strings.Index(native, "\n\n"):strings.Index(native, "\nPasses\n")], "\n") {
			line = strings.TrimSpace(line)
			if strings.HasPrefix(line, "read more: ") {
				continue
			}
			for _, head := range []string{"range: ", "because: ", "how sure: ", "- "} {
				line = strings.TrimPrefix(line, head)
			}
			for _, piece := range strings.SplitN(line, ": ", 2) {
				if bare := strings.Join(strings.Fields(piece), ""); !strings.Contains(all, bare) {
					missing++
					t.Errorf("%s lacks %q", paper.name, piece)
				}
			}
			if missing > 5 {
				t.Fatalf("%s prints:\n%s", paper.name, all)
			}
		}
	}
	if got := p.text(`document.documentElement.classList.contains("print-job")`); got != "false" {
		t.Errorf("after printing the page is still set for the printer")
	}
}

// keys: everything is done with Tab and Enter, and the page speaks.
func keys(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url)
	p.wait(theJob + `.querySelector('[data-slot="say"]').textContent.includes("0.25 mm")`)
	p.do(theJob + `.querySelector('[data-job="sheet"]').focus()`)
	if err := b.Press("Enter"); err != nil {
		t.Fatal(err)
	}
	p.wait(`document.activeElement.className === "job-place"`)
	var seen []string
	for range 5 {
		if err := b.Press("Tab"); err != nil {
			t.Fatal(err)
		}
		seen = append(seen, p.text(`document.activeElement.dataset.job + (document.activeElement.matches(".unseen") ? getComputedStyle(document.activeElement.parentElement).outlineStyle : getComputedStyle(document.activeElement).outlineStyle)`))
	}
	if got := strings.Join(seen, " "); got != "savesolid opensolid linksolid printsolid newsolid" {
		t.Errorf("Tab goes over %s", got)
	}
	if err := b.Press("Enter"); err != nil { // New job
		t.Fatal(err)
	}
	p.told("A new job, from the usual values. Take the former job back")
	if got := p.text(theJob + `.querySelector('[data-job="told"]').getAttribute("role") + " " + ` + theJob + `.querySelector('[data-slot="say"]').getAttribute("aria-live")`); got != "status polite" {
		t.Errorf("the page speaks as %s", got)
	}
	if err := b.Type(`input[name="radius"]`, "0.06 mm\t"); err != nil {
		t.Fatal(err)
	}
	p.wait(theJob + `.querySelector('[data-slot="say"]').textContent.includes(` + theJob + `.querySelector(".headline").textContent) && ` + theJob + `.querySelector('[data-slot="say"]').textContent.includes("Wire 0.1 mm")`)
	p.quiet()
}

// readMore: every line of a sheet leads to a page that is there, in the folder
// and in the one file.
func readMore(t *testing.T, b Browser, dir string) {
	p := sheetPage{t, b}
	for _, url := range []string{"file://" + dir + "/index.html", "file://" + dir + "/calculators/job.html", "file://" + dir + "/handbook-one-file.html#p-calculators-job"} {
		p.open(url)
		var links []string
		if err := b.Eval(`[...`+theJob+`.querySelectorAll("a.more")].map(a => a.href)`, &links); err != nil || len(links) < 20 {
			t.Fatalf("%s has %d links to read more (%v)", url, len(links), err)
		}
		for _, link := range links {
			if file, id, one := strings.Cut(link, "#"); one {
				if got := p.text(fmt.Sprintf(`document.getElementById(%q)?.className`, id)); !strings.HasPrefix(got, "sheet") {
					t.Errorf("%s leads to %s in %s, which is %q", url, id, file, got)
				}
			} else if _, err := os.Stat(strings.TrimPrefix(link, "file://")); err != nil {
				t.Errorf("%s leads to what is not there: %v", url, err)
			}
		}
	}
}

// sizes: nothing runs out of its box, no key is small, no word is tiny.
func sizes(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	pictures := shots(t)
	for _, dark := range []string{"light", "dark"} {
		if _, err := chromedp.Call(b.(*chromium).ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: dark}}}); err != nil {
			t.Fatal(err)
		}
		p.open(url + filled)
		p.wait(ready)
		for _, size := range [][2]int{{390, 844}, {844, 390}, {768, 1024}, {820, 1180}, {1024, 768}, {1280, 800}} {
			if err := b.Size(size[0], size[1]); err != nil {
				t.Fatal(err)
			}
			p.do(theJob + `.querySelectorAll("details").forEach(d => d.open = true)`)
			var bad []string
			if err := b.Eval(`(() => {
				const out = [], calc = `+theJob+`, edge = calc.getBoundingClientRect();
				if (document.documentElement.scrollWidth > innerWidth) out.push("the page scrolls sideways");
				for (const e of calc.querySelectorAll("*")) {
					const r = e.getBoundingClientRect();
					if (r.width === 0 || r.height === 0 || e.closest(".unseen, .wide, svg")) continue;
					if (r.right > edge.right + 1 || r.left < edge.left - 1) out.push(e.className + " runs out of the box");
					if (e.childElementCount === 0 && e.textContent.trim() && parseFloat(getComputedStyle(e).fontSize) < 15) out.push(e.className + " is small print");
					if (e.matches("button, a, summary, input:not([type=hidden]), label.key") && r.height < 43.5) out.push((e.className || e.tagName) + " " + e.textContent + " is " + r.height + " high");
				}
				const band = calc.querySelector(".band").getBoundingClientRect();
				if (band.height > innerHeight * .4) out.push("the band covers " + band.height + " of " + innerHeight);
				return [...new Set(out)].slice(0, 8);
			})()`, &bad); err != nil || len(bad) > 0 {
				t.Errorf("%dx%d %s: %v (%v)", size[0], size[1], dark, bad, err)
			}
			p.do(theJob + `.querySelectorAll("details").forEach(d => d.open = false)`)
			p.press("sheet")
			_ = b.Screenshot(filepath.Join(pictures, fmt.Sprintf("job-%s-%dx%d.png", dark, size[0], size[1])))
		}
	}
	p.quiet()
}

// TestJobWebKit: on the other engine the sheet answers and a saved job opens.
func TestJobWebKit(t *testing.T) {
	dir := publish(t)
	b, err := WebKit(Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Size(768, 1024); err != nil {
		t.Fatal(err)
	}
	p := sheetPage{t, b}
	p.open("file://" + dir + "/calculators/job.html" + filled)
	p.wait(ready)
	want := p.lines()
	if native := work(t, comb...); !strings.Contains(native, want) {
		t.Errorf("the sheet:\n%s\nthe command:\n%s", want, native)
	}
	p.press("new")
	p.told("A new job, from the usual values.")
	p.wait(theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.02 mm")`)
	p.file(`{"kerfbook-job":"1","calculator":"job","in.radius":"0.06 mm","in.slot":"0.4 mm","in.thickness":"12 mm","in.material":"carbide","in.size":"20 ±0.004 mm","in.finish":"0.3 µm"}`)
	p.told("The job is open.")
	p.wait(ready)
	if got := p.lines(); got != want {
		t.Errorf("the file gives\n%s\nwant\n%s", got, want)
	}
}
