// Package bow answers how far the wire bends between its guides, and what of the
// bend shows: barrel and lean of a wall, what stays in a corner, the error of an
// arc, the first natural frequency; and backwards, which load a measured barrel
// tells. It may import book, calc, figure and unit.
//
// The wire is a string with small slopes: T y″ = -q. It is loaded over the part
// only. Elementary statics; the sums for unequal free lengths are our own.
package bow

import (
	"math"

	"kerfbook/wasm/unit"
)

// Run is the wire's way between its guides, from below to above, in mm.
type Run struct{ Below, Part, Above unit.Length }

// Span returns the distance of the guides.
func (r Run) Span() unit.Length { return r.Below + r.Part + r.Above }

// low is the share of the whole load that the lower guide bears.
func (r Run) low() unit.Length { return (r.Above + r.Part/2) / r.Span() }

// curve returns q/T in 1/mm: N/m is a thousandth of N/mm.
func curve(load unit.LineLoad, tension unit.Force) unit.Length {
	return unit.Length(float64(load) / 1000 / float64(tension))
}

// At returns how far the wire stands off the straight line at a height z over
// the lower guide. Statics of a string.
func (r Run) At(z unit.Length, load unit.LineLoad, tension unit.Force) unit.Length {
	in := min(max(0, z-r.Below), r.Part)
	past := max(0, z-r.Below-r.Part)
	return curve(load, tension) * (r.Part*r.low()*z - in*in/2 - r.Part*past)
}

// Bend returns the largest standing off, where the wire is parallel to the line:
// q H (H + 4h) / (8T) for equal free lengths h, q L² / (8T) without any.
func (r Run) Bend(load unit.LineLoad, tension unit.Force) unit.Length {
	return r.At(r.Below+r.Part*r.low(), load, tension)
}

// Barrel returns the bend within the part, from the line through its two rims:
// q H² / (8T). The free lengths do not count.
func Barrel(height unit.Length, load unit.LineLoad, tension unit.Force) unit.Length {
	return curve(load, tension) * height * height / 8
}

// Lean returns by how much more the wire stands off at the upper rim than at the
// lower one: q H² (a - b) / (2 T L).
func (r Run) Lean(load unit.LineLoad, tension unit.Force) unit.Length {
	return curve(load, tension) * r.Part * r.Part * (r.Above - r.Below) / (2 * r.Span())
}

// Load returns the load that makes a barrel: 8 T b / H².
func Load(barrel, height unit.Length, tension unit.Force) unit.LineLoad {
	return unit.LineLoad(8 * float64(tension) * float64(barrel/height/height) * 1000)
}

// Section returns the section of a round wire in mm².
func Section(d unit.Length) float64 { return math.Pi * float64(d*d) / 4 }

// Frequency returns the first natural frequency of a string: √(T/µ) / (2L), µ the
// mass on a length.
func Frequency(span unit.Length, tension unit.Force, d unit.Length, density unit.Density) unit.Frequency {
	perMetre := float64(density) * Section(d) / 1000                                  // kg/m
	return unit.Frequency(math.Sqrt(float64(tension)/perMetre) / (2 * float64(span))) // a length in mm gives kHz
}

// Stiff returns the wire's own stiffness against its tension in %: the load at
// which the rod buckles, π² E I / L² with I = π d⁴ / 64, over the tension.
func Stiff(span, d unit.Length, young unit.Stress, tension unit.Force) unit.Percent {
	i := math.Pi * math.Pow(float64(d), 4) / 64
	return unit.Percent(math.Pi * math.Pi * float64(young) * i / float64(span*span) / float64(tension) * 100)
}

// Arc returns by how much the path of a wire that trails by f on a circle of
// radius r lies inside it: r - √(r² - f²), about f² / (2r); r at most. Our own
// estimate: a point that follows at a distance.
func Arc(r, f unit.Length) unit.Length {
	f = min(f, r)
	return f * f / (r + unit.Length(math.Sqrt(float64(r*r-f*f))))
}

// Inside returns what stays on the bisector of an inside right angle when the middle
// of a disc of radius r trails by f round it: the least of r - s - √(r² - c²) over the
// tractrix (-sech t, t - tanh t) f, s along the bisector from the vertex outwards, c
// across it. It is asinh(1)/√2 = 0.623 f for a large disc and 0.682 f for a point.
// Our own estimate: a point that follows at a distance.
func Inside(f, r unit.Length) unit.Length {
	big, lag := float64(r), float64(f)
	left := func(t float64) float64 {
		e := math.Exp(t)
		x, y := -lag*2/(e+1/e), lag*(t-(e-1/e)/(e+1/e))
		along, across := (x-y)/math.Sqrt2, (x+y)/math.Sqrt2
		return big - along - math.Sqrt(max(0, big*big-across*across)) + max(0, math.Abs(across)-big)*8 // beyond the disc, not reached
	}
	low, high := 0.5, 2.0 // a large disc has its least at 0.881, a point at 1.358
	for range 60 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if left(a) < left(b) {
			high = b
		} else {
			low = a
		}
	}
	return unit.Length(left(low + (high-low)/2))
}
