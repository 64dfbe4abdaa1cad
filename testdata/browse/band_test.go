package browse

import (
	"fmt"
	"math/rand/v2"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
)

// TestBandIsOfTheFields: whatever way numbers come into the fields, no mutation
// and no frame shows a verdict or a figure of other numbers. Every band seen is
// held against the calculators run natively on the fields seen with it.
func TestBandIsOfTheFields(t *testing.T) {
	dir, err := watched()
	if err != nil {
		t.Fatal(err)
	}
	server := Serve(dir)
	t.Cleanup(server.Close) // the engines below run beside each other
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
			h := hand{sheetPage{t, b}, newTruth(t, dir), "corner"}
			disk, one := "file://"+dir, "file://"+dir+"/handbook-one-file.html"
			r := rand.New(rand.NewPCG(5, 50))
			t.Run("opened", func(t *testing.T) { h.t = t; opened(h, r, server.URL, disk, one) })
			t.Run("refused", func(t *testing.T) { h.t = t; refusedEntries(h, r, disk+"/calculators/corner.html") })
			t.Run("moves", func(t *testing.T) { h.t = t; moves(h, r, disk+"/calculators/corner.html") })
			t.Run("trap", func(t *testing.T) { h.t = t; trapped(h, disk+"/calculators/corner.html") })
			t.Run("carried", func(t *testing.T) { h.t = t; carriedOver(h, disk+"/index.html") })
			t.Run("held", func(t *testing.T) { h.t = t; heldBack(h, server.URL+"/calculators/job.html") })
		})
	}
}

// other makes the state of a corner that differs from the published one.
func other(r *rand.Rand) string {
	wires := []string{"0.05 mm", "0.1 mm", "0.15 mm", "0.2 mm", "0.3 mm", "4 thou", "8 thou"}
	radii := []string{"0.03 mm", "0.05 mm", "0.06 ±0.01 mm", "0.08 mm", "0.2 mm", "0.4 mm", "3 thou", "12 thou"}
	state := "wire=" + url.QueryEscape(wires[r.IntN(len(wires))]) + "&radius=" + url.QueryEscape(radii[r.IntN(len(radii))])
	if r.IntN(3) == 0 {
		state += "&dielectric=oil"
	}
	return strings.ReplaceAll(state, "+", "%20")
}

// opened: 50 openings, by link and by what the device kept, over http, from disk
// and in the one file. One in five is awaited to its answer; the others are left
// when the calculators are still being brought, which is when a published answer
// would stand over other numbers.
func opened(h hand, r *rand.Rand, http, disk, one string) {
	answers, withdrawn := 0, 0
	for i := range 50 {
		address, home := http, http
		if i >= 23 {
			address, home = disk, disk
		}
		page, link := "/calculators/corner.html", "#corner?"
		if i%4 > 1 {
			page = "/index.html"
		}
		if i >= 46 {
			page, link, address = "", "#p-index.corner?", one
		}
		address += page
		if i == 0 || i == 23 { // a page of this origin, to reach what it keeps
			h.load(home + "/calculators/corner.html")
			h.settled()
		}
		h.do(`localStorage.clear()`)
		if state := other(r); i%2 == 0 {
			address += link + state
		} else { // kept on this device, and a machine and a system chosen elsewhere
			h.do(fmt.Sprintf(`(localStorage.setItem("kerfbook.corner", %q), localStorage.setItem("kerfbook.machine", %q), localStorage.setItem("kerfbook.units", %q))`,
				state, []string{"any", "quay"}[r.IntN(2)], []string{"metric", "inch"}[r.IntN(2)]))
		}
		h.load(address)
		h.wait(`self.frames > 2`)
		got := h.now()
		if got.Fields["wire"] == "" || got.Fields["radius"] == "" {
			h.t.Errorf("%s: the fields hold %v", address, got.Fields)
		}
		if got.withdrawn() {
			withdrawn++
		}
		if i%5 == 4 || i == 46 {
			h.settled()
		}
		answers += h.judged()
	}
	h.do(`localStorage.clear()`)
	h.t.Logf("%d bands withdrawn when first looked at, %d answers seen", withdrawn, answers)
	if answers < 10 || withdrawn < 5 {
		h.t.Errorf("%d bands withdrawn when first looked at and %d answers seen in 50 openings show too little", withdrawn, answers)
	}
}

