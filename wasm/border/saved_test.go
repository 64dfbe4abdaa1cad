package border

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// keeper is a desk with one invented calculator that has an older field name.
func keeper(t *testing.T) *Desk {
	t.Helper()
	d := &Desk{Calculators: func(b *book.Book) (*calc.Set, error) {
		return calc.NewSet(b, &calc.Calculator{ID: "twice", Title: "Twice", Question: "How much?", Summary: "Twice it.", Build: func(f *calc.Form, b *book.Book) calc.Run {
			var size, out unit.Length
			var text string
			calc.Ask(f, &size, "size: Size\nis 1 mm\nkeys mm thou; thou\nmax 100 mm: the bench ends there").Aliases = []string{"length"}
			calc.AskText(f, &text, "drawing: Drawing")
			calc.Tell(f, &out, "out: Out")
			return calc.Run{Point: func(*calc.Point) { out = 2 * size }, Say: func(r *calc.Result, a *calc.Answer) { a.Headline = r.Text("{out}") }}
		}})
	}}
	if reply := d.Ask(Encode([]Pair{{"book", ""}, {"book", ""}})); !strings.HasPrefix(reply, "ok") {
		t.Fatal(reply)
	}
	return d
}

// TestSaveAndOpen: what is saved opens as the same job; a refused field, lines
// that are not known, and a drawing come through whole.
func TestSaveAndOpen(t *testing.T) {
	d := keeper(t)
	for _, c := range []struct {
		name  string
		typed []Pair
		saved string
		link  string // "-" for none: it holds what was read
		told  string
	}{
		{"a job", []Pair{{"in.size", "3 thou"}}, "kerfbook-job\t1\ncalculator\ttwice\nunits\tmetric\nedition\tabc\nin.size\t3 thou\n", "size=3%20thou", ""},
		{"nothing typed", nil, "kerfbook-job\t1\ncalculator\ttwice\nunits\tmetric\nedition\tabc\n", "", ""},
		{"a refused field", []Pair{{"in.size", "half a hand"}}, "kerfbook-job\t1\ncalculator\ttwice\nunits\tmetric\nedition\tabc\nin.size\thalf a hand\n", "-", ""},
		{"a drawing", []Pair{{"in.drawing", "N10\tG01\nX1."}}, "kerfbook-job\t1\ncalculator\ttwice\nunits\tmetric\nedition\tabc\nin.drawing\tN10\\tG01\\nX1.\n", "drawing.digest=38788c39e75cbffe", ""},
		{"lines of another handbook", []Pair{{"keep.in.colour", "red"}, {"keep.note", "Tuesday"}}, "kerfbook-job\t1\ncalculator\ttwice\nunits\tmetric\nedition\tabc\nin.colour\tred\nnote\tTuesday\n", "",
			"The line \"note\" is not known here; it is kept and not used.\nThere is no field \"colour\" here; its value \"red\" is kept and not used."},
	} {
		reply := Decode(d.Ask(Encode(append([]Pair{{"save", ""}, {"calculator", "twice"}, {"edition", "abc"}}, c.typed...))))
		want := []Pair{{"ok", "twice"}, {"saved", c.saved}}
		if c.link != "-" {
			want = append(want, Pair{"link", c.link})
		}
		if !slices.Equal(reply, want) {
			t.Errorf("%s: %q", c.name, reply)
			continue
		}
		opened := Decode(d.Ask("open\t\n" + c.saved))
		if opened[3].Name != "told" || opened[3].Value != c.told {
			t.Errorf("%s: told %q", c.name, opened)
		}
		for _, p := range c.typed {
			found := false
			for _, o := range opened {
				found = found || o == p
			}
			if !found {
				t.Errorf("%s: %v is lost: %v", c.name, p, opened)
			}
		}
	}
	opened := d.Ask("open\t\nkerfbook-job\t1\ncalculator\ttwice\nunits\tinch\nin.length\t2 mm\n")
	if want := "ok\ttwice\ncalculator\ttwice\nunits\tinch\ntold\tThe field \"length\" is called size today.\nin.size\t2 mm\n"; opened != want {
		t.Errorf("an older name:\n got %q\nwant %q", opened, want)
	}
	for request, want := range map[string]string{
		"open\t\n": "error\tthis is no saved job: the name kerfbook-job with its version is missing\n",
		"open\t\nkerfbook-job\t7\ncalculator\ttwice\n":  "error\tit was written by a newer handbook: it has version 7, this kerfbook reads version 1\n",
		"open\t\nkerfbook-job\t1\ncalculator\tthrice\n": "error\tit is of the calculator \"thrice\", which this handbook does not have\n",
		"save\t\ncalculator\tthrice\n":                  "error\tthere is no calculator thrice\n",
	} {
		if got := d.Ask(request); got != want {
			t.Errorf("%q:\n got %q\nwant %q", request, got, want)
		}
	}
}

// FuzzOpen: no saved text makes the desk fail, and what it opens it saves whole.
func FuzzOpen(f *testing.F) {
	f.Add("kerfbook-job\t1\ncalculator\ttwice\nin.size\t3 thou\nnote\tx\n")
	f.Add("kerfbook-job\t1\ncalculator\ttwice\nin.length\t\\\\<script>\n")
	f.Fuzz(func(t *testing.T, text string) {
		d := keeper(t)
		opened := Decode(d.Ask("open\t\n" + text))
		if len(opened) == 0 || opened[0].Name == "error" {
			return
		}
		request := []Pair{{"save", ""}, {"calculator", "twice"}}
		inputs := map[string]string{}
		for _, p := range opened {
			if strings.HasPrefix(p.Name, "in.") || strings.HasPrefix(p.Name, "keep.") {
				request = append(request, p)
				inputs[strings.TrimPrefix(p.Name, "keep.")] = p.Value
			}
		}
		saved := Decode(d.Ask(Encode(request)))
		if len(saved) < 2 {
			t.Fatalf("%q does not save: %q", text, saved)
		}
		again, err := ReadSaved(Decode(saved[1].Value))
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for _, p := range again.Unknown {
			if inputs[p.Name] != p.Value {
				t.Errorf("%q: %v came from nowhere: %v", text, p, fmt.Sprint(inputs))
			}
		}
	})
}
