package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// looksPath tells path data from a program: a letter M, numbers, and letters of
// paths only.
func looksPath(s string) bool {
	return strings.Trim(s, "MmLlHhVvCcSsQqTtAaZz0123456789+-.,eE \t\r\n") == ""
}

// svg reads the shapes of an SVG text: path, line, polyline, polygon, rect,
// circle, ellipse, with transforms. y points down there; here up.
func (r *reader) svg() error {
	up := affine{a: 1, d: -1}
	stack := []affine{up}
	text, line := r.text, 1
	for {
		i := strings.IndexByte(text, '<')
		if i < 0 {
			return nil
		}
		line += strings.Count(text[:i], "\n")
		text = text[i:]
		if strings.HasPrefix(text, "<!--") {
			end := strings.Index(text, "-->")
			if end < 0 {
				return &Error{line, "a remark that does not close"}
			}
			line += strings.Count(text[:end], "\n")
			text = text[end+3:]
			continue
		}
		end := strings.IndexByte(text, '>')
		if end < 0 {
			return &Error{line, "a tag that does not close"}
		}
		tag := text[1:end]
		text = text[end+1:]
		closed := strings.HasSuffix(tag, "/")
		name, rest, _ := strings.Cut(strings.TrimSuffix(tag, "/")+" ", " ")
		name = strings.TrimSpace(name)
		attr := attributes(rest)
		switch {
		case name == "/g":
			if len(stack) > 1 {
				stack = stack[:len(stack)-1]
			}
		case name == "svg":
			own, err := r.view(attr, line)
			if err != nil {
				return err
			}
			stack[0] = own.after(up)
		case name == "g" && !closed:
			m, err := transform(attr["transform"], line)
			if err != nil {
				return err
			}
			stack = append(stack, stack[len(stack)-1].after(m))
			if len(stack) > 200 {
				return &Error{line, "groups are nested more than 200 deep"}
			}
		default:
			if err := r.shape(name, attr, stack[len(stack)-1], line); err != nil {
				return err
			}
		}
		line += strings.Count(tag, "\n")
	}
}

func attributes(s string) map[string]string {
	out := map[string]string{}
	for {
		eq := strings.IndexByte(s, '=')
		if eq < 0 {
			return out
		}
		name := strings.TrimSpace(s[:eq])
		s = strings.TrimLeft(s[eq+1:], " \t\r\n")
		if s == "" || s[0] != '"' && s[0] != '\'' {
			return out
		}
		end := strings.IndexByte(s[1:], s[0])
		if end < 0 {
			return out
		}
		out[name] = s[1 : 1+end]
		s = s[end+2:]
	}
}

// view is the scale from the drawing's numbers to its stated size.
func (r *reader) view(attr map[string]string, line int) (affine, error) {
	width := attr["width"]
	unit := strings.TrimLeft(width, "0123456789.+-eE ")
	size, ok := number(strings.TrimSuffix(width, unit))
	if !ok || unit != "mm" && unit != "cm" && unit != "in" {
		return identity(), nil // no unit that a part is drawn in
	}
	r.d.Unit = unit
	box := numbers(attr["viewBox"])
	if len(box) != 4 || box[2] <= 0 {
		return affine{}, &Error{line, "the drawing has a width of " + short(width) + " and no viewBox: its numbers have no scale"}
	}
	k := size / box[2]
	return affine{a: k, d: k}, nil
}

// numbers splits at spaces, commas and signs.
func numbers(s string) []float64 {
	var out []float64
	for s != "" {
		n := numberLen(s)
		if n == 0 {
			s = s[1:]
			continue
		}
		if v, ok := number(s[:n]); ok {
			out = append(out, v)
		}
		s = s[n:]
	}
	return out
}

// numberLen is how much of s is one number, 0 when it does not start with one.
func numberLen(s string) int {
	i, digits := 0, 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	point := false
	for ; i < len(s); i++ {
		if s[i] >= '0' && s[i] <= '9' {
			digits++
		} else if s[i] == '.' && !point {
			point = true
		} else {
			break
		}
	}
	if digits == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && s[j] >= '0' && s[j] <= '9' {
			for j < len(s) && s[j] >= '0' && s[j] <= '9' {
				j++
			}
			i = j
		}
	}
	return i
}