// refusedEntries: 50 entries that cannot be read or are out of bounds, some
// typed key by key. The band names the field; values, figure and working are
// away, and come back with the next entry that is read.
func refusedEntries(h hand, r *rand.Rand, address string) {
	h.load(address)
	h.settled()
	bad := []string{"abc", "0.1 furlong", "", "three", "0,1,2", "-0.1 mm", "1e9 mm", "0.1 mm mm", "R", "0.1 to mm", "0", "9 km"}
	name := map[string]string{"wire": "Wire on the machine", "radius": "Inside radius on the print"}
	for i := range 50 {
		field, text := []string{"wire", "radius"}[r.IntN(2)], bad[r.IntN(len(bad))]
		if i%5 == 0 && text != "" {
			if err := h.b.Type(`input[name="`+field+`"]`, text+"\t"); err != nil {
				h.t.Fatal(err)
			}
		} else {
			h.put(field, text)
		}
		h.wait(h.el() + `.dataset.state === "none"`)
		got := h.settled()
		if !strings.Contains(got.Band, "No answer: “"+name[field]+"” ") {
			h.t.Errorf("%s %q: the band is %s", field, text, got.Band)
		}
		seen := h.text(`["figure > *", "answer > *", "steps > *"].map(s => { const [slot, rest] = s.split(" "); return [...` + h.el() + `.querySelectorAll('[data-slot="' + slot + '"] > *')].filter(e => getComputedStyle(e).visibility !== "hidden").length; }).join(" ")`)
		if seen != "0 0 0" {
			h.t.Errorf("%s %q: of figure, values and working there stand %s", field, text, seen)
		}
		h.put(field, []string{"0.1 mm", "0.2 mm", "6 thou"}[r.IntN(3)])
		h.wait(h.el() + `.dataset.state === undefined`)
		h.settled()
	}
	if n := h.judged(); n < 50 {
		h.t.Errorf("only %d answers were seen", n)
	}
}

// moves: keys, chips, unit keys and the reader's system in any order.
func moves(h hand, r *rand.Rand, address string) {
	h.load(address)
	h.settled()
	chips := []string{`[data-field="wire"] [data-pick="0.1 mm"]`, `[data-field="wire"] [data-pick="0.3 mm"]`, `[data-field="dielectric"] [data-pick="oil"]`, `[data-field="dielectric"] [data-pick="water"]`,
		`[data-field="asks"] [data-pick="minimum"]`, `[data-field="asks"] [data-pick="maximum"]`, `[data-field="machine"] [data-pick="loft"]`, `[data-field="machine"] [data-pick="any"]`}
	for range 40 {
		switch r.IntN(5) {
		case 0:
			if err := h.b.Type(`input[name="radius"]`, []string{"0.07", "3 thou", "0.12 mm", "5"}[r.IntN(4)]); err != nil {
				h.t.Fatal(err)
			}
		case 1, 2:
			h.push(chips[r.IntN(len(chips))])
		case 3: // the field keeps the focus, as on a tablet
			h.do(h.el() + `.querySelector('input[name="radius"]').focus()`)
			h.push(`[data-field="radius"] [data-key="` + []string{"mm", "µm", "thou", "tenths"}[r.IntN(4)] + `"]`)
		case 4:
			h.do(`document.querySelector('[data-system="` + []string{"metric", "inch"}[r.IntN(2)] + `"]').click()`)
		}
		h.settled()
	}
	h.judged()
}

// trapped: the calculators stop in mid-answer.
func trapped(h hand, address string) {
	h.load(address)
	h.do(`localStorage.clear()`)
	h.load(address)
	h.put("radius", "0.05 mm")
	h.settled()
	h.do(`self.trap = true`)
	h.put("radius", "0.4 mm")
	h.wait(h.el() + `.querySelector('[data-slot="refused"]').textContent.startsWith("The calculator stopped and was started again: ")`)
	if got := h.now(); !strings.Contains(got.Band, "No answer for what stands in the fields") {
		h.t.Errorf("after a trap the band is %s", got.Band)
	}
	h.judged()
	h.put("radius", "0.3 mm")
	h.wait(h.el() + `.dataset.state === undefined`)
	h.settled()
	h.judged()
}

// carriedOver: what the quick form was told goes into the job, whose published
// answer is gone with it.
func carriedOver(h hand, address string) {
	h.load(address)
	h.do(`localStorage.clear()`)
	h.load(address)
	h.put("radius", "0.06 mm")
	h.settled()
	h.put("thickness", "12 mm")
	h.push(`[data-field="material"] [data-pick="carbide"]`)
	h.settled()
	h.do(`document.querySelector("details.grow > summary").click()`)
	job := h
	job.id = "job"
	job.wait(job.el() + `.querySelector('input[name="radius"]').value === "0.06 mm"`)
	job.wait(job.el() + `.dataset.state === undefined`)
	if got := job.settled(); got.Fields["radius"] != "0.06 mm" || got.Fields["material"] != "carbide" {
		h.t.Errorf("carried over is %v", got.Fields)
	}
	h.judged()
}

