package job

import (
	"kerfbook/wasm/rules"
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/slot"
	"kerfbook/wasm/unit"
)

// tool is one wire of the table in one dielectric, as the tables have it.
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
	rules   *rules.Table
	book    *book.Book
	water   []tool
	oil     []tool
	cards   []*book.Row
	cuts    []*book.Row
	derived []derived
}

func newCache(b *book.Book) *cache {
	e := &cache{rules: rules.Read(b, language()), book: b, derived: derivations()}
	for _, d := range b.Wires() {
		e.water, e.oil = append(e.water, e.tool(d, "water")), append(e.oil, e.tool(d, "oil"))
	}
	e.cards, e.cuts = rules.Rows(b, "machines"), rules.Rows(b, "cuts")
	return e
}

func (e *cache) tool(d unit.Length, dielectric string) tool {
	t := tool{wire: d}
	t.rough, _, _ = e.book.Gap(d, dielectric, "rough")
	t.fine, _, _ = e.book.Gap(d, dielectric, "fine")
	t.left, _, _ = e.book.Left(d)
	return t
}

func (e *cache) tools(dielectric string) []tool {
	if dielectric == "oil" {
		return e.oil
	}
	return e.water
}

// tools are those of the cache, with the gaps that the shop measured on the chosen
// machine in the place of the table's.
func (j *job) tools(dielectric string) []tool {
	list := j.cache.tools(dielectric)
	if j.chosen == nil || !j.cutOn(j.chosen.Key, dielectric) {
		return list
	}
	if j.near[dielectric] == nil {
		own := slices.Clone(list)
		for i := range own {
			own[i] = j.measured(own[i], dielectric)
		}
		if j.near == nil {
			j.near = map[string][]tool{}
		}
		j.near[dielectric] = own
	}
	return j.near[dielectric]
}

// cutOn reports whether a cut was measured on a machine in a dielectric.
func (e *cache) cutOn(machine, dielectric string) bool {
	for _, r := range e.cuts {
		if r.Cell("machine") == machine && r.Cell("dielectric") == dielectric {
			return true
		}
	}
	return false
}

// measured puts the shop's own gaps into a tool, where a cut is near enough.
func (j *job) measured(t tool, dielectric string) tool {
	q := book.Cut{Machine: j.chosen.Key, Material: j.Facts.Word(factMaterial), Dielectric: dielectric, Thickness: unit.Length(j.Facts.Number(factHeight)), Wire: t.wire}
	if fb, ok := calc.MeasuredGap(j.book, q, "rough"); ok {
		t.rough, j.lent = fb.Range, append(j.lent, fb.Rows...)
	}
	if fb, ok := calc.MeasuredGap(j.book, q, "fine"); ok {
		t.fine, j.lent = fb.Range, append(j.lent, fb.Rows...)
	}
	return t
}

// toolOf is a wire of the table as it was looked up, or another looked up now.
func (j *job) toolOf(d unit.Length, dielectric string) tool {
	for _, t := range j.tools(dielectric) {
		if t.wire == d {
			return t
		}
	}
	t := j.tool(d, dielectric)
	if j.chosen != nil && j.cutOn(j.chosen.Key, dielectric) {
		t = j.measured(t, dielectric)
	}
	return t
}
