package drawing

import (
	"math"
	"strconv"

	"kerfbook/wasm/geom"
)

// chain makes closed contours of the pieces: twins are dropped, ends that meet
// within the tolerance are joined, loose ends are cut back, and what is left
// open is named with its place.
func (d *Drawing) chain(o Options) {
	pieces := d.turns(d.distinct(), o.Tolerance)
	at, node, widest := join(pieces, o.Tolerance)
	if widest > 1e-6 {
		d.note("ends up to " + micrometres(widest) + " apart were joined; the tolerance is " + micrometres(o.Tolerance))
	}
	pieces, node = d.loose(pieces, at, node)
	closed := d.follow(pieces, node)
	var out []geom.Contour
	chords, arcs, worst := 0, 0, 0.0
	for _, c := range closed {
		if o.Chords > 0 {
			n, a, w := 0, 0, 0.0
			c, n, a, w = recognise(c, o.Chords)
			chords, arcs, worst = chords+n, arcs+a, max(worst, w)
		}
		out = append(out, c)
	}
	if chords > 0 {
		d.note(strconv.Itoa(chords) + " chords were taken as " + strconv.Itoa(arcs) + " arcs; no chord's end is more than " + micrometres(worst) + " off")
	}
	d.Contours = out
	d.crossings()
}

func micrometres(mm float64) string {
	v := mm * 1000
	digits := 1
	if v < 0.1 {
		digits = 4
	}
	return strconv.FormatFloat(v, 'f', digits, 64) + " µm"
}

func place(p geom.Point) string {
	f := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64) }
	return "(" + f(p.X) + ", " + f(p.Y) + ")"
}

// distinct drops pieces that lie on another, travelled either way.
func (d *Drawing) distinct() []geom.Piece {
	type key struct{ ax, ay, bx, by, mx, my int64 }
	q := func(v float64) int64 { return int64(math.Round(v * 1e7)) }
	seen := map[key]bool{}
	var out []geom.Piece
	twins := 0
	for _, e := range d.Pieces {
		a, b, m := e.A, e.B, e.At(0.5)
		if b.X < a.X || b.X == a.X && b.Y < a.Y {
			a, b = b, a
		}
		k := key{q(a.X), q(a.Y), q(b.X), q(b.Y), q(m.X), q(m.Y)}
		if seen[k] {
			twins++
			continue
		}
		seen[k] = true
		out = append(out, e.Piece)
	}
	if twins > 0 {
		d.note(strconv.Itoa(twins) + " pieces lie exactly on others and were left out")
	}
	return out
}

// turns closes arcs of almost a turn, whose ends would fall on each other.
func (d *Drawing) turns(pieces []geom.Piece, tol float64) []geom.Piece {
	out := pieces[:0:0]
	for _, p := range pieces {
		if p.R == 0 || p.A.Dist(p.B) > tol || p.Len() < 4*tol {
			out = append(out, p)
			continue
		}
		if p.A != p.B {
			d.note("an arc of almost a turn was closed")
		}
		half := math.Copysign(math.Pi, p.Sweep)
		out = append(out, geom.About(p.C, p.R, p.Start, half), geom.About(p.C, p.R, p.Start+half, half))
	}
	return out
}

// join gives each end of each piece the number of its place; ends within the
// tolerance share one. widest is the largest distance bridged.
func join(pieces []geom.Piece, tol float64) (at []geom.Point, node [][2]int, widest float64) {
	cells := map[[2]int64][]int{}
	cell := 4 * tol
	find := func(p geom.Point) int {
		x, y := int64(math.Floor(p.X/cell)), int64(math.Floor(p.Y/cell))
		best, near := -1, tol*(1+1e-9)
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for _, i := range cells[[2]int64{x + dx, y + dy}] {
					if l := at[i].Dist(p); l <= near {
						best, near = i, l
					}
				}
			}
		}
		if best >= 0 {
			widest = max(widest, near)
			return best
		}
		at = append(at, p)
		cells[[2]int64{x, y}] = append(cells[[2]int64{x, y}], len(at)-1)
		return len(at) - 1
	}
	node = make([][2]int, len(pieces))
	for i, p := range pieces {
		node[i] = [2]int{find(p.A), find(p.B)}
		a, b := at[node[i][0]], at[node[i][1]]
		if a != p.A || b != p.B { // the piece ends where its neighbours do
			if node[i][0] == node[i][1] {
				continue
			}
			pieces[i] = geom.Bulge(a, b, p.Bulge())
			if p.R == 0 {
				pieces[i] = geom.Line(a, b)
			}
		}
	}
	return at, node, widest
}

