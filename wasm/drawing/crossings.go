package drawing

import (
	"math"
	"strconv"

	"kerfbook/wasm/geom"
)

// mostOpen and mostCrossings are how many places are listed, and how many
// crossings are looked for.
const (
	mostOpen      = 200
	mostCrossings = 10_000
)

func (d *Drawing) open(p geom.Point, text string) {
	if len(d.Open) < mostOpen {
		d.Open = append(d.Open, Place{p, text})
	}
}

// meeting looks for crossings among the pieces of closed contours.
type meeting struct {
	r     *reader
	all   []geom.Piece
	boxes []geom.Box
	next  []int // the piece that follows
	found []geom.Crossing
	count int
	fault error
}

// crossings names where contours meet themselves or each other.
func (r *reader) crossings() error {
	m := &meeting{r: r}
	for _, c := range r.d.Contours {
		first := len(m.all)
		for i, p := range c {
			m.all, m.boxes = append(m.all, p), append(m.boxes, p.Box())
			m.next = append(m.next, first+(i+1)%len(c))
		}
	}
	if len(m.all) == 0 {
		return nil
	}
	if m.fault = r.spend(20*len(m.all), 0); m.fault != nil {
		return m.fault
	}
	n := len(m.all)
	x, y := [2][]float64{make([]float64, n), make([]float64, n)}, [2][]float64{make([]float64, n), make([]float64, n)}
	for i, b := range m.boxes {
		x[0][i], x[1][i], y[0][i], y[1][i] = b.X0, b.X1, b.Y0, b.Y1
	}
	orderX, pairs := abreast(x)
	orderY, other := abreast(y)
	if other < pairs {
		orderX, x, pairs = orderY, y, other
	}
	if pairs < mostPairs {
		m.sweep(orderX, x)
	} else {
		m.grid()
	}
	if m.count >= mostCrossings {
		r.d.note("contours cross in " + strconv.Itoa(mostCrossings) + " places or more: what is inside is not clear there")
	} else if m.count > 0 {
		r.d.note("contours cross in " + strconv.Itoa(m.count) + " places: what is inside is not clear there")
	}
	return m.fault
}

// mostPairs is how many pieces may lie abreast, pair by pair, for a sweep: it is
// the better way for long pieces side by side, the grid for short ones.
const mostPairs = 3_000_000

// abreast counts the pairs of spans that overlap: at each beginning those that have
// begun and not ended. It returns the order of the beginnings too.
func abreast(span [2][]float64) (order []int, n int) {
	order = byKey(span[0])
	ends := byKey(span[1])
	ended := 0
	for k, i := range order {
		for span[1][ends[ended]] < span[0][i] {
			ended++
		}
		n += k - ended
	}
	return order, n
}

// sweep holds each piece against those that begin before it ends.
func (m *meeting) sweep(order []int, span [2][]float64) {
	for k, i := range order {
		for _, j := range order[k+1:] {
			if span[0][j] > span[1][i] {
				break
			}
			if !m.meet(min(i, j), max(i, j)) {
				return
			}
		}
	}
}

// grid holds each piece against those in the same cells. A long piece is looked
// along in parts: its box may hold all the others.
func (m *meeting) grid() {
	total, b := 0.0, geom.Nothing()
	for i, p := range m.all {
		total += p.Len()
		b.Take(geom.Point{X: m.boxes[i].X0, Y: m.boxes[i].Y0})
		b.Take(geom.Point{X: m.boxes[i].X1, Y: m.boxes[i].Y1})
	}
	n := float64(len(m.all))
	cell := max(total/n/4, math.Sqrt((b.X1-b.X0)*(b.Y1-b.Y0)/(4*n+16))) // no finer than the grid's own
	g := geom.NewGrid(m.all, cell)
	looked := make([]int, len(m.all)) // the last piece that was held against this one, from 1
	for i, p := range m.all {
		on := true
		hold := func(j int) bool {
			switch {
			case j <= i:
				on = m.spend(1)
			case looked[j] <= i:
				looked[j] = i + 1
				on = m.meet(i, j)
			}
			return on
		}
		q := m.boxes[i]
		parts := max(1, int(math.Ceil(max(q.X1-q.X0, q.Y1-q.Y0)/cell)))
		for k := range parts {
			part := p
			if parts > 1 {
				part = p.Cut(float64(k)/float64(parts), float64(k+1)/float64(parts))
			}
			if g.Near(part.Box(), hold); !on || !m.spend(1) {
				return
			}
		}
	}
}

func (m *meeting) spend(n int) bool {
	m.fault = m.r.spend(n, 0)
	return m.fault == nil
}

// meet holds two pieces against each other, the earlier first; false ends the
// search.
func (m *meeting) meet(i, j int) bool {
	if !m.boxes[i].Meets(&m.boxes[j]) {
		return m.spend(1)
	}
	if !m.spend(5) {
		return false
	}
	p, q := &m.all[i], &m.all[j]
	var along bool
	m.found, along = geom.Cross(p, q, m.found[:0])
	if along {
		m.count++
		m.r.d.open(p.At(0.5), "pieces lie on each other")
		return m.count < mostCrossings
	}
	for _, c := range m.found {
		ends := (c.T < 1e-7 || c.T > 1-1e-7) && (c.U < 1e-7 || c.U > 1-1e-7)
		if ends && (m.next[i] == j || m.next[j] == i) {
			continue
		}
		if math.Min(c.At.Dist(p.A), c.At.Dist(p.B)) < 1e-7 && math.Min(c.At.Dist(q.A), c.At.Dist(q.B)) < 1e-7 {
			continue // contours that touch in a point
		}
		m.count++
		m.r.d.open(c.At, "the contour crosses itself or another")
	}
	return m.count < mostCrossings
}
