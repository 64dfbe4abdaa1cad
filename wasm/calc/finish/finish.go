package finish

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

type form struct {
	_           [0]func() // never compared, so no code for comparing is made
	book        *book.Book
	ra          unit.Roughness
	length      unit.Length
	lengthGiven bool

	machine, material, dielectric string
	wire, thickness               unit.Length
	plan                          *calc.Plan

	out                          unit.Roughness
	rz, rt, rq                   unit.Roughness // given by say, with their range
	nesting, tip                 unit.Length
	class                        unit.Ratio
	cutoff, evaluation, traverse unit.Length
	grade, possible, passes      string
	band                         book.Row
}

// Calculator declares the finish calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "finish", Title: "Finish", Question: "What does this finish mean, and can it be measured here?",
		Summary: "A roughness in both scales, its N grade and VDI class, the cut-off and length a reading needs, and the passes such a face usually takes.",
		Tables:  []string{"ratios ratio_*_n0", "cutoffs cutoff_mm evaluation_mm nesting_um tip_um", "law", "machines", "materials name"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			calc.Ask(f, &in.ra, `ra: Roughness on the print
		mark Ra
		group Finish
		is 0.4 µm
		help Ra in µm or µin, a grade such as N5, or a class such as VDI 24.
		keys µm µin; µin
		usual 0.05 µm to 12 µm
		min 0.006 µm: the standard's smallest band starts here
		max 80 µm: the standard's largest band ends here
		ranges`)
			calc.AskGiven(f, &in.length, &in.lengthGiven, `length: Straight length on the part for the stylus
		help Leave it empty to see what would be needed.
		keys mm thou; thou
		usual 0.5 mm to 60 mm
		above 0 mm: a stylus needs some length
		max 1000 mm: no instrument runs this far`)
			calc.AskMachine(f, b, &in.machine)
			calc.AskWire(f, b, &in.wire)
			calc.AskDielectric(f, &in.dielectric)
			calc.AskRows(f, b, "materials", &in.material, "material: Material")
			calc.AskThickness(f, &in.thickness)
			calc.Tell(f, &in.out, `ra: Ra
		rises ra
		main`)
			calc.TellChoice(f, &in.grade, "n-grade: N grade (an upper limit)")
			calc.Tell(f, &in.class, `vdi: VDI 3400 class
		rises ra
		digits 1`)
			calc.Tell(f, &in.rz, `rz: Rz, likely
		help No standard turns Ra into Rz.
		given
		rises ra`)
			calc.Tell(f, &in.rt, `rt: Rt, likely
		given
		rises ra`)
			calc.Tell(f, &in.rq, `rq: Rq, likely
		given
		rises ra`)
			calc.Tell(f, &in.cutoff, `cutoff: Cut-off
		rises ra`)
			calc.Tell(f, &in.evaluation, `evaluation: Evaluation length
		rises ra`)
			calc.Tell(f, &in.traverse, `traverse: Stylus travel with run-up
		rises ra`)
			calc.Tell(f, &in.nesting, `nesting: Shorter waves are filtered out below
		unit µm 1
		rises ra`)
			calc.Tell(f, &in.tip, `tip: Radius of the stylus tip
		unit µm 0
		rises ra`)
			calc.TellChoice(f, &in.possible, `possible: The reading is possible on this length
		word yes: yes
		word no: no
		word not-asked: no length was given`)
			calc.TellChoice(f, &in.passes, "passes: Passes such a face usually takes")
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) point(p *calc.Point) {
	in.out = unit.Nominal(in.ra) // 32 µin on a print is 0.8 µm
	in.class = Class(in.out)
	in.grade = "N" + strconv.Itoa(Grade(in.out))
	if Grade(in.out) > 12 {
		in.grade = "none"
	}
	in.band = in.book.Band(in.out)
	in.cutoff, in.evaluation = unit.Length(in.band.Num("cutoff_mm")), unit.Length(in.band.Num("evaluation_mm"))
	in.nesting, in.tip = unit.Length(in.band.Num("nesting_um")/1000), unit.Length(in.band.Num("tip_um")/1000)
	in.traverse = laws.Traverse(in.evaluation, in.cutoff)
	in.possible = "not-asked"
	if in.lengthGiven {
		in.possible = "no"
		if in.length >= in.traverse-1e-9 {
			in.possible = "yes"
		}
	}
	in.count()
	if p.Stepping() {
		in.steps(p)
	}
}

