package border

import "testing"

// FuzzLines: what is encoded reads back the same, whatever it holds.
func FuzzLines(f *testing.F) {
	f.Add("name", "value")
	f.Add("in.radius", "3 thou\tand\nmore\\n")
	f.Add("x", `\t`)
	f.Fuzz(func(t *testing.T, name, value string) {
		if name == "" {
			return
		}
		got := Decode(Encode([]Pair{{name, value}, {"last", ""}}))
		if len(got) != 2 || got[0].Name != name || got[0].Value != value || got[1].Name != "last" {
			t.Errorf("%q %q came back as %q", name, value, got)
		}
	})
}

func TestDecodeOdd(t *testing.T) {
	for _, c := range []struct {
		text string
		want []Pair
	}{
		{"", nil},
		{"\n\n", nil},
		{"verb", []Pair{{"verb", ""}}},
		{"a\tb\tc", []Pair{{"a", "b\tc"}}},
		{`a	\x\`, []Pair{{"a", `\x\`}}},
	} {
		got := Decode(c.text)
		if len(got) != len(c.want) {
			t.Errorf("%q: %v", c.text, got)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%q: %v, want %v", c.text, got, c.want)
			}
		}
	}
}

func TestDeskWithoutBook(t *testing.T) {
	var d Desk
	for _, c := range []struct{ ask, want string }{
		{"", "error\tthe request is empty\n"},
		{"\xff", "error\tthe request is not UTF-8 text\n"},
		{"dance\n", "error\tthere is no verb dance\n"},
		{"answer\ncalculator\tcorner\n", "error\tno book was given yet\n"},
		{"book\n", "error\tthe verb book wants a line book\n"},
		{"book\t\nbook\tnonsense\n", "error\tthe book cannot be read: book:1:1: a table's line \"=== name.csv\" is wanted here\n"},
	} {
		if got := d.Ask(c.ask); got != c.want {
			t.Errorf("%q answered %q, want %q", c.ask, got, c.want)
		}
	}
}
