// Package sweep says how much of a seeded sweep a run of the tests does: a fixed
// tenth, the first seeds, or under `verify --all` the whole. Tests only.
package sweep

import "os"

// Whole is the variable that `verify --all` sets to "all".
const Whole = "KERFBOOK_SWEEPS"

// Part returns how many of a sweep's cases this run does: all of them under
// `verify --all`, else a tenth, one at least. The seeds are 0 to Part-1, so that
// the tenth is the same in every run.
func Part(cases int) int {
	if os.Getenv(Whole) == "all" {
		return cases
	}
	return max(1, cases/10)
}