func transform(s string, line int) (affine, error) {
	m := identity()
	for s = strings.TrimSpace(s); s != ""; s = strings.TrimLeft(s, " \t\r\n,") {
		open := strings.IndexByte(s, '(')
		end := strings.IndexByte(s, ')')
		if open < 0 || end < open {
			return m, &Error{line, "the transform “" + short(s) + "” cannot be read"}
		}
		v := numbers(s[open+1 : end])
		var t affine
		switch name := strings.TrimSpace(s[:open]); {
		case name == "matrix" && len(v) == 6:
			t = affine{v[0], v[1], v[2], v[3], v[4], v[5]}
		case name == "translate" && len(v) == 1:
			t = affine{a: 1, d: 1, e: v[0]}
		case name == "translate" && len(v) == 2:
			t = affine{a: 1, d: 1, e: v[0], f: v[1]}
		case name == "scale" && len(v) == 1:
			t = affine{a: v[0], d: v[0]}
		case name == "scale" && len(v) == 2:
			t = affine{a: v[0], d: v[1]}
		case name == "rotate" && (len(v) == 1 || len(v) == 3):
			sin, cos := math.Sincos(v[0] * math.Pi / 180)
			t = affine{a: cos, b: sin, c: -sin, d: cos}
			if len(v) == 3 {
				t = affine{a: 1, d: 1, e: v[1], f: v[2]}.after(t).after(affine{a: 1, d: 1, e: -v[1], f: -v[2]})
			}
		default:
			return m, &Error{line, "the transform “" + short(s[:end+1]) + "” is not read"}
		}
		m = m.after(t)
		s = s[end+1:]
	}
	return m, nil
}

func (r *reader) shape(name string, attr map[string]string, m affine, line int) error {
	own, err := transform(attr["transform"], line)
	if err != nil {
		return err
	}
	m = m.after(own)
	get := func(n string) float64 {
		v, _ := number(strings.TrimRight(attr[n], "px"))
		return v
	}
	switch name {
	case "path":
		return r.path(attr["d"], line, m)
	case "line":
		return r.emit(geom.Line(geom.Point{X: get("x1"), Y: get("y1")}, geom.Point{X: get("x2"), Y: get("y2")}), m, "", line)
	case "polyline", "polygon":
		v := numbers(attr["points"])
		var list []corner
		for i := 0; i+1 < len(v); i += 2 {
			list = append(list, corner{at: geom.Point{X: v[i], Y: v[i+1]}, line: line})
		}
		return r.sides(list, name == "polygon", m, "")
	case "rect":
		x, y, w, h := get("x"), get("y"), get("width"), get("height")
		if w <= 0 || h <= 0 {
			return &Error{line, "a rectangle without size"}
		}
		if get("rx") != 0 || get("ry") != 0 {
			return &Error{line, "a rectangle with round corners is not read: draw it as a path"}
		}
		return r.sides([]corner{{geom.Point{X: x, Y: y}, 0, line}, {geom.Point{X: x + w, Y: y}, 0, line}, {geom.Point{X: x + w, Y: y + h}, 0, line}, {geom.Point{X: x, Y: y + h}, 0, line}}, true, m, "")
	case "circle":
		if get("r") <= 0 {
			return &Error{line, "a circle without radius"}
		}
		return r.emit(geom.About(geom.Point{X: get("cx"), Y: get("cy")}, get("r"), 0, 2*math.Pi), m, "", line)
	case "ellipse":
		if get("rx") <= 0 || get("ry") <= 0 {
			return &Error{line, "an ellipse without radius"}
		}
		return r.emit(geom.About(geom.Point{}, 1, 0, 2*math.Pi), m.after(affine{a: get("rx"), d: get("ry"), e: get("cx"), f: get("cy")}), "", line)
	case "text", "image", "use":
		r.ignore(name)
	}
	return nil
}

