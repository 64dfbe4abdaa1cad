package offset

import (
	"math"
	"math/rand/v2"

	"kerfbook/wasm/geom"
)

// trialCase is a seeded shape with a tool for it. Sizes are round numbers, so that
// slots as wide as the tool and radii equal to it are common.
type trialCase struct {
	kind     string
	contours []geom.Contour // as drawn, in no order of direction
	opening  bool
	reach    float64
}

// pen draws a contour from point to point.
type pen struct {
	c  geom.Contour
	at geom.Point
}

func startAt(x, y float64) *pen { return &pen{at: geom.Point{X: x, Y: y}} }

func (p *pen) to(x, y float64) *pen { return p.bow(x, y, 0) }

func (p *pen) bow(x, y, bulge float64) *pen {
	q := geom.Point{X: x, Y: y}
	if q.Dist(p.at) > 1e-9 { // sums of round numbers may miss zero
		p.c = append(p.c, geom.Bulge(p.at, q, bulge))
	}
	p.at = q
	return p
}

func quarter() float64 { return math.Tan(math.Pi / 8) }

// makeCase is the shape of a seed: a comb, a star, a plate with holes, a slot or a
// gear by turns.
func makeCase(seed int) trialCase {
	rng := rand.New(rand.NewPCG(uint64(seed), 77))
	t := trialCase{reach: []float64{0.1, 0.15, 0.2, 0.3, 0.5}[rng.IntN(5)], opening: rng.IntN(2) == 0}
	switch seed % 5 {
	case 0:
		t.kind = "comb"
		t.contours = []geom.Contour{randomComb(rng, t.reach)}
	case 1:
		t.kind = "star"
		for {
			c := star(rng, 5+rng.IntN(12), geom.Point{}, 6)
			if simple(c) {
				t.contours = []geom.Contour{c}
				break
			}
		}
		if rng.IntN(3) == 0 {
			if i := star(rng, 4+rng.IntN(4), geom.Point{X: 0.2}, 1); simple(i) {
				t.contours = append(t.contours, i)
			}
		}
	case 2:
		t.kind, t.opening = "plate", false
		t.contours = plate(rng, t.reach)
	case 3:
		t.kind = "slot"
		t.contours = []geom.Contour{keyhole(rng, t.reach)}
	default:
		t.kind = "gear"
		t.contours = []geom.Contour{cog(rng)}
	}
	return t
}

// width is a width that the tool fills exactly, about one time in three.
func width(rng *rand.Rand, reach float64) float64 {
	if rng.IntN(3) == 0 {
		return 2 * reach
	}
	return 0.1 + 0.05*float64(rng.IntN(24))
}

func randomComb(rng *rand.Rand, reach float64) geom.Contour {
	n := 2 + rng.IntN(5)
	type slot struct{ x, w, deep, r float64 }
	var slots []slot
	x := 0.4 + 0.05*float64(rng.IntN(10))
	for range n {
		s := slot{x: x, w: width(rng, reach), deep: 0.5 + 0.1*float64(rng.IntN(25))}
		switch rng.IntN(4) {
		case 0:
			s.r = s.w / 2
		case 1:
			s.r = min(reach, s.w/2)
		case 2:
			s.r = min(0.05*float64(1+rng.IntN(6)), s.w/2)
		}
		s.r = min(s.r, s.deep)
		slots = append(slots, s)
		x += s.w + 0.1 + 0.05*float64(rng.IntN(14))
	}
	high := 4.0
	p := startAt(0, 0).to(x+0.3, 0).to(x+0.3, high)
	for i := n - 1; i >= 0; i-- {
		s := slots[i]
		floor := high - s.deep
		p.to(s.x+s.w, high)
		if s.r == 0 {
			p.to(s.x+s.w, floor).to(s.x, floor)
		} else {
			p.to(s.x+s.w, floor+s.r).bow(s.x+s.w-s.r, floor, -quarter()).to(s.x+s.r, floor).bow(s.x, floor+s.r, -quarter())
		}
		p.to(s.x, high)
	}
	return p.to(0, high).to(0, 0).c
}

// plate is an outline with round, square and long holes in a square pattern.
func plate(rng *rand.Rand, reach float64) []geom.Contour {
	nx, ny := 1+rng.IntN(3), 1+rng.IntN(2)
	pitch := 2.0
	w, h := pitch*float64(nx), pitch*float64(ny)
	r := []float64{0, 0.2, reach, 0.5}[rng.IntN(4)]
	p := startAt(r, 0).to(w-r, 0).bow(w, r, quarter()).to(w, h-r).bow(w-r, h, quarter()).to(r, h).bow(0, h-r, quarter()).to(0, r).bow(r, 0, quarter())
	if r == 0 {
		p = startAt(0, 0).to(w, 0).to(w, h).to(0, h).to(0, 0)
	}
	out := []geom.Contour{p.c}
	for i := range nx {
		for j := range ny {
			x, y := pitch*(float64(i)+0.5), pitch*(float64(j)+0.5)
			switch rng.IntN(4) {
			case 0:
				r := []float64{reach, 0.3, 0.45, 0.7}[rng.IntN(4)]
				out = append(out, startAt(x-r, y).bow(x+r, y, 1).bow(x-r, y, 1).c)
			case 1:
				a, b := min(0.8, width(rng, reach)/2), min(0.8, width(rng, reach)/2)
				out = append(out, startAt(x-a, y-b).to(x+a, y-b).to(x+a, y+b).to(x-a, y+b).to(x-a, y-b).c)
			case 2:
				a, b := 0.3+0.1*float64(rng.IntN(4)), min(0.3, width(rng, reach)/2)
				out = append(out, startAt(x-a, y-b).to(x+a, y-b).bow(x+a, y+b, 1).to(x-a, y+b).bow(x-a, y-b, 1).c)
			}
		}
	}
	return out
}

