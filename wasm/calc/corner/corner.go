package corner

import (
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// same is the difference in millimetres below which two radii count as equal:
// a billionth of a millimetre, far below any print and above the rounding of
// sums of lengths.
const same = 1e-9

// form holds the typed inputs and answers of one evaluation.
type form struct {
	asks        string
	radius      calc.Span[unit.Length]
	angle       unit.Angle
	wire        unit.Length
	wires       []unit.Length
	dielectric  string
	pass        string
	gap         unit.Length
	gapGiven    bool
	roughGap    unit.Length
	left        unit.Length
	clearance   unit.Length
	punch       bool
	slot        unit.Length
	slotGiven   bool
	material    string
	thickness   unit.Length
	thickGiven  bool
	finish      unit.Roughness
	finishGiven bool

	kerf                                                   unit.Length
	passes                                                 string
	leaves, gapLimit, rough, evenWire, punchCorner, askFor unit.Length
	uncut                                                  unit.Length
	uncutArea                                              unit.Area
	verdict, roughFits, largest, larger                    string
	sharp                                                  bool
	book                                                   *book.Book
	ownGaps                                                []unit.Range // of the listed wires, from the table
	names                                                  []string     // of the listed wires
}

// Calculator declares the corner calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID:       "corner",
		Title:    "Inside corner",
		Question: "Which wire for this inside corner?",
		Summary:  "The radius a wire and its gap leave, the wires that reach the print's radius, and whether roughing fits too.",
		Tables:   []string{"wires", "gaps", "finishes"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func lengthKeys() []string { return []string{"mm", "µm", "thou", "tenths"} }

func smallKeys() []string { return []string{"µm", "mm", "thou", "tenths"} }

func (in *form) fields(f *calc.Form) {
	calc.Bind(f, &in.wire, calc.Field{Name: "wire", Label: "Wire on the machine", Group: "Corner", Default: "0.25 mm",
		Keys: lengthKeys(), InchKey: "thou", Usual: [2]string{"0.02 mm", "0.36 mm"},
		Options: wireOptions(in.book),
		Limits: []calc.Limit{calc.AtLeast("0.005 mm", "no wire thinner than this is drawn for cutting"),
			calc.AtMost("1 mm", "wire for cutting ends well below this")}})
	calc.BindSpan(f, &in.radius, calc.Field{Name: "radius", Label: "Inside radius on the print", Default: "0.15 mm",
		Keys: lengthKeys(), InchKey: "thou", Usual: [2]string{"0.02 mm", "5 mm"},
		ShowIf: func() bool { return in.asks != "sharp" },
		Limits: []calc.Limit{calc.Above("0 mm", "for a corner without a radius choose “sharp”"),
			calc.AtMost("1000 mm", "a radius this large is no corner")}})
	calc.BindChoice(f, &in.asks, calc.Field{Name: "asks", Label: "The print asks for", Default: "maximum", Options: []calc.Option{
		{Value: "maximum", Label: "R at most"}, {Value: "plus-minus", Label: "R with ±"},
		{Value: "minimum", Label: "R at least"}, {Value: "sharp", Label: "sharp"}}})
	calc.Bind(f, &in.angle, calc.Field{Name: "angle", Label: "Angle of the corner, on the wire's side", Default: "90°", Ranges: true,
		Keys: []string{"°"}, Usual: [2]string{"20°", "170°"},
		Limits: []calc.Limit{calc.AtLeast("5°", "below this the uncut tip is longer than eleven tool radii and the formula says nothing useful"),
			calc.AtMost("175°", "above this the two walls are nearly one")}})
	calc.BindChoice(f, &in.dielectric, calc.Field{Name: "dielectric", Label: "Dielectric", Group: "Gap", Default: "water",
		Options: []calc.Option{{Value: "water", Label: "water"}, {Value: "oil", Label: "oil"}}})
	calc.BindChoice(f, &in.pass, calc.Field{Name: "pass", Label: "Last pass", Default: "fine",
		Help:    "The pass that leaves the finished corner.",
		Options: []calc.Option{{Value: "rough", Label: "roughing only"}, {Value: "skim", Label: "a skim"}, {Value: "fine", Label: "fine skims"}}})
	calc.BindGiven(f, &in.gap, &in.gapGiven, calc.Field{Name: "gap", Label: "Spark gap of the last pass, each side", Ranges: true,
		Help: "Leave it empty to take the table's range. A measured gap is always better.",
		Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"1 µm", "70 µm"},
		Limits:   []calc.Limit{calc.AtLeast("0 µm", "a gap is not negative"), calc.AtMost("1 mm", "no spark crosses a gap this wide")},
		Fallback: func() calc.Fallback { return fromTable(in.book.Gap(in.wire, in.dielectric, in.pass)) }})
	in.rest(f)
	var roughGiven, leftGiven bool
	calc.BindGiven(f, &in.roughGap, &roughGiven, calc.Field{Name: "rough-gap", Label: "Spark gap of roughing, each side", Ranges: true, Advanced: true,
		Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"2 µm", "70 µm"},
		Limits:   []calc.Limit{calc.AtLeast("0 µm", "a gap is not negative"), calc.AtMost("1 mm", "no spark crosses a gap this wide")},
		Fallback: func() calc.Fallback { return fromTable(in.book.Gap(in.wire, in.dielectric, "rough")) }})
	calc.BindGiven(f, &in.left, &leftGiven, calc.Field{Name: "left", Label: "Stock left by roughing, each side", Ranges: true, Advanced: true,
		Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"2 µm", "0.12 mm"},
		Limits:   []calc.Limit{calc.AtLeast("0 µm", "stock left is not negative"), calc.AtMost("2 mm", "skims do not take this much")},
		Fallback: func() calc.Fallback { return fromTable(in.book.Left(in.wire)) }})
	calc.BindList(f, &in.wires, calc.Field{Name: "wires", Label: "Wires the machine can run", Default: "0.05 mm; 0.07 mm; 0.1 mm; 0.15 mm; 0.2 mm; 0.25 mm; 0.3 mm", Advanced: true,
		Keys: lengthKeys(), InchKey: "thou", Options: wireOptions(in.book),
		Limits: []calc.Limit{calc.AtLeast("0.005 mm", "no wire thinner than this is drawn for cutting"), calc.AtMost("1 mm", "wire for cutting ends well below this")}})
	calc.BindGiven(f, &in.clearance, &in.punch, calc.Field{Name: "clearance", Label: "Punch and die: clearance, each side", Ranges: true, Advanced: true,
		Help: "Leave it empty when there is no punch.",
		Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"1 µm", "0.5 mm"},
		Limits: []calc.Limit{calc.AtLeast("0 µm", "clearance per side is not negative"), calc.AtMost("5 mm", "this is wider than any clearance for cutting sheet")}})
}

