// Package metal looks a work material up: density, melting, expansion, heat
// conduction, resistivity, and what they mean on the machine. It may import
// book, calc, figure, laws and unit.
package metal

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

type form struct {
	_           [0]func() // never compared, so no code for comparing is made
	book        *book.Book
	material    string
	length      unit.Length
	kelvins     unit.Ratio
	density     unit.Density
	melting     unit.Temperature
	expansion   unit.Expansion
	heat        unit.HeatConductivity
	resistivity unit.Resistivity
	given       [5]bool
	growth      unit.Length
	cube        unit.Mass
}

// Calculator declares the look-up of work materials.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "metal", Title: "Work material", Question: "What are the numbers of this work material?",
		Summary: "Density, melting, expansion, heat conduction and resistivity of the usual work materials, each with where it comes from, and the growth of a length.",
		Tables:  []string{"materials name density_*_gcm3 melting_*_degc remark", "properties value_*_n0 remark"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -\ngroup Material")
	calc.Ask(f, &in.length, `length: A length on the part
		mark -
		is 100 mm
		keys mm in; in
		usual 1 mm to 500 mm
		above 0 mm: a length is not nothing
		max 5000 mm: no machine takes more`)
	calc.Ask(f, &in.kelvins, `kelvins: Warmer by, in kelvins
		is 1
		help A kelvin is 1.8 °F. Minus for colder.
		usual 0 to 10
		min -100: nothing is measured in such cold
		max 200: the expansion itself changes by then
		ranges`)
	const head = "\nadvanced\nranges\nhelp From the certificate. Leave it empty to take the table."
	calc.AskGiven(f, &in.density, &in.given[0], `density: Density
		group Your own numbers
		keys g/cm³ kg/m³
		usual 1.5 g/cm³ to 16 g/cm³
		above 0 g/cm³: everything weighs something
		max 25 g/cm³: no metal is heavier`+head).Fallback = func() calc.Fallback {
		return in.own("density", "gcm3", unit.DensityKind, "g/cm³")
	}
	calc.AskGiven(f, &in.melting, &in.given[1], `melting: Melting range
		keys °C °F; °F
		usual 400 °C to 3800 °C
		min 20 °C: it would run off the table
		max 4000 °C: nothing melts higher`+head).Fallback = func() calc.Fallback { return in.own("melting", "degc", unit.TemperatureKind, "°C") }
	calc.AskGiven(f, &in.expansion, &in.given[2], `expansion: Expansion
		keys ppm/K ppm/°F; ppm/°F
		usual 4 ppm/K to 25 ppm/K
		above 0 ppm/K: these materials grow with heat
		max 100 ppm/K: no metal grows this much`+head).Fallback = func() calc.Fallback { return in.more("expansion", unit.ExpansionKind, "ppm/K") }
	calc.AskGiven(f, &in.heat, &in.given[3], `heat: Heat conductivity
		keys W/(m·K)
		usual 5 W/(m·K) to 600 W/(m·K)
		above 0 W/(m·K): every metal conducts heat
		max 3000 W/(m·K): not even diamond conducts more`+head).Fallback = func() calc.Fallback { return in.more("heat", unit.HeatConductivityKind, "W/(m·K)") }
	calc.AskGiven(f, &in.resistivity, &in.given[4], `resistivity: Electrical resistivity
		keys µΩ·m µΩ·cm
		usual 0.015 µΩ·m to 20 µΩ·m
		above 0 µΩ·m: only a superconductor has none
		max 10000000 µΩ·m: no spark erodes such a body`+head).Fallback = func() calc.Fallback { return in.more("resistivity", unit.ResistivityKind, "µΩ·m") }
}

// own takes a range from the material's own row.
func (in *form) own(stem, suffix string, k unit.Kind, name string) calc.Fallback {
	r, ok := in.book.Find("materials", in.material)
	return fallback(r, ok, stem, suffix, k, name)
}

// more takes a range from the table of properties.
func (in *form) more(property string, k unit.Kind, name string) calc.Fallback {
	r, ok := in.book.Find("properties", in.material, property)
	return fallback(r, ok, "value", "n0", k, name)
}

