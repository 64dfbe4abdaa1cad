package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// pair is a group code with its value.
type pair struct {
	code  int
	value string
	line  int
}

// item is an entity as it stands, read when it is drawn.
type item struct {
	kind  string
	line  int
	pairs []pair
	under []item // vertices of a polyline
}

type block struct {
	base  geom.Point
	items []item
}

// looksExchange reports whether a text begins with a group code and a section.
func looksExchange(head string) bool {
	first, rest, ok := strings.Cut(head, "\n")
	if !ok {
		return false
	}
	code := strings.TrimSpace(first)
	if code == "999" { // a remark before the first section
		return true
	}
	second, _, _ := strings.Cut(rest, "\n")
	return code == "0" && strings.TrimSpace(second) != ""
}

// pairs splits the text. Every code line must hold a whole number.
func (r *reader) pairs() ([]pair, error) {
	var out []pair
	text, line := strings.TrimLeft(r.text, " \t\r\n"), 1
	line += strings.Count(r.text[:len(r.text)-len(text)], "\n")
	for text != "" {
		var code, value string
		code, text, _ = strings.Cut(text, "\n")
		if strings.TrimSpace(code) == "" && strings.TrimSpace(text) == "" {
			break
		}
		n, err := strconv.Atoi(strings.TrimSpace(code))
		if err != nil || n < -10 || n > 5000 {
			return nil, &Error{line, "a group code is wanted, this is “" + short(code) + "”"}
		}
		if text == "" {
			return nil, &Error{line, "the text ends after a group code: it is cut off"}
		}
		value, text, _ = strings.Cut(text, "\n")
		out = append(out, pair{n, strings.TrimRight(value, "\r"), line + 1})
		line += 2
	}
	return out, nil
}

func short(s string) string {
	s = strings.TrimSpace(s)
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return strings.ToValidUTF8(s, "?")
}

// exchange reads the whole exchange text.
func (r *reader) exchange() error {
	all, err := r.pairs()
	if err != nil {
		return err
	}
	r.layers = map[string]bool{}
	blocks := map[string]*block{}
	var entities []item
	section, ended := "", false
	for i := 0; i < len(all); i++ {
		p := all[i]
		if p.code != 0 {
			if section == "HEADER" && p.code == 9 && strings.TrimSpace(p.value) == "$INSUNITS" && i+1 < len(all) {
				r.d.Unit = insUnit(strings.TrimSpace(all[i+1].value))
				i++
			}
			continue
		}
		switch kind := strings.TrimSpace(p.value); {
		case kind == "SECTION":
			if i+1 < len(all) && all[i+1].code == 2 {
				section = strings.TrimSpace(all[i+1].value)
				i++
			}
		case kind == "ENDSEC":
			section = ""
		case kind == "EOF":
			ended = true
		case section == "TABLES" && kind == "LAYER":
			body := bodyOf(all, i+1)
			r.layer(body)
			i += len(body)
		case section == "BLOCKS" && kind == "BLOCK":
			var b *block
			var name string
			b, name, i, err = readBlock(all, i)
			if err != nil {
				return err
			}
			blocks[name] = b
		case section == "ENTITIES":
			var it item
			it, i = readItem(all, i)
			entities = append(entities, it)
		}
	}
	if !ended {
		r.d.note("the text does not end as it should (EOF is missing): it may be cut off")
	}
	for _, it := range entities {
		if err := r.draw(it, identity(), blocks, "", 0); err != nil {
			return err
		}
	}
	return nil
}

// bodyOf is what follows up to the next code 0.
func bodyOf(all []pair, i int) []pair {
	j := i
	for j < len(all) && all[j].code != 0 {
		j++
	}
	return all[i:j]
}

// readItem reads an entity with, for a polyline, its vertices; it returns the
// index of its last pair.
func readItem(all []pair, i int) (item, int) {
	it := item{kind: strings.TrimSpace(all[i].value), line: all[i].line}
	it.pairs = bodyOf(all, i+1)
	i += len(it.pairs)
	if it.kind != "POLYLINE" {
		return it, i
	}
	for i+1 < len(all) && all[i+1].code == 0 {
		kind := strings.TrimSpace(all[i+1].value)
		if kind != "VERTEX" && kind != "SEQEND" {
			break
		}
		body := bodyOf(all, i+2)
		if kind == "VERTEX" {
			it.under = append(it.under, item{kind: kind, line: all[i+1].line, pairs: body})
		}
		i += 1 + len(body)
		if kind == "SEQEND" {
			break
		}
	}
	return it, i
}

