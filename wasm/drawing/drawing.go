// Package drawing reads the profile of a part from text: DXF as drawing programs
// write it (R12 and later, ASCII), SVG and its path data, or an ISO 6983
// contour. It gives pieces in millimetres, chains them to closed contours, and
// says everything that it ignored, repaired or could not read, with its place.
// It may import geom and the standard library's text and number packages.
package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// Limits on what is read: beyond them the text is refused with a message.
const (
	maxBytes  = 24 << 20
	maxPieces = 100_000
	maxDepth  = 16 // of inserts in inserts
)

// Drawing is what was read.
type Drawing struct {
	Form     string // "dxf", "svg", "iso 6983"
	Unit     string // as the text says; "" when it says nothing
	Pieces   []Entity
	Layers   []string // in order of appearance
	Notes    []string // ignored, repaired, assumed
	Contours []geom.Contour
	Open     []Place // ends that meet nothing
}

// Entity is a piece with where it came from.
type Entity struct {
	geom.Piece
	Layer string
	Line  int // of the text
}

// Place is a spot with what is wrong there.
type Place struct {
	At   geom.Point
	Text string
}

// Error is a text that cannot be read. Line is 0 for the whole text.
type Error struct {
	Line int
	Text string
}

func (e *Error) Error() string {
	if e.Line > 0 {
		return "line " + strconv.Itoa(e.Line) + ": " + e.Text
	}
	return e.Text
}

// Options say what the text may not say itself.
type Options struct {
	Unit      string  // "mm", "in" …; "" takes the text's own and refuses a text without
	Layer     string  // read only this one; "" reads all that are not switched off
	Tolerance float64 // mm within which ends that meet nothing are joined; 0 is 0.005 mm
	Chords    float64 // mm within which chords are taken for arcs; 0 is 0.0001 mm, below zero never
}

// scales are millimetres for each unit. By definition: 1 in is 25.4 mm.
func scale(unit string) (float64, bool) {
	switch unit {
	case "mm":
		return 1, true
	case "in":
		return 25.4, true
	case "cm":
		return 10, true
	case "m":
		return 1000, true
	case "µm", "um":
		return 0.001, true
	case "thou", "mil":
		return 0.0254, true
	case "µin":
		return 25.4e-6, true
	case "ft":
		return 304.8, true
	case "dm":
		return 100, true
	}
	return 0, false
}

// Read reads a drawing and chains its pieces.
func Read(text string, o Options) (*Drawing, error) {
	d, _, err := counted(text, o)
	return d, err
}

// counted reads and tells how much work it took.
func counted(text string, o Options) (*Drawing, int, error) {
	if o.Tolerance == 0 {
		o.Tolerance = 0.005
	}
	if o.Chords == 0 {
		o.Chords = curveError
	}
	if err := sane(text); err != nil {
		return nil, 0, err
	}
	text = strings.TrimPrefix(text, "\ufeff")
	if strings.Contains(text, "\r") { // line ends of other systems
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	}
	r := &reader{d: &Drawing{}, o: o, text: text, ignored: map[string]int{}, known: map[string]bool{}}
	err := r.read()
	if err != nil {
		return nil, r.steps, err
	}
	return r.d, r.steps, nil
}

func (r *reader) read() error {
	d, o := r.d, r.o
	var err error
	switch head := strings.TrimSpace(r.text); {
	case head == "":
		return &Error{0, "the drawing is empty"}
	case looksDXF(head):
		d.Form = "dxf"
		err = r.dxf()
	case strings.HasPrefix(head, "<"):
		d.Form = "svg"
		err = r.svg()
	case (head[0] == 'M' || head[0] == 'm') && looksPath(head):
		d.Form = "svg"
		err = r.path(head, 1, identity())
	default:
		d.Form = "iso 6983"
		err = r.words()
	}
	if err != nil {
		return err
	}
	r.tell()
	if len(d.Pieces) == 0 {
		return &Error{0, "the drawing holds no line and no arc" + r.instead()}
	}
	unit := d.Unit
	if o.Unit != "" {
		unit = o.Unit
	}
	k, ok := scale(unit)
	if !ok {
		return &Error{0, "the drawing does not say its unit: choose mm or in. It is " + size(d.Pieces) + " units wide and high"}
	}
	if o.Unit != "" && d.Unit != "" && o.Unit != d.Unit {
		d.note("the drawing says " + d.Unit + ", you say " + o.Unit + ": yours is taken")
	}
	m := geom.Map{A: k}
	for i := range d.Pieces {
		d.Pieces[i].Piece = m.Piece(d.Pieces[i].Piece)
	}
	d.Unit = unit
	r.doubtPoint()
	return r.chain()
}

// maxSteps bounds the work on one drawing, in steps of some tens of nanoseconds:
// what grows faster than the text is counted, so that a short text cannot ask for
// hours. A contour of 10,000 pieces takes about a fiftieth.
const maxSteps = 20_000_000

