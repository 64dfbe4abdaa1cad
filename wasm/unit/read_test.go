package unit

import (
	"math"
	"testing"
)

// TestRead: what people type, what is understood, and the echo in both systems.
func TestRead(t *testing.T) {
	for _, c := range []struct {
		text            string
		kind            Kind
		low, likely, hi float64
		canonical, echo string
	}{
		{"8 tenths", LengthKind, 0.02032, 0.02032, 0.02032, "8 tenths", "8 tenths = 20.32 µm"},
		{"3 thou", LengthKind, 0.0762, 0.0762, 0.0762, "3 thou", "3 thou = 0.0762 mm"},
		{".0008\"", LengthKind, 0.02032, 0.02032, 0.02032, ".0008 in", ".0008 in = 20.32 µm"},
		{"1/64\"", LengthKind, 0.396875, 0.396875, 0.396875, "1/64 in", "1/64 in = 0.3969 mm"},
		{"1 1/2 in", LengthKind, 38.1, 38.1, 38.1, "1 1/2 in", "1 1/2 in = 38.1 mm"},
		{"20 µm", LengthKind, 0.02, 0.02, 0.02, "20 µm", "20 µm = 0.79 thou"},
		{"20 \u03bcm", LengthKind, 0.02, 0.02, 0.02, "20 µm", "20 µm = 0.79 thou"},
		{"20um", LengthKind, 0.02, 0.02, 0.02, "20 µm", "20 µm = 0.79 thou"},
		{"0,02 mm", LengthKind, 0.02, 0.02, 0.02, "0.02 mm", "0.02 mm = 0.79 thou"},
		{"0.8 thou", LengthKind, 0.02032, 0.02032, 0.02032, "0.8 thou", "0.8 thou = 20.32 µm"},
		{"0,250 mm", LengthKind, 0.25, 0.25, 0.25, "0.250 mm", "0.250 mm = 9.84 thou"},
		{"1,250.5 mm", LengthKind, 1250.5, 1250.5, 1250.5, "1250.5 mm", "1250.5 mm = 49.2323 in"},
		{"1.250,5 mm", LengthKind, 1250.5, 1250.5, 1250.5, "1250.5 mm", "1250.5 mm = 49.2323 in"},
		{"2 µin", RoughnessKind, 0.0508, 0.0508, 0.0508, "2 µin", "2 µin = 0.0508 µm"},
		{"16 uin", RoughnessKind, 0.4064, 0.4064, 0.4064, "16 µin", "16 µin = 0.4064 µm"},
		{"N5", RoughnessKind, 0.4, 0.4, 0.4, "N5", "N5 = 0.4 µm = 15.7 µin"},
		{"n 5", RoughnessKind, 0.4, 0.4, 0.4, "N5", "N5 = 0.4 µm = 15.7 µin"},
		{"VDI 24", RoughnessKind, 1.5848931924611136, 1.5848931924611136, 1.5848931924611136, "VDI 24", "VDI 24 = 1.585 µm = 62.4 µin"},
		{"60°", AngleKind, 60, 60, 60, "60°", "60°"},
		{"60 deg", AngleKind, 60, 60, 60, "60°", "60°"},
		{"1°30'", AngleKind, 1.5, 1.5, 1.5, "1°30′", "1°30′"},
		{"1°30′36″", AngleKind, 1.51, 1.51, 1.51, "1°30′36″", "1°30′36″"},
		{"10 µS/cm", ConductivityKind, 10, 10, 10, "10 µS/cm", "10 µS/cm = 100 kΩ·cm"},
		{"18.2 MΩ·cm", ConductivityKind, 1 / 18.2, 1 / 18.2, 1 / 18.2, "18.2 MΩ·cm", "18.2 MΩ·cm = 0.055 µS/cm"},
		{"100 kohm cm", ConductivityKind, 10, 10, 10, "100 kΩ·cm", "100 kΩ·cm = 10 µS/cm"},
		{"50 to 200 kΩ·cm", ConductivityKind, 5, 12.5, 20, "50 to 200 kΩ·cm", "50 to 200 kΩ·cm = 5 to 20 µS/cm"},
		{"12 in²/h", AreaRateKind, 129.032, 129.032, 129.032, "12 in²/h", "12 in²/h = 129.03 mm²/min"},
		{"130 mm²/min", AreaRateKind, 130, 130, 130, "130 mm²/min", "130 mm²/min = 12.09 in²/h"},
		{"130 mm^2/min", AreaRateKind, 130, 130, 130, "130 mm²/min", "130 mm²/min = 12.09 in²/h"},
		{"68 °F", TemperatureKind, 20, 20, 20, "68 °F", "68 °F = 20 °C"},
		{"2 h 30 min", TimeKind, 9000, 9000, 9000, "2 h 30 min", "2 h 30 min"},
		{"2 to 6 µm", LengthKind, 0.002, 0.004, 0.006, "2 to 6 µm", "2 to 6 µm = 0.08 to 0.24 thou"},
		{"2-6 µm", LengthKind, 0.002, 0.004, 0.006, "2 to 6 µm", "2 to 6 µm = 0.08 to 0.24 thou"},
		{"2–6 µm", LengthKind, 0.002, 0.004, 0.006, "2 to 6 µm", "2 to 6 µm = 0.08 to 0.24 thou"},
		{"2..6 µm", LengthKind, 0.002, 0.004, 0.006, "2 to 6 µm", "2 to 6 µm = 0.08 to 0.24 thou"},
		{"2 µm to 0.006 mm", LengthKind, 0.002, 0.004, 0.006, "2 µm to 0.006 mm", "2 µm to 0.006 mm = 0.08 to 0.24 thou"},
		{"0.06 ±0.01 mm", LengthKind, 0.05, 0.06, 0.07, "0.06 ±0.01 mm", "0.06 ±0.01 mm = 1.97 to 2.76 thou"},
		{"0.06 mm +0.01/-0", LengthKind, 0.06, 0.06, 0.07, "0.06 +0.01/-0 mm", "0.06 +0.01/-0 mm = 2.36 to 2.76 thou"},
		{"40 +0.02 0 mm", LengthKind, 40, 40, 40.02, "40 +0.02/-0 mm", "40 +0.02/-0 mm = 1.5748 to 1.5756 in"},
		{"40 +0.02/-0.01 mm", LengthKind, 39.99, 40, 40.02, "40 +0.02/-0.01 mm", "40 +0.02/-0.01 mm = 1.5744 to 1.5756 in"},
		{"40 +0.02/0 mm", LengthKind, 40, 40, 40.02, "40 +0.02/-0 mm", "40 +0.02/-0 mm = 1.5748 to 1.5756 in"},
		{"40 0 -0.02 mm", LengthKind, 39.98, 40, 40, "40 +0/-0.02 mm", "40 +0/-0.02 mm = 1.574 to 1.5748 in"},
		{"40 −0.009/−0.025 mm", LengthKind, 39.975, 39.983, 39.991, "40 -0.009/-0.025 mm", "40 -0.009/-0.025 mm = 1.5738 to 1.5744 in"},
		{"40 -0.025 -0.009 mm", LengthKind, 39.975, 39.983, 39.991, "40 -0.009/-0.025 mm", "40 -0.009/-0.025 mm = 1.5738 to 1.5744 in"},
		{"40 mm +50 µm +25 µm", LengthKind, 40.025, 40.0375, 40.05, "40 mm +50 µm/+25 µm", "40 mm +50 µm/+25 µm = 1.5758 to 1.5768 in"},
		{"1 1/2 in +1/64 0", LengthKind, 38.1, 38.1, 38.496875, "1 1/2 +1/64/-0 in", "1 1/2 +1/64/-0 in = 38.1 to 38.4969 mm"},
		{"39.99/40.01 mm", LengthKind, 39.99, 40, 40.01, "39.99 to 40.01 mm", "39.99 to 40.01 mm = 1.5744 to 1.5752 in"},
		{"40.01 mm/39.99 mm", LengthKind, 39.99, 40, 40.01, "39.99 to 40.01 mm", "39.99 to 40.01 mm = 1.5744 to 1.5752 in"},
		{"1-1/4\"", LengthKind, 31.75, 31.75, 31.75, "1 1/4 in", "1 1/4 in = 31.75 mm"},
		{"1 1/4 in", LengthKind, 31.75, 31.75, 31.75, "1 1/4 in", "1 1/4 in = 31.75 mm"},
		{"1/8-1/4 in", LengthKind, 3.175, 4.7625, 6.35, "1/8 to 1/4 in", "1/8 to 1/4 in = 3.175 to 6.35 mm"},
		{"1-3/2 in", LengthKind, 25.4, 31.75, 38.1, "1 to 3/2 in", "1 to 3/2 in = 25.4 to 38.1 mm"},
		{"4 (2 to 8) µm", LengthKind, 0.002, 0.004, 0.008, "4 (2 to 8) µm", "4 (2 to 8) µm = 0.08 to 0.31 thou"},
		{"1.5e-3 mm", LengthKind, 0.0015, 0.0015, 0.0015, "1.5e-3 mm", "1.5e-3 mm = 0.06 thou"},
		{"-3 mm", LengthKind, -3, -3, -3, "-3 mm", "-3 mm = -118.11 thou"},
		{"6 %", PercentKind, 6, 6, 6, "6 %", "6 %"},
		{"0.451 µA/cm²", CurrentDensityKind, 0.451e-6, 0.451e-6, 0.451e-6, "0.451 µA/cm²", "0.451 µA/cm² = 0 A/cm²"},
	} {
		rd, err := Read(c.text, c.kind, Options{Ranges: true})
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(1e-6, math.Abs(b)) }
		if !near(rd.Range.Low, c.low) || !near(rd.Range.Likely, c.likely) || !near(rd.Range.High, c.hi) {
			t.Errorf("%q is %v, want %v %v %v", c.text, rd.Range, c.low, c.likely, c.hi)
		}
		if rd.Text != c.canonical {
			t.Errorf("%q is written %q, want %q", c.text, rd.Text, c.canonical)
		}
		if got := Echo(rd, c.kind); got != c.echo {
			t.Errorf("%q echoes %q, want %q", c.text, got, c.echo)
		}
		again, err := Read(rd.Text, c.kind, Options{Ranges: true})
		if err != nil || again.Range != rd.Range {
			t.Errorf("%q read again as %q: %v %v", c.text, rd.Text, again.Range, err)
		}
	}
}

