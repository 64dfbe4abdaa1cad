package drawing

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"kerfbook/testdata/near"
)

// reading is a text with what must come of it: a refusal that says something, or
// contours of an area with something said in a note or at a place.
type reading struct {
	name, text string
	unit       string
	refused    string  // part of the message; "" is read
	area       float64 // of all contours, in mm²
	contours   int
	said       string // part of a note or of a named place
	silent     bool   // nothing may be said
}

func (c reading) check(t *testing.T) {
	t.Helper()
	d, err := Read(c.text, Options{Unit: c.unit})
	if c.refused != "" {
		if err == nil {
			t.Fatalf("it was read, with %d contours of %g mm² and the notes %q; it should be refused", len(d.Contours), area(d), d.Notes)
		}
		if !strings.Contains(err.Error(), c.refused) {
			t.Errorf("the message is %q, it should say %q", err, c.refused)
		}
		return
	}
	if err != nil {
		t.Fatalf("refused: %v", err)
	}
	said := strings.Join(d.Notes, "\n")
	for _, o := range d.Open {
		said += "\n" + o.Text + " at " + place(o.At)
	}
	if len(d.Contours) != c.contours || math.Abs(area(d)-c.area) > 1e-3 {
		t.Errorf("%d contours of %.6g mm², %d of %.6g are wanted; said %q", len(d.Contours), area(d), c.contours, c.area, said)
	}
	if !strings.Contains(said, c.said) || c.silent && said != "" {
		t.Errorf("it says %q, it should say %q", said, c.said)
	}
}

// triangle is a hole of 3 by 3 in the square of ten.
var triangle = []string{line(3, 3, 6, 3), line(6, 3, 3, 6), line(3, 6, 3, 3)}

// TestStems: what hangs on a contour, or holds two together, costs no contour.
func TestStems(t *testing.T) {
	join := func(parts ...[]string) string {
		var all []string
		for _, p := range parts {
			all = append(all, p...)
		}
		return groups(all...)
	}
	for _, c := range []reading{
		{name: "a line from the corner to the hole", text: join(square(0), triangle, []string{line(0, 0, 3, 3)}), area: 104.5, contours: 2, said: "1 piece joins contours and closes none: left out, at (0, 0)"},
		{name: "the line first", text: join([]string{line(3, 3, 0, 0)}, triangle, square(0)), area: 104.5, contours: 2, said: "joins contours and closes none"},
		{name: "two lines in a row to the hole", text: join(square(0), []string{line(0, 0, 1, 2), line(1, 2, 3, 3)}, triangle), area: 104.5, contours: 2, said: "2 pieces join contours and close none"},
		{name: "a lead-in", text: join([]string{line(5, -4, 10, 0)}, square(0)), area: 100, contours: 1, said: "1 piece ends in the air: left out, at (10, 0)"},
		{name: "a lead-in and a lead-out", text: join([]string{line(-4, -4, 0, 0)}, square(0), []string{line(0, 0, -4, -3)}), area: 100, contours: 1, said: "2 pieces end in the air"},
		{name: "a slit drawn there and back", text: "M0 0H10V10H0V0L3 3H6L3 6V3L0 0Z", unit: "mm", area: 104.5, contours: 2, said: "joins contours"},
		{name: "a diagonal", text: with(line(0, 0, 10, 10)), refused: "3 pieces meet at (0, 0): the contour divides there"},
		{name: "two squares drawn with one side between them", text: join(square(0), []string{line(10, 0, 20, 0), line(20, 0, 20, 10), line(20, 10, 10, 10)}), refused: "3 pieces meet at (10, 0)"},
		{name: "a square open by half a millimetre, beside a hole", text: join(square(0.5), triangle), area: 4.5, contours: 1, said: "an end that meets nothing; the nearest other is 0.5000 mm away, at (0, 0)"},
		{name: "squares that touch, walked the other way", text: "M0 0V10H10V0ZM10 10V20H20V10Z", unit: "mm", area: 200, contours: 2},
		{name: "three triangles that share a point", text: "M0 0L4 1L4-1ZM0 0L-1 4L1 4ZM0 0L-4-1L-4 1Z", unit: "mm", area: 12, contours: 3},
	} {
		t.Run(c.name, c.check)
	}
}

