package browse

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// shots is where pictures are kept to be looked at: KERFBOOK_SHOTS, or nowhere
// that lasts.
func shots(t *testing.T) string {
	if dir := os.Getenv("KERFBOOK_SHOTS"); dir != "" {
		return dir
	}
	return t.TempDir()
}

func engines() map[string]func(Options) (Browser, error) {
	return map[string]func(Options) (Browser, error){"chromium": Chromium, "webkitgtk": WebKit}
}

// TestHandbook does what readers do, on both engines, from disk, over http and
// in the one file, at the sizes of a tablet and a phone.
func TestHandbook(t *testing.T) {
	for _, n := range Missing() {
		t.Fatalf("%s is missing: install the Debian package %s", n.Program, n.Package)
	}
	dir := publish(t)
	server := Serve(dir)
	defer server.Close()
	alone := filepath.Join(t.TempDir(), "handbook.html") // in an empty folder
	data, err := os.ReadFile(filepath.Join(dir, "handbook-one-file.html"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(alone, data, 0o644); err != nil {
		t.Fatal(err)
	}
	pictures := shots(t)
	for name, start := range engines() {
		t.Run(name, func(t *testing.T) {
			b, err := start(Options{NoStorage: name == "chromium"})
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			for _, size := range [][2]int{{768, 1024}, {390, 844}} {
				if err := b.Size(size[0], size[1]); err != nil {
					t.Fatal(err)
				}
				for way, url := range map[string]string{"disk": "file://" + dir + "/index.html", "http": server.URL + "/index.html", "one": "file://" + alone} {
					t.Run(fmt.Sprintf("%s-%d", way, size[0]), func(t *testing.T) {
						read(t, b, url, way, filepath.Join(pictures, fmt.Sprintf("%s-%s-%d.png", name, way, size[0])))
					})
				}
			}
		})
	}
	if gone := server.Missing(); len(gone) > 0 {
		t.Errorf("the server was asked for what is not there: %v", gone)
	}
}

// read types a radius, a wire and a gap, reads the verdict, makes a mistake,
// changes the units, follows a link.
func read(t *testing.T, b Browser, url, way, picture string) {
	scope := ""
	if way == "one" {
		scope = ".sheet.shown "
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	text := func(selector string) string {
		t.Helper()
		var s string
		must(b.Eval(fmt.Sprintf("document.querySelector(%q)?.textContent ?? ''", scope+selector), &s))
		return s
	}
	must(b.Open(url))
	must(Ready(b))
	must(b.Eval(`(document.querySelector('[data-system="metric"]').click(), 1)`, nil))
	must(b.Type(scope+`input[name="radius"]`, "3 thou"))
	must(b.Type(scope+`input[name="wire"]`, "5 thou"))
	must(b.Type(scope+`input[name="gap"]`, "3 to 10\t"))
	must(Wait(b, fmt.Sprintf(`document.querySelector(%q).textContent.startsWith("It leaves R 0.07 mm (0.0665 to 0.0735). Works up to a gap of 12.7 µm a side.")`, scope+".lead")))
	if got := text(".headline"); got != "Yes, with ⌀ 0.127 mm" {
		t.Errorf("the verdict is %q", got)
	}
	// A bare number is written with its unit at once, and its echo is there.
	var value string
	must(Wait(b, fmt.Sprintf(`document.querySelector(%q)?.value.endsWith("µm")`, scope+`input[name="gap"]`)))
	must(b.Eval(fmt.Sprintf("document.querySelector(%q).value", scope+`input[name="gap"]`), &value))
	if value != "3 to 10 µm" {
		t.Errorf("the gap is written %q", value)
	}
	if got := text(`[data-field="gap"] .understood`); got != "3 to 10 µm = 0.12 to 0.39 thou" {
		t.Errorf("the echo is %q", got)
	}
	// Bad input: a message beside the field, and no answer to what is not there.
	must(b.Type(scope+`input[name="radius"]`, "three\t"))
	must(Wait(b, fmt.Sprintf(`document.querySelector(%q)`, scope+`[data-field="radius"] .problem`)))
	if got := text(".headline"); got != "No answer: “Inside radius on the print” cannot be read" {
		t.Errorf("with a bad radius the band says %q", got)
	}
	must(b.Type(scope+`input[name="radius"]`, "3 thou\t"))
	// The reader's system.
	must(b.Eval(`(document.querySelector('[data-system="inch"]').click(), 1)`, nil))
	if err := Wait(b, fmt.Sprintf(`document.querySelector(%q).textContent === "Yes, with ⌀ 5 thou"`, scope+".headline")); err != nil {
		var state string
		_ = b.Eval(`[...document.querySelectorAll(".headline, .problem")].map(e => e.textContent).join(" | ") + [...document.querySelectorAll("input[name]")].map(i => i.name + "=" + i.value).join(" | ") + document.documentElement.className`, &state)
		t.Fatalf("%v: %s", err, state)
	}
	must(b.Eval(fmt.Sprintf("document.querySelector(%q).value", scope+`input[name="radius"]`), &value))
	if value != "3 thou" {
		t.Errorf("changing the system rewrote the typed text: %q", value)
	}
	must(b.Eval(`(document.querySelector('[data-system="metric"]').click(), 1)`, nil))
	must(b.Eval(`(document.activeElement.blur(), scrollTo(0, 0), 1)`, nil))
	must(b.Screenshot(picture))
	// A link of the text.
	must(b.Eval(fmt.Sprintf(`([...document.querySelectorAll(%q)].find(a => a.textContent === "chapter on the wire").click(), 1)`, scope+".body a"), nil))
	must(Wait(b, fmt.Sprintf(`document.querySelector(%q)?.textContent === "Which wire for this corner?"`, scope+"h1")))
	for _, line := range b.Console() {
		t.Errorf("the page complains: %.300s", line)
	}
}

// TestPhoneFirstScreen: on a phone with its keyboard up, the wire, the radius
// and the verdict are in view together, and a second visit opens where the first
// ended, with the number selected.
func TestPhoneFirstScreen(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	const keyboard = 336
	if err := b.Size(390, 844-keyboard); err != nil {
		t.Fatal(err)
	}
	url := "file://" + dir + "/index.html"
	if err := b.Open(url); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="radius"]`, "5 thou\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `location.hash.includes("radius=5%20thou")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Open(url); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('input[name="radius"]').value === "5 thou" && getSelection !== null && document.activeElement.name === "radius"`); err != nil {
		t.Fatal(err)
	}
	var selected string
	if err := b.Eval(`(i => i.value.slice(i.selectionStart, i.selectionEnd))(document.activeElement)`, &selected); err != nil || selected != "5" {
		t.Errorf("selected is %q (%v), want the number alone", selected, err)
	}
	if err := b.Screenshot(filepath.Join(shots(t), "phone-keyboard.png")); err != nil {
		t.Fatal(err)
	}
	var out []string
	err = b.Eval(`['.headline', '[data-field="wire"] .chip[aria-pressed="true"]', 'input[name="radius"]'].filter(s => {
		const r = document.querySelector(s).getBoundingClientRect();
		return r.top < 0 || r.bottom > innerHeight || r.height === 0; })`, &out)
	if err != nil || len(out) > 0 {
		t.Errorf("not in view above the keyboard: %v (%v)", out, err)
	}
}

// TestWithoutScript: every page reads with script off, with each calculator's
// answer for its defaults.
func TestWithoutScript(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{NoScript: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Size(768, 1024); err != nil {
		t.Fatal(err)
	}
	if err := b.Open("file://" + dir + "/calculators/leach.html"); err != nil {
		t.Fatal(err)
	}
	if err := b.Screenshot(filepath.Join(shots(t), "no-script.png")); err != nil {
		t.Fatal(err)
	}
	var got struct{ Headline, Class, Note string }
	err = b.Eval(`{Headline: document.querySelector(".headline").textContent, Class: document.documentElement.className, Note: getComputedStyle(document.querySelector(".needs-script")).display}`, &got)
	if err != nil || got.Headline != "No more than 14.46 µm" || !strings.Contains(got.Class, "no-script") || got.Note == "none" {
		t.Errorf("%+v %v", got, err)
	}
}

// TestEveryPage opens every page over http and from disk: no complaint, nothing
// asked for that is missing, no sideways scrolling on a phone.
func TestEveryPage(t *testing.T) {
	dir := publish(t)
	server := Serve(dir)
	defer server.Close()
	b, err := Chromium(Options{Dark: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Size(390, 844); err != nil {
		t.Fatal(err)
	}
	pages, err := filepath.Glob(filepath.Join(dir, "*.html"))
	if err != nil {
		t.Fatal(err)
	}
	more, _ := filepath.Glob(filepath.Join(dir, "*", "*.html"))
	pictures := shots(t)
	for _, file := range append(pages, more...) {
		name, _ := filepath.Rel(dir, file)
		address := server.URL + "/" + filepath.ToSlash(name)
		if name == "handbook-one-file.html" { // its style and script stand in the page, which the policy refuses: it is for disk
			address = "file://" + file
		}
		if err := b.Open(address); err != nil {
			t.Fatal(err)
		}
		var wide float64
		if err := Wait(b, `document.readyState === "complete"`); err != nil {
			t.Fatal(err)
		}
		if err := b.Eval(`document.documentElement.scrollWidth - innerWidth`, &wide); err != nil || wide > 0 {
			t.Errorf("%s scrolls sideways by %v (%v)", name, wide, err)
		}
		var small []string
		if err := b.Eval(`[...document.querySelectorAll(".bar a, .bar button, .chip, .key, .entry input")].filter(e => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 44 || r.width < 44); }).map(e => e.textContent || e.name)`, &small); err != nil || len(small) > 0 {
			t.Errorf("%s has targets under 44 px: %v (%v)", name, small, err)
		}
		for _, line := range b.Console() {
			t.Errorf("%s complains: %.300s", name, line)
		}
		_ = b.Screenshot(filepath.Join(pictures, "dark-"+strings.ReplaceAll(strings.TrimSuffix(name, ".html"), "/", "-")+".png"))
	}
	if gone := server.Missing(); len(gone) > 0 {
		t.Errorf("the server was asked for what is not there: %v", gone)
	}
}

// TestLinks: a link carries its units; one without is refused and never guessed,
// and typing the number anew takes the field's unit as always.
func TestLinks(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{NoStorage: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	base := "file://" + dir + "/calculators/corner.html#corner?"
	if err := b.Open(base + "radius=3%20thou&wire=4%20thou&gap=2%20to%206%20%C2%B5m"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector(".lead").textContent.startsWith("It leaves R 0.0548 mm (0.0528 to 0.0568).")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Open(base + "radius=3"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="radius"] .problem')?.textContent.includes("“3” has no unit")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="radius"]`, "3\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="radius"] .understood')?.textContent.startsWith("3 mm")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Open(base + "radius=%3Cscript%3Ealert(1)%3C/script%3E&nonsense=1"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="radius"] .problem')?.textContent.includes("<script>alert(1)</script>")`); err != nil {
		t.Fatal(err)
	}
	// A field that is not there is said, with the one that was perhaps meant, until the
	// reader types.
	if err := b.Open(base + "raduis=3%20thou"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-slot="band"]')?.textContent.includes('here is no field "raduis"; did you mean "radius"?')`); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="radius"]`, "R3 thou max\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="radius"] .understood')?.textContent.startsWith("3 thou max") && /radius=3%20thou%20max/.test(location.hash)`); err != nil {
		t.Fatal(err)
	}
	// A material may go by its number; the link comes out with its own name.
	if err := b.Open("file://" + dir + "/calculators/metal.html#metal?material=1.2344"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-pick="hot-work"]').getAttribute("aria-pressed") === "true" && /material=hot-work$/.test(location.hash)`); err != nil {
		t.Fatal(err)
	}
	// A link with a field's older name sets the field, and comes out with the new one.
	if err := b.Open("file://" + dir + "/calculators/trial.html#trial?number=LQ-12"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('input[name="cut"]').value === "LQ-12" && /[?&]cut=LQ-12$/.test(location.hash) && !location.hash.includes("number=")`); err != nil {
		var hash string
		_ = b.Eval(`location.hash`, &hash)
		t.Fatalf("%v; the link is %s", err, hash)
	}
	if err := b.Type(`input[name="cut"]`, "LQ,12\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="cut"] .problem')?.textContent === 'Name of the cut takes letters, digits, space and - . / _ #; this has ",".'`); err != nil {
		t.Fatal(err)
	}
}

