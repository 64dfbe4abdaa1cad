package browse

import (
	"fmt"
	"testing"
)

// TestNothingMoves: while somebody types, through texts that cannot be read, that
// are refused and that are answered, the field under the hand and its keys stay where
// they are to the pixel. Below them only a message of more than one line makes itself
// room. What is measured is what the eye sees: the place in the window when a frame
// has been drawn.
func TestNothingMoves(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{NoStorage: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	for _, c := range []struct {
		w, h        int
		page, field string
		texts       []string
	}{
		{390, 844, "index.html", "radius", []string{"0", ".1", " thou", "\b\b\b\b\b\b\b3", "x", "\b mm"}},
		{768, 1024, "calculators/ladder.html", "wire", []string{"0.2", "5 mm", "\b\b\b\b\b\b\b9 mm", "\b\b\b\b0.1 mm"}},
		{390, 844, "calculators/job.html", "radius", []string{"0.0", "5 mm", "\b\b\b\b\b\b\babc", "\b\b\b0.2 mm"}},
	} {
		t.Run(fmt.Sprintf("%s-%s-%d", c.page, c.field, c.w), func(t *testing.T) {
			must := func(err error) {
				t.Helper()
				if err != nil {
					t.Fatal(err)
				}
			}
			must(b.Size(c.w, c.h))
			must(b.Open("file://" + dir + "/" + c.page))
			must(Ready(b))
			const calc = `document.querySelector(".calc")`
			answered := calc + `.dataset.state !== "asking"`
			input := fmt.Sprintf(calc+`.querySelector('input[name=%q]')`, c.field)
			must(Wait(b, calc+`.dataset.state === undefined`))
			must(b.Type(fmt.Sprintf(`.calc input[name=%q]`, c.field), "\b"))
			must(Wait(b, answered))
			must(b.Eval(`(() => {
				const i = `+input+`, field = i.closest(".field");
				const next = [...`+calc+`.querySelectorAll(".field")].filter(f => f.offsetParent && f.compareDocumentPosition(field) & Node.DOCUMENT_POSITION_PRECEDING)[0];
				self.moved = [];
				const all = [["the field", i], ["its keys", field.querySelector(".keys") ?? i], ["the next field", next?.querySelector("input:not([type=hidden]), .chips") ?? i]];
				const echo = field.querySelector(".echo"), room = n => n === 2 ? Math.max(0, echo.offsetHeight - 24) : 0;
				const place = ([, e], n) => e.getBoundingClientRect().top - room(n), at = all.map(place);
				self.watching = true;
				const drawn = new MessageChannel(); // its message comes when the frame is drawn
				drawn.port1.onmessage = () => {
					all.forEach(([name, e], n) => { const d = place([name, e], n) - at[n]; if (Math.abs(d) > 0.01) self.moved.push(name + " by " + d.toFixed(2) + " px at “" + i.value + "”"); });
					if (self.watching) frame();
				};
				const frame = () => requestAnimationFrame(() => drawn.port2.postMessage(0));
				frame();
				return 1;
			})()`, nil))
			for _, text := range c.texts {
				must(b.(*chromium).keys(text))
				must(Wait(b, answered))
				must(b.Eval(`(self.frames = 0, requestAnimationFrame(() => requestAnimationFrame(() => self.frames = 1)), 1)`, nil))
				must(Wait(b, `self.frames`))
			}
			var moved []string
			must(b.Eval(`(self.watching = false, [...new Set(self.moved)])`, &moved))
			for _, m := range moved {
				t.Errorf("moved: %s", m)
			}
		})
	}
}
