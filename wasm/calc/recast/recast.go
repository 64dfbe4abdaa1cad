package recast

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                               [0]func() // never compared, so no code for comparing is made
	book                            *book.Book
	basis, pair, metal, goal        string
	machine, material, dielectric   string
	wire, thickness                 unit.Length
	given, raGiven, hazGiven        bool
	factorGiven, powerGiven         bool
	ratioGiven, rzGiven, stockGiven bool
	recast, known, haz, bow, stock  unit.Length
	energy, knownEnergy             unit.Energy
	ra, factor, face                unit.Roughness
	exponent, ratio, rz, over       unit.Ratio
	on                              unit.Time

	layer, zone, depth, heat, height, least unit.Length
	enough                                  string
}

// Calculator declares the recast calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "recast", Title: "Recast layer and heat-affected depth", Question: "How thick is the layer after the first pass, and do the skims take it away?",
		Summary: "Recast layer and heat-affected depth from published pairs, from the roughness, from the energy or from your own section, and what all skims together must exceed.",
		Tables:  []string{"layers name recast_*_um ra_*_um haz_*_um remark", "sparklaws value_*_n0", "ratios ratio_*_n0", "diffusivities name diffusivity_n0", "law", "materials name", "machines"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.source(f)
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

// source declares where the layer comes from.
func (in *form) source(f *calc.Form) {
	calc.AskChoice(f, &in.basis, `basis: The layer comes from
		group Layer after the first pass
		option pair: the law of a pass, or a published pair
		option ra: the roughness
		option energy: the energy of one spark
		option own: a section of your own`)
	calc.AskRows(f, in.book, "layers", &in.pair, "pair: Which\nmark -\nif basis pair")
	in.cutFields(f)
	calc.AskGiven(f, &in.recast, &in.given, `recast: Recast layer
		if basis pair
		help Leave it empty to take the law's or the pair's.
		keys small
		usual 0 µm to 40 µm
		min 0 µm: a layer is not negative
		max 1 mm: this is no layer of a spark
		ranges`).Fallback = in.published
	calc.Ask(f, &in.energy, `energy: Energy of one spark
		if basis energy own
		is 5 mJ
		keys mJ µJ
		usual 0.001 mJ to 20 mJ
		above 0 mJ: a spark has energy
		max 1000 mJ: no wire cut has this
		ranges`)
	calc.Ask(f, &in.known, `known: Layer on your section
		if basis own
		is 12 µm
		help The thickest place of several fields.
		keys small
		usual 1 µm to 40 µm
		min 0 µm: a layer is not negative
		max 1 mm: this is no layer of a spark
		ranges`)
	calc.Ask(f, &in.knownEnergy, `known-energy: Energy that left it
		if basis own
		is 5 mJ
		keys mJ µJ
		usual 0.001 mJ to 20 mJ
		above 0 mJ: a spark has energy
		max 1000 mJ: no wire cut has this`)
	calc.AskGiven(f, &in.ra, &in.raGiven, `ra: Ra of the first pass
		help Leave it empty to take the law's, the pair's, or what fits the layer.
		keys µm µin; µin
		usual 0.2 µm to 6 µm
		min 0.006 µm: the standard's smallest band starts here
		max 80 µm: the standard's largest band ends here
		ranges`).Fallback = in.rough
	calc.AskGiven(f, &in.ratio, &in.ratioGiven, `ratio: Layer over Ra
		advanced
		usual 1 to 6
		above 0: a layer has some thickness
		max 50: the layer is of the size of a few craters' depth
		ranges`).Fallback = func() calc.Fallback {
		return in.law("layer-ratio", in.basis != "ra" && in.basis != "energy" && in.ra > 0)
	}
	calc.AskGiven(f, &in.factor, &in.factorGiven, `factor: Ra of a spark of 1 mJ
		if basis energy
		advanced
		keys µm µin; µin
		usual 1 µm to 5 µm
		above 0 µm: a spark leaves a mark
		max 50 µm: no metal is marked this deep
		ranges`).Fallback = func() calc.Fallback { return in.law("ra-factor", in.basis != "energy") }
	calc.AskGiven(f, &in.exponent, &in.powerGiven, `exponent: Exponent of the energy
		if basis energy own
		advanced
		usual 0.2 to 0.6
		min 0: a layer does not shrink with energy
		max 1: the layer goes more slowly than the energy
		ranges`).Fallback = func() calc.Fallback { return in.law("layer-exponent", in.basis != "energy" && in.basis != "own") }
}

func (in *form) fields(f *calc.Form) {
	calc.AskRows(f, in.book, "diffusivities", &in.metal, "metal: Metal, for the spread of heat\ngroup Heat")
	calc.Ask(f, &in.on, `on: Time the current flows
		is 1 µs
		keys µs
		usual 0.05 µs to 100 µs
		above 0 µs: a pulse lasts
		max 10000 µs: no pulse for cutting lasts this long`)
	calc.AskGiven(f, &in.haz, &in.hazGiven, `haz: Heat-affected zone under the layer
		help Leave it empty to take the pair's. It may be 0.
		keys small
		usual 0 µm to 50 µm
		min 0 µm: a depth is not negative
		max 2 mm: no spark heats this deep
		ranges`).Fallback = in.zoneOf
	calc.AskChoice(f, &in.goal, `goal: What must go
		group Skims
		option layer: the recast layer
		option zone: the layer and the zone under it`)
	calc.AskGiven(f, &in.rz, &in.rzGiven, `rz: Rz over Ra
		advanced
		usual 4 to 10
		min 1: Rz is not below Ra
		max 30: no spark-eroded face has this
		ranges`).Fallback = func() calc.Fallback { return in.row("ratios", "Rz", "ratio") }
	calc.Ask(f, &in.bow, `bow: Error of shape after the first pass
		is 0 to 10 µm
		help Of one wall, from a bowed wire. No published figure was found: measure at top, middle and bottom.
		keys small
		usual 0 µm to 30 µm
		min 0 µm: an error is given without its sign
		max 1 mm: look at wire and flushing first
		ranges`)
	calc.AskGiven(f, &in.stock, &in.stockGiven, `stock: What your skims take in all, each side
		help Leave it empty to see what is wanted. It is what the first pass leaves on.
		keys small
		usual 5 µm to 150 µm
		min 0 µm: skims take away
		max 5 mm: this is no skim`)
}

// law is a row of the laws, nothing where it is not used.
func (in *form) law(key string, idle bool) calc.Fallback {
	if idle {
		return calc.Fallback{}
	}
	return in.row("sparklaws", key, "value")
}

// row is the range of a row as a fallback for a plain number.
func (in *form) row(table, key, stem string) calc.Fallback {
	r, ok := in.book.Find(table, key)
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range(stem, "n0", 1)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.RatioKind, v, "") + ", " + r.Provenance}
}

