package picture

import (
	"os"
	"regexp"
	"slices"
	"testing"

	"kerfbook/wasm/panel"
)

// TestDrawings: no label meets another or a thick line, and a reader who cannot
// see the drawing is told what it shows.
func TestDrawings(t *testing.T) {
	if !slices.IsSorted(Names()) {
		t.Errorf("the names are not in order: %v", Names())
	}
	for _, name := range Names() {
		d, ok := Find(name)
		if !ok {
			t.Fatalf("%s is not found by its own name", name)
		}
		if len(d.Alt) < 40 || d.Title == "" {
			t.Errorf("%s: says too little to one who cannot see it", name)
		}
		for _, c := range panel.Conflicts(d) {
			t.Errorf("%s: %s", name, c)
		}
	}
	if _, ok := Find("no such drawing"); ok {
		t.Error("a drawing is found that nobody drew")
	}
}

// TestWayIsTold: the page on the machine explains every mark of the drawing once,
// and no other. The page is the outside that the drawing is held against.
func TestWayIsTold(t *testing.T) {
	text, err := os.ReadFile("../../../content/handbook/18-machine/index.md")
	if err != nil {
		t.Fatal(err)
	}
	var told, drawn []string
	for _, m := range regexp.MustCompile(`(?m)^\| \*\*([0-9]+|[A-K])\*\* \|`).FindAllSubmatch(text, -1) {
		told = append(told, string(m[1]))
	}
	for _, l := range way().Labels {
		drawn = append(drawn, l.Text)
	}
	slices.Sort(told)
	slices.Sort(drawn)
	if len(told) == 0 || !slices.Equal(told, drawn) {
		t.Errorf("the page explains %v, the drawing marks %v", told, drawn)
	}
}
