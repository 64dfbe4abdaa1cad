package profile

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/drawing"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/geom"
	"kerfbook/wasm/offset"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	if in.fault != "" {
		return
	}
	a.General = !in.gapGiven && !in.reachGiven
	tool := calc.WireName(in.wire, r.System) + " with a gap of " + calc.Put(in.gap, "µm", 1)
	if in.reachGiven {
		tool = "a tool of radius " + calc.Put(in.reach, "mm", 4)
	}
	switch in.verdict {
	case "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: what stays is {deepest:small} deep at most")
	case "nowhere":
		a.Verdict, a.Headline = calc.No, "No, "+tool+" does not enter at all"
	default:
		deep := 0
		for _, k := range in.result.Pockets {
			if k.Depth > float64(in.allowance) || k.Whole {
				deep++
			}
		}
		a.Verdict, a.Headline = calc.No, "No, in "+places(deep)+" more stays than "+calc.Put(in.allowance, "µm", 2)
	}
	side := "a punch: the wire runs outside"
	if in.opening {
		side = "an opening: the wire runs inside"
	}
	guessed := ""
	if in.side == "guess" {
		guessed = ", by our guess"
	}
	a.Lead = r.Text("Taken as {1}{2}. With {3} {leftover-area} stays in {4}.", side, guessed, tool, places(int(in.pieces)))
	if in.largest > 0 {
		a.Lead += " Largest wire of the list that leaves little enough: " + calc.WireName(in.largest, r.System) + "."
	} else {
		a.Lead += " No wire of the list leaves so little."
	}
	if in.pieces > 0 && in.verdict != "nowhere" {
		a.Note("What stays in a corner ends at the tool's own radius, R " + calc.Put(unit.Length(in.toolReach()), "mm", 4) + ": that is the radius the part has there.")
	}
	if whole(in.result) && in.verdict != "nowhere" {
		a.Note("A neck closes: behind it there is a part that the wire does not reach at all. It wants a start hole of its own, or a finer wire.")
	}
	if !in.result.Exact {
		a.Note("Something is exactly as wide as the tool. It counts as cut: the tool was taken some millionths of a millimetre smaller. In the shop it is a matter of luck.")
	}
	if in.depth > 0 && in.finds.Angles != nil {
		a.Note("A sharp inside corner always keeps something. Only a radius on the drawing lets a wire reach it wholly.")
	}
	for _, n := range in.drawn.Notes {
		a.Note("Reading it: " + n + ".")
	}
	for i, o := range in.drawn.Open {
		if i == 8 {
			a.Note("… and " + strconv.Itoa(len(in.drawn.Open)-8) + " more.")
			break
		}
		a.Note("Reading it: " + o.Text + ", at " + where(o.At) + ".")
	}
	in.unanswered(r, a)
	in.walls(r, a)
	a.Caution("NOTICE", "The contours to carry away are paths only, without feeds, offsets or machine words. Post-process them for your machine and prove them out on a test cut.")
	a.Cites("ahmed-2021; abstract; fins of 117 to 500 µm @ A published study cut fins")
	at := in.draw(r, a)
	in.findings(r, a, at)
	in.wireTable(r, a)
	in.planTable(r, a)
	in.files(a)
}

// unanswered names what was asked and not answered in full.
func (in *form) unanswered(r *calc.Result, a *calc.Answer) {
	for _, t := range in.wires {
		if t.r == nil {
			a.Note("No answer for the wire of " + calc.WireName(t.d, r.System) + ": " + t.why + ". It is not among those compared.")
		}
	}
	for _, t := range in.plan {
		if t.r == nil {
			a.Note("No path for pass " + t.name + ", offset " + calc.Put(unit.Length(t.reach), "mm", 4) + ": " + t.why + ". A little more or less stock may give one.")
		}
	}
	switch {
	case in.finds.Within == 0:
		a.Note("Slots, necks and walls were not looked for: the pieces lie too close together. Draw the curves with fewer.")
	case in.finds.Within < in.within:
		a.Note("The pieces lie so close together that slots, necks and walls were looked for up to " + calc.Put(unit.Length(in.finds.Within), "mm", 3) + " only.")
	}
	if (in.opening || in.slugArea > 0) && !in.widest {
		a.Note("So many pieces stand about that the search for the widest round was ended early: a wider place for the start may exist.")
	}
}

func places(n int) string {
	if n == 1 {
		return "one place"
	}
	return strconv.Itoa(n) + " places"
}

// walls judges thin walls by length over thickness.
func (in *form) walls(r *calc.Result, a *calc.Answer) {
	if len(in.finds.Walls) == 0 {
		return
	}
	w := in.finds.Walls[0]
	text := "The thinnest wall is " + calc.Put(unit.Length(w.Value), "mm", 4) + ", at " + where(w.At) + "."
	if in.slender > 0 {
		text += r.Text(" The most slender wall that runs straight is {slenderness} times as long as thick.")
	}
	a.Note(text + " A published study cut fins of 117 to 500 µm in tool steel easily when 1 to 2 mm long; longer ones bent or broke. Two millimetres are 4 times the thickness of the thickest fin and 17 times that of the thinnest.")
}

