package ladder

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

const maxPasses = 6

type form struct {
	book        *book.Book
	direction   string
	wire        unit.Length
	dielectric  string
	passes      unit.Count
	gap         [maxPasses]unit.Length
	gapGiven    [maxPasses]bool
	left        [maxPasses]unit.Length
	held        [maxPasses]unit.Length // offsets on the control
	polarity    [maxPasses]string
	radius      unit.Length
	radiusGiven bool
	angle       unit.Angle
	material    string
	thickness   unit.Length

	offset, takes, leaves, corner, cornerStock [maxPasses]unit.Length
	kerf, slot                                 unit.Length
	finish                                     unit.Roughness
	problem, where                             string
}

// Calculator declares the pass plan.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "ladder", Title: "Pass plan", Question: "Which offset for each pass?",
		Summary: "Offsets, stock and corners for roughing and skims; and the other way round, what the offsets on the control take off and which of them looks wrong.",
		Tables:  []string{"wires", "gaps", "finishes"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.passFields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func keys() []string { return []string{"mm", "µm", "thou", "tenths"} }

func smallKeys() []string { return []string{"µm", "mm", "thou", "tenths"} }

func (in *form) n() int { return int(in.passes) }

func (in *form) fields(f *calc.Form) {
	calc.BindChoice(f, &in.direction, calc.Field{Name: "direction", Label: "What is asked", Group: "Plan", Default: "plan", Options: []calc.Option{
		{Value: "plan", Label: "plan the offsets"}, {Value: "read-back", Label: "read the control's offsets"}}})
	calc.Bind(f, &in.wire, calc.Field{Name: "wire", Label: "Wire", Default: "0.25 mm", Keys: keys(), InchKey: "thou", Usual: [2]string{"0.02 mm", "0.36 mm"},
		Limits: []calc.Limit{calc.AtLeast("0.005 mm", "no wire thinner than this is drawn for cutting"), calc.AtMost("1 mm", "wire for cutting ends well below this")}})
	calc.BindChoice(f, &in.dielectric, calc.Field{Name: "dielectric", Label: "Dielectric", Default: "water", Options: []calc.Option{{Value: "water", Label: "water"}, {Value: "oil", Label: "oil"}}})
	calc.Bind(f, &in.passes, calc.Field{Name: "passes", Label: "Passes, roughing included", Default: "4", Usual: [2]string{"1", "6"},
		Options: []calc.Option{{Value: "1", Label: "1"}, {Value: "2", Label: "2"}, {Value: "3", Label: "3"}, {Value: "4", Label: "4"}, {Value: "5", Label: "5"}, {Value: "6", Label: "6"}},
		Limits:  []calc.Limit{calc.AtLeast("1", "there is at least the roughing pass"), calc.AtMost("6", "more passes than this gain nothing that this plan can show")}})
	calc.BindChoice(f, &in.material, calc.Field{Name: "material", Label: "Work", Default: "steel", Options: []calc.Option{{Value: "steel", Label: "steel"}, {Value: "carbide", Label: "carbide"},
		{Value: "aluminium", Label: "aluminium"}, {Value: "copper", Label: "copper"}, {Value: "titanium", Label: "titanium"}}})
	calc.Bind(f, &in.thickness, calc.Field{Name: "thickness", Label: "Thickness", Default: "20 mm", Advanced: true, Keys: []string{"mm", "in"}, InchKey: "in", Usual: [2]string{"0.5 mm", "200 mm"},
		Limits: []calc.Limit{calc.Above("0 mm", "the part has a thickness"), calc.AtMost("1000 mm", "no machine takes more")}})
}

// passFields declares the fields of each pass.
func (in *form) passFields(f *calc.Form) {
	for i := range maxPasses {
		no := strconv.Itoa(i + 1)
		used := func() bool { return i < in.n() }
		group := "Pass " + no
		if i == 0 {
			group = "Pass 1, roughing"
		}
		calc.BindGiven(f, &in.gap[i], &in.gapGiven[i], calc.Field{Name: "gap-" + no, Label: "Gap of pass " + no, Group: group, Ranges: true, ShowIf: used,
			Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"1 µm", "70 µm"}, Fallback: func() calc.Fallback { return in.tableGap(i) },
			Limits: []calc.Limit{calc.AtLeast("0 µm", "a gap is not negative"), calc.AtMost("1 mm", "no spark crosses a gap this wide")}})
		if i < maxPasses-1 {
			var given bool
			calc.BindGiven(f, &in.left[i], &given, calc.Field{Name: "left-" + no, Label: "Stock left after pass " + no, Ranges: true,
				ShowIf: func() bool { return i < in.n()-1 && in.direction == "plan" }, Keys: smallKeys(), InchKey: "thou", Usual: [2]string{"0.5 µm", "0.12 mm"},
				Fallback: func() calc.Fallback { return in.tableLeft(i) },
				Limits:   []calc.Limit{calc.AtLeast("0 µm", "stock left is not negative"), calc.AtMost("2 mm", "skims do not take this much")}})
		}
		var given bool
		calc.BindGiven(f, &in.held[i], &given, calc.Field{Name: "offset-" + no, Label: "Offset " + no + " on the control",
			ShowIf: func() bool { return used() && in.direction == "read-back" }, Keys: keys(), InchKey: "thou", Usual: [2]string{"0.012 mm", "0.35 mm"},
			Limits: []calc.Limit{calc.AtLeast("0 mm", "offsets are written as plus here"), calc.AtMost("5 mm", "no plan for wire needs more")}})
		calc.BindChoice(f, &in.polarity[i], calc.Field{Name: "polarity-" + no, Label: "Polarity of pass " + no, Default: "wire-minus", ShowIf: used, Options: []calc.Option{
			{Value: "wire-minus", Label: "wire − / work +"}, {Value: "wire-plus", Label: "wire + / work −"}, {Value: "alternating", Label: "alternating, zero mean"}}})
	}
	calc.BindGiven(f, &in.radius, &in.radiusGiven, calc.Field{Name: "radius", Label: "Smallest inside radius of the contour", Advanced: true, Keys: keys(), InchKey: "thou", Usual: [2]string{"0.02 mm", "5 mm"},
		Limits: []calc.Limit{calc.AtLeast("0 mm", "a radius is not negative; 0 is a sharp corner"), calc.AtMost("1000 mm", "a radius this large is no corner")}})
	calc.Bind(f, &in.angle, calc.Field{Name: "angle", Label: "Angle of that corner", Default: "90°", Advanced: true, Keys: []string{"°"}, Usual: [2]string{"20°", "170°"},
		Limits: []calc.Limit{calc.AtLeast("5°", "below this the corner is a slit"), calc.AtMost("175°", "above this the two walls are nearly one")}})
}

