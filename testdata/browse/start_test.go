package browse

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// hasty runs before the page's own script. It types as soon as the page's script
// has set up the form, and notes when the answer to what was typed stands, in
// milliseconds since the page was asked for.
const hasty = `(() => {
	const see = new MutationObserver(() => {
		const c = document.querySelector('.sheet.shown [data-calculator="corner"], html:not(.one-file) [data-calculator="corner"]');
		const i = c?.querySelector('input[name="radius"]');
		if (!i || document.readyState === "loading" || !document.documentElement.classList.contains("script")) return;
		if (self.typed === undefined) {
			self.typed = performance.now();
			// The page hears what is typed once its form is set up.
			setTimeout(function type() {
				i.value = "0.123 mm";
				i.dispatchEvent(new Event("input", { bubbles: true }));
				if (c.dataset.state === undefined && !self.stood) setTimeout(type);
				else self.heard = performance.now();
			});
		}
		if (self.heard !== undefined && self.stood === undefined && c.dataset.state === undefined && c.querySelector('[data-slot="band"]').textContent.includes("0.123 mm")) self.stood = performance.now();
	});
	see.observe(document, { subtree: true, childList: true, attributes: true });
})();`

// yardstick is the least that a page opened from disk does for an answer: it
// decodes, decompresses, compiles and starts the calculators and gives them
// their tables. It is written apart from the page's own script.
const yardstick = `(async () => {
	const t0 = performance.now();
	const text = atob(self.kerfbookWasm), bytes = new Uint8Array(text.length);
	for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
	const plain = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
	const t1 = performance.now();
	const code = await WebAssembly.compile(plain);
	const t2 = performance.now();
	let memory;
	const view = () => new DataView(memory.buffer), put = (...at) => { for (const a of at) view().setUint32(a, 0, true); return 0; };
	const setting = new TextEncoder().encode("GOGC=400\0"); // as the page's own script sets it
	const calls = { args_sizes_get: put, args_get: () => 0, sched_yield: () => 0, fd_prestat_get: () => 8,
		environ_sizes_get: (count, size) => { view().setUint32(count, 1, true); view().setUint32(size, setting.length, true); return 0; },
		environ_get: (list, text) => { view().setUint32(list, text, true); new Uint8Array(memory.buffer).set(setting, text); return 0; },
		clock_time_get: (a, b, out) => { view().setBigUint64(out, BigInt(Math.round(performance.now() * 1e6)), true); return 0; },
		random_get: (at, n) => { crypto.getRandomValues(new Uint8Array(memory.buffer, at, n)); return 0; } };
	const run = (await WebAssembly.instantiate(code, { wasi_snapshot_preview1: new Proxy(calls, { get: (all, name) => all[name] ?? (() => 52) }) })).exports;
	memory = run.memory;
	run._initialize();
	const t3 = performance.now();
	const book = new TextEncoder().encode("book\t\nbook\t" + self.kerfbookBook.replace(/[\\\t\n]/g, c => ({ "\\": "\\\\", "\t": "\\t", "\n": "\\n" })[c]) + "\n");
	const room = run.buf(book.length); // first: it may move the memory
	new Uint8Array(memory.buffer).set(book, room);
	const n = run.ask(book.length);
	const said = new TextDecoder().decode(new Uint8Array(memory.buffer, run.buf(0), n).slice());
	const t4 = performance.now();
	self.yard = { said, Unpack: t1 - t0, Compile: t2 - t1, Start: t3 - t2, Tables: t4 - t3, All: t4 - t0 };
})().catch(why => self.yard = { said: String(why) });`

// BenchmarkStart measures how long a page opened from disk needs to its first
// answer to a typed number, in the folder and in the one file, and holds both
// against the yardstick, each taken in turn in the same browser.
func BenchmarkStart(b *testing.B) {
	dir, err := startable()
	if err != nil {
		b.Fatal(err)
	}
	web, err := Chromium(Options{Before: hasty})
	if err != nil {
		b.Fatal(err)
	}
	defer web.Close()
	var yard, folder, one, unpack, compile, start, tables []float64
	for b.Loop() {
		for i := range 10 {
			y, err := yardsticks(web, dir)
			if err != nil {
				b.Fatal(err)
			}
			f, err := started(web, "file://"+dir+"/index.html")
			if err != nil {
				b.Fatal(err)
			}
			o, err := started(web, "file://"+dir+"/handbook-one-file.html")
			if err != nil {
				b.Fatal(err)
			}
			if i == 0 {
				continue // the browser itself warms up
			}
			yard, folder, one = append(yard, y.All), append(folder, f), append(one, o)
			unpack, compile, start, tables = append(unpack, y.Unpack), append(compile, y.Compile), append(start, y.Start), append(tables, y.Tables)
		}
	}
	b.ReportMetric(middle(yard), "yardstick-ms")
	b.ReportMetric(middle(unpack), "unpack-ms")
	b.ReportMetric(middle(compile), "compile-ms")
	b.ReportMetric(middle(start), "init-ms")
	b.ReportMetric(middle(tables), "tables-ms")
	b.ReportMetric(middle(folder), "folder-ms")
	b.ReportMetric(middle(one), "one-file-ms")
	b.ReportMetric(middle(folder)/middle(yard), "folder-ratio")
	b.ReportMetric(middle(one)/middle(yard), "one-file-ratio")
	b.ReportMetric(0, "ns/op")
}

func middle(of []float64) float64 {
	of = slices.Sorted(slices.Values(of))
	return of[len(of)/2]
}

// startable is the handbook with a page beside it that measures the yardstick.
func startable() (string, error) {
	dir, err := handbook()
	if err != nil {
		return "", err
	}
	scripts := ""
	for _, stem := range []string{"calc-", "book-"} {
		names, err := filepath.Glob(filepath.Join(dir, stem+"*.js"))
		if err != nil || len(names) != 1 {
			return "", fmt.Errorf("the script %s of the handbook: %v %v", stem, names, err)
		}
		scripts += `<script src="` + filepath.Base(names[0]) + `"></script>`
	}
	page := `<!doctype html><html lang="en"><meta charset="utf-8"><title>Yardstick</title>` + scripts + "<script>" + yardstick + "</script></html>"
	return dir, os.WriteFile(filepath.Join(dir, "yardstick.html"), []byte(page), 0o644)
}

type yards struct {
	Said                                string
	Unpack, Compile, Start, Tables, All float64
}

func yardsticks(web Browser, dir string) (yards, error) {
	var y yards
	if err := web.Open("file://" + dir + "/yardstick.html"); err != nil {
		return y, err
	}
	if err := Wait(web, `self.yard !== undefined`); err != nil {
		return y, fmt.Errorf("the yardstick: %w %v", err, web.Console())
	}
	var raw json.RawMessage
	if err := web.Eval(`self.yard`, &raw); err != nil {
		return y, err
	}
	if err := json.Unmarshal(raw, &y); err != nil {
		return y, err
	}
	if !strings.HasPrefix(y.Said, "ok") {
		return y, fmt.Errorf("the calculators said to their tables: %.200s", y.Said)
	}
	return y, nil
}

// started opens a page, types and gives the milliseconds until the answer stood.
func started(web Browser, address string) (ms float64, err error) {
	if err := web.Open(address); err != nil {
		return 0, err
	}
	if err := Wait(web, `self.stood !== undefined`); err != nil {
		return 0, fmt.Errorf("%s: %w %v", address, err, web.Console())
	}
	err = web.Eval(`self.stood`, &ms)
	return ms, err
}
