package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/testdata/spent"
)

// square is a closed square of ten as four lines.
func square(d float64) []string {
	return []string{line(0, 0, 10, 0), line(10, 0, 10, 10), line(10, 10, 0, 10), line(0, 10, 0, d)}
}

func with(more ...string) string { return groups(append(square(0), more...)...) }

// inserts is a block that inserts the next, deep times.
func inserts(deep int, self bool) string {
	var s strings.Builder
	s.WriteString("0\nSECTION\n2\nBLOCKS\n")
	for i := range deep {
		next := i + 1
		if self {
			next = 0
		}
		fmt.Fprintf(&s, "0\nBLOCK\n2\nB%d\n10\n0\n20\n0\n0\nINSERT\n2\nB%d\n10\n0\n20\n0\n0\nENDBLK\n", i, next)
	}
	fmt.Fprintf(&s, "0\nBLOCK\n2\nB%d\n10\n0\n20\n0\n0\nLINE\n10\n0\n20\n0\n11\n1\n21\n0\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nB0\n10\n0\n20\n0\n0\nENDSEC\n0\nEOF\n", deep)
	return s.String()
}

// TestHostile reads what nobody should send. Each case has a message, or is read
// with a note; none takes long, and none gives a picture in silence.
func TestHostile(t *testing.T) {
	mm := Options{Unit: "mm"}
	cases := []struct {
		name, text string
		o          Options
		want       string // part of the error, of a note or of a named place
		contours   int    // when it is read
	}{
		{"empty", "", mm, "the drawing is empty", 0},
		{"spaces", " \n\t\r\n", mm, "the drawing is empty", 0},
		{"binary", "BINARY\x00\x01\x02", mm, "no text but a binary file", 0},
		{"archive", "PK\x03\x04abc", mm, "binary file", 0},
		{"UTF-16 little", "\xff\xfe0\x00\n\x00", mm, "UTF-16", 0},
		{"UTF-16 big", "\xfe\xff\x000", mm, "UTF-16", 0},
		{"byte order mark", "\ufeff" + with(), Options{}, "", 1},
		{"no unit", strings.Replace(with(), "70\n4\n", "70\n0\n", 1), Options{}, "does not say its unit", 0},
		{"inch in the header", strings.Replace(with(), "70\n4\n", "70\n1\n", 1), Options{}, "", 1},
		{"header against reader", with(), Options{Unit: "in"}, "the drawing says mm, you say in", 1},
		{"unit unknown", with(), Options{Unit: "furlong"}, "does not say its unit", 0},
		{"truncated after a code", strings.TrimSuffix(with(), "EOF\n"), mm, "it is cut off", 0},
		{"truncated in an entity", with()[:180], mm, "", 0},
		{"no EOF", strings.TrimSuffix(with(), "0\nEOF\n"), mm, "EOF is missing", 1},
		{"no ENDSEC", strings.Replace(with(), "0\nENDSEC\n0\nEOF\n", "0\nEOF\n", 1), mm, "", 1},
		{"code is no number", strings.Replace(with(), "  10\n0", "  x0\n0", 1), mm, "a group code is wanted, this is “x0”", 0},
		{"code is huge", strings.Replace(with(), "  10\n0", "  99999\n0", 1), mm, "a group code is wanted", 0},
		{"value is NaN", strings.Replace(with(), "  11\n10\n", "  11\nNaN\n", 1), mm, "a number is wanted, this is “NaN”", 0},
		{"value is infinite", strings.Replace(with(), "  11\n10\n", "  11\ninf\n", 1), mm, "a number is wanted", 0},
		{"value with a comma", strings.Replace(with(), "  11\n10\n", "  11\n10,5\n", 1), mm, "a number is wanted, this is “10,5”", 0},
		{"value is hexadecimal", strings.Replace(with(), "  11\n10\n", "  11\n0x10\n", 1), mm, "a number is wanted", 0},
		{"value is 1e400", strings.Replace(with(), "  11\n10\n", "  11\n1e400\n", 1), mm, "a number is wanted", 0},
		{"value is 1e300", strings.Replace(with(), "  11\n10\n", "  11\n1e300\n", 1), mm, "not a number that a drawing can have", 0},
		{"exponent of old programs", strings.Replace(with(), "  11\n10\n", "  11\n1.D+1\n", 1), mm, "", 1},
		{"group missing", groups("0 LINE|10 0|20 0|11 1"), mm, "LINE lacks its group 21", 0},
		{"CRLF and spaces", strings.ReplaceAll(with(), "\n", " \r\n"), mm, "", 1},
		{"lines shuffled", groups(line(10, 10, 0, 10), line(0, 0, 10, 0), line(0, 10, 0, 0), line(10, 0, 10, 10)), mm, "", 1},
		{"gap of half a micrometre", groups(square(0.0005)...), mm, "were joined", 1},
		{"gap of four micrometres", groups(square(0.004)...), mm, "were joined", 1},
		{"gap of half a millimetre", groups(square(0.5)...), mm, "the nearest other is 0.5000 mm away, at (0, 0)", 0},
		{"line without length", with(line(3, 3, 3, 3)), mm, "pieces without length", 1},
		{"line of 1e-9", with(line(10, 10, 10+1e-9, 10)), mm, "", 1},
		{"twice the same", with(line(0, 0, 10, 0)), mm, "1 pieces lie exactly on others", 1},
		{"twice, the other way", with(line(10, 0, 0, 0)), mm, "1 pieces lie exactly on others", 1},
		{"half on another", with(line(5, 0, 15, 0), line(15, 0, 15, -5), line(15, -5, 5, -5), line(5, -5, 5, 0)), mm, "lie on each other", 2},
		{"a line in the air", with(line(10, 10, 14, 14)), mm, "1 piece ends in the air: left out, at (10, 10)", 1},
		{"a line across", with(line(-5, 5, 15, 5)), mm, "an end that meets nothing", 1},
		{"a T of three ends", groups(append(square(0), line(0, 0, -4, 0), line(-4, 0, -4, -4))...), mm, "end in the air", 1},
		{"crosses itself", groups(line(0, 0, 10, 10), line(10, 10, 10, 0), line(10, 0, 0, 10), line(0, 10, 0, 0)), mm, "crosses itself", 1},
		{"two squares that touch", with(line(10, 10, 20, 10), line(20, 10, 20, 20), line(20, 20, 10, 20), line(10, 20, 10, 10)), mm, "", 2},
		{"closed flag left out", groups("0 LWPOLYLINE|90 5|70 0|10 0|20 0|10 9|20 0|10 9|20 9|10 0|20 9|10 0|20 0"), mm, "", 1},
		{"closed twice", groups("0 LWPOLYLINE|90 5|70 1|10 0|20 0|10 9|20 0|10 9|20 9|10 0|20 9|10 0|20 0"), mm, "", 1},
		{"wrong count of vertices", groups("0 LWPOLYLINE|90 7|70 1|10 0|20 0|10 9|20 0|10 9|20 9"), mm, "says 7 vertices and has 3", 1},
		{"vertex without x", groups("0 LWPOLYLINE|90 1|70 1|20 0|10 9|20 0"), mm, "vertex has no x", 0},
		{"bulge of 1e9", groups("0 LWPOLYLINE|90 2|70 1|10 0|20 0|42 1e9|10 9|20 0"), mm, "larger than any part", 0},
		{"bulge of 1e-12", groups("0 LWPOLYLINE|90 3|70 1|10 0|20 0|42 1e-12|10 9|20 0|10 9|20 9"), mm, "", 1},
		{"bulge of 26.6", groups("0 LWPOLYLINE|90 2|70 1|10 0|20 0|42 26.6|10 0.1|20 0"), mm, "", 1},
		{"bulge of NaN", groups("0 LWPOLYLINE|90 2|70 1|10 0|20 0|42 NaN|10 9|20 0"), mm, "a number is wanted", 0},
		{"radius of zero", groups("0 CIRCLE|10 0|20 0|40 0"), mm, "has a radius of 0", 0},
		{"radius below zero", groups("0 ARC|10 0|20 0|40 -2|50 0|51 90"), mm, "has a radius of -2", 0},
		{"arc that ends where it starts", groups("0 ARC|10 0|20 0|40 2|50 30|51 30"), mm, "", 1},
		{"arc of almost a turn", groups("0 ARC|10 0|20 0|40 2|50 0|51 359.999", line(2, 0, 2*math.Cos(2*math.Pi*359.999/360), 2*math.Sin(2*math.Pi*359.999/360))), mm, "", 1},
		{"leans", groups("0 CIRCLE|10 0|20 0|40 2|210 0|220 1|230 0"), mm, "does not lie in the plane", 0},
		{"no direction", groups("0 CIRCLE|10 0|20 0|40 2|210 0|220 0|230 0"), mm, "does not lie in the plane", 0},
		{"ellipse without width", groups("0 ELLIPSE|10 0|20 0|11 2|21 0|40 0"), mm, "no width", 0},
		{"spline with a knot too few", groups("0 SPLINE|71 2|40 0|40 0|40 0|40 1|40 1|10 0|20 0|10 1|20 1|10 2|20 0"), mm, "do not go together", 0},
		{"spline whose knots fall", groups("0 SPLINE|71 2|40 0|40 0|40 1|40 0|40 1|40 1|10 0|20 0|10 1|20 1|10 2|20 0"), mm, "do not rise", 0},
		{"spline by fit points", groups("0 SPLINE|71 3|74 2|11 0|21 0|11 1|21 1"), mm, "fit points only", 0},
		{"spline with a weight of zero", groups("0 SPLINE|71 2|40 0|40 0|40 0|40 1|40 1|40 1|41 1|41 0|41 1|10 0|20 0|10 1|20 1|10 2|20 0"), mm, "weight of zero", 0},
		{"spline of degree one", groups("0 SPLINE|71 1|40 0|40 0|40 1|40 2|40 3|40 3|10 0|20 0|10 5|20 0|10 5|20 5|10 0|20 0"), mm, "", 1},
		{"block that is not there", groups("0 INSERT|2 NONE|10 0|20 0"), mm, "inserted and not there", 0},
		{"block in itself", inserts(1, true), mm, "or in themselves", 0},
		{"blocks a million deep", inserts(100_000, false), mm, "deep, or in themselves", 0},
		{"block that does not end", "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n10\n0\n20\n0\n0\nENDSEC\n0\nEOF\n", mm, "does not end", 0},
		{"insert of no scale", "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nA\n10\n0\n20\n0\n41\n0\n0\nENDSEC\n0\nEOF\n", mm, "scale of zero", 0},
		{"insert a billion times", "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nA\n0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nA\n10\n0\n20\n0\n70\n30000\n71\n30000\n0\nENDSEC\n0\nEOF\n", mm, "by 30000 times", 0},
		{"only text", groups("0 TEXT|10 0|20 0|40 2|1 <script>alert(1)</script>"), mm, "holds no line and no arc; it holds TEXT", 0},
		{"text beside", with("0 TEXT|10 0|20 0|40 2|1 note", "0 DIMENSION|10 0|20 0"), mm, "not read: 1 TEXT, 1 DIMENSION", 1},
		{"script in a layer's name", groups("0 CIRCLE|8 <script>|10 0|20 0|40 1"), mm, "", 1},
		{"paper space", with("0 CIRCLE|67 1|10 0|20 0|40 1"), mm, "in paper space", 1},
		{"a million away", groups(line(1e6, 1e6, 1e6+9, 1e6), line(1e6+9, 1e6, 1e6, 1e6+9), line(1e6, 1e6+9, 1e6, 1e6)), mm, "", 1},
		{"path without M", "<svg><path d=\"L1 1\"/></svg>", mm, "does not begin with M", 0},
		{"path with a strange letter", "<svg><path d=\"M0 0 K 3\"/></svg>", mm, "is not known", 0},
		{"path that ends early", "<svg><path d=\"M0 0 C1 1\"/></svg>", mm, "wants 6 numbers", 0},
		{"tag that does not close", "<svg><path d=\"M0 0", mm, "a tag that does not close", 0},
		{"remark that does not close", "<svg><!-- x", mm, "a remark that does not close", 0},
		{"transform not read", "<svg><path transform=\"skewX(3)\" d=\"M0 0L1 0L1 1Z\"/></svg>", mm, "is not read", 0},
		{"size without a scale", "<svg width=\"20mm\"><path d=\"M0 0L1 0L1 1Z\"/></svg>", Options{}, "no viewBox", 0},
		{"groups without end", "<svg>" + strings.Repeat("<g>", 300) + "</svg>", mm, "nested more than 200 deep", 0},
		{"entity bomb", "<!DOCTYPE x [<!ENTITY a \"aaaa\">]><svg><path d=\"M0 0L1 0L1 1Z\"/></svg>", mm, "", 1},
		{"arc without centre", "G21\nG1 X1 Y0\nG2 X2 Y2\n", mm, "an arc without I, J or R", 0},
		{"arc that does not reach", "G21\nG1 X0 Y0\nG2 X9 Y0 R1\n", mm, "does not reach", 0},
		{"arc with two radii", "G21\nG1 X1 Y0\nG2 X5 Y5 I1 J0\n", mm, "from its start and", 0},
		{"move without a word", "G21\nX1 Y1\n", mm, "a move without G00", 0},
		{"word without a number", "G21\nG1 X Y1\n", mm, "has no number", 0},
		{"a letter out of the blue", "G21\n§\n", mm, "is no word of a program", 0},
		{"offset words", "G21 G42 D1\nG1 X0 Y0\nX9\nY9\nX0 Y0\n", mm, "offset words", 1},
		{"prose", "Dear customer,\nplease cut this.\n", mm, "", 0},
	}
	if len(cases) < 60 {
		t.Errorf("only %d hostile texts", len(cases))
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var d *Drawing
			var err error
			n := spent.Bytes(func() { d, err = Read(c.text, c.o) })
			if most := 64*len(c.text) + 64<<10; n > most { // in step with its length, whatever it says
				t.Errorf("%d bytes were allocated for a text of %d, %d are the bound", n, len(c.text), most)
			}
			if err != nil {
				if c.contours > 0 {
					t.Fatalf("refused: %v", err)
				}
				if !strings.Contains(err.Error(), c.want) {
					t.Errorf("the message is %q, it should say %q", err, c.want)
				}
				return
			}
			if len(d.Contours) != c.contours {
				t.Errorf("%d contours, %d are wanted; notes %q, open %v", len(d.Contours), c.contours, d.Notes, d.Open)
			}
			said := strings.Join(d.Notes, "\n")
			for _, o := range d.Open {
				said += "\n" + o.Text
			}
			if !strings.Contains(said, c.want) {
				t.Errorf("it says %q, it should say %q", said, c.want)
			}
		})
	}
}