// spend counts work, and refuses when it is too much.
func (r *reader) spend(n, line int) error {
	if r.steps += n; r.steps > maxSteps || n < 0 {
		return &Error{line, "this drawing takes more work than a contour should: repeated blocks, or pieces that crowd one place. Export only the contour"}
	}
	return nil
}

// mostNotes is how many notes are kept.
const mostNotes = 100

func (d *Drawing) note(text string) {
	if len(d.Notes) > mostNotes {
		return
	}
	if len(d.Notes) == mostNotes {
		text = "there is more of this kind, which is not listed"
	}
	for _, n := range d.Notes {
		if n == text {
			return
		}
	}
	d.Notes = append(d.Notes, text)
}

// sane refuses what is no text.
func sane(text string) error {
	if len(text) > maxBytes {
		return &Error{0, "the drawing has " + strconv.Itoa(len(text)>>20) + " MB, at most " + strconv.Itoa(maxBytes>>20) + " MB are read: export only the contour"}
	}
	if len(text) > 1 && (text[0] == 0xff && text[1] == 0xfe || text[0] == 0xfe && text[1] == 0xff) {
		return &Error{0, "this text is UTF-16: save it as UTF-8"}
	}
	head := text[:min(len(text), 4096)]
	if strings.IndexFunc(head, func(r rune) bool { return r < 9 || r > 13 && r < 26 }) >= 0 {
		return &Error{0, "this is no text but a binary file: export the drawing as text, ASCII"}
	}
	return nil
}

func size(pieces []Entity) string {
	b := geom.Nothing()
	for _, p := range pieces {
		q := p.Box()
		b.Take(geom.Point{X: q.X0, Y: q.Y0})
		b.Take(geom.Point{X: q.X1, Y: q.Y1})
	}
	f := func(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }
	return f(b.X1-b.X0) + " by " + f(b.Y1-b.Y0)
}

// reader carries one reading.
type reader struct {
	d       *Drawing
	o       Options
	text    string
	ignored map[string]int // kinds of entity that are not read, and how many
	order   []string
	layers  map[string]bool // switched off or frozen, in capitals
	known   map[string]bool // layers that are listed
	steps   int             // work done
	weight  int             // steps that a point of the present curve takes
	twins   int             // pieces that lay on others
	z       span            // heights that the drawing gives
	counts  string          // the first polyline that miscounts its vertices
	wrong   int             // and how many do
	typed   pointless       // of a program's numbers
}

func (r *reader) ignore(kind string) {
	if r.ignored[kind] == 0 {
		r.order = append(r.order, kind)
	}
	r.ignored[kind]++
}

func (r *reader) tell() {
	var parts []string
	for i, k := range r.order {
		if i == mostKinds {
			parts = append(parts, "and "+strconv.Itoa(len(r.order)-i)+" kinds more")
			break
		}
		parts = append(parts, strconv.Itoa(r.ignored[k])+" "+k)
	}
	if len(parts) > 0 {
		r.d.note("not read: " + strings.Join(parts, ", "))
	}
}

func (r *reader) instead() string {
	if len(r.order) == 0 {
		return ""
	}
	return "; it holds " + strings.Join(r.order[:min(len(r.order), mostKinds)], ", ")
}

// mostKinds is how many kinds of what is not read are named.
const mostKinds = 20

// add takes a piece; one without length is counted, one that is no number refused.
func (r *reader) add(p geom.Piece, layer string, line int) error {
	for _, v := range [...]float64{p.A.X, p.A.Y, p.B.X, p.B.Y, p.R, p.Sweep} {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
			return &Error{line, "a coordinate is not a number that a drawing can have"}
		}
	}
	if len(r.d.Pieces) >= maxPieces {
		return &Error{line, "the drawing has more than " + strconv.Itoa(maxPieces) + " pieces: export only the contour, with arcs as arcs"}
	}
	if r.o.Layer != "" && !strings.EqualFold(layer, r.o.Layer) {
		r.ignore("on other layers")
		return nil
	}
	if p.R == 0 && p.A == p.B {
		r.ignore("pieces without length")
		return nil
	}
	if !r.known[layer] && len(r.d.Layers) < 200 {
		r.known[layer] = true
		r.d.Layers = append(r.d.Layers, layer)
	}
	r.d.Pieces = append(r.d.Pieces, Entity{p, layer, line})
	return nil
}

// circle adds a full circle as two halves.
func (r *reader) circle(c geom.Point, radius float64, layer string, line int) error {
	if err := r.add(geom.About(c, radius, 0, math.Pi), layer, line); err != nil {
		return err
	}
	return r.add(geom.About(c, radius, math.Pi, math.Pi), layer, line)
}

// number reads a number as drawing programs write it.
func number(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s, "xXpP_nNiI") {
		return 0, false
	}
	if i := strings.IndexAny(s, "dD"); i >= 0 { // an exponent as old programs write it
		s = s[:i] + "e" + s[i+1:]
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0)
}