// told is a length range of the chosen pair; ok is false where it is not told.
func (in *form) told(stem string, scale float64) (v unit.Range, r book.Row, ok bool) {
	r, ok = in.book.Find("layers", in.pair)
	ok = ok && in.basis == "pair" && r.Cell(stem+"_high_um") != ""
	return r.Range(stem, "um", scale), r, ok
}

// byLaw reports whether the chosen row is a stage of the plan, whose layer and Ra
// the law of a pass tells.
func (in *form) byLaw() bool {
	return in.basis == "pair" && (in.pair == "rough" || in.pair == "skim" || in.pair == "fine")
}

// law is what the law of a pass says of the cut.
func (in *form) lawPlan() *calc.Plan {
	q := book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}
	return calc.LawOf(in.book).Plan(q, calc.PassOf(in.pair))
}

// cutFields declare the cut that the law is asked about.
func (in *form) cutFields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskWire(f, in.book, &in.wire)
	calc.AskDielectric(f, &in.dielectric)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material")
	calc.AskThickness(f, &in.thickness)
}

func (in *form) published() calc.Fallback {
	if in.byLaw() {
		return in.lawPlan().ToldLayer(calc.PassOf(in.pair))
	}
	v, r, ok := in.told("recast", 1e-3)
	if !ok {
		return calc.Fallback{}
	}
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.LengthKind, v, "µm") + ", " + r.Provenance}
}

// rough is the Ra of the pair, or of the pass by the law.
func (in *form) rough() calc.Fallback {
	if in.byLaw() || in.basis == "ra" {
		return in.lawPlan().ToldRa(in.passNo())
	}
	v, r, ok := in.told("ra", 1)
	if !ok {
		return calc.Fallback{Note: "not told: the layer over its usual multiple of Ra"}
	}
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.RoughnessKind, v, "µm") + ", " + r.Provenance}
}

// passNo is the pass whose face is asked about.
func (in *form) passNo() int {
	if in.basis == "ra" {
		return 1
	}
	return calc.PassOf(in.pair)
}

