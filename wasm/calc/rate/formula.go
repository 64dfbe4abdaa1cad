// Package rate answers how fast a cut goes and how long and dear the job is:
// area rate and feed, time of every pass, wire, resin, cost. It may import book,
// calc, figure and unit.
package rate

import (
	"math"

	"kerfbook/wasm/unit"
)

// Feed returns the feed along the path: area rate over thickness.
func Feed(rate unit.AreaRate, thickness unit.Length) unit.Speed {
	return unit.Speed(float64(rate) / float64(thickness))
}

// Area returns the area rate of a feed: feed times thickness.
func Area(feed unit.Speed, thickness unit.Length) unit.AreaRate {
	return unit.AreaRate(float64(feed) * float64(thickness))
}

// Volume returns the volume rate of a cut: area rate times kerf, V = v h b.
// Kalpakjian and Schmid, wire EDM.
func Volume(rate unit.AreaRate, kerf unit.Length) unit.VolumeRate {
	return unit.VolumeRate(float64(rate) * float64(kerf))
}

// Along returns the time in s of a length at a feed.
func Along(length unit.Length, feed unit.Speed) unit.Time {
	return unit.Time(float64(length) / float64(feed) * 60)
}

// Textbook returns the volume rate in mm³/min by the law of die-sinking with a
// mean current in A and a melting point in °C: 4e4 I T^-1.23. Kalpakjian and
// Schmid, chapter 27; a comparison only.
func Textbook(i unit.Current, melting unit.Temperature) unit.VolumeRate {
	return unit.VolumeRate(4e4 * float64(i) * math.Pow(float64(melting), -1.23))
}

// Second returns the same law as another textbook has it: 664 I T^-1.23 in
// mm³/s. Groover, chapter 26.
func Second(i unit.Current, melting unit.Temperature) unit.VolumeRate {
	return unit.VolumeRate(664 * 60 * float64(i) * math.Pow(float64(melting), -1.23))
}

// thermal returns the share of the rate with a 0.25 mm wire that heat allows a
// thinner one: the square root of the diameters' ratio; above it there is a
// plateau. Schacht 2004, chapter III, as text.
func thermal(d unit.Length) float64 { return math.Sqrt(math.Min(1, float64(d)/0.25)) }