func fallback(r book.Row, ok bool, stem, suffix string, k unit.Kind, name string) calc.Fallback {
	v := r.Range(stem, suffix, 1)
	if !ok || v.Likely == 0 {
		return calc.Fallback{Note: "the table has none: type a value"}
	}
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(k, v, name) + ", " + r.Provenance}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.density, "density: Density\nmain\nrises density")
	calc.Tell(f, &in.cube, "mass: Mass of a cube of that length\nunit kg 3\ninch lb 3\nrises density")
	calc.Tell(f, &in.melting, "melting: Melting range\nunit °C 0\ninch °F 0\nrises melting").Applies = func() bool { return in.melting > 0 }
	calc.Tell(f, &in.expansion, "expansion: Expansion\nrises expansion").Applies = func() bool { return in.expansion > 0 }
	calc.Tell(f, &in.growth, "growth: The length grows by\nmain\nunit µm 2\ninch thou 4\nrises kelvins").Applies = func() bool { return in.expansion > 0 }
	calc.Tell(f, &in.heat, "heat: Heat conductivity\nrises heat").Applies = func() bool { return in.heat > 0 }
	calc.Tell(f, &in.resistivity, "resistivity: Electrical resistivity\nrises resistivity").Applies = func() bool { return in.resistivity > 0 }
}

func (in *form) point(p *calc.Point) {
	in.growth = laws.Growth(in.length, in.expansion, in.kelvins)
	in.cube = unit.Mass(float64(in.density) * float64(in.length*in.length*in.length) / 1000)
	p.Work(`mass | mass of a cube | ρ L³ | {density} × ({length})³ | definition
		growth | growth | α L ΔT | {expansion} × {length} × {kelvins} K | definition`)
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	row, _ := in.book.Find("materials", in.material)
	a.Headline = r.Text("{material}: {density}")
	a.Lead = r.Text("{length} grow {growth} over {kelvins} K.")
	if s := row.Cell("remark"); s != "" {
		a.Note("The table says: " + s + ".")
	}
	for i, property := range [...]string{"expansion", "heat", "resistivity"} {
		if r, ok := in.book.Find("properties", in.material, property); ok && r.Cell("remark") != "" && !in.given[2+i] {
			a.Note("Of its " + [...]string{"expansion", "heat conductivity", "resistivity"}[i] + " the table says: " + r.Cell("remark") + ".")
		}
	}
	switch in.material {
	case "carbide":
		a.Note("One row stands for all cemented carbides. The carbide calculator gives the numbers by cobalt content.")
	case "graphite", "pcd":
		a.Note("It does not melt in the open: the melting range stands for where it goes to vapour or to graphite.")
	case "aluminium", "copper":
		a.Note("It carries the spark's heat away quickly. Aluminium is quick to cut all the same, for it melts low; copper is slow.")
	case "titanium", "nickel":
		a.Note("It keeps the heat near the spark: expect a molten layer that skims must take away.")
	}
	if in.resistivity == 0 {
		a.Note("The resistivity varies too widely to print one: measure the piece or ask the supplier.")
	}
	a.Note("Sparks need a body that conducts: below about 1 to 3 Ω·m, common practice. All materials of the table are far below it; diamond and boron nitride only through their binder.")
	a.Note("Values scatter by a twentieth between melts and with the heat treatment. A certificate of the melt is better. Above some 100 °C all of them change.")
	a.Cites("callister-2008; appendix B, table seen in an excerpt; expansion of aluminium, copper and titanium, density of stainless steel")
	a.Figure = in.draw(r)
}

// draw shows the expansions of all materials on one scale with this one marked.
func (in *form) draw(r *calc.Result) *figure.Drawing {
	d := figure.New("Expansion of the work materials on one scale", r.Text("A scale from 0 to 25 ppm/K with a mark for each material of the table. {material} stands out, at {expansion}."), 360, 160, true)
	const x0, y = 30.0, 84.0
	at := func(v float64) float64 { return x0 + 12*min(25, v) }
	d.Line(figure.Thin, x0, y, at(25), y)
	for _, m := range in.book.Table("materials").Rows {
		if p, ok := in.book.Find("properties", m.Key, "expansion"); ok {
			x := at(p.Num("value_likely_n0"))
			d.Line(figure.Thin, x, y-8, x, y+8)
		}
	}
	e := r.Of("expansion")
	d.Poly(figure.Accent, true, figure.Point{X: at(e.Low) - 0.5, Y: y - 16}, figure.Point{X: at(e.High) + 0.5, Y: y - 16}, figure.Point{X: at(e.High) + 0.5, Y: y + 16}, figure.Point{X: at(e.Low) - 0.5, Y: y + 16})
	d.Label(180, 48, r.Text("this material {expansion.likely:ppm/K 1}"), 0)
	d.Label(x0, y+40, "0", 0)
	d.Label(at(25), y+40, "25 ppm/K", 1)
	return d
}