// TestFineEdges: a drawing without a gap is not moved. What is welded are ends
// that meet nothing.
func TestFineEdges(t *testing.T) {
	// A wall of 2 mm with a step of 4 µm: 1 · 1 + 1.004 · 1 mm².
	for name, text := range map[string]string{
		"path":       "M0 0H1V1H1.004V2H0Z",
		"polyline":   groups("0 LWPOLYLINE|90 6|70 1|10 0|20 0|10 1|20 0|10 1|20 1|10 1.004|20 1|10 1.004|20 2|10 0|20 2"),
		"loose ones": groups(line(0, 0, 1, 0), line(1.004, 1, 1, 1), line(1, 0, 1, 1), line(1.004, 2, 1.004, 1), line(0, 2, 1.004, 2), line(0, 0, 0, 2)),
	} {
		t.Run(name, func(t *testing.T) {
			d := read(t, text, Options{Unit: "mm"})
			near.To(t, "area", area(d), 2.004, 1e-12)
			if len(d.Contours) != 1 || len(d.Contours[0]) != 6 || len(d.Notes) != 0 {
				t.Errorf("%d contours, %d sides, notes %q", len(d.Contours), len(d.Contours[0]), d.Notes)
			}
			for _, p := range d.Contours[0] {
				if u := p.Dir(0); math.Abs(u.X*u.Y) > 1e-12 {
					t.Errorf("a side from %v to %v leans", p.A, p.B)
				}
			}
		})
	}
	// A tooth's flank of a small gear, the involute of a base circle of 1 mm from roll angle 0.25 to 0.75
	// in chords of about 2.3 µm, and one from 0 whose first chords have only the last digit of the file.
	// Seen from the centre it sweeps ½∫(x dy - y dx) = ½∫a² da, since (x, y) = (cos a + a sin a,
	// sin a - a cos a). What is left to the chords and to the digits is below 0.1 µm over 0.25 mm.
	for _, from := range []float64{0.25, 0} {
		d := "M0 0"
		for i := 0; i <= 108; i++ {
			a := math.Sqrt(from*from + (0.75*0.75-from*from)*float64(i)/108)
			if from == 0 {
				a = 0.75 * float64(i) / 108
			}
			s, c := math.Sincos(a)
			d += "L" + coordinate(c+a*s) + " " + coordinate(s-a*c)
		}
		got := read(t, d+"Z", Options{Unit: "mm"})
		near.To(t, "the flank's area", area(got), (0.75*0.75*0.75-from*from*from)/6, 1e-5)
		for _, n := range got.Notes {
			if strings.Contains(n, "joined") {
				t.Errorf("it says %q of a drawing without a gap", n)
			}
		}
	}
}

// TestWallBesideChords: a straight wall that runs smoothly into fine chords stays
// straight; the chords become their arc, of R 0.5 and a quarter of a turn.
func TestWallBesideChords(t *testing.T) {
	for _, n := range []int{20, 100, 400} {
		d := "M0 0H1"
		for i := 1; i <= n; i++ {
			s, c := math.Sincos(math.Pi / 2 * float64(i) / float64(n))
			d += "L" + coordinate(1+0.5*s) + " " + coordinate(0.5-0.5*c)
		}
		got := read(t, d+"V1H0Z", Options{Unit: "mm"})
		walls, arcs := 0, 0
		for _, p := range got.Contours[0] {
			switch {
			case p.R == 0 && p.A.Y == 0 && p.B.Y == 0 && math.Abs(p.Len()-1) < 1e-4:
				walls++
			case p.R != 0:
				arcs++
				near.To(t, "the radius", p.R, 0.5, 2e-3)
			}
		}
		if walls != 1 || arcs == 0 || arcs > 6 {
			t.Errorf("%d chords: %d walls, %d arcs, %v", n, walls, arcs, got.Contours[0])
		}
		near.To(t, "the area", area(got), 1.5-(0.25-math.Pi/16), 2e-6)
	}
}