// findings lists the places that decide, each with its place in the figure.
func (in *form) findings(r *calc.Result, a *calc.Answer, at func(geom.Point) *figure.Point) {
	t := calc.Table{Title: "Places that decide", Columns: []calc.Column{{Head: "What"}, {Head: "Value", Right: true}, {Head: "Place, mm"}}}
	add := func(what, value string, p geom.Point) {
		t.Rows = append(t.Rows, []calc.Cell{{Text: what, At: at(p)}, {Text: value}, {Text: where(p)}})
	}
	list := func(what string, spots []offset.Spot, n int, put func(v float64) string) {
		last := math.NaN()
		for _, s := range spots {
			if n == 0 {
				return
			}
			if math.Abs(s.Value-last) < 1e-7 && len(t.Rows) > 2 { // the same again: one stands for all
				continue
			}
			add(what, put(s.Value), s.At)
			last = s.Value
			n--
		}
	}
	mm := func(v float64) string { return calc.Say(unit.Length(v), r.System) }
	list("inside radius", in.finds.Radii, 3, mm)
	list("included angle", in.finds.Angles, 3, func(v float64) string { return calc.Put(unit.Angle(v), "°", 3) })
	list("slot or neck", in.finds.Necks, 3, mm)
	list("wall", in.finds.Walls, 2, mm)
	list("widest round, for the start", in.finds.Wide, 3, func(v float64) string { return "⌀ " + mm(2*v) })
	deep := append([]offset.Pocket(nil), in.result.Pockets...)
	for n := 0; n < 4 && n < len(deep); n++ {
		k := n
		for i := n; i < len(deep); i++ {
			if deep[i].Depth > deep[k].Depth {
				k = i
			}
		}
		deep[n], deep[k] = deep[k], deep[n]
		if !deep[n].Whole && deep[n].Depth > 0 {
			add("stays, depth", calc.Put(unit.Length(deep[n].Depth), "µm", 2), deep[n].At)
		}
	}
	if len(t.Rows) > 0 {
		a.Tables = append(a.Tables, t)
	}
}

func (in *form) wireTable(r *calc.Result, a *calc.Answer) {
	t := calc.Table{Title: "The wires of the list on this profile", Columns: []calc.Column{{Head: "Wire"}, {Head: "Stays", Right: true}, {Head: "Deepest", Right: true}, {Head: "Places", Right: true}, {Head: "Good enough"}},
		Note: "Each with the likely gap by the law of a pass, or with the gap typed."}
	for _, w := range in.wires {
		if w.r == nil {
			t.Rows = append(t.Rows, []calc.Cell{{Text: calc.WireName(w.d, r.System)}, {Text: "-"}, {Text: "-"}, {Text: "-"}, {Text: "no answer: see the notes", Strong: true}})
			continue
		}
		deep, word := calc.Put(unit.Length(deepest(w.r)), "µm", 2), "yes"
		switch {
		case len(w.r.Path) == 0:
			deep, word = "-", "does not enter"
		case whole(w.r):
			word = "a part is not reached"
		case deepest(w.r) > float64(in.allowance):
			word = "no"
		}
		t.Rows = append(t.Rows, []calc.Cell{{Text: calc.WireName(w.d, r.System)}, {Text: calc.Put(unit.Area(w.r.Leftover), "mm²", 5)}, {Text: deep}, {Text: strconv.Itoa(counted(w.r))}, {Text: word, Strong: word != "yes"}})
	}
	a.Tables = append(a.Tables, t)
}

func (in *form) planTable(r *calc.Result, a *calc.Answer) {
	t := calc.Table{Title: "A pass plan to start from", Columns: []calc.Column{{Head: "Pass"}, {Head: "Offset", Right: true}, {Head: "Path", Right: true}, {Head: "Parts", Right: true}, {Head: "Tight arcs", Right: true}, {Head: "Time", Right: true}},
		Note: "Offsets and feeds by the law of a pass, likely values. “Tight arcs” are inside radii below the offset: give that pass a larger radius there, or less stock."}
	for _, p := range in.plan {
		if p.r == nil {
			t.Rows = append(t.Rows, []calc.Cell{{Text: p.name}, {Text: calc.Put(unit.Length(p.reach), "mm", 4), Strong: true}, {Text: "no path: see the notes"}, {Text: "-"}, {Text: strconv.Itoa(p.tight)}, {Text: "-"}})
			continue
		}
		t.Rows = append(t.Rows, []calc.Cell{{Text: p.name}, {Text: calc.Put(unit.Length(p.reach), "mm", 4), Strong: true}, {Text: calc.Put(unit.Length(p.r.Length), "mm", 3)}, {Text: strconv.Itoa(len(p.r.Path))},
			{Text: strconv.Itoa(p.tight)}, {Text: calc.Put(seconds(p.r.Length, p.feed), "min", 1)}})
	}
	a.Tables = append(a.Tables, t)
}

