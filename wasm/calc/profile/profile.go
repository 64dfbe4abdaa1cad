// Package profile answers from the part's own contour: where a wire reaches,
// what it leaves, which is the largest that leaves little enough. It may import
// book, calc, drawing, figure, geom, offset and unit.
package profile

import (
	"math"
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/drawing"
	"kerfbook/wasm/geom"
	"kerfbook/wasm/offset"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                    [0]func() // never compared, so no code for comparing is made
	book                                 *book.Book
	machine, from, text, unit            string
	side, dielectric, pass, material     string
	wire, gap, reach, allowance          unit.Length
	gapGiven, reachGiven, thickGiven     bool
	thickness                            unit.Length
	passes                               unit.Count
	drawn                                *drawing.Drawing
	fault                                string
	opening                              bool
	region                               []geom.Contour
	cutter                               *offset.Region // while the reaches are tried
	result                               *offset.Result
	within                               float64 // mm, the width up to which necks and walls were wanted
	widest                               bool    // the search for the widest round came to its end
	finds                                offset.Finds
	wires                                []tried
	plan                                 []tried
	done                                 bool
	left, slugArea                       unit.Area
	pieces, parts                        unit.Count
	length, radius, neck, depth, largest unit.Length
	hole                                 unit.Length
	angle                                unit.Angle
	mass                                 unit.Mass
	verdict, wall                        string
	slender, stand                       unit.Ratio
	wallLong, wallThick                  unit.Length
}

// tried is a reach with what it does.
type tried struct {
	name  string
	d     unit.Length
	reach float64
	r     *offset.Result // nil when there is no answer, and why says why
	why   string
	tight int     // inside arcs below the reach
	feed  float64 // mm/min, of a pass
}

// Calculator declares the profile calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "profile", Title: "Read the drawing", Question: "Can this profile be cut, and with which wire?",
		Summary: "The part's own contour decides: where the wire reaches, what stays, the narrowest places, and the largest wire that leaves little enough.",
		Long:    true,
		Tables:  []string{"law", "wires", "materials name density_likely_gcm3", "machines wire_from_mm wire_to_mm"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.from, `sample: Drawing
		mark -
		group Drawing
		option notch: a ratchet's notch of 60°
		option gear: a small internal gear
		option comb: a comb of slots
		option spinneret: a spinneret slot
		option own: my own
		help The four are invented.`)
	calc.AskText(f, &in.text, `drawing: Your drawing, as text
		if sample own
		help Drop a file here or paste it: DXF (ASCII), SVG, path data, or an ISO 6983 contour. It stays on this device.`)
	calc.AskChoice(f, &in.unit, `unit: Its unit
		if sample own
		option own: as it says
		option mm: mm
		option in: in`)
	calc.AskChoice(f, &in.side, `side: What is cut
		option guess: guess from the drawing
		option opening: an opening: the wire is inside
		option punch: a punch: the wire is outside`)
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskWire(f, in.book, &in.wire).Group = "Wire"
	calc.AskDielectric(f, &in.dielectric)
	calc.AskChoice(f, &in.pass, "pass: Last pass\nis fine"+calc.LastPass)
	length := `
		keys small
		min 0 µm: a length is not negative
		max 5 mm: no wire reaches this far`
	calc.AskGiven(f, &in.gap, &in.gapGiven, "gap: Spark gap of the last pass, each side\nhelp Leave it empty to take the law's likely value.\nusual 1 µm to 70 µm"+length).Fallback = func() calc.Fallback {
		fb := calc.GapOf(in.book, in.cut(in.wire), in.pass)
		fb.Range, fb.Together = unit.Exactly(fb.Range.Likely), ""
		return fb
	}
	calc.AskGiven(f, &in.reach, &in.reachGiven, "reach: Wire radius and gap together\nadvanced\nhelp Instead of wire and gap.\nusual 10 µm to 250 µm\nkeys small\nabove 0 µm: a tool without radius leaves nothing and goes nowhere\nmax 5 mm: no wire reaches this far")
	calc.Ask(f, &in.allowance, "allowance: May stay anywhere\nmark may stay\nis 5 µm\nhelp The depth of metal that the part can bear in a corner.\nusual 0.5 µm to 100 µm"+length)
	calc.Ask(f, &in.passes, "passes: Passes, roughing included\nadvanced\nis 3\nusual 1 to 6\nmin 1: there is at least the roughing pass\nmax 6: more passes than this gain nothing that this plan can show")
	calc.AskThickness(f, &in.thickness).Group = "Part"
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material")
	in.askStand(f)
}

