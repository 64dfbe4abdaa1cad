// Package next answers which cut would teach a shop most: of what decides about a
// job, by how much each cut that could be made would narrow it for an hour of the
// machine. It also holds every reading of the shop's cuts against the others. It
// may import book, calc, figure, process and unit.
package next

import (
	"math"
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                     [0]func() // never compared, so no code for comparing is made
	book                                  *book.Book
	machine, material, dielectric, decide string
	wire, thickness, path                 unit.Length
	passes                                unit.Count
	rate                                  unit.Money

	now, after         unit.Ratio
	hours, testHours   unit.Time
	finish             unit.Roughness
	gap                unit.Length
	testWire, testHigh unit.Length
	testPasses         unit.Count
	testCost           unit.Money
}

// Calculator declares the calculator of the next cut.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "next", Title: "Which cut teaches most?", Question: "Which cut should I make next?",
		Summary: "Of what decides about a job, how wide it is known, which test cut narrows it most for an hour of the machine, a card to cut it by, and every reading of your cuts held against the others.",
		Tables:  []string{"law", "materials name", "machines wire_from_mm wire_to_mm height_mm", "wires tallest_mm", "prices amount_n0 currency"},
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
	calc.AskChoice(f, &in.decide, `decides: What decides about the job
		group Job
		mark -
		option hours: its hours of cutting
		option finish: the roughness of its last pass
		option gap: the gap of its last pass`)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -")
	calc.AskThickness(f, &in.thickness)
	calc.AskWire(f, in.book, &in.wire)
	calc.AskDielectric(f, &in.dielectric)
	calc.AskGiven(f, &in.passes, new(bool), `passes: Passes, roughing included
		mark passes
		help Leave it empty to take those that are worth cutting.
		usual 1 to 6
		min 1: there is at least the roughing pass
		max 9: nobody makes more`).Fallback = in.useful
	calc.Ask(f, &in.path, `path: Length of the contour, all openings together
		is 500 mm
		keys mm in; in
		usual 5 mm to 3000 mm
		above 0 mm: a contour has a length
		max 1000000 mm: this is a kilometre`)
	r, _ := in.book.Find("prices", "machine-hour")
	currency := "your currency"
	if r.Cell("currency") != "" {
		currency = r.Cell("currency")
	}
	calc.Ask(f, &in.rate, "machine-rate: Machine, each hour, "+currency+"\nis "+r.Cell("amount_n0")+`
		usual 0 to 200
		min 0: a price is not negative
		max 100000: in your own currency`)
}

// useful is how many passes are worth cutting, or why the law says nothing.
func (in *form) useful() calc.Fallback {
	p := calc.LawOf(in.book).Plan(in.cut(in.wire, in.thickness), 1)
	if !p.OK {
		return calc.Fallback{Wanted: p.Why}
	}
	n, _ := p.Useful(calc.MostPasses)
	return calc.Fallback{Range: unit.Exactly(float64(n)), Rows: p.Rows, Note: "as many as still gain by the law of a pass"}
}

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.now, "width: High over low now\nmain\ngiven\ndigits 2")
	calc.Tell(f, &in.after, "width-after: After that cut, as far as can be foretold\nmain\ngiven\ndigits 2")
	calc.Tell(f, &in.hours, "hours: Hours of cutting\ngiven\nunit h 2\nif decides hours")
	calc.Tell(f, &in.finish, "finish: Ra of its last pass\ngiven\nif decides finish")
	calc.Tell(f, &in.gap, "gap: Gap of its last pass, each side\ngiven\nunit µm 1\ninch thou 2\nif decides gap")
	calc.Tell(f, &in.testWire, "test-wire: Cut with wire\nmain\ngiven")
	calc.Tell(f, &in.testHigh, "test-height: In a height of\nmain\ngiven")
	calc.Tell(f, &in.testPasses, "test-passes: In passes\nmain\ngiven\ndigits 0")
	calc.Tell(f, &in.testHours, "test-hours: Hours of that cut on the machine\ngiven\nunit h 2")
	calc.Tell(f, &in.testCost, "test-cost: What the machine costs for it\ngiven\ndigits 0")
}

func (in *form) cut(wire, height unit.Length) book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: height, Wire: wire}
}

