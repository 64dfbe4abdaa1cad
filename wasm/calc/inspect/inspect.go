package inspect

import (
	"math"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/laws"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                     [0]func() // never compared, so no code for comparing is made
	book                                  *book.Book
	what, method, verdict                 string
	width, radius, depth, tolerance       unit.Length
	theta                                 unit.Angle
	ball, approach, reach, step, err, rim unit.Length
	errGiven                              bool
	ra                                    unit.Roughness
	length, arm                           unit.Length
	room, stand, blind, contact           unit.Length
	worst, sum, zone, expanded            unit.Length
	share                                 unit.Percent
	cutoff, evaluation, traverse          unit.Length
	count                                 unit.Count
	band                                  book.Row
}

// Calculator declares the inspection calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "inspect", Title: "Can it be measured?", Question: "Does ball, pin, lens or stylus reach it, and how much of the tolerance does the reading spend?",
		Summary: "Ball or pin against corner and slot, edges under a lens, stylus and cut-off against the face, and the gauge's share of the tolerance.",
		Tables:  []string{"readings name error_*_um", "cutoffs cutoff_mm evaluation_mm"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

// is makes a condition: what is asked for is one of these, read in one of those ways.
func (in *form) is(what, method string) func() bool {
	return func() bool {
		return strings.Contains(what, in.what) && (method == "" || strings.Contains(method, in.method))
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskChoice(f, &in.what, "what: What is read\ngroup Feature\noption slot: the width of a slot\noption corner: the radius of an inside corner\noption finish: the roughness of a face")
	calc.AskChoice(f, &in.method, "method: Read with\nunless what finish\noption ball: a ball on a stylus\noption pin: pins\noption optical: a lens or camera")
	calc.Ask(f, &in.width, `width: Width of the slot or opening
		mark slot
		unless what corner
		is 0.4 mm
		keys length
		usual 0.1 mm to 20 mm
		above 0 mm: a slot has a width
		max 1000 mm: anything goes in
		ranges`)
	calc.Ask(f, &in.radius, `radius: Inside radius
		mark R
		if what corner
		is 0.2 mm
		keys length
		usual 0.05 mm to 5 mm
		above 0 mm: the wire leaves some radius
		max 1000 mm: a radius this large is no corner
		ranges`)
	calc.Ask(f, &in.theta, `angle: Angle of the corner
		if what corner
		is 90°
		keys °
		usual 30° to 150°
		min 20°: below this the corner is a slit
		max 160°: above this the arc is too short to have a radius`)
	calc.Ask(f, &in.depth, `depth: Depth at which it is read
		unless what finish
		is 5 mm
		keys mm in; in
		usual 0 mm to 50 mm
		min 0 mm: 0 is the rim
		max 1000 mm: no machine cuts this tall`)
	calc.Ask(f, &in.tolerance, `tolerance: Tolerance, each way
		mark ±
		unless what finish
		is 0.01 mm
		help Half of the whole band on the print.
		keys length
		usual 0.002 mm to 0.1 mm
		above 0 mm: without a tolerance no reading is good enough
		max 10 mm: use a rule`)
	calc.Ask(f, &in.ball, `ball: Diameter of ball or pin
		group Gauge
		is 0.3 mm
		keys length
		usual 0.1 mm to 6 mm
		above 0 mm: a ball has a size
		max 500 mm: no ball is this large`).ShowIf = in.is("slot corner", "ball pin")
	calc.Ask(f, &in.approach, `approach: Room that the ball needs, each side
		is 0.03 mm
		help Retreat and travel of the probe, from its manual.
		keys length
		usual 0.01 mm to 1 mm
		min 0 mm: taken without its sign
		max 100 mm: no probe needs this`).ShowIf = in.is("slot", "ball")
	calc.Ask(f, &in.reach, `reach: Free length of the stylus
		help As far as the shank is thinner than the ball.
		is 6 mm
		keys mm in; in
		usual 2 mm to 60 mm
		above 0 mm: a stylus has a length
		max 500 mm: no stylus is this long`).ShowIf = in.is("slot corner", "ball")
	calc.Ask(f, &in.step, `step: Step from pin to pin
		is 5 µm
		keys small
		usual 1 µm to 50 µm
		above 0 mm: pins differ
		max 1 mm: the set is too coarse`).ShowIf = in.is("slot corner", "pin")
	e := calc.AskGiven(f, &in.err, &in.errGiven, `error: One reading is off by, each way
		help One touch, one edge, the pin's own size; for a pin in a corner the narrowest gap seen against light. Leave it empty for the table.
		keys small
		usual 0.2 µm to 10 µm
		min 0 µm: taken without its sign
		max 1 mm: this gauge is broken
		ranges`)
	e.ShowIf, e.Fallback = in.is("slot corner", ""), in.table
	calc.Ask(f, &in.rim, `rim: Rim is rounded or burred by, each edge
		is 0 to 2 µm
		help A lens sees the rim and not the wall.
		keys small
		usual 0 µm to 10 µm
		min 0 µm: taken without its sign
		max 1 mm: dress it first
		ranges`).ShowIf = in.is("slot corner", "optical")
	calc.Ask(f, &in.ra, `ra: Roughness Ra
		mark Ra
		if what finish
		is 0.4 µm
		help The limit on the print chooses the cut-off under ISO 21920-3; under ISO 4288 the value that is measured does.
		keys µm µin; µin
		usual 0.05 µm to 12 µm
		min 0.006 µm: the standard's smallest band starts here
		max 80 µm: the standard's largest band ends here
		ranges`)
	calc.Ask(f, &in.length, `length: Straight length free for the stylus
		if what finish
		is 5 mm
		help Without rims, corners and start mark.
		keys mm in; in
		usual 0.5 mm to 60 mm
		above 0 mm: a stylus needs some length
		max 1000 mm: no instrument runs this far`)
	calc.Ask(f, &in.arm, `arm: Room that the stylus and its arm need
		if what finish
		is 0 mm
		help Across the opening; from the instrument's manual. 0 for a face that lies open.
		keys mm in; in
		usual 0 mm to 20 mm
		min 0 mm: 0 is an open face
		max 200 mm: no arm is this wide`)
}

func (in *form) table() calc.Fallback {
	if in.what == "finish" {
		return calc.Fallback{}
	}
	key := in.method
	if key == "pin" && in.what == "corner" {
		key = "light"
	}
	r, ok := in.book.Find("readings", key)
	if !ok {
		return calc.Fallback{}
	}
	v := r.Range("error", "um", 1e-3)
	return calc.Fallback{Range: v, Rows: []book.Row{r}, Note: calc.FromTable(unit.LengthKind, v, "µm")}
}

func (in *form) answers(f *calc.Form) {
	small := "\nunit µm 2\ninch thou 3"
	size := in.is("slot corner", "")
	calc.TellChoice(f, &in.verdict, `verdict: Can it be measured
		word yes: yes
		word fair: yes, but it spends tolerance
		word share: no, the reading spends too much of the tolerance
		word enter: no, it does not go in
		word large: no, the ball is too large for the fillet
		word reach: no, the stylus is too short
		word short: no, the face is too short`)
	calc.Tell(f, &in.room, "room: Room left beside it\nrises width").Applies = func() bool { return in.is("slot", "ball pin")() || in.what == "finish" && in.arm > 0 }
	calc.Tell(f, &in.stand, "stand: Stands off the floor of the fillet by"+small+"\nfalls radius").Applies = in.is("corner", "ball pin")
	calc.Tell(f, &in.blind, "blind: Not touched of each wall, from the sharp corner\nrises radius").Applies = in.is("corner", "")
	calc.Tell(f, &in.contact, "contact: Ball's centre travels while it reads the fillet"+small+"\nrises radius").Applies = in.is("corner", "ball")
	calc.Tell(f, &in.worst, "worst: Reading is off, at worst\nmain"+small+"\nrises error rim").Applies = size
	calc.Tell(f, &in.sum, "root-sum: Reading is off, by root-sum\nmain"+small+"\nrises error rim").Applies = size
	calc.Tell(f, &in.expanded, "expanded: Expanded uncertainty, k = 2"+small+"\nrises error rim").Applies = size
	calc.Tell(f, &in.share, "share: Gauge's share of the tolerance, by root-sum\nmain\nunit % 1\nrises error rim").Applies = size
	calc.Tell(f, &in.zone, "zone: Tolerance left for the part, each way"+small+"\nfalls error rim").Applies = size
	calc.Tell(f, &in.cutoff, "cutoff: Cut-off\nmain\nrises ra").Applies = in.is("finish", "")
	calc.Tell(f, &in.evaluation, "evaluation: Evaluation length\nrises ra").Applies = in.is("finish", "")
	calc.Tell(f, &in.traverse, "traverse: Stylus travel with run-up\nmain\nrises ra").Applies = in.is("finish", "")
	calc.Tell(f, &in.count, "count: Cut-offs that fit\nfalls ra").Applies = in.is("finish", "")
}

func (in *form) point(p *calc.Point) {
	if in.what == "finish" {
		in.face()
	} else {
		in.size()
	}
	if p.Stepping() {
		in.steps(p)
	}
}

// face holds the stylus against the free length.
func (in *form) face() {
	in.band = in.book.Band(unit.Nominal(in.ra)) // 32 µin on a print is 0.8 µm
	in.cutoff, in.evaluation = unit.Length(in.band.Num("cutoff_mm")), unit.Length(in.band.Num("evaluation_mm"))
	in.traverse = laws.Traverse(in.evaluation, in.cutoff)
	in.count = unit.Count(Count(in.length, in.cutoff))
	in.room = in.width - in.arm
	in.verdict = "yes"
	if in.arm > 0 && in.room < -1e-9 {
		in.verdict = "enter"
	} else if in.length < in.traverse-1e-9 {
		in.verdict = "short"
	}
}

// size holds ball, pin or lens against slot or corner.
func (in *form) size() {
	r := in.ball / 2
	in.blind = Blind(in.widest(), in.theta)
	in.stand, in.contact = Stand(r, in.radius, in.theta), Contact(r, in.radius, in.theta)
	in.room = in.width - in.ball
	if in.method == "ball" {
		in.room -= 2 * in.approach
	}
	in.worst, in.sum = in.off()
	in.share = unit.Percent(in.sum / in.tolerance * 100)
	in.expanded = calc.Expanded(in.sum)
	in.zone = max(0, in.tolerance-in.expanded)
	in.verdict = "yes"
	switch {
	case in.what == "slot" && in.method != "optical" && in.room < -1e-9:
		in.verdict = "enter"
	case in.method == "ball" && in.depth > in.reach+1e-9:
		in.verdict = "reach"
	case in.what == "corner" && in.method == "ball" && in.contact <= 0:
		in.verdict = "large"
	case in.share > 30+1e-9:
		in.verdict = "share"
	case in.share > 10+1e-9:
		in.verdict = "fair"
	}
}

// widest is the larger radius of fillet and gauge.
func (in *form) widest() unit.Length {
	if in.method == "optical" {
		return in.radius
	}
	return max(in.radius, in.ball/2)
}

// off is how far the reading is off, at worst and by root-sum.
func (in *form) off() (worst, sum unit.Length) {
	hyp := func(a, b unit.Length) unit.Length { return unit.Length(math.Hypot(float64(a), float64(b))) }
	rim := in.rim
	if in.method != "optical" {
		rim = 0
	}
	switch {
	case in.what == "corner" && in.method == "pin":
		e := Light(in.err, in.theta)
		return e + in.step/4, hyp(e, in.step/4)
	case in.what == "corner": // a rim all round adds itself to the radius
		worst, sum = Radius(in.err, in.theta)
		return worst + rim, hyp(sum, rim)
	case in.method == "pin":
		return in.err + in.step/2, hyp(in.err, in.step/2)
	}
	// Two touches or edges, each with its own error; both rims are alike.
	return 2 * (in.err + rim), hyp(in.err*math.Sqrt2, 2*rim)
}

// steps writes the working down.
func (in *form) steps(p *calc.Point) {
	worst, sum := "2 u", "√2 u"
	switch {
	case in.what == "corner" && in.method == "pin":
		worst, sum = "u s / (1 - s) + step / 4, s = sin(θ/2)", "√((u s / (1 - s))² + (step / 4)²)"
	case in.what == "corner":
		worst, sum = "u (1 + s) / (1 - s), s = sin(θ/2)", "u √(1/2 + s²) / (1 - s)"
	case in.method == "pin":
		worst, sum = "u + step / 2", "√(u² + (step / 2)²)"
	}
	put := "u {error:µm 2}"
	switch in.method {
	case "pin":
		put += ", step {step:µm 2}"
	case "optical":
		put += ", rim {rim:µm 2}"
		if in.what == "slot" {
			worst, sum = "2 (u + rim)", "√(2 u² + (2 rim)²)"
		} else {
			worst, sum = worst+"; + rim", "√((u √(1/2 + s²) / (1 - s))² + rim²)"
		}
	}
	if in.what == "corner" {
		put += ", θ {angle}"
	}
	room, take := "w - d", "{width} - {ball}"
	if in.what == "finish" {
		room, take = "w - arm", "{width} - {arm}"
	} else if in.method == "ball" {
		room, take = "w - d - 2 room of the probe", "{width} - {ball} - 2 × {approach}"
	}
	p.Work(`room | room left | `+room+` | `+take+` | geometry
		stand | stands off the floor of the fillet | (r - R) (1 / sin(θ/2) - 1), 0 at least | ({ball} / 2 - {radius}) × (1 / sin({angle} / 2) - 1) | geometry
		blind | not touched of each wall | the larger of r and R / tan(θ/2) | {1} / tan({angle} / 2) | geometry
		contact | centre travels | (R - r) (π - θ), 0 at least | ({radius} - {ball} / 2) × (180° - {angle}) | geometry
		worst | off at worst | `+worst+` | `+put+` | geometry
		root-sum | off by root-sum | `+sum+` | `+put+` | definition
		expanded | expanded uncertainty, k = 2 | 2 / √3 × root-sum: each limit a is u = a / √3 | 2 / √3 × {root-sum} | jcgm-100
		share | share of the tolerance | root-sum / tolerance | {root-sum} / {tolerance:µm 2} | definition
		zone | left for the part | tolerance - U, 0 at least | {tolerance:µm 2} - {expanded} | iso-14253-1
		cutoff | cut-off | band of the standard for Ra | {ra:µm 3} | iso-4288
		traverse | stylus travel | evaluation length + cut-off | {evaluation} + {cutoff} | definition
		count | cut-offs that fit | length / cut-off - 1, whole | {length} / {cutoff} - 1 | definition`,
		calc.Put(in.widest(), "mm", 4))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	v := r.Pick("verdict")
	a.General = !in.errGiven && in.what != "finish"
	words := map[string]string{
		"yes": "Yes, it can be measured", "fair": "Yes, but the reading spends {share} of the tolerance",
		"share": "No: the reading spends {share} of the tolerance", "enter": "No, it does not go in: {room} of room",
		"large": "No: a ball of {ball} does not touch this fillet", "reach": "No, the stylus reaches {reach}, {depth} is wanted",
		"short": "No: the stylus travels {traverse}, {length} is free"}
	a.Headline = r.Text(words[v.Likely.Value])
	switch {
	case len(v.All) > 1 && (r.Could("verdict", "yes") || r.Could("verdict", "fair")):
		a.Verdict, a.Headline = calc.OnlyIf, "Only if the values stay at the good end"
		if in.what != "finish" {
			a.Headline += r.Text(": the reading spends {share} of the tolerance")
		}
		if len(v.All) == 2 && r.Could("verdict", "yes") && r.Could("verdict", "fair") {
			a.Verdict, a.Headline = calc.Yes, r.Text(words["fair"])
		}
	case v.Likely.Value == "yes" || v.Likely.Value == "fair":
		a.Verdict = calc.Yes
	default:
		a.Verdict = calc.No
	}
	if in.what == "finish" {
		in.sayFace(r, a)
	} else {
		in.saySize(r, a)
	}
	in.draw(r, a)
}

func (in *form) sayFace(r *calc.Result, a *calc.Answer) {
	a.Used(in.band)
	a.Lead = r.Text("This roughness asks for a cut-off of {cutoff} and {traverse} of travel with the run-up. On {length} there is room for {count} of the usual 5 cut-offs.")
	a.Note("Under ISO 21920-3:2021 the limit on the print chooses the cut-off. Under ISO 4288:1996 the value that is measured chooses it: estimate, read, and read again in the band where the reading fell.")
	if r.Could("verdict", "short") {
		a.Note("What to agree on, before cutting: a comparison specimen, a test piece cut beside the part, fewer cut-offs with the count written, or an optical reading with its own limit. A shorter cut-off flatters the face.")
	}
	if r.Could("verdict", "enter") {
		a.Note("The arm does not go into the opening. Read a test piece, or agree that a piece is cut open.")
	}
	a.Note("Take rims, corners and the start mark off the length before you type it. On a curve a stylus reads the curve. The run-up of one cut-off is common practice; the instrument's manual decides.")
	a.Cites("iso-4288; bands of Ra, place not seen; cut-off and evaluation length")
}

func (in *form) saySize(r *calc.Result, a *calc.Answer) {
	a.Lead = r.Text("The reading is off by {root-sum} by root-sum and {worst} at worst. Taken as u = a/√3 each, the expanded uncertainty is {expanded} with k = 2; of the tolerance {zone} is left for the part, each way.")
	switch {
	case in.what == "corner" && in.method == "pin":
		a.Note(r.Text("A pin larger than the radius shows light at the floor of the fillet: this one stands off by {stand}. A smaller one rocks. At this angle the eye tells radii apart only within {root-sum}."))
	case in.what == "corner":
		a.Note(r.Text("A fillet is a short arc, so its radius is read many times worse than a point: here three points, the ends and the middle. More points help at best by the root of their count; a wider angle of the corner makes it worse."))
		if in.method == "ball" {
			a.Note(r.Text("The ball's centre travels {contact} while it reads the fillet, and each wall is read from {blind} beyond the sharp corner on. A ball near the fillet's own size tells little: take one of half the radius or less, common practice, no source."))
		}
	case in.method == "pin":
		a.Note("A pin tells that the slot is at least that wide at its narrowest place. The width lies between the last pin that goes and the first that does not; half a step is counted. A lean, a barrel or a drop on the rim stops a pin early.")
	case in.method == "ball":
		a.Note("Read at three depths at least: a wall that leans or bellies has more than one width. Where the wall leans, the shank may touch before the ball.")
	}
	if in.method == "optical" {
		a.Note("A lens reads the rim or, with light from behind, the narrowest place of the whole height; never the wall's shape. Both rims are taken to be alike, so they add up.")
	}
	a.Note("Up to a tenth of the tolerance the gauge hardly matters; up to three tenths it is borne: common practice, no source. The part must lie within what is left.")
	a.Note("Do not trust this for a warm part, a worn ball, or a reading of one place. Warmth is reckoned with the pick-up calculator. Errors from the table stand for a clean part and a sound gauge.")
	a.Cites("iso-14253-1; rule for conformity, from memory; the reading's error is taken off the tolerance\njcgm-100; rectangular distribution and law of propagation, from memory, place not seen; the expanded uncertainty")
}
