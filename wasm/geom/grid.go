package geom

import "math"

// Grid finds the pieces near a place. Its cells are square; each holds the
// numbers of the pieces that may touch it. A question may be asked while another
// is being answered.
type Grid struct {
	pieces []Piece
	boxes  []Box
	box    Box
	cell   float64
	nx, ny int
	first  []int32 // where each cell's list begins in items
	items  []int32
	seen   []int32 // last question that looked at a piece
	asked  int32
	left   int // looks that may still be taken
	spent  bool
	at     Point // where the last of them was taken
}

// NewGrid makes a grid over pieces with cells of about the given size. Their
// number stays within a few times that of the pieces, and so do the places in
// their lists: long pieces in great number get larger cells.
func NewGrid(pieces []Piece, cell float64) *Grid {
	g := &Grid{pieces: pieces, boxes: make([]Box, len(pieces)), box: Nothing(), seen: make([]int32, len(pieces)), left: math.MaxInt}
	for i := range pieces {
		g.boxes[i] = pieces[i].Box()
		g.box.TakeBox(&g.boxes[i])
	}
	if len(pieces) == 0 {
		g.box = Box{}
	}
	w, h := g.box.X1-g.box.X0, g.box.Y1-g.box.Y0
	most := float64(4*len(pieces) + 16)
	g.cell = max(cell, math.Sqrt(w*h/most))
	g.cell = max(g.cell, max(w, h)/most)
	if g.cell <= 0 || math.IsNaN(g.cell) {
		g.cell = 1
	}
	total := g.count()
	for total > 24*len(pieces)+1024 {
		g.cell *= 2
		total = g.count()
	}
	// Each cell's list is filled from its end, so that its place ends as its beginning.
	for i := 1; i < len(g.first); i++ {
		g.first[i] += g.first[i-1]
	}
	g.items = make([]int32, g.first[len(g.first)-1])
	for i := len(pieces) - 1; i >= 0; i-- {
		g.touch(&pieces[i], &g.boxes[i], int32(i))
	}
	return g
}

// Boxes are those of the pieces, in their order.
func (g *Grid) Boxes() []Box { return g.boxes }

// Cell is the size of its cells.
func (g *Grid) Cell() float64 { return g.cell }

// count lays the cells out and counts what each will hold; it gives up when there
// is more than a grid may hold.
func (g *Grid) count() (total int) {
	g.nx, g.ny = int((g.box.X1-g.box.X0)/g.cell)+1, int((g.box.Y1-g.box.Y0)/g.cell)+1
	if n := g.nx*g.ny + 1; n <= cap(g.first) {
		g.first = g.first[:n]
		clear(g.first)
	} else {
		g.first = make([]int32, n)
	}
	for i := range g.pieces {
		if i%64 == 0 && g.nx*g.ny > 1 && total > 24*len(g.pieces)+1024 {
			return total
		}
		total += g.touch(&g.pieces[i], &g.boxes[i], -1)
	}
	if g.nx*g.ny == 1 {
		total = 0 // no grid holds less
	}
	return total
}

// Bound lets the grid take so many looks more: at a cell, or at a piece in it.
// After them every question is answered as if there were no pieces.
func (g *Grid) Bound(looks int) { g.left, g.spent = looks, false }

// Spent reports whether the looks did not suffice, and where they ended: answers
// had since then are void.
func (g *Grid) Spent() (at Point, spent bool) { return g.at, g.spent }

// Left is how many looks may still be taken.
func (g *Grid) Left() int { return max(0, g.left) }

func (g *Grid) column(x float64) int {
	return max(0, min(g.nx-1, int((x-g.box.X0)/g.cell)))
}

func (g *Grid) row(y float64) int {
	return max(0, min(g.ny-1, int((y-g.box.Y0)/g.cell)))
}

// touch counts a piece in each cell that it may touch, when is is below zero, and
// else puts that number into their lists. It returns how many places it takes. A
// long slanted line takes its cells column by column; an arc those of its quarters'
// boxes.
func (g *Grid) touch(p *Piece, b *Box, is int32) (n int) {
	if p.R != 0 && math.Abs(p.Sweep) > math.Pi/2+1e-9 && p.R > g.cell {
		parts := int(math.Ceil(math.Abs(p.Sweep) / (math.Pi / 4)))
		// Neighbouring quarters share cells; a piece may then stand twice in one,
		// which a question sorts out.
		for i := range parts {
			k := i
			if is >= 0 {
				k = parts - 1 - i // lists are filled from their ends
			}
			part := p.Cut(float64(k)/float64(parts), float64(k+1)/float64(parts))
			own := part.Box()
			n += g.touch(&part, &own, is)
		}
		return n
	}
	x0, x1 := g.column(b.X0), g.column(b.X1)
	y0, y1 := g.row(b.Y0), g.row(b.Y1)
	slanted := p.R == 0 && x1 > x0
	for x := x0; x <= x1; x++ {
		if slanted {
			left, right := g.box.X0+float64(x)*g.cell, g.box.X0+float64(x+1)*g.cell
			ya, yb := p.yAt(max(left, b.X0)), p.yAt(min(right, b.X1))
			if ya > yb {
				ya, yb = yb, ya
			}
			slack := g.cell * 1e-9
			y0, y1 = g.row(ya-slack), g.row(yb+slack)
		}
		for c := y0*g.nx + x; c <= y1*g.nx+x; c += g.nx {
			if n++; is < 0 {
				g.first[c]++
			} else {
				g.first[c]--
				g.items[g.first[c]] = is
			}
		}
	}
	return n
}