// tableGap mixes the table's ranges for the passes between the first skim and
// the last; the plan's own steps are ours.
func (in *form) tableGap(i int) calc.Fallback {
	if i >= in.n() {
		return calc.Fallback{}
	}
	get := func(pass string) (unit.Range, []book.Row) {
		r, rows, _ := in.book.Gap(in.wire, in.dielectric, pass)
		return r, rows
	}
	if i == 0 {
		r, rows := get("rough")
		return calc.Fallback{Range: r, Rows: rows, Note: calc.FromTable(unit.LengthKind, r, "µm"), Together: "the gaps from the table"}
	}
	skim, rows := get("skim")
	if i == 1 {
		return calc.Fallback{Range: skim, Rows: rows, Note: calc.FromTable(unit.LengthKind, skim, "µm"), Together: "the gaps from the table"}
	}
	fine, more := get("fine")
	t := float64(i-1) / float64(in.n()-2)
	mix := func(a, b float64) float64 { return a + (b-a)*t }
	r := unit.Range{Low: mix(skim.Low, fine.Low), Likely: mix(skim.Likely, fine.Likely), High: mix(skim.High, fine.High)}
	if i < in.n()-1 {
		more = append(append([]book.Row{}, rows...), more...)
	}
	return calc.Fallback{Range: r, Rows: more, Note: calc.FromTable(unit.LengthKind, r, "µm"), Together: "the gaps from the table"}
}

func (in *form) tableLeft(i int) calc.Fallback {
	if i >= in.n()-1 {
		return calc.Fallback{}
	}
	r, rows, _ := in.book.Left(in.wire)
	v := r.Likely * shareLeft(i)
	return calc.Fallback{Range: unit.Exactly(v), Rows: rows, Note: "common practice: " + calc.Put(unit.Length(v), "µm", 1)}
}

