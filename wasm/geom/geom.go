// Package geom holds plane contours of straight pieces and true circular arcs,
// in millimetres: what a drawing is read into and what an offset is made of. It
// may import the standard library's number packages only.
package geom

import "math"

// Point is a place in the plane, in mm.
type Point struct{ X, Y float64 }

// Sub returns p - q as a vector.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add returns p moved by v.
func (p Point) Add(v Point) Point { return Point{p.X + v.X, p.Y + v.Y} }

// Mul returns the vector p times k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot is the scalar product of two vectors. The explicit conversions, here and in
// Cross, keep the compiler from fusing, so that native and wasm agree to the last bit.
func (p Point) Dot(q Point) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// Cross is the vector product of two vectors in the plane; it is positive when q
// lies to the left of p.
func (p Point) Cross(q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// Len is the length of a vector.
func (p Point) Len() float64 { return math.Sqrt(p.Dot(p)) }

// Dist is the distance between two points.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Len() }

// Left is the vector turned by a quarter to the left.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Unit is the vector of length 1 in its direction; zero stays zero.
func (p Point) Unit() Point {
	if l := p.Len(); l > 0 {
		return Point{p.X / l, p.Y / l}
	}
	return Point{}
}

// Piece is a straight piece, R 0, or an arc about C that starts at the angle
// Start and turns by Sweep, counter-clockwise when positive, at most one turn.
type Piece struct {
	A, B         Point
	C            Point
	R            float64
	Start, Sweep float64
}

// Line is the straight piece from a to b.
func Line(a, b Point) Piece { return Piece{A: a, B: b} }

// Arc is the arc from a to b about c, counter-clockwise or not. Equal ends give a
// full circle.
func Arc(a, b, c Point, ccw bool) Piece {
	p := Piece{A: a, B: b, C: c, R: (a.Dist(c) + b.Dist(c)) / 2}
	p.Start = math.Atan2(a.Y-c.Y, a.X-c.X)
	p.Sweep = math.Atan2(b.Y-c.Y, b.X-c.X) - p.Start
	if ccw {
		for p.Sweep <= 0 {
			p.Sweep += 2 * math.Pi
		}
	} else {
		for p.Sweep >= 0 {
			p.Sweep -= 2 * math.Pi
		}
	}
	return p
}

// About is the arc about c of radius r from a start angle over a sweep.
func About(c Point, r, start, sweep float64) Piece {
	return Piece{A: polar(c, r, start), B: polar(c, r, start+sweep), C: c, R: r, Start: start, Sweep: sweep}
}

func polar(c Point, r, a float64) Point {
	s, k := math.Sincos(a)
	return Point{c.X + r*k, c.Y + r*s}
}

// Bulge is the arc from a to b whose quarter sweep has this tangent: the
// way of DXF to write it. 0 is a straight piece.
func Bulge(a, b Point, bulge float64) Piece {
	d := b.Sub(a)
	l := d.Len()
	if bulge == 0 || l == 0 {
		return Line(a, b)
	}
	// From the chord's middle to the centre: (1 - b²) / 4b of the chord, to the left.
	k := (1 - bulge*bulge) / (4 * bulge)
	c := Point{(a.X+b.X)/2 - d.Y*k, (a.Y+b.Y)/2 + d.X*k}
	p := Piece{A: a, B: b, C: c, R: l * (1 + bulge*bulge) / (4 * math.Abs(bulge)), Sweep: 4 * math.Atan(bulge)}
	p.Start = math.Atan2(a.Y-c.Y, a.X-c.X)
	return p
}

// Bulge is the tangent of a quarter of the sweep.
func (p Piece) Bulge() float64 {
	if p.R == 0 {
		return 0
	}
	return math.Tan(p.Sweep / 4)
}

// IsArc tells an arc from a straight piece.
func (p Piece) IsArc() bool { return p.R != 0 }

// Len is the piece's length.
func (p Piece) Len() float64 {
	if p.R == 0 {
		return p.A.Dist(p.B)
	}
	return p.R * math.Abs(p.Sweep)
}

// At is the point at a share of the piece, 0 at A and 1 at B.
func (p Piece) At(t float64) Point {
	switch {
	case t == 0:
		return p.A
	case t == 1:
		return p.B
	case p.R == 0:
		return Point{p.A.X + (p.B.X-p.A.X)*t, p.A.Y + (p.B.Y-p.A.Y)*t}
	}
	return polar(p.C, p.R, p.Start+p.Sweep*t)
}

// Dir is the direction of travel at a share of the piece.
func (p Piece) Dir(t float64) Point {
	if p.R == 0 {
		return p.B.Sub(p.A).Unit()
	}
	d := p.At(t).Sub(p.C).Unit().Left()
	if p.Sweep < 0 {
		return Point{-d.X, -d.Y}
	}
	return d
}

// Cut is the part of the piece from share t0 to t1.
func (p Piece) Cut(t0, t1 float64) Piece {
	q := p
	q.A, q.B = p.At(t0), p.At(t1)
	if p.R != 0 {
		q.Start, q.Sweep = p.Start+p.Sweep*t0, p.Sweep*(t1-t0)
	}
	return q
}

// Back is the piece travelled the other way.
func (p Piece) Back() Piece {
	q := p
	q.A, q.B = p.B, p.A
	if p.R != 0 {
		q.Start, q.Sweep = p.Start+p.Sweep, -p.Sweep
	}
	return q
}

// Param is the share at which a point of the piece's line or circle stands.
func (p Piece) Param(q Point) float64 {
	if p.R == 0 {
		d := p.B.Sub(p.A)
		return q.Sub(p.A).Dot(d) / d.Dot(d)
	}
	a := math.Atan2(q.Y-p.C.Y, q.X-p.C.X) - p.Start
	turn := 2 * math.Pi
	// The turn that lies nearest to the sweep, seen from its middle.
	a -= turn * math.Round((a-p.Sweep/2)/turn)
	return a / p.Sweep
}

// faces reports whether the direction from the centre lies within the sweep.
func (p Piece) faces(v Point) bool {
	a, b := p.A.Sub(p.C), p.B.Sub(p.C)
	if p.Sweep < 0 {
		a, b = b, a
	}
	if math.Abs(p.Sweep) <= math.Pi {
		return a.Cross(v) >= 0 && v.Cross(b) >= 0
	}
	return !(b.Cross(v) > 0 && v.Cross(a) > 0)
}

// Dist is the distance from a point to the piece.
func (p Piece) Dist(q Point) float64 {
	if p.R == 0 {
		d, v := p.B.Sub(p.A), q.Sub(p.A)
		t := v.Dot(d)
		if t <= 0 {
			return v.Len()
		}
		if l := d.Dot(d); t < l {
			return math.Abs(d.Cross(v)) / math.Sqrt(l)
		}
		return q.Dist(p.B)
	}
	v := q.Sub(p.C)
	if p.faces(v) {
		return math.Abs(v.Len() - p.R)
	}
	return min(q.Dist(p.A), q.Dist(p.B))
}

// Nearest is the share of the point of the piece nearest to q.
func (p Piece) Nearest(q Point) float64 {
	if p.R == 0 {
		d := p.B.Sub(p.A)
		l := d.Dot(d)
		if l == 0 {
			return 0
		}
		return min(1, max(0, q.Sub(p.A).Dot(d)/l))
	}
	if v := q.Sub(p.C); p.faces(v) && (v.X != 0 || v.Y != 0) {
		return min(1, max(0, p.Param(q)))
	}
	if q.Dist(p.A) <= q.Dist(p.B) {
		return 0
	}
	return 1
}

// Box is an upright rectangle.
type Box struct{ X0, Y0, X1, Y1 float64 }

// Nothing is the box that holds nothing.
func Nothing() Box { return Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

// Take widens the box to hold a point.
func (b *Box) Take(p Point) {
	b.X0, b.Y0 = min(b.X0, p.X), min(b.Y0, p.Y)
	b.X1, b.Y1 = max(b.X1, p.X), max(b.Y1, p.Y)
}

// Meets reports whether two boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.X0 <= c.X1 && c.X0 <= b.X1 && b.Y0 <= c.Y1 && c.Y0 <= b.Y1
}

// Wide is the longer side.
func (b Box) Wide() float64 { return max(b.X1-b.X0, b.Y1-b.Y0) }

// Box is the piece's own box.
func (p Piece) Box() Box {
	b := Nothing()
	b.Take(p.A)
	b.Take(p.B)
	if p.R != 0 {
		for _, v := range [...]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} {
			if p.faces(v) {
				b.Take(Point{p.C.X + v.X*p.R, p.C.Y + v.Y*p.R})
			}
		}
	}
	return b
}

