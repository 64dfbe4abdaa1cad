package size

import (
	"math"
	"os"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// TestGrowth holds the growth against the expansions of a textbook's appendix
// (callister-2008, appendix B): 23.6 for aluminium 6061, 17.0 for copper.
func TestGrowth(t *testing.T) {
	for _, c := range []struct {
		alpha unit.Expansion
		at    unit.Temperature
		want  float64 // µm on 100 mm
	}{{11.5, 25, 5.75}, {5.4, 25, 2.70}, {23.6, 21, 2.36}, {17, 10, -17}, {11.5, 20, 0}} {
		if got := float64(Growth(100, c.alpha, c.at)) * 1000; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("100 mm of %g at %g °C grow %g µm, %g is wanted", c.alpha, c.at, got, c.want)
		}
	}
	if k := Kelvins(Growth(70, 11.5, 27), 70, 11.5); math.Abs(float64(k)-7) > 1e-9 {
		t.Errorf("kelvins do not undo growth: %g", k)
	}
}

func tables(t *testing.T) *book.Book {
	var files []book.File
	for _, n := range []string{"itgrades.csv", "general.csv"} {
		text, err := os.ReadFile("../../../content/data/" + n)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, book.File{Name: n, Text: string(text)})
	}
	b, err := book.Read(files)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestTable holds every number of the table of grades against the formulas of
// the standard's annex of 1988 (from memory; the one of i was read): 0.45 ∛D +
// 0.001 D times 7 to 2500, and 0.8 + 0.020 D and its like below. The table is
// rounded; up to 6 mm by as much as a sixth.
func TestTable(t *testing.T) {
	tb := tables(t).Table("itgrades")
	steps := []float64{1, 3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}
	names := []string{"3", "6", "10", "18", "30", "50", "80", "120", "180", "250", "315", "400", "500"}
	times := []float64{7, 10, 16, 25, 40, 64, 100, 160, 250, 400, 640, 1000, 1600, 2500}
	if len(tb.Rows) != 20 {
		t.Fatalf("%d grades", len(tb.Rows))
	}
	for i, n := range names {
		d := math.Sqrt(steps[i] * steps[i+1])
		fundamental := 0.45*math.Cbrt(d) + 0.001*d
		low := []float64{0.3 + 0.008*d, 0.5 + 0.012*d, 0.8 + 0.020*d}
		ratio := 7 * fundamental / low[2]
		for g, r := range tb.Rows {
			var want float64
			switch {
			case g < 3:
				want = low[g]
			case g < 6: // IT2 to IT4 lie in even ratios between IT1 and IT5
				want = low[2] * math.Pow(ratio, float64(g-2)/4)
			default:
				want = times[g-6] * fundamental
			}
			got := r.Num("to_" + n + "_um")
			room := 0.10
			if i < 2 || g < 6 {
				room = 0.22
			}
			if g < 2 { // half micrometres, rounded to one place
				room = 0.3
			}
			if math.Abs(got-want) > room*want {
				t.Errorf("%s to %s mm is %g, the formula gives %.3g", r.Key, n, got, want)
			}
			if g > 0 && got <= tb.Rows[g-1].Num("to_"+n+"_um") {
				t.Errorf("%s to %s mm is not wider than the grade before", r.Key, n)
			}
		}
	}
}

// TestSteps: a size on a step belongs to the step below it, and a width on a
// grade to that grade; published pairs (ISO 286-1, read in an excerpt).
func TestSteps(t *testing.T) {
	b := tables(t)
	for _, c := range []struct {
		size, width unit.Length
		want        string
	}{
		{30, 0.021, "IT7"}, {30.001, 0.021, "IT6"}, {50, 0.016, "IT6"}, {50, 0.0159, "IT5"}, {3, 0.010, "IT7"},
		{500, 0.25, "IT10"}, {500.1, 0.25, ""}, {10, 0.0003, ""}, {10, 99, "IT18"},
	} {
		if row, _, _ := Grade(b.Table("itgrades"), c.size, c.width); row.Key != c.want {
			t.Errorf("%g mm, %g wide: %q, %q is wanted", c.size, c.width, row.Key, c.want)
		}
	}
	// ISO 2768-1: class m from 30 to 120 mm is ±0.3 (read in an excerpt).
	for _, c := range []struct {
		class string
		size  unit.Length
		want  string
	}{{"m", 120, "0.3"}, {"m", 30, "0.2"}, {"f", 0.5, "0.05"}, {"m", 0.4, ""}, {"v", 2, ""}, {"f", 3000, ""}, {"c", 4000, "4"}} {
		r, _ := General(b.Table("general"), c.class, c.size)
		if got := strings.TrimSpace(r.Cell("pm_mm")); got != c.want {
			t.Errorf("class %s, %g mm: ±%q, %q is wanted", c.class, c.size, got, c.want)
		}
	}
}
