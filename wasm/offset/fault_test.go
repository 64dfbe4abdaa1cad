package offset

import (
	"math"
	"testing"

	"kerfbook/wasm/geom"
)

// narrowest measures the necks or walls of a contour as drawn and in four other
// ways; all are to say the same.
func narrowest(t *testing.T, name string, c geom.Contour, walls bool, want float64) {
	t.Helper()
	mirrored := geom.Map{A: 1, Mirror: true}.Contour(c).Back()
	var split geom.Contour
	for i, p := range c {
		s := 0.3 + 0.05*float64(i%7)
		split = append(split, p.Cut(0, s), p.Cut(s, 1))
	}
	another := append(append(geom.Contour{}, c[len(c)/2:]...), c[:len(c)/2]...)
	for how, d := range map[string]geom.Contour{"as drawn": c, "mirrored": mirrored, "turned": geom.Moved(1, 0.7, geom.Point{X: 3}).Contour(c), "split": split, "from another start": another} {
		f := Find([]geom.Contour{d}, 3, 0.1, 1e-4)
		list := f.Necks
		if walls {
			list = f.Walls
		}
		if len(list) == 0 || math.Abs(list[0].Value-want) > 1e-9 {
			t.Errorf("%s, %s: the narrowest is %v, %g is wanted", name, how, list, want)
		}
	}
}

// TestNarrowestAnyWay: the same neck and wall however a part is drawn.
func TestNarrowestAnyWay(t *testing.T) {
	// A comb whose narrowest slot of 0.2 stands beside wider ones: asking what is near
	// a place while looking over what is near a piece once hid it.
	p := startAt(0, 0).to(9, 0).to(9, 4)
	for _, s := range [][2]float64{{8, 0.5}, {7.2, 0.2}, {6.2, 0.5}, {5.2, 0.7}, {4, 0.5}, {3, 0.5}, {1, 0.6}} {
		p.to(s[0], 4).to(s[0], 4-3*s[1]).to(s[0]-s[1], 4-3*s[1]).to(s[0]-s[1], 4)
	}
	comb := p.to(0, 4).to(0, 0).c.Back()
	narrowest(t, "a comb", comb, false, 0.2)
	narrowest(t, "a comb", comb, true, 0.3)
	// A slot that is stopped in its middle by a nose: a round goes beside it only.
	nose := poly(0, 0, 6, 0, 6, 0.8, 3.1, 0.8, 3, 0.2, 2.9, 0.8, 0, 0.8)
	narrowest(t, "a slot with a nose", nose, false, 0.2)
	narrowest(t, "a square hole", poly(0, 0, 1, 0, 1, 1, 0, 1), false, 1)
	// Two vertices just before each other: the narrow place of a waist.
	narrowest(t, "a waist", poly(0, 0, 2, 0.9, 4, 0, 4, 2.2, 2, 1.2, 0, 2.2), false, 0.3)
	// A vertex before the joint of a line and an arc that run into each other.
	joint := startAt(0, 0).to(1.5, 0).to(2, 0.5).to(2.5, 0).to(4, 0).to(4, 1).to(2, 1).bow(1, 2, -math.Tan(math.Pi/8)).to(0, 2).to(0, 0).c
	narrowest(t, "a joint", joint, false, 0.5)
}

// TestFitDrawnAnyWay: a slot and a hole that the tool just fills count as cut
// however the noise of the last digits falls, and so does a neck of two vertices.
func TestFitDrawnAnyWay(t *testing.T) {
	const reach = 0.15
	for _, off := range []float64{0, 1e-9, -1e-9, 1e-8, -1e-8, 1e-7, -1e-7, 1e-6, -1e-6} {
		for name, c := range map[string]geom.Contour{
			"slot":           startAt(0, 0).to(5, 0).to(5, 2*reach+off).to(0, 2*reach-off).to(0, 0).c,
			"round hole":     startAt(-reach, off).bow(reach+off, 0, 1).bow(-reach, off, 1).c,
			"long hole":      startAt(0, -reach).to(2, -reach-off).bow(2, reach, 1).to(0, reach+off).bow(0, -reach, 1).c,
			"square hole":    poly(0, 0, 2*reach+off, 0, 2*reach, 2*reach-off, off, 2*reach),
			"waist":          poly(0, 0, 2, 1-reach-off, 4, 0, 4, 2, 2, 1+reach, 0, 2),
			"corner rounded": startAt(0, 0).to(2-reach, 0).bow(2, reach+off, math.Tan(math.Pi/8)).to(2, 2).to(0, 2).to(0, 0).c,
		} {
			r, err := Of([]geom.Contour{c}, reach)
			if err != nil {
				t.Errorf("%s off by %g: %v", name, off, err)
				continue
			}
			for _, k := range r.Pockets {
				if k.Whole {
					t.Errorf("%s off by %g: %g mm² about %v were not come near to", name, off, k.Area, k.At)
				}
			}
			if len(r.Path) != 1 {
				t.Errorf("%s off by %g: the path has %d parts", name, off, len(r.Path))
			}
		}
	}
}