// path reads path data through a map.
func (r *reader) path(d string, line int, m affine) error {
	var at, start, handle geom.Point
	cmd, last := byte(0), byte(0)
	s := strings.TrimLeft(d, " \t\r\n,")
	fail := func(text string) error { return &Error{line, text} }
	for s != "" {
		if c := s[0]; c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' {
			cmd = c
			s = strings.TrimLeft(s[1:], " \t\r\n,")
		} else if cmd == 0 || cmd == 'Z' || cmd == 'z' {
			return fail("path data that does not begin with a command: “" + short(s) + "”")
		}
		if last == 0 && cmd != 'M' && cmd != 'm' {
			return fail("path data does not begin with M")
		}
		count := map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}
		upper := cmd &^ 0x20
		n, ok := count[upper]
		if !ok {
			return fail("the path command “" + string(cmd) + "” is not known")
		}
		var v [7]float64
		for i := range n {
			k := numberLen(s)
			if upper == 'A' && (i == 3 || i == 4) { // flags may run together
				k = 0
				if s != "" && (s[0] == '0' || s[0] == '1') {
					k = 1
				}
			}
			x, good := number(s[:k])
			if k == 0 || !good {
				return fail("the path command " + string(cmd) + " wants " + strconv.Itoa(n) + " numbers, here stands “" + short(s) + "”")
			}
			v[i] = x
			s = strings.TrimLeft(s[k:], " \t\r\n,")
		}
		o := geom.Point{}
		if cmd != upper {
			o = at
		}
		var err error
		to := at
		mirror := func(kinds string) geom.Point {
			if strings.IndexByte(kinds, last) < 0 {
				return at
			}
			return geom.Point{X: 2*at.X - handle.X, Y: 2*at.Y - handle.Y}
		}
		switch upper {
		case 'M':
			to = geom.Point{X: v[0] + o.X, Y: v[1] + o.Y}
			start = to
			cmd = 'L' | cmd&0x20
		case 'L', 'H', 'V':
			switch upper {
			case 'L':
				to = geom.Point{X: v[0] + o.X, Y: v[1] + o.Y}
			case 'H':
				to.X = v[0] + o.X
			default:
				to.Y = v[0] + o.Y
			}
			err = r.emit(geom.Line(at, to), m, "", line)
		case 'C', 'S':
			c1 := geom.Point{X: v[0] + o.X, Y: v[1] + o.Y}
			rest := v[2:6]
			if upper == 'S' {
				c1, rest = mirror("CS"), v[0:4]
			}
			c2 := geom.Point{X: rest[0] + o.X, Y: rest[1] + o.Y}
			to = geom.Point{X: rest[2] + o.X, Y: rest[3] + o.Y}
			handle = c2
			err = r.bezier([]geom.Point{at, c1, c2, to}, m, line)
		case 'Q', 'T':
			c := geom.Point{X: v[0] + o.X, Y: v[1] + o.Y}
			to = geom.Point{X: v[2] + o.X, Y: v[3] + o.Y}
			if upper == 'T' {
				c, to = mirror("QT"), geom.Point{X: v[0] + o.X, Y: v[1] + o.Y}
			}
			handle = c
			err = r.bezier([]geom.Point{at, c, to}, m, line)
		case 'A':
			to = geom.Point{X: v[5] + o.X, Y: v[6] + o.Y}
			err = r.svgArc(at, to, v[0], v[1], v[2], v[3] != 0, v[4] != 0, m, line)
		case 'Z':
			to = start
			if at != start {
				err = r.emit(geom.Line(at, start), m, "", line)
			}
		}
		if err != nil {
			return err
		}
		at, last = to, upper
	}
	return nil
}

func (r *reader) bezier(c []geom.Point, m affine, line int) error {
	s := &spline{degree: len(c) - 1, controls: c}
	for _, k := range [...]float64{0, 1} {
		for range len(c) {
			s.knots = append(s.knots, k)
		}
	}
	return r.bspline(s, m, "", line)
}

// svgArc turns the ends and radii of an elliptical arc into centre and angles, as
// the appendix of the SVG recommendation gives it: radii that are too small are
// made larger.
func (r *reader) svgArc(a, b geom.Point, rx, ry, turn float64, large, sweep bool, m affine, line int) error {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if a == b {
		return nil
	}
	if rx == 0 || ry == 0 {
		return r.emit(geom.Line(a, b), m, "", line)
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	dx, dy := (a.X-b.X)/2, (a.Y-b.Y)/2
	x, y := cos*dx+sin*dy, -sin*dx+cos*dy
	if l := x*x/(rx*rx) + y*y/(ry*ry); l > 1 {
		rx, ry = rx*math.Sqrt(l), ry*math.Sqrt(l)
	}
	k := math.Sqrt(max(0, (rx*rx*ry*ry-rx*rx*y*y-ry*ry*x*x)/(rx*rx*y*y+ry*ry*x*x)))
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	start := math.Atan2((y-cy)/ry, (x-cx)/rx)
	delta := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - start
	if sweep && delta < 0 {
		delta += 2 * math.Pi
	} else if !sweep && delta > 0 {
		delta -= 2 * math.Pi
	}
	own := affine{cos * rx, sin * rx, -sin * ry, cos * ry, cos*cx - sin*cy + (a.X+b.X)/2, sin*cx + cos*cy + (a.Y+b.Y)/2}
	return r.emit(geom.About(geom.Point{}, 1, start, delta), m.after(own), "", line)
}