// loose cuts back what ends in the air: construction lines, lines drawn too far.
// A contour that is open as a whole is kept, to be named.
func (d *Drawing) loose(pieces []geom.Piece, at []geom.Point, node [][2]int) ([]geom.Piece, [][2]int) {
	degree := make([]int, len(at))
	for _, n := range node {
		degree[n[0]]++
		degree[n[1]]++
	}
	gone := make([]bool, len(pieces))
	for i, n := range node {
		if n[0] == n[1] { // shorter than the tolerance
			gone[i] = true
			degree[n[0]] -= 2
		}
	}
	// A branch is cut back to the place where three meet.
	touching := make([][]int, len(at))
	for i, n := range node {
		if !gone[i] {
			touching[n[0]], touching[n[1]] = append(touching[n[0]], i), append(touching[n[1]], i)
		}
	}
	cut := 0
	for start := range at {
		if degree[start] != 1 {
			continue
		}
		var branch []int
		here := start
		for degree[here] == 1 || degree[here] == 2 && len(branch) > 0 {
			next := -1
			for _, i := range touching[here] {
				if !gone[i] && (len(branch) == 0 || i != branch[len(branch)-1]) {
					next = i
				}
			}
			if next < 0 {
				break
			}
			branch = append(branch, next)
			if node[next][0] == here {
				here = node[next][1]
			} else {
				here = node[next][0]
			}
			if len(branch) > len(pieces) {
				break
			}
		}
		if degree[here] >= 3 {
			for _, i := range branch {
				gone[i] = true
				degree[node[i][0]]--
				degree[node[i][1]]--
				cut++
			}
		}
	}
	if cut > 0 {
		d.note(strconv.Itoa(cut) + " pieces that end in the air were left out")
	}
	for i, n := range degree {
		if n == 1 {
			near, gap := -1, math.Inf(1)
			for j, m := range degree {
				if m == 1 && j != i && at[j].Dist(at[i]) < gap {
					near, gap = j, at[j].Dist(at[i])
				}
			}
			text := "an end that meets nothing"
			if near >= 0 {
				text += "; the nearest other is " + strconv.FormatFloat(gap, 'f', 4, 64) + " mm away, at " + place(at[near])
			}
			if len(d.Open) < 200 {
				d.Open = append(d.Open, Place{at[i], text})
			}
		}
	}
	var keep []geom.Piece
	var ends [][2]int
	for i := range pieces {
		if !gone[i] {
			keep, ends = append(keep, pieces[i]), append(ends, node[i])
		}
	}
	return keep, ends
}

// follow walks the pieces from place to place. Where more than two meet it takes
// the sharpest turn to the left, so that contours that touch stay apart.
func (d *Drawing) follow(pieces []geom.Piece, node [][2]int) []geom.Contour {
	most := 0
	for _, n := range node {
		most = max(most, n[0]+1, n[1]+1)
	}
	touching := make([][]int, most)
	for i, n := range node {
		touching[n[0]], touching[n[1]] = append(touching[n[0]], i), append(touching[n[1]], i)
	}
	used := make([]bool, len(pieces))
	var out []geom.Contour
	for first := range pieces {
		if used[first] {
			continue
		}
		var c geom.Contour
		start, here, at := node[first][0], node[first][1], first
		p := pieces[first]
		for {
			used[at] = true
			c = append(c, p)
			if here == start {
				out = append(out, c)
				break
			}
			best, turn := -1, math.Inf(-1)
			var piece geom.Piece
			u := p.Dir(1)
			for _, i := range touching[here] {
				if used[i] {
					continue
				}
				q := pieces[i]
				if node[i][0] != here {
					q = q.Back()
				}
				v := q.Dir(0)
				if a := math.Atan2(u.Cross(v), u.Dot(v)); a > turn {
					best, turn, piece = i, a, q
				}
			}
			if best < 0 {
				break
			}
			at, p = best, piece
			if node[best][0] == here {
				here = node[best][1]
			} else {
				here = node[best][0]
			}
		}
	}
	return out
}

// crossings names where contours meet themselves or each other.
func (d *Drawing) crossings() {
	var all []geom.Piece
	var next []int
	total := 0.0
	for _, c := range d.Contours {
		first := len(all)
		for i, p := range c {
			all = append(all, p)
			next = append(next, first+(i+1)%len(c))
			total += p.Len()
		}
	}
	if len(all) == 0 {
		return
	}
	g := geom.NewGrid(all, total/float64(len(all)))
	var found []geom.Crossing
	count := 0
	for i, p := range all {
		g.Near(p.Box(), func(j int) bool {
			if j <= i {
				return true
			}
			var along bool
			found, along = geom.Cross(p, all[j], found[:0])
			if along {
				count++
				d.open(p.At(0.5), "pieces lie on each other")
				return true
			}
			for _, c := range found {
				ends := (c.T < 1e-7 || c.T > 1-1e-7) && (c.U < 1e-7 || c.U > 1-1e-7)
				if ends && (next[i] == j || next[j] == i) {
					continue
				}
				if math.Min(c.At.Dist(p.A), c.At.Dist(p.B)) < 1e-7 && math.Min(c.At.Dist(all[j].A), c.At.Dist(all[j].B)) < 1e-7 {
					continue // contours that touch in a point
				}
				count++
				d.open(c.At, "the contour crosses itself or another")
			}
			return true
		})
	}
	if count > 0 {
		d.note("contours cross in " + strconv.Itoa(count) + " places: what is inside is not clear there")
	}
}

