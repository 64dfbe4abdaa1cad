package process

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/unit"
)

// practice is one line of what shops say.
type practice struct {
	what, material, fluid, pass string
	wire, low, likely, high     float64
}

func practices(t *testing.T) []practice {
	t.Helper()
	text, err := os.ReadFile("testdata/practice.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []practice
	for line := range strings.Lines(string(text)) {
		w := strings.Fields(line)
		if len(w) == 0 || w[0] == "#" {
			continue
		}
		n := func(i int) float64 {
			v, err := strconv.ParseFloat(w[i], 64)
			if err != nil {
				t.Fatal(line, err)
			}
			return v
		}
		out = append(out, practice{w[0], w[1], w[3], w[4], n(2), n(5), n(6), n(7)})
	}
	if len(out) < 70 {
		t.Fatalf("only %d lines of practice", len(out))
	}
	return out
}

// setup is a part of 160 wires' height, on a machine as its wire usually finds.
func (p practice) setup() Setup {
	s := Setup{Wire: unit.Length(p.wire), Height: unit.Length(160 * p.wire), Class: Precision, LowSupply: p.wire <= 0.1+1e-9}
	if p.fluid == "oil" {
		s.Fluid = Oil
	}
	if p.wire >= 0.25 {
		s.Class = Production
	}
	return s
}

// factors are the likely rate of a material in the handbook's own table, and the
// exponent by which it follows the wire.
func factors(t *testing.T) map[string]Material {
	t.Helper()
	text, err := os.ReadFile("../../content/data/factors.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]Material{}
	for _, row := range rows[1:] {
		n := func(name string) float64 {
			v, _ := strconv.ParseFloat(row[slices.Index(rows[0], name)], 64)
			return v
		}
		one := unit.Exactly(1)
		out[row[0]] = Material{Ra: one, Gap: one, Layer: one, RatePower: n("rate_power_n0"),
			Rate: unit.Range{Low: n("rate_low_n0"), Likely: n("rate_likely_n0"), High: n("rate_high_n0")}}
	}
	return out
}

// TestPractice: the law against what shops say, at a height of 160 wires: gaps
// inside their low to high, finishes within 15 %, rates within 10 % (with 0.07 mm
// 20 %).
func TestPractice(t *testing.T) {
	known := factors(t)
	for _, p := range practices(t) {
		s := p.setup()
		name := p.what + " " + p.material + " " + fixed(p.wire, 2) + " " + p.fluid + " " + p.pass
		m := known[p.material]
		l := general().With(m)
		s.RatePower = m.RatePower
		bound, off := 0.0, 0.0
		switch p.what {
		case "gap":
			k := map[string]int{"rough": 0, "skim": 1, "fine": 3}[p.pass]
			if got := float64(l.Ladder(s, k+1, false)[k].Gap) * 1000; got < p.low || got > p.high {
				t.Errorf("%s: %.2f, %g to %g is said", name, got, p.low, p.high)
			}
			continue
		case "ra":
			n, _ := strconv.Atoi(p.pass)
			bound, off = 0.15, float64(l.Ladder(s, n, false)[n-1].Ra)/p.likely-1
		case "rate":
			bound, off = 0.10, float64(l.Ladder(s, 1, false)[0].Rate)/p.likely-1
			if p.wire == 0.07 {
				bound = 0.20
			}
		}
		if math.Abs(off) > bound {
			t.Errorf("%s is off by %+.0f %% from the %g that is said", name, 100*off, p.likely)
		}
	}
}

// TestKin: hot-work steel stays within 1.5 times of tool steel at every wire.
func TestKin(t *testing.T) {
	known := factors(t)
	a, b := general().With(known["steel"]), general().With(known["hot-work"])
	for d := unit.Length(0.02); d <= 0.36; d += 0.01 {
		s := Setup{Wire: d, Height: 20, Class: Precision}
		if q := float64(b.Ladder(s, 1, false)[0].Rate / a.Ladder(s, 1, false)[0].Rate); q > 1.5 || q < 1/1.5 {
			t.Errorf("with %g mm hot-work steel goes %.2f times as fast as tool steel", d, q)
		}
	}
}