// kind is the law's name for what decides.
func (in *form) kind() process.Kind {
	switch in.decide {
	case "finish":
		return process.RaOf
	case "gap":
		return process.GapOf
	}
	return process.RateOf
}

// heights are those that blanks are found in, beside the job's own.
func heights() []unit.Length { return []unit.Length{5, 10, 20, 40, 80, 160} }

// few is how far from the job's wire others are tried where no machine's card says
// which it takes.
const few = 2

// feasible are the cuts that could be made: the wires of the list that the machine
// takes, the job's own among them, in a few heights.
func (in *form) feasible() []book.Cut {
	card, carded := in.book.Find("machines", in.machine)
	tallest := map[unit.Length]float64{}
	list := []unit.Length{in.wire}
	if t := in.book.Table("wires"); t != nil {
		for _, r := range t.Rows {
			d := unit.Length(r.Num("diameter_mm"))
			tallest[d] = r.Num("tallest_mm")
			switch {
			case math.Abs(float64(d-in.wire)) < 1e-9:
				continue
			case carded && (card.Num("wire_from_mm") > float64(d)+1e-9 || card.Num("wire_to_mm") > 0 && card.Num("wire_to_mm") < float64(d)-1e-9):
				continue
			case !carded && (d > few*in.wire || d < in.wire/few):
				continue
			}
			list = append(list, d)
		}
	}
	var out []book.Cut
	for _, d := range list {
		for _, h := range append(heights(), in.thickness) {
			own := h == in.thickness
			if own && slices.Contains(heights(), h) || !own && tallest[d] > 0 && float64(h) > tallest[d] || carded && card.Num("height_mm") > 0 && float64(h) > card.Num("height_mm") {
				continue
			}
			out = append(out, in.cut(d, h))
		}
	}
	return out
}

// ask asks the law; the plan is not OK where it says nothing.
func (in *form) ask() (*calc.Plan, calc.Teaching) {
	n := max(1, int(in.passes))
	p := calc.LawOf(in.book).Plan(in.cut(in.wire, in.thickness), n)
	passes := []int{1, 2, 3}
	if n > 3 {
		passes = append(passes, n)
	}
	return p, p.Teaching(in.kind(), in.path, in.feasible(), passes)
}

// point leaves everything to say: the law gives ranges of its own.
func (in *form) point(p *calc.Point) {
	if !p.Stepping() {
		return
	}
	plan, t := in.ask()
	if !plan.OK {
		return
	}
	p.Work("width = {1} | how wide it is known | high / low, nine in ten | {2} | definition", unit.Fixed(t.Now.High/t.Now.Low, 2), unit.PrintRange(in.printed(t.Now, unit.Metric)))
	if len(t.Best) == 0 {
		return
	}
	b := t.Best[0]
	p.Work(`width-after = {1} | the same when the cut was read | its variance falls by (z*ᵀVz)² / (σ² + zᵀVz) with each reading | {2} | definition
		test-hours = {3} h | hours of the cut | 35 mm a pass by its feed, and a quarter of an hour | {4} | definition
		gain = {5} an hour | what an hour of it teaches | ln(width now / width after) / hours | ln({6} / {1}) / {3} | definition`,
		unit.Fixed(b.After.High/b.After.Low, 2), unit.PrintRange(in.printed(b.After, unit.Metric)), unit.Fixed(b.Hours, 2), passes(b.Passes), unit.Fixed(b.Teaches(), 3), unit.Fixed(t.Now.High/t.Now.Low, 2))
}

// printed is the quantity that decides, as it is printed.
func (in *form) printed(r unit.Range, s unit.System) (unit.Kind, unit.Range, unit.Style) {
	switch in.kind() {
	case process.RaOf:
		return unit.RoughnessKind, r, unit.RoughnessKind.Style(s)
	case process.GapOf:
		return unit.LengthKind, r, small(s)
	}
	const hour = 3600
	return unit.TimeKind, calc.Times(r, unit.Exactly(hour)), unit.Style{Unit: "h", Decimals: 2, Trim: true}
}

func small(s unit.System) unit.Style {
	if s == unit.Inch {
		return unit.Style{Unit: "thou", Decimals: 2, Trim: true}
	}
	return unit.Style{Unit: "µm", Decimals: 1, Trim: true}
}
