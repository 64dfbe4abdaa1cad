package browse

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
)

const filled = `#job?radius=0.06%20mm&slot=0.4%20mm&thickness=12%20mm&material=carbide&size=20%20%C2%B10.004%20mm&finish=0.3%20%C2%B5m&number=LQ-7&part=comb%20die`

const ready = theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.004 mm")`

// kept: save, open in another session, new, take back, copy the link, open it
// where nothing may be stored.
func kept(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url + filled)
	p.wait(ready)
	want := p.lines()
	p.press("save")
	p.told("Saved as lq-7.job.json. This handbook opens it again, and the command kerfbook work --from does.")
	p.wait(`(self.carried ?? "").endsWith("}\n")`)
	file := p.text(`self.carried`)
	p.press("link")
	p.told("The link is copied.")
	link := p.text(`self.copied`)
	p.press("new")
	p.told("A new job, from the usual values.")
	p.wait(theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.02 mm")`)
	p.press("back")
	p.told("The job is open.")
	p.wait(ready)
	if got := p.lines(); got != want {
		t.Errorf("taken back:\n%s\nwant\n%s", got, want)
	}
	p.quiet()
	// The command says the same of what the file holds.
	var saved map[string]string
	if err := json.Unmarshal([]byte(file), &saved); err != nil {
		t.Fatal(err)
	}
	var inputs []string
	for name, value := range saved {
		if field, ok := strings.CutPrefix(name, "in."); ok {
			inputs = append(inputs, field+"="+value)
		}
	}
	if native := work(t, inputs...); len(inputs) != 8 || !strings.Contains(native, want) {
		t.Errorf("the command with the inputs of the file, %q:\n%s", inputs, native)
	}
	// Another device, and one that refuses to store.
	other, err := Chromium(Options{NoStorage: true})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	q := sheetPage{t, other}
	q.open(link)
	q.wait(ready)
	if got := q.lines(); got != want {
		t.Errorf("the link gives\n%s\nwant\n%s", got, want)
	}
	q.open(url)
	q.file(file)
	q.told("The job is open.")
	q.wait(ready)
	if got := q.lines(); got != want {
		t.Errorf("the file gives\n%s\nwant\n%s", got, want)
	}
	q.press("back") // the job before, though nothing could be stored
	q.wait(theJob + `.querySelector('.sheet-given')?.textContent.includes("20 ±0.02 mm")`)
	q.quiet()
}

// drawing: in the file as a text, in the link as a digest.
func drawing(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url)
	const text = "G21 G90\nG0 X0 Y0\nG1 X10 Y0\nG1 X10 Y4\nG1 X0 Y4\nG1 X0 Y0"
	quoted, _ := json.Marshal(text)
	p.do(`(a => { a.value = ` + string(quoted) + `; a.dispatchEvent(new Event("input", {bubbles: true})); })(` + theJob + `.querySelector("textarea"))`)
	p.wait(`/drawing\.digest=[0-9a-f]{16}/.test(location.hash)`)
	p.press("save")
	p.told("Saved as ")
	p.wait(`(self.carried ?? "").includes("in.drawing")`)
	var saved map[string]string
	if err := json.Unmarshal([]byte(p.text(`self.carried`)), &saved); err != nil || saved["in.drawing"] != text {
		t.Errorf("the file holds the drawing as %q (%v)", saved["in.drawing"], err)
	}
	p.press("link")
	p.wait(`self.copied`)
	link := p.text(`self.copied`)
	if strings.Contains(link, "G21") || !regexp.MustCompile(`drawing\.digest=[0-9a-f]{16}`).MatchString(link) {
		t.Errorf("the link is %s", link)
	}
	p.open(link)
	p.wait(fmt.Sprintf(theJob+`.querySelector("textarea").value === %s`, quoted))
	p.do(`localStorage.clear()`)
	p.open(link)
	p.wait(theJob + `.querySelector('[data-slot="refused"]').textContent.startsWith("This link goes with a text of “drawing” that is not on this device (digest ")`)
	p.wait(`localStorage.getItem("kerfbook.job") !== null`) // the answer came and was kept: the message stays
	p.wait(theJob + `.querySelector('[data-slot="refused"]').textContent.startsWith("This link goes with a text of “drawing”") && ` + theJob + `.querySelector('[data-slot="say"]').textContent.startsWith("This link goes with")`)
	// Its file is chosen: the drawing is there, decides, and nothing is missing any more.
	p.do(`(i => { const d = new DataTransfer(); d.items.add(new File([` + string(quoted) + `], "part.txt")); i.files = d.files; i.dispatchEvent(new Event("change", {bubbles: true})); })(` + theJob + `.querySelector('[data-field="drawing"] input[type="file"]'))`)
	p.wait(fmt.Sprintf(theJob+`.querySelector("textarea").value === %s`, quoted))
	p.wait(`/drawing\.digest=[0-9a-f]{16}/.test(location.hash) && ` + theJob + `.querySelector('[data-slot="refused"]').textContent === ""`)
	p.do(`localStorage.clear()`)
	p.quiet()
}