func (in *form) answers(f *calc.Form) {
	for i := range maxPasses {
		no := strconv.Itoa(i + 1)
		used := func() bool { return i < in.n() }
		gap := []string{"gap-" + no}
		left, before, gapBefore := []string{}, []string{}, []string{}
		if i < maxPasses-1 {
			left = []string{"left-" + no}
		}
		if i > 0 {
			before, gapBefore = []string{"left-" + strconv.Itoa(i)}, []string{"gap-" + strconv.Itoa(i)}
		}
		calc.Value(f, &in.offset[i], calc.Out{Name: "offset-" + no, Label: "Offset of pass " + no, Applies: used, Rises: append(left, gap...)})
		calc.Value(f, &in.leaves[i], calc.Out{Name: "leaves-" + no, Label: "Stock left after pass " + no, Unit: "µm", Decimals: 1, InchUnit: "thou", InchDecimals: 2, Applies: used, Rises: left, Falls: gap})
		calc.Value(f, &in.corner[i], calc.Out{Name: "corner-" + no, Label: "Smallest radius of pass " + no, Applies: used, Rises: gap})
		if i > 0 {
			calc.Value(f, &in.takes[i], calc.Out{Name: "takes-" + no, Label: "Stock taken by pass " + no, Unit: "µm", Decimals: 1, InchUnit: "thou", InchDecimals: 2, Applies: used,
				Rises: append(before, gap...), Falls: append(left, gapBefore...)})
		}
	}
	calc.Value(f, &in.kerf, calc.Out{Name: "kerf-1", Label: "Slot that roughing leaves", Rises: []string{"gap-1"}})
	calc.Value(f, &in.slot, calc.Out{Name: "slot", Label: "Narrowest slot that takes all passes", Rises: []string{"gap-1", "left-1"}})
	calc.Value(f, &in.finish, calc.Out{Name: "finish", Label: "Roughness to expect, general range"})
	calc.Choose(f, &in.problem, calc.Out{Name: "problem", Label: "What looks wrong", Words: []calc.Option{{Value: "none", Label: "nothing"}, {Value: "takes-nothing", Label: "a skim takes nothing"},
		{Value: "offsets-do-not-fall", Label: "the offsets do not fall"}, {Value: "below-wire-and-gap", Label: "an offset is less than half the wire and the gap"}, {Value: "offset-missing", Label: "an offset is missing"}}})
}

func (in *form) point(p *calc.Point) {
	in.problem, in.where = "none", ""
	for i := range in.n() {
		if i > 0 && in.gap[i] > in.gap[i-1]+1e-12 {
			p.Impossible("the gap of pass " + strconv.Itoa(i+1) + " is above the gap of pass " + strconv.Itoa(i) + ", and a skim runs with less energy, not more")
		}
		if in.direction == "plan" {
			left := unit.Length(0)
			if i < in.n()-1 {
				left = in.left[i]
			}
			in.offset[i], in.leaves[i] = Offset(in.wire, in.gap[i], left), left
		} else {
			in.offset[i], in.leaves[i] = in.held[i], Leaves(in.held[i], in.wire, in.gap[i])
		}
		in.corner[i] = in.wire/2 + in.gap[i]
		if i > 0 {
			in.takes[i] = Takes(in.offset[i-1], in.gap[i-1], in.offset[i], in.gap[i])
			in.cornerStock[i] = CornerStock(in.offset[i-1], in.gap[i-1], in.offset[i], in.gap[i], in.angle)
		}
		in.look(i)
	}
	in.kerf, in.slot = in.wire+2*in.gap[0], 2*in.offset[0]
	if in.finish == 0 { // the number of passes is the same at every point
		r, _ := in.book.Find("finishes", strconv.Itoa(in.n()), "any")
		in.finish = unit.Roughness(r.Num("ra_likely_um"))
	}
	if p.Stepping() {
		in.steps(p)
	}
}

// look notes the first thing that looks wrong in a plan.
func (in *form) look(i int) {
	const same = 1e-9
	set := func(what string) {
		if in.problem == "none" {
			in.problem, in.where = what, strconv.Itoa(i+1)
		}
	}
	switch {
	case in.direction == "read-back" && in.held[i] == 0:
		set("offset-missing")
	case in.leaves[i] < -same:
		set("below-wire-and-gap")
	case i > 0 && in.offset[i] > in.offset[i-1]-same && in.takes[i] <= same:
		set("offsets-do-not-fall")
	case i > 0 && in.takes[i] <= same:
		set("takes-nothing")
	}
}

func (in *form) steps(p *calc.Point) {
	for i := range in.n() {
		no := strconv.Itoa(i + 1)
		if in.direction == "plan" {
			p.Step(calc.Step{For: "offset-" + no, Name: "offset of pass " + no, Formula: "d/2 + gap + stock left",
				Put: calc.Put(in.wire, "mm", 4) + " / 2 + " + calc.Put(in.gap[i], "mm", 4) + " + " + calc.Put(in.leaves[i], "mm", 4), Equals: calc.Put(in.offset[i], "mm", 4), Source: "kalpakjian-schmid"})
		} else {
			p.Step(calc.Step{For: "leaves-" + no, Name: "stock left after pass " + no, Formula: "offset - d/2 - gap",
				Put: calc.Put(in.offset[i], "mm", 4) + " - " + calc.Put(in.wire, "mm", 4) + " / 2 - " + calc.Put(in.gap[i], "mm", 4), Equals: calc.Put(in.leaves[i], "mm", 4)})
		}
		if i > 0 {
			p.Step(calc.Step{For: "takes-" + no, Name: "stock taken by pass " + no, Formula: "(offset before - gap before) - (offset - gap)",
				Put:    "(" + calc.Put(in.offset[i-1], "mm", 4) + " - " + calc.Put(in.gap[i-1], "mm", 4) + ") - (" + calc.Put(in.offset[i], "mm", 4) + " - " + calc.Put(in.gap[i], "mm", 4) + ")",
				Equals: calc.Put(in.takes[i], "mm", 4)})
		}
	}
}
