package browse

import (
	"path/filepath"
	"testing"
)

// TestWords: in the folder a word is explained where it stands, by a mouse and by the
// keyboard, with the sheets that explain it; a second tap takes it away; the glossary
// is narrowed by what is typed and says how much is left.
func TestWords(t *testing.T) {
	dir := publish(t)
	b, err := Chromium(Options{NoStorage: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	p := sheetPage{t, b}
	if err := b.Size(390, 844); err != nil {
		t.Fatal(err)
	}
	if err := b.Open("file://" + dir + "/corners/slot.html"); err != nil {
		t.Fatal(err)
	}
	if err := Ready(b); err != nil {
		t.Fatal(err)
	}
	p.do(`(a => { self.word = a; a.focus(); })([...document.querySelectorAll(".term")].find(a => a.textContent === "kerf"))`)
	if err := b.Press("Enter"); err != nil {
		t.Fatal(err)
	}
	p.wait(`document.querySelector(".word:popover-open") !== null && document.activeElement.matches(".word")`)
	if got := p.text(`document.querySelector(".word").innerText`); got == "" || p.text(`document.querySelector(".word-name").textContent`) != "kerf mm" {
		t.Errorf("the word is explained as %q", got)
	}
	if got := p.text(`(r => [r.left >= 0, r.right <= innerWidth, r.top >= 0, r.bottom <= document.querySelector(".bar").getBoundingClientRect().top, location.hash].join())(document.querySelector(".word").getBoundingClientRect())`); got != "true,true,true,true," {
		t.Errorf("the sheet of the word leaves the window, or the page moved on: %s", got)
	}
	_ = b.Screenshot(filepath.Join(shots(t), "word.png"))
	// Its links lead from this page, not from the root.
	if got := p.text(`[...document.querySelectorAll(".word a")].map(a => new URL(a.href).pathname.startsWith(` + "`" + dir + "/`" + `) && !a.href.includes("/corners/corners/")).join()`); got != "true,true" && got != "true,true,true" {
		t.Errorf("the links of the word: %s", got)
	}
	if err := b.Press("Escape"); err != nil {
		t.Fatal(err)
	}
	p.wait(`document.querySelector(".word:popover-open") === null && document.activeElement === self.word`)

	if err := b.Open("file://" + dir + "/glossary.html"); err != nil {
		t.Fatal(err)
	}
	if err := Ready(b); err != nil {
		t.Fatal(err)
	}
	if err := b.Type(".kind-glossary .filter input", "spark gap"); err != nil {
		t.Fatal(err)
	}
	p.wait(`[...document.querySelectorAll(".glossary dt")].filter(e => e.offsetParent).some(e => e.textContent.startsWith("spark gap")) && ![...document.querySelectorAll(".glossary dt")].filter(e => e.offsetParent).some(e => e.textContent.startsWith("anode"))`)
	if got := p.text(`[...document.querySelectorAll(".glossary dt")].filter(e => e.offsetParent).length + " words" === document.querySelector(".found").textContent ? "as many" : document.querySelector(".found").textContent`); got != "as many" && got != "1 word" {
		t.Errorf("the filter says %q", got)
	}
	if err := b.Type(".kind-glossary .filter input", "zzz"); err != nil {
		t.Fatal(err)
	}
	p.wait(`document.querySelector(".found").textContent === "Nothing found." && ![...document.querySelectorAll(".letter")].some(e => e.offsetParent)`)
}
