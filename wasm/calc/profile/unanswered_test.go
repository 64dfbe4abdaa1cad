package profile

import (
	"strings"
	"testing"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/geom"
	"kerfbook/wasm/offset"
)

// TestUnansweredIsNamed: a wire or a pass that has no answer stands in its table and
// in the notes with the reason, and so does a search that was cut short.
func TestUnansweredIsNamed(t *testing.T) {
	why := &offset.Fault{Text: "the path could not be closed at this reach", At: geom.Point{X: 1, Y: 2.5}}
	some := &offset.Result{}
	in := &form{
		result: some, opening: true, within: 1.6, finds: offset.Finds{Within: 0.2},
		wires: []tried{{d: 0.1, name: "0.1", r: some}, {d: 0.25, name: "0.25", why: why.Error()}},
		plan:  []tried{{name: "1", reach: 0.2, r: some, feed: 6}, {name: "2", reach: 0.15, why: why.Error()}},
	}
	var a calc.Answer
	r := &calc.Result{}
	in.unanswered(r, &a)
	in.wireTable(r, &a)
	in.planTable(r, &a)
	in.files(&a)
	notes := ""
	for _, n := range a.Notes {
		notes += n + "\n"
	}
	for _, want := range []string{
		"No answer for the wire of ⌀ 0.25 mm: the path could not be closed at this reach, at (1, 2.5).",
		"No path for pass 2, offset 0.15 mm: the path could not be closed at this reach, at (1, 2.5).",
		"walls were looked for up to 0.2 mm only", "a wider place for the start may exist",
	} {
		if !strings.Contains(notes, want) {
			t.Errorf("the notes do not say %q:\n%s", want, notes)
		}
	}
	if len(a.Tables) != 2 || len(a.Tables[0].Rows) != 2 || len(a.Tables[1].Rows) != 2 {
		t.Fatalf("%d tables; both are to name both", len(a.Tables))
	}
	if got := a.Tables[0].Rows[1][4].Text; got != "no answer: see the notes" {
		t.Errorf("the wire's row says %q", got)
	}
	if got := a.Tables[1].Rows[1][2].Text; got != "no path: see the notes" {
		t.Errorf("the pass's row says %q", got)
	}
	in.finds.Within, a.Notes = 0, nil
	in.unanswered(r, &a)
	if !strings.Contains(strings.Join(a.Notes, "\n"), "were not looked for") {
		t.Errorf("%v", a.Notes)
	}
}
