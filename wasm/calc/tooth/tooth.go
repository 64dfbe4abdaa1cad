package tooth

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// rackAddendum is the addendum of the basic rack in modules, for the form
// diameter and the undercut. ISO 53, from memory.
const rackAddendum = 1

// spline is a form of involute spline: pressure angle, diameters and smallest
// root radius in modules. ANSI B92.2M and ISO 4156, from memory.
type spline struct{ angle, internalMajor, internalMinor, externalMajor, externalMinor, root float64 }

func splineOf(standard string) (spline, bool) {
	switch standard {
	case "spline-30-flat":
		return spline{30, 1.5, -1, 1, -1.5, 0.2}, true
	case "spline-30-fillet":
		return spline{30, 1.8, -1, 1, -1.8, 0.4}, true
	case "spline-37":
		return spline{37.5, 1.4, -0.9, 0.9, -1.4, 0.3}, true
	case "spline-45":
		return spline{45, 1.2, -0.8, 0.8, -1.2, 0.25}, true
	}
	return spline{}, false
}

type form struct {
	_                                          [0]func() // never compared, so no code for comparing is made
	book                                       *book.Book
	machine, material, kind, standard, profile string
	teeth                                      unit.Count
	module                                     unit.Length
	pitch                                      unit.Ratio
	pitchGiven, filletGiven, gapGiven          bool
	alpha                                      unit.Angle
	x                                          unit.Ratio
	tip, root, fillet, pin, at                 unit.Length
	atGiven                                    bool
	wire, gap, height                          unit.Length
	dielectric, pass                           string
	gear                                       Gear
	done                                       bool
	m, pitchD, baseD                           unit.Length
	spacePitch, narrow, narrowAt               unit.Length
	disc, pins, spaceAt, toothAt               unit.Length
	corner                                     unit.Angle
	most, reach, uncut                         unit.Length
	verdict, undercut, largest, decides        string
	wires                                      []unit.Length
	gaps                                       []unit.Range
}

// Calculator declares the tooth calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "tooth", Title: "Tooth space", Question: "Which wire reaches the root of this tooth?",
		Summary: "The involute tooth space of a gear or spline: narrowest width, root radius, the wire that reaches the floor, size over pins.",
		Tables:  []string{"law", "wires", "racks dedendum_n0 fillet_n0", "machines wire_from_mm wire_to_mm", "materials name"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nhelp Which measured cuts count, once a machine is chosen.\nadvanced")
	calc.AskChoice(f, &in.kind, "kind: Teeth\ngroup Teeth\noption external: external\noption internal: internal")
	calc.AskChoice(f, &in.standard, `standard: Toothing
		option gear: gear
		option spline-30-flat: spline 30°, flat root
		option spline-30-fillet: spline 30°, fillet root
		option spline-37: spline 37.5°, fillet root
		option spline-45: spline 45°, fillet root`)
	calc.Ask(f, &in.teeth, `teeth: Number of teeth
		mark z
		is 20
		usual 8 to 120
		min 4: with fewer teeth the formulas say nothing useful
		max 2000: this is nearly a rack`)
	calc.Ask(f, &in.module, `module: Module
		mark m
		is 0.5 mm
		keys mm
		usual 0.05 mm to 6 mm
		min 0.01 mm: no wire reaches into teeth this small
		max 50 mm: for teeth this large any wire will do`)
	calc.AskGiven(f, &in.pitch, new(bool), `diametral-pitch: Diametral pitch, teeth for each inch
		help When it is given the module is 25.4 mm over it.
		usual 4 to 200
		min 0.5: for teeth this large any wire will do
		max 2500: no wire reaches into teeth this small`)
	calc.AskGiven(f, &in.alpha, new(bool), `angle: Pressure angle
		help Leave it empty for that of the toothing.
		keys °
		usual 14.5° to 45°
		min 10°: flatter flanks are no gear's
		max 50°: steeper flanks are no gear's`).Fallback = func() calc.Fallback {
		if s, ok := splineOf(in.standard); ok {
			return calc.Fallback{Range: unit.Exactly(s.angle), Note: "of this toothing: " + calc.Put(unit.Angle(s.angle), "°", 1)}
		}
		return calc.Fallback{Range: unit.Exactly(20), Note: "of an ordinary gear: 20°"}
	}
	calc.Ask(f, &in.x, `shift: Profile shift
		if standard gear
		is 0
		help In modules; for an internal gear outward is plus.
		usual -0.5 to 1
		min -2: no gear is shifted this far
		max 2: no gear is shifted this far`)
	calc.AskChoice(f, &in.profile, "profile: Basic rack\nif standard gear\nadvanced\noption A: A\noption B: B\noption C: C\noption D: D")
	in.diameters(f)
	calc.AskWire(f, in.book, &in.wire).Group = "Wire"
	calc.AskDielectric(f, &in.dielectric)
	calc.AskChoice(f, &in.pass, "pass: Last pass\nis fine"+calc.LastPass)
	calc.AskHeight(f, &in.height)
	calc.AskGap(f, &in.gap, &in.gapGiven, "gap: Spark gap of the last pass, each side", func() calc.Fallback { return calc.GapOf(in.book, in.cut(in.wire), in.pass) })
}