// rest is what else the print says; all of it may stay empty.
func (in *form) rest(f *calc.Form) {
	calc.BindGiven(f, &in.slot, &in.slotGiven, calc.Field{Name: "slot", Label: "Narrowest slot", Group: "The rest of the print",
		Keys: lengthKeys(), InchKey: "thou", Usual: [2]string{"0.03 mm", "5 mm"},
		Limits: []calc.Limit{calc.Above("0 mm", "a slot has a width"), calc.AtMost("1000 mm", "a slot this wide is none")}})
	calc.BindChoice(f, &in.material, calc.Field{Name: "material", Label: "Material", Default: "steel", Options: []calc.Option{{Value: "steel", Label: "steel"}, {Value: "carbide", Label: "carbide"},
		{Value: "aluminium", Label: "aluminium"}, {Value: "copper", Label: "copper"}, {Value: "titanium", Label: "titanium"}}})
	calc.BindGiven(f, &in.thickness, &in.thickGiven, calc.Field{Name: "thickness", Label: "Thickness", Keys: []string{"mm", "in"}, InchKey: "in", Usual: [2]string{"0.5 mm", "200 mm"},
		Limits: []calc.Limit{calc.Above("0 mm", "the part has a thickness"), calc.AtMost("1000 mm", "no machine takes more")}})
	calc.BindGiven(f, &in.finish, &in.finishGiven, calc.Field{Name: "finish", Label: "Finish, Ra", Keys: []string{"µm", "µin"}, InchKey: "µin", Usual: [2]string{"0.1 µm", "6 µm"},
		Limits: []calc.Limit{calc.AtLeast("0.006 µm", "no face is finer"), calc.AtMost("80 µm", "no cut face is rougher")}})
}