func TestExact(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{{"3 thou", 0.0762}, {"5 thou", 0.127}, {"8 tenths", 0.02032}, {"0.1 mm", 0.1}, {"20 µm", 0.02}, {"1 in", 25.4}} {
		rd, err := Read(c.text, LengthKind, Options{})
		if err != nil || rd.Range.Likely != c.want {
			t.Errorf("%s is %v, want the double nearest to %v (%v)", c.text, rd.Range.Likely, c.want, err)
		}
	}
}

// TestRefused: nonsense and doubt are refused in whole sentences.
func TestRefused(t *testing.T) {
	const want = "write a number and mm, µm, thou, tenths or in, for example 3 thou"
	for _, c := range []struct {
		text string
		kind Kind
		what string
	}{
		{"", LengthKind, "nothing is written here; " + want},
		{"3", LengthKind, "“3” has no unit; " + want},
		{"1,250 mm", LengthKind, "“1,250” can mean 1.250 or 1250; " + want},
		{"3 mn", LengthKind, "“mn” is not a unit of length, perhaps “mm”; " + want},
		{"3 V", LengthKind, "“V” measures voltage, a length is wanted; " + want},
		{"3 '", LengthKind, "“'” would be feet, which no wire is measured in; " + want},
		{"6 to 2 µm", LengthKind, "the range “6 to 2 µm” runs downwards: the smaller value stands first; " + want},
		{"2 to", LengthKind, "“to” is not a unit of length; " + want},
		{"abc", LengthKind, "“abc” does not start with a number; " + want},
		{"3 thou 4", LengthKind, "“4” is a second number where one was wanted; " + want},
		{"3 mm thou", LengthKind, "“thou” is a second unit where one is enough; " + want},
		{"3. mm", LengthKind, "“3.” ends in a point; " + want},
		{"--3 mm", LengthKind, "“-3 mm” does not start with a number; " + want},
		{"1e400 mm", LengthKind, "“1e400” is not a number that can be held; " + want},
		{"NaN", LengthKind, "“NaN” does not start with a number; " + want},
		{"0x10 mm", LengthKind, "“x10” is not a unit of length; " + want},
		{"1.2.3 mm", LengthKind, "“1.2.3” is not one number; " + want},
		{"1.5/64 in", LengthKind, "“1.5/64 in” is neither a fraction of whole numbers nor two limits of a size, as 39.99/40.01 is; " + want},
		{"40 +0.02 mm", LengthKind, "a tolerance is written ±0.01, +0.01/-0 or -0.01/-0.02; " + want},
		{"40 ±-0.02 mm", LengthKind, "a tolerance is written ±0.01, +0.01/-0 or -0.01/-0.02, on a value that is not a resistivity; " + want},
		{"1/0 in", LengthKind, "“1/0” is not a fraction of whole numbers; " + want},
		{"N13", RoughnessKind, "“N13” is not a roughness grade; they run from N1 to N12; write a number and µm or µin, or a grade such as N5 or VDI 24"},
		{"2.5", CountKind, "“2.5” is not a whole number; write a whole number"},
		{"0 MΩ·cm", ConductivityKind, "a resistivity is more than zero; write a number and one of µS/cm, mS/cm, S/m, mS/m, MΩ·cm, kΩ·cm, Ω·cm, Ω·m"},
	} {
		rd, err := Read(c.text, c.kind, Options{Ranges: true})
		if err == nil {
			t.Errorf("%q was read as %v", c.text, rd)
			continue
		}
		if err.Error() != c.what {
			t.Errorf("%q says\n%q, want\n%q", c.text, err.Error(), c.what)
		}
	}
}

