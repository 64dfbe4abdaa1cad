package job

import "math"

// thicker is the next wire of the table in the dielectric taken.
func (j *job) thicker(d float64) float64 {
	for _, t := range j.tools(j.Facts.Word(factDielectric)) {
		if float64(t.wire) > d+same {
			return float64(t.wire)
		}
	}
	return math.Inf(1)
}