func (in *form) answers(f *calc.Form) {
	path := func() bool { return in.result != nil && len(in.result.Path) > 0 }
	calc.TellChoice(f, &in.verdict, "verdict: Does the wire reach everywhere, within what may stay\nword yes: Yes\nword no: No\nword nowhere: No, it does not enter at all")
	calc.Tell(f, &in.left, "leftover-area: Area left uncut\nmain\ndigits 6")
	calc.Tell(f, &in.pieces, "leftover-pieces: Places where something stays")
	calc.Tell(f, &in.depth, "deepest: Deepest of them").Applies = path
	calc.Tell(f, &in.length, "path-length: Length of the wire's path\ndigits 4").Applies = path
	calc.Tell(f, &in.parts, "path-parts: Parts of the path")
	calc.Tell(f, &in.radius, "smallest-inside-radius: Smallest inside radius").Applies = func() bool { return in.radius > 0 }
	calc.Tell(f, &in.angle, "smallest-included-angle: Smallest included angle\nunit ° 4").Applies = func() bool { return in.angle > 0 }
	calc.Tell(f, &in.neck, "narrowest-slot: Narrowest slot or neck").Applies = func() bool { return in.neck > 0 }
	calc.Tell(f, &in.largest, "largest-wire: Largest wire of the list that leaves no more\nmain").Applies = func() bool { return in.largest > 0 }
	in.tellWall(f)
	calc.Tell(f, &in.hole, "start-hole: Largest round at the widest place").Applies = func() bool { return in.hole > 0 }
	calc.Tell(f, &in.slugArea, "slug-area: Area of the openings\ndigits 3").Applies = func() bool { return in.slugArea > 0 }
	calc.Tell(f, &in.mass, "slug-mass: Mass of the slugs").Applies = func() bool { return in.slugArea > 0 }
}

func (in *form) point(p *calc.Point) {
	if !in.done {
		in.trace()
		in.done = true
	}
	if in.fault != "" {
		p.Impossible(in.fault)
		return
	}
	in.judgeWall()
	if p.Stepping() {
		p.Work(`leftover-area | area left uncut | contour less what the disc of the reach sweeps | {1} pieces, reach {2} | geometry
			path-length | length of the path | contour moved by the reach, cut where it meets itself | {path-parts} parts | geometry
			slenderness | most slender wall that runs straight | l / t | {3} / {4} | geometry`, strconv.Itoa(in.count()), calc.Put(unit.Length(in.toolReach()), "mm", 5), calc.Put(in.wallLong, "mm", 4), calc.Put(in.wallThick, "mm", 4))
	}
}

func (in *form) count() int {
	n := 0
	for _, c := range in.region {
		n += len(c)
	}
	return n
}

// trace reads the drawing and cuts it; it depends on nothing that ranges.
func (in *form) trace() {
	text, o := in.text, drawing.Options{}
	opening := false
	if in.from != "own" {
		text, opening = sample(in.from)
		o.Unit = "mm"
	} else {
		if text == "" {
			in.fault = "no drawing was given: drop a file, paste its text, or choose one of the four"
			return
		}
		if in.unit != "own" {
			o.Unit = in.unit
		}
	}
	d, err := drawing.Read(text, o)
	if err != nil {
		in.fault = "the drawing: " + err.Error()
		return
	}
	in.drawn = d
	if len(d.Contours) == 0 {
		in.fault = "the drawing holds no closed contour"
		if len(d.Open) > 0 {
			in.fault += "; " + d.Open[0].Text + ", at " + where(d.Open[0].At)
		}
		return
	}
	switch in.side {
	case "opening":
		opening = true
	case "punch":
		opening = false
	default:
		if in.from == "own" {
			opening = len(d.Contours) == 1 // one contour alone is most often an opening; a part has its outline
		}
	}
	in.opening = opening
	in.region, _, err = offset.Nested(d.Contours, opening)
	d.Pieces, d.Contours = nil, nil // the region has them
	if err == nil {
		in.cutter = offset.New(in.region)
		in.result, err = in.cutter.Of(in.toolReach(), offset.Everything)
	}
	if err != nil {
		in.fault = "the contour cannot be followed: " + err.Error()
		return
	}
	in.compare()
	in.passPlan()
	in.cutter = nil // its room is free for what follows
	in.take()
}

func (in *form) toolReach() float64 {
	if in.reachGiven {
		return float64(in.reach)
	}
	return float64(in.wire/2 + in.gap)
}