func TestBareAndList(t *testing.T) {
	rd, err := Read("3", LengthKind, Options{Unit: "thou"})
	if err != nil || !rd.Bare || rd.Text != "3 thou" || rd.Range.Likely != 0.0762 {
		t.Errorf("%+v %v", rd, err)
	}
	list, err := ReadList("0.05, 0.1, 0.15 mm; 8 thou", LengthKind, Options{})
	if err != nil || len(list) != 4 || list[0].Text != "0.05 mm" || list[3].Text != "8 thou" {
		t.Errorf("%+v %v", list, err)
	}
	if list, err = ReadList("0.05 0.1 mm", LengthKind, Options{}); err != nil || len(list) != 2 {
		t.Errorf("%+v %v", list, err)
	}
	if _, err = ReadList("0.05, x mm", LengthKind, Options{}); err == nil {
		t.Error("a list with nonsense was read")
	}
}

func TestRekeyAndSuggest(t *testing.T) {
	for _, c := range []struct{ text, unit, want string }{
		{"3 mm", "thou", "3 thou"}, {"3", "µm", "3 µm"}, {"2 to 6 µm", "mm", "2 to 6 mm"}, {"0.06 ±0.01 mm", "thou", "0.06 ±0.01 thou"},
	} {
		if got, err := Rekey(c.text, LengthKind, c.unit, nil); err != nil || got != c.want {
			t.Errorf("Rekey(%q, %q) = %q, %v; want %q", c.text, c.unit, got, err, c.want)
		}
	}
	rd, _ := Read("3 mm", LengthKind, Options{})
	if got, ok := Suggest(rd, LengthKind, 0.02, 0.2, []string{"mm", "µm", "thou"}, nil); !ok || got != "far outside the usual span: did you mean 3 thou?" {
		t.Errorf("%q %v", got, ok)
	}
	if got, ok := Suggest(rd, LengthKind, 0.5, 5, []string{"mm", "thou"}, nil); ok {
		t.Errorf("%q", got)
	}
}

