package unit

import (
	"math"
	"testing"
)

// asPrinted is a print that has one class and one ratio, both invented but for their form; what the
// real tables give is tested in calc, which reads them.
type asPrinted struct{}

func (asPrinted) Class(name string, size float64) (low, high float64, fault string) {
	switch {
	case size > 500:
		return 0, 0, "too large a size"
	case name == "H7":
		return 0, 0.025, ""
	case name == "g6":
		return -0.025, -0.009, ""
	case name == "m6":
		return 0.009, 0.025, ""
	}
	return 0, 0, "no class " + name
}

func (asPrinted) Ratio(figure string) Range {
	if figure == "Rz" {
		return Range{5, 6, 8}
	}
	return Range{}
}

// TestOnPrint: what stands on a print, how it is written back, and the echo.
func TestOnPrint(t *testing.T) {
	for _, c := range []struct {
		text            string
		kind            Kind
		low, likely, hi float64
		canonical, echo string
		sign, limit     string
	}{
		{"R0.15 mm", LengthKind, 0.15, 0.15, 0.15, "0.15 mm", "0.15 mm = 5.91 thou", "R", ""},
		{"R .006\"", LengthKind, 0.1524, 0.1524, 0.1524, ".006 in", ".006 in = 0.1524 mm", "R", ""},
		{".006 in R", LengthKind, 0.1524, 0.1524, 0.1524, ".006 in", ".006 in = 0.1524 mm", "R", ""},
		{"ø0.1 mm", LengthKind, 0.1, 0.1, 0.1, "0.1 mm", "0.1 mm = 3.94 thou", "⌀", ""},
		{"⌀ 0.1 mm", LengthKind, 0.1, 0.1, 0.1, "0.1 mm", "0.1 mm = 3.94 thou", "⌀", ""},
		{"Ø0,1 ±0,01 mm", LengthKind, 0.09, 0.1, 0.11, "0.1 ±0.01 mm", "0.1 ±0.01 mm = 3.54 to 4.33 thou", "⌀", ""},
		{".250\" DIA", LengthKind, 6.35, 6.35, 6.35, ".250 in", ".250 in = 6.35 mm", "⌀", ""},
		{"0.15 mm max", LengthKind, 0.15, 0.15, 0.15, "0.15 mm max", "0.15 mm max = 5.91 thou", "", "max"},
		{"R0.15 mm MAX.", LengthKind, 0.15, 0.15, 0.15, "0.15 mm max", "0.15 mm max = 5.91 thou", "R", "max"},
		{"max R 0.15 mm", LengthKind, 0.15, 0.15, 0.15, "0.15 mm max", "0.15 mm max = 5.91 thou", "R", "max"},
		{"R max 6 thou", LengthKind, 0.1524, 0.1524, 0.1524, "6 thou max", "6 thou max = 0.1524 mm", "R", "max"},
		{"≤ 0.15 mm", LengthKind, 0.15, 0.15, 0.15, "0.15 mm max", "0.15 mm max = 5.91 thou", "", "max"},
		{"0.3 mm min", LengthKind, 0.3, 0.3, 0.3, "0.3 mm min", "0.3 mm min = 11.81 thou", "", "min"},
		{">= 0.3 mm", LengthKind, 0.3, 0.3, 0.3, "0.3 mm min", "0.3 mm min = 11.81 thou", "", "min"},
		{"40 H7 mm", LengthKind, 40, 40, 40.025, "40 mm H7", "40 mm H7 = 40 to 40.025 mm = 1.5748 to 1.5758 in", "", ""},
		{"⌀40H7 mm", LengthKind, 40, 40, 40.025, "40 mm H7", "40 mm H7 = 40 to 40.025 mm = 1.5748 to 1.5758 in", "⌀", ""},
		{"40 mm g6", LengthKind, 39.975, 39.983, 39.991, "40 mm g6", "40 mm g6 = 39.975 to 39.991 mm = 1.5738 to 1.5744 in", "", ""},
		{"40 mm m6", LengthKind, 40.009, 40.017, 40.025, "40 mm m6", "40 mm m6 = 40.009 to 40.025 mm = 1.5752 to 1.5758 in", "", ""},
		{"1.5 in H7", LengthKind, 38.1, 38.1, 38.125, "1.5 in H7", "1.5 in H7 = 1.5 to 1.501 in = 38.1 to 38.125 mm", "", ""},
		{"Ra 0.8 µm", RoughnessKind, 0.8, 0.8, 0.8, "0.8 µm", "0.8 µm = 31.5 µin", "", ""},
		{"32 µin Ra", RoughnessKind, 0.8128, 0.8128, 0.8128, "32 µin", "32 µin = 0.8128 µm", "", ""},
		{"Ra 0.8 µm max", RoughnessKind, 0.8, 0.8, 0.8, "0.8 µm max", "0.8 µm max = 31.5 µin", "", "max"},
		{"U Ra max 0.8 µm", RoughnessKind, 0.8, 0.8, 0.8, "0.8 µm max", "0.8 µm max = 31.5 µin", "", "max"},
		{"Rz 4 µm", RoughnessKind, 0.5, 4.0 / 6, 0.8, "Rz 4 µm", "Rz 4 µm = Ra 0.5 to 0.8 µm = Ra 19.7 to 31.5 µin", "", ""},
		{"Rz max 4 µm", RoughnessKind, 0.5, 4.0 / 6, 0.8, "Rz 4 µm max", "Rz 4 µm max = Ra 0.5 to 0.8 µm = Ra 19.7 to 31.5 µin", "", "max"},
		{"rz 160 µin", RoughnessKind, 0.508, 4.064 / 6, 0.8128, "Rz 160 µin", "Rz 160 µin = Ra 0.508 to 0.813 µm = Ra 20 to 32 µin", "", ""},
		{"N6", RoughnessKind, 0.8, 0.8, 0.8, "N6", "N6 = 0.8 µm = 31.5 µin", "", ""},
		{"Ra N6", RoughnessKind, 0.8, 0.8, 0.8, "N6", "N6 = 0.8 µm = 31.5 µin", "", ""},
		{"VDI 3400 18", RoughnessKind, 0.1 * math.Pow(10, 0.9), 0.1 * math.Pow(10, 0.9), 0.1 * math.Pow(10, 0.9), "VDI 18", "VDI 18 = 0.794 µm = 31.3 µin", "", ""},
		{"vdi 18", RoughnessKind, 0.1 * math.Pow(10, 0.9), 0.1 * math.Pow(10, 0.9), 0.1 * math.Pow(10, 0.9), "VDI 18", "VDI 18 = 0.794 µm = 31.3 µin", "", ""},
	} {
		o := Options{Ranges: true, OnPrint: asPrinted{}}
		rd, err := Read(c.text, c.kind, o)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }; !near(rd.Range.Low, c.low) || !near(rd.Range.Likely, c.likely) || !near(rd.Range.High, c.hi) {
			t.Errorf("%q is %v, want %v %v %v", c.text, rd.Range, c.low, c.likely, c.hi)
		}
		if got := Echo(rd, c.kind); rd.Text != c.canonical || got != c.echo || rd.On.Sign != c.sign || rd.On.Limit != c.limit {
			t.Errorf("%q is written %q, echoes %q, %q %q; want %q, %q, %q %q", c.text, rd.Text, got, rd.On.Sign, rd.On.Limit, c.canonical, c.echo, c.sign, c.limit)
		}
		if again, err := Read(rd.Text, c.kind, o); err != nil || again.Range != rd.Range || again.Text != rd.Text || again.On.Limit != rd.On.Limit {
			t.Errorf("%q read again as %q: %v %q %v", c.text, rd.Text, again.Range, again.Text, err)
		}
	}
}