func readBlock(all []pair, i int) (*block, string, int, error) {
	head := item{line: all[i].line, pairs: bodyOf(all, i+1)}
	b := &block{}
	x, _ := head.num(10)
	y, _ := head.num(20)
	b.base = geom.Point{X: x, Y: y}
	name := head.text(2)
	i += len(head.pairs)
	for i+1 < len(all) {
		kind := strings.TrimSpace(all[i+1].value)
		if kind == "ENDBLK" {
			i += 1 + len(bodyOf(all, i+2))
			return b, name, i, nil
		}
		if kind == "ENDSEC" || kind == "BLOCK" {
			break
		}
		var it item
		it, i = readItem(all, i+1)
		b.items = append(b.items, it)
	}
	return nil, name, i, &Error{head.line, "the block “" + short(name) + "” does not end"}
}

// insUnit is the header's unit; "" for none.
func insUnit(code string) string {
	switch code {
	case "1":
		return "in"
	case "2":
		return "ft"
	case "4":
		return "mm"
	case "5":
		return "cm"
	case "6":
		return "m"
	case "8":
		return "µin"
	case "9":
		return "thou"
	case "13":
		return "µm"
	case "14":
		return "dm"
	}
	return ""
}

func (r *reader) layer(body []pair) {
	it := item{pairs: body}
	flags, _ := it.num(70)
	colour, _ := it.num(62)
	if int(flags)&1 != 0 || colour < 0 {
		r.layers[it.text(2)] = true
	}
}

func (it item) text(code int) string {
	for _, p := range it.pairs {
		if p.code == code {
			return strings.TrimSpace(p.value)
		}
	}
	return ""
}

// num is a number of the entity, and whether it stands there and reads.
func (it item) num(code int) (float64, bool) {
	for _, p := range it.pairs {
		if p.code == code {
			return number(p.value)
		}
	}
	return 0, false
}

// want reads numbers that must be there.
func (it item) want(codes ...int) ([]float64, error) {
	out := make([]float64, len(codes))
	for i, c := range codes {
		found := false
		for _, p := range it.pairs {
			if p.code != c {
				continue
			}
			v, ok := number(p.value)
			if !ok {
				return nil, &Error{p.line, "a number is wanted, this is “" + short(p.value) + "”"}
			}
			out[i], found = v, true
			break
		}
		if !found {
			return nil, &Error{it.line, it.kind + " lacks its group " + strconv.Itoa(c)}
		}
	}
	return out, nil
}

// flip tells whether an entity is drawn from behind; one that leans is refused.
func (it item) flip() (affine, error) {
	z, ok := it.num(230)
	if !ok {
		return identity(), nil
	}
	x, _ := it.num(210)
	y, _ := it.num(220)
	switch {
	case math.Abs(x) < 1e-9 && math.Abs(y) < 1e-9 && z > 0:
		return identity(), nil
	case math.Abs(x) < 1e-9 && math.Abs(y) < 1e-9 && z < 0:
		return affine{a: -1, d: 1}, nil
	}
	return affine{}, &Error{it.line, it.kind + " does not lie in the plane of the drawing"}
}