// TestLarge: what is too large is refused at once.
func TestLarge(t *testing.T) {
	if _, err := Read(strings.Repeat("0\nLINE\n", 8<<20), Options{Unit: "mm"}); err == nil || !strings.Contains(err.Error(), "at most 24 MB are read") {
		t.Errorf("%v", err)
	}
	var s strings.Builder
	s.WriteString("M0 0")
	for i := range maxPieces + 10 {
		fmt.Fprintf(&s, "L%d %d", i, i*i%7)
	}
	if _, err := Read(s.String(), Options{Unit: "mm"}); err == nil || !strings.Contains(err.Error(), "more than 100000 pieces") {
		t.Errorf("%v", err)
	}
}

// FuzzRead: no text makes it stop or work longer than the bound, and what is read
// can be written and read again.
func FuzzRead(f *testing.F) {
	for _, s := range []string{with(), with(line(0, 0, 3, 3)), "M0 0L9 0A3 3 0 0 1 9 6H0Z", "M0 0H1V1H1.004V2H0ZM4 4l1 0 0 1z", "G21\nG1 X0 Y0\nX9\nG3 X9 Y6 J3\nG1 X0\nY0\n", "G21 G90.1\nG92 X1\nG1 X9,5 Y0\n/G4 X2\nG28\nG0 X0 Y1\n", inserts(2, false),
		groups("0 ELLIPSE|10 0|20 0|11 2|21 0|40 0.5|41 1|42 5", "0 SPLINE|71 2|40 0|40 0|40 0|40 1|40 1|40 1|10 0|20 0|10 1|20 1|10 2|20 0"),
		`<svg width="9mm" height="4mm" viewBox="0 0 9 9" preserveAspectRatio="none"><defs><path d="M0 0"/></defs><g style="display:none"><rect width="2" height="2"/></g><svg x="1" width="50%" viewBox="0 0 4 4"><circle r="1"/></svg></svg>`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, steps, err := counted(text, Options{Unit: "mm"})
		if steps > mostWork {
			t.Errorf("%d steps were counted, at most %d are allowed", steps, mostWork)
		}
		if err != nil || len(d.Contours) == 0 {
			return
		}
		g := []Named{{"all", d.Contours}}
		for _, out := range []string{DXF(g), SVG(g)} {
			if _, err := Read(out, Options{Unit: "mm"}); err != nil && area(d) > 1e-6 {
				t.Errorf("what was written is refused: %v", err)
			}
		}
	})
}

// TestRoundTrip: what is written in each form reads back as the same contour.
func TestRoundTrip(t *testing.T) {
	d := read(t, "M0 0H8A0.9 0.9 0 0 1 8 1.8H4A1 1 0 0 0 2 1.8H0Z", Options{Unit: "mm"})
	g := []Named{{"part", d.Contours}}
	words := Words(g)
	if first, rest, _ := strings.Cut(words, "\n"); !strings.HasPrefix(first, "NOT A PROGRAM") || strings.ContainsAny(rest, "MFD") {
		t.Errorf("the words begin with %q, or hold M, F or D", first)
	}
	_, words, _ = strings.Cut(words, "\n")
	for name, text := range map[string]string{"dxf": DXF(g), "svg": SVG(g), "words": words} {
		again := read(t, text, Options{})
		if len(again.Contours) != 1 || len(again.Contours[0]) != len(d.Contours[0]) {
			t.Errorf("%s: %d contours, notes %q", name, len(again.Contours), again.Notes)
			continue
		}
		near.To(t, name+" area", math.Abs(again.Contours[0].Area()), math.Abs(d.Contours[0].Area()), 1e-4)
		near.To(t, name+" length", again.Contours[0].Len(), d.Contours[0].Len(), 1e-4)
	}
}