// diameters declares what the print may say beyond the standard.
func (in *form) diameters(f *calc.Form) {
	length := `
		keys length
		usual 0.05 mm to 300 mm
		min 0 mm: a size is not negative
		max 10000 mm: no machine holds this
		advanced`
	ask := func(dst *unit.Length, given *bool, text string, fallback func() (float64, string)) {
		calc.AskGiven(f, dst, given, text+length).Fallback = func() calc.Fallback {
			v, note := fallback()
			fb := calc.Fallback{Range: unit.Exactly(v), Note: note + ": " + calc.Put(unit.Length(v), "mm", 4)}
			if r, ok := in.book.Find("racks", in.profile); ok && in.standard == "gear" && dst != &in.pin {
				fb.Rows = []book.Row{r}
			}
			return fb
		}
	}
	ask(&in.tip, new(bool), "tip: Tip diameter", func() (float64, string) { return in.diameter(true), "of the standard" })
	ask(&in.root, new(bool), "root: Root diameter", func() (float64, string) { return in.diameter(false), "of the standard" })
	ask(&in.fillet, &in.filletGiven, "fillet: Radius at the root\nhelp 0 for a sharp corner.", in.standardFillet)
	ask(&in.pin, new(bool), "pin: Pin diameter", func() (float64, string) {
		if in.kind == "internal" {
			return 1.44 * in.modules(), "1.44 modules"
		}
		return 1.728 * in.modules(), "1.728 modules"
	})
	calc.AskGiven(f, &in.at, &in.atGiven, "at: Look at a diameter"+length)
}

func (in *form) modules() float64 {
	if in.pitch > 0 {
		return 25.4 / float64(in.pitch)
	}
	return float64(in.module)
}

func (in *form) rack() (dedendum, rho float64) {
	r, _ := in.book.Find("racks", in.profile)
	return r.Num("dedendum_n0"), r.Num("fillet_n0")
}

// diameter is the tip or root diameter of the standard.
func (in *form) diameter(tip bool) float64 {
	m, z := in.modules(), float64(in.teeth)
	internal := in.kind == "internal"
	if s, ok := splineOf(in.standard); ok {
		switch {
		case internal && tip:
			return m * (z + s.internalMinor)
		case internal:
			return m * (z + s.internalMajor)
		case tip:
			return m * (z + s.externalMajor)
		}
		return m * (z + s.externalMinor)
	}
	h, _ := in.rack()
	out := 2.0
	if !tip {
		out = -2 * h
	}
	if internal {
		out = -out
	}
	return m * (z + out + 2*float64(in.x))
}

func (in *form) standardFillet() (float64, string) {
	m := in.modules()
	if s, ok := splineOf(in.standard); ok {
		return s.root * m, "smallest of this spline, from memory"
	}
	h, rho := in.rack()
	if in.kind == "internal" {
		return rho * m, "that of the rack's tip, a guess for an internal gear"
	}
	g := Gear{Z: float64(in.teeth), M: m, X: float64(in.x)}
	return g.Fillet(h, rho), "as a rack or hob cuts it"
}

func (in *form) answers(f *calc.Form) {
	calc.TellChoice(f, &in.verdict, "verdict: Does this wire reach the root\nword yes: Yes\nword no: No")
	calc.Tell(f, &in.most, "reach: Largest wire radius and gap for this tooth\nmain")
	calc.TellChoice(f, &in.decides, "decides: What decides\nword fillet: the radius at the root\nword space: the width of the space at its floor")
	calc.TellChoice(f, &in.largest, "largest-wire: Largest wire that is sure to reach it")
	calc.Tell(f, &in.reach, "radius-left: Radius this wire leaves\nrises gap")
	calc.Tell(f, &in.narrow, "narrowest: Narrowest space on the involute, straight across")
	calc.Tell(f, &in.narrowAt, "narrowest-at: That is at a diameter of")
	calc.Tell(f, &in.fillet, "root-radius: Smallest concave radius")
	calc.Tell(f, &in.disc, "disc: Largest disc that touches the floor")
	calc.Tell(f, &in.corner, "corner-angle: Angle between flank and floor\nunit ° 4")
	calc.Tell(f, &in.uncut, "uncut: Left uncut in the root's corner, if sharp\nrises gap")
	calc.Tell(f, &in.pitchD, "pitch-diameter: Reference diameter")
	calc.Tell(f, &in.baseD, "base-diameter: Base diameter")
	calc.Tell(f, &in.tip, "tip-diameter: Tip diameter")
	calc.Tell(f, &in.root, "root-diameter: Root diameter")
	calc.Tell(f, &in.spacePitch, "space-pitch: Space at the reference diameter, arc")
	calc.Tell(f, &in.spaceAt, "space-at: Space at the diameter asked for, arc").Applies = func() bool { return in.atGiven }
	calc.Tell(f, &in.toothAt, "tooth-at: Tooth at the diameter asked for, arc").Applies = func() bool { return in.atGiven }
	calc.Tell(f, &in.pins, "pins: Size over pins, or between them\ndigits 5")
	calc.TellChoice(f, &in.undercut, "undercut: A rack would undercut it\nword yes: yes\nword no: no\nword not-asked: not a gear cut by a rack")
}

