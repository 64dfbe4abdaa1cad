// Package figure holds a technical drawing as values: lines with their meaning
// (visible outline, thin line, centre line, hatching), dimensions and labels.
// panel writes it as SVG; Conflicts finds labels that meet. Coordinates are the
// drawing's own, x to the right and y down, about one unit a pixel on a phone.
//
// It may import the standard library's number and text packages only.
package figure

// Line is the meaning of a line, after ISO 128.
type Line uint8

// The kinds of line.
const (
	Outline Line = iota // thick visible outline
	Thin                // thin continuous: dimensions, leaders
	Centre              // long-dash-dot thin
	Hidden              // dashed: reach of the spark, hidden edges
	Wire                // the wire's own section, filled
	Accent              // thick accent: what the answer is about
)

// Point is a place on the drawing.
type Point struct{ X, Y float64 }

// Segment is a straight piece or, with R not 0, an arc from the point before
// to To. Sweep is true for a turn that is clockwise on the screen.
type Segment struct {
	To    Point
	R     float64
	Large bool
	Sweep bool
}

// Path is one stroked line.
type Path struct {
	Line   Line
	From   Point
	Segs   []Segment
	Closed bool
	Hatch  bool // the closed path is hatched as cut material, not stroked
	Fill   bool // filled with the wire's tint
}

// Circle is a full circle.
type Circle struct {
	Line Line
	At   Point
	R    float64
	Fill bool
}

// Label is a piece of text. Anchor is -1 for text that starts at At, 0 for
// centred, 1 for text that ends there. At is on the base line.
type Label struct {
	At     Point
	Text   string
	Anchor int
	Strong bool
	// Leader, when HasLeader, is the place the label points at.
	Leader    Point
	HasLeader bool
}

// Dimension is a dimension line between two points with its text. Shift moves
// the dimension line away from the points, at right angles, to the left of A->B.
// Outside puts the arrow heads outside and the text beyond B, for narrow sizes.
type Dimension struct {
	A, B    Point
	Shift   float64
	Text    string
	Outside bool
}

// Bar is a range on a scale with its likely value, for plans and plots.
type Bar struct {
	At     Point // left end of the scale
	Length float64
	Height float64
	From   float64 // 0 to 1 along the scale
	To     float64
	Likely float64
	Weight uint8 // 0 open, 1 hatched, 2 filled: survives print in grey
}

// Drawing is a whole figure.
type Drawing struct {
	Title      string // what it shows, a short line under it
	Alt        string // what a reader who cannot see it must know
	W, H       float64
	ToScale    bool
	Paths      []Path
	Circles    []Circle
	Labels     []Label
	Dimensions []Dimension
	Bars       []Bar
}

// New starts a drawing of the given size.
func New(title, alt string, w, h float64, toScale bool) *Drawing {
	return &Drawing{Title: title, Alt: alt, W: w, H: h, ToScale: toScale}
}

// Line adds a straight line.
func (d *Drawing) Line(kind Line, x1, y1, x2, y2 float64) {
	d.Paths = append(d.Paths, Path{Line: kind, From: Point{x1, y1}, Segs: []Segment{{To: Point{x2, y2}}}})
}

// Poly adds a polyline through the points.
func (d *Drawing) Poly(kind Line, closed bool, pts ...Point) {
	if len(pts) < 2 {
		return
	}
	p := Path{Line: kind, From: pts[0], Closed: closed}
	for _, q := range pts[1:] {
		p.Segs = append(p.Segs, Segment{To: q})
	}
	d.Paths = append(d.Paths, p)
}

// Add adds a path.
func (d *Drawing) Add(p Path) { d.Paths = append(d.Paths, p) }

// Circle adds a circle.
func (d *Drawing) Circle(kind Line, x, y, r float64, fill bool) {
	d.Circles = append(d.Circles, Circle{Line: kind, At: Point{x, y}, R: r, Fill: fill})
}

// Cross adds the two centre lines of a circle that reach over it by over.
func (d *Drawing) Cross(x, y, r, over float64) {
	d.Line(Centre, x-r-over, y, x+r+over, y)
	d.Line(Centre, x, y-r-over, x, y+r+over)
}

// Label adds a text.
func (d *Drawing) Label(x, y float64, text string, anchor int) {
	d.Labels = append(d.Labels, Label{At: Point{x, y}, Text: text, Anchor: anchor})
}

// Point adds a text with a leader to a place.
func (d *Drawing) Point(x, y float64, text string, anchor int, toX, toY float64) {
	d.Labels = append(d.Labels, Label{At: Point{x, y}, Text: text, Anchor: anchor, Leader: Point{toX, toY}, HasLeader: true})
}

// Dim adds a dimension.
func (d *Drawing) Dim(a, b Point, shift float64, text string, outside bool) {
	d.Dimensions = append(d.Dimensions, Dimension{A: a, B: b, Shift: shift, Text: text, Outside: outside})
}