// TestNextToNoTurn: sides that turn by next to nothing where they were split, inward
// or outward, as rounding leaves them. Nothing stays there.
func TestNextToNoTurn(t *testing.T) {
	for e := -13.0; e < -2; e += 0.25 {
		for _, s := range []float64{1, -1} {
			h := s * math.Pow(10, e)
			c := startAt(0, 0).to(2, h).to(4, 0).to(4, 1).bow(3.5, 2, math.Tan(math.Pi/10)+h).to(2, 2+h).to(0, 2).to(0, 0).c
			r, err := Of([]geom.Contour{c}, 0.15)
			if err != nil {
				t.Errorf("a turn of %g: %v", h, err)
				continue
			}
			if len(r.Path) != 1 || r.Leftover > 4*0.15*0.15*(1-math.Pi/4) {
				t.Errorf("a turn of %g: the path has %d parts, %g mm² stay", h, len(r.Path), r.Leftover)
			}
		}
	}
}

// FuzzOf: any closed contours at any reach are answered or refused with a place,
// within a bound of counted work. The bytes are coordinates in twentieths, a bulge
// or an end of contour among them.
func FuzzOf(f *testing.F) {
	f.Add([]byte{15, 0, 0, 0, 40, 0, 0, 40, 40, 0, 0, 40, 0}, uint8(3))
	f.Add([]byte{10, 0, 0, 0, 6, 0, 100, 6, 6, 0, 0, 6, 100}, uint8(6))
	f.Add([]byte{6, 0, 0, 0, 80, 0, 0, 80, 40, 0, 0, 40, 0, 255, 20, 10, 127, 40, 10, 127}, uint8(1))
	f.Fuzz(func(t *testing.T, data []byte, size uint8) {
		if len(data) < 4 || len(data) > 600 {
			return
		}
		reach := (1 + float64(size%40)) * 0.025
		var list []geom.Contour
		var pts []geom.Point
		var bulges []float64
		end := func() {
			var c geom.Contour
			for i, p := range pts {
				if q := pts[(i+1)%len(pts)]; p != q {
					c = append(c, geom.Bulge(p, q, bulges[i]))
				}
			}
			if len(c) > 1 {
				list = append(list, c)
			}
			pts, bulges = nil, nil
		}
		for i := 1; i+2 < len(data); {
			if data[i] == 255 {
				end()
				i++
				continue
			}
			pts = append(pts, geom.Point{X: float64(data[i]) / 20, Y: float64(data[i+1]) / 20})
			bulges = append(bulges, float64(int8(data[i+2]))/100)
			i += 3
		}
		end()
		region, _, err := Nested(list, size%2 == 0)
		if err != nil || len(region) == 0 {
			return
		}
		w := &work{want: Everything}
		w.take(region, reach)
		if _, half, fault := func() (*Result, float64, *Fault) {
			w.spare = looks(len(w.pieces))
			w.grid.Bound(w.spare)
			return w.run()
		}(); fault == nil && half == 0 && len(w.nodes) > 2*len(w.raws)+cutsAtLeast+cutsPerPiece*len(w.raws)+64 {
			t.Errorf("%d nodes of %d pieces", len(w.nodes), len(w.pieces))
		}
		r, err := Of(region, reach)
		if err == nil {
			for _, v := range []float64{r.Leftover, r.Length} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%g mm² stay, the path is %g mm long", r.Leftover, r.Length)
				}
			}
			for _, c := range r.Path {
				for i, p := range c {
					if p.B.Dist(c[(i+1)%len(c)].A) > 1e-6 {
						t.Errorf("the path has a gap at %v", p.B)
					}
				}
			}
		}
		found := Find(region, 4*reach+1, reach, 1e-4)
		for _, list := range [...][]Spot{found.Necks, found.Walls} {
			for _, s := range list {
				if !(s.Value > 0) || s.Value > (4*reach+1)*1.001 {
					t.Errorf("a neck or wall of %g", s.Value)
				}
			}
		}
		Widest(region, 3)
	})
}
