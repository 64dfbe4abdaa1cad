package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"kerfbook/testdata/near"
)

func read(t *testing.T, text string, o Options) *Drawing {
	t.Helper()
	d, err := Read(text, o)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return d
}

// groups writes a DXF text of entities from "code value" pairs.
func groups(entities ...string) string {
	var s strings.Builder
	s.WriteString("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n")
	for _, e := range entities {
		for _, p := range strings.Split(e, "|") {
			code, value, _ := strings.Cut(strings.TrimSpace(p), " ")
			s.WriteString("  " + code + "\n" + value + "\n")
		}
	}
	s.WriteString("0\nENDSEC\n0\nEOF\n")
	return s.String()
}

func line(x1, y1, x2, y2 float64) string {
	return fmt.Sprintf("0 LINE|8 0|10 %g|20 %g|11 %g|21 %g", x1, y1, x2, y2)
}

func area(d *Drawing) float64 {
	s := 0.0
	for _, c := range d.Contours {
		s += math.Abs(c.Area())
	}
	return s
}

// TestForms reads one square of 10 mm, a corner rounded by 2 mm, in every form.
func TestForms(t *testing.T) {
	want := 100 - (4 - math.Pi)
	for name, c := range map[string]struct {
		text string
		o    Options
	}{
		"lines shuffled and reversed": {groups(line(10, 0, 0, 0), line(0, 10, 0, 0), line(8, 10, 0, 10), "0 ARC|10 8|20 8|40 2|50 0|51 90", line(10, 0, 10, 8)), Options{}},
		"light polyline":              {groups("0 LWPOLYLINE|90 5|70 1|10 0|20 0|10 10|20 0|10 10|20 8|42 0.41421356237309503|10 8|20 10|10 0|20 10"), Options{}},
		"old polyline":                {groups("0 POLYLINE|66 1|70 1", "0 VERTEX|10 0|20 0", "0 VERTEX|10 10|20 0", "0 VERTEX|10 10|20 8|42 0.41421356237309503", "0 VERTEX|10 8|20 10", "0 VERTEX|10 0|20 10", "0 SEQEND"), Options{}},
		"from behind":                 {groups("0 LWPOLYLINE|90 5|70 1|210 0|220 0|230 -1|10 0|20 0|10 -10|20 0|10 -10|20 8|42 -0.41421356237309503|10 -8|20 10|10 0|20 10"), Options{}},
		"ellipse of equal axes":       {groups(line(10, 0, 0, 0), line(0, 10, 0, 0), line(8, 10, 0, 10), "0 ELLIPSE|10 8|20 8|11 2|21 0|40 1|41 0|42 1.5707963267948966", line(10, 0, 10, 8)), Options{}},
		"path data":                   {"M0 0H10V8A2 2 0 018 10H0Z", Options{Unit: "mm"}},
		"svg":                         {`<svg width="20mm" viewBox="0 0 20 20"><g transform="translate(3,4)"><path d="m0 0 10 0 0-8a2 2 0 00-2-2l-8 0z"/></g></svg>`, Options{}},
		"words":                       {"%\nO1\nN1 G90 G21 G41 D1\nG00 X0 Y0\nG01 X10. F5\nY8.\nG03 X8. Y10. I-2. J0.\nG01 X0\nY0\nM02\n", Options{}},
		"words with R in inches":      {"G90 G20\nG0 X0 Y0\nG1 X0.39370078740157\nY0.31496062992126\nG3 X0.31496062992126 Y0.39370078740157 R0.078740157480315\nG1 X0\nY0\n", Options{}},
		"words incremental":           {"G91 G21\nG1 X10\nY8\nG3 X-2 Y2 R2\nG1 X-8\nY-10\n", Options{}},
	} {
		t.Run(name, func(t *testing.T) {
			d := read(t, c.text, c.o)
			if len(d.Contours) != 1 || len(d.Open) != 0 {
				t.Fatalf("%d contours, open %v, notes %q", len(d.Contours), d.Open, d.Notes)
			}
			near.To(t, "area", area(d), want, 2e-3)
			arcs := 0
			for _, p := range d.Contours[0] {
				if p.IsArc() {
					arcs++
					near.To(t, "radius", p.R, 2, 1e-6)
				}
			}
			if arcs == 0 {
				t.Error("the arc did not stay one")
			}
		})
	}
}