// area is the piece's share of the area of a contour: half the integral of
// x dy - y dx, about an origin near to it.
func (p Piece) area(o Point) float64 {
	a, b := p.A.Sub(o), p.B.Sub(o)
	s := a.Cross(b) / 2
	if p.R != 0 {
		s += p.R * p.R * (p.Sweep - math.Sin(p.Sweep)) / 2
	}
	return s
}

// Contour is a closed chain: each piece begins where the one before ends.
type Contour []Piece

// Area is the signed area, positive for a contour travelled counter-clockwise.
func (c Contour) Area() float64 {
	if len(c) == 0 {
		return 0
	}
	s := 0.0
	for _, p := range c {
		s += p.area(c[0].A)
	}
	return s
}

// Area is the sum of pieces' shares about one origin: the area of all contours
// they close together.
func Area(pieces []Piece, origin Point) float64 {
	s := 0.0
	for _, p := range pieces {
		s += p.area(origin)
	}
	return s
}

// Len is the contour's length.
func (c Contour) Len() float64 {
	s := 0.0
	for _, p := range c {
		s += p.Len()
	}
	return s
}

// Box is the contour's box.
func (c Contour) Box() Box {
	b := Nothing()
	for _, p := range c {
		q := p.Box()
		b.Take(Point{q.X0, q.Y0})
		b.Take(Point{q.X1, q.Y1})
	}
	return b
}

