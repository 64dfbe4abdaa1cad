package drawing

import (
	"math"
	"slices"
	"strconv"

	"kerfbook/wasm/geom"
)

// chain makes closed contours of the pieces: twins are dropped, ends that meet
// are joined, ends that meet nothing are joined to others of their kind within the
// tolerance, what hangs on a contour is taken off and named, and what is left open
// is named with its place.
func (r *reader) chain() error {
	d := r.d
	g, err := r.weld(r.distinct())
	if err != nil {
		return err
	}
	if err := r.prune(g); err != nil {
		return err
	}
	closed, err := r.follow(g)
	if err != nil {
		return err
	}
	chords, arcs, specks, worst := 0, 0, 0, 0.0
	for _, c := range closed {
		c, specks = swept(c, specks)
		if r.o.Chords > 0 {
			n, a, w := 0, 0, 0.0
			if err := r.spend(4*len(c), 0); err != nil {
				return err
			}
			c, n, a, w = recognise(c, r.o.Chords)
			chords, arcs, worst = chords+n, arcs+a, max(worst, w)
		}
		d.Contours = append(d.Contours, c)
	}
	if specks > 0 {
		d.note(pieces(specks, "shorter", "shorter") + " than " + micrometres(curveError) + " left out: no wire follows them")
	}
	if chords > 0 {
		d.note(strconv.Itoa(chords) + " chords were taken as " + strconv.Itoa(arcs) + " arcs; no chord's end is more than " + micrometres(worst) + " off")
	}
	return r.crossings()
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
	f := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e4)/1e4+0, 'f', -1, 64) }
	return "(" + f(p.X) + ", " + f(p.Y) + ")"
}

// pieces says how many, with the verb that goes with them.
func pieces(n int, one, more string) string {
	if n == 1 {
		return "1 piece " + one
	}
	return strconv.Itoa(n) + " pieces " + more
}

// likeness is where a piece lies, to a tenth of a nanometre, travelled either way.
type likeness [6]int64

func likenessOf(p *geom.Piece) likeness {
	q := func(v float64) int64 { return int64(math.Round(v * 1e7)) }
	a, b, m := p.A, p.B, p.At(0.5)
	if b.X < a.X || b.X == a.X && b.Y < a.Y {
		a, b = b, a
	}
	return likeness{q(a.X), q(a.Y), q(b.X), q(b.Y), q(m.X), q(m.Y)}
}

// distinct drops pieces that lie on another, travelled either way. The table holds
// their numbers in what is left, from 1; a map of what they are would take more room
// than the pieces.
func (r *reader) distinct() []geom.Piece {
	size := 16
	for size < 2*len(r.d.Pieces) {
		size *= 2
	}
	table := make([]int32, size)
	out := make([]geom.Piece, 0, len(r.d.Pieces))
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i].Piece
		k, h := likenessOf(p), uint64(0)
		for _, v := range k {
			h = (h ^ uint64(v)) * 0x9e3779b97f4a7c15
			h ^= h >> 29
		}
		at := int(h) & (size - 1)
		for table[at] > 0 && likenessOf(&out[table[at]-1]) != k {
			at = (at + 1) & (size - 1)
		}
		if table[at] > 0 {
			r.twins++
			continue
		}
		out = append(out, *p)
		table[at] = int32(len(out))
	}
	if r.twins > 0 {
		r.d.note(strconv.Itoa(r.twins) + " pieces lie exactly on others and were left out")
	}
	return out
}