// TestMachine: a machine's card limits what is offered, says who would do it, and
// is remembered on the next page; its measured cut takes the place of the general
// range.
func TestMachine(t *testing.T) {
	server := Serve(publish(t))
	defer server.Close()
	b, err := Chromium(Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	open := func(page string) {
		t.Helper()
		if err := b.Open(server.URL + "/calculators/" + page + ".html"); err != nil {
			t.Fatal(err)
		}
		if err := Ready(b); err != nil {
			t.Fatal(err)
		}
	}
	wait := func(expression string) {
		t.Helper()
		if err := Wait(b, expression); err != nil {
			var state string
			_ = b.Eval(`document.querySelector(".band").textContent + [...document.querySelectorAll(".problem, .hint")].map(e => e.textContent).join(" | ")`, &state)
			t.Fatalf("%v: %s", err, state)
		}
	}
	click := func(field, value string) {
		t.Helper()
		if err := b.Eval(fmt.Sprintf(`(document.querySelector('[data-field="%s"] [data-pick="%s"]').click(), 1)`, field, value), nil); err != nil {
			t.Fatal(err)
		}
	}
	open("corner")
	click("machine", "loft")
	wait(`document.querySelector(".headline").textContent === "No, not on Loft"`)
	wait(`document.querySelector('[data-field="dielectric"] [data-pick="water"]').hidden && document.querySelector('[data-field="dielectric"] .hint').textContent.includes("Quay and Slip would allow it")`)
	click("wire", "0.1 mm")
	wait(`document.querySelector(".headline").textContent === "Yes, with ⌀ 0.10 mm"`)
	open("slot")
	wait(`document.querySelector('[data-field="machine"] [data-pick="loft"]').getAttribute("aria-pressed") === "true" && document.querySelector(".headline").textContent === "No, not on Loft"`)
	click("machine", "any")
	wait(`!document.querySelector('[data-field="dielectric"] [data-pick="water"]').hidden && document.querySelector(".general") !== null`)
	open("rate")
	wait(`document.querySelector(".general") !== null`)
	click("machine", "quay")
	wait(`document.querySelector(".general") === null && document.querySelector('[data-field="area-rate"] .understood').textContent.includes("nearest LQ-12 pass 1")`)
	for _, line := range b.Console() {
		t.Errorf("the page complains: %.300s", line)
	}
}

// TestProfile: a drawing is read and cut beside the page, from http, from disk and
// in the one file: a sample, the reader's own text, what is wrong with it, a place
// looked at closely, a file carried away, and a long answer that is stopped.
func TestProfile(t *testing.T) {
	dir := publish(t)
	server := Serve(dir)
	defer server.Close()
	for name, start := range engines() {
		t.Run(name, func(t *testing.T) {
			b, err := start(Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer b.Close()
			if err := b.Size(768, 1024); err != nil {
				t.Fatal(err)
			}
			for way, url := range map[string]string{"http": server.URL + "/calculators/profile.html", "disk": "file://" + dir + "/calculators/profile.html", "one": "file://" + dir + "/handbook-one-file.html#p-calculators-profile"} {
				t.Run(way, func(t *testing.T) {
					if err := b.Open(url); err != nil {
						t.Fatal(err)
					}
					cut(t, b)
					for _, line := range b.Console() {
						t.Errorf("the page complains: %.300s", line)
					}
				})
			}
		})
	}
}

func cut(t *testing.T, b Browser) {
	const calculator = `document.querySelector('[data-calculator="profile"]')`
	wait := func(expression string) {
		t.Helper()
		if err := Wait(b, expression); err != nil {
			var state string
			_ = b.Eval(calculator+`?.querySelector(".band").textContent + " | " + `+calculator+`?.querySelector('[data-slot="refused"]').textContent`, &state)
			t.Fatalf("%v: %s", err, state)
		}
	}
	do := func(expression string) {
		t.Helper()
		if err := b.Eval("("+expression+", 1)", nil); err != nil {
			t.Fatal(err)
		}
	}
	head := calculator + `.querySelector(".headline").textContent`
	if err := Ready(b); err != nil {
		t.Fatal(err)
	}
	wait(calculator + ` !== null`)
	// What an edition opened before left in the storage is not wanted here.
	do(calculator + `.querySelector('[data-field="wire"] [data-pick="0.25 mm"]').click()`)
	do(calculator + `.querySelector('[data-field="sample"] [data-pick="gear"]').click()`)
	wait(head + ` === "No, in 60 places more stays than 5 µm"`)
	wait(calculator + `.querySelector('[data-slot="answer"]').textContent.includes("Area left uncut0.064105 mm²")`)
	do(calculator + `.querySelector('[data-field="wire"] [data-pick="0.05 mm"]').click()`)
	wait(head + `.startsWith("Yes: what stays is 4.7 µm deep at most")`)
	// The reader's own.
	do(calculator + `.querySelector('[data-field="sample"] [data-pick="own"]').click()`)
	wait(calculator + `.querySelector('[data-slot="refused"]').textContent.includes("No drawing was given")`)
	own := func(text string) {
		do(`(a => { a.value = ` + "`" + text + "`" + `; a.dispatchEvent(new Event("input", {bubbles: true})); })(` + calculator + `.querySelector("textarea"))`)
	}
	own("M0 0H10V4H0Z")
	wait(calculator + `.querySelector('[data-slot="refused"]').textContent.includes("does not say its unit: choose mm or in. It is 10 by 4 units")`)
	do(calculator + `.querySelector('[data-field="unit"] [data-pick="mm"]').click()`)
	wait(head + ` === "No, in 4 places more stays than 5 µm"`)
	own("0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n0\n10\nx\n")
	wait(calculator + `.querySelector('[data-slot="refused"]').textContent.includes("line 10: a number is wanted, this is “x”")`)
	own("M0 0H10V4H0Z")
	wait(head + ` === "No, in 4 places more stays than 5 µm" && ` + calculator + `.querySelector('[data-slot="refused"]').textContent === ""`)
	// A tap on a place of the table brings it near, and all comes back.
	view := calculator + `.querySelector("svg.fig").getAttribute("viewBox")`
	var before, near, again string
	if err := b.Eval(view, &before); err != nil {
		t.Fatal(err)
	}
	do(calculator + `.querySelector("td[data-at]").click()`)
	if err := b.Eval(view, &near); err != nil || near == before {
		t.Errorf("a tap on a place does not bring it near: %q (%v)", near, err)
	}
	do(calculator + `.querySelector('[data-view="all"]').click()`)
	if err := b.Eval(view, &again); err != nil || again != before {
		t.Errorf("the whole does not come back: %q for %q", again, before)
	}
	// What is carried away is what was computed.
	// Workers come from such addresses too: only texts are caught, and the page stays where it is.
	do(`(make => { URL.createObjectURL = b => { if (b.type !== "text/plain") return make.call(URL, b); b.text().then(x => { self.carried = x; }); return location.hash || "#sheet"; }; })(URL.createObjectURL)`)
	do(calculator + `.querySelector('[data-file="paths.txt"]').click()`)
	wait(`(self.carried ?? "").startsWith("NOT A PROGRAM: A PATH ONLY.")`)
	do(`delete URL.createObjectURL`)
}

// TestKeyboard: the whole first form is reached by Tab, Enter goes to the next
// field, and what has the focus shows it.
func TestKeyboard(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{NoStorage: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Open("file://" + dir + "/index.html"); err != nil {
		t.Fatal(err)
	}
	if err := Ready(b); err != nil {
		t.Fatal(err)
	}
	if err := b.Size(1024, 768); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for range 60 {
		if err := b.Press("Tab"); err != nil {
			t.Fatal(err)
		}
		var at struct{ Name, Outline, Under string }
		// WCAG 2.2, 2.4.11: the bars do not lie over what has the focus.
		if err := b.Eval(`(e => {
			const r = e.getBoundingClientRect(), bar = document.querySelector(".bar"), band = e.closest(".calc")?.querySelector(".band");
			const over = [bar, band].filter(o => o && !o.contains(e) && o.getClientRects().length > 0).map(o => o.getBoundingClientRect()).filter(o => o.top < r.bottom - 0.5 && r.top < o.bottom - 0.5);
			return {Name: e.name || e.textContent.trim(), Outline: getComputedStyle(e).outlineStyle, Under: e === document.body ? "" : over.map(o => o.top + " to " + o.bottom + " over " + r.top + " to " + r.bottom).join()};
		})(document.activeElement)`, &at); err != nil {
			t.Fatal(err)
		}
		seen[at.Name] = true
		if at.Under != "" {
			t.Errorf("%q has the focus and lies under a bar: %s", at.Name, at.Under)
		}
		if at.Outline == "none" && at.Name != "" {
			t.Errorf("%q has the focus and does not show it", at.Name)
		}
	}
	// A row of keys is one stop: the pressed one.
	if seen["0.2"] || seen["thou"] {
		t.Error("Tab stops at every key of a row")
	}
	for _, want := range []string{"To the text", "Find", "0.25", "wire", "mm", "radius", "angle", "water", "gap"} {
		if !seen[want] {
			t.Errorf("Tab does not reach %q", want)
		}
	}
	// Arrows go along the row, and what they reach is pressed by Enter.
	if err := b.Eval(`(document.querySelector('[data-field="wire"] .keys [tabindex="0"]').focus(), 1)`, nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ key, at string }{{"ArrowRight", "µm"}, {"ArrowRight", "thou"}, {"End", "tenths"}, {"ArrowRight", "tenths"}, {"Home", "mm"}, {"ArrowDown", "µm"}} {
		if err := b.Press(c.key); err != nil {
			t.Fatal(err)
		}
		var at string
		if err := b.Eval(`document.activeElement.textContent + document.querySelectorAll('[data-field="wire"] .keys [tabindex="0"]').length`, &at); err != nil || at != c.at+"1" {
			t.Errorf("%s leads to %q, want %q as the row's one stop (%v)", c.key, at, c.at, err)
		}
	}
	if err := b.Press("Enter"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="wire"] .keys [aria-pressed="true"]').textContent === "µm" && document.activeElement.textContent === "µm"`); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="wire"]`, "0.2 mm\r"); err != nil {
		t.Fatal(err)
	}
	var name string
	if err := b.Eval(`document.activeElement.name`, &name); err != nil || name != "radius" {
		t.Errorf("Enter went to %q (%v)", name, err)
	}
}

// TestTrap: when the calculators stop in the middle of an answer, the reader is
// told, a new instance is made, and the next answer is right.
func TestTrap(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{Before: `{
		const made = WebAssembly.instantiate;
		window.trap = false;
		WebAssembly.instantiate = async (...args) => {
			const i = await made(...args);
			const e = i.exports;
			return { exports: { memory: e.memory, buf: e.buf, _initialize: e._initialize, ask: (n) => {
				if (window.trap) { window.trap = false; throw new WebAssembly.RuntimeError("unreachable"); }
				return e.ask(n);
			} } };
		};
	}`})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Open("file://" + dir + "/calculators/corner.html"); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="radius"]`, "5 thou\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="radius"] .understood').textContent.startsWith("5 thou")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(`(window.trap = true, document.querySelector('input[name="radius"]').dispatchEvent(new Event("input", { bubbles: true })))`, nil); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-slot="refused"]').textContent.startsWith("The calculator stopped and was started again: ")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="wire"]`, "4 thou\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector(".headline").textContent === "Yes, with ⌀ 0.102 mm" && document.querySelector('[data-slot="refused"]').textContent === ""`); err != nil {
		t.Fatal(err)
	}
}
