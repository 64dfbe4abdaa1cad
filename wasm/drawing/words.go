package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// control is what the words so far have set.
type control struct {
	at, shift      geom.Point // by the text's own numbers, and what to add to them
	motion         int        // 0 to 3; -1 before any
	increments     bool
	centres        bool   // I and J are a place
	unit           string // of the numbers so far, once there are any
	numbers        bool
	origin         string // the word for the origin that was chosen
	lostX, lostY   bool   // where the wire is the text does not tell
	lostBy         string
	skipped, first int // blocks that begin with a stroke, and the line of the first
	moved          bool
}

// pointless are numbers without a point, which some controls read in thousandths.
type pointless struct {
	points  bool
	longest string
}

// block is a line's words, each letter at most once but for G and M.
type wordBlock struct {
	no         int
	codes      []word // G, in order
	x, y, i, j *float64
	r          *float64
	rText      string
	cText      string
	comma      bool // C stands after a comma
}

// words reads an ISO 6983 contour: G00 to G03 with X, Y, I, J, R, absolute or
// incremental, in inches or millimetres. A word that may change what the others mean
// is refused; what does not is passed over and said.
func (r *reader) words() error {
	c := &control{motion: -1}
	for n, line := range strings.Split(r.text, "\n") {
		b, err := r.block(line, n+1, c)
		if err != nil {
			return err
		}
		if err := r.run(c, b); err != nil {
			return err
		}
	}
	if c.skipped > 0 {
		r.d.note(many(c.skipped, "block begins with / and was", "blocks begin with / and were") + " taken, the first in line " + strconv.Itoa(c.first) + ": they are the part's only if block skip is off")
	}
	return nil
}

func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// block reads the words of a line.
func (r *reader) block(line string, no int, c *control) (*wordBlock, error) {
	list, stroke, err := blockWords(line, no)
	if err != nil {
		return nil, err
	}
	b := &wordBlock{no: no}
	var others []string
	if stroke {
		if c.skipped++; c.skipped == 1 {
			c.first = no
		}
	}
	for _, w := range list {
		v, ok := number(w.value)
		if !ok {
			return nil, &Error{no, "the word " + short(string(w.letter)+w.value) + " has no number"}
		}
		var slot **float64
		switch w.letter {
		case 'G':
			b.codes = append(b.codes, word{'G', strconv.FormatFloat(v, 'f', -1, 64), false})
			continue
		case 'M':
			if v == 98 {
				return nil, &Error{no, "M98 calls another program, which is not followed: put its blocks in its place"}
			}
			others = append(others, "words M")
			continue
		case 'X':
			slot = &b.x
		case 'Y':
			slot = &b.y
		case 'I':
			slot = &b.i
		case 'J':
			slot = &b.j
		case 'R':
			slot, b.rText = &b.r, w.value
		case 'C':
			b.cText, b.comma = w.value, w.comma
			others = append(others, "words C")
			continue
		default:
			others = append(others, "words "+string(w.letter))
			continue
		}
		if *slot != nil {
			return nil, &Error{no, string(w.letter) + " stands twice in one block"}
		}
		*slot = &v
		if strings.Contains(w.value, ".") {
			r.typed.points = true
		} else if len(w.value) > len(r.typed.longest) {
			r.typed.longest = w.value
		}
	}
	if !slices.ContainsFunc(b.codes, func(w word) bool { return w.value == "4" }) { // a dwell's are its time
		for _, o := range others {
			r.ignore(o)
		}
	}
	return b, nil
}

// run does what a block says.
func (r *reader) run(c *control, b *wordBlock) error {
	motion, other := "", ""
	for _, w := range b.codes {
		g := w.value
		switch g {
		case "0", "1", "2", "3":
			if motion != "" && motion != g {
				return &Error{b.no, "G" + motion + " and G" + g + " stand in one block"}
			}
			motion = g
		case "4", "92", "28", "30", "53":
			other = g
		case "90", "91":
			c.increments = g == "91"
		case "90.1", "91.1":
			c.centres = g == "90.1"
		case "20", "70", "21", "71":
			if err := r.inUnit(c, g, b.no); err != nil {
				return err
			}
		case "54", "55", "56", "57", "58", "59":
			if c.origin != "" && c.origin != g {
				return &Error{b.no, "G" + g + " after G" + c.origin + ": another origin, and how far off it is the text does not tell"}
			}
			c.origin = g
			r.ignore("G" + g)
		case "40", "41", "42":
			r.d.note("offset words (G40 to G42) are passed over: this is the contour, not the path")
		case "9", "15", "17", "49", "61", "64", "69", "80", "94", "95", "97", "98", "99":
			r.ignore("G" + g) // of the plane of X and Y, of feed and of ending something
		default:
			return &Error{b.no, "G" + g + " is not read: it may change what X and Y mean. Take it out if the contour is right without it"}
		}
	}
	if other != "" && motion != "" {
		if other != "53" {
			return &Error{b.no, "G" + other + " and G" + motion + " stand in one block"}
		}
		if motion != "0" {
			return &Error{b.no, "a cut to a place of the machine's own, by G53"}
		}
	}
	if motion != "" {
		c.motion = int(motion[0] - '0')
	}
	switch other {
	case "4": // a dwell: its X, U or P is a time
		return nil
	case "92":
		return r.rename(c, b)
	case "28", "30", "53":
		c.lostX, c.lostY, c.lostBy = true, true, "G"+other+" in line "+strconv.Itoa(b.no)
		r.d.note(c.lostBy + " leaves for a place that the text does not tell")
		return nil
	}
	return r.step(c, b)
}

