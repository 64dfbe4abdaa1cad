package browse

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/catalog"
	"kerfbook/wasm/panel"
	"kerfbook/wasm/unit"
)

// watcher runs before the page's own script. With every mutation and every frame
// it writes down what the bands say and what stands in the fields. It can hold
// back the questions to workers, make the calculators stop in mid-answer, and
// counts the answers that are worked out on the page's own thread.
const watcher = `(() => {
	self.records = [], self.hold = false, self.workers = 0, self.held = 0, self.trap = false, self.own = 0;
	let last = {};
	// Without its style sheet a page is not painted, so no figure stands either.
	const bare = () => getComputedStyle(document.documentElement).getPropertyValue("--void") === "";
	const note = () => {
		if (document.readyState === "loading") return; // half a page; its script has not begun
		for (const c of document.querySelectorAll('[data-calculator="corner"], [data-calculator="job"]')) {
			const slot = c.querySelector('[data-slot="band"]'), fig = c.querySelector('[data-slot="figure"] > *');
			if (!slot) continue;
			const fields = {};
			for (const i of c.querySelectorAll("input[name], textarea[name]")) if (i.value !== (i.closest(".field").dataset.default ?? "")) fields[i.name] = i.value;
			const r = { id: c.dataset.calculator, band: slot.innerHTML, fields, inch: document.documentElement.classList.contains("inch"),
				hidden: fig === null || getComputedStyle(fig).visibility === "hidden" || bare() };
			const text = JSON.stringify(r), key = c.id;
			if (last[key] !== text) self.records.push(r);
			last[key] = text;
		}
	};
	new MutationObserver(note).observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
	self.frames = 0;
	const frame = () => { note(); self.frames++; requestAnimationFrame(frame); };
	requestAnimationFrame(frame);
	const Made = self.Worker;
	self.Worker = class extends Made {
		constructor(...a) { super(...a); self.workers++; }
		postMessage(m) {
			if (self.hold && m.lines?.[0][0] === "answer") { self.held++; return; }
			super.postMessage(m);
		}
	};
	const start = WebAssembly.instantiate;
	WebAssembly.instantiate = async (...args) => {
		const e = (await start.apply(WebAssembly, args)).exports;
		return { exports: { memory: e.memory, buf: e.buf, _initialize: e._initialize, ask: (n) => {
			self.own++;
			if (self.trap) { self.trap = false; throw new WebAssembly.RuntimeError("unreachable"); }
			return e.ask(n);
		} } };
	};
	Object.defineProperty(navigator, "clipboard", { value: { writeText: async t => { self.copied = t; } } });
	self.print = () => { self.printed = true; };
})();`

// watched is the handbook with the watcher before its script, as a folder and as
// the one file.
var watched = sync.OnceValues(func() (string, error) {
	from, err := handbook()
	if err != nil {
		return "", err
	}
	base, err := editions()
	if err != nil {
		return "", err
	}
	dir := filepath.Join(base, "watched")
	if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(dir, "watcher.js"), []byte(watcher), 0o644); err != nil {
		return "", err
	}
	for name, script := range map[string]string{"index.html": `<script src="watcher.js"></script>`, "calculators/corner.html": `<script src="../watcher.js"></script>`,
		"calculators/job.html": `<script src="../watcher.js"></script>`, "handbook-one-file.html": "<script>" + watcher + "</script>"} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		text, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		head, rest, ok := strings.Cut(string(text), `<meta charset="utf-8">`)
		if !ok {
			return "", fmt.Errorf("%s has no place for the watcher", name)
		}
		if err := os.WriteFile(file, []byte(head+`<meta charset="utf-8">`+script+rest), 0o644); err != nil {
			return "", err
		}
	}
	return dir, nil
})

// record is what one calculator showed at one moment.
type record struct {
	ID, Band     string
	Fields       map[string]string
	Inch, Hidden bool
}

func (r record) key() string {
	text, _ := json.Marshal([]any{r.ID, r.Fields, r.Inch})
	return string(text)
}

// truth is what the calculators themselves say, run natively.
type truth struct {
	set  *calc.Set
	book *book.Book
	said map[string][2]string
}

func newTruth(t *testing.T, dir string) *truth {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "book-*.txt"))
	if err != nil || len(names) != 1 {
		t.Fatalf("the book: %v %v", names, err)
	}
	text, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	b, err := book.Parse(string(text))
	if err != nil {
		t.Fatal(err)
	}
	set, err := catalog.New(b)
	if err != nil {
		t.Fatal(err)
	}
	return &truth{set, b, map[string][2]string{}}
}

