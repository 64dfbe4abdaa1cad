package words

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// TestWholeProgram follows the programs that the handbook prints whole. An arc
// must end at its start's distance from the centre (ISO 6983-1: I and J are
// counted from the start of the arc), and in these contours every straight line
// goes over into its arc without a corner, which a wrong G02, G03, I or J breaks.
func TestWholeProgram(t *testing.T) {
	text, err := os.ReadFile("../../../content/handbook/70-passes/75-whole.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?s)```nc\n(.*?)```").FindAllSubmatch(text, -1)
	comment := regexp.MustCompile(`\([^)]*\)`)
	word := regexp.MustCompile(`([A-Z])([-+]?[0-9.]+)`)
	arcs := 0
	for _, b := range blocks {
		var x, y, dx, dy float64
		known, from, afterArc := false, false, false
		for _, line := range strings.Split(string(b[1]), "\n") {
			line = comment.ReplaceAllString(line, "")
			at := map[string]float64{}
			for _, w := range word.FindAllStringSubmatch(line, -1) {
				v, err := strconv.ParseFloat(w[2], 64)
				if err != nil {
					t.Fatalf("%s: %v", line, err)
				}
				at[w[1]] = v
			}
			nx, hasX := at["X"]
			ny, hasY := at["Y"]
			if !hasX || !hasY {
				continue
			}
			if !known { // a contour's subprogram starts wherever it was called
				x, y, known = nx, ny, true
				continue
			}
			switch {
			case at["G"] == 2 || at["G"] == 3:
				arcs++
				cx, cy := x+at["I"], y+at["J"]
				if d := math.Hypot(x-cx, y-cy) - math.Hypot(nx-cx, ny-cy); math.Abs(d) > 1e-9 {
					t.Errorf("%s: the radii of the arc's ends differ by %g", line, d)
				}
				turn := 1.0
				if at["G"] == 2 {
					turn = -1
				}
				tx, ty := turn*at["J"], -turn*at["I"] // from the centre to the start is -I, -J; turned by a quarter
				if l := math.Hypot(tx, ty); from && math.Hypot(tx/l-dx, ty/l-dy) > 1e-9 {
					t.Errorf("%s: the arc leaves at %g, %g, the line arrives at %g, %g", line, tx/l, ty/l, dx, dy)
				}
				ex, ey := nx-cx, ny-cy
				l := math.Hypot(ex, ey)
				dx, dy, from, afterArc = -turn*ey/l, turn*ex/l, true, true
			default:
				l := math.Hypot(nx-x, ny-y)
				if l == 0 {
					t.Errorf("%s: goes nowhere", line)
					continue
				}
				if afterArc && math.Hypot((nx-x)/l-dx, (ny-y)/l-dy) > 1e-9 {
					t.Errorf("%s: the line leaves the arc at a corner", line)
				}
				dx, dy, from, afterArc = (nx-x)/l, (ny-y)/l, true, false
			}
			x, y = nx, ny
		}
	}
	if arcs != 12 {
		t.Errorf("%d arcs followed, twelve are printed", arcs)
	}
}