// draw adds the pieces of an entity through a map.
func (r *reader) draw(it item, m affine, blocks map[string]*block, layer string, depth int) error {
	if v, ok := it.num(67); ok && v == 1 {
		r.ignore("in paper space")
		return nil
	}
	own := it.text(8)
	if layer == "" || own != "0" && own != "" { // layer 0 in a block is that of the insert
		layer = own
	}
	if r.layers[own] {
		r.ignore("on layers that are switched off")
		return nil
	}
	switch it.kind {
	case "LINE":
		v, err := it.want(10, 20, 11, 21)
		if err != nil {
			return err
		}
		return r.emit(geom.Line(geom.Point{X: v[0], Y: v[1]}, geom.Point{X: v[2], Y: v[3]}), m, layer, it.line)
	case "CIRCLE", "ARC":
		return r.round(it, m, layer)
	case "LWPOLYLINE":
		return r.lightPolyline(it, m, layer)
	case "POLYLINE":
		return r.polyline(it, m, layer)
	case "ELLIPSE":
		v, err := it.want(10, 20, 11, 21, 40)
		if err != nil {
			return err
		}
		start, ok0 := it.num(41)
		end, ok1 := it.num(42)
		if !ok0 || !ok1 {
			start, end = 0, 2*math.Pi
		}
		for end <= start {
			end += 2 * math.Pi
		}
		if !(v[4] > 0 && v[4] <= 1e6) || end-start > 8*math.Pi {
			return &Error{it.line, "an ellipse whose width is no width"}
		}
		u := geom.Point{X: v[2], Y: v[3]}
		if z, ok := it.num(230); ok && z < 0 {
			return r.ellipse(m.point(geom.Point{X: v[0], Y: v[1]}), m.vector(u), m.vector(u.Left().Mul(-v[4])), start, end-start, layer, it.line)
		}
		return r.ellipse(m.point(geom.Point{X: v[0], Y: v[1]}), m.vector(u), m.vector(u.Left().Mul(v[4])), start, end-start, layer, it.line)
	case "SPLINE":
		return r.splineItem(it, m, layer)
	case "INSERT":
		return r.insert(it, m, blocks, layer, depth)
	}
	r.ignore(short(it.kind))
	return nil
}

func (r *reader) round(it item, m affine, layer string) error {
	v, err := it.want(10, 20, 40)
	if err != nil {
		return err
	}
	if !(v[2] > 0) {
		return &Error{it.line, it.kind + " has a radius of " + strconv.FormatFloat(v[2], 'g', 6, 64)}
	}
	f, err := it.flip()
	if err != nil {
		return err
	}
	c := geom.Point{X: v[0], Y: v[1]}
	if it.kind == "CIRCLE" {
		return r.emit(geom.About(c, v[2], 0, 2*math.Pi), m.after(f), layer, it.line)
	}
	a, err := it.want(50, 51)
	if err != nil {
		return err
	}
	sweep := math.Mod(a[1]-a[0], 360)
	if sweep <= 0 {
		sweep += 360
	}
	return r.emit(geom.About(c, v[2], a[0]*math.Pi/180, sweep*math.Pi/180), m.after(f), layer, it.line)
}

// corner is a vertex of a polyline with the bulge of the side that starts there.
type corner struct {
	at    geom.Point
	bulge float64
	line  int
}

func (r *reader) sides(list []corner, closed bool, m affine, layer string) error {
	n := len(list)
	if closed && n > 1 && list[0].at == list[n-1].at { // closed twice over
		n--
	}
	for i := range n {
		j := i + 1
		if j == n {
			if !closed {
				break
			}
			j = 0
		}
		if j >= len(list) {
			break
		}
		if math.Abs(list[i].bulge) > 1e6 {
			return &Error{list[i].line, "a bulge of " + strconv.FormatFloat(list[i].bulge, 'g', 4, 64) + " is a circle larger than any part"}
		}
		side := geom.Line(list[i].at, list[j].at)
		if math.Abs(list[i].bulge)*side.Len() > 1e-9 { // flatter than that it is a line
			side = geom.Bulge(list[i].at, list[j].at, list[i].bulge)
		}
		if err := r.emit(side, m, layer, list[i].line); err != nil {
			return err
		}
	}
	return nil
}

func (r *reader) lightPolyline(it item, m affine, layer string) error {
	f, err := it.flip()
	if err != nil {
		return err
	}
	var list []corner
	for _, p := range it.pairs {
		if p.code != 10 && p.code != 20 && p.code != 42 {
			continue
		}
		v, ok := number(p.value)
		switch {
		case !ok:
			return &Error{p.line, "a number is wanted, this is “" + short(p.value) + "”"}
		case p.code == 10:
			list = append(list, corner{at: geom.Point{X: v}, line: p.line})
		case len(list) == 0:
			return &Error{p.line, "a polyline whose vertex has no x"}
		case p.code == 20:
			list[len(list)-1].at.Y = v
		default:
			list[len(list)-1].bulge = v
		}
	}
	if n, ok := it.num(90); ok && int(n) != len(list) {
		r.d.note("line " + strconv.Itoa(it.line) + ": a polyline says " + strconv.Itoa(int(n)) + " vertices and has " + strconv.Itoa(len(list)))
	}
	flags, _ := it.num(70)
	return r.sides(list, int(flags)&1 != 0, m.after(f), layer)
}