func (d *Drawing) open(p geom.Point, text string) {
	if len(d.Open) < 200 {
		d.Open = append(d.Open, Place{p, text})
	}
}

// The chords that are taken for arcs: each turns by at most chordTurn and stands
// at most sagitta off its arc, and there are at least fewest of them.
const (
	chordTurn = 16 * math.Pi / 180
	sagitta   = 0.012 // mm
	fewest    = 3
)

// recognise turns runs of chords into arcs whose circles pass within tol of every
// chord's end. It returns how many chords became how many arcs, and the largest
// distance of an end from its arc.
func recognise(c geom.Contour, tol float64) (out geom.Contour, chords, arcs int, worst float64) {
	n := len(c)
	start := -1
	for i := range c { // begin at a corner, so that no run goes over the seam
		if !smooth(c[(i+n-1)%n], c[i]) {
			start = i
			break
		}
	}
	if start < 0 {
		start = 0
	}
	c = append(append(geom.Contour{}, c[start:]...), c[:start]...)
	for i := 0; i < n; {
		j := runEnd(c, i)
		for i < j {
			k, piece, off := longest(c, i, j, tol)
			if k-i < fewest {
				out = append(out, c[i])
				i++
				continue
			}
			for _, p := range piece {
				out = append(out, p)
				arcs++
			}
			chords += k - i
			worst = max(worst, off)
			i = k
		}
		if j == i && i < n && c[i].R != 0 {
			out = append(out, c[i])
			i++
		}
	}
	return out, chords, arcs, worst
}

// smooth reports whether two lines meet at a small angle.
func smooth(p, q geom.Piece) bool {
	if p.R != 0 || q.R != 0 {
		return false
	}
	u, v := p.Dir(0), q.Dir(0)
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < math.Sin(chordTurn)
}

// runEnd is the end of the run of chords that begins at i.
func runEnd(c geom.Contour, i int) int {
	if c[i].R != 0 {
		return i
	}
	j := i + 1
	for j < len(c) && c[j].R == 0 && smooth(c[j-1], c[j]) {
		j++
	}
	return j
}

// longest finds the most chords from i, below end, that one circle takes.
func longest(c geom.Contour, i, end int, tol float64) (k int, arc []geom.Piece, off float64) {
	best, step := i, fewest
	for i+step <= end {
		a, o, ok := circleOf(c, i, i+step, tol)
		if !ok {
			break
		}
		best, arc, off = i+step, a, o
		step *= 2
	}
	if best == i {
		return i, nil, 0
	}
	lo, hi := best, min(end+1, i+step)
	for hi-lo > 1 {
		m := (lo + hi) / 2
		if a, o, ok := circleOf(c, i, m, tol); ok {
			lo, arc, off = m, a, o
		} else {
			hi = m
		}
	}
	return lo, arc, off
}

// circleOf is the arc through the first, the middle and the last end of chords i
// to k, if every end lies on it within tol and no chord is too long for it. A
// whole circle comes as two arcs.
func circleOf(c geom.Contour, i, k int, tol float64) (arc []geom.Piece, off float64, ok bool) {
	a, m, b := c[i].A, c[(i+k)/2].A, c[k-1].B
	whole := a.Dist(b) < 1e-9
	p, q := m, b
	if whole {
		p, q = c[i+(k-i)/3].A, c[i+2*(k-i)/3].A
	}
	centre, r, good := through(a, p, q)
	if !good || r > 1e5 {
		return nil, 0, false
	}
	turn := c[i].Dir(0).Cross(c[i+1].Dir(0))
	for n := i; n < k; n++ {
		d := math.Abs(c[n].B.Dist(centre) - r)
		if d > tol {
			return nil, 0, false
		}
		off = max(off, d)
		l := c[n].Len()
		if l > r || r-math.Sqrt(r*r-l*l/4) > sagitta {
			return nil, 0, false
		}
		if n+1 < k && c[n].Dir(0).Cross(c[n+1].Dir(0))*turn < 0 {
			return nil, 0, false
		}
	}
	if whole {
		return []geom.Piece{geom.Arc(a, m, centre, turn > 0), geom.Arc(m, b, centre, turn > 0)}, off, true
	}
	return []geom.Piece{geom.Arc(a, b, centre, turn > 0)}, off, true
}

// through is the circle through three points.
func through(a, b, c geom.Point) (centre geom.Point, r float64, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	if math.Abs(d) < 1e-14*u.Len()*v.Len() || d == 0 {
		return geom.Point{}, 0, false
	}
	uu, vv := u.Dot(u), v.Dot(v)
	o := geom.Point{X: (v.Y*uu - u.Y*vv) / d, Y: (u.X*vv - v.X*uu) / d}
	return a.Add(o), o.Len(), true
}