// TestPrintNotes: what was made of the spelling is said.
func TestPrintNotes(t *testing.T) {
	const rz = "by the table of ratios, common practice; no standard turns one into the other"
	for _, c := range []struct {
		text   string
		kind   Kind
		ranges bool
		want   []string
	}{
		{"0.15 mm max", LengthKind, true, []string{"at most: worked with this value itself"}},
		{"0.3 mm min", LengthKind, true, []string{"at least: worked with this value itself"}},
		{"40 mm g6", LengthKind, true, []string{"the limits are those of ISO 286-1, from memory, place not seen"}},
		{"40 mm H7", LengthKind, true, []string{"the limits are those of ISO 286-1, from memory, place not seen"}},
		{"Ra 0.8 µm max", RoughnessKind, false, []string{"at most: worked with this value itself"}},
		{"Rz 4 µm", RoughnessKind, true, []string{rz}},
		{"Rz 4 µm", RoughnessKind, false, []string{"the smallest Ra by the table of ratios, common practice: it holds the print in any case"}},
	} {
		rd, err := Read(c.text, c.kind, Options{Ranges: c.ranges, OnPrint: asPrinted{}})
		if err != nil || len(rd.Notes) != len(c.want) || rd.Notes[0] != c.want[0] {
			t.Errorf("%q: %q, %v; want %q", c.text, rd.Notes, err, c.want)
		}
		if !c.ranges && !rd.Range.IsPoint() {
			t.Errorf("%q is %v where one value is wanted", c.text, rd.Range)
		}
	}
}

