package calc

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// What the law says, as an empty field takes it, with where it came from.

// PassOf is the pass that a stage of the plan stands for: roughing, the first skim,
// and the fourth pass, with which a plan of fine skims usually ends.
func PassOf(stage string) int {
	switch stage {
	case "rough":
		return 1
	case "skim":
		return 2
	case "third":
		return 3
	case "fifth":
		return 5
	case "sixth":
		return 6
	}
	return finePass
}

// StageOf is the stage that ends a plan of so many passes: the inverse of PassOf.
func StageOf(passes int) string {
	return [...]string{"rough", "skim", "third", "fine", "fifth", "sixth"}[min(max(passes, 1), 6)-1]
}

// LastPass are the lines of a choice among the passes that may leave a wall.
const LastPass = `
		option rough: roughing only
		option skim: a skim, pass 2
		option third: skims up to pass 3
		option fine: fine skims, pass 4
		option fifth: skims up to pass 5
		option sixth: skims up to pass 6`

const finePass = 4

// Together names what moves all gaps of one machine as one.
const lawGaps = "the gaps by the law"

// GapOf is the spark gap of a stage (rough, skim or fine): from the shop's own row
// of gaps for this wire, fluid and stage where there is one, else by the law.
func GapOf(b *book.Book, q book.Cut, stage string) Fallback {
	if fb, ok := GapRow(b, q, stage); ok {
		return fb
	}
	return LawOf(b).Plan(q, PassOf(stage)).ToldGap(PassOf(stage))
}

// GapRange is the range of GapOf, for wires that are only compared.
func GapRange(b *book.Book, q book.Cut, stage string) unit.Range {
	if fb, ok := GapRow(b, q, stage); ok {
		return fb.Range
	}
	return LawOf(b).Plan(q, PassOf(stage)).Gap(PassOf(stage))
}

// ownGap is how far a wire may be from that of a shop's row of gaps.
const ownGap = 1.02

// GapRow is a shop's own row of gaps, which wins for its own wire, fluid and stage.
func GapRow(b *book.Book, q book.Cut, stage string) (Fallback, bool) {
	t := b.Table("gaps")
	if t == nil {
		return Fallback{}, false
	}
	if stage != "rough" && stage != "skim" {
		stage = "fine" // the end of any longer plan
	}
	for _, r := range t.Rows {
		d := r.Num("diameter_mm") / float64(q.Wire)
		if r.Cell("dielectric") != q.Dielectric || r.Cell("pass") != stage || d > ownGap || d < 1/ownGap {
			continue
		}
		v := r.Range("gap", "um", 1e-3)
		return Fallback{Range: v, Rows: []book.Row{r}, Note: "from the row of gaps for this wire: " + unit.PrintRange(unit.LengthKind, v, unit.Style{Unit: "µm", Decimals: 1, Trim: true}), Taught: true}, true
	}
	return Fallback{}, false
}

// LeftOf is the stock a side that roughing leaves, by the law's plan.
func LeftOf(b *book.Book, q book.Cut) Fallback { return LawOf(b).Plan(q, finePass).ToldLeft(1) }

// LeftRange is the range of LeftOf, for wires that are only compared.
func LeftRange(b *book.Book, q book.Cut) unit.Range { return LawOf(b).Plan(q, finePass).Left(1) }

// RateOf is the area rate of roughing.
func RateOf(b *book.Book, q book.Cut) Fallback {
	p := LawOf(b).Plan(q, 1)
	return p.told(unit.AreaRateKind, p.Rate(), unit.Style{Unit: "mm²/min", Decimals: 1, Trim: true}, process.RateOf, 1)
}

// ToldGap is the gap of a pass as an empty field takes it.
func (p *Plan) ToldGap(pass int) Fallback {
	fb := p.told(unit.LengthKind, p.Gap(pass), unit.Style{Unit: "µm", Decimals: 1, Trim: true}, process.GapOf, pass)
	if fb.Wanted == "" {
		fb.Together = lawGaps
	}
	return fb
}

// ToldRa is the roughness of a pass as an empty field takes it.
func (p *Plan) ToldRa(pass int) Fallback {
	return p.told(unit.RoughnessKind, p.Ra(pass), unit.Style{Unit: "µm", Decimals: 2, Trim: true}, process.RaOf, pass)
}

// ToldLayer is the molten layer of a pass as an empty field takes it.
func (p *Plan) ToldLayer(pass int) Fallback {
	return p.told(unit.LengthKind, p.Layer(pass), unit.Style{Unit: "µm", Decimals: 1, Trim: true}, process.LayerOf, pass)
}

// ToldFeed is the feed of a skim that takes so much a side.
func (p *Plan) ToldFeed(pass int, takes unit.Length) Fallback {
	return p.told(unit.SpeedKind, p.Feed(pass, takes), feedStyle(), process.SkimOf, pass)
}

// ToldSkims is the one feed that all skims of the plan come to.
func (p *Plan) ToldSkims() Fallback {
	if p.OK && len(p.Passes) < 2 {
		return Fallback{Range: unit.Exactly(float64(p.law.Likely[process.TopFeed])), Rows: p.Rows, Note: "there is no skim"}
	}
	return p.told(unit.SpeedKind, p.Skims(), feedStyle(), process.SkimOf, 2)
}

// ToldOffset is the likely offset of a pass, which rests on what its gap rests on.
func (p *Plan) ToldOffset(pass int) Fallback {
	if !p.OK {
		return Fallback{Wanted: p.Why}
	}
	v := p.Passes[pass-1].Offset
	fb := Fallback{Range: unit.Exactly(float64(v)), Rows: p.Rows, Note: "by the law of a pass: " + Put(v, "mm", 3)}
	return p.rest(fb, process.GapOf, pass)
}

