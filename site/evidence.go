package site

import (
	"io/fs"
	"slices"

	"kerfbook/site/record"
)

// WithChecks adds what the outside checks of the evidence amount to: rows, pairs of
// a formula with a publication or library, publications, and how each value was
// come by. Evidence without them adds zeros.
func WithChecks(counts []record.Count, evidence fs.FS) ([]record.Count, error) {
	pairs, works := map[string]bool{}, map[string]bool{}
	rows, seen, memory, library := 0, 0, 0, 0
	for _, name := range []string{"checks.csv", "formula-checks.csv"} {
		list, err := evidenceRows(evidence, name)
		if err != nil {
			return nil, err
		}
		for _, row := range list {
			rows++
			pairs[row["pair"]] = true
			works[row["source"]] = true
			switch row["evidence"] {
			case "seen":
				seen++
			case "memory":
				memory++
			case "library":
				library++
			}
		}
	}
	at := slices.IndexFunc(counts, func(c record.Count) bool { return c.Name == "numbers computed" })
	add := []record.Count{count("outside checks", rows), count("independent pairs", len(pairs)), count("publications", len(works)), count("checks seen", seen), count("checks from memory", memory), count("checks by library", library)}
	return slices.Insert(slices.Clone(counts), max(at, 0), add...), nil
}