// heldBack: a long answer beside the page. Stop stays while work goes on, says
// what is true, and the link of the fields can be had meanwhile. Nothing of it
// runs on the page's own thread.
func heldBack(h hand, address string) {
	h.id = "job"
	h.load(address)
	h.do(`localStorage.clear()`)
	h.load(address)
	h.settled()
	h.do(`self.hold = true`)
	h.put("radius", "0.07 mm")
	const stop = `.querySelector("[data-stop]")`
	h.wait(`!` + h.el() + stop + `.hidden && self.held === 1`)
	h.push(`[data-field="material"] [data-pick="carbide"]`)
	h.wait(`self.held === 2`) // the first was given up and another worker asked
	h.do(`self.copied = ""`)
	h.push(`[data-job="link"]`)
	h.wait(`self.copied.includes("radius=0.07%20mm") && self.copied.includes("material=carbide")`)
	if got := h.text(h.el() + stop + `.hidden + " " + ` + h.el() + stop + `.textContent + " " + ` + h.el() + `.dataset.state`); got != "false Stop asking" {
		h.t.Errorf("with the newer question at work the key to stop is %s", got)
	}
	const echo = `getComputedStyle(document.querySelector('[data-field="radius"] .echo')).visibility`
	if got := h.text(echo); got != "hidden" {
		h.t.Errorf("what was understood of the former radius is %s", got)
	}
	h.push(`[data-job="print"]`)
	h.told("Nothing was printed: there is no sheet yet for what stands in the fields.")
	h.push("[data-stop]")
	h.wait(h.el() + `.querySelector(".headline").textContent === "Stopped"`)
	if got := h.text(h.el() + `.querySelector(".band").textContent + ` + h.el() + `.querySelector('[data-slot="refused"]').textContent + ` + h.el() + `.querySelector('[data-slot="say"]').textContent`); strings.Contains(got, "cannot run") || strings.Contains(got, "default inputs") || strings.Count(got, "No answer for what stands in the fields.") != 2 {
		h.t.Errorf("after Stop the page says %q", got)
	}
	if got := h.text(echo); got != "hidden" {
		h.t.Errorf("after Stop what was understood of the former radius is %s", got)
	}
	h.do(`self.hold = false`)
	h.push("[data-stop]")
	h.wait(h.el() + `.dataset.state === undefined`)
	h.settled()
	if got := h.text(h.el() + stop + `.hidden + " " + self.own + " " + ` + echo); got != "true 0 visible" {
		h.t.Errorf("afterwards the key to stop is hidden, answers worked out on the page's own thread, what was understood: %s, want true 0 visible", got)
	}
	h.put("radius", "abc")
	h.wait(h.el() + `.dataset.state === "none"`)
	h.push(`[data-job="link"]`)
	h.told("Nothing was copied: a link holds what was read, and a field is refused.")
	h.judged()
}

// TestVerdictsDiffer: Yes, No and Only if differ in sign and edge where there is
// no colour: the styles that draw them are not alike, on screen and on paper.
func TestVerdictsDiffer(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Open("file://" + dir + "/calculators/corner.html"); err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	for _, class := range []string{"yes", "no", "only-if", "waiting", "plain"} {
		var edge, sign string
		if err := b.Eval(fmt.Sprintf(`(h => { h.className = "headline %s"; const s = getComputedStyle(h.closest(".band")); return s.borderLeftStyle + " " + s.borderLeftWidth; })(document.querySelector(".headline"))`, class), &edge); err != nil {
			t.Fatal(err)
		}
		if err := b.Eval(`(h => ["::before", "::after"].map(p => { const s = getComputedStyle(h, p); return s.content === "none" ? "" : s.content + s.width + s.borderBottomWidth + s.transform; }).join("|"))(document.querySelector(".headline"))`, &sign); err != nil {
			t.Fatal(err)
		}
		for other, was := range seen {
			if was == edge+sign || strings.Split(was, "\n")[0] == edge {
				t.Errorf("%s and %s have the same edge or sign: %s", class, other, edge)
			}
		}
		seen[class] = edge + "\n" + sign
		if marked := sign != "|"; marked != (class == "yes" || class == "no" || class == "only-if") {
			t.Errorf("%s has the sign %q", class, sign)
		}
		_ = b.Screenshot(filepath.Join(shots(t), "verdict-"+class+".png"))
	}
}