// TestSpecks: edges below 0.1 µm are noise of the digits and are left out; a curve
// made of nothing else keeps its shape.
func TestSpecks(t *testing.T) {
	for _, c := range []reading{
		{name: "a speck in a side", text: "M0 0H5L5 -0.00005H10V10H0Z", unit: "mm", area: 100, contours: 1, said: "1 piece shorter than 0.1 µm left out"},
		{name: "a step of 0.2 µm", text: "M0 0H5L5 -0.0002H10V10H0Z", unit: "mm", area: 100.001, contours: 1, silent: true},
		{name: "the last side is a speck", text: "M0 0H10V10H0V0.00005Z", unit: "mm", area: 100, contours: 1, said: "1 piece shorter"},
	} {
		t.Run(c.name, c.check)
	}
	// A circle of R 0.1 mm in chords of 0.05 µm, and no chord taken for an arc.
	d := "M0.1 0"
	const n = 12566
	for i := 1; i < n; i++ {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		d += "L" + strconv.FormatFloat(0.1*c, 'f', 9, 64) + " " + strconv.FormatFloat(0.1*s, 'f', 9, 64)
	}
	got := read(t, d+"Z", Options{Unit: "mm", Chords: -1})
	near.To(t, "the circle's area", area(got), math.Pi*0.01, 1e-7)
	if k := len(got.Contours[0]); k < 4000 || k > 6400 {
		t.Errorf("%d chords are left", k)
	}
}

// TestWeld: of ends that meet nothing the nearest are joined, and no others.
func TestWeld(t *testing.T) {
	for _, c := range []reading{
		{name: "a gap of 4 µm", text: groups(square(0.004)...), area: 100, contours: 1, said: "ends up to 4.0 µm apart were joined; the tolerance is 5.0 µm"},
		{name: "a gap of 6 µm", text: groups(square(0.006)...), contours: 0, said: "the nearest other is 0.0060 mm away"},
		{name: "an arc of a turn less 4 µm", text: groups("0 ARC|10 0|20 0|40 2|50 0|51 359.8854"), area: 4 * math.Pi, contours: 1, said: "an arc of almost a turn was closed"},
		{name: "a large arc that ends 4 µm off", text: groups("0 ARC|10 0|20 0|40 2|50 10|51 350", line(2*math.Cos(math.Pi/18), 2*math.Sin(math.Pi/18)+0.004, 2*math.Cos(math.Pi/18), -2*math.Sin(math.Pi/18))), area: 4*math.Pi - 2*(math.Pi/9-math.Sin(math.Pi/9)), contours: 1, said: "ends up to 4.0 µm apart"},
		{name: "two ends beside a corner", text: groups(line(0, 0, 10, 0), line(10, 0, 10, 10), line(10, 10, 0, 10), line(0, 10, 0, 0.003), line(0.002, 0, 0.002, -3)), contours: 1, area: 99.99, said: "1 piece ends in the air"},
	} {
		t.Run(c.name, c.check)
	}
}