// count takes the passes from the law: the first plan whose last pass is likely to
// be as fine, or one whose fine end is.
func (in *form) count() {
	if in.plan == nil {
		q := book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: in.wire}
		in.plan = calc.LawOf(in.book).Plan(q, calc.MostPasses)
	}
	in.passes = none
	if n := in.plan.Reaches(in.out); n > 0 {
		in.passes = strconv.Itoa(n)
		return
	}
	for n := 1; n <= len(in.plan.Passes); n++ {
		if float64(in.out) >= in.plan.Ra(n).Low {
			in.passes = strconv.Itoa(n) + atBest
			return
		}
	}
}

// none is for a face that no number of passes makes; atBest for one that they reach
// at the fine end of their range only.
const none, atBest = "none: no number of passes makes it so fine", ", at the fine end of their range only"

func (in *form) steps(p *calc.Point) {
	p.Work(`vdi | VDI 3400 class | 20 log10(10 Ra) | 20 log10(10 × {1}) | vdi-3400
		n-grade = {2} | N grade | smallest grade whose limit is not below Ra; microinches printed beside a grade are that grade | {1} | iso-1302
		cutoff = {cutoff:mm 2}, {evaluation:mm 2} | cut-off and evaluation length | band of the standard for Ra | above {3} and up to {4} µm | iso-4288
		traverse = {traverse:mm 2} | stylus travel | evaluation length + cut-off | {evaluation:mm 2} + {cutoff:mm 2} | definition`,
		calc.Put(in.out, "µm", 4), in.grade, in.band.Cell("ra_above_um"), in.band.Cell("ra_upto_um"))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	s := r.System
	ra := calc.SayRange(unit.RoughnessKind, r.Of("ra"), s)
	other := unit.Inch
	if s == unit.Inch {
		other = unit.Metric
	}
	a.Headline = "Ra " + ra + " = " + calc.SayRange(unit.RoughnessKind, r.Of("ra"), other)
	grade := r.Pick("n-grade")
	a.Lead = "Grade " + words(grade) + ", VDI " + unit.Fixed(r.Of("vdi").Likely, 1) + ". A reading needs a cut-off of " + calc.Say(in.cutoff, s) + " and " + calc.Say(in.evaluation, s) + " of straight face."
	if in.lengthGiven {
		switch p := r.Pick("possible"); {
		case len(p.All) == 1 && p.Likely.Value == "yes":
			a.Verdict, a.Headline = calc.Yes, "Yes, it can be measured: "+a.Headline
		case len(p.All) == 1:
			a.Verdict, a.Headline = calc.No, "No, "+calc.Say(in.length, s)+" is too short: "+a.Headline
			a.Note("Ask for a shorter cut-off and have it written on the print, compare with a roughness specimen, or measure a replica or a test piece cut beside the part.")
		default:
			a.Verdict, a.Headline = calc.OnlyIf, "Only if the face is fine enough: "+a.Headline
		}
	}
	a.Note("A grade is an upper limit: a face of Ra 7.5 µm is N10 and not N9. N numbers belong to an older edition of the standard and still stand on prints.")
	if r.Of("vdi").Low < 12 {
		a.Note("Below class 12 the VDI scale is carried on by its formula; the comparison specimens end there.")
	}
	for _, name := range []string{"Rz", "Rt", "Rq"} {
		row, _ := in.book.Find("ratios", name)
		a.Used(row)
		k := row.Range("ratio", "n0", 1)
		r.Give(a, "r"+name[1:], calc.Times(r.Of("ra"), k))
	}
	a.Note("Rz, Rt and Rq are ranges of spark-eroded faces. No standard turns one into the other, so never convert a limit.")
	if in.out != in.ra {
		a.Headline = "Ra " + unit.Fixed(float64(in.ra)/0.0254, 0) + " µin, the nominal value of " + in.grade + ": Ra " + ra
		a.Note("The table of N grades prints rounded microinches beside its values. A print that stands at one of them means the grade, so " + unit.Fixed(float64(in.ra)/0.0254, 0) + " µin is taken as " + ra + ".")
	}
	a.Note("The limit on the print chooses the band under ISO 21920-3:2021, and every reading must hold it. Under ISO 4288:1996 the value that is measured chooses it: type that value then. There up to 16 % of the readings may exceed an upper limit, unless the print says max.")
	in.passed(r, a)
	a.Used(in.band)
	a.Cite("iso-1302", "table of N numbers, place not seen", "N grades")
	a.Cite("vdi-3400", "from memory", "classes")
	a.Cite("iso-4288", "bands of Ra, place not seen", "cut-off and evaluation length")
	a.Cite("iso-3274", "from memory, place not seen", "filter of short waves and stylus tip")
	a.Cite("iso-21920-3", "bands of Ra, place not seen", "the same bands in the newer standard")
	a.Figure = in.draw(s)
}