func wireOptions(b *book.Book) []calc.Option {
	var out []calc.Option
	for _, d := range b.Wires() {
		text := unit.Print(unit.LengthKind, float64(d), unit.Style{Unit: "mm", Decimals: 3, Trim: true})
		out = append(out, calc.Option{Value: text, Label: unit.Number(float64(d), unit.Style{Unit: "mm", Decimals: 3, Trim: true})})
	}
	return out
}

func fromTable(r unit.Range, rows []book.Row, exact bool) calc.Fallback {
	if len(rows) == 0 {
		return calc.Fallback{Note: "no table row fits: type a value"}
	}
	note := "from the table: " + unit.PrintRange(unit.LengthKind, r, unit.Style{Unit: "µm", Decimals: 1, Trim: true})
	if !exact {
		note += ", the row of the nearest wire"
	}
	return calc.Fallback{Range: r, Rows: rows, Note: note}
}

func (in *form) answers(f *calc.Form) {
	vertex := func() bool { return !in.sharp }
	calc.Choose(f, &in.verdict, calc.Out{Name: "verdict", Label: "Can this wire cut it", Words: []calc.Option{
		{Value: "yes", Label: "Yes"}, {Value: "no", Label: "No"}, {Value: "only-if", Label: "Only if programmed"}}})
	calc.Value(f, &in.leaves, calc.Out{Name: "radius-left", Label: "Radius the wire leaves", Main: true, Rises: []string{"gap"}})
	calc.Value(f, &in.gapLimit, calc.Out{Applies: func() bool { return !in.sharp && (in.asks != "minimum" || in.slotGiven) }, Name: "gap-limit", Label: "Works up to a gap of", Unit: "µm", Decimals: 1, InchUnit: "thou", InchDecimals: 2})
	calc.Value(f, &in.rough, calc.Out{Name: "rough-radius", Label: "Radius roughing needs for even stock", Rises: []string{"rough-gap", "left"}})
	calc.Choose(f, &in.roughFits, calc.Out{Name: "rough-fits", Label: "Roughing with even stock", Words: []calc.Option{
		{Value: "fits", Label: "fits"}, {Value: "does-not-fit", Label: "does not fit"}}})
	calc.Value(f, &in.evenWire, calc.Out{Applies: vertex, Name: "largest-even-wire", Label: "Largest wire for even stock", Falls: []string{"rough-gap", "left"}})
	calc.Value(f, &in.uncut, calc.Out{Name: "uncut-distance", Label: "Left uncut, vertex to wall", Rises: []string{"gap"}, Falls: []string{"angle"}})
	calc.Value(f, &in.uncutArea, calc.Out{Name: "uncut-area", Label: "Area left uncut", Rises: []string{"gap"}, Falls: []string{"angle"}})
	calc.Choose(f, &in.largest, calc.Out{Name: "largest-wire", Label: "Largest wire that reaches it"})
	calc.Choose(f, &in.larger, calc.Out{Name: "next-larger", Label: "Next larger wire, not sure to reach it"})
	calc.Value(f, &in.kerf, calc.Out{Name: "kerf", Label: "Slot this pass leaves", Rises: []string{"gap"}})
	calc.Choose(f, &in.passes, calc.Out{Name: "passes", Label: "Passes for the finish, general range", Words: []calc.Option{{Value: "not-asked", Label: "no finish was given"}}})
	calc.Value(f, &in.punchCorner, calc.Out{Applies: func() bool { return in.punch }, Name: "punch-corner", Label: "Outside corner of the punch", Rises: []string{"gap"}, Falls: []string{"clearance"}})
	calc.Value(f, &in.askFor, calc.Out{Applies: func() bool { return in.sharp }, Name: "ask-for", Label: "Radius to ask the customer for", Main: true, Rises: []string{"gap"}})
}

