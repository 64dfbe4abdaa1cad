// Package slug answers what becomes of the piece that is cut loose: its mass,
// whether it enters the nozzle, wedges or stays, what holds it, how it is cut free, and cutting the
// opening to nothing. It may import book, calc, figure and unit.
package slug

import (
	"math"

	"kerfbook/wasm/unit"
)

// gravity is the standard acceleration of free fall in m/s², a definition.
const gravity = 9.80665

// Mass returns density times volume: g/cm³ times mm³ is mg.
func Mass(density unit.Density, area unit.Area, thickness unit.Length) unit.Mass {
	return unit.Mass(float64(density) * float64(area) * float64(thickness) / 1000)
}

// Weight returns the weight in N of a mass in g.
func Weight(m unit.Mass) unit.Force { return unit.Force(float64(m) / 1000 * gravity) }

// Flush returns the force in N of a pressure in MPa on an area in mm².
func Flush(pressure unit.Stress, area unit.Area) unit.Force {
	return unit.Force(float64(pressure) * float64(area))
}

// Across returns the longest way across a rectangle seen from above, its diagonal.
func Across(width, length unit.Length) unit.Length {
	return unit.Length(math.Hypot(float64(width), float64(length)))
}

// Shear returns the length of tab that bears a force in shear at a strength, the
// whole thickness bearing: F / (τ T).
func Shear(force unit.Force, shear unit.Stress, thickness unit.Length) unit.Length {
	if shear <= 0 {
		return 0
	}
	return unit.Length(float64(force) / (float64(shear) * float64(thickness)))
}

// yield is the tensile strength over the shear strength of a ductile metal, √3:
// von Mises. Callister and Rethwisch and every text on strength have it.
const yield = 1.7320508075688772

// Bend returns the length of tab that bears a force at a lever in bending: the
// section l by T of a cantilever, M = F e, stress 6 M / (l T²) in its faces. At two
// thirds of this length the whole section yields and the tab folds.
func Bend(force unit.Force, lever unit.Length, strength unit.Stress, thickness unit.Length) unit.Length {
	if strength <= 0 {
		return 0
	}
	return unit.Length(6 * float64(force) * float64(lever) / (float64(strength) * float64(thickness) * float64(thickness)))
}

// torsion is the greatest shear stress of a solid rectangle, long by short, under a
// torque of one: Roark's series for Saint-Venant's torsion, from memory, place not
// seen. It gives 4.81 for a square of side one and 3 for a thin strip.
func torsion(a, b float64) float64 {
	long, short := max(a, b), min(a, b)
	k := short / long
	return 3 * (1 + k*(0.6095+k*(0.8865+k*(-1.8023+k*0.9100)))) / (long * short * short)
}

// Twist returns the length of tab that bears a force beside it in twist. The section
// is taken as that of a long bar; a tab only a kerf long bears more.
func Twist(force unit.Force, side unit.Length, shear unit.Stress, thickness unit.Length) unit.Length {
	torque := float64(force) * float64(side)
	if shear <= 0 || torque <= 0 {
		return 0
	}
	bears := func(l float64) bool { return torque*torsion(l, float64(thickness)) <= float64(shear) }
	low, high := 0.0, float64(thickness)
	for !bears(high) {
		low, high = high, 2*high
	}
	for range 80 { // the stress only falls with the length
		if mid := low + (high-low)/2; bears(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return unit.Length(high)
}

// Cut returns the time in s of a cut: length times thickness over area rate.
func Cut(length, thickness unit.Length, rate unit.AreaRate) unit.Time {
	return unit.Time(float64(length) * float64(thickness) / float64(rate) * 60)
}

// Nothing returns the time in s of cutting a volume to nothing: the volume over
// area rate times kerf, less what neighbouring passes share. V = A' b is the
// volume rate of the wire: Kalpakjian and Schmid.
func Nothing(area unit.Area, thickness unit.Length, rate unit.AreaRate, kerf unit.Length, shared unit.Percent) unit.Time {
	return unit.Time(float64(area) * float64(thickness) / (float64(rate) * float64(kerf) * (1 - float64(shared)/100)) * 60)
}