// ToldLeft is the stock that a pass leaves.
func (p *Plan) ToldLeft(pass int) Fallback {
	if !p.OK {
		return Fallback{Wanted: p.Why}
	}
	fb := Fallback{Range: p.Left(pass), Rows: p.Rows, Note: "the plan's setting: " + Put(unit.Length(p.Left(pass).Likely), "µm", 1)}
	if pass <= len(p.Passes) && p.Passes[pass-1].Covers {
		fb.Note += ", for it must cover the layer and half of Rz"
	}
	return fb
}

// tooWide is the ratio of high to low from which a range is no number.
const tooWide = 10

func feedStyle() unit.Style { return unit.Style{Unit: "mm/min", Decimals: 1, Trim: true} }

func (p *Plan) told(k unit.Kind, r unit.Range, st unit.Style, of process.Kind, pass int) Fallback {
	switch {
	case !p.OK:
		return Fallback{Wanted: p.Why}
	case r.Likely == 0:
		return Fallback{Rows: p.Rows, Note: "the law of a pass says nothing here"}
	case r.High > tooWide*r.Low:
		return Fallback{Rows: p.Rows, Wanted: "the range is over ten times wide, which is no number. Cut a test and type what it gave"}
	}
	fb := Fallback{Range: r, Rows: p.Rows}
	fb.Note = "by the law of a pass: " + unit.PrintRange(k, r, st)
	if p.Material != "" {
		fb.Note += ", " + p.Material
	}
	return p.rest(fb, of, pass)
}

// rest adds to a fallback on what it rests: the words, the rows, the marks.
func (p *Plan) rest(fb Fallback, of process.Kind, pass int) Fallback {
	from, rows, measured, taught := p.rests(of, pass)
	fb.Note += ", " + from
	fb.Rows = append(fb.Rows[:len(fb.Rows):len(fb.Rows)], rows...)
	fb.Measured, fb.Taught = measured, taught
	return fb
}

// Basis says on what the roughness of a pass rests.
func (p *Plan) Basis(pass int) string {
	words, _, _, _ := p.rests(process.RaOf, pass)
	return words
}

// rests says on what a quantity rests: no cut, or the edition's cuts and the
// nearest of them. measured is true for just what was read, taught between what was
// read in this material on this machine.
func (p *Plan) rests(of process.Kind, pass int) (words string, rows []book.Row, measured, taught bool) {
	if p.lesson == nil {
		return "general, no cut of yours", nil, false, false
	}
	var near *learnt
	count, best := 0, math.Inf(1)
	for i := range p.lesson.cuts {
		c := &p.lesson.cuts[i]
		if c.cut.Read[of] == 0 || c.cut.Fluid != p.Setup.Fluid {
			continue
		}
		count++
		d := p.far(c.cut, pass)
		if d < best {
			best, near = d, c
		}
	}
	if near == nil {
		return "general, no cut of yours in this fluid", nil, false, false
	}
	words = "by " + strconv.Itoa(count) + " cuts of yours, nearest " + near.row.Cell("cut") + " pass " + near.row.Cell("pass")
	if count == 1 {
		words = "by your cut " + near.row.Cell("cut") + " pass " + near.row.Cell("pass")
	}
	if who := near.row.Measurement(); who != "" {
		words += " (" + who + ")"
	}
	if near.row.Provenance == "invented" {
		words += ", which is invented"
	}
	if best < same {
		return words, []book.Row{near.row}, true, false
	}
	if p.within(of) {
		return words, []book.Row{near.row}, false, near.cut.Machine == p.q.Machine && near.cut.Material == p.q.Material
	}
	return words + "; outside what you cut", []book.Row{near.row}, false, false
}

// same is the distance below which a cut is the one that is asked about: a fiftieth
// of the wire and of the height together.
const same = 0.05

// far is how far a cut is from a pass of this plan: the logarithms of wire and
// height, and a step for each thing that is another. What a step weighs is ours.
func (p *Plan) far(c process.Cut, pass int) float64 {
	d := 2*math.Abs(math.Log(float64(c.Wire/p.Setup.Wire))) + math.Abs(math.Log(float64(c.Height/p.Setup.Height)))
	for _, other := range [...]bool{c.Material != p.q.Material, c.Machine != p.q.Machine} {
		if other {
			d++
		}
	}
	return d + math.Abs(float64(c.Pass-pass))/2
}

// within reports whether wire and height lie in the hull of what was cut in this
// fluid.
func (p *Plan) within(of process.Kind) bool {
	var at [][2]float64
	for _, c := range p.lesson.cuts {
		if c.cut.Read[of] != 0 && c.cut.Fluid == p.Setup.Fluid {
			at = append(at, [2]float64{math.Log(float64(c.cut.Wire)), math.Log(float64(c.cut.Height))})
		}
	}
	return inHull(at, [2]float64{math.Log(float64(p.Setup.Wire)), math.Log(float64(p.Setup.Height))})
}

// inHull reports whether a point lies in the convex hull of points, or within a
// fiftieth of one: no line through it has all of them on one side.
func inHull(points [][2]float64, at [2]float64) bool {
	const near = 0.02
	var turns []float64
	for _, p := range points {
		x, y := p[0]-at[0], p[1]-at[1]
		if math.Hypot(x, y) <= near {
			return true
		}
		turns = append(turns, math.Atan2(y, x))
	}
	// Outside, there is a gap of half a turn between two neighbouring directions.
	for i, a := range turns {
		next := math.Inf(1)
		for j, b := range turns {
			d := math.Mod(b-a+4*math.Pi, 2*math.Pi)
			if i != j && d > 1e-9 && d < next {
				next = d
			}
		}
		if next > math.Pi {
			return false
		}
	}
	return len(points) > 0
}