// passed says how many passes the face takes, and on what that rests.
func (in *form) passed(r *calc.Result, a *calc.Answer) {
	if !in.plan.OK {
		a.Note("How many passes it takes is not told: " + in.plan.Why + ".")
		return
	}
	n := in.plan.Reaches(in.out)
	text := "Passes: " + words(r.Pick("passes")) + ", with this wire, material, thickness and dielectric"
	if n > 0 {
		text += ". The last is likely to leave Ra " + calc.SayRange(unit.RoughnessKind, in.plan.Ra(n), r.System)
	}
	last := n
	if n == 0 {
		last = calc.MostPasses
	}
	fb := in.plan.ToldRa(last)
	a.Note(text + ", by the law of a pass, " + in.plan.Basis(last) + ".")
	a.Note("The floor here, which no number of passes passes below: Ra " + calc.SayRange(unit.RoughnessKind, in.plan.Floor(), r.System) + ".")
	a.General = !fb.Measured && !fb.Taught
	a.Used(fb.Rows...)
}

func words(p calc.Pick) string {
	out := ""
	for i, o := range p.All {
		if i > 0 {
			out += " or "
		}
		out += o.Label
	}
	return out
}

// draw shows the grades as steps with the roughness as a line through them.
func (in *form) draw(s unit.System) *figure.Drawing {
	d := figure.New("The N grades and this roughness, on a scale that doubles at each step",
		"Twelve grades in a row, each twice as rough as the one before. Ra "+calc.Say(in.ra, s)+" stands in "+in.grade+".", 360, 150, false)
	const x0, x1, y = 16.0, 344.0, 92.0
	// Class 0 is Ra 0.1 µm; the scale runs from N1 (-12) to N12 (54).
	at := func(k float64) float64 { return x0 + (k+13)/(54+13)*(x1-x0) }
	d.Line(figure.Thin, x0, y, x1, y)
	for n := 1; n <= 12; n++ {
		limit, _ := unit.GradeLimit(n)
		x := at(float64(Class(limit)))
		d.Line(figure.Thin, x, y-8, x, y+8)
		if n%2 == 1 && n < 11 || n == 12 {
			d.Label(x, y+26, "N"+strconv.Itoa(n), 0)
		}
	}
	x := at(float64(in.class))
	d.Line(figure.Accent, x, y-34, x, y+12)
	anchor := 0
	if x < 90 {
		anchor = -1
	} else if x > 270 {
		anchor = 1
	}
	d.Label(x, y-42, "Ra "+calc.Say(in.ra, s), anchor)
	d.Label(180, y+50, "Ra 0.025 µm to 50 µm", 0)
	return d
}