func TestCurves(t *testing.T) {
	// Facts of the reference: parameter π/4 of an ellipse of 2 and 1.
	d := read(t, groups("0 ELLIPSE|10 0|20 0|11 2|21 0|40 0.5"), Options{})
	near.To(t, "ellipse", area(d), 2*math.Pi, 1e-3)
	smallest := math.Inf(1)
	for _, p := range d.Contours[0] {
		smallest = min(smallest, p.R)
	}
	near.To(t, "smallest radius, b²/a", smallest, 0.5, 0.02)
	// A quarter circle as a rational spline of degree 2.
	d = read(t, groups("0 SPLINE|70 8|71 2|72 6|73 3|40 0|40 0|40 0|40 1|40 1|40 1|10 1|20 0|41 1|10 1|20 1|41 0.7071067811865476|10 0|20 1|41 1", line(0, 1, 0, 0), line(0, 0, 1, 0)), Options{})
	near.To(t, "quarter circle", area(d), math.Pi/4, 1e-4)
	// A circle drawn as a cubic B-spline closed on itself stays smooth.
	d = read(t, "M0 0C0 0.5522847498 -0.4477152502 1 -1 1S-2 0.5522847498 -2 0 -1.5522847498 -1 -1 -1 0 -0.5522847498 0 0Z", Options{Unit: "mm"})
	near.To(t, "circle of cubics", area(d), math.Pi, 2e-3)
	// Radii that are too small are made larger.
	d = read(t, "M0 0A1 1 0 0 1 4 0Z", Options{Unit: "mm"})
	near.To(t, "half circle", area(d), 2*math.Pi, 1e-6)
	// A mirrored, turned, squeezed insert of a circle, nested.
	text := "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nHOLE\n10\n1\n20\n0\n0\nCIRCLE\n8\n0\n10\n1\n20\n0\n40\n1\n0\nENDBLK\n0\nBLOCK\n2\nPAIR\n10\n0\n20\n0\n0\nINSERT\n2\nHOLE\n10\n0\n20\n0\n41\n-2\n42\n0.5\n50\n30\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\nCUT\n2\nPAIR\n10\n5\n20\n5\n70\n2\n44\n10\n0\nENDSEC\n0\nEOF\n"
	d = read(t, text, Options{Unit: "mm"})
	if len(d.Contours) != 2 || d.Layers[0] != "CUT" {
		t.Fatalf("%d contours on %v", len(d.Contours), d.Layers)
	}
	near.To(t, "two ellipses", area(d), 2*math.Pi, 1e-3)
}

// TestBulge: facts of the reference.
func TestBulge(t *testing.T) {
	d := read(t, groups("0 LWPOLYLINE|90 2|70 1|10 0|20 0|42 1|10 2|20 0"), Options{})
	low := 0.0
	for _, p := range d.Contours[0] {
		low = min(low, p.Box().Y0)
	}
	near.To(t, "a bulge of 1 runs below", low, -1, 1e-12)
	d = read(t, groups("0 LWPOLYLINE|90 2|70 1|10 0|20 0|42 26.62911378|10 0.1|20 0"), Options{})
	if s := d.Contours[0][0].Sweep; s < 350*math.Pi/180 {
		t.Errorf("a sweep of %g", s)
	}
}

// TestChords: a circle and a tooth's flank drawn as chords come out as arcs, and a
// hexagon stays one.
func TestChords(t *testing.T) {
	polygon := func(n int, r float64) string {
		e := fmt.Sprintf("0 LWPOLYLINE|90 %d|70 1", n)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			e += fmt.Sprintf("|10 %.12f|20 %.12f", r*c, r*s)
		}
		return groups(e)
	}
	for _, n := range []int{40, 1000, 20000} {
		d := read(t, polygon(n, 1), Options{})
		if k := len(d.Contours[0]); k > 4 {
			t.Errorf("a circle of %d chords came out as %d pieces", n, k)
		}
		near.To(t, "area", area(d), math.Pi, 1e-5)
		for _, p := range d.Contours[0] {
			near.To(t, "radius", p.R, 1, 1e-5)
		}
	}
	if d := read(t, polygon(6, 1), Options{}); len(d.Contours[0]) != 6 {
		t.Errorf("a hexagon came out as %d pieces", len(d.Contours[0]))
	}
	if d := read(t, polygon(1000, 1), Options{Chords: -1}); len(d.Contours[0]) != 1000 {
		t.Errorf("chords were taken as arcs though nobody asked: %d", len(d.Contours[0]))
	}
}
