package browse

import (
	"slices"
	"testing"
)

// BenchmarkKeystroke measures one keystroke to its answer in the page, a hundred
// times, after fifty that warm up.
func BenchmarkKeystroke(b *testing.B) {
	var all []float64
	for b.Loop() {
		times, _ := keystrokes(b)
		all = append(all, times[50:150]...)
	}
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], "median-ms")
	b.ReportMetric(all[len(all)*98/100], "99th-of-100-ms")
}

// TestKeystroke: four hundred answers leave no memory behind and never stop the
// calculators.
func TestKeystroke(t *testing.T) {
	_, kept := keystrokes(t)
	t.Logf("calculators started and megabytes each keeps: %v", kept)
	if len(kept) != 1 || kept[0] > 96 {
		t.Errorf("400 answers want one start and less than 96 MB, not %v", kept)
	}
}

// keystrokes presses four hundred keys, each when the one before is answered, and
// gives the milliseconds of each and the megabytes of each instance.
func keystrokes(t testing.TB) (times, kept []float64) {
	dir := publish(t)
	b, err := Chromium(Options{Before: `{
		const made = WebAssembly.instantiate;
		window.made = [];
		WebAssembly.instantiate = async (...args) => {
			const i = await made(...args);
			window.made.push(i.exports.memory);
			return i;
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
	if err := b.Eval(`(() => {
		window.times = [];
		const i = document.querySelector('input[name="wire"]'), band = document.querySelector('[data-slot="answer"]');
		let n = 0, t0 = 0;
		new MutationObserver(() => { times.push(performance.now() - t0); if (n < 400) next(); }).observe(band, { childList: true });
		const next = () => { n++; i.value = "0." + (100 + n % 150) + " mm"; requestAnimationFrame(() => setTimeout(() => { t0 = performance.now(); i.dispatchEvent(new Event("input", { bubbles: true })); })); };
		next();
		return 1;
	})()`, nil); err != nil {
		t.Fatal(err)
	}
	if err := Wait(b, `times.length >= 400`); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(`times`, &times); err != nil {
		t.Fatal(err)
	}
	if err := b.Eval(`window.made.map(m => m.buffer.byteLength / 1048576)`, &kept); err != nil {
		t.Fatal(err)
	}
	return times, kept
}
