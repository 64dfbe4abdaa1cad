package browse

import (
	"fmt"
	"slices"
	"testing"
)

// BenchmarkKeystroke measures one keystroke to its answer in the page, a hundred
// times, after fifty that warm up.
func BenchmarkKeystroke(b *testing.B) {
	var all []float64
	for b.Loop() {
		times, _ := keystrokes(b, 400, nil)
		all = append(all, times[50:150]...)
	}
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "median-ms")
	b.ReportMetric(all[len(all)*98/100], "99th-of-100-ms")
}

// TestKeystroke: a thousand answers leave no memory behind and never stop the
// calculators, and when nobody types nothing is asked.
func TestKeystroke(t *testing.T) {
	_, kept := keystrokes(t, 1000, func(b Browser) {
		if err := Wait(b, `window.rested > 0`); err != nil {
			t.Fatal(err)
		}
		var rested int
		if err := b.Eval(`rested`, &rested); err != nil {
			t.Fatal(err)
		}
		if rested != 1 {
			t.Errorf("when nobody typed, the calculators were asked %d times, want the once in which they tidy up", rested)
		}
	})
	t.Logf("calculators started and megabytes each keeps: %v", kept)
	if len(kept) != 1 || kept[0] > 32 {
		t.Errorf("1,000 answers want one start and at most 32 MB, not %v", kept)
	}
}

// keystrokes presses keys, each when the one before is answered, and gives the
// milliseconds of each and the megabytes of each instance. after looks on.
func keystrokes(t testing.TB, n int, after func(Browser)) (times, kept []float64) {
	dir := publish(t)
	b, err := Chromium(Options{Before: `{
		const made = WebAssembly.instantiate;
		window.made = [], window.asked = 0;
		WebAssembly.instantiate = async (...args) => {
			const e = (await made(...args)).exports;
			window.made.push(e.memory);
			return { exports: { memory: e.memory, buf: e.buf, _initialize: e._initialize, ask: n => { asked++; return e.ask(n); } } };
		};
	}`})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Open("file://" + dir + "/calculators/ladder.html"); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(`input[name="wire"]`, "0.2 mm\t"); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `document.querySelector('[data-field="wire"] .understood').textContent.startsWith("0.2 mm")`); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(fmt.Sprintf(`(() => {
		window.times = [];
		const i = document.querySelector('input[name="wire"]'), band = document.querySelector('[data-slot="answer"]');
		let n = 0, t0 = 0;
		new MutationObserver(() => { times.push(performance.now() - t0); if (n < %d) next(); else done(); }).observe(band, { childList: true });
		const next = () => { n++; i.value = "0." + (100 + n %% 150) + " mm"; requestAnimationFrame(() => setTimeout(() => { t0 = performance.now(); i.dispatchEvent(new Event("input", { bubbles: true })); })); };
		// Frames in which nobody types, after the one question in which it tidies up.
		const done = () => { const was = asked; let idle = 0; (function frame() { if (asked > was) idle++; window.rested = idle > 120 ? asked - was : 0; if (idle <= 120) requestAnimationFrame(frame); })(); };
		next();
		return 1;
	})()`, n), nil); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, fmt.Sprintf(`times.length >= %d`, n)); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(`times`, &times); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(`window.made.map(m => m.buffer.byteLength / 1048576)`, &kept); err != nil {
		t.Fatal(err)
	}
	if after != nil {
		after(b)
	}
	return times, kept
}