// shape works out what does not depend on the wire, once.
func (in *form) shape(p *calc.Point) {
	m := in.modules()
	g := Gear{Z: float64(in.teeth), M: m, Alpha: float64(in.alpha) * math.Pi / 180, X: float64(in.x), Internal: in.kind == "internal", Root: float64(in.root)}
	if _, ok := splineOf(in.standard); ok {
		g.X = 0
	}
	in.gear, in.m, in.done = g, unit.Length(m), true
	in.pitchD, in.baseD = unit.Length(g.Pitch()), unit.Length(g.Base())
	in.spacePitch = unit.Length(g.Space(g.Pitch()))
	at := max(g.Root, g.Base())
	if !g.Internal && in.standard == "gear" {
		at = max(at, g.Form(rackAddendum))
	}
	in.narrowAt, in.narrow = unit.Length(at), unit.Length(g.Chord(at))
	in.disc = unit.Length(g.Disc())
	in.pins = unit.Length(g.Pins(float64(in.pin)))
	in.corner = unit.Angle(g.Corner() * 180 / math.Pi)
	in.spaceAt, in.toothAt = unit.Length(g.Space(float64(in.at))), unit.Length(g.Tooth(float64(in.at)))
	in.undercut = "not-asked"
	if in.standard == "gear" && !g.Internal {
		in.undercut = map[bool]string{true: "yes", false: "no"}[g.Undercut(rackAddendum)]
	}
	in.most, in.decides = in.disc/2, "space"
	if in.fillet > 0 && in.fillet < in.most {
		in.most, in.decides = in.fillet, "fillet"
	}
	card, chosen := in.book.Find("machines", in.machine)
	for _, d := range in.book.Wires() {
		if chosen && (float64(d) < card.Num("wire_from_mm")-1e-9 || float64(d) > card.Num("wire_to_mm")+1e-9) {
			continue
		}
		gap := calc.GapRange(in.book, in.cut(d), in.pass)
		in.wires, in.gaps = append(in.wires, d), append(in.gaps, gap)
	}
}

func (in *form) point(p *calc.Point) {
	if !in.done {
		in.shape(p)
	}
	switch g := in.gear; {
	case g.Internal && (in.tip >= in.root || in.root <= in.baseD):
		p.Impossible("an internal gear's root diameter is larger than its tip and its base diameter")
	case !g.Internal && in.tip <= in.root:
		p.Impossible("the tip diameter of external teeth is larger than their root diameter")
	case in.narrow <= 0:
		p.Impossible("the space closes before the root: teeth, shift and diameters do not go together")
	}
	in.reach = in.wire/2 + in.gap
	in.verdict = in.able(in.reach)
	in.uncut = in.reach * unit.Length(1/math.Sin(float64(in.corner)*math.Pi/360)-1)
	in.largest = "none"
	for i, d := range in.wires {
		gap := unit.Length(in.gaps[i].High)
		if in.gapGiven {
			gap = in.gap
		}
		if in.able(d/2+gap) == "yes" {
			in.largest = calc.Put(d, "mm", 3)
		}
	}
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	p.Work(`pitch-diameter | reference diameter | m z | {1} × {teeth} | iso-21771
		base-diameter | base diameter | d cos α | {pitch-diameter} × cos {angle} | iso-21771
		narrowest | narrowest space, straight across | d_y sin({2}), ψ_y = π/2z + 2 x tan α/z + inv α - inv α_y | d_y = {narrowest-at} | iso-21771
		disc | largest disc that touches the floor | tangent to both flanks and to {root-diameter} | by halving | geometry
		corner-angle | flank against floor | 90° + α_f | cos α_f = {base-diameter} / {root-diameter} | iso-21771
		radius-left | radius this wire leaves | d/2 + g | {wire} / 2 + {gap} | kalpakjian-schmid
		pins | {3} pins | {4} | inv φ = {5} | iso-21771`, calc.Put(in.m, "mm", 4), map[bool]string{true: "ψ_y", false: "π/z - ψ_y"}[in.gear.Internal],
		map[bool]string{true: "size between", false: "size over"}[in.gear.Internal],
		map[bool]string{true: "d_b / cos φ - pin, odd teeth × cos(90°/z)", false: "d_b / cos φ + pin, odd teeth × cos(90°/z)"}[in.gear.Internal],
		map[bool]string{true: "inv α + ψ - pin / d_b", false: "inv α + pin / d_b - (π/z - ψ)"}[in.gear.Internal]+", pin "+calc.Put(in.pin, "mm", 4))
}

const same unit.Length = 1e-9

func (in *form) able(reach unit.Length) string {
	if reach <= in.most+same {
		return "yes"
	}
	return "no"
}

// cut asks for the shop's measured cut with a wire.
func (in *form) cut(d unit.Length) book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.height, Wire: d}
}