// files are what a reader can carry away.
func (in *form) files(a *calc.Answer) {
	groups := []drawing.Named{{Name: "contour", Contours: in.region}, {Name: "as-cut", Contours: in.result.Cut}, {Name: "path", Contours: in.result.Path}}
	paths := []drawing.Named{}
	for _, p := range in.plan {
		if p.r == nil {
			continue // said in the notes
		}
		paths = append(paths, drawing.Named{Name: "pass-" + p.name, Contours: p.r.Path})
	}
	rows, list := "what,value_mm,x_mm,y_mm\n", ""
	put := func(what string, v float64, p geom.Point) {
		if !finite(v) {
			return
		}
		n := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64) }
		rows += what + "," + n(v) + "," + n(p.X) + "," + n(p.Y) + "\n"
		if list != "" {
			list += ",\n"
		}
		list += `  {"what": "` + what + `", "value": ` + n(v) + `, "x": ` + n(p.X) + `, "y": ` + n(p.Y) + "}"
	}
	for _, s := range []struct {
		what string
		list []offset.Spot
	}{{"inside radius", in.finds.Radii}, {"included angle in degrees", in.finds.Angles}, {"slot or neck", in.finds.Necks}, {"wall", in.finds.Walls}, {"widest round radius", in.finds.Wide}} {
		for i, x := range s.list {
			if i == 500 {
				break
			}
			put(s.what, x.Value, x.At)
		}
	}
	for i, k := range in.result.Pockets {
		if i == 500 {
			break
		}
		put("depth left", k.Depth, k.At)
	}
	a.Files = []calc.File{
		{Name: "contours.svg", What: "contour, as-cut contour and path, as SVG", Text: drawing.SVG(groups)},
		{Name: "contours.dxf", What: "the same as DXF (R12)", Text: drawing.DXF(append(groups, paths...))},
		{Name: "paths.txt", What: "the paths of all passes in words of ISO 6983, paths only", Text: drawing.Words(paths)},
		{Name: "findings.csv", What: "the places that decide, as CSV", Text: rows},
		{Name: "findings.json", What: "the same as JSON", Text: "[\n" + list + "\n]\n"},
	}
}

// draw shows contour, path and what stays. It returns where a place of the
// drawing stands in the figure.
func (in *form) draw(r *calc.Result, a *calc.Answer) func(geom.Point) *figure.Point {
	b := geom.Nothing()
	for _, list := range [...][]geom.Contour{in.region, in.result.Path} {
		for _, c := range list {
			q := c.Box()
			b.Take(geom.Point{X: q.X0, Y: q.Y0})
			b.Take(geom.Point{X: q.X1, Y: q.Y1})
		}
	}
	const wide, margin = 360.0, 14.0
	k := (wide - 2*margin) / max(b.X1-b.X0, 1e-9)
	high := (b.Y1-b.Y0)*k + 2*margin
	if high > 420 {
		k *= (420 - 2*margin) / (high - 2*margin)
		high = 420
	}
	high = max(high, 60)
	x0 := (wide - (b.X1-b.X0)*k) / 2
	at := func(p geom.Point) *figure.Point {
		return &figure.Point{X: x0 + (p.X-b.X0)*k, Y: high - margin - (p.Y-b.Y0)*k}
	}
	d := figure.New("Contour, the wire's path (dashed) and the places where something stays", r.Text("The contour with the path of the wire's middle as a dashed line. Metal stays in {1}; where it is deepest there are rings.", places(int(in.pieces))), wide, high, true)
	for i, list := range [...][]geom.Contour{in.region, in.result.Path} {
		for _, c := range list {
			p := figure.Path{Line: [...]figure.Line{figure.Outline, figure.Hidden}[i], From: *at(c[0].A), Closed: true}
			for _, q := range c {
				p.Segs = append(p.Segs, figure.Segment{To: *at(q.B), R: q.R * k, Large: math.Abs(q.Sweep) > math.Pi, Sweep: q.Sweep < 0})
			}
			d.Add(p)
		}
	}
	n := 0
	for _, p := range in.result.Pockets {
		if n < 80 && (p.Depth > float64(in.allowance) || p.Whole) {
			q := at(p.At)
			d.Circle(figure.Accent, q.X, q.Y, 5, false)
			n++
		}
	}
	for _, s := range in.finds.Wide {
		q := at(s.At)
		d.Circle(figure.Thin, q.X, q.Y, s.Value*k, false)
		d.Cross(q.X, q.Y, 0, 6)
	}
	a.Figure = d
	return at
}