// yAt is the height of a straight piece at x.
func (p *Piece) yAt(x float64) float64 {
	if p.A.X == p.B.X {
		return p.A.Y
	}
	return p.A.Y + (x-p.A.X)/(p.B.X-p.A.X)*(p.B.Y-p.A.Y)
}

// Near calls fn for each piece that may come into a box, until fn says false. It
// calls once for each, or twice where fn asks the grid itself.
func (g *Grid) Near(b Box, fn func(i int) bool) {
	if len(g.pieces) == 0 || !b.Meets(&g.box) || g.spent {
		return
	}
	// The number of this question is kept here: fn may ask others meanwhile.
	asked := g.ask()
	x0, x1 := g.column(b.X0), g.column(b.X1)
	for y, y1 := g.row(b.Y0), g.row(b.Y1); y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if !g.cellOf(y*g.nx+x, asked, Point{(b.X0 + b.X1) / 2, (b.Y0 + b.Y1) / 2}, fn) {
				return
			}
		}
	}
}

// Ray calls fn for each piece that may meet the ray from a point to smaller X.
func (g *Grid) Ray(p Point, fn func(i int)) {
	if len(g.pieces) == 0 || p.X < g.box.X0 || p.Y < g.box.Y0 || p.Y > g.box.Y1 || g.spent {
		return
	}
	asked := g.ask()
	row := g.row(p.Y) * g.nx
	for x := g.column(p.X); x >= 0; x-- {
		if !g.cellOf(row+x, asked, p, func(i int) bool { fn(i); return true }) {
			return
		}
	}
}

func (g *Grid) ask() int32 {
	if g.asked == math.MaxInt32 {
		clear(g.seen)
		g.asked = 0
	}
	g.asked++
	return g.asked
}

// cellOf calls fn for the pieces of a cell that a question has not seen.
func (g *Grid) cellOf(c int, asked int32, about Point, fn func(i int) bool) bool {
	list := g.items[g.first[c]:g.first[c+1]]
	if g.left -= 1 + len(list); g.left < 0 {
		g.spent, g.at = true, about
		return false
	}
	for k, i := range list {
		if g.seen[i] == asked {
			continue
		}
		g.seen[i] = asked
		if !fn(int(i)) {
			g.left += len(list) - 1 - k
			return false
		}
	}
	return true
}

// Closer reports whether any piece comes closer to a point than a distance. It is
// asked most, so it looks into the cells itself.
func (g *Grid) Closer(p Point, d float64) bool {
	b := Box{p.X - d, p.Y - d, p.X + d, p.Y + d}
	if len(g.pieces) == 0 || !b.Meets(&g.box) || g.spent {
		return false
	}
	asked := g.ask()
	x0, x1 := g.column(b.X0), g.column(b.X1)
	for y, y1 := g.row(b.Y0), g.row(b.Y1); y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			c := y*g.nx + x
			list := g.items[g.first[c]:g.first[c+1]]
			if g.left -= 1 + len(list); g.left < 0 {
				g.spent, g.at = true, Point{(b.X0 + b.X1) / 2, (b.Y0 + b.Y1) / 2}
				return false
			}
			for k, i := range list {
				if g.seen[i] == asked {
					continue
				}
				g.seen[i] = asked
				if o := &g.boxes[i]; o.X0 > b.X1 || o.X1 < b.X0 || o.Y0 > b.Y1 || o.Y1 < b.Y0 {
					continue
				}
				if g.pieces[i].Dist(p) < d {
					g.left += len(list) - 1 - k
					return true
				}
			}
		}
	}
	return false
}

// Distance is the distance from a point to the nearest piece, and that piece; -1
// when there is none within the limit.
func (g *Grid) Distance(p Point, limit float64) (float64, int) {
	best, at := limit, -1
	for d := min(g.cell, limit); ; d *= 2 {
		r := min(d, limit)
		g.Near(Box{p.X - r, p.Y - r, p.X + r, p.Y + r}, func(i int) bool {
			if x := g.pieces[i].Dist(p); x < best {
				best, at = x, i
			}
			return true
		})
		if best <= r || r >= limit {
			return best, at
		}
	}
}
