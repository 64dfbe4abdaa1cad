package geom

import "math"

// Grid finds the pieces near a place. Its cells are square; each holds the
// numbers of the pieces that may touch it.
type Grid struct {
	pieces []Piece
	box    Box
	cell   float64
	nx, ny int
	first  []int32 // where each cell's list begins in items
	items  []int32
	seen   []int32 // last question that looked at a piece
	asked  int32
}

// NewGrid makes a grid over pieces with cells of about the given size; their
// number stays within a few times that of the pieces.
func NewGrid(pieces []Piece, cell float64) *Grid {
	g := &Grid{pieces: pieces, box: Nothing(), seen: make([]int32, len(pieces))}
	for _, p := range pieces {
		b := p.Box()
		g.box.Take(Point{b.X0, b.Y0})
		g.box.Take(Point{b.X1, b.Y1})
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
	g.nx, g.ny = int(w/g.cell)+1, int(h/g.cell)+1
	count := make([]int32, g.nx*g.ny+1)
	for _, p := range pieces {
		g.touch(p, func(c int) { count[c+1]++ })
	}
	for i := 1; i < len(count); i++ {
		count[i] += count[i-1]
	}
	g.first = count
	g.items = make([]int32, count[len(count)-1])
	at := append([]int32(nil), count[:len(count)-1]...)
	for i, p := range pieces {
		g.touch(p, func(c int) {
			g.items[at[c]] = int32(i)
			at[c]++
		})
	}
	return g
}

func (g *Grid) column(x float64) int {
	return max(0, min(g.nx-1, int((x-g.box.X0)/g.cell)))
}

func (g *Grid) row(y float64) int {
	return max(0, min(g.ny-1, int((y-g.box.Y0)/g.cell)))
}

// touch calls fn for each cell that a piece may touch. A long slanted line takes
// its cells column by column; an arc those of its quarters' boxes.
func (g *Grid) touch(p Piece, fn func(cell int)) {
	if p.R != 0 && math.Abs(p.Sweep) > math.Pi/2+1e-9 && p.R > g.cell {
		n := int(math.Ceil(math.Abs(p.Sweep) / (math.Pi / 4)))
		// Neighbouring quarters share cells; a piece may then stand twice in one,
		// which a question sorts out.
		for i := range n {
			g.touch(p.Cut(float64(i)/float64(n), float64(i+1)/float64(n)), fn)
		}
		return
	}
	b := p.Box()
	x0, x1 := g.column(b.X0), g.column(b.X1)
	if p.R == 0 && x1 > x0 {
		for x := x0; x <= x1; x++ {
			left, right := g.box.X0+float64(x)*g.cell, g.box.X0+float64(x+1)*g.cell
			ya, yb := p.yAt(max(left, b.X0)), p.yAt(min(right, b.X1))
			slack := g.cell * 1e-9
			for y := g.row(min(ya, yb) - slack); y <= g.row(max(ya, yb)+slack); y++ {
				fn(y*g.nx + x)
			}
		}
		return
	}
	for y := g.row(b.Y0); y <= g.row(b.Y1); y++ {
		for x := x0; x <= x1; x++ {
			fn(y*g.nx + x)
		}
	}
}

// yAt is the height of a straight piece at x.
func (p Piece) yAt(x float64) float64 {
	if p.A.X == p.B.X {
		return p.A.Y
	}
	return p.A.Y + (x-p.A.X)/(p.B.X-p.A.X)*(p.B.Y-p.A.Y)
}

// Near calls fn once for each piece that may come into a box, until fn says
// false.
func (g *Grid) Near(b Box, fn func(i int) bool) {
	if len(g.pieces) == 0 || !b.Meets(g.box) {
		return
	}
	g.asked++
	for y := g.row(b.Y0); y <= g.row(b.Y1); y++ {
		for x := g.column(b.X0); x <= g.column(b.X1); x++ {
			c := y*g.nx + x
			for _, i := range g.items[g.first[c]:g.first[c+1]] {
				if g.seen[i] == g.asked {
					continue
				}
				g.seen[i] = g.asked
				if !fn(int(i)) {
					return
				}
			}
		}
	}
}

// Closer reports whether any piece comes closer to a point than a distance.
func (g *Grid) Closer(p Point, d float64) bool {
	found := false
	g.Near(Box{p.X - d, p.Y - d, p.X + d, p.Y + d}, func(i int) bool {
		if g.pieces[i].Dist(p) < d {
			found = true
		}
		return !found
	})
	return found
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
