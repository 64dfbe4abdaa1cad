package rate

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// TestPiece: time and cost of a piece are those of the form with its own defaults.
func TestPiece(t *testing.T) {
	names, _ := filepath.Glob("../../../content/data/*.csv")
	var files []book.File
	for _, n := range names {
		text, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, book.File{Name: filepath.Base(n), Text: string(text)})
	}
	b, err := book.Read(files)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		wire, height, path float64
		kind, passes       string
		starts, tabs       int
	}{{0.25, 40, 120, "brass-hard", "4", 1, 0}, {0.1, 8, 40, "steel-coated", "3", 6, 6}, {0.05, 5, 15, "tungsten", "1", 2, 0}} {
		mm := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " mm" }
		rep := Calculator().Eval(b, calc.Input{System: unit.Metric, Strict: true, Values: map[string]string{"wire": mm(c.wire), "thickness": mm(c.height), "path": mm(c.path),
			"kind": c.kind, "passes": c.passes, "starts": strconv.Itoa(c.starts), "tabs": strconv.Itoa(c.tabs)}})
		if rep.Answer == nil {
			t.Fatal(rep.Problems)
		}
		of := func(name string) float64 { v, _ := rep.Answer.Value(name); return v.Range.Likely }
		p := Piece{Path: unit.Length(c.path), Thickness: unit.Length(c.height), Wire: unit.Length(c.wire), Kind: c.kind, Starts: unit.Count(c.starts), Tabs: unit.Count(c.tabs)}
		took, cost := p.Costs(b, unit.AreaRate(of("rate")), unit.Time(of("skim-time")))
		if math.Abs(float64(took)/of("total")-1) > 1e-6 || math.Abs(cost/of("cost")-1) > 1e-6 {
			t.Errorf("%+v: %g s and %g, the form says %g and %g", p, took, cost, of("total"), of("cost"))
		}
	}
}