// TestPrintRefused: what was wrong, where, and what would be right.
func TestPrintRefused(t *testing.T) {
	const want = "; write a number and mm, µm, thou, tenths or in, for example 3 thou"
	const rough = "; write a number and µm or µin, or a grade such as N5 or VDI 24"
	for _, c := range []struct {
		text    string
		kind    Kind
		what    string
		at, len int
	}{
		{"R", LengthKind, "there is no number in “R”" + want, 0, 1},
		{"R max", LengthKind, "there is no number in “R max”" + want, 0, 5},
		{"R0.15", LengthKind, "“0.15” has no unit" + want, 1, 4},
		{"R0.15 mn", LengthKind, "“mn” is not a unit of length, perhaps “mm”" + want, 6, 2},
		{"R ⌀0.15 mm", LengthKind, "“R” and “⌀” do not stand together" + want, 0, 12},
		{"max 0.15 mm min", LengthKind, "“max” and “min” do not stand together" + want, 0, 15},
		{"2 to 6 µm max", LengthKind, "“max” does not go with a tolerance, a range or another limit" + want, 0, 14},
		{"40 ±0.1 mm H7", LengthKind, "“H7” does not go with a tolerance, a range or another limit" + want, 0, 14},
		{"40 mm H7 max", LengthKind, "“H7 max” does not go with a tolerance, a range or another limit" + want, 0, 12},
		{"40 H7/g6 mm", LengthKind, "a fit has two classes, of the hole and of the shaft; write that of the part that is cut, as in 40 H7" + want, 3, 5},
		{"40e7 mm", LengthKind, "“40e7” can also be a power of ten; put a space before the class, as in 40 e7" + want, 0, 4},
		{"H7", LengthKind, "“H7” does not start with a number" + want, 0, 2},
		{"3 V", LengthKind, "“V” measures voltage, a length is wanted" + want, 2, 1},
		{"3 mm2", LengthKind, "“2” is not a unit of length" + want, 4, 1},
		{"3 x", LengthKind, "“x” is not a unit of length" + want, 2, 1},
		{"600 mm H7", LengthKind, "too large a size" + want, 0, 9},
		{"40 mm H6", LengthKind, "no class H6" + want, 0, 8},
		{"Ra 0.8", RoughnessKind, "“0.8” has no unit" + rough, 3, 3},
		{"Ra Rz 0.8 µm", RoughnessKind, "“Ra” and “Rz” do not stand together" + rough, 0, 13},
		{"Ra 0.8 µm min", RoughnessKind, "this is a lower limit of roughness; here the largest value that the print allows is wanted" + rough, 0, 14},
		{"L Ra 0.2 µm", RoughnessKind, "this is a lower limit of roughness; here the largest value that the print allows is wanted" + rough, 0, 12},
		{"Rz N6", RoughnessKind, "a number in µm or µin is wanted after Rz" + rough, 0, 5},
		{"Rt 4 µm", RoughnessKind, "a number in µm or µin is wanted after Rt" + rough, 0, 8},
		{"VDI 3400", RoughnessKind, "“VDI 3400” is not a VDI 3400 class; they run from 0 to 45" + rough, 0, 8},
	} {
		rd, err := Read(c.text, c.kind, Options{Ranges: true, OnPrint: asPrinted{}})
		if err == nil {
			t.Errorf("%q was read as %v", c.text, rd)
			continue
		}
		e := err.(*Error)
		if e.Error() != c.what || e.At != c.at || e.Len != c.len {
			t.Errorf("%q says\n%q at %d, %d long; want\n%q at %d, %d long", c.text, e.Error(), e.At, e.Len, c.what, c.at, c.len)
		}
	}
	// Where no print is meant, none of it is read.
	for _, text := range []string{"R0.15 mm", "0.15 mm max", "40 mm H7"} {
		if rd, err := Read(text, LengthKind, Options{Ranges: true}); err == nil {
			t.Errorf("%q was read as %v without a print", text, rd)
		}
	}
	if rd, err := Read("40 mm H7", LengthKind, Options{OnPrint: asPrinted{}}); err == nil {
		t.Errorf("a class was read as %v where one value is wanted", rd)
	}
}

