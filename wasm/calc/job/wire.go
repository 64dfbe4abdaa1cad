package job

import (
	"math"

	"kerfbook/wasm/rules"
)

// thicker is the next wire of the table in the dielectric taken.
func (j *job) thicker(d float64) float64 {
	for _, t := range j.tools(j.Facts.Word(factDielectric)) {
		if float64(t.wire) > d+same {
			return float64(t.wire)
		}
	}
	return math.Inf(1)
}

// pickWire is the largest wire that the corner, the slot and the bounds allow.
// Where the bounds leave none they are given up, the lower one first.
func (j *job) pickWire(o *rules.Outcome) float64 {
	tools := j.tools(j.Facts.Word(factDielectric))
	if j.Facts.Is(factRoughing, "last") {
		if t, ok := j.lastOnly(tools, o.Top); ok {
			return float64(t.wire)
		}
	}
	t, reaches := j.largest(tools, o.Top, o.Low)
	if reaches == "no" {
		t, reaches = j.largest(tools, o.Top, 0)
	}
	if reaches == "no" {
		t, _ = j.largest(tools, math.Inf(1), 0)
	}
	return float64(t.wire)
}

// lastOnly is the largest wire that reaches with the last pass, even stock or not.
func (j *job) lastOnly(tools []tool, limit float64) (best tool, ok bool) {
	for _, t := range tools {
		in, takes := j.reach(t)
		if j.listed(t.wire) && float64(t.wire) <= limit+same && in != "no" && takes != "no" {
			best, ok = t, true
		}
	}
	return best, ok && best.wire > 0
}