// Back is the contour travelled the other way.
func (c Contour) Back() Contour {
	out := make(Contour, 0, len(c))
	for i := len(c) - 1; i >= 0; i-- {
		out = append(out, c[i].Back())
	}
	return out
}

// Inside reports whether a point lies inside the contour, by its winding; a point
// on the contour may count either way.
func (c Contour) Inside(q Point) bool {
	w := 0.0
	for _, p := range c {
		w += p.Winding(q)
	}
	return math.Abs(w) > math.Pi
}

// Winding is the angle by which the view from q turns along the piece.
func (p Piece) Winding(q Point) float64 {
	a, b := p.A.Sub(q), p.B.Sub(q)
	w := math.Atan2(a.Cross(b), a.Dot(b))
	if p.R == 0 {
		return w
	}
	// Between chord and arc the two pass on different sides of q: a whole turn apart.
	if side := b.Sub(a).Cross(Point{-a.X, -a.Y}); q.Sub(p.C).Len() < p.R && (side < 0) == (p.Sweep > 0) && side != 0 {
		return w + math.Copysign(2*math.Pi, p.Sweep)
	}
	return w
}

// Passes is the piece's share of the winding about q, counted where the ray from q
// to smaller X is passed: the sum over a contour is its winding number. A ray
// through a vertex counts once, provided that pieces share their ends to the bit.
func (p Piece) Passes(q Point) int {
	// The ray counts as passing just above q, and so does q: above a level chord it is
	// on the side to which the chord's X says.
	side := p.B.Sub(p.A).Cross(q.Sub(p.A))
	if side == 0 {
		side = p.B.X - p.A.X
	}
	n := 0
	switch below, above := p.A.Y <= q.Y, p.B.Y <= q.Y; {
	case below && !above && side < 0:
		n = -1
	case !below && above && side >= 0:
		n = 1
	}
	if p.R == 0 || q.Sub(p.C).Len() >= p.R {
		return n
	}
	// Between chord and arc; the chord itself counts to its left.
	switch {
	case p.Sweep > 0 && (side < 0 || p.A == p.B):
		n++
	case p.Sweep < 0 && side >= 0:
		n--
	}
	return n
}

// Map is a similarity or a mirror of one: a point goes to (a x - s b y + e,
// b x + s a y + f), s being -1 for a mirror.
type Map struct {
	A, B, E, F float64
	Mirror     bool
}

// Moved is the map of a scale, a turn in rad and a shift.
func Moved(scale, turn float64, shift Point) Map {
	s, k := math.Sincos(turn)
	return Map{A: scale * k, B: scale * s, E: shift.X, F: shift.Y}
}

// Point applies the map.
func (m Map) Point(p Point) Point {
	s := 1.0
	if m.Mirror {
		s = -1
	}
	return Point{m.A*p.X - s*m.B*p.Y + m.E, m.B*p.X + s*m.A*p.Y + m.F}
}

// Piece applies the map to a piece; a mirror turns arcs the other way.
func (m Map) Piece(p Piece) Piece {
	q := Piece{A: m.Point(p.A), B: m.Point(p.B)}
	if p.R != 0 {
		q.C = m.Point(p.C)
		q.R = p.R * math.Hypot(m.A, m.B)
		q.Start = math.Atan2(q.A.Y-q.C.Y, q.A.X-q.C.X)
		q.Sweep = p.Sweep
		if m.Mirror {
			q.Sweep = -p.Sweep
		}
	}
	return q
}

// Contour applies the map to a contour.
func (m Map) Contour(c Contour) Contour {
	out := make(Contour, len(c))
	for i, p := range c {
		out[i] = m.Piece(p)
	}
	return out
}
