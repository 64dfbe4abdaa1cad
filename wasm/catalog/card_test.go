//go:build !wasip1

package catalog

import (
	"slices"
	"strings"
	"testing"

	"kerfbook/wasm/book"
)

// TestJobCardThreading: whether a machine threads itself is a word of its card and
// nothing else of it. A card that lacks the word, as in a folder made before the
// column was, is asked about.
func TestJobCardThreading(t *testing.T) {
	const head = "machine,name,dielectrics,wire_from_mm,wire_to_mm,hole_mm,height_mm,"
	card := "own,Own,water,0.1,0.3,0.5,250,"
	for _, c := range []struct{ columns, cells, threading, ask string }{
		{"threading,remark,provenance", "alone,never threaded by hand,invented", "The machine threads itself", ""},
		{"threading,remark,provenance", "hand,threads without help,invented", "By hand, with a clean, straight tip", ""},
		{"remark,provenance", "threads itself,invented", "By hand, with a clean, straight tip", "Does Own thread the wire itself? Its card does not say (column threading: alone or hand), so the sheet counts on a hand."},
	} {
		b, _, err := readBook(t).Overlay([]book.File{{Name: "data/machines.csv", Text: head + c.columns + "\n" + card + c.cells + "\n"}})
		if err != nil {
			t.Fatal(err)
		}
		set, err := New(b)
		if err != nil {
			t.Fatal(err)
		}
		a := sheetOf(t, set, b, map[string]string{"machine": "own"})
		if l, _ := a.Sheet.Line("threading"); l.What != c.threading {
			t.Errorf("%s: threading is %q, want %q", c.cells, l.What, c.threading)
		}
		asks := slices.ContainsFunc(a.Sheet.Open, func(q string) bool { return strings.Contains(q, "thread the wire itself") })
		if asks != (c.ask != "") || asks && !slices.Contains(a.Sheet.Open, c.ask) {
			t.Errorf("%s: asks %q, want %q", c.cells, a.Sheet.Open, c.ask)
		}
	}
	b, _, err := readBook(t).Overlay([]book.File{{Name: "data/machines.csv", Text: head + "threading,provenance\n" + card + "alonee,invented\n"}})
	if err != nil {
		t.Fatal(err)
	}
	set, _ := New(b)
	const want = `data/machines.csv:2:31: threading is alone or hand, or it is empty, not "alonee"; did you mean alone?`
	if got := set.Faults(b).Error(); got != want {
		t.Errorf("says  %s\nwants %s", got, want)
	}
}
