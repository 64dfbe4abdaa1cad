package calc

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// The fields that most calculators share, declared once.

// AskWire declares the wire with the table's diameters beside it.
func AskWire(f *Form, b *book.Book, dst *unit.Length) *Field {
	d := Ask(f, dst, `wire: Wire
		mark ⌀
		is 0.25 mm
		keys length
		usual 0.02 mm to 0.36 mm
		min 0.005 mm: no wire thinner than this is drawn for cutting
		max 1 mm: wire for cutting ends well below this
		card wire_from_mm wire_to_mm`)
	OfferWires(b, d)
	return d
}

// OfferWires sets the table's diameters beside a field.
func OfferWires(b *book.Book, d *Field) {
	if d.Options != nil { // known from before
		return
	}
	st := unit.Style{Unit: "mm", Decimals: 3, Trim: true}
	for _, w := range b.Wires() {
		d.Options = append(d.Options, Option{unit.Print(unit.LengthKind, float64(w), st), unit.Number(float64(w), st)})
	}
}

// AskDielectric declares the choice between water and oil.
func AskDielectric(f *Form, dst *string) *Field {
	return AskChoice(f, dst, `dielectric: Dielectric
		option water: water
		option oil: oil
		card dielectrics`)
}

// AskRows declares a choice among the rows of a table, named by its column name.
func AskRows(f *Form, b *book.Book, table string, dst *string, text string) *Field {
	d := AskChoice(f, dst, text)
	if t := b.Table(table); t != nil && d.Options == nil {
		for _, r := range t.Rows {
			d.Options = append(d.Options, Option{r.Key, r.Cell("name")})
		}
	}
	if d.Default == "" && len(d.Options) > 0 {
		d.Default = d.Options[0].Value
	}
	return d
}

// AskLed declares what leads the tip of the wire when it is threaded.
func AskLed(f *Form, dst *string) *Field {
	return AskChoice(f, dst, `led: What leads the tip
		help Many machines draw the end straight with heat and lead it by a jet or by suction.
		option pushed: nothing, it is pushed down
		option jet: a jet or suction, its end drawn straight`)
}

// AskThickness declares the part's thickness.
func AskThickness(f *Form, dst *unit.Length) *Field {
	return Ask(f, dst, `thickness: Thickness
		mark thickness
		is 20 mm
		keys mm in; in
		usual 0.5 mm to 200 mm
		above 0 mm: the part has a thickness
		max 1000 mm: no machine takes more
		card - height_mm`)
}

// AskHeight declares a part's thickness that may stay empty: the law then takes the
// height that its constants are given for.
func AskHeight(f *Form, dst *unit.Length) *Field {
	return AskGiven(f, dst, new(bool), `thickness: Thickness
		advanced
		help Leave it empty to take 160 times the wire. A tall part in water has a wider last gap.
		keys mm in; in
		usual 0.5 mm to 200 mm
		above 0 mm: the part has a thickness
		max 1000 mm: no machine takes more
		card - height_mm`)
}

// AskGap declares a spark gap that the law or a row of the shop's fills when it
// stays empty: see GapOf. text begins with its name and label.
func AskGap(f *Form, dst *unit.Length, given *bool, text string, table func() Fallback) *Field {
	d := AskGiven(f, dst, given, text+`
		help Leave it empty to take the law's range. A measured gap is always better.
		keys small
		usual 1 µm to 70 µm
		min 0 µm: a gap is not negative
		max 1 mm: no spark crosses a gap this wide
		ranges`)
	d.Fallback = table
	return d
}

// WireName is a wire as the trade writes it: "⌀ 0.10 mm", or in thou.
func WireName(d unit.Length, s unit.System) string {
	if s == unit.Inch {
		return "⌀ " + Put(d, "thou", 2)
	}
	decimals := 2
	if um := float64(d) * 1000; um-10*float64(int(um/10+0.05)) > 0.5 {
		decimals = 3
	}
	return "⌀ " + unit.Print(unit.LengthKind, float64(d), unit.Style{Unit: "mm", Decimals: decimals})
}

// Curl is how far the tip of a wire from the spool strays over 100 mm of free
// wire, where nobody has measured it. Common practice, no source.
const Curl = "0.5 to 3 mm"

// Drawn is the same for an end that the machine has drawn straight with heat and
// leads by a jet or suction: anything up to what a straight spool has. Common
// practice, no source.
const Drawn = "0 to 0.5 mm"

// CurlOf is the usual curl, of a wire that is pushed or led, as what an empty field
// takes.
func CurlOf(led bool) Fallback {
	text, note := Curl, "of a spool"
	if led {
		text, note = Drawn, "of an end drawn straight"
	}
	rd, err := unit.Read(text, unit.LengthKind, unit.Options{Ranges: true})
	if err != nil {
		return Fallback{}
	}
	return Fallback{Range: rd.Range, Note: "the usual curl " + note + ", common practice, no source: " + text}
}

// Exit is how far the guide's exit, or the mouth of the threading tube, stands
// above the part while the wire is threaded. Common practice, no source.
const Exit = "5 to 15 mm"

// Stray returns how far the tip of a curled wire strays over its free length,
// from where it is last held to where it must arrive, when it strays by over100
// in 100 mm: a constant curl goes with the length squared. Geometry.
func Stray(over100, free unit.Length) unit.Length {
	k := float64(free) / 100
	return over100 * unit.Length(k*k)
}

// StrayOver is Stray for the usual curl over a part of this height and the usual
// Exit above it, as what an empty field takes.
func StrayOver(height unit.Length, led bool) Fallback {
	curl := CurlOf(led)
	exit, err := unit.Read(Exit, unit.LengthKind, unit.Options{Ranges: true})
	if err != nil {
		return Fallback{}
	}
	text := Curl
	if led {
		text = Drawn
	}
	at := func(curl, exit float64) float64 {
		return float64(Stray(unit.Length(curl), height+unit.Length(exit)))
	}
	r := unit.Range{Low: at(curl.Range.Low, exit.Range.Low), Likely: at(curl.Range.Likely, exit.Range.Likely), High: at(curl.Range.High, exit.Range.High)}
	return Fallback{Range: r, Note: "a curl of " + text + " over 100 mm, common practice, over the part's " + Put(height, "mm", 3) + " and " + Exit + " of free wire above it: " + unit.PrintRange(unit.LengthKind, r, unit.Style{Unit: "mm", Decimals: 4, Trim: true})}
}

// Times is a range with each end multiplied, for factors that are not negative.
func Times(a, b unit.Range) unit.Range {
	return unit.Range{Low: a.Low * b.Low, Likely: a.Likely * b.Likely, High: a.High * b.High}
}

// Expanded returns the expanded uncertainty U = 2 u, which covers about 95 in 100,
// for the root of the sum of squared limits: each limit a, as a rectangular
// distribution, has u = a / √3. JCGM 100, from memory, place not seen.
func Expanded(rootSum unit.Length) unit.Length { return rootSum * 1.1547005383792515 }
