package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// numbers splits at spaces, commas and signs; ok is false when anything else stands
// there.
func numbers(s string) (out []float64, ok bool) {
	for {
		if s = strings.TrimLeft(s, " \t\r\n,"); s == "" {
			return out, true
		}
		n := numberLen(s)
		v, good := number(s[:n])
		if n == 0 || !good {
			return nil, false
		}
		out = append(out, v)
		s = s[n:]
	}
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

// wants are the path commands, each with how many numbers it takes.
const wants = "M2L2H1V1C6S4Q4T2A7Z0"

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
		upper := cmd &^ 0x20
		n := strings.IndexByte(wants, upper)
		if n < 0 {
			return fail("the path command “" + string(cmd) + "” is not known")
		}
		n = int(wants[n+1] - '0')
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
