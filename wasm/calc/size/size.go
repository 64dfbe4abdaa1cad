package size

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                [0]func() // never compared, so no code for comparing is made
	book                             *book.Book
	size                             calc.Span[unit.Length]
	class, material                  string
	alpha, gauge                     unit.Expansion
	alphaGiven                       bool
	partAt, gaugeAt                  unit.Temperature
	width, is, next                  unit.Length
	grown, gaugeGrown, wrong         unit.Length
	share                            unit.Percent
	kelvins                          unit.Ratio
	grade, passes, heat, from        string
	general, row, nextRow, passesRow book.Row
}

// Calculator declares the calculator of temperature and tolerance.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "size", Title: "Temperature and tolerance", Question: "What does this tolerance ask for, and what does the temperature take of it?",
		Summary: "The standard grade of a tolerance, the general tolerance where the print gives none, the passes it asks for, and the growth of part and gauge.",
		Tables:  []string{"itgrades to_3_um to_6_um to_10_um to_18_um to_30_um to_50_um to_80_um to_120_um to_180_um to_250_um to_315_um to_400_um to_500_um", "deviations to_3_um to_6_um to_10_um to_18_um to_30_um to_50_um to_65_um to_80_um to_100_um to_120_um to_140_um to_160_um to_180_um to_200_um to_225_um to_250_um to_280_um to_315_um to_355_um to_400_um to_450_um to_500_um", "general class above_mm to_mm pm_mm", "asks width_um words", "materials name", "properties value_*_n0 remark"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskSpan(f, &in.size, `size: Size on the print, with its tolerance
		mark -
		group Print
		is 50 ±0.01 mm
		help As printed: 50 ±0.01, 50 +0.02/-0, 49.99/50.01 or 50 H7. Without a tolerance the class of the title block is taken.
		keys mm in; in
		usual 0.5 mm to 400 mm
		above 0 mm: a size is not nothing
		max 4000 mm: the tables end here`)
	calc.AskChoice(f, &in.class, `class: General tolerance in the title block
		is m
		option f: f, fine
		option m: m, medium
		option c: c, coarse
		option v: v, very coarse`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -\ngroup Temperature")
	calc.AskGiven(f, &in.alpha, &in.alphaGiven, `expansion: Expansion of the part
		advanced
		help Leave it empty to take the table's range.
		keys ppm/K ppm/°F; ppm/°F
		usual 4 ppm/K to 25 ppm/K
		above 0 ppm/K: these materials grow with heat
		max 100 ppm/K: no metal grows this much
		ranges`).Fallback = in.table
	calc.Ask(f, &in.partAt, `part-temperature: Part, when measured
		is 23 °C
		help Of the metal, not of the room. Cut in water, it has the water's temperature.
		keys °C °F; °F
		usual 15 °C to 30 °C
		min -20 °C: nothing is measured in such cold
		max 100 °C: let it cool first
		ranges`)
	calc.Ask(f, &in.gaugeAt, `gauge-temperature: Gauge or scale
		is 20 °C
		keys °C °F; °F
		usual 15 °C to 30 °C
		min -20 °C: nothing is measured in such cold
		max 100 °C: let it cool first
		ranges`)
	calc.Ask(f, &in.gauge, `gauge-expansion: Expansion of the gauge or scale
		advanced
		is 10.5 to 12.5 ppm/K
		help Steel gauges: 11.5, from memory. Carbide gauges and scales of glass grow less: see their papers.
		keys ppm/K ppm/°F; ppm/°F
		usual 4 ppm/K to 13 ppm/K
		min 0 ppm/K: a gauge does not shrink with heat
		max 100 ppm/K: no metal grows this much
		ranges`)
}

// table gives the part's expansion.
func (in *form) table() calc.Fallback {
	r, ok := in.book.Find("properties", in.material, "expansion")
	if !ok {
		return calc.Fallback{Note: "no table row fits: type a value"}
	}
	v := r.Range("value", "n0", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.ExpansionKind, v, "ppm/K")}
}

func (in *form) answers(f *calc.Form) {
	wide := func() bool { return in.width > 0 }
	calc.Tell(f, &in.width, "width: Whole width of the tolerance\nmain").Applies = wide
	calc.TellChoice(f, &in.from, "from: The tolerance stands\nword print: on the print\nword general: in the class of the title block\nword none: nowhere")
	calc.TellChoice(f, &in.grade, "grade: Standard grade that it holds\nword none: none of the table")
	calc.Tell(f, &in.is, "grade-width: Width of that grade").Applies = func() bool { return in.is > 0 }
	calc.Tell(f, &in.next, "next-width: Width of the next wider grade").Applies = func() bool { return in.next > 0 }
	calc.TellChoice(f, &in.passes, "passes: Passes that the width asks for")
	calc.Tell(f, &in.wrong, "wrong: The part reads wrong by\nmain\nhelp Plus: it reads too large.\nunit µm 2\ninch thou 3\nrises part-temperature\nfalls gauge-temperature")
	calc.Tell(f, &in.grown, "part-growth: Growth of the part since 20 °C\nunit µm 2\ninch thou 3\nrises part-temperature")
	calc.Tell(f, &in.gaugeGrown, "gauge-growth: Growth of the gauge over this length\nunit µm 2\ninch thou 3\nrises gauge-temperature")
	calc.Tell(f, &in.share, "share: Share of the tolerance that the heat takes\ndigits 1").Applies = wide
	calc.Tell(f, &in.kelvins, "kelvins: Kelvins of the part that take a tenth of it\nhelp A kelvin is 1.8 °F.\ndigits 1\nfalls expansion").Applies = wide
	calc.TellChoice(f, &in.heat, "heat: The temperature\nword small: takes less than a tenth\nword part: takes a tenth or more\nword all: takes more than the tolerance\nword unknown: no tolerance to hold it against")
}

