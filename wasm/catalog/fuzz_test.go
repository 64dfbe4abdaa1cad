package catalog

import (
	"math/rand/v2"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// mostPoints bounds the points that one answer may look at: eight free fields have
// 257 corners, and a search goes four times round them for each of some sixty
// answers.
const mostPoints = 1_000_000

// typedBy gives the fields of a calculator texts: a line "name=text" to the field of
// that name, any other line to the next field.
func typedBy(fields []calc.Field, text string) map[string]string {
	v := map[string]string{}
	for i, line := range strings.Split(text, "\n") {
		name, value, ok := strings.Cut(line, "=")
		if !ok {
			name, value = fields[i%len(fields)].Name, line
		}
		v[name] = value
	}
	return v
}

// FuzzAnswer types any texts into the fields of any calculator: it answers or says
// what is wrong, does not panic, prints no range with its ends the wrong way round and
// nothing that is no number, and looks at a bounded number of points.
func FuzzAnswer(f *testing.F) {
	b := readBook(f)
	set, err := New(b)
	if err != nil {
		f.Fatal(err)
	}
	all := set.All()
	points := 0
	for _, c := range all {
		build := c.Build
		c.Build = func(f *calc.Form, b *book.Book) calc.Run {
			run := build(f, b)
			point := run.Point
			run.Point = func(p *calc.Point) { points++; point(p) }
			return run
		}
	}
	for i := range all {
		fields, _ := all[i].Describe(b)
		least, most, wide := "", "", ""
		for _, d := range fields {
			for _, l := range d.Limits {
				if l.Min != "" {
					least += d.Name + "=" + l.Min + "\n"
				} else {
					most += d.Name + "=" + l.Max + "\n"
				}
			}
			if d.Ranges && d.Usual[0] != "" && strings.Count(wide, "\n") < 5 {
				wide += d.Name + "=" + d.Usual[0] + " to " + d.Usual[1] + "\n"
			}
		}
		for flags, text := range []string{"", "material=\nwire=\n", least, most, wide, "machine=loft\nwire=0.05 mm", "machine=slip\n" + wide} {
			f.Add(byte(i), byte(flags), text)
		}
	}
	f.Add(byte(0), byte(1), "maximum\n1e308 mm\n-1e308 mm\n1e309 mm\nNaN\n∞ mm\n5 ±5 µm\n3 to 1 thou\n0\n\x00\n0.2 mm ±")
	f.Add(byte(2), byte(0), "passes=6.5\nwire=1e-300 mm\ngap-1=0 to 1 mm\ngap-2=0 to 1 mm")
	f.Add(byte(25), byte(3), "radius=0.013 mm\nmachine=loft\noil=no\nsize=20 +0/-0 mm\nuse-passes=1\ngot-ra=80 µm")
	f.Fuzz(func(t *testing.T, which, flags byte, text string) {
		if len(text) > 4000 {
			return
		}
		c := all[int(which)%len(all)]
		fields, _ := c.Describe(b)
		in := calc.Input{Values: typedBy(fields, text), Strict: flags&1 == 1}
		if flags&2 != 0 {
			in.System = unit.Inch
		}
		points = 0
		rep := c.Eval(b, in)
		if why := unsoundIn(rep); why != "" {
			t.Errorf("%s %q: %s", c.ID, in.Values, why)
		}
		if points > mostPoints {
			t.Errorf("%s %q: looked at %d points", c.ID, in.Values, points)
		}
		if rep.Answer == nil && len(rep.Problems) == 0 {
			t.Errorf("%s %q: neither an answer nor a reason", c.ID, in.Values)
		}
		for _, p := range rep.Problems {
			if p.Text == "" {
				t.Errorf("%s %q: refuses %q without a reason", c.ID, in.Values, p.Field)
			}
		}
	})
}

// TestExtremes sets fields of every calculator to their limits and to the ends of
// what is usual, by chance, some as ranges from one to the other: the answer holds to
// what FuzzAnswer asks of it.
func TestExtremes(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(11, 13))
	each := sweep.Part(1000)
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		answered := 0
		for range each {
			v := map[string]string{}
			ranges := 0
			for _, f := range fields {
				if f.Shape == calc.ChoiceShape {
					if o := f.Options[rng.IntN(len(f.Options))].Value; rng.IntN(2) == 0 && o != "own" {
						v[f.Name] = o
					}
					continue
				}
				low, high := f.Usual[0], f.Usual[1]
				for _, l := range f.Limits {
					switch {
					case l.Open:
					case l.Min != "" && rng.IntN(2) == 0:
						low = l.Min
					case l.Max != "" && rng.IntN(2) == 0:
						high = l.Max
					}
				}
				if f.Shape != calc.QuantityShape || low == "" || high == "" || rng.IntN(2) == 0 {
					continue
				}
				switch one := [...]string{low, high}[rng.IntN(2)]; {
				case f.Ranges && ranges < 4 && rng.IntN(3) == 0:
					v[f.Name] = low + " to " + high
					ranges++
				default:
					v[f.Name] = one
				}
			}
			rep := c.Eval(b, calc.Input{Values: v})
			if rep.Answer != nil {
				answered++
			}
			if why := unsoundIn(rep); why != "" {
				t.Errorf("%s %v: %s", c.ID, v, why)
				break
			}
		}
		t.Logf("%s: %d of %d answered", c.ID, answered, each)
	}
}
