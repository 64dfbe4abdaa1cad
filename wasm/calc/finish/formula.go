// Package finish answers what a roughness on a print means in the other scales
// and whether it can be measured on the part. It may import book, calc, figure,
// laws and unit.
package finish

import (
	"math"

	"kerfbook/wasm/unit"
)

// Class returns the VDI 3400 class of a roughness: K = 20 log10(10 Ra/µm).
// VDI 3400 (June 1975), from memory.
func Class(ra unit.Roughness) unit.Ratio { return unit.Ratio(20 * math.Log10(10*float64(ra))) }

// Grade returns the N grade whose limit a roughness does not exceed, 1 to 12;
// 13 when it is rougher than N12. A grade is an upper limit: 7.5 µm is N10.
// ISO 1302 table of N numbers.
func Grade(ra unit.Roughness) int {
	for n := 1; n <= 12; n++ {
		if limit, _ := unit.GradeLimit(n); ra <= limit*(1+1e-12) {
			return n
		}
	}
	return 13
}
