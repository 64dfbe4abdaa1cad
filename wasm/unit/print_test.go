package unit

import (
	"math"
	"strconv"
	"testing"
)

// TestFixedAgainstIntegers: every wire's half with every gap in half-micrometre
// steps, against integer arithmetic in tenths of a micrometre.
func TestFixedAgainstIntegers(t *testing.T) {
	plain := 0
	for _, d := range []int{20, 25, 30, 50, 70, 100, 150, 200, 250, 300, 330} {
		for half := 0; half <= 400; half++ {
			sum := float64(d)/1000/2 + float64(half)/2000
			tenths := d*5 + half*5 // 0.1 µm
			um := (tenths + 5) / 10
			want := strconv.Itoa(um/1000) + "." + strconv.Itoa(1000 + um%1000)[1:]
			if got := Fixed(sum, 3); got != want {
				t.Errorf("%d µm / 2 + %d/2 µm prints %s, want %s", d, half, got, want)
			}
			if strconv.FormatFloat(sum, 'f', 3, 64) != want {
				plain++
			}
		}
	}
	if plain == 0 {
		t.Error("plain rounding would do as well; the test shows nothing")
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    int
		want string
	}{
		{0.05 + 0.0045, 3, "0.055"}, {0.0545, 3, "0.055"}, {0.5, 0, "1"}, {1.5, 0, "2"}, {2.5, 0, "3"}, {-2.5, 0, "-3"}, {0.0004, 3, "0.000"}, {-0.0004, 3, "0.000"},
		{999.9999, 3, "1000.000"}, {999.9996, 3, "1000.000"}, {9.9996, 3, "10.000"}, {1e9, 2, "1000000000.00"}, {1.23456e-9, 12, "0.000000001235"},
		{0, 2, "0.00"}, {math.Copysign(0, -1), 2, "0.00"}, {123456789, 0, "123456789"}, {0.1 + 0.2, 17, "0.30000000000000000"},
		{math.NaN(), 2, "–"}, {math.Inf(1), 2, "∞"}, {0.05, 1, "0.1"}, {0.04999, 1, "0.0"}, {1e15, 0, "1000000000000000"},
	} {
		if got := Fixed(c.v, c.d); got != c.want {
			t.Errorf("Fixed(%v, %d) = %s, want %s", c.v, c.d, got, c.want)
		}
	}
}

func TestPrint(t *testing.T) {
	mm := Style{"mm", 4, true}
	for _, c := range []struct{ got, want string }{
		{Print(LengthKind, 0.07, mm), "0.07 mm"},
		{Print(LengthKind, 0.0762, Style{"thou", 2, true}), "3 thou"},
		{PrintRange(LengthKind, Range{0.052, 0.054, 0.056}, mm), "0.054 mm (0.052 to 0.056)"},
		{PrintRange(ConductivityKind, Range{5, 10, 20}, Style{"kΩ·cm", 1, true}), "100 kΩ·cm (50 to 200)"},
		{Print(AngleKind, 60, Style{"°", 2, true}), "60°"},
		{Print(CountKind, 4, Style{"", 0, true}), "4"},
		{Print(TemperatureKind, 20, Style{"°F", 1, true}), "68 °F"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestAgainstUnits: conversions against GNU units 2.22, call `units -d10 FROM
// TO`; the numbers are that program's.
func TestAgainstUnits(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		v    float64 // in from
		from string
		to   string
		want float64
	}{
		{LengthKind, 1, "tenths", "µm", 2.54}, {LengthKind, 1, "thou", "µm", 25.4}, {AreaRateKind, 1, "in²/h", "mm²/min", 10.75266667},
		{RoughnessKind, 1, "µm", "µin", 39.37007874}, {ForceKind, 1, "lbf", "N", 4.448221615}, {StressKind, 1, "ksi", "MPa", 6.894757293},
		{MassKind, 1, "lb", "g", 453.59237}, {VolumeKind, 1, "in³", "mm³", 16387.064}, {SpeedKind, 1, "in/min", "mm/min", 25.4},
		{LineLoadKind, 1, "lbf/in", "N/m", 175.1268352}, {LineLoadKind, 1, "gf/mm", "N/m", 9.80665},
	} {
		u, ok := c.kind.find(c.from)
		if !ok {
			t.Fatalf("no unit %s", c.from)
		}
		if got := In(c.kind, u.base(c.v), c.to); math.Abs(got-c.want) > 1e-9*c.want {
			t.Errorf("%v %s is %v %s, want %v", c.v, c.from, got, c.to, c.want)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for k := LengthKind; k <= lastKind; k++ {
		for _, u := range k.symbols() {
			for _, v := range []float64{0.001, 1, 3.7, 1234.5} {
				if got := u.from(u.base(v)); math.Abs(got-v) > 1e-9*v {
					t.Errorf("%s %s: %v came back as %v", k, u.symbol, v, got)
				}
			}
		}
		if _, ok := KindByName(k.String()); !ok {
			t.Errorf("%s is not found by name", k)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		_, _ = Read("0.06 ±0.01 mm", LengthKind, Options{Ranges: true})
	}
}

func BenchmarkFixed(b *testing.B) {
	for b.Loop() {
		_ = Fixed(0.0545, 3)
	}
}