// TestRekeyPrint: another unit for the digits leaves the rest of the print.
func TestRekeyPrint(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		unit string
		want string
	}{
		{"R0.15", LengthKind, "mm", "0.15 mm"}, {"6 mm max", LengthKind, "thou", "6 thou max"}, {"40 m6", LengthKind, "mm", "40 mm m6"},
		{"Rz 4", RoughnessKind, "µm", "Rz 4 µm"}, {"40 +0.02 0", LengthKind, "mm", "40 +0.02/-0 mm"}, {"39.99/40.01", LengthKind, "mm", "39.99 to 40.01 mm"},
	} {
		if got, err := Rekey(c.text, c.kind, c.unit, asPrinted{}); err != nil || got != c.want {
			t.Errorf("Rekey(%q, %q) = %q, %v; want %q", c.text, c.unit, got, err, c.want)
		}
	}
}

// FuzzOnPrint: no text makes it panic, and what is accepted reads back the same.
func FuzzOnPrint(f *testing.F) {
	for _, s := range []string{"R0.15 mm max", "⌀40H7 mm", "Rz max 4 µm", "1-1/4\"", "40 -0.009/-0.025 mm", "39.99/40.01 mm", "≤ ≥", "R", "dia. 3 R", "<= max min", "U L", "40 +0.02 0"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, text string, rough bool) {
		kind := LengthKind
		if rough {
			kind = RoughnessKind
		}
		o := Options{Ranges: true, Unit: kind.Base(), OnPrint: asPrinted{}}
		rd, err := Read(text, kind, o)
		_, _ = Rekey(text, kind, kind.Base(), o.OnPrint)
		if err != nil {
			return
		}
		if !(rd.Range.Low <= rd.Range.Likely && rd.Range.Likely <= rd.Range.High) {
			t.Errorf("%q: %v is not in order", text, rd.Range)
		}
		o.Unit = ""
		if again, err := Read(rd.Text, kind, o); err != nil || again.Range != rd.Range || again.Text != rd.Text {
			t.Errorf("%q was written %q: %v, then %v %q %v", text, rd.Text, rd.Range, again.Range, again.Text, err)
		}
	})
}
