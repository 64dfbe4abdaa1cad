package bow

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                  [0]func() // never compared, so no code for comparing is made
	book                               *book.Book
	machine, asks, pass, kind, arc     string
	load, skimLoad, found              unit.LineLoad
	loadGiven                          bool
	measured, thickness, plan          unit.Length
	below, above, wire, radius, offset unit.Length
	tension, other                     unit.Force
	row                                book.Row
	bend, top, bottom, barrel, lean    unit.Length
	planned, bendOther, bendSkim       unit.Length
	inside, outside, arcError          unit.Length
	less, stiff, share, shareOther     unit.Percent
	frequency                          unit.Frequency
}

// Calculator declares the bow calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "bow", Title: "How far the wire bends", Question: "How far does the wire bend, and what of it shows on the part?",
		Summary: "Bend under the load of the gap, barrel and lean of a wall, corners and arcs, natural frequency; the load from a measured barrel.",
		Tables:  []string{"law", "pushes name load_*_npm", "wires", "wiretypes name uts_low_mpa young_likely_gpa density_likely_kgm3", "machines dielectrics"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) forward() bool { return in.asks != "measured" }
func (in *form) full() bool    { return in.forward() && in.pass == "full" }
func (in *form) across() bool  { return !in.full() }

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskChoice(f, &in.asks, "asks: What is wanted\ngroup Load\noption load: the bend, from a load\noption measured: the load, from a measured barrel")
	calc.AskChoice(f, &in.pass, `pass: The pass
		if asks load
		option full: full cut, sparks in front
		option skim: skim, sparks on one side`)
	calc.AskGiven(f, &in.load, &in.loadGiven, `load: Load of the gap on a length of wire
		mark load
		if asks load
		help Nobody measures it. Leave it empty for a range over a whole decade, or take the load that your own wall tells.
		keys N/m lbf/in; lbf/in
		usual 0.01 N/m to 1 N/m
		min 0 N/m: the load is taken without its sign
		max 100 N/m: no gap pushes like this
		ranges`).Fallback = func() calc.Fallback { return in.table(in.pass) }
	calc.Ask(f, &in.measured, `measured: Barrel that was measured
		if asks measured
		is 3 to 5 µm
		help One wall at mid-height, against the line through both rims. From widths, take half the difference. Without a sign.
		keys small
		usual 0.5 µm to 30 µm
		min 0 µm: take it without its sign
		max 1 mm: this is no bow
		ranges`)
	calc.AskThickness(f, &in.thickness).Group = "Part and guides"
	calc.Ask(f, &in.below, `below: Lower guide below the part
		is 10 mm
		help To where the guide holds the wire, not to the nozzle's face.
		keys mm in; in
		usual 1 mm to 40 mm
		min 0 mm: the guide stands outside the part
		max 500 mm: no machine reaches this
		ranges`)
	calc.Ask(f, &in.above, `above: Upper guide above the part
		is 10 mm
		keys mm in; in
		usual 1 mm to 60 mm
		min 0 mm: the guide stands outside the part
		max 500 mm: no machine reaches this
		ranges`)
	calc.AskWire(f, in.book, &in.wire).Group = "Wire"
	calc.AskRows(f, in.book, "wiretypes", &in.kind, "kind: What it is made of")
	calc.Ask(f, &in.tension, tension("tension: Tension\nmark tension\nis 10 N"))
	calc.Ask(f, &in.other, tension("other: Tension to compare with\ngroup What helps\nis 16 N"))
	d := calc.AskGiven(f, &in.skimLoad, new(bool), `skim-load: Load in a skim
		advanced
		keys N/m lbf/in; lbf/in
		usual 0.01 N/m to 0.3 N/m
		min 0 N/m: the load is taken without its sign
		max 100 N/m: no gap pushes like this
		ranges`)
	d.Fallback, d.ShowIf = func() calc.Fallback { return in.table("skim") }, in.full
	calc.Ask(f, &in.plan, `plan: Height to plan for
		if asks measured
		is 40 mm
		help The same setting on another height.
		keys mm in; in
		usual 1 mm to 200 mm
		above 0 mm: the part has a height
		max 1000 mm: no machine takes more`)
	calc.AskChoice(f, &in.arc, "arc: Arc\ngroup Corner and arc\nif asks load\noption boss: boss, the wire runs outside\noption hole: hole, the wire runs inside")
	calc.Ask(f, &in.radius, `radius: Radius on the drawing
		if asks load
		is 1 mm
		keys length
		usual 0.2 mm to 20 mm
		above 0 mm: an arc has a radius
		max 1000 mm: this is a straight wall`)
	calc.AskGiven(f, &in.offset, new(bool), `offset: Offset of this pass
		if asks load
		help Leave it empty for the law's, in steel: pass 1 of 4, or the last.
		keys length
		usual 0.02 mm to 0.3 mm
		above 0 mm: a wire has a radius
		max 2 mm: no plan for wire needs more`).Fallback = in.lawOffset
}

