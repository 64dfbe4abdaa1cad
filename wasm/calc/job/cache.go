package job

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/rate"
	"kerfbook/wasm/calc/slot"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// tool is one wire of the table in one dielectric, as the law has it.
type tool struct {
	wire              unit.Length
	rough, fine, left unit.Range
}

// even is the radius with which roughing keeps its stock in the corner.
func (t tool) even() unit.Length {
	return corner.Roughing(t.wire, unit.Length(t.rough.Likely), unit.Length(t.left.Likely))
}

// last is the radius that the last pass is sure to leave.
func (t tool) last() unit.Length { return corner.Left(t.wire, unit.Length(t.fine.High)) }

// all is the slot in which both walls get every pass.
func (t tool) all() unit.Length {
	return slot.All(t.wire, unit.Length(t.rough.Likely), unit.Length(t.left.Likely))
}

// kerf is the slot of roughing alone.
func (t tool) kerf() unit.Length { return slot.Kerf(t.wire, unit.Length(t.rough.Likely)) }

// cache is what the engine looks up often, looked up once.
type cache struct {
	rules    *rules.Table
	book     *book.Book
	law      *calc.Law
	wires    []unit.Length
	cards    []*book.Row
	wireRows []*book.Row
	derived  []derived
	prices   rate.Prices
}

func newCache(b *book.Book) *cache {
	e := &cache{rules: rules.Read(b, language()), book: b, law: calc.LawOf(b), wires: b.Wires(), derived: derivations(), prices: rate.PricesOf(b)}
	e.cards, e.wireRows = rules.Rows(b, "machines"), rules.Rows(b, "wires")
	return e
}

// tools are the wires of the table in a dielectric, with gaps and stock as the law
// has them for this material and height on the chosen machine.
func (j *job) tools(dielectric string) []tool {
	if j.near[dielectric] == nil {
		if j.near == nil {
			j.near = map[string][]tool{}
		}
		for _, d := range j.wires {
			j.near[dielectric] = append(j.near[dielectric], j.tool(d, dielectric))
		}
	}
	return j.near[dielectric]
}

func (j *job) tool(d unit.Length, dielectric string) tool {
	s := j.said(wireIn{d, dielectric})
	if !s.plan.OK {
		return tool{wire: d}
	}
	return tool{wire: d, rough: s.gap[1], fine: s.gap[calc.PassOf("fine")], left: s.plan.Left(1)}
}

// toolOf is a wire of the table as it was looked up, or another looked up now.
func (j *job) toolOf(d unit.Length, dielectric string) tool {
	for _, t := range j.tools(dielectric) {
		if t.wire == d {
			return t
		}
	}
	return j.tool(d, dielectric)
}

// plan is what the law says of the cut that was decided, in a number of passes.
func (j *job) plan(passes int) *calc.Plan {
	q := j.cut()
	if j.planned == nil || j.plannedOf != q || len(j.planned.Passes) != passes {
		j.planned, j.plannedOf = j.law.Plan(q, passes), q
	}
	return j.planned
}
