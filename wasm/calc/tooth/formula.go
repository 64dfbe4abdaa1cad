// Package tooth answers whether a wire reaches the root of an involute tooth:
// widths of the tooth space, the root's fillet, the largest disc that touches
// the floor, sizes over and between pins. It may import book, calc, figure and
// unit.
package tooth

import "math"

// Gear is an involute toothing with lengths in mm and angles in rad. For an
// internal one the number of teeth is positive too and the profile shift points
// outward, so that its space has the outline of an external tooth. ISO 21771,
// relations from memory.
type Gear struct {
	Z        float64
	M        float64 // module
	Alpha    float64 // pressure angle
	X        float64 // profile shift, in modules
	Internal bool
	Root     float64 // root diameter
}

// Inv is the involute function tan φ - φ.
func Inv(phi float64) float64 { return math.Tan(phi) - phi }

// InvertInv returns the angle of a value of the involute function, by Newton's
// method from the cube root of three times the value; 0 for a value below zero.
func InvertInv(v float64) float64 {
	if v <= 0 {
		return 0
	}
	phi := math.Cbrt(3 * v)
	if phi > 1.2 {
		phi = 1.2
	}
	for range 30 {
		t := math.Tan(phi)
		step := (t - phi - v) / (t * t)
		phi -= step
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return phi
}

// Pitch returns the reference diameter d = m z.
func (g Gear) Pitch() float64 { return g.M * g.Z }

// Base returns the base diameter d cos α.
func (g Gear) Base() float64 { return g.Pitch() * math.Cos(g.Alpha) }

// psi is the half angle of the external tooth, or of the internal gear's space,
// at the reference diameter: π/(2z) + 2 x tan α / z.
func (g Gear) psi() float64 { return math.Pi/(2*g.Z) + 2*g.X*math.Tan(g.Alpha)/g.Z }

// At returns the pressure angle at a diameter, cos α_y = d_b / d_y; 0 below the
// base circle.
func (g Gear) At(d float64) float64 {
	if d <= g.Base() {
		return 0
	}
	return math.Acos(g.Base() / d)
}

// outline is the half angle of the external tooth or the internal space at a
// diameter: ψ + inv α - inv α_y.
func (g Gear) outline(d float64) float64 { return g.psi() + Inv(g.Alpha) - Inv(g.At(d)) }

// half is the half angle of the space at a diameter.
func (g Gear) half(d float64) float64 {
	if g.Internal {
		return g.outline(d)
	}
	return math.Pi/g.Z - g.outline(d)
}

// Space returns the arc of a space between two teeth at a diameter.
func (g Gear) Space(d float64) float64 { return d * g.half(d) }

// Tooth returns the arc of a tooth at a diameter: the rest of the pitch there.
func (g Gear) Tooth(d float64) float64 { return d*math.Pi/g.Z - g.Space(d) }

// Chord returns the straight width of the space at a diameter.
func (g Gear) Chord(d float64) float64 { return d * math.Sin(g.half(d)) }

// Form returns the diameter at which the involute that a rack cuts begins, for
// an addendum of the rack of h modules: d_Ff² = (d sin α - 2 m (h - x)/sin α)² +
// d_b².
func (g Gear) Form(h float64) float64 {
	s := math.Sin(g.Alpha)
	a := g.Pitch()*s - 2*g.M*(h-g.X)/s
	return math.Hypot(a, g.Base())
}

// Undercut reports whether a rack of addendum h undercuts: x < h - z sin²α / 2.
func (g Gear) Undercut(h float64) bool {
	s := math.Sin(g.Alpha)
	return !g.Internal && g.X < h-g.Z*s*s/2
}

// Fillet returns the smallest radius of the root that a rack of dedendum h and
// tip radius rho, both in modules, cuts: ρ + a² / (d/2 + a), a = h - ρ - x in
// modules. The curvature of a trochoid at its deepest point; our own derivation.
func (g Gear) Fillet(h, rho float64) float64 {
	a := (h - rho - g.X) * g.M
	return rho*g.M + a*a/(g.Pitch()/2+a)
}

// centre returns where a disc of radius r that touches both flanks has its
// centre. Below the base circle an external flank is taken as radial.
func (g Gear) centre(r float64) float64 {
	rb := g.Base() / 2
	if g.Internal {
		return rb / math.Cos(InvertInv(Inv(g.Alpha)+g.psi()-r/rb))
	}
	eta := math.Pi/g.Z - g.psi() - Inv(g.Alpha) // half the space at the base circle
	if eta > 0 && r < rb*math.Tan(eta) {
		return r / math.Sin(eta)
	}
	return rb / math.Cos(InvertInv(r/rb-eta))
}

// Disc returns the diameter of the largest disc that touches both flanks and the
// floor of the space.
func (g Gear) Disc() float64 {
	lo, hi := 0.0, 3*g.M
	for range 60 {
		r := (lo + hi) / 2
		over := g.centre(r) - r - g.Root/2
		if g.Internal {
			over = g.Root/2 - g.centre(r) - r
		}
		if over < 0 {
			lo = r
		} else {
			hi = r
		}
	}
	return lo + hi
}

// Pins returns the size over two pins of diameter dp in opposite spaces of an
// external gear, or between them in an internal one; with an odd number of teeth
// the pins stand as nearly opposite as they can.
func (g Gear) Pins(dp float64) float64 {
	c := 2 * g.centre(dp/2)
	if math.Mod(g.Z, 2) != 0 {
		c *= math.Cos(math.Pi / (2 * g.Z))
	}
	if g.Internal {
		return c - dp
	}
	return c + dp
}

// Corner returns the angle in rad, on the space's side, between flank and floor
// at the root circle: 90° + α_f.
func (g Gear) Corner() float64 { return math.Pi/2 + g.At(g.Root) }