// TestWordsSilent: words that mean something else than they seem to.
func TestWordsSilent(t *testing.T) {
	sq := "G01 X10 Y0\nX10 Y10\nX0 Y10\nX0 Y0\n"
	for _, c := range []reading{
		{name: "arc centre as a place", text: "G21 G90 G90.1\nG00 X10 Y0\nG03 X0 Y10 I0 J0\nG03 X-10 Y0 I0 J0\nG01 X10 Y0\n", area: math.Pi * 50, contours: 1},
		{name: "arc centre as a place, in increments", text: "G21 G91 G90.1\nG00 X10 Y0\nG03 X-10 Y10 I0 J0\nG03 X-10 Y-10 I0 J0\nG01 X20 Y0\n", area: math.Pi * 50, contours: 1},
		{name: "arc centre as a place, half of it", text: "G21 G90 G90.1\nG00 X10 Y0\nG03 X0 Y10 I0\n", refused: "line 3: with G90.1 an arc wants both I and J"},
		{name: "arc centre from the start", text: "G21 G90 G91.1\nG00 X0 Y0\n" + sq, area: 100, contours: 1, silent: true},
		{name: "increments before arc centre words", text: "G21 G90\nG91.1\nG00 X5 Y5\nG01 X15 Y5\nX15 Y15\nX5 Y15\nX5 Y5\n", area: 100, contours: 1},
		{name: "a number beside another", text: "G21 G0.6 X0 Y0\n" + sq, refused: "line 1: G0.6 is not read"},
		{name: "dwell half way", text: "G21 G90\nG01 X10 Y0\nX10 Y5\nG04 X3\nX10 Y10\nX0 Y10\nX0 Y0\n", area: 100, contours: 1, silent: true},
		{name: "dwell by P and U", text: "G21 G90\nG01 X10 Y0\nG04 P3\nX10 Y10\nG04 U2.5\nX0 Y10\nX0 Y0\n", area: 100, contours: 1, silent: true},
		{name: "dwell and a move in one block", text: "G21 G90\nG01 X10 Y0\nG04 G01 X3\n", refused: "line 3: G4 and G1 stand in one block"},
		{name: "a place renamed in the middle", text: "G21 G90\nG92 X0 Y0\n" + sq + "G00 X20 Y0\nG92 X0 Y0\n" + sq, area: 200, contours: 2, said: "G92 in line 8"},
		{name: "the whole shift", text: "G21 G90\nG92.1\n", refused: "line 2: G92.1 is not read"},
		{name: "home at the end", text: "G21 G90\n" + sq + "G28 X0 Y30\n", area: 100, contours: 1, said: "G28 in line 6 leaves for a place that the text does not tell"},
		{name: "home and back", text: "G21 G90\n" + sq + "G28 X0 Y30\nG00 X20 Y0\nG01 X30 Y0\nX30 Y10\nX20 Y0\n", area: 150, contours: 2, said: "G28 in line 6"},
		{name: "home and a cut from there", text: "G21 G90\n" + sq + "G28 X0 Y0\nG01 X30 Y0\n", refused: "line 7: a cut that begins where the text does not tell, after G28 in line 6"},
		{name: "home and half a way back", text: "G21 G90\n" + sq + "G30 X0 Y0\nG00 X30\nG01 X40\n", refused: "line 8: a cut that begins where the text does not tell, after G30"},
		{name: "in the machine's own places", text: "G21 G90\n" + sq + "G53 X0 Y0\nG01 X30 Y0\n", refused: "after G53"},
		{name: "a second origin", text: "G21 G90 G54\n" + sq + "G55\n" + sq, refused: "line 6: G55 after G54"},
		{name: "one origin", text: "G21 G90 G54\n" + sq, area: 100, contours: 1},
		{name: "turned places", text: "G21 G90\nG68 X0 Y0 R30\n" + sq, refused: "line 2: G68 is not read: it may change what X and Y mean"},
		{name: "scaled places", text: "G21 G90\nG51 X0 Y0 P2\n" + sq, refused: "line 2: G51 is not read"},
		{name: "arcs in another plane", text: "G21 G90 G18\n" + sq, refused: "line 1: G18 is not read"},
		{name: "places by angle", text: "G21 G90 G16\n" + sq, refused: "line 1: G16 is not read"},
		{name: "a canned cycle", text: "G21 G90\nG81 X5 Y5 R1\n", refused: "line 2: G81 is not read"},
		{name: "a table set by the text", text: "G21 G90\nG10 L2 P1 X5 Y5\n" + sq, refused: "line 2: G10 is not read"},
		{name: "another program called", text: "G21 G90\n" + sq + "M98 P2000\n", refused: "line 6: M98 calls another program"},
		{name: "a corner rounded by R", text: "G21 G90\nG01 X10 Y0 R2\nX10 Y10\nX0 Y10\nX0 Y0\n", refused: "line 2: R2 in a straight block"},
		{name: "a corner rounded by ,R", text: "G21 G90\nG01 X10 Y0,R2\nX10 Y10\nX0 Y10\nX0 Y0\n", refused: "line 2: R2 in a straight block"},
		{name: "a corner cut by ,C", text: "G21 G90\nG01 X10 Y0 ,C2\nX10 Y10\nX0 Y10\nX0 Y0\n", refused: "line 2: C2 in a block that moves"},
		{name: "a cutting condition", text: "G21 G90\nC001\n" + sq, area: 100, contours: 1, said: "1 words C"},
		{name: "inches after millimetres", text: "G21 G90\n" + sq + "G20\n", refused: "line 6: G20 after numbers in mm"},
		{name: "millimetres after a move", text: "G90\n" + sq + "G21\n", unit: "mm", refused: "line 6: G21 after numbers without a unit"},
		{name: "inches, then millimetres before any number", text: "G20\nG21 G90\n" + sq, area: 100, contours: 1, silent: true},
		{name: "optional blocks", text: "G21 G90\nG01 X10 Y0\n/X15 Y5\n/2 N7 X15 Y8\nX10 Y10\nX0 Y10\nX0 Y0\n", area: 100 + 5*(5.0+3+8+2-5-3)/2*0 + 32.5, contours: 1, said: "2 blocks begin with / and were taken, the first in line 3"},
		{name: "numbers without a point", text: "G21 G90\nG01 X10000 Y0\nX10000 Y10000\nX0 Y10000\nX0 Y0\n", area: 1e8, contours: 1, said: "a control may read 10000 as 10.000"},
		{name: "numbers with a point", text: "G21 G90\nG01 X800. Y0.\nX800. Y800.\nX0. Y800.\nX0. Y0.\n", area: 640000, contours: 1, silent: true},
		{name: "the same word twice", text: "G21 G90\nG01 X1 X10 Y0\n", refused: "line 2: X stands twice in one block"},
		{name: "two motions in one block", text: "G21 G90\nG00 G01 X10 Y0\n", refused: "line 2: G0 and G1 stand in one block"},
		{name: "old line ends", text: strings.ReplaceAll("G21 G90\n"+sq, "\n", "\r"), area: 100, contours: 1, silent: true},
	} {
		t.Run(c.name, c.check)
	}
}