// lawOffset is the offset of roughing, or of the last of four passes, in steel by the
// law of a pass; nothing is bent by it, it is where the wire's arc stands.
func (in *form) lawOffset() calc.Fallback {
	if !in.forward() {
		return calc.Fallback{}
	}
	fluid := "water"
	if r, ok := in.book.Find("machines", in.machine); ok && r.Cell("dielectrics") == "oil" {
		fluid = "oil"
	}
	p := calc.LawOf(in.book).Plan(book.Cut{Machine: in.machine, Material: "steel", Dielectric: fluid, Thickness: in.thickness, Wire: in.wire}, 4)
	pass := 4
	if in.pass == "full" {
		pass = 1
	}
	return p.ToldOffset(pass)
}

func tension(head string) string {
	return head + `
		help Newtons at the wire, by gauge, not the number on the control.
		keys N gf lbf; lbf
		usual 1 N to 25 N
		above 0 N: a slack wire has no shape
		max 1000 N: no cutting wire holds this
		ranges
		card tension_from_n tension_to_n`
}

func (in *form) table(pass string) calc.Fallback {
	if !in.forward() { // the wall tells the load
		return calc.Fallback{}
	}
	r, ok := in.book.Find("pushes", pass)
	if !ok {
		return calc.Fallback{Note: "no table row fits: type a load"}
	}
	v := r.Range("load", "npm", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: "a guess, from the table: " + unit.PrintRange(unit.LineLoadKind, v, unit.Style{Unit: "N/m", Decimals: 3, Trim: true})}
}

func (in *form) answers(f *calc.Form) {
	const small, fine = "\nunit µm 2\ninch thou 3", "\nunit µm 3\ninch thou 4"
	calc.Tell(f, &in.found, "load-found: Load across the wall\nmain\nif asks measured\nrises measured tension")
	calc.Tell(f, &in.barrel, "barrel: Barrel of one wall, at most\nmain\nrises load\nfalls tension"+small).Applies = func() bool { return in.forward() && in.across() }
	calc.Tell(f, &in.bend, "bend: The wire stands off by, at most\nmain\nrises load measured below above\nfalls tension"+small)
	calc.Tell(f, &in.top, "rim-upper: At the part's upper rim\nrises load measured below above\nfalls tension"+small)
	calc.Tell(f, &in.bottom, "rim-lower: At the part's lower rim\nrises load measured below above\nfalls tension"+small)
	calc.Tell(f, &in.lean, "lean: The wall leans over its height by\nhelp Above zero where the wire stands off more at the upper rim.\nrises above\nfalls below"+small).Applies = in.across
	calc.Tell(f, &in.inside, "inside: Stays in an inside right angle, at most\nif asks load\nhelp On the bisector, on top of what a round wire leaves.\nrises load below above\nfalls tension"+small)
	calc.Tell(f, &in.outside, "outside: Lost on an outside right angle, path rolling round it\nif asks load\nrises load below above\nfalls tension"+fine)
	calc.Tell(f, &in.arcError, "arc-error: The arc's radius comes out by\nhelp Below zero: too small.\nfalls load below above\nrises tension"+fine).Applies = func() bool { return in.forward() && in.path() > 0 }
	calc.Tell(f, &in.bendOther, "bend-other: Stands off at the other tension\nif asks load\nrises load below above\nfalls other"+small)
	calc.Tell(f, &in.planned, "barrel-other: Barrel at the other tension\nrises load measured tension\nfalls other"+small).Applies = in.across
	calc.Tell(f, &in.bendSkim, "bend-skim: Stands off in a skim at the other tension\nrises skim-load below above\nfalls other"+small).Applies = in.full
	calc.Tell(f, &in.less, "less: Less bend by the other tension\nrises other\nfalls tension\nunit % 1")
	calc.Tell(f, &in.share, "share: Share of the breaking load that is set\nhelp Cold, at the table's lowest strength.\nrises tension\nunit % 1")
	calc.Tell(f, &in.shareOther, "share-other: Share of it at the other tension\nrises other\nunit % 1")
	calc.Tell(f, &in.frequency, "frequency: First natural frequency\nrises tension\nfalls below above")
	calc.Tell(f, &in.stiff, "stiff: The wire's own stiffness against the tension\nfalls tension below above\nunit % 3")
}

