package geom

import "math"

// Grid finds the pieces near a place. Its cells are square; each holds the
// numbers of the pieces that may touch it. A question may be asked while another
// is being answered.
type Grid struct {
	pieces []Piece
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
	g := &Grid{pieces: pieces, box: Nothing(), seen: make([]int32, len(pieces)), left: math.MaxInt}
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
	count, total := g.count()
	for total > 24*len(pieces)+1024 {
		g.cell *= 2
		count, total = g.count()
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

// count lays the cells out and counts what each will hold, one place late; it
// gives up when there is more than a grid may hold.
func (g *Grid) count() (count []int32, total int) {
	g.nx, g.ny = int((g.box.X1-g.box.X0)/g.cell)+1, int((g.box.Y1-g.box.Y0)/g.cell)+1
	count = make([]int32, g.nx*g.ny+1)
	for i, p := range g.pieces {
		if i%64 == 0 && g.nx*g.ny > 1 && total > 24*len(g.pieces)+1024 {
			return count, total
		}
		g.touch(p, func(c int) {
			count[c+1]++
			total++
		})
	}
	if g.nx*g.ny == 1 {
		total = 0 // no grid holds less
	}
	return count, total
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

// Near calls fn for each piece that may come into a box, until fn says false. It
// calls once for each, or twice where fn asks the grid itself.
func (g *Grid) Near(b Box, fn func(i int) bool) {
	if len(g.pieces) == 0 || !b.Meets(g.box) || g.spent {
		return
	}
	// The number of this question is kept here: fn may ask others meanwhile.
	asked := g.ask()
	for y := g.row(b.Y0); y <= g.row(b.Y1); y++ {
		for x := g.column(b.X0); x <= g.column(b.X1); x++ {
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