// TestSVGSilent: shapes that are not drawn, and sizes that are not those of the
// numbers. What is right stands in the SVG recommendation (SVG 2, chapters 5, 8 and 11).
func TestSVGSilent(t *testing.T) {
	const p = `<path d="M0 0h10v10h-10z"/>`
	const q = `<path d="M20 0h10v10h-10z"/>`
	in := func(body string) string { return `<svg>` + body + `</svg>` }
	of := func(head, body string) string { return `<svg ` + head + `>` + body + `</svg>` }
	for _, c := range []reading{
		{name: "defs", text: in(`<defs>` + q + `</defs>` + p), unit: "mm", area: 100, contours: 1, said: "not read: 1 in defs"},
		{name: "clipPath", text: in(`<clipPath id="c">` + q + `</clipPath>` + p), unit: "mm", area: 100, contours: 1, said: "1 in clipPath"},
		{name: "symbol", text: in(`<symbol><g>` + q + `</g></symbol>` + p), unit: "mm", area: 100, contours: 1, said: "1 in symbol"},
		{name: "mask", text: in(`<mask>` + q + `</mask>` + p), unit: "mm", area: 100, contours: 1, said: "1 in mask"},
		{name: "marker", text: in(`<marker>` + q + `</marker>` + p), unit: "mm", area: 100, contours: 1, said: "1 in marker"},
		{name: "pattern", text: in(`<pattern>` + q + `</pattern>` + p), unit: "mm", area: 100, contours: 1, said: "1 in pattern"},
		{name: "display none", text: in(`<g display="none">` + q + `</g>` + p), unit: "mm", area: 100, contours: 1, said: "1 hidden"},
		{name: "display none in a style", text: in(`<path style="fill:none; display : none" d="M20 0h10v10z"/>` + p), unit: "mm", area: 100, contours: 1, said: "1 hidden"},
		{name: "visibility hidden", text: in(`<g visibility="hidden">` + q + `<g visibility="visible">` + p + `</g></g>`), unit: "mm", area: 100, contours: 1, said: "1 hidden"},
		{name: "opacity of nothing", text: in(`<g style="opacity:0">` + q + `</g>` + p), unit: "mm", area: 100, contours: 1, said: "1 hidden"},
		{name: "transform in a style", text: in(`<path style="transform:scale(2)" d="M0 0h10v10h-10z"/>`), unit: "mm", refused: "line 1: transform in a style is not read"},
		{name: "transform in a style sheet", text: in(`<style>.a{transform:scale(2)}</style>` + p), unit: "mm", refused: "line 1: transform in a style sheet is not read"},
		{name: "display in a style sheet", text: in("\n<style><![CDATA[ .a > b { display:none } ]]></style>" + p), unit: "mm", refused: "line 2: display in a style sheet is not read"},
		{name: "a radius in a style sheet", text: in(`<style>circle{r:5}</style>` + p), unit: "mm", refused: "r in a style sheet is not read"},
		{name: "a style sheet of colours", text: in(`<style>/* transform: none */ .a{fill:none;stroke:#000;text-transform:none}</style>` + p), unit: "mm", area: 100, contours: 1},
		{name: "transform on svg", text: of(`transform="scale(2)"`, p), unit: "mm", area: 400, contours: 1},
		{name: "transform on a", text: in(`<a transform="scale(2)">` + p + `</a>`), unit: "mm", area: 400, contours: 1},
		{name: "transform with an origin", text: in(`<g transform="rotate(90)" transform-origin="5 5">` + p + `</g>`), unit: "mm", refused: "transform-origin is not read"},
		{name: "transform with a unit", text: in(`<g transform="rotate(0.25turn)">` + p + `</g>`), unit: "mm", refused: "is not read"},
		{name: "svg in svg", text: of(`width="100mm" height="100mm" viewBox="0 0 100 100"`, `<svg x="10" y="10" width="20" height="20" viewBox="0 0 10 10">`+p+`</svg>`), area: 400, contours: 1},
		{name: "svg in svg, after it", text: of(`width="100mm" height="100mm" viewBox="0 0 100 100"`, `<svg width="20" height="20" viewBox="0 0 10 10"></svg>`+p), area: 100, contours: 1},
		{name: "svg in svg of percents", text: of(`width="100mm" height="100mm" viewBox="0 0 100 100"`, `<svg width="50%" height="50%" viewBox="0 0 10 10">`+p+`</svg>`), area: 2500, contours: 1},
		{name: "height decides", text: of(`width="100mm" height="50mm" viewBox="0 0 100 100"`, p), area: 25, contours: 1},
		{name: "squeezed", text: of(`width="100mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="none"`, p), area: 50, contours: 1},
		{name: "slice", text: of(`width="100mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="xMidYMin slice"`, p), area: 100, contours: 1},
		{name: "squeezed without a unit", text: of(`width="100" height="50" viewBox="0 0 100 100" preserveAspectRatio="none"`, p), unit: "mm", refused: "squeezes the drawing"},
		{name: "height alone", text: of(`height="50mm" viewBox="0 0 100 100"`, p), area: 25, contours: 1},
		{name: "width in cm and height in mm", text: of(`width="10cm" height="50mm" viewBox="0 0 100 100"`, p), area: 25, contours: 1},
		{name: "a view of no use", text: of(`width="100mm" height="50mm" viewBox="0 0 x 100"`, p), refused: "the viewBox “0 0 x 100”"},
		{name: "a length with a unit", text: in(`<rect x="3mm" y="0" width="10" height="10"/>`), unit: "mm", refused: "line 1: x is “3mm”"},
		{name: "a percentage", text: in(`<circle cx="5%" cy="0" r="10"/>`), unit: "mm", refused: "cx is “5%”"},
		{name: "em", text: in("\n<line x1=\"0\" y1=\"0\" x2=\"1em\" y2=\"3\"/>"), unit: "mm", refused: "line 2: x2 is “1em”"},
		{name: "px", text: in(`<rect x="3px" y="0" width="10px" height="10"/>`), unit: "mm", area: 100, contours: 1},
		{name: "points that are none", text: in(`<polygon points="0,0 10,0 10,1O 0,10"/>`), unit: "mm", refused: "the points"},
		{name: "points without a partner", text: in(`<polygon points="0,0 10,0 10"/>`), unit: "mm", refused: "the points"},
		{name: "a > in a value", text: in(`<path id="a>b" d="M0 0h10v10h-10z"/>`), unit: "mm", area: 100, contours: 1},
		{name: "names with a prefix", text: `<svg:svg xmlns:svg="http://www.w3.org/2000/svg"><svg:g transform="scale(2)"><svg:path d="M0 0h10v10h-10z"/></svg:g></svg:svg>`, unit: "mm", area: 400, contours: 1},
		{name: "names of another language", text: `<svg xmlns:o="urn:other"><o:path d="M0 0h1v1h-1z"/>` + p + `</svg>`, unit: "mm", area: 100, contours: 1},
		{name: "a line end after the name", text: "<svg><path\nd=\"M0 0h10v10h-10z\"/></svg>", unit: "mm", area: 100, contours: 1},
		{name: "a switch", text: in(`<switch>` + p + q + `</switch>` + p), unit: "mm", area: 100, contours: 1, said: "2 in switch"},
		{name: "clipped", text: in(`<g clip-path="url(#c)">` + p + `</g>`), unit: "mm", area: 100, contours: 1, said: "clip-path is passed over"},
		{name: "groups that end within a path", text: in(`<g transform="scale(2)"><path d="M0 0h1v1h-1z"></path></g>` + p), unit: "mm", area: 104, contours: 2},
	} {
		t.Run(c.name, c.check)
	}
}