// path is the radius that the guides run on the arc.
func (in *form) path() unit.Length {
	if in.arc == "hole" {
		return in.radius - in.offset
	}
	return in.radius + in.offset
}

func (in *form) point(p *calc.Point) {
	if in.row.Table == "" {
		in.row, _ = in.book.Find("wiretypes", in.kind)
	}
	run, load, plan := Run{in.below, in.thickness, in.above}, in.load, in.thickness
	in.found = Load(in.measured, in.thickness, in.tension)
	if !in.forward() {
		load, plan = in.found, in.plan
	}
	in.bend = run.Bend(load, in.tension)
	in.bottom, in.top = run.At(in.below, load, in.tension), run.At(in.below+in.thickness, load, in.tension)
	in.barrel, in.lean = Barrel(in.thickness, load, in.tension), run.Lean(load, in.tension)
	in.inside, in.outside = Inside(in.bend, in.offset), Arc(in.offset, in.bend)
	in.arcError = -Arc(max(1e-9, in.path()), in.bend)
	in.bendOther, in.planned = run.Bend(load, in.other), Barrel(plan, load, in.other)
	in.bendSkim = run.Bend(in.skimLoad, in.other)
	in.less = unit.Percent(100 * (1 - in.tension/in.other))
	breaking := in.row.Num("uts_low_mpa") * Section(in.wire)
	in.share, in.shareOther = unit.Percent(float64(in.tension)/breaking*100), unit.Percent(float64(in.other)/breaking*100)
	in.frequency = Frequency(run.Span(), in.tension, in.wire, unit.Density(in.row.Num("density_likely_kgm3")/1000))
	in.stiff = Stiff(run.Span(), in.wire, unit.Stress(in.row.Num("young_likely_gpa")*1000), in.tension)
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down, with q the load, H the height of the part, b and
// a the free lengths below and above, L the span.
func (in *form) work(p *calc.Point) {
	q := calc.Put(in.load, "N/m", 4)
	if !in.forward() {
		q = calc.Put(in.found, "N/m", 4)
	}
	span := calc.Put(in.below+in.thickness+in.above, "mm", 3)
	p.Work(`load-found | load across the wall | q = 8 T s / H² | 8 × {tension} × {measured:µm 2} / ({thickness})² | mechanics
		barrel | barrel of one wall | q H² / (8 T) | {1} × ({thickness})² / (8 × {tension}) | mechanics
		= {2} | span of the guides | L = b + H + a | {below} + {thickness} + {above} | geometry
		rim-upper | at the upper rim | q H a (b + H/2) / (T L) | {1} × {thickness} × {above} × ({below} + {thickness} / 2) / ({tension} × {2}) | mechanics
		rim-lower | at the lower rim | q H b (a + H/2) / (T L) | {1} × {thickness} × {below} × ({above} + {thickness} / 2) / ({tension} × {2}) | mechanics
		bend | largest, at b + H c over the lower guide | q H c (b + H c/2) / T, c = (a + H/2) / L | {1} × {thickness} × {3} × ({below} + {thickness} × {3} / 2) / {tension} | mechanics
		lean | lean of the wall | upper rim - lower rim | {rim-upper} - {rim-lower} | geometry
		inside | stays in an inside right angle | of the tractrix of {bend}, by a disc of the offset; about 0.63 f | about 0.63 × {bend} | geometry
		outside | lost on an outside one | r - √(r² - f²), r the offset | f = {bend}, r = {offset} | geometry
		arc-error | error of the radius | -(r - √(r² - f²)) | f = {bend}, r = {4} | geometry
		bend-other | at the other tension | f T / T₂ | {bend} × {tension} / {other} | mechanics
		barrel-other | barrel at the other tension | q H² / (8 T₂) | {1} × ({5})² / (8 × {other}) | mechanics
		frequency | first natural frequency | √(T / (ρ A)) / (2 L) | √({tension} / ({6} × π × ({wire})² / 4)) / (2 × {2}) | mechanics
		stiff | the rod's buckling load over the tension | π² E I / (L² T), I = π d⁴ / 64 | E = {7}, d = {wire}, L = {2} | mechanics`,
		q, span, unit.Number(float64(Run{in.below, in.thickness, in.above}.low()), unit.Style{Decimals: 4, Trim: true}), calc.Put(in.path(), "mm", 4),
		calc.Put(map[bool]unit.Length{true: in.thickness, false: in.plan}[in.forward()], "mm", 3), calc.Put(unit.Density(in.row.Num("density_likely_kgm3")/1000), "g/cm³", 3), calc.Put(unit.Stress(in.row.Num("young_likely_gpa")*1000), "MPa", 0))
}
