package trial

import (
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestGap: Groover, §26.3, from memory: gaps of 0.020 to 0.050 mm and a wire of
// 0.25 mm leave a kerf of 0.29 to 0.35 mm.
func TestGap(t *testing.T) {
	near.To(t, "gap", float64(Gap(0.29, 0.25)), 0.020, 1e-12)
	near.To(t, "gap", float64(Gap(0.35, 0.25)), 0.050, 1e-12)
}

// TestSigns: a wall cut with the corrected offset comes to size, whatever was
// cut and whichever way it was off. The size is built up from where the wall
// stands, not from the formula.
func TestSigns(t *testing.T) {
	const d, gap, size = 0.25, 0.012, 10
	built := func(offset unit.Length, opening bool) unit.Length { // wire's path plus what its spark reaches
		if opening {
			return 2 * (size/2 - offset + d/2 + gap)
		}
		return 2 * (size/2 + offset - d/2 - gap)
	}
	for _, opening := range []bool{true, false} {
		for _, offset := range []unit.Length{0.130, 0.134, 0.137, 0.141} {
			w := built(offset, opening)
			c := Correction(w, size, 0, opening)
			near.To(t, "corrected size", float64(built(offset+c, opening)), size, 1e-12)
			near.To(t, "gap from the wall", float64(WallGap(offset, d, w, size, opening)), gap, 1e-12)
			little := opening && w > size || !opening && w < size
			if little != (c > 1e-12) {
				t.Errorf("opening %v of %g: correction %g", opening, w, c)
			}
			stay := Correction(w, size, 0.005, opening)
			near.To(t, "with stock to stay", float64(stay-c), 0.005, 1e-12)
		}
	}
}

// TestStock: what all passes take is the way from the first wall to the last.
func TestStock(t *testing.T) {
	o, g := []unit.Length{0.231, 0.16, 0.142, 0.134}, []unit.Length{0.042, 0.02, 0.013, 0.009}
	sum := unit.Length(0)
	for _, v := range Takes(o, g) {
		sum += v
	}
	near.To(t, "all stock", float64(sum), 0.231-0.042-0.134+0.009, 1e-12)
}

// TestLaw: DanWood of the NIST reference datasets, certified; its limits at 1.5
// by SciPy 1.10.1, curve_fit and t.ppf.
func TestLaw(t *testing.T) {
	e, ra := []float64{1.309, 1.471, 1.490, 1.565, 1.611, 1.680}, []float64{2.138, 3.421, 3.597, 4.340, 4.882, 5.660}
	l, err := Fit(e, ra, 0.95, false)
	if err != nil {
		t.Fatal(err)
	}
	near.To(t, "factor", l.K, 0.76886226176, 1e-9)
	near.To(t, "exponent", l.N, 3.8604055871, 1e-8)
	near.To(t, "its deviation", l.SD, 0.051726610913, 1e-9)
	low, high := l.Limits(1.5, false)
	near.To(t, "low", low, 3.635980811, 1e-5)
	near.To(t, "high", high, 3.720366426, 1e-5)
	// An exact law is found exactly, either way.
	for _, share := range []bool{true, false} {
		l, err := Fit([]float64{1, 8, 27, 64}, []float64{2.5, 5, 7.5, 10}, 0.95, share)
		if err != nil {
			t.Fatal(err)
		}
		near.To(t, "exact factor", l.K, 2.5, 1e-9)
		near.To(t, "exact exponent", l.N, 1.0/3, 1e-9)
	}
}

// TestQuoted: a cell is quoted where a reader of the table would misread it.
func TestQuoted(t *testing.T) {
	for _, c := range [][2]string{{"LQ-12", "LQ-12"}, {"LQ 12/b", "LQ 12/b"}, {"#12", `"#12"`}, {"a,b", `"a,b"`}, {`a"b`, `"a""b"`}, {"a\nb", "\"a\nb\""}, {" a", `" a"`}, {"", ""}} {
		if got := quoted(c[0]); got != c[1] {
			t.Errorf("%q is written %q, want %q", c[0], got, c[1])
		}
	}
}

// TestTicks: a scale has two to eight round numbers, all inside.
func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high, dense float64
		want             string
	}{
		{1, 2, 1.2, "1 2"}, {0.02, 0.2, 1.2, "0.02 0.05 0.1 0.2"}, {0.01, 5, 1.2, "0.01 0.1 1"}, {1e-4, 1e5, 1.8, "0.001 1 1000"},
		{2e-7, 1e-5, 1.8, "2×10⁻⁷ 5×10⁻⁷ 10⁻⁶ 2×10⁻⁶ 5×10⁻⁶ 10⁻⁵"}, {2e4, 5e4, 1.8, "2×10⁴ 5×10⁴"},
	} {
		got := ""
		for i, v := range ticks(c.low, c.high, c.dense) {
			if i > 0 {
				got += " "
			}
			got += number(v)
		}
		if got != c.want {
			t.Errorf("%g to %g: %s, want %s", c.low, c.high, got, c.want)
		}
	}
}
