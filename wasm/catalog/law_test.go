//go:build !wasip1

package catalog

import (
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// overlaid is the handbook's book with tables of a shop over it.
func overlaid(t *testing.T, files ...book.File) *book.Book {
	t.Helper()
	b, _, err := readBook(t).Overlay(files)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestLawAsks: on what the gap of a last pass rests, in the words of the field, and
// whether the answer is called general.
func TestLawAsks(t *testing.T) {
	own := book.File{Name: "data/gaps.csv", Text: "diameter_mm,dielectric,pass,gap_low_um,gap_likely_um,gap_high_um,provenance\n0.25,water,fine,8.5,9.5,11,measured\n"}
	card := book.File{Name: "data/machines.csv", Text: "machine,name,dielectrics,tanks,polarities,wire_from_mm,wire_to_mm,hole_mm,height_mm,taper_flat_deg,taper_flat_mm,taper_tall_deg,taper_tall_mm,tension_from_n,tension_to_n,bore_mm,provenance\nours,Ours,water,submerged,wire-minus,0.1,0.3,0.5,250,30,80,8,250,3,25,6,measured\n"}
	for _, c := range []struct {
		name    string
		tables  []book.File
		in      map[string]string
		says    string
		general bool
	}{
		{"no machine", nil, map[string]string{"wire": "0.25 mm"}, "by the law of a pass: 8.9 µm (5.1 to 15.5), general, no cut of yours", true},
		{"what was read", nil, map[string]string{"wire": "0.25 mm", "machine": "quay", "thickness": "40 mm"}, "nearest LQ-12 pass 4 (measured by bench 1 on 2026-02-11, job R-118), which is invented", false},
		{"between what was read", nil, map[string]string{"wire": "0.25 mm", "machine": "quay", "thickness": "45 mm"}, "which is invented", false},
		{"outside what was cut", nil, map[string]string{"wire": "0.1 mm", "machine": "quay", "thickness": "200 mm"}, "; outside what you cut", true},
		{"a row of the shop's wins", []book.File{own}, map[string]string{"wire": "0.25 mm", "machine": "quay"}, "from the row of gaps for this wire: 9.5 µm (8.5 to 11)", false},
		{"for its own wire only", []book.File{own}, map[string]string{"wire": "0.2 mm"}, "general, no cut of yours", true},
		{"invented cuts teach no real machine", []book.File{card}, map[string]string{"wire": "0.25 mm", "machine": "ours", "thickness": "40 mm"}, "general, no cut of yours", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := overlaid(t, c.tables...)
			set, err := New(b)
			if err != nil {
				t.Fatal(err)
			}
			corner, _ := set.Find("corner")
			rep := corner.Eval(b, calc.Input{Values: c.in, Strict: true})
			if rep.Answer == nil {
				t.Fatal(rep.Problems)
			}
			if s, _ := rep.Field("gap"); !strings.HasSuffix(s.Echo, c.says) || rep.Answer.General != c.general {
				t.Errorf("says  %q\nwants %q, general %v", s.Echo, c.says, c.general)
			}
		})
	}
	set, err := New(readBook(t))
	if err != nil {
		t.Fatal(err)
	}
	slot, _ := set.Find("slot")
	rep := slot.Eval(readBook(t), calc.Input{Values: map[string]string{"wire": "0.4 mm"}, Strict: true})
	if rep.Answer != nil || rep.Problems[0].Text != "Spark gap of roughing, each side is wanted: the law of a pass holds for wires of 0.02 to 0.36 mm and heights of 0.3 to 400 mm" {
		t.Errorf("outside the law: %+v", rep.Problems)
	}
	rep = slot.Eval(readBook(t), calc.Input{Values: map[string]string{"wire": "0.4 mm", "gap": "50 µm", "left": "100 µm", "last-gap": "10 µm"}, Strict: true})
	if rep.Answer == nil {
		t.Errorf("typed, it is answered: %+v", rep.Problems)
	}
}

// TestLawWidth: with no machine chosen and no cut, what the law says of the usual wires
// in water through 10 to 100 mm of the usual materials is no wider than six times from
// low to high, the molten layer ten. With fine wires the rate and the feeds are wider,
// up to 7.5 times, and the layer of carbide in oil up to eleven.
func TestLawWidth(t *testing.T) {
	l := calc.LawOf(readBook(t))
	ask := func(q book.Cut, most, layer float64) {
		p := l.Plan(q, 4)
		if !p.OK {
			t.Fatal(p.Why)
		}
		hold := func(what string, r unit.Range, times float64) {
			if r.High > times*r.Low {
				t.Errorf("%s of %s with %g mm in %s through %g mm: %.3g to %.3g, %.1f times", what, q.Material, q.Wire, q.Dielectric, q.Thickness, r.Low, r.High, r.High/r.Low)
			}
		}
		hold("rate", p.Rate(), most)
		for k := 1; k <= 4; k++ {
			hold("gap", p.Gap(k), 6)
			hold("Ra", p.Ra(k), 6)
			hold("layer", p.Layer(k), layer)
			if k > 1 {
				hold("feed", p.Feed(k, 0), most)
			}
		}
	}
	for _, m := range strings.Fields("steel hot-work high-speed powder stainless ph-stainless titanium nickel aluminium copper carbide") {
		for _, d := range []unit.Length{0.15, 0.2, 0.25, 0.3} {
			for _, h := range []unit.Length{10, 20, 40, 100} {
				ask(book.Cut{Material: m, Dielectric: "water", Thickness: h, Wire: d}, 6, 10)
			}
		}
	}
	for _, m := range []string{"steel", "carbide"} {
		for _, d := range []unit.Length{0.05, 0.07, 0.1} {
			for _, h := range []unit.Length{1, 3, 10, 20} {
				ask(book.Cut{Material: m, Dielectric: "oil", Thickness: h, Wire: d}, 7.5, 11)
			}
		}
	}
}

// TestStaleCuts: a cut that was withdrawn, or that is older than the rebuild of its
// machine, stays in the table and teaches nothing.
func TestStaleCuts(t *testing.T) {
	in := map[string]string{"wire": "0.25 mm", "machine": "quay", "thickness": "40 mm"}
	for _, c := range []struct{ name, file, text, says string }{
		{"as it stands", "cuts", "cut,pass,remark\nLQ-12,4,kept\n", "nearest LQ-12 pass 4 "},
		{"withdrawn", "cuts", "cut,pass,withdrawn\nLQ-12,4,2026-06-01\n", "nearest LQ-12 pass 3 "},
		{"rebuilt since", "machines", "machine,rebuilt\nquay,2026-03-01\n", "nearest LQ-15 pass 3 "},
		{"rebuilt before", "machines", "machine,rebuilt\nquay,2026-01-01\n", "nearest LQ-12 pass 4 "},
	} {
		b := overlaid(t, book.File{Name: "data/" + c.file + ".csv", Text: c.text})
		set, err := New(b)
		if err != nil {
			t.Fatal(err)
		}
		corner, _ := set.Find("corner")
		rep := corner.Eval(b, calc.Input{Values: in, Strict: true})
		if rep.Answer == nil {
			t.Fatal(rep.Problems)
		}
		if s, _ := rep.Field("gap"); !strings.Contains(s.Echo, c.says) {
			t.Errorf("%s: says %q, wants %q", c.name, s.Echo, c.says)
		}
		if n := len(b.Table("cuts").Rows); n != len(readBook(t).Table("cuts").Rows) {
			t.Errorf("%s: the table has %d cuts left", c.name, n)
		}
	}
}
