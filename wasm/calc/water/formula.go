// Package water answers what a reading of the dielectric's conductivity means:
// resistivity, temperature, what pure and open water read, and the leakage
// current it allows. It may import book, calc, figure, laws and unit.
package water

import (
	"math"

	"kerfbook/wasm/unit"
)

// At25 returns the conductivity at 25 °C of water read at t °C without
// compensation: κ25 = κ / (1 + α (t - 25)). α is 2 % per kelvin for water with
// salts, 1.9 to 2.1 %: ISO 7888, from memory. Ultrapure water has about 5.5 %
// near 25 °C.
func At25(k unit.Conductivity, t unit.Temperature, alpha unit.Percent) unit.Conductivity {
	return k / unit.Conductivity(factor(t, alpha))
}

// At returns the conductivity at t °C of water that has k25 at 25 °C: the
// inverse of At25.
func At(k25 unit.Conductivity, t unit.Temperature, alpha unit.Percent) unit.Conductivity {
	return k25 * unit.Conductivity(factor(t, alpha))
}

func factor(t unit.Temperature, alpha unit.Percent) float64 {
	return 1 + float64(alpha)/100*float64(t-25)
}

// Known is one published conductivity of the purest water.
type Known struct {
	T unit.Temperature
	K unit.Conductivity
}

// Pure returns what the purest water reads at t °C. The logarithm of the
// published conductivities goes straight over 1/T, T in kelvin, between two
// points, as it does for a reaction; the first and last pair are carried on
// beyond the ends. The points stand in order of temperature, two at least.
func Pure(known []Known, t unit.Temperature) unit.Conductivity {
	i := 1
	for i < len(known)-1 && t > known[i].T {
		i++
	}
	a, b := known[i-1], known[i]
	share := (inverse(a.T) - inverse(t)) / (inverse(a.T) - inverse(b.T))
	return a.K * unit.Conductivity(math.Pow(float64(b.K/a.K), share))
}

func inverse(t unit.Temperature) float64 { return 1 / (float64(t) + 273.15) }

// Salt returns the sodium chloride in mg/L that would read the same at 25 °C on
// top of pure water: about 2.1 µS/cm for each mg/L. From the fall of the
// resistivity with 1 µg/L of salt, 18.18 to 17.5 MΩ·cm: Light 2005.
func Salt(k25, pure unit.Conductivity) float64 { return max(0, float64(k25-pure)) / 2.1 }

// Grade returns the grade of laboratory water by its conductivity at 25 °C alone:
// "1" up to 0.1 µS/cm, "2" up to 1, "3" up to 5, else "none". ISO 3696, from memory.
func Grade(k25 unit.Conductivity) string {
	switch {
	case k25 <= 0.1:
		return "1"
	case k25 <= 1:
		return "2"
	case k25 <= 5:
		return "3"
	}
	return "none"
}

// Against returns where a conductivity stands: "below", "inside" or "above" the
// range from low to high. The limits themselves are inside.
func Against(k25, low, high unit.Conductivity) string {
	switch {
	case k25 < low:
		return "below"
	case k25 > high:
		return "above"
	}
	return "inside"
}

// GHS returns the category of a flammable liquid by its flash point: "category 3"
// from 23 to 60 °C, "category 4" above 60 to 93, "none" above. Below 23 °C the
// boiling point decides between 1 and 2. Globally Harmonized System.
func GHS(flash unit.Temperature) string {
	switch {
	case flash < 23:
		return "category 1 or 2"
	case flash <= 60:
		return "category 3"
	case flash <= 93:
		return "category 4"
	}
	return "none"
}

// CLP returns the category in the European regulation, which takes over 1 to 3
// only: "none" above 60 °C. Regulation (EC) 1272/2008.
func CLP(flash unit.Temperature) string {
	if flash > 60 {
		return "none"
	}
	return GHS(flash)
}

// NFPA returns the older class of the code for flammable and combustible
// liquids: "class I" below 37.8 °C, "class II" below 60, "class IIIA" below 93,
// else "class IIIB". NFPA 30, from memory.
func NFPA(flash unit.Temperature) string {
	switch {
	case flash < 37.8:
		return "class I"
	case flash < 60:
		return "class II"
	case flash < 93:
		return "class IIIA"
	}
	return "class IIIB"
}
