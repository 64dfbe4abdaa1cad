package drawing

import (
	"math"
	"strings"

	"kerfbook/wasm/geom"
)

func transform(s string, line int) (affine, error) {
	m := identity()
	for s = strings.TrimSpace(s); s != ""; s = strings.TrimLeft(s, " \t\r\n,") {
		open := strings.IndexByte(s, '(')
		end := strings.IndexByte(s, ')')
		if open < 0 || end < open {
			return m, &Error{line, "the transform “" + short(s) + "” cannot be read"}
		}
		v, good := numbers(s[open+1 : end])
		if !good {
			return m, &Error{line, "the transform “" + short(s[:end+1]) + "” is not read: plain numbers are wanted"}
		}
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

// shape reads one shape through a map.
func (r *reader) shape(name string, attr map[string]string, m affine, line int) error {
	names := ""
	switch name {
	case "line":
		names = "x1 y1 x2 y2"
	case "rect":
		names = "x y width height rx ry"
	case "circle":
		names = "cx cy r"
	case "ellipse":
		names = "cx cy rx ry"
	}
	size := map[string]float64{}
	for _, n := range strings.Fields(names) {
		text := strings.TrimSpace(attr[n])
		v, ok := number(strings.TrimSuffix(text, "px"))
		if text != "" && !ok {
			return &Error{line, n + " is “" + short(text) + "”: a length is read as a plain number of the drawing's own unit"}
		}
		size[n] = v
	}
	get := func(n string) float64 { return size[n] }
	switch name {
	case "path":
		return r.path(attr["d"], line, m)
	case "line":
		return r.emit(geom.Line(geom.Point{X: get("x1"), Y: get("y1")}, geom.Point{X: get("x2"), Y: get("y2")}), m, "", line)
	case "polyline", "polygon":
		v, ok := numbers(attr["points"])
		if !ok || len(v)%2 == 1 {
			return &Error{line, "the points “" + short(attr["points"]) + "” are not pairs of numbers"}
		}
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
