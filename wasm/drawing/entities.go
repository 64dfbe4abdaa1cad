package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// flat is the difference in height, in the drawing's unit, that counts as none.
const flat = 1e-4

// span is the heights that were met.
type span struct {
	lo, hi float64
	any    bool
}

func (s *span) take(v float64) {
	if !s.any {
		s.lo, s.hi, s.any = v, v, true
	}
	s.lo, s.hi = min(s.lo, v), max(s.hi, v)
}

// level notes the height of an entity: all its groups of these codes must have one.
func (r *reader) level(it item, codes ...int) error {
	own := span{}
	for _, p := range it.pairs {
		if slices.Contains(codes, p.code) {
			if v, ok := number(p.value); ok {
				own.take(v)
			}
		}
	}
	for _, v := range it.under {
		z, _ := v.num(30)
		own.take(z)
	}
	if own.hi-own.lo > flat {
		return leans(it)
	}
	r.z.take(own.lo)
	return nil
}

func leans(it item) error {
	return &Error{it.line, it.kind + " does not lie in the plane of the drawing"}
}

// flip tells whether an entity is drawn from behind; one that leans is refused. What
// is not given is that of an entity seen from above.
func (it item) flip() (affine, error) {
	x, _ := it.num(210)
	y, _ := it.num(220)
	z, ok := it.num(230)
	if !ok {
		z = 1
	}
	switch {
	case math.Abs(x) < 1e-9 && math.Abs(y) < 1e-9 && z > 0:
		return identity(), nil
	case math.Abs(x) < 1e-9 && math.Abs(y) < 1e-9 && z < 0:
		return affine{a: -1, d: 1}, nil
	}
	return affine{}, leans(it)
}

// draw adds the pieces of an entity through a map.
func (r *reader) draw(it item, m affine, blocks map[string]*block, layer string, depth int) error {
	if err := r.spend(2+len(it.pairs)/4+8*len(it.under), it.line); err != nil {
		return err
	}
	if v, ok := it.num(67); ok && v == 1 {
		r.ignore("in paper space")
		return nil
	}
	if v, ok := it.num(60); ok && v == 1 {
		r.ignore("invisible")
		return nil
	}
	own := it.text(8)
	if layer == "" || own != "0" && own != "" { // layer 0 in a block is that of the insert
		layer = own
	}
	if r.layers[strings.ToUpper(own)] {
		r.ignore("on layers that are switched off")
		return nil
	}
	switch it.kind {
	case "LINE":
		v, err := it.want(10, 20, 11, 21)
		if err != nil {
			return err
		}
		if err := r.lineLevel(it); err != nil {
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
		return r.ellipseItem(it, m, layer)
	case "SPLINE":
		return r.splineItem(it, m, layer)
	case "INSERT":
		return r.insert(it, m, blocks, layer, depth)
	}
	r.ignore(short(it.kind))
	return nil
}

// lineLevel notes the height of a line, whose ends must have one. A missing end is at
// nothing.
func (r *reader) lineLevel(it item) error {
	a, _ := it.num(30)
	b, _ := it.num(31)
	if math.Abs(a-b) > flat {
		return leans(it)
	}
	r.z.take(a)
	return nil
}

func (r *reader) ellipseItem(it item, m affine, layer string) error {
	v, err := it.want(10, 20, 11, 21, 40)
	if err != nil {
		return err
	}
	f, err := it.flip()
	if err != nil {
		return err
	}
	if z, _ := it.num(31); math.Abs(z) > flat {
		return leans(it)
	}
	if err := r.level(it, 30); err != nil {
		return err
	}
	const turn = 2 * math.Pi
	start, ok0 := it.num(41)
	end, ok1 := it.num(42)
	if !ok0 || !ok1 {
		start, end = 0, turn
	}
	if math.Abs(start) > 1000 || math.Abs(end) > 1000 || end-start > turn*(1+1e-6) {
		g := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
		return &Error{it.line, "an ellipse from " + g(start) + " to " + g(end) + " radians: it has one turn at most"}
	}
	if end <= start {
		end += turn * (1 + math.Floor((start-end)/turn))
	}
	if !(v[4] > 0 && v[4] <= 1e6) {
		return &Error{it.line, "an ellipse whose width is no width"}
	}
	// Centre and axis stand in the drawing's own directions; only the sense of the
	// turn follows the side that it is drawn from.
	u := geom.Point{X: v[2], Y: v[3]}
	return r.ellipse(m.point(geom.Point{X: v[0], Y: v[1]}), m.vector(u), m.vector(u.Left().Mul(v[4]*f.a)), start, min(end-start, turn), layer, it.line)
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
	if err := r.level(it, 30); err != nil {
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
	if err := r.level(it, 38); err != nil {
		return err
	}
	if n, ok := it.num(90); ok && n != float64(len(list)) {
		if r.wrong == 0 {
			r.counts = "line " + strconv.Itoa(it.line) + ": a polyline says " + strconv.FormatFloat(n, 'g', 6, 64) + " vertices and has " + strconv.Itoa(len(list))
		}
		r.wrong++
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
	if err := r.level(it); err != nil {
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
	if err := r.level(it, 30); err != nil {
		return err
	}
	return r.bspline(s, m, layer, it.line)
}

func (r *reader) insert(it item, m affine, blocks map[string]*block, layer string, depth int) error {
	name := it.text(2)
	b := blocks[strings.ToUpper(name)]
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
	columns, rows := get(70, 1), get(71, 1)
	if sx == 0 || sy == 0 {
		return &Error{it.line, "the block “" + short(name) + "” is inserted with a scale of zero"}
	}
	if !(columns >= 1 && rows >= 1 && columns*rows <= 10_000) {
		g := func(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }
		return &Error{it.line, "the block “" + short(name) + "” is inserted " + g(columns) + " by " + g(rows) + " times: from 1 to 10000 are read"}
	}
	s, c := math.Sincos(turn)
	for row := range int(rows) {
		for col := range int(columns) {
			if err := r.spend(8, it.line); err != nil {
				return err
			}
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
