package panel

import "testing"

// TestWorking: letters are slanted, words, functions and units are not; a minus is
// U+2212 (ISO 80000-2:2019 writes variables slanted and numbers, functions and units
// upright; from memory, place not seen) and a dash in a word stays a dash.
func TestWorking(t *testing.T) {
	for _, c := range []struct {
		text    string
		letters bool
		want    string
	}{
		{"g = R - d/2", true, "<i>g</i> = <i>R</i> − <i>d</i>/2"},
		{"0.15 mm - 0.25 mm / 2", false, "0.15 mm − 0.25 mm / 2"},
		{"-0.009 µm", false, "−0.009 µm"},
		{"10^-3 and 1.5e-06", false, "10^−3 and 1.5e-06"},
		{"cut-off + root-sum - a few", true, "cut-off + root-sum − a few"},
		{"a tan τ", true, "<i>a</i> tan <i>τ</i>"},
		{"each limit a is u = a / √3", true, "each limit <i>a</i> is <i>u</i> = <i>a</i> / √3"},
		{"by a disc of the offset", true, "by a disc of the offset"},
		{"d_b / cos φ", true, "<i>d</i><sub>b</sub> / cos <i>φ</i>"},
		{"π d² / 4", true, "π <i>d</i>² / 4"},
		{"-(r - √(r² - f²))", true, "−(<i>r</i> − √(<i>r</i>² − <i>f</i>²))"},
		{"A < B & C_1", true, "<i>A</i> &lt; <i>B</i> &amp; <i>C</i>_1"},
		{"10 N / 2 s", false, "10 N / 2 s"},
	} {
		if got := Working(c.text, c.letters); got != c.want {
			t.Errorf("%q is set as\n%s\nwant\n%s", c.text, got, c.want)
		}
	}
}