// take copies what was found into the answers.
func (in *form) take() {
	r := in.result
	in.left, in.length, in.parts = unit.Area(r.Leftover), unit.Length(r.Length), unit.Count(len(r.Path))
	in.pieces, in.depth = unit.Count(counted(r)), unit.Length(deepest(r))
	in.within = 4*in.toolReach() + 1
	in.finds = offset.Find(in.region, in.within, in.toolReach(), min(1e-4, float64(in.allowance)))
	in.mostSlender()
	if len(in.finds.Radii) > 0 {
		in.radius = unit.Length(in.finds.Radii[0].Value)
	}
	if len(in.finds.Angles) > 0 {
		in.angle = unit.Angle(in.finds.Angles[0].Value)
	}
	if len(in.finds.Necks) > 0 {
		in.neck = unit.Length(in.finds.Necks[0].Value)
	}
	for _, c := range in.region {
		if a := c.Area(); a > 0 {
			in.slugArea += unit.Area(a)
		} else if in.opening {
			in.slugArea += unit.Area(a)
		}
	}
	if in.opening || in.slugArea > 0 {
		in.finds.Wide, in.widest = offset.Widest(in.region, 12)
		if len(in.finds.Wide) > 0 {
			in.hole = unit.Length(2 * in.finds.Wide[0].Value)
		}
	}
	row, _ := in.book.Find("materials", in.material)
	in.mass = unit.Mass(row.Num("density_likely_gcm3") * float64(in.slugArea) * float64(in.thickness) / 1000)
	switch {
	case len(r.Path) == 0:
		in.verdict = "nowhere"
	case in.depth > in.allowance || whole(r):
		in.verdict = "no"
	default:
		in.verdict = "yes"
	}
}

// deepest is the depth of the deepest place that the tool comes near to.
func deepest(r *offset.Result) float64 {
	d := 0.0
	for _, k := range r.Pockets {
		d = max(d, k.Depth)
	}
	return d
}

// tooFlat is the depth in mm below which a place is not counted: arcs found in
// chords meet no better, and no wire cuts so true.
const tooFlat = 5e-5

// counted is the number of places that are worth the name.
func counted(r *offset.Result) int {
	n := 0
	for _, k := range r.Pockets {
		if k.Whole || k.Depth >= tooFlat {
			n++
		}
	}
	return n
}

// whole reports whether the tool stays out of some part altogether.
func whole(r *offset.Result) bool {
	for _, k := range r.Pockets {
		if k.Whole {
			return true
		}
	}
	return false
}

// cut asks for the shop's measured cut with a wire.
func (in *form) cut(d unit.Length) book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Thickness: in.thickness, Wire: d}
}

// compare tries the wires of the table, those of the chosen machine.
func (in *form) compare() {
	card, chosen := in.book.Find("machines", in.machine)
	for _, d := range in.book.Wires() {
		if chosen && (float64(d) < card.Num("wire_from_mm")-1e-9 || float64(d) > card.Num("wire_to_mm")+1e-9) {
			continue
		}
		gap := calc.GapRange(in.book, in.cut(d), in.pass)
		g := gap.Likely
		if in.gapGiven {
			g = float64(in.gap)
		}
		t := tried{name: calc.Put(d, "mm", 3), d: d, reach: float64(d)/2 + g}
		t.try(in.cutter, offset.Leaves)
		t.lighten()
		in.wires = append(in.wires, t)
		if r := t.r; r != nil && len(r.Path) > 0 && !whole(r) && deepest(r) <= float64(in.allowance) {
			in.largest = d
		}
	}
}

// passPlan finds the path of each pass, with gaps, stock and feeds by the law.
func (in *form) passPlan() {
	n := int(in.passes)
	law := calc.LawOf(in.book).Plan(in.cut(in.wire), n)
	for i := range law.Passes {
		pass := law.Passes[i]
		t := tried{name: strconv.Itoa(i + 1), reach: float64(pass.Offset), feed: float64(pass.Feed)}
		for _, c := range in.region {
			for _, p := range c {
				if p.Sweep > 0 && p.R < t.reach {
					t.tight++
				}
			}
		}
		if t.reach == in.result.Reach {
			t.r = in.result
		} else {
			t.try(in.cutter, offset.Paths)
		}
		in.plan = append(in.plan, t)
	}
}

// lighten lets go of what is not told of a wire that is only compared: a drawing
// of many pieces has a dozen of them.
func (t *tried) lighten() {
	if t.r == nil {
		return
	}
	clear(t.r.Path) // how many there are is told
	for i := range t.r.Pockets {
		t.r.Pockets[i].Arcs = nil
	}
}

// try cuts the region at the reach.
func (t *tried) try(region *offset.Region, want offset.Want) {
	r, err := region.Of(t.reach, want)
	if err != nil {
		t.why = err.Error()
		return
	}
	t.r = r
}

func where(p geom.Point) string {
	return "(" + unit.Number(p.X, unit.Style{Decimals: 4, Trim: true}) + ", " + unit.Number(p.Y, unit.Style{Decimals: 4, Trim: true}) + ")"
}

func seconds(length, feed float64) unit.Time {
	if feed <= 0 {
		return 0
	}
	return unit.Time(length / feed * 60)
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