func (r *reader) polyline(it item, m affine, layer string) error {
	flags, _ := it.num(70)
	if int(flags)&(16|64) != 0 {
		r.ignore("meshes")
		return nil
	}
	f, err := it.flip()
	if err != nil {
		return err
	}
	var list []corner
	for _, v := range it.under {
		vf, _ := v.num(70)
		if int(vf)&16 != 0 { // a control point of a spline frame
			continue
		}
		xy, err := v.want(10, 20)
		if err != nil {
			return err
		}
		b, _ := v.num(42)
		list = append(list, corner{geom.Point{X: xy[0], Y: xy[1]}, b, v.line})
	}
	return r.sides(list, int(flags)&1 != 0, m.after(f), layer)
}

func (r *reader) splineItem(it item, m affine, layer string) error {
	s := &spline{}
	degree, _ := it.num(71)
	s.degree = int(degree)
	fits := 0
	for _, p := range it.pairs {
		switch p.code {
		case 10, 20, 40, 41, 11:
		default:
			continue
		}
		v, ok := number(p.value)
		switch {
		case !ok:
			return &Error{p.line, "a number is wanted, this is “" + short(p.value) + "”"}
		case p.code == 10:
			s.controls = append(s.controls, geom.Point{X: v})
		case p.code == 20 && len(s.controls) > 0:
			s.controls[len(s.controls)-1].Y = v
		case p.code == 40:
			s.knots = append(s.knots, v)
		case p.code == 41:
			s.weights = append(s.weights, v)
		case p.code == 11:
			fits++
		}
	}
	if len(s.controls) == 0 && fits > 0 {
		return &Error{it.line, "a spline given by fit points only: convert it to a polyline or to arcs before exporting"}
	}
	if s.weights != nil && len(s.weights) != len(s.controls) {
		return &Error{it.line, "a spline with " + strconv.Itoa(len(s.controls)) + " controls and " + strconv.Itoa(len(s.weights)) + " weights"}
	}
	for _, w := range s.weights {
		if !(w > 0) {
			return &Error{it.line, "a spline with a weight of zero or less"}
		}
	}
	return r.bspline(s, m, layer, it.line)
}

func (r *reader) insert(it item, m affine, blocks map[string]*block, layer string, depth int) error {
	name := it.text(2)
	b := blocks[name]
	if b == nil {
		return &Error{it.line, "the block “" + short(name) + "” is inserted and not there"}
	}
	if depth >= maxDepth {
		return &Error{it.line, "blocks are inserted in each other more than " + strconv.Itoa(maxDepth) + " deep, or in themselves"}
	}
	v, err := it.want(10, 20)
	if err != nil {
		return err
	}
	f, err := it.flip()
	if err != nil {
		return err
	}
	get := func(code int, other float64) float64 {
		if v, ok := it.num(code); ok {
			return v
		}
		return other
	}
	sx, sy, turn := get(41, 1), get(42, 1), get(50, 0)*math.Pi/180
	columns, rows := int(get(70, 1)), int(get(71, 1))
	if sx == 0 || sy == 0 {
		return &Error{it.line, "the block “" + short(name) + "” is inserted with a scale of zero"}
	}
	if columns < 1 || rows < 1 || columns*rows > 10_000 {
		return &Error{it.line, "the block “" + short(name) + "” is inserted " + strconv.Itoa(columns) + " by " + strconv.Itoa(rows) + " times"}
	}
	s, c := math.Sincos(turn)
	for row := range rows {
		for col := range columns {
			dx, dy := float64(col)*get(44, 0), float64(row)*get(45, 0)
			own := affine{c * sx, s * sx, -s * sy, c * sy, v[0] + c*dx - s*dy, v[1] + s*dx + c*dy}
			own = own.after(affine{a: 1, d: 1, e: -b.base.X, f: -b.base.Y})
			for _, child := range b.items {
				if err := r.draw(child, m.after(f).after(own), blocks, layer, depth+1); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
