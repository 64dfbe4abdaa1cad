package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func meet(p, q Piece) ([]Crossing, bool) { return Cross(&p, &q, nil) }

// TestCircleIsNoCrossing: the halves of a circle share their ends and nothing else,
// in however many parts it comes; arcs that do lie on each other are told.
func TestCircleIsNoCrossing(t *testing.T) {
	for _, turn := range []float64{0, 0.3, 1, 2.5} {
		for parts := 2; parts < 7; parts++ {
			step := 2 * math.Pi / float64(parts)
			for i := range parts {
				for j := range i {
					p := About(Point{3, 2}, 1.7, turn+step*float64(i), step)
					q := About(Point{3, 2}, 1.7, turn+step*float64(j), step)
					list, along := meet(p, q)
					if along {
						t.Errorf("parts %d and %d of %d, turned by %g, lie along each other", j, i, parts, turn)
					}
					for _, c := range list {
						if (c.T > 1e-6 && c.T < 1-1e-6) || (c.U > 1e-6 && c.U < 1-1e-6) {
							t.Errorf("parts %d and %d of %d meet at %g, %g of them", j, i, parts, c.T, c.U)
						}
					}
					if _, along := meet(p, About(Point{3, 2}, 1.7, turn+step*(float64(i)+0.9), step)); !along {
						t.Errorf("arcs that share a tenth do not lie along each other")
					}
					if _, along := meet(p, p.Back()); !along {
						t.Errorf("an arc does not lie along itself")
					}
				}
			}
		}
	}
	// More than half a turn each: they share both ends' surroundings, or all of it.
	if _, along := meet(About(Point{}, 1, 0, 4), About(Point{}, 1, 3, 4)); !along {
		t.Error("two arcs of 4 rad that overlap twice do not lie along each other")
	}
}

// TestGridAskedWithin: a question asked while another is answered hides nothing
// from it.
func TestGridAskedWithin(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	var pieces []Piece
	for range 500 {
		a := Point{10 * rng.Float64(), 10 * rng.Float64()}
		pieces = append(pieces, Line(a, a.Add(Point{rng.Float64(), rng.Float64()})))
	}
	g := NewGrid(pieces, 0.5)
	for range 200 {
		x, y := 10*rng.Float64(), 10*rng.Float64()
		b := Box{x, y, x + 2, y + 2}
		plain, asking := map[int]bool{}, map[int]bool{}
		g.Near(b, func(i int) bool { plain[i] = true; return true })
		g.Near(b, func(i int) bool {
			asking[i] = true
			g.Closer(pieces[i].B, 3)
			g.Distance(pieces[i].A, 5)
			return true
		})
		if len(plain) != len(asking) {
			t.Fatalf("%d pieces are near, %d when others are asked for meanwhile", len(plain), len(asking))
		}
	}
}

// TestGridBound: a grid keeps to its looks and to its places, and says where they
// ended.
func TestGridBound(t *testing.T) {
	var pieces []Piece
	for i := range 20000 { // long and close together: each cell would hold many
		y := 1e-3 * float64(i)
		pieces = append(pieces, Line(Point{0, y}, Point{20, y + 19}))
	}
	g := NewGrid(pieces, 1e-6)
	if got := len(g.items); got > 25*len(pieces)+2000 {
		t.Errorf("%d places for %d pieces", got, len(pieces))
	}
	g.Bound(1000)
	calls := 0
	for range 100 {
		g.Near(Box{0, 0, 20, 20}, func(int) bool { calls++; return true })
	}
	at, spent := g.Spent()
	if calls > 1000 || !spent || at != (Point{10, 10}) {
		t.Errorf("%d calls, spent %v at %v", calls, spent, at)
	}
	g.Bound(1 << 40)
	if _, spent := g.Spent(); spent || !g.Closer(Point{10, 10}, 1) {
		t.Error("a new bound does not begin anew")
	}
}

// TestPasses: the winding by a ray against the angle by which the view turns along
// the contour in small steps, about places level with vertices too.
func TestPasses(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	for range 3000 {
		n := 3 + rng.IntN(6)
		pts := make([]Point, n)
		for i := range pts {
			pts[i] = Point{float64(rng.IntN(9)), float64(rng.IntN(9))}
		}
		var c Contour
		for i := range pts {
			if a, b := pts[i], pts[(i+1)%n]; a != b {
				bulge := 0.0
				if rng.IntN(2) == 0 {
					bulge = 3 * (rng.Float64() - 0.5)
				}
				c = append(c, Bulge(a, b, bulge))
			}
		}
		for range 8 {
			q := Point{float64(rng.IntN(9)), float64(rng.IntN(9))} // level with vertices
			if rng.IntN(2) == 0 {
				q = Point{9 * rng.Float64(), 9 * rng.Float64()}
			}
			near, turn, passes := math.Inf(1), 0.0, 0
			for _, p := range c {
				near = min(near, p.Dist(q))
				steps := 1
				if p.R != 0 {
					steps = 400
				}
				for k := range steps {
					a, b := p.At(float64(k)/float64(steps)).Sub(q), p.At(float64(k+1)/float64(steps)).Sub(q)
					turn += math.Atan2(a.Cross(b), a.Dot(b))
				}
				passes += p.Passes(q)
			}
			if near < 0.02 {
				continue
			}
			if want := int(math.Round(turn / (2 * math.Pi))); passes != want {
				t.Fatalf("%v about %v: wound %d times, by the angle %d", c, q, passes, want)
			}
		}
	}
}
