package drawing

import (
	"fmt"
	"strings"
	"testing"
)

// mostWork is the bound, and what the call in which it is met may go over it.
const mostWork = maxSteps + 10*maxPieces

// TestBounds reads texts that ask for far more than they hold. Nothing here looks
// at a clock: the steps are counted, where no piece comes of them too.
func TestBounds(t *testing.T) {
	block := func(name, body string) string {
		return "0\nBLOCK\n2\n" + name + "\n10\n0\n20\n0\n" + body + "0\nENDBLK\n"
	}
	insert := func(name string, n int) string {
		return fmt.Sprintf("0\nINSERT\n2\n%s\n10\n0\n20\n0\n70\n%d\n71\n%d\n44\n2\n45\n2\n", name, n, n)
	}
	nested := func(leaf string) string {
		s := "0\nSECTION\n2\nBLOCKS\n" + block("A", leaf)
		for _, p := range []string{"AB", "BC", "CD"} {
			s += block(p[1:], insert(p[:1], 100))
		}
		return s + "0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + insert("D", 100) + "0\nENDSEC\n0\nEOF\n"
	}
	many := func(n int, f func(i int) string) string {
		var s strings.Builder
		for i := range n {
			s.WriteString(f(i))
		}
		return s.String()
	}
	entities := func(body string) string {
		return "0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n"
	}
	spline := func(degree, n int, at func(i int) (x, y int)) string {
		var s strings.Builder
		fmt.Fprintf(&s, "0\nSPLINE\n71\n%d\n", degree)
		for i := range n + degree + 1 {
			fmt.Fprintf(&s, "40\n%d\n", max(0, min(i-degree, n-degree)))
		}
		for i := range n {
			x, y := at(i)
			fmt.Fprintf(&s, "10\n%d\n20\n%d\n", x, y)
		}
		return entities(s.String())
	}
	polyline := func(n int) string {
		var s strings.Builder
		s.WriteString("0\nLWPOLYLINE\n70\n1\n")
		for i := range n {
			fmt.Fprintf(&s, "10\n%d\n20\n%d\n", i%7, i%5)
		}
		return s.String()
	}
	for _, c := range []struct{ name, text, said string }{
		{"blocks of nothing, four deep", nested(""), "more work than a contour should"},
		{"blocks of what is not read", nested("0\nTEXT\n1\nx\n"), "more work than a contour should"},
		{"blocks of one line, four deep", nested("0\nLINE\n10\n0\n20\n0\n11\n1\n21\n1\n"), "more than 100000 pieces"},
		{"a block of points without length", nested("0\nLINE\n10\n0\n20\n0\n11\n0\n21\n0\n"), "more work than a contour should"},
		{"an exploded hatch", "M0 0" + many(99_000, func(i int) string { return fmt.Sprintf("M%d %dh3", i%300*5, i/300*2) }), "198000 ends meet nothing; 200 of them are listed"},
		{"lines that crowd one place", "M0 0" + many(60_000, func(i int) string { return fmt.Sprintf("M%d.%03de-3 %d.%03de-3l9 %d", i%7, i%991, i%5, i%983, 1+i%11) }), "more work than a contour should"},
		{"triangles that share a point", many(700, func(i int) string { return fmt.Sprintf("M0 0L%d 100L%d.5 100z", i, i) }), ""},
		{"too many triangles that share a point", many(33_000, func(i int) string { return fmt.Sprintf("M0 0L%d 100L%d.5 100z", i, i) }), "more work than a contour should"},
		{"squares", many(25_000, func(i int) string { return fmt.Sprintf("M%d %dh1v1h-1z", i%200*2, i/200*2) }), ""},
		{"more squares than a part has", many(40_000, func(i int) string { return fmt.Sprintf("M%d %dh1v1h-1z", i%200*2, i/200*2) }), "more than 100000 pieces"},
		{"slivers across each other", many(5_000, func(i int) string {
			return fmt.Sprintf("M0 %d.0L9999 %d.5L0 %d.9zM%d.0 0L%d.5 9999L%d.9 0z", i, i, i, i, i, i)
		}), "cross in 10000 places or more"},
		{"long teeth side by side", "M0 0" + many(24_000, func(i int) string { return fmt.Sprintf("h1v%dh1v-%d", 90_000, 90_000) }) + "v-9H0z", ""},
		{"teeth side by side", "M0 0" + many(2_000, func(i int) string { return fmt.Sprintf("h1v%dh1v-%d", 9_000, 9_000) }) + "v-9H0z", ""},
		{"a spline of degree 11", spline(11, 20_000, func(i int) (int, int) { return i, i * i % 97 }), "more"},
		{"a smooth spline of degree 11", spline(11, 2_000, func(i int) (int, int) { return i, i / 300 }), ""},
		{"a spline of many knots", spline(2, 100_000, func(i int) (int, int) { return 100 * i, i * i % 7 }), "more"},
		{"polylines that miscount", entities(many(300_000, func(i int) string { return fmt.Sprintf("0\nLWPOLYLINE\n90\n%d\n", i+1) })), "holds no line and no arc"},
		{"kinds without number", entities(many(100_000, func(i int) string { return fmt.Sprintf("0\nK%d\n", i) })), "it holds K0, K1"},
		{"layers without number", entities(many(50_000, func(i int) string { return fmt.Sprintf("0\nLINE\n8\nL%d\n10\n%d\n20\n0\n11\n%d\n21\n0\n", i, i, i+1) })), "meets nothing"},
		{"one long polyline in an array", "0\nSECTION\n2\nBLOCKS\n" + block("A", polyline(10_000)) + "0\nENDSEC\n" + entities(insert("A", 100)), "more than 100000 pieces"},
		{"remarks in a style sheet", "<svg><style>" + strings.Repeat("/**/", 2_000_000) + "</style></svg>", "no line and no arc"},
		{"style sheets without end", "<svg>" + strings.Repeat("<style>", 150) + strings.Repeat("<style/>", 1_000_000), "no line and no arc"},
		{"one block of a million words", "G21 G1 X9" + strings.Repeat("G90F1", 1_000_000), "meets nothing"},
		{"ways home", "G21\n" + strings.Repeat("G28\n", 1_000_000) + "G0X0Y0\nG1X9\n", "which is not listed"},
		{"groups in groups", "<svg>" + strings.Repeat("<g>", 150) + many(50_000, func(i int) string { return "<path transform='scale(1)' d='M0 0'/>" }), "no line and no arc"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, steps, err := counted(c.text, Options{Unit: "mm"})
			if steps > mostWork {
				t.Errorf("%d steps were counted, at most %d are allowed", steps, mostWork)
			}
			said := ""
			if err != nil {
				said = err.Error()
			} else {
				said = strings.Join(d.Notes, "\n")
				for _, o := range d.Open {
					said += "\n" + o.Text
				}
			}
			if !strings.Contains(said, c.said) || c.said == "" && err != nil {
				t.Errorf("after %d steps it says %.300q, it should say %q", steps, said, c.said)
			}
			if len(said) > 64<<10 {
				t.Errorf("it says %d bytes", len(said))
			}
			t.Logf("%d bytes, %d steps", len(c.text), steps)
		})
	}
}

// TestWorkOfAPart: an ordinary contour takes a small share of the bound.
func TestWorkOfAPart(t *testing.T) {
	var s strings.Builder
	s.WriteString("M0 0")
	for i := range 2_500 {
		fmt.Fprintf(&s, "h1v%dh1v-%d", 3+i%3, 3+i%3)
	}
	_, steps, err := counted(s.String()+"v-9H0z", Options{Unit: "mm"})
	if err != nil || steps > maxSteps/20 {
		t.Errorf("10,000 pieces take %d steps of %d, %v", steps, maxSteps, err)
	}
}