// inUnit sets the unit, unless numbers in another were read.
func (r *reader) inUnit(c *control, g string, no int) error {
	unit := "mm"
	if g == "20" || g == "70" {
		unit = "in"
	}
	if c.numbers && c.unit != unit {
		was := "in " + c.unit
		if c.unit == "" {
			was = "without a unit"
		}
		return &Error{no, "G" + g + " after numbers " + was + ": write the whole in one unit"}
	}
	c.unit, r.d.Unit = unit, unit
	return nil
}

// rename gives the place where the wire stands other numbers: G92.
func (r *reader) rename(c *control, b *wordBlock) error {
	if c.moved && c.lostBy != "" && (c.lostX || c.lostY) {
		return &Error{b.no, "G92 where the text does not tell where the wire stands, after " + c.lostBy}
	}
	to := c.at
	if b.x != nil {
		to.X = *b.x
	}
	if b.y != nil {
		to.Y = *b.y
	}
	if c.moved {
		c.shift = c.shift.Add(c.at).Sub(to)
		r.d.note("G92 in line " + strconv.Itoa(b.no) + " gives the place another number: what follows was put where the wire stood")
	}
	c.at, c.numbers = to, c.numbers || b.x != nil || b.y != nil
	return nil
}

// step makes the move of a block.
func (r *reader) step(c *control, b *wordBlock) error {
	hasIJ := b.i != nil || b.j != nil
	moves := b.x != nil || b.y != nil || hasIJ && c.motion >= 2
	if b.r != nil && c.motion < 2 {
		return &Error{b.no, "R" + short(b.rText) + " in a straight block: on some controls it rounds the corner. Write the arc as G02 or G03"}
	}
	if b.cText != "" && (moves || b.comma) {
		return &Error{b.no, "C" + short(b.cText) + " in a block that moves: on some controls it cuts the corner off. Write the slope as G01, and a condition in a block of its own"}
	}
	if !moves {
		return nil
	}
	c.numbers = true
	to := c.at
	for _, k := range [...]struct {
		v    *float64
		at   *float64
		lost *bool
	}{{b.x, &to.X, &c.lostX}, {b.y, &to.Y, &c.lostY}} {
		switch {
		case k.v == nil:
		case c.increments:
			*k.at += *k.v
		default:
			*k.at = *k.v
			*k.lost = *k.lost && c.motion != 0
		}
	}
	if (c.lostX || c.lostY) && c.motion > 0 {
		return &Error{b.no, "a cut that begins where the text does not tell, after " + c.lostBy + ": go there by G00 with X and Y, in G90"}
	}
	centre, list := geom.Point{}, [...]*float64{b.i, b.j}
	if c.centres && hasIJ {
		if b.i == nil || b.j == nil {
			return &Error{b.no, "with G90.1 an arc wants both I and J: the place of its centre"}
		}
	} else {
		centre = c.at
	}
	if list[0] != nil {
		centre.X += *list[0]
	}
	if list[1] != nil {
		centre.Y += *list[1]
	}
	radius := 0.0
	if b.r != nil {
		radius = *b.r
	}
	err := r.move(c.motion, c.at.Add(c.shift), to.Add(c.shift), centre.Add(c.shift), radius, hasIJ, b.r != nil, b.no)
	c.at, c.moved = to, true
	return err
}

// large is the size in mm from which numbers without a point are doubted.
const large = 500

// doubtPoint asks whether numbers without a point are thousandths.
func (r *reader) doubtPoint() {
	n := strings.TrimLeft(r.typed.longest, "+-")
	if r.typed.points || len(n) < 4 {
		return
	}
	b := geom.Nothing()
	for _, p := range r.d.Pieces {
		q := p.Box()
		b.Take(geom.Point{X: q.X0, Y: q.Y0})
		b.Take(geom.Point{X: q.X1, Y: q.Y1})
	}
	if max(b.X1-b.X0, b.Y1-b.Y0) > large {
		r.d.note("the contour is " + size(r.d.Pieces) + " mm, and its numbers have no point: a control may read " + n + " as " + n[:len(n)-3] + "." + n[len(n)-3:] + ". If that is meant, write the points")
	}
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
	comma  bool // a comma stands before it
}

// blockWords splits a line into words; remarks in round brackets and after a
// semicolon are left out. stroke tells that the block may be skipped.
func blockWords(line string, no int) (out []word, stroke bool, err error) {
	comma := false
	for i := 0; i < len(line); {
		c := line[i]
		switch {
		case c == ' ' || c == '\t' || c == '%':
			i++
		case c == ',':
			comma = true
			i++
		case c == '/':
			stroke = true
			for i++; i < len(line) && line[i] >= '0' && line[i] <= '9'; { // which switch skips it
				i++
			}
		case c == ';':
			return out, stroke, nil
		case c == '(':
			end := strings.IndexByte(line[i:], ')')
			if end < 0 {
				return nil, stroke, &Error{no, "a remark that does not close"}
			}
			i += end + 1
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			j := i + 1
			for j < len(line) && strings.IndexByte("+-.,0123456789 \t", line[j]) >= 0 {
				j++
			}
			value := strings.ReplaceAll(strings.ReplaceAll(line[i+1:j], " ", ""), "\t", "")
			w := word{c &^ 0x20, value, comma}
			// A comma at the end belongs to the next word: X10,R2.
			comma = strings.HasSuffix(value, ",")
			w.value = strings.ReplaceAll(strings.TrimSuffix(value, ","), ",", ".")
			out = append(out, w)
			i = j
		default:
			return nil, stroke, &Error{no, "“" + short(line[i:]) + "” is no word of a program"}
		}
	}
	return out, stroke, nil
}
