package water

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"kerfbook/wasm/unit"
)

// TestPure holds the table and what is read between its points against pure water
// worked out another way: the molar conductivities of its two ions times their
// concentration, κ = (λ(H) + λ(OH)) ρ 10^(-pKw/2). pKw, λ in S cm²/mol and ρ in
// g/cm³ are those of the Handbook of Chemistry and Physics and of Robinson and
// Stokes, Electrolyte Solutions; from memory, place not seen.
func TestPure(t *testing.T) {
	f, err := os.Open("../../../content/data/purewater.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var known []Known
	for _, row := range rows[1:] {
		c, _ := strconv.ParseFloat(row[1], 64)
		k, _ := strconv.ParseFloat(row[2], 64)
		known = append(known, Known{unit.Temperature(c), unit.Conductivity(k)})
	}
	for _, x := range []struct{ t, pkw, hydrogen, hydroxyl, density float64 }{
		{15, 14.346, 300.6, 165.9, 0.9991}, {18, 14.236, 315, 175.8, 0.9986}, {25, 13.995, 349.8, 199.1, 0.9970},
		{35, 13.680, 397, 233, 0.9940}, {45, 13.396, 441.4, 267.2, 0.9902}, {55, 13.137, 483.1, 301.4, 0.9857},
		{50, 13.262, 462.7, 285, 0.9880}, {100, 12.265, 630, 450, 0.9584},
	} {
		want := (x.hydrogen + x.hydroxyl) * x.density * math.Pow(10, -x.pkw/2) * 1000 // µS/cm
		got := float64(Pure(known, unit.Temperature(x.t)))
		if math.Abs(got/want-1) > 0.025 {
			t.Errorf("pure water at %g °C: %.4f µS/cm, its ions carry %.4f", x.t, got, want)
		}
	}
	last := unit.Conductivity(0)
	for c := unit.Temperature(0); c <= 100; c += 0.5 {
		if k := Pure(known, c); k <= last {
			t.Fatalf("pure water does not conduct better when warmer, at %g °C", float64(c))
		} else {
			last = k
		}
	}
}
