//go:build !wasip1

package catalog

import (
	"math"
	"slices"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// offers tells whether a field offers the rows of the table of work materials.
func offers(f calc.Field, rows []book.Row) bool {
	return f.Shape == calc.ChoiceShape && !slices.ContainsFunc(rows, func(r book.Row) bool {
		return !slices.ContainsFunc(f.Options, func(o calc.Option) bool { return o.Value == r.Key })
	})
}

// TestEveryMaterial: every calculator that offers the work materials answers for
// each of them, in water and in oil, and prints no nought and no infinity where the
// table has an empty cell. An empty cell is what the table says of a material that
// does not melt.
func TestEveryMaterial(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	rows, asked := b.Table("materials").Rows, 0
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		has := func(name string) bool {
			return slices.ContainsFunc(fields, func(f calc.Field) bool { return f.Name == name })
		}
		for _, f := range fields {
			if !offers(f, rows) {
				continue
			}
			for _, m := range rows {
				for _, more := range []map[string]string{nil, {"dielectric": "oil"}, {"current": "10 A"}} {
					in := map[string]string{f.Name: m.Key}
					for name, v := range more {
						if !has(name) {
							in = nil
							break
						}
						in[name] = v
					}
					if in == nil {
						continue
					}
					asked++
					rep := c.Eval(b, calc.Input{Values: in})
					if rep.Answer == nil {
						if slices.ContainsFunc(rep.Problems, func(p calc.Problem) bool { return strings.Contains(p.Text, "over ten times wide") }) {
							continue // no number, and it says what to do
						}
						t.Errorf("%s %v: no answer: %v", c.ID, in, rep.Problems)
						continue
					}
					if s := unsoundIn(rep); s != "" {
						t.Errorf("%s %v: %s", c.ID, in, s)
					}
					if m.Cell("melting_likely_degc") == "" {
						for _, s := range texts(rep.Answer) {
							if strings.Contains(s, "Inf") || strings.HasPrefix(s, "0 °C") || strings.HasPrefix(s, "0 mm³") {
								t.Errorf("%s %v: prints %q of what does not melt", c.ID, in, s)
							}
						}
					}
				}
			}
		}
	}
	if asked < 10*len(rows) {
		t.Errorf("only %d questions were asked of %d materials", asked, len(rows))
	}
}

// TestFactors: every work material of the handbook has its row of factors, and no
// row of factors is without its material.
func TestFactors(t *testing.T) {
	b := readBook(t)
	for _, pair := range [][2]string{{"materials", "factors"}, {"factors", "materials"}} {
		for _, r := range b.Table(pair[0]).Rows {
			if _, ok := b.Find(pair[1], r.Key); !ok {
				t.Errorf("%s has a row %s and %s has none", pair[0], r.Key, pair[1])
			}
		}
	}
}

// TestMaterialByMelting: a material that a shop adds with no row of factors is
// answered by its melting point: the share of the rate goes with the power -1.23 of
// the ratio of the melting points (the law of die-sinking as two textbooks print it:
// Kalpakjian and Schmid; Groover; from memory), the answer says so, and its range
// is wider. Zirconium melts at 1855 °C, tin at 232 °C (CRC Handbook of Chemistry
// and Physics, data of the elements; from memory). A material without a melting
// point gets no number: it may not melt at all.
func TestMaterialByMelting(t *testing.T) {
	const head = "material,name,density_low_gcm3,density_likely_gcm3,density_high_gcm3,melting_low_degc,melting_likely_degc,melting_high_degc,shear_likely_mpa,provenance\n"
	b, _, err := readBook(t).Overlay([]book.File{{Name: "data/materials.csv", Text: head +
		"zirconium,zirconium,6.5,6.51,6.55,1850,1855,1860,300,our estimate\n" +
		"tin,tin,7.26,7.29,7.31,231,232,233,20,our estimate\n" +
		"ceramic,a ceramic that conducts,4.2,4.3,4.4,,,,0,our estimate\n"}})
	if err != nil {
		t.Fatal(err)
	}
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	steel, _ := b.Find("materials", "steel")
	for _, id := range []string{"rate", "ladder", "corner", "recast", "slot", "tooth", "profile", "slug", "job"} {
		c, _ := set.Find(id)
		for _, m := range []string{"zirconium", "tin"} {
			rep := c.Eval(b, calc.Input{Values: map[string]string{"material": m}})
			if rep.Answer == nil {
				t.Errorf("%s gives no answer for %s: %v", id, m, rep.Problems)
			}
		}
		rep := c.Eval(b, calc.Input{Values: map[string]string{"material": "ceramic"}})
		if rep.Answer != nil {
			t.Errorf("%s answers for what nobody knows to melt: %s", id, rep.Answer.Headline)
		}
	}
	c, _ := set.Find("rate")
	likely := func(material string) calc.Finding {
		rep := c.Eval(b, calc.Input{Values: map[string]string{"material": material}})
		for _, v := range rep.Answer.Values {
			if v.Name == "rate" {
				return v
			}
		}
		t.Fatal("no rate")
		return calc.Finding{}
	}
	of := likely("steel")
	for _, m := range []struct {
		key   string
		melts float64
	}{{"zirconium", 1855}, {"tin", 232}} {
		r := likely(m.key)
		want := math.Pow(m.melts/steel.Num("melting_likely_degc"), -1.23)
		if got := r.Range.Likely / of.Range.Likely; math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s cuts at %.4f of the rate of steel, want %.4f", m.key, got, want)
		}
		if r.Range.High/r.Range.Low <= of.Range.High/of.Range.Low {
			t.Errorf("the range of %s, %s, is no wider than that of steel, %s", m.key, r.Text, of.Text)
		}
		rep := c.Eval(b, calc.Input{Values: map[string]string{"material": m.key}})
		if !slices.ContainsFunc(rep.Fields, func(s calc.State) bool {
			return strings.Contains(s.Echo, "by its melting point alone")
		}) {
			t.Errorf("no field says that the rate of %s rests on its melting point", m.key)
		}
	}
	sheet := sheetOf(t, set, b, map[string]string{"material": "zirconium"}).Sheet
	for _, asks := range []string{"What did a test cut in zirconium give?", "How much does zirconium grow with heat?"} {
		if !slices.ContainsFunc(sheet.Open, func(q string) bool { return strings.Contains(q, asks) }) {
			t.Errorf("the sheet does not ask %q: %q", asks, sheet.Open)
		}
	}
	if l, _ := sheet.Line("warmth"); l.Range != "" {
		t.Errorf("of the warmth of what nobody knows to grow it prints %q", l.Range)
	}
	if open := sheetOf(t, set, b, map[string]string{"material": "titanium"}).Sheet.Open; slices.ContainsFunc(open, func(q string) bool { return strings.Contains(q, "test cut in") }) {
		t.Errorf("the sheet of a material with factors asks for a test cut: %q", open)
	}
	rep := c.Eval(b, calc.Input{Values: map[string]string{"material": "ceramic"}})
	if rep.Answer != nil || len(rep.Problems) == 0 || !strings.Contains(rep.Problems[0].Text, "neither factors nor a melting point") {
		t.Errorf("of a material without a melting point it says %v", rep.Problems)
	}
}