func (in *form) point(p *calc.Point) {
	in.leaves = Left(in.wire, in.gap)
	in.rough = Roughing(in.wire, in.roughGap, in.left)
	in.uncut = UncutDistance(in.leaves, in.angle)
	in.uncutArea = UncutArea(in.leaves, in.angle)
	in.punchCorner = Punch(in.leaves, in.clearance)
	in.sharp = in.asks == "sharp"
	in.gapLimit = in.limit(in.wire)
	in.kerf = in.wire + 2*in.gap
	in.passes = in.passesFor()
	in.evenWire = max(0, EvenWire(in.target(), in.roughGap, in.left))
	in.askFor = in.leaves
	in.verdict = in.able(in.wire, in.gap)
	in.roughFits = "fits"
	if in.asks != "minimum" && (in.sharp || in.rough > in.target()+same) {
		in.roughFits = "does-not-fit"
	}
	in.largest, in.larger = in.choose()
	if p.Stepping() {
		in.steps(p)
	}
}

// target is the radius that decides: the largest the print allows.
func (in *form) target() unit.Length {
	if in.asks == "plus-minus" {
		return in.radius.High
	}
	return in.radius.Low
}

// judge compares the radius a tool leaves with the words of the print.
func (in *form) judge(leaves unit.Length) string {
	switch in.asks {
	case "sharp":
		return "no"
	case "minimum":
		return "yes"
	case "plus-minus":
		// The radius is programmed: any radius from the tool's own upwards.
		switch {
		case leaves <= in.radius.Likely+same:
			return "yes"
		case leaves <= in.radius.High+same:
			return "only-if"
		}
		return "no"
	}
	switch {
	case leaves <= in.radius.Low+same:
		return "yes"
	case leaves <= in.radius.High+same:
		return "only-if"
	}
	return "no"
}

// able judges a wire with a gap by the corner and by the slot.
func (in *form) able(d, gap unit.Length) string {
	if in.slotGiven && d+2*gap > in.slot+same {
		return "no"
	}
	return in.judge(Left(d, gap))
}

// limit is the widest gap with which a wire does both.
func (in *form) limit(d unit.Length) unit.Length {
	g := GapLimit(in.target(), d)
	if in.slotGiven {
		slot := (in.slot - d) / 2
		if in.asks == "minimum" || slot < g {
			return slot
		}
	}
	return g
}

// passesFor is the first number of passes in the general table whose likely
// roughness is fine enough.
func (in *form) passesFor() string {
	if !in.finishGiven {
		return "not-asked"
	}
	for _, r := range in.book.Table("finishes").Rows {
		if float64(in.finish) >= r.Num("ra_likely_um") {
			return r.Cell("passes")
		}
	}
	return "more than the table has"
}

// choose finds the largest listed wire that is sure to reach the radius, and
// the next larger one. A typed gap serves for every wire; from the table each
// wire has its own and must do at the wide end of it.
func (in *form) choose() (largest, larger string) {
	largest, larger = "none", "none"
	in.lookUp()
	for i, d := range in.wires {
		if in.able(d, unit.Length(in.gapOf(i).High)) == "yes" {
			largest, larger = in.names[i], "none"
		} else if larger == "none" {
			larger = in.names[i]
		}
	}
	return largest, larger
}

// lookUp takes the gaps of the listed wires from the table, once: wires,
// dielectric and pass are the same at every point.
func (in *form) lookUp() {
	if in.names != nil {
		return
	}
	// The wire on the machine is one of those it can run.
	at := 0
	for at < len(in.wires) && in.wires[at] < in.wire-same {
		at++
	}
	if at == len(in.wires) || in.wires[at] > in.wire+same {
		in.wires = slices.Insert(in.wires, at, in.wire)
	}
	for _, d := range in.wires {
		r, _, _ := in.book.Gap(d, in.dielectric, in.pass)
		in.ownGaps, in.names = append(in.ownGaps, r), append(in.names, millimetres(d))
	}
}

// gapOf is the gap of the i-th listed wire.
func (in *form) gapOf(i int) unit.Range {
	if in.gapGiven {
		return unit.Exactly(float64(in.gap))
	}
	return in.ownGaps[i]
}