// prune takes off what closes nothing. A piece on no closed way is one whose
// removal parts what it joins: a bridge. Where a contour hangs on it, it is a line
// to the contour, or one that ends in the air; where none does, the whole is an open
// contour, whose ends are named.
func (r *reader) prune(g *graph) error {
	if err := r.spend(4*len(g.pieces), 0); err != nil {
		return err
	}
	bridge, part := g.bridges()
	closes := make([]bool, len(g.at))
	for i, n := range g.node {
		if !g.gone[i] && !bridge[i] {
			closes[part[n[0]]] = true
		}
	}
	degree := g.degrees()
	var ends []int
	for i, n := range degree {
		if n == 1 {
			ends = append(ends, i)
		}
	}
	var open []int
	air, join, airAt, joinAt := 0, 0, -1, -1
	for _, end := range ends {
		if !closes[part[end]] {
			open = append(open, end)
			continue
		}
		for here := end; degree[here] == 1; { // back to where it meets another
			for _, h := range g.touching(here) {
				i := h / 2
				if g.gone[i] {
					continue
				}
				g.gone[i] = true
				air++
				there := g.node[i][0] + g.node[i][1] - here
				degree[here]--
				degree[there]--
				here = there
				break
			}
			if degree[here] != 1 && airAt < 0 {
				airAt = here
			}
		}
	}
	for i, b := range bridge {
		switch {
		case !b || g.gone[i]:
		case closes[part[g.node[i][0]]]:
			g.gone[i] = true
			if join++; joinAt < 0 {
				joinAt = g.node[i][0]
			}
		default: // of an open contour
			g.gone[i] = true
		}
	}
	if air > 0 {
		r.d.note(pieces(air, "ends", "end") + " in the air: left out, at " + place(g.at[airAt]))
	}
	if join > 0 {
		r.d.note(pieces(join, "joins contours and closes none", "join contours and close none") + ": left out, at " + place(g.at[joinAt]))
	}
	if err := r.nameEnds(g, open); err != nil {
		return err
	}
	for i, n := range g.degrees() {
		if n%2 == 1 {
			text := strconv.Itoa(n) + " pieces meet at " + place(g.at[i]) + ": the contour divides there, and which way it runs cannot be told. Take out the piece that is not cut"
			if r.twins > 0 {
				text += ". Of " + pieces(r.twins, "that lay exactly on another one was", "that lay exactly on others one of each was") + " kept"
			}
			return &Error{0, text}
		}
	}
	return nil
}

// nameEnds names the ends of open contours, each with the nearest other.
func (r *reader) nameEnds(g *graph, ends []int) error {
	for k, i := range ends {
		if k == mostOpen {
			r.d.note(strconv.Itoa(len(ends)) + " ends meet nothing; " + strconv.Itoa(mostOpen) + " of them are listed")
			break
		}
		if err := r.spend(1+len(ends)/8, 0); err != nil {
			return err
		}
		near, gap := -1, math.Inf(1)
		for _, j := range ends {
			if l := g.at[j].Dist(g.at[i]); j != i && l < gap {
				near, gap = j, l
			}
		}
		text := "an end that meets nothing"
		if near >= 0 {
			text += "; the nearest other is " + strconv.FormatFloat(gap, 'f', 4, 64) + " mm away, at " + place(g.at[near])
		}
		r.d.open(g.at[i], text)
	}
	return nil
}

// swept leaves out pieces that end within curveError of the last end that was kept:
// noise of the digits, whose directions mean nothing. However many follow each other,
// no end moves by more than that.
func swept(c geom.Contour, before int) (out geom.Contour, specks int) {
	if !slices.ContainsFunc(c, func(p geom.Piece) bool { return p.Len() < curveError }) {
		return c, before
	}
	last := c[0].A
	for _, p := range c {
		if p.Len() < 2*curveError && p.B.Dist(last) < curveError {
			specks++
			continue
		}
		out = append(out, ended(p, last, p.B))
		last = p.B
	}
	if len(out) < 3 {
		return c, before // all of it is as small
	}
	end := len(out) - 1
	out[end] = ended(out[end], out[end].A, out[0].A)
	return out, before + specks
}

// follow walks the pieces from place to place. Where more than two meet it takes
// the sharpest turn to the left. Whenever it comes back to a place on its way, what
// it went round is a contour: so contours that touch stay apart. Every place has an
// even number of pieces, so the way never ends before it is back.
func (r *reader) follow(g *graph) ([]geom.Contour, error) {
	if err := r.spend(8*len(g.pieces), 0); err != nil {
		return nil, err
	}
	fans := g.fans()
	onWay := make([]int, len(g.at))
	for i := range onWay {
		onWay[i] = -1
	}
	var out []geom.Contour
	var way []int // half-pieces, each by the end it starts from
	for first := range g.pieces {
		if g.gone[first] || fans.used[2*first] {
			continue
		}
		for next := 2 * first; ; {
			fans.take(next)
			onWay[g.start(next)] = len(way)
			way = append(way, next)
			here := g.start(next ^ 1)
			if k := onWay[here]; k >= 0 {
				c := make(geom.Contour, 0, len(way)-k)
				for _, h := range way[k:] {
					onWay[g.start(h)] = -1
					c = append(c, g.half(h))
				}
				way = way[:k]
				out = append(out, c)
				if k == 0 {
					break
				}
			}
			next = fans.left(way[len(way)-1]^1, g)
			if next < 0 {
				return nil, &Error{0, "the contour at " + place(g.at[here]) + " cannot be followed"}
			}
		}
	}
	return out, nil
}
