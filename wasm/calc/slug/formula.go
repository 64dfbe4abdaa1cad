// Package slug answers what becomes of the piece that is cut loose: its mass,
// whether it falls or wedges, what holds it, how it is cut free, and cutting the
// opening to nothing. It may import book, calc, figure and unit.
package slug

import "kerfbook/wasm/unit"

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

// Tab returns the length of tab that bears a force in shear at a strength, the
// whole thickness bearing: F / (τ T).
func Tab(force unit.Force, shear unit.Stress, thickness unit.Length) unit.Length {
	if shear <= 0 {
		return 0
	}
	return unit.Length(float64(force) / (float64(shear) * float64(thickness)))
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
