package profile

import (
	"math"
	"strconv"
)

// samples are four invented profiles of the Lantern Quay Toolroom, as path data in
// millimetres.
func sample(name string) (path string, opening bool) {
	switch name {
	case "comb":
		// A comb die for a lace machine: eight slots of 0.30 mm, R 0.06 at the floor.
		d := "M0 0H10V6"
		for i := 7; i >= 0; i-- {
			x := float64(i) + 1.3
			d += "H" + mm(x+0.15) + "V2.06A0.06 0.06 0 0 0 " + mm(x+0.09) + " 2H" + mm(x-0.09) + "A0.06 0.06 0 0 0 " + mm(x-0.15) + " 2.06V6"
		}
		return d + "H0Z", false
	case "spinneret":
		// A slot for a three-armed fibre: arms of 0.08 mm with round ends.
		d, first := "", true
		for i := range 3 {
			a := float64(i)*2*math.Pi/3 + math.Pi/2
			s, c := math.Sincos(a)
			at := func(along, side float64) string { return mm(along*c-side*s) + " " + mm(along*s+side*c) }
			inner := 0.04 / math.Tan(math.Pi/3)
			if first {
				d, first = "M"+at(inner, -0.04), false
			} else {
				d += "L" + at(inner, -0.04)
			}
			d += "L" + at(0.6, -0.04) + "A0.07 0.07 0 1 1 " + at(0.6, 0.04) + "L" + at(inner, 0.04)
		}
		return d + "Z", true
	case "gear":
		return gear(), true
	}
	// A ratchet's notch: a block with a notch of 60°.
	return "M0 0V10H7.1132486540518708L10 5L12.886751345948129 10H20V0Z", false
}

func mm(v float64) string { return strconv.FormatFloat(math.Round(v*1e7)/1e7, 'f', -1, 64) }

// gear is an internal gear of 30 teeth and module 0.4 mm, its flanks drawn as
// chords as drawing programs do.
func gear() string {
	const z, m, alpha = 30, 0.4, 20 * math.Pi / 180
	inv := func(a float64) float64 { return math.Tan(a) - a }
	rb, tip, root := z*m/2*math.Cos(alpha), 5.7, 6.5
	half := func(r float64) float64 { return math.Pi/(2*z) + inv(alpha) - inv(math.Acos(rb/r)) }
	d := make([]byte, 0, 32<<10) // its fifteen hundred points
	point := func(r, a float64) {
		s, c := math.Sincos(a)
		if len(d) == 0 {
			d = append(d, 'M')
		} else {
			d = append(d, 'L')
		}
		d = append(append(append(d, mm(r*c)...), ' '), mm(r*s)...)
	}
	const steps = 24
	for i := range z {
		mid := float64(i) * 2 * math.Pi / z
		for k := range steps + 1 {
			r := tip + (root-tip)*float64(k)/steps
			point(r, mid-half(r))
		}
		for k := steps; k >= 0; k-- {
			r := tip + (root-tip)*float64(k)/steps
			point(r, mid+half(r))
		}
	}
	return string(append(d, 'Z'))
}