// zoneOf is the zone of the pair, or the working range from nothing upwards.
func (in *form) zoneOf() calc.Fallback {
	v, r, ok := in.told("haz", 1e-3)
	if ok {
		return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.LengthKind, v, "µm") + ", " + r.Provenance}
	}
	r, ok = in.book.Find("layers", "rough")
	if !ok {
		return calc.Fallback{}
	}
	fine, _ := in.book.Find("layers", "fine")
	return calc.Fallback{Range: unit.Range{Likely: fine.Range("haz", "um", 1e-3).High, High: r.Range("haz", "um", 1e-3).High}, Rows: []book.Row{r, fine}, Note: "not told: from nothing to the deepest of common practice"}
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.enough, "enough: The skims take it away\nword yes: yes\nword no: no, too little\nword not-asked: no stock was given")
	calc.Tell(f, &in.layer, "layer: Recast layer\nmain\nunit µm 1\ninch thou 2\nrises recast ra ratio factor energy known")
	calc.Tell(f, &in.zone, "zone: Heat-affected zone under it\nmain\nunit µm 1\ninch thou 2\nrises haz")
	calc.Tell(f, &in.depth, "depth: Both together\nunit µm 1\ninch thou 2\nrises recast ra ratio factor energy known haz")
	calc.Tell(f, &in.least, "least: All skims together must take more than\nmain\nunit µm 1\ninch thou 2\nrises recast ra factor energy known haz rz bow")
	calc.Tell(f, &in.face, "face: Ra of the first pass\nunit µm 2\ninch µin 0\nrises recast ra factor energy known")
	calc.Tell(f, &in.height, "height: Height of its face, Rz\nunit µm 1\ninch thou 2\nrises recast ra factor energy known rz")
	calc.Tell(f, &in.over, "over: Layer over Ra\ndigits 2")
	calc.Tell(f, &in.heat, "heat: Heat spreads during one pulse over\nunit µm 1\ninch thou 2")
}