// TestDXFSilent: what the DXF reference gives a meaning that reading in plan would miss.
func TestDXFSilent(t *testing.T) {
	layered := func(name, use, flags string) string {
		return "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\n" + name + "\n70\n" + flags + "\n62\n7\n0\nENDTAB\n0\nENDSEC\n" +
			strings.Replace(with("0 CIRCLE|8 "+use+"|10 5|20 5|40 1"), "0\n0\nSECTION", "0\nSECTION", 1)
	}
	blocks := "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nHole\n10\n0\n20\n0\n0\nLWPOLYLINE\n90\n3\n70\n1\n10\n0\n20\n0\n10\n1\n20\n0\n10\n0\n20\n1\n0\nENDBLK\n0\nENDSEC\n"
	for _, c := range []reading{
		{name: "invisible", text: with("0 CIRCLE|60 1|10 5|20 5|40 1"), area: 100, contours: 1, said: "not read: 1 invisible"},
		{name: "visible by name", text: with("0 LWPOLYLINE|60 0|90 3|70 1|10 2|20 2|10 3|20 2|10 2|20 3"), area: 100.5, contours: 2},
		{name: "frozen, in another case", text: layered("Notes", "NOTES", "1"), area: 100, contours: 1, said: "on layers that are switched off"},
		{name: "a block by another case", text: blocks + with("0 INSERT|2 HOLE|10 2|20 2"), area: 100.5, contours: 2},
		{name: "an ellipse that leans", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|210 0|220 1|230 0"), refused: "ELLIPSE does not lie in the plane"},
		{name: "an ellipse that leans a little", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|210 0|220 0.6|230 0.8"), refused: "ELLIPSE does not lie in the plane"},
		{name: "an ellipse whose axis climbs", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|31 1|40 0.5"), refused: "ELLIPSE does not lie in the plane"},
		{name: "a circle that leans, its height not given", text: with("0 CIRCLE|10 5|20 5|40 2|210 1|220 0"), refused: "CIRCLE does not lie in the plane"},
		{name: "a line that climbs", text: with("0 LINE|10 0|20 0|30 0|11 3|21 0|31 4"), refused: "LINE does not lie in the plane"},
		{name: "a polyline that climbs", text: groups("0 POLYLINE|66 1|70 9", "0 VERTEX|10 0|20 0|30 0", "0 VERTEX|10 9|20 0|30 5", "0 VERTEX|10 9|20 9|30 5", "0 SEQEND"), refused: "POLYLINE does not lie in the plane"},
		{name: "a spline that climbs", text: groups("0 SPLINE|71 2|40 0|40 0|40 0|40 1|40 1|40 1|10 0|20 0|30 0|10 1|20 1|30 2|10 2|20 0|30 0"), refused: "SPLINE does not lie in the plane"},
		{name: "two heights", text: with("0 LWPOLYLINE|90 3|70 1|38 5|10 2|20 2|10 3|20 2|10 2|20 3"), area: 100.5, contours: 2, said: "pieces lie at heights from Z 0 to Z 5: all are read as seen from above"},
		{name: "one height", text: groups("0 LWPOLYLINE|90 3|70 1|38 5|10 2|20 2|10 3|20 2|10 2|20 3"), area: 0.5, contours: 1, silent: true},
		{name: "old line ends", text: strings.ReplaceAll(with(), "\n", "\r"), area: 100, contours: 1, silent: true},
		{name: "knots that are all nothing", text: groups("0 SPLINE|71 2|40 0|40 0|40 0|40 0|40 0|40 0|10 0|20 0|10 1|20 1|10 2|20 0"), refused: "a spline whose knots are all alike"},
		{name: "knots that are all nothing, beside a square", text: with("0 SPLINE|71 2|40 0|40 0|40 0|40 0|40 0|40 0|10 0|20 0|10 1|20 1|10 2|20 0"), refused: "a spline whose knots are all alike"},
		{name: "an ellipse from very far", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|41 1e18|42 0"), refused: "an ellipse from 1e+18 to 0 radians"},
		{name: "an ellipse from far", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|41 1e10|42 0"), refused: "an ellipse from 1e+10 to 0 radians"},
		{name: "an ellipse of two turns", text: with("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|41 0|42 12.566370614359172"), refused: "an ellipse from 0 to 12.5664 radians"},
		{name: "an ellipse over its start", text: groups("0 ELLIPSE|10 5|20 5|11 2|21 0|40 0.5|41 3|42 1", line(5+2*math.Cos(1), 5+math.Sin(1), 5, 5), line(5, 5, 5+2*math.Cos(3), 5+math.Sin(3))), area: 2*math.Pi - 2*(3-1)/2.0, contours: 1},
		{name: "an array of 2^32 by 2^32", text: blocks + with("0 INSERT|2 Hole|10 0|20 0|70 4294967296|71 4294967296"), refused: "is inserted 4294967296 by 4294967296 times"},
		{name: "an array of half", text: blocks + with("0 INSERT|2 Hole|10 2|20 2|70 1e300|71 1"), refused: "is inserted 1e+300 by 1 times"},
	} {
		t.Run(c.name, c.check)
	}
}
