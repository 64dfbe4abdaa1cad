package catalog

import (
	"math"
	"testing"

	"kerfbook/wasm/calc/rate"
	"kerfbook/wasm/unit"
)

// TestPiece: time and cost of a piece that is only weighed are those of the calculator's
// form with its own defaults.
func TestPiece(t *testing.T) {
	b := readBook(t)
	for _, c := range []struct {
		kind, wire, thickness, path, passes, starts, tabs string
		p                                                 rate.Piece
	}{
		{"brass-hard", "0.25 mm", "40 mm", "120 mm", "4", "1", "0", rate.Piece{Path: 120, Thickness: 40, Diameter: 0.25, Starts: 1}},
		{"steel-coated", "0.1 mm", "8 mm", "40 mm", "3", "6", "6", rate.Piece{Path: 40, Thickness: 8, Diameter: 0.1, Starts: 6, Tabs: 6}},
		{"tungsten", "0.05 mm", "5 mm", "15 mm", "1", "2", "0", rate.Piece{Path: 15, Thickness: 5, Diameter: 0.05, Starts: 2}},
	} {
		rep := ask(t, b, "rate", unit.Metric, map[string]string{"kind": c.kind, "wire": c.wire, "thickness": c.thickness, "path": c.path, "passes": c.passes, "starts": c.starts, "tabs": c.tabs})
		of := func(name string) float64 { return value(t, rep, name).Likely }
		kind, _ := b.Find("wiretypes", c.kind)
		c.p.Prices, c.p.Density = rate.PricesOf(b), kind.Num("density_likely_kgm3")
		took, cost := c.p.Costs(unit.AreaRate(of("rate")), unit.Time(of("skim-time")))
		if math.Abs(float64(took)/of("total")-1) > 1e-6 || math.Abs(cost/of("cost")-1) > 1e-6 {
			t.Errorf("%s: %g s and %g, the form says %g and %g", c.kind, took, cost, of("total"), of("cost"))
		}
	}
}