// keyhole is a chamber with a slot, round or square at its end.
func keyhole(rng *rand.Rand, reach float64) geom.Contour {
	b, long := width(rng, reach)/2, 1+0.25*float64(rng.IntN(10))
	half := b + 0.1 + 0.1*float64(rng.IntN(8))
	p := startAt(0, -half).to(1.5, -half).to(1.5, -b)
	if rng.IntN(2) == 0 { // a taper to the slot
		p = startAt(0, -half).to(1.5, -half).to(2, -b)
	}
	p.to(2+long, -b)
	if rng.IntN(2) == 0 {
		p.bow(2+long, b, 1)
	} else {
		p.to(2+long, b)
	}
	p.to(p.c[1].B.X, b)
	if p.c[2].A.X != 1.5 {
		p.to(2, b)
	}
	p.to(1.5, half).to(0, half)
	if rng.IntN(3) == 0 {
		return p.bow(0, -half, 0.6).c
	}
	return p.to(0, -half).c
}

// cog is an outside toothing of straight flanks, its roots and tips arcs or not.
func cog(rng *rand.Rand) geom.Contour {
	z := 5 + rng.IntN(12)
	tip := 3 + 0.25*float64(rng.IntN(5))
	root := tip - 0.3 - 0.1*float64(rng.IntN(8))
	step := 2 * math.Pi / float64(z)
	arcs := rng.IntN(2) == 0
	a, b := (0.1+0.2*rng.Float64())*step, (0.02+0.15*rng.Float64())*step // root and tip half angles
	at := func(r, t float64) (float64, float64) { return r * math.Cos(t), r * math.Sin(t) }
	p := startAt(at(root, -step/2+a))
	bow := func(angle float64) float64 {
		if arcs {
			return math.Tan(angle / 4)
		}
		return 0
	}
	for i := range z {
		m := float64(i) * step
		x, y := at(tip, m-b)
		p.to(x, y)
		x, y = at(tip, m+b)
		p.bow(x, y, bow(2*b))
		x, y = at(root, m+step/2-a)
		p.to(x, y)
		if i == z-1 {
			x, y = at(root, -step/2+a)
		} else {
			x, y = at(root, m+step/2+a)
		}
		p.bow(x, y, bow(2*a))
	}
	return p.c
}

// The changes that say nothing about a part.
func changes() []string {
	return []string{"shift", "turn", "quarter", "mirror", "reverse", "split", "explode", "noise"}
}

// change is the same part drawn another way.
func (t trialCase) change(how string, rng *rand.Rand) []geom.Contour {
	var out []geom.Contour
	through := func(m geom.Map) {
		for _, c := range t.contours {
			out = append(out, m.Contour(c))
		}
	}
	switch how {
	case "shift":
		through(geom.Map{A: 1, E: 100 * (rng.Float64() - 0.5), F: 100 * (rng.Float64() - 0.5)})
	case "turn":
		through(geom.Moved(1, 2*math.Pi*rng.Float64(), geom.Point{}))
	case "quarter":
		through(geom.Map{B: 1})
	case "mirror":
		through(geom.Map{A: 1, Mirror: true})
	case "reverse":
		for i := range t.contours {
			out = append(out, t.contours[len(t.contours)-1-i].Back())
		}
	case "split":
		for _, c := range t.contours {
			var d geom.Contour
			for _, p := range c {
				switch s := 0.1 + 0.8*rng.Float64(); rng.IntN(3) {
				case 0:
					d = append(d, p)
				case 1:
					d = append(d, p.Cut(0, s), p.Cut(s, 1))
				default:
					d = append(d, p.Cut(0, s/2), p.Cut(s/2, s), p.Cut(s, 1))
				}
			}
			out = append(out, d)
		}
	case "explode":
		var all []geom.Piece
		for _, c := range t.contours {
			all = append(all, c...)
		}
		rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		out = Chain(all, 1e-9)
	case "noise":
		out = shaken(t.contours, 1e-9, rng)
	}
	return out
}

// shaken moves every vertex by up to a distance each way; arcs keep their bulge.
func shaken(contours []geom.Contour, by float64, rng *rand.Rand) []geom.Contour {
	var out []geom.Contour
	for _, c := range contours {
		pts := make([]geom.Point, len(c))
		for i, p := range c {
			pts[i] = geom.Point{X: p.A.X + by*(2*rng.Float64()-1), Y: p.A.Y + by*(2*rng.Float64()-1)}
		}
		var d geom.Contour
		for i, p := range c {
			d = append(d, geom.Bulge(pts[i], pts[(i+1)%len(c)], p.Bulge()))
		}
		out = append(out, d)
	}
	return out
}

// saved is a drawing turned and written with six decimals.
func saved(contours []geom.Contour, turn float64) []geom.Contour {
	var out []geom.Contour
	for _, c := range contours {
		c = geom.Moved(1, turn, geom.Point{}).Contour(c)
		six := func(p geom.Point) geom.Point {
			return geom.Point{X: math.Round(p.X*1e6) / 1e6, Y: math.Round(p.Y*1e6) / 1e6}
		}
		var d geom.Contour
		for _, p := range c {
			if six(p.A) != six(p.B) {
				d = append(d, geom.Bulge(six(p.A), six(p.B), math.Round(p.Bulge()*1e6)/1e6))
			}
		}
		out = append(out, d)
	}
	return out
}
