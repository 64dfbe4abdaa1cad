package spell

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	fields := []string{"radius", "angle", "wire", "gap", "rough-gap", "left", "clearance", "ra", "rz", "Conductivity"}
	tests := []struct {
		name, want string
	}{
		{"raduis", "radius"}, // swapped
		{"radus", "radius"},  // left out
		{"raddius", "radius"},
		{"ridius", "radius"},
		{"Radius", "radius"},
		{"conductivity", "Conductivity"},
		{"condutcivty", "Conductivity"},
		{"rough_gap", "rough-gap"},
		{"wier", "wire"},
		{"gpa", "gap"},
		{"gag", "gap"},
		{"rx", "ra"}, // as near as rz: the first by name
		{"material", ""},
		{"x", ""},
		{"", ""},
		{strings.Repeat("radius", 1000), ""},
		{"wxyz", ""},
	}
	for _, tt := range tests {
		got, ok := Nearest(tt.name, fields)
		if got != tt.want || ok != (tt.want != "") {
			t.Errorf("Nearest(%q) = %q, %v; want %q", tt.name, got, ok, tt.want)
		}
	}
	if got, ok := Nearest("a", nil); ok {
		t.Errorf("found %q among nothing", got)
	}
	if a, _ := Nearest("rx", []string{"rz", "ra"}); a != "ra" {
		t.Errorf("the order of the names decides: %q", a)
	}
}

// Pairs whose distance is widely printed: kitten and sitting (3) in texts on the Levenshtein distance,
// ca and abc (3 when each letter takes part in one slip at most) in texts on Damerau's; from memory,
// place not seen.
func TestDistance(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"same", "same", 0}, {"abcd", "badc", 2},
	} {
		if d := distance([]rune(tt.a), []rune(tt.b)); d != tt.want {
			t.Errorf("%s, %s: %d, want %d", tt.a, tt.b, d, tt.want)
		}
		if d := distance([]rune(tt.b), []rune(tt.a)); d != tt.want {
			t.Errorf("%s, %s: %d, want %d", tt.b, tt.a, d, tt.want)
		}
	}
}