// bands are what a band may hold for these fields, as a browser writes it out:
// the answer, and that for a link, where a number without its unit is refused.
func (u *truth) bands(r record) [2]string {
	if said, ok := u.said[r.key()]; ok {
		return said
	}
	c, _ := u.set.Find(r.ID)
	sys := unit.Metric
	if r.Inch {
		sys = unit.Inch
	}
	var said [2]string
	for i, strict := range []bool{false, true} {
		for _, s := range panel.Slots(c.Eval(u.book, calc.Input{Values: r.Fields, System: sys, Strict: strict}), sys) {
			if s.Name == "band" {
				said[i] = html.UnescapeString(s.Value)
			}
		}
	}
	u.said[r.key()] = said
	return said
}

// withdrawn reports whether a band claims nothing.
func (r record) withdrawn() bool {
	return strings.Contains(r.Band, `class="headline waiting"`) || strings.Contains(r.Band, `class="headline none"`)
}

// judge fails for every record whose band is an answer to other fields, or
// which shows a figure of other fields. It returns how many answers it saw.
func (u *truth) judge(t *testing.T, records []record) (answers int) {
	t.Helper()
	for _, r := range records {
		switch said := u.bands(r); {
		case r.withdrawn():
			if !r.Hidden {
				t.Errorf("%s %v: the figure stands though the band says %s", r.ID, r.Fields, r.Band)
			}
		case html.UnescapeString(r.Band) != said[0] && html.UnescapeString(r.Band) != said[1]:
			t.Errorf("%s with %v (inch %v) says\n%s\nthe calculators say\n%s", r.ID, r.Fields, r.Inch, r.Band, said[0])
		default:
			answers++
		}
	}
	return answers
}

// hand drives one watched page.
type hand struct {
	sheetPage
	truth *truth
	id    string // the calculator that is watched
}

// el is the calculator under the hand, on the sheet that is shown.
func (h hand) el() string {
	return fmt.Sprintf(`document.querySelector('.sheet.shown [data-calculator="%s"], html:not(.one-file) [data-calculator="%s"]')`, h.id, h.id)
}

func (h hand) load(url string) {
	h.t.Helper()
	if err := h.b.Open(url); err != nil {
		h.t.Fatal(err)
	}
	h.wait(`document.documentElement.classList.contains("script") && ` + h.el() + ` !== null`)
}

func (h hand) wait(condition string) {
	h.t.Helper()
	if err := Wait(h.b, condition); err != nil {
		h.t.Fatalf("%v: %s", err, h.text(h.el()+`?.querySelector(".band").textContent + " | " + [...document.querySelectorAll(".problem")].map(e => e.textContent).join(" | ") + " | " + location.href`))
	}
}

// settled waits until the band stands for the fields, and fails if it is not the
// band that the calculators give.
func (h hand) settled() record {
	h.t.Helper()
	h.wait(h.el() + `.dataset.state !== "asking"`)
	r := h.now()
	if said := h.truth.bands(r); html.UnescapeString(r.Band) != said[0] && html.UnescapeString(r.Band) != said[1] {
		h.t.Errorf("%s with %v ends with\n%s\nthe calculators say\n%s", r.ID, r.Fields, r.Band, said[0])
	}
	return r
}

// now is how the calculator stands at this moment.
func (h hand) now() record {
	h.t.Helper()
	var r record
	if err := h.b.Eval(`(c => ({ID: c.dataset.calculator, Band: c.querySelector('[data-slot="band"]').innerHTML, Inch: document.documentElement.classList.contains("inch"),
		Fields: Object.fromEntries([...c.querySelectorAll("input[name], textarea[name]")].filter(i => i.value !== (i.closest(".field").dataset.default ?? "")).map(i => [i.name, i.value]))}))(`+h.el()+`)`, &r); err != nil {
		h.t.Fatal(err)
	}
	return r
}

// judged looks at everything that the page showed since it was opened.
func (h hand) judged() int {
	h.t.Helper()
	var records []record
	if err := h.b.Eval(`records.splice(0)`, &records); err != nil {
		h.t.Fatal(err)
	}
	return h.truth.judge(h.t, records)
}

// put sets a field as typing does.
func (h hand) put(name, value string) {
	h.t.Helper()
	quoted, _ := json.Marshal(value)
	h.do(fmt.Sprintf(`(i => { i.value = %s; i.dispatchEvent(new Event("input", {bubbles: true})); })(%s.querySelector('[name="%s"]'))`, quoted, h.el(), name))
}

// press clicks a key or a chip.
func (h hand) push(selector string) {
	h.t.Helper()
	h.do(fmt.Sprintf(`%s.querySelector(%q).click()`, h.el(), selector))
}