func (in *form) point(p *calc.Point) {
	if in.alpha <= 0 {
		p.Impossible("the expansion of the part is not in the table: type it")
	}
	size := in.size.Likely
	in.tolerance()
	in.grown = Growth(size, in.alpha, in.partAt)
	in.gaugeGrown = Growth(size, in.gauge, in.gaugeAt)
	in.wrong = in.grown - in.gaugeGrown
	in.share, in.kelvins, in.heat = 0, 0, "unknown"
	if in.width > 0 {
		in.share = unit.Percent(100 * math.Abs(float64(in.wrong/in.width)))
		in.kelvins = Kelvins(in.width/10, size, in.alpha)
		switch {
		case in.share > 100+1e-9:
			in.heat = "all"
		case in.share >= 10:
			in.heat = "part"
		default:
			in.heat = "small"
		}
	}
	if p.Stepping() {
		in.work(p)
	}
}

// tolerance finds width, grade and passes.
func (in *form) tolerance() {
	size := in.size.Likely
	in.width, in.from, in.general = in.size.High-in.size.Low, "print", book.Row{}
	if in.width <= 1e-9 {
		in.width, in.from = 0, "none"
		if r, ok := General(in.book.Table("general"), in.class, size); ok {
			in.general, in.from, in.width = r, "general", unit.Length(2*r.Num("pm_mm"))
		}
	}
	in.grade, in.is, in.next, in.passes = "none", 0, 0, "not known without a tolerance"
	in.row, in.nextRow, in.passesRow = book.Row{}, book.Row{}, book.Row{}
	if in.width == 0 {
		return
	}
	var column string
	in.row, in.nextRow, column = Grade(in.book.Table("itgrades"), size, in.width)
	if in.row.Key != "" {
		in.grade, in.is = in.row.Key, unit.Length(in.row.Num(column)/1000)
	}
	in.next = unit.Length(in.nextRow.Num(column) / 1000)
	for _, r := range in.book.Table("asks").Rows {
		if float64(in.width)*1000 >= r.Num("width_um")-1e-6 {
			in.passesRow, in.passes = r, r.Cell("words")
			break
		}
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	switch in.from {
	case "general":
		p.Work("width | whole width | twice the general tolerance | 2 × {1} mm, class {2} | iso-2768-1", in.general.Cell("pm_mm"), in.class)
	case "print":
		p.Work("width | whole width | largest less smallest size | {1} - {2} | definition", calc.Put(in.size.High, "mm", 5), calc.Put(in.size.Low, "mm", 5))
	}
	if in.row.Key != "" {
		p.Work("grade = {1} | standard grade | widest one that is not wider | {grade-width} for {size:mm 4} | iso-286-1", in.grade)
	}
	p.Work(`part-growth | growth of the part | α L (T - 20 °C) | {expansion} × {size:mm 4} × ({part-temperature} - 20 °C) | iso-1
		gauge-growth | growth of the gauge | α L (T - 20 °C) | {gauge-expansion} × {size:mm 4} × ({gauge-temperature} - 20 °C) | iso-1
		wrong | reads wrong by | part less gauge | {part-growth} - ({gauge-growth}) | definition`)
	if in.width > 0 {
		p.Work(`kelvins = {kelvins} K | kelvins for a tenth | width / (10 α L) | {width} / (10 × {expansion} × {size:mm 4}) | definition`)
	}
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = in.width > 0
	a.Used(in.general, in.row, in.nextRow, in.passesRow)
	a.Rows = dropEmpty(a.Rows)
	in.sayTolerance(r, a)
	in.sayHeat(r, a)
	a.Cites(`iso-1; the reference temperature, 20 °C; where a size on a print holds
		iso-286-1; table of standard tolerances, place not seen; grades IT5 to IT10 read, the others from memory`)
	if in.from == "general" {
		a.Cites("iso-2768-1; table of linear sizes, place not seen; classes f and m to 400 mm read, the rest from memory")
	}
	a.Figure = in.draw(r)
}

func dropEmpty(rows []book.Row) []book.Row {
	var out []book.Row
	for _, r := range rows {
		if r.Table != "" {
			out = append(out, r)
		}
	}
	return out
}

func (in *form) sayTolerance(r *calc.Result, a *calc.Answer) {
	switch {
	case in.from == "none":
		a.Headline = r.Text("No tolerance: the part reads wrong by {wrong}")
		a.Lead = "The print gives none, and the table has none of this class for this size. Ask."
		return
	case in.grade == "none":
		a.Headline = r.Text("{width} wide; it reads wrong by {wrong}")
	default:
		a.Headline = r.Text("{width} wide: {grade} work; it reads wrong by {wrong}")
	}
	a.Lead = r.Text("Passes: {passes}. The heat takes {share} of the tolerance.")
	switch {
	case in.grade == "none" && in.next > 0:
		a.Note(r.Text("Narrower than the finest grade for this size, which is {next-width}. No workshop cut holds this: read the print again."))
	case in.grade == "none":
		a.Note("The table of grades ends at 500 mm. Larger sizes have a table of their own, which is not here.")
	case in.next > 0 && in.is < in.width-1e-9:
		a.Note(r.Text("The width lies between {grade} of {grade-width} and {1} of {next-width}. It must be made as {grade}, with a little to spare.", in.nextRow.Key))
	}
	if in.from == "general" {
		a.Note(r.Text("Class {class} gives ±{1} here. Which edition and class hold is written in the title block; a general tolerance on form and place is another standard's.", calc.Say(unit.Length(in.general.Num("pm_mm")), r.System)))
	}
	a.Note("Passes by width are common practice, no source. Roughness, edges and the layer on the face may ask for more. A grade says nothing about form: taper and bow along the height count too.")
}

func (in *form) sayHeat(r *calc.Result, a *calc.Answer) {
	switch p := r.Pick("heat"); {
	case in.from == "none":
	case len(p.All) > 1:
		a.Note(r.Text("Whether it matters depends on values that are not known well: {heat}. Let part and gauge lie together, and measure again."))
	case p.Likely.Value == "small":
		a.Note("The temperature takes less than a tenth of the tolerance: it may be left alone. The tenth is common practice, no source.")
	case p.Likely.Value == "part":
		a.Note(r.Text("Let part and gauge lie together, or take {wrong} off the reading. Never put it into the offset: an offset moves walls, heat moves places."))
	default:
		a.Note("The temperature alone can pass a bad part or fail a good one. Measure again when both have settled.")
	}
	if in.from != "none" && r.Of("kelvins").Low < 10 {
		a.Note(r.Text("{kelvins} K on the part take a tenth of the tolerance. The water should drift less than this from the first pass to the last."))
	}
	a.Note("Measured warm, a part reads too large. Cut warm on a machine at 20 °C, it comes out too small by its growth. The sum holds for a part of one temperature: one that is warm on one side bends.")
	if row, ok := in.book.Find("properties", in.material, "expansion"); ok && row.Cell("remark") != "" && !in.alphaGiven {
		a.Note("Of this expansion the table says: " + row.Cell("remark") + ".")
	}
	if in.material == "carbide" && !in.alphaGiven {
		a.Note("The expansion of carbide follows its cobalt: take it from the supplier's sheet, or from the carbide calculator.")
	}
}

// draw shows the tolerance zone and the error along one scale.
func (in *form) draw(r *calc.Result) *figure.Drawing {
	e := r.Of("wrong")
	half := float64(in.width) / 2
	most := max(half, math.Abs(e.Low), math.Abs(e.High), 1e-9)
	d := figure.New("The tolerance zone, and what the temperature adds, along one scale", r.Text("A zone of {1} about the middle of the tolerance. A part of the middle size reads {wrong} off it.", calc.SayRange(unit.LengthKind, unit.Exactly(float64(in.width)), r.System)), 360, 190, false)
	const mid, reach, y = 180.0, 140.0, 84.0
	at := func(v float64) float64 { return mid + reach*v/most }
	d.Line(figure.Thin, 20, y, 340, y)
	if in.width > 0 {
		d.Poly(figure.Outline, true, figure.Point{X: at(-half), Y: y - 26}, figure.Point{X: at(half), Y: y - 26}, figure.Point{X: at(half), Y: y + 26}, figure.Point{X: at(-half), Y: y + 26})
		d.Label(mid, 28, r.Text("tolerance {width:mm 4}"), 0)
	}
	d.Line(figure.Centre, mid, y-34, mid, y+44)
	d.Poly(figure.Accent, true, figure.Point{X: at(e.Low) - 0.5, Y: y - 10}, figure.Point{X: at(e.High) + 0.5, Y: y - 10}, figure.Point{X: at(e.High) + 0.5, Y: y + 10}, figure.Point{X: at(e.Low) - 0.5, Y: y + 10})
	d.Label(mid, 146, "a part of the middle size", 0)
	d.Label(mid, 170, r.Text("reads wrong by {wrong.likely:µm 2}"), 0)
	return d
}