func (in *form) point(p *calc.Point) {
	in.layer = in.recast
	switch in.basis {
	case "ra":
		in.layer = ByRoughness(in.ra, in.ratio)
	case "energy":
		in.layer = Scaled(ByRoughness(in.factor, in.ratio), in.energy, 1, in.exponent)
	case "own":
		in.layer = Scaled(in.known, in.energy, in.knownEnergy, in.exponent)
	}
	in.face = in.ra
	if in.face == 0 {
		in.face = unit.Roughness(float64(in.layer) * 1000 / float64(in.ratio))
	}
	in.over = in.ratio
	if in.face > 0 {
		in.over = unit.Ratio(float64(in.layer) * 1000 / float64(in.face))
	}
	in.zone, in.depth = in.haz, in.layer+in.haz
	in.height = unit.Length(float64(in.face)*float64(in.rz)) / 1000
	below := in.layer
	if in.goal == "zone" {
		below = in.depth
	}
	in.least = Least(below, in.height, in.bow)
	in.enough = "not-asked"
	if in.stockGiven {
		in.enough = "no"
		if in.stock > in.least {
			in.enough = "yes"
		}
	}
	if r, ok := in.book.Find("diffusivities", in.metal); ok {
		in.heat = HeatLength(r.Num("diffusivity_n0"), in.on)
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	r, _ := in.book.Find("layers", in.pair)
	switch {
	case in.basis == "ra":
		p.Work("layer | recast layer | multiple × Ra | {ratio} × {ra} | choudhuri-2018")
	case in.basis == "energy":
		p.Work("layer | recast layer, K and exponent by common practice | multiple × K (E / 1 mJ)^m | {ratio} × {factor} × {energy}^{exponent} | choudhuri-2018")
	case in.basis == "own":
		p.Work("layer | recast layer, exponent by common practice | own layer × (E / E0)^m | {known:µm 1} × ({energy} / {known-energy})^{exponent} | definition")
	case !in.given && r.Source != "":
		p.Work("layer | recast layer | as printed | {recast:µm 1} | " + r.Source)
	}
	plus, put := "", calc.Put(in.layer, "µm", 1)
	if in.goal == "zone" {
		plus, put = " + z", put+" + "+calc.Put(in.zone, "µm", 1)
	}
	p.Work(`depth | layer and zone | t + z | {layer} + {zone} | geometry
		height | height of the face | Rz/Ra × Ra | {rz} × {face} | definition
		least | all skims together | t{1} + Rz + error of shape | {2} + {height} + {bow:µm 1} | geometry
		heat | spread of heat during one pulse | √(4 a t) | √(4 × {3} mm²/s × {on:µs 3}) | definition`,
		plus, put, in.diffusivity())
}

func (in *form) diffusivity() string {
	r, _ := in.book.Find("diffusivities", in.metal)
	return r.Cell("diffusivity_n0")
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = in.basis != "own"
	a.Headline = r.Text("{layer} of recast; all skims together must take more than {least}")
	if in.stockGiven {
		in.judge(r, a)
	}
	a.Lead = r.Text("Heat-affected zone under it: {zone}. The face of the first pass is {height} high (Rz).")
	if row, ok := in.book.Find("layers", in.pair); ok && in.basis == "pair" {
		a.Used(row)
		if row.Cell("remark") != "" {
			a.Note("Of this row: " + row.Cell("remark") + ".")
		}
	}
	if row, ok := in.book.Find("diffusivities", in.metal); ok {
		a.Used(row)
	}
	if _, _, ok := in.told("haz", 1); !ok && !in.hazGiven {
		a.Note("The zone under the layer is not told here. Common practice speaks of up to 50 µm after roughing and below 5 µm after a fine finish, in hardened steel: type what fits your pass. One study of alloy 718 found none.")
	}
	if n := in.passNo(); in.byLaw() && n > 1 {
		a.Note("The layer and the face are those after pass " + strconv.Itoa(n) + ": read what the skims must take as what is still to come off after it.")
	}
	if _, _, ok := in.told("ra", 1); !ok && !in.raGiven && !in.byLaw() && in.basis != "ra" {
		a.Note("No Ra came with this layer: it is taken as the layer over its usual multiple. A measured Ra narrows the answer most.")
	}
	if o := r.Of("over"); o.Low > 4.6*1.05 || o.High < 1.5/1.05 {
		a.Note(r.Text("The layer is {over} times Ra. The open study of stainless steel has 1.5 to 4.6: look whether layer and Ra belong to the same pass."))
	}
	a.Note(r.Text("Heat of one pulse spreads over {heat}: a length, not a layer. Damage many times deeper has another cause: grinding, hardening, a burnt short."))
	a.Note("A layer is thick where melt pooled and absent on the rim beside it; after roughing 30 to 40 µm occur in places, common practice. If the thickest place decides, ask for it.")
	a.Note("Every skim leaves a layer of its own, so no plan ends at none. One study of a cast nickel alloy found all cracks of the first cut gone after the third. Carbide also loses cobalt: that comes from current, not from heat.")
	a.Note("Do not trust this where the part's failure can hurt someone: only a section of the real metal counts there.")
	a.Caution("WARNING", "Etching uses acids, and polishing sets free dust of carbide, cobalt or nickel. Safety data sheets and local rules say who may do it, and how.")
	a.Cites(`choudhuri-2018; abstract; layer and Ra at both ends of the pulse time
		in718-recast-2023; abstract; 6.2 ± 2.1 µm, no heat-affected zone @ One study of alloy 718
		nickel-three-cuts-2021; abstract; cracks gone after the third cut @ One study of a cast nickel alloy`)
	in.draw(r, a)
}

// judge says whether the skims take it away.
func (in *form) judge(r *calc.Result, a *calc.Answer) {
	switch p := r.Pick("enough"); {
	case len(p.All) > 1:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the layer stays thin: {stock:small} of skims against {least}")
		a.Note(r.Text("More than {least.high} is enough for all of these ranges."))
	case p.Likely.Value == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: {stock:small} of skims take away more than {least}")
	default:
		a.Verdict, a.Headline = calc.No, r.Text("No: {stock:small} of skims leave some of it, {least} are wanted")
	}
}

// draw shows the wall in section: its face, the layer, the zone, the core.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("The wall in section, not to scale", r.Text("From the top: a rough face {height} high, a recast layer of {layer}, a heat-affected zone of {zone}, and the core. All skims together must take more than {least}."), 360, 250, false)
	pts := []figure.Point{{X: 20, Y: 190}}
	for i := range 8 {
		x := 20 + float64(i)*20
		pts = append(pts, figure.Point{X: x, Y: 44}, figure.Point{X: x + 10, Y: 62})
	}
	pts = append(pts, figure.Point{X: 180, Y: 44}, figure.Point{X: 180, Y: 190})
	d.Poly(figure.Outline, false, pts...)
	d.Line(figure.Accent, 20, 98, 180, 98)
	d.Line(figure.Hidden, 20, 140, 180, 140)
	core := []figure.Segment{{To: figure.Point{X: 180, Y: 140}}, {To: figure.Point{X: 180, Y: 190}}, {To: figure.Point{X: 20, Y: 190}}}
	d.Add(figure.Path{From: figure.Point{X: 20, Y: 140}, Closed: true, Hatch: true, Segs: core})
	for i, text := range [...]string{"Rz {height.likely}", "layer {layer.likely}", "zone {zone.likely}", "core"} {
		d.Label(192, [...]float64{58, 88, 126, 172}[i], r.Text(text), -1)
	}
	d.Label(20, 26, "skims together, more than", -1)
	d.Label(20, 220, r.Text("{least.likely}, at most {least.high}"), -1)
	a.Figure = d
}
