package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// words reads an ISO 6983 contour: G00 to G03 with X, Y, I, J, R, absolute or
// incremental, in inches or millimetres. Everything else is passed over and said.
func (r *reader) words() error {
	at, motion, absolute := geom.Point{}, -1, true
	for n, line := range strings.Split(r.text, "\n") {
		no := n + 1
		list, err := blockWords(line, no)
		if err != nil {
			return err
		}
		var x, y, i, j, radius float64
		var hasX, hasY, hasIJ, hasR bool
		for _, w := range list {
			v, ok := number(w.value)
			if !ok {
				return &Error{no, "the word " + short(string(w.letter)+w.value) + " has no number"}
			}
			switch w.letter {
			case 'G':
				switch g := int(math.Round(v)); {
				case v == 0 || v == 1 || v == 2 || v == 3:
					motion = g
				case g == 90:
					absolute = true
				case g == 91:
					absolute = false
				case g == 20 || g == 70:
					r.d.Unit = "in"
				case g == 21 || g == 71:
					r.d.Unit = "mm"
				case g >= 40 && g <= 42:
					r.d.note("offset words (G40 to G42) are passed over: this is the contour, not the path")
				default:
					r.ignore("G" + w.value)
				}
			case 'X':
				x, hasX = v, true
			case 'Y':
				y, hasY = v, true
			case 'I':
				i, hasIJ = v, true
			case 'J':
				j, hasIJ = v, true
			case 'R':
				radius, hasR = v, true
			case 'N', 'D', 'F', 'S', 'T', 'M', 'O', 'P':
				r.ignore("words " + string(w.letter))
			default:
				r.ignore("words " + string(w.letter))
			}
		}
		if !hasX && !hasY && !(hasIJ && motion >= 2) {
			continue
		}
		to := at
		if hasX {
			to.X = x
			if !absolute {
				to.X += at.X
			}
		}
		if hasY {
			to.Y = y
			if !absolute {
				to.Y += at.Y
			}
		}
		if err := r.move(motion, at, to, geom.Point{X: at.X + i, Y: at.Y + j}, radius, hasIJ, hasR, no); err != nil {
			return err
		}
		at = to
	}
	return nil
}

func (r *reader) move(motion int, at, to, c geom.Point, radius float64, hasIJ, hasR bool, no int) error {
	switch {
	case motion < 0:
		return &Error{no, "a move without G00, G01, G02 or G03"}
	case motion == 0:
		return nil
	case motion == 1:
		return r.add(geom.Line(at, to), "", no)
	case hasR && !hasIJ:
		d := to.Sub(at)
		l := d.Len()
		h := radius*radius - l*l/4
		if l == 0 || h < -1e-6*radius*radius {
			return &Error{no, "an arc of R " + strconv.FormatFloat(radius, 'g', 6, 64) + " does not reach from its start to its end, " + strconv.FormatFloat(l, 'g', 6, 64) + " away"}
		}
		side := math.Sqrt(max(0, h)) / l
		if (motion == 2) != (radius < 0) { // clockwise with the short way: the centre on the right
			side = -side
		}
		m := geom.Point{X: (at.X + to.X) / 2, Y: (at.Y + to.Y) / 2}
		return r.add(geom.Arc(at, to, m.Add(d.Left().Mul(side)), motion == 3), "", no)
	case !hasIJ:
		return &Error{no, "an arc without I, J or R"}
	}
	r0, r1 := at.Dist(c), to.Dist(c)
	if r0 == 0 || math.Abs(r0-r1) > 0.01*max(r0, r1) {
		return &Error{no, "an arc whose centre is " + strconv.FormatFloat(r0, 'g', 6, 64) + " from its start and " + strconv.FormatFloat(r1, 'g', 6, 64) + " from its end"}
	}
	if at == to {
		return r.circle(c, r0, "", no)
	}
	return r.add(geom.Arc(at, to, c, motion == 3), "", no)
}

type word struct {
	letter byte
	value  string
}

// blockWords splits a line into words; remarks in round brackets and after a
// semicolon are left out.
func blockWords(line string, no int) ([]word, error) {
	var out []word
	for i := 0; i < len(line); {
		c := line[i]
		switch {
		case c == ' ' || c == '\t' || c == '\r' || c == '%' || c == '/':
			i++
		case c == ';':
			return out, nil
		case c == '(':
			end := strings.IndexByte(line[i:], ')')
			if end < 0 {
				return nil, &Error{no, "a remark that does not close"}
			}
			i += end + 1
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			j := i + 1
			for j < len(line) && strings.IndexByte("+-.,0123456789 ", line[j]) >= 0 {
				j++
			}
			out = append(out, word{c &^ 0x20, strings.ReplaceAll(strings.ReplaceAll(line[i+1:j], " ", ""), ",", ".")})
			i = j
		default:
			return nil, &Error{no, "“" + short(line[i:]) + "” is no word of a program"}
		}
	}
	return out, nil
}
