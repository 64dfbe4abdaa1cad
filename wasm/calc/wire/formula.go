// Package wire answers what a wire can carry and how long its spool lasts:
// breaking load, tension, mass, spool life, stiffness. It may import book,
// calc, figure and unit.
package wire

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// Section returns the section of a round wire in mm²: π d² / 4.
func Section(d unit.Length) unit.Area { return unit.Area(math.Pi * float64(d) * float64(d) / 4) }

// Breaking returns the breaking load in N: strength times section. MPa is N/mm².
func Breaking(strength unit.Stress, d unit.Length) unit.Force {
	return unit.Force(float64(strength) * float64(Section(d)))
}

// Pull returns the stress in MPa of a tension in a wire.
func Pull(tension unit.Force, d unit.Length) unit.Stress {
	return unit.Stress(float64(tension) / float64(Section(d)))
}

// PerMetre returns the mass of one metre in g: density in g/cm³ times section.
func PerMetre(density unit.Density, d unit.Length) unit.Mass {
	return unit.Mass(float64(density) * float64(Section(d)))
}

// Lasts returns how long a spool lasts at a feed, in s.
func Lasts(spool, perMetre unit.Mass, feed unit.Speed) unit.Time {
	return unit.Time(float64(spool) / float64(perMetre) / (float64(feed) / 1000) * 60)
}

// Stiffer returns how many times stiffer in bending one round wire is than
// another: E d⁴ over E d⁴. The second moment of a round section is π d⁴ / 64.
func Stiffer(e1 unit.Stress, d1 unit.Length, e2 unit.Stress, d2 unit.Length) unit.Ratio {
	return unit.Ratio(float64(e1) / float64(e2) * math.Pow(float64(d1/d2), 4))
}

// Spool returns the wire on a spool as it is usually sold, in g, by the nearest
// diameter of the table that is not thinner, and the row that says so. Common
// practice, no source.
func Spool(b *book.Book, d unit.Length) (mass unit.Mass, row book.Row) {
	t := b.Table("wires")
	if t == nil {
		return 0, row
	}
	for _, r := range t.Rows {
		row = r
		if r.Num("diameter_mm") >= float64(d)-1e-9 {
			break
		}
	}
	return unit.Mass(row.Num("spool_kg") * 1000), row
}