const hostile = `<img src=x onerror=self.hacked=1><script>self.hacked=1</script>`

// broken: what is no saved job changes nothing and says why.
func broken(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	p.open(url + filled)
	p.wait(ready)
	state := `[...` + theJob + `.querySelectorAll("[name]")].map(i => i.name + "=" + i.value).join("&")`
	want, sheet := p.text(state), p.lines()
	head := `{"kerfbook-job":"1","calculator":"job",`
	for _, c := range []struct{ file, told string }{
		{"", "Nothing was opened. The file is empty."},
		{"  \n", "Nothing was opened. The file is empty."},
		{head + `"in.radius":"0.1`, "Nothing was opened. This is not whole JSON; the file may have been cut off."},
		{`["a"]`, "Nothing was opened. This is a JSON list; a saved job is one object of names and texts."},
		{head + `"in.radius":0.06}`, `Nothing was opened. “in.radius” is no text; every value of a saved job is a text in quotes, for example "0.06 mm".`},
		{head + `"in.radius":null}`, `Nothing was opened. “in.radius” is no text; every value of a saved job is a text in quotes, for example "0.06 mm".`},
		{`{"kerfbook-job":"1","calculator":"corner","in.radius":"0.1 mm"}`, "Nothing was opened: this job belongs to the calculator “corner”."},
		{`{"kerfbook-job":"2","calculator":"job"}`, "Nothing was opened: it was written by a newer handbook: it has version 2, this kerfbook reads version 1."},
		{`{"kerfbook-job":"1","calculator":"job","units":"cubits"}`, `Nothing was opened: units is "cubits"; it is metric or inch.`},
		{`{"calculator":"job"}`, "Nothing was opened: this is no saved job: the name kerfbook-job with its version is missing."},
		{"3.14", "Nothing was opened: "},
		{hostile, "Nothing was opened: "},
		{"PK\x03\x04\x00\x00", "Nothing was opened: "},
		{`{"kerfbook-job":"1","calculator":"` + strings.ReplaceAll(hostile, `"`, "") + `"}`, "Nothing was opened: "},
		{head + `"in.part":"` + strings.Repeat("x", 5<<20) + `"}`, "Nothing was opened. A saved job has at most 4 MB."},
	} {
		p.file(c.file)
		p.told(c.told)
		if got := p.text(theJob + `.querySelector('[data-job="told"]').textContent`); strings.HasSuffix(c.told, ".") && got != c.told {
			t.Errorf("%.60q: told %q\nwant %q", c.file, got, c.told)
		}
		if got := p.text(state); got != want {
			t.Errorf("%.60q changed the job:\n%s\nwant\n%s", c.file, got, want)
		}
	}
	if got := p.lines(); got != sheet {
		t.Errorf("the sheet changed:\n%s", got)
	}
	p.quiet()
	// Names and values are text wherever they are shown.
	h, _ := json.Marshal(hostile)
	p.file(head + `"in.part":` + string(h) + `,"in.radius":` + string(h) + `,` + string(h) + `:` + string(h) + `,"in.` + string(h)[1:] + `:` + string(h) + `}`)
	p.told(`The line "<img src=x`)
	p.wait(theJob + `.querySelector('[data-field="radius"] .problem')?.textContent.includes("<img")`)
	p.do(theJob + `.querySelector('[data-field="radius"] input').value = "0.2 mm"`)
	p.do(theJob + `.querySelector('[data-field="radius"] input').dispatchEvent(new Event("input", {bubbles: true}))`)
	p.wait(theJob + `.querySelector('[data-field="radius"] .problem') === null`)
	if got := p.text(theJob + `.querySelectorAll("img, script").length`); got != "0" {
		t.Errorf("%s elements came out of a saved job", got)
	}
	p.press("save") // what is not known here is kept
	p.told("Saved as ")
	p.wait(`(self.carried ?? "").includes("onerror")`)
	p.do(`localStorage.clear()`)
	p.quiet()
}

