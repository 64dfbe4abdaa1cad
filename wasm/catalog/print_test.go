package catalog

import (
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// typed answers one calculator with lines "name = value".
func typed(t *testing.T, b *book.Book, id string, strict bool, lines string) *calc.Reply {
	t.Helper()
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	c, ok := set.Find(id)
	if !ok {
		t.Fatalf("no calculator %s", id)
	}
	in := calc.Input{Values: map[string]string{}, Strict: strict, Reading: true}
	for _, l := range strings.Split(lines, "; ") {
		name, value, _ := strings.Cut(l, " = ")
		in.Values[name] = value
	}
	return c.Eval(b, in)
}

// TestFieldReadsPrint: what a print says, in the fields it is typed into: the text that
// links and saved jobs carry, the echo, and the same again from that text. The limits
// of classes are those of handbooks (ISO 286-2, from memory, place not seen).
func TestFieldReadsPrint(t *testing.T) {
	b := readBook(t)
	for _, c := range []struct{ id, field, typed, text, echo, notes string }{
		{"corner", "radius", "R0.15 mm", "0.15 mm", "0.15 mm = 5.91 thou", ""},
		{"corner", "radius", "R 0.15 mm max", "0.15 mm max", "0.15 mm max = 5.91 thou", "at most: worked with this value itself"},
		{"corner", "radius", "max R .006\"", ".006 in max", ".006 in max = 0.1524 mm", "at most: worked with this value itself"},
		{"corner", "radius", "R0.15 ±0.02 mm", "0.15 ±0.02 mm", "0.15 ±0.02 mm = 5.12 to 6.69 thou", ""},
		{"corner", "wire", "ø0.1 mm", "0.1 mm", "0.1 mm = 3.94 thou", ""},
		{"corner", "wire", "⌀ 0.1 mm", "0.1 mm", "0.1 mm = 3.94 thou", ""},
		{"corner", "finish", "Ra 0.8 µm", "0.8 µm", "0.8 µm = 31.5 µin", ""},
		{"corner", "finish", "Rz max 4 µm", "Rz 4 µm max", "Rz 4 µm max = Ra 0.5 µm = Ra 19.7 µin", "the smallest Ra by the table of ratios, common practice: it holds the print in any case"},
		{"finish", "ra", "Rz 4 µm", "Rz 4 µm", "Rz 4 µm = Ra 0.5 to 0.8 µm = Ra 19.7 to 31.5 µin", "by the table of ratios, common practice; no standard turns one into the other"},
		{"finish", "ra", "Ra 0.8 µm max", "0.8 µm max", "0.8 µm max = 31.5 µin", "at most: worked with this value itself"},
		{"finish", "ra", "N6", "N6", "N6 = 0.8 µm = 31.5 µin", "a grade is an upper limit; the Ra it allows is used here"},
		{"finish", "ra", "VDI 3400 18", "VDI 18", "VDI 18 = 0.794 µm = 31.3 µin", "a VDI class stands for one Ra: 0.1 µm × 10^(class/20)"},
		{"size", "size", "40 mm H7", "40 mm H7", "40 mm H7 = 40 to 40.025 mm = 1.5748 to 1.5758 in", "the limits are those of ISO 286-1, from memory, place not seen"},
		{"size", "size", "⌀40 g6 mm", "40 mm g6", "40 mm g6 = 39.975 to 39.991 mm = 1.5738 to 1.5744 in", "the limits are those of ISO 286-1, from memory, place not seen"},
		{"size", "size", "40 js7 mm", "40 mm js7", "40 mm js7 = 39.9875 to 40.0125 mm = 1.5743 to 1.5753 in", "the limits are those of ISO 286-1, from memory, place not seen"},
		{"job", "size", "1.5 in H7", "1.5 in H7", "1.5 in H7 = 1.5 to 1.501 in = 38.1 to 38.125 mm", "the limits are those of ISO 286-1, from memory, place not seen"},
		{"job", "size", "39.99/40.01 mm", "39.99 to 40.01 mm", "39.99 to 40.01 mm = 1.5744 to 1.5752 in", ""},
		{"job", "size", "40 +0.02 0 mm", "40 +0.02/-0 mm", "40 +0.02/-0 mm = 1.5748 to 1.5756 in", ""},
		{"job", "thickness", "1-1/4\"", "1 1/4 in", "1 1/4 in = 31.75 mm", ""},
		{"job", "thickness", "25 mm max", "25 mm max", "25 mm max = 984.25 thou", "at most: worked with this value itself"},
		{"job", "finish", "Rz 4 µm", "Rz 4 µm", "Rz 4 µm = Ra 0.5 µm = Ra 19.7 µin", "the smallest Ra by the table of ratios, common practice: it holds the print in any case"},
	} {
		st, _ := typed(t, b, c.id, true, c.field+" = "+c.typed).Field(c.field)
		if notes := strings.Join(st.Notes, "|"); st.Problem != "" || st.Text != c.text || st.Echo != c.echo || notes != c.notes {
			t.Errorf("%s %s %q: %q %q %q %s\nwant %q %q %q", c.id, c.field, c.typed, st.Text, st.Echo, notes, st.Problem, c.text, c.echo, c.notes)
		}
		again, _ := typed(t, b, c.id, true, c.field+" = "+st.Text).Field(c.field)
		if again.Range != st.Range || again.Text != st.Text {
			t.Errorf("%s %s %q is written %q, which reads %v %q, not %v", c.id, c.field, c.typed, st.Text, again.Range, again.Text, st.Range)
		}
	}
	// In a page the pressed key gives the unit.
	set, _ := New(b)
	c, _ := set.Find("corner")
	rep := c.Eval(b, calc.Input{Values: map[string]string{"radius": "R6 max"}, Keys: map[string]string{"radius": "thou"}, System: unit.Inch, Reading: true})
	if st, _ := rep.Field("radius"); st.Text != "6 thou max" || st.Echo != "6 thou max = 0.1524 mm" {
		t.Errorf("%q %q %q", st.Text, st.Echo, st.Problem)
	}
}

// TestFieldRefusesPrint: what a field cannot mean is refused, with what would be right.
func TestFieldRefusesPrint(t *testing.T) {
	b := readBook(t)
	for _, c := range []struct{ id, lines, field, want string }{
		{"corner", "wire = R0.05 mm", "wire", "Wire on the machine is a diameter, and “R” says radius: write ⌀ and twice the number"},
		{"corner", "radius = ⌀0.3 mm", "radius", "Inside radius on the print is a radius, and “⌀” says diameter: write R and half the number"},
		{"job", "slot = R0.15 mm", "slot", "Narrowest slot is no radius, and “R” says that this is one: write the number alone if it is meant"},
		{"slot", "width = 0.4 mm max", "width", "Width of the slot on the print has two limits, and the print gives one: write both, for example 39.98/40 mm or 40 +0/-0.02 mm"},
		{"job", "size = 40 mm min", "size", "Size with the closest tolerance has two limits, and the print gives one: write both, for example 39.98/40 mm or 40 +0/-0.02 mm"},
		{"corner", "gap = 5 µm max", "gap", "Spark gap of the last pass, each side takes a range, and one limit leaves its other end open: write both, for example 2 to 6 µm"},
		{"corner", "radius = 0.15 mm min; asks = maximum", "radius", "the number is a minimum, and “The print asks for” says otherwise: change one of the two"},
		{"corner", "radius = 0.15 mm max; asks = plus-minus", "radius", "the number is a maximum, and “The print asks for” says otherwise: change one of the two"},
		{"job", "got-ra = Rz 4 µm", "got-ra", "Ra found was read as Ra: nothing else can be turned into it"},
		{"size", "size = 40 mm A7", "size", "\"A7\" has no limits here for this size: classes are held from D to S and d to s, grades 5 to 11, 1 to 500 mm; write a number and mm, µm, thou, tenths or in, for example 3 thou"},
		{"size", "size = 40 mm H12", "size", "\"H12\" has no limits here for this size: classes are held from D to S and d to s, grades 5 to 11, 1 to 500 mm; write a number and mm, µm, thou, tenths or in, for example 3 thou"},
		{"size", "size = 600 mm H7", "size", "\"H7\" has no limits here for this size: classes are held from D to S and d to s, grades 5 to 11, 1 to 500 mm; write a number and mm, µm, thou, tenths or in, for example 3 thou"},
		{"size", "size = 40 mm H7/g6", "size", "a fit has two classes, of the hole and of the shaft; write that of the part that is cut, as in 40 H7; write a number and mm, µm, thou, tenths or in, for example 3 thou"},
		{"job", "thickness = 40 mm H7", "thickness", "one value is wanted here, without a tolerance; write a number and mm, µm, thou, tenths or in, for example 3 thou"},
		{"job", "material = stainles", "material", "Material is one of steel, hot-work, stainless, titanium, nickel, aluminium, copper, carbide, graphite, pcd, high-speed, powder, ph-stainless, cobalt-chrome, nickel-titanium, molybdenum, tungsten, tungsten-copper, beryllium-copper, brass, nickel-iron, magnet, boron-nitride; this is \"stainles\"; did you mean \"stainless\"?"},
		{"job", "material = 1.2378", "material", "Material is one of steel, hot-work, stainless, titanium, nickel, aluminium, copper, carbide, graphite, pcd, high-speed, powder, ph-stainless, cobalt-chrome, nickel-titanium, molybdenum, tungsten, tungsten-copper, beryllium-copper, brass, nickel-iron, magnet, boron-nitride; this is \"1.2378\"; did you mean \"1.2379\"?"},
		{"job", "material = unobtainium", "material", "Material is one of steel, hot-work, stainless, titanium, nickel, aluminium, copper, carbide, graphite, pcd, high-speed, powder, ph-stainless, cobalt-chrome, nickel-titanium, molybdenum, tungsten, tungsten-copper, beryllium-copper, brass, nickel-iron, magnet, boron-nitride; this is \"unobtainium\""},
		{"corner", "dielectric = oli", "dielectric", "Dielectric is one of water, oil; this is \"oli\"; did you mean \"oil\"?"},
		{"corner", "raduis = 3 thou", "", "there is no field \"raduis\"; did you mean \"radius\"?"},
		{"corner", "radius = ", "radius", "a value is wanted here, for example 0.15 mm"},
	} {
		rep := typed(t, b, c.id, true, c.lines)
		if len(rep.Problems) != 1 || rep.Problems[0].Field != c.field || rep.Problems[0].Text != c.want {
			t.Errorf("%s %s: %q\nwant %q", c.id, c.lines, rep.Problems, c.want)
		}
	}
}

// TestLimitChooses: “min” beside a radius chooses what the print asks for, where nobody
// did, and goes into the link with it.
func TestLimitChooses(t *testing.T) {
	b := readBook(t)
	for _, id := range []string{"corner", "job"} {
		for _, c := range []struct{ lines, asks string }{
			{"radius = R0.3 mm min", "minimum"}, {"radius = R0.3 mm max", "maximum"}, {"radius = 0.3 mm", "maximum"}, {"radius = 0.3 mm min; asks = minimum", "minimum"}, {"radius = 0.3 mm min; asks = sharp", "sharp"},
		} {
			rep := typed(t, b, id, true, c.lines)
			if st, _ := rep.Field("asks"); st.Text != c.asks || len(rep.Problems) > 0 {
				t.Errorf("%s %s asks for %q, %v; %q is wanted", id, c.lines, st.Text, rep.Problems, c.asks)
			}
		}
	}
}

// TestMaterialNames: every name of the table is read as its row, in every field that
// offers the materials, and none names two.
func TestMaterialNames(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, c := range set.All() {
		fields, _ := c.Describe(b)
		for _, f := range fields {
			if f.Name != "material" || len(f.Options) != len(b.Table("materials").Rows) {
				continue // the water calculator asks for another list
			}
			seen++
			for _, r := range b.Table("materials").Rows {
				for _, name := range append(strings.Split(r.Cell("also"), "; "), r.Key, r.Cell("name")) {
					for _, text := range []string{name, strings.ToUpper(name), strings.ReplaceAll(name, " ", "-"), strings.ReplaceAll(name, ".", ",")} {
						rep := c.Eval(b, calc.Input{Values: map[string]string{"material": text}, Strict: true, Reading: true})
						if st, _ := rep.Field("material"); st.Text != r.Key || len(rep.Problems) > 0 {
							t.Errorf("%s: %q is read as %q, not %s: %v", c.ID, text, st.Text, r.Key, rep.Problems)
						}
					}
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("%d fields of a material; the test looks past them", seen)
	}
	// Numbers and names as EN 10027-2, AISI and UNS give them (from memory, places not seen).
	for name, key := range map[string]string{"D2": "steel", "1.2379": "steel", "H13": "hot-work", "1.2344": "hot-work", "WC": "carbide", "tungsten carbide": "carbide", "316L": "stainless", "aluminum": "aluminium", "Aluminium": "aluminium", "Ti6Al4V": "titanium"} {
		if st, _ := typed(t, b, "job", true, "material = "+name).Field("material"); st.Text != key {
			t.Errorf("%s is %q, not %s: %s", name, st.Text, key, st.Problem)
		}
	}
}

// TestTurnedSaid: an answer says what was made of an Rz, of a class and of another name,
// and lists the rows that it took for them.
func TestTurnedSaid(t *testing.T) {
	b := readBook(t)
	set, _ := New(b)
	for _, c := range []struct{ id, lines, note, row string }{
		{"finish", "ra = Rz 4 µm", "Roughness on the print: Rz 4 µm = Ra 0.5 to 0.8 µm = Ra 19.7 to 31.5 µin, by the table of ratios, common practice; no standard turns one into the other.", "ratios Rz"},
		{"size", "size = 40 mm g6", "Size on the print, with its tolerance: 40 mm g6 = 39.975 to 39.991 mm = 1.5738 to 1.5744 in, the limits are those of ISO 286-1, from memory, place not seen.", "deviations g"},
		{"metal", "material = 316L", "Material: \"316L\" is read as stainless steel 304 / 316.", "materials stainless"},
	} {
		k, _ := set.Find(c.id)
		name, value, _ := strings.Cut(c.lines, " = ")
		a := k.Eval(b, calc.Input{Values: map[string]string{name: value}, Strict: true}).Answer
		if a == nil {
			t.Fatalf("%s %s is refused", c.id, c.lines)
		}
		said, used := false, false
		for _, n := range a.Notes {
			said = said || n == c.note
		}
		for _, r := range a.Rows {
			used = used || r.Table+" "+r.Key == c.row
		}
		if !said || !used {
			t.Errorf("%s %s: said %v, row %v\n%q", c.id, c.lines, said, used, a.Notes)
		}
	}
}