// TestMaterialCautions: the job sheet has, for each work material, a caution that
// names what harms: beryllium, cobalt, nickel and lead as the European regulation
// on classification lists them (annex VI; from memory, place not seen), fines that
// burn (titanium, NdFeB), dust that conducts (graphite), weight (tungsten has two and
// a half times the density of steel). The tool steels alone have none of their own.
func TestMaterialCautions(t *testing.T) {
	names := map[string]string{"steel": "", "hot-work": "", "stainless": "nickel", "ph-stainless": "nickel", "high-speed": "cobalt", "powder": "cobalt",
		"titanium": "burns", "nickel": "nickel", "cobalt-chrome": "cobalt", "nickel-titanium": "burn", "nickel-iron": "nickel", "aluminium": "hydrogen",
		"copper": "Copper", "beryllium-copper": "beryllium", "brass": "lead", "carbide": "cobalt", "graphite": "conducts", "pcd": "cobalt", "boron-nitride": "binder",
		"molybdenum": "splinters", "tungsten": "two and a half times", "tungsten-copper": "twice", "magnet": "implants"}
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	of := func(material string) (out []string) {
		for _, c := range sheetOf(t, set, b, map[string]string{"material": material}).Cautions {
			out = append(out, c.Text)
		}
		return out
	}
	plain := of("steel")
	for _, m := range b.Table("materials").Rows {
		word, ok := names[m.Key]
		if !ok {
			t.Errorf("nobody says what harms in %s", m.Key)
			continue
		}
		own := slices.DeleteFunc(of(m.Key), func(s string) bool { return slices.Contains(plain, s) })
		if word == "" && len(own) > 0 || word != "" && !slices.ContainsFunc(own, func(s string) bool { return strings.Contains(s, word) }) {
			t.Errorf("the sheet of %s has the cautions %q, want one that names %q", m.Key, own, word)
		}
	}
}

// TestWiedemannFranz: heat conductivity times resistivity over the temperature is
// near L = π²k²/(3e²) = 2.44e-8 WΩ/K² in every metal (law of Wiedemann and Franz,
// Sommerfeld's value; k and e are exact in the SI), and up to twice that in alloys
// that conduct badly, where the lattice carries its part. A slip of a decimal place
// or of a unit in either column shows. Carbide, graphite, diamond and boron nitride
// conduct mostly by their lattice and are left to themselves.
func TestWiedemannFranz(t *testing.T) {
	const k, e, kelvins = 1.380649e-23, 1.602176634e-19, 293.15
	l := math.Pi * math.Pi * k * k / (3 * e * e)
	b := readBook(t)
	held := 0
	for _, m := range b.Table("materials").Rows {
		heat, ok := b.Find("properties", m.Key, "heat")
		r, also := b.Find("properties", m.Key, "resistivity")
		if !ok || !also || m.Key == "carbide" || m.Key == "graphite" {
			continue
		}
		held++
		ratio := heat.Num("value_likely_n0") * r.Num("value_likely_n0") * 1e-6 / kelvins / l
		if ratio < 0.9 || ratio > 2.1 {
			t.Errorf("%s: heat conductivity and resistivity give %.2f times what the law of Wiedemann and Franz says", m.Key, ratio)
		}
	}
	if held < 15 {
		t.Errorf("only %d metals are held", held)
	}
}