// fuzz: mutated saved files and fragments, from a fixed seed. The page complains
// of none, runs none and answers after each.
func fuzz(t *testing.T, b Browser, url string) {
	p := sheetPage{t, b}
	r := rand.New(rand.NewPCG(7, 11))
	base := []string{`{"kerfbook-job":"1","calculator":"job","units":"inch","in.radius":"0.06 mm","in.slot":"0.4 mm","in.thickness":"12 mm","in.material":"carbide","in.finish":"0.3 µm","in.part":"comb"}`,
		"kerfbook-job\t1\ncalculator\tjob\nin.radius\t0.06 mm\nin.use-wire\t0.1 mm\nin.drawing\tM0 0H10V4H0Z\n"}
	pieces := []string{hostile, "\x00", `"`, "\\u0000", "{", "}", "\t", "\n", "in.", "1e999", "-1 mm", "NaN", "0", "٣", "\u202e", "mm", "__proto__", "constructor", "%", "&", "=", "ü", "\U0001f600", strings.Repeat("9", 400)}
	mutate := func(s string) string {
		for range 1 + r.IntN(4) {
			i := r.IntN(len(s) + 1)
			j := min(len(s), i+r.IntN(12))
			switch r.IntN(3) {
			case 0:
				s = s[:i] + s[j:]
			case 1:
				s = s[:i] + pieces[r.IntN(len(pieces))] + s[i:]
			default:
				s = s[:i] + pieces[r.IntN(len(pieces))] + s[j:]
			}
		}
		return strings.ToValidUTF8(s, "\ufffd")
	}
	var files, links []string
	for i := range 200 {
		files = append(files, mutate(base[i%2]))
		links = append(links, mutate(filled[1:]))
	}
	list, _ := json.Marshal(files)
	p.open(url)
	p.do(`(async () => {
		const i = ` + theJob + `.querySelector('input[data-job="open"]'), told = ` + theJob + `.querySelector('[data-job="told"]');
		self.answered = 0;
		for (const text of ` + string(list) + `) {
			told.textContent = "";
			const d = new DataTransfer();
			d.items.add(new File([text], "x"));
			i.files = d.files;
			i.dispatchEvent(new Event("change", {bubbles: true}));
			for (let n = 0; n < 50000 && told.textContent === ""; n++) await new Promise(next => setTimeout(next, 5));
			if (told.textContent !== "") self.answered++;
		}
		self.finished = true;
	})()`)
	p.wait(`self.finished`)
	if got := p.text(`self.answered`); got != "200" {
		t.Errorf("the page told something of %s files, not of 200", got)
	}
	p.wait(theJob + `.querySelector(".busy").hidden`)
	answers := func() {
		t.Helper()
		p.file(`{"kerfbook-job":"1","calculator":"job","units":"metric","in.size":"20 ±0.004 mm"}`)
		p.told("The job is open.")
		p.wait(ready)
		if got := p.text(theJob + `.querySelectorAll("img, script, iframe").length`); got != "0" {
			t.Errorf("%s elements came out of a mutated job", got)
		}
		p.quiet()
	}
	answers()
	list, _ = json.Marshal(links)
	p.do(`(async () => {
		self.finished = false;
		for (const link of ` + string(list) + `) {
			location.hash = link;
			await new Promise(next => setTimeout(next, 10));
		}
		self.finished = true;
	})()`)
	p.wait(`self.finished`)
	answers()
	p.do(`localStorage.clear()`)
}