// FuzzRead: no text makes it panic, and what is accepted reads back the same.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"8 tenths", ".0008\"", "1/64\"", "0,02 mm", "N5", "VDI 24", "1°30'", "18.2 MΩ·cm", "2 to 6 µm", "0.06 +0.01/-0", "4 (2 to 6) µm", "2 h 30 min", "1,250", "-0", "1 1/2 in"} {
		f.Add(s, uint8(1))
		f.Add(s, uint8(6))
	}
	f.Fuzz(func(t *testing.T, text string, k uint8) {
		kind := LengthKind + Kind(k%uint8(VolumeRateKind))
		rd, err := Read(text, kind, Options{Ranges: true, Unit: kind.Base()})
		_, _ = ReadList(text, kind, Options{Unit: kind.Base()})
		_, _ = Rekey(text, kind, kind.Base(), nil)
		if err != nil {
			return
		}
		if !(rd.Range.Low <= rd.Range.Likely && rd.Range.Likely <= rd.Range.High) {
			t.Errorf("%q: %v is not in order", text, rd.Range)
		}
		again, err := Read(rd.Text, kind, Options{Ranges: true})
		if err != nil {
			t.Errorf("%q was written %q, which is refused: %v", text, rd.Text, err)
		} else if again.Range != rd.Range {
			t.Errorf("%q was written %q: %v, then %v", text, rd.Text, rd.Range, again.Range)
		}
	})
}
