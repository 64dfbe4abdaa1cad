package site

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// WithChecks adds what the outside checks in a folder amount to: rows, pairs of
// a formula with a publication or library, publications, and how each value was
// come by. A folder without them adds zeros.
func WithChecks(counts []Count, dir string) ([]Count, error) {
	pairs, works := map[string]bool{}, map[string]bool{}
	rows, seen, memory, library := 0, 0, 0, 0
	for _, name := range []string{"checks.csv", "formula-checks.csv"} {
		list, err := readChecks(filepath.Join(dir, name))
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
	at := slices.IndexFunc(counts, func(c Count) bool { return c.Name == "numbers computed" })
	add := []Count{{"outside checks", rows}, {"independent pairs", len(pairs)}, {"publications", len(works)}, {"checks seen", seen}, {"checks from memory", memory}, {"checks by library", library}}
	return slices.Insert(slices.Clone(counts), max(at, 0), add...), nil
}

func readChecks(name string) ([]map[string]string, error) {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []map[string]string
	for _, rec := range all[min(1, len(all)):] {
		row := map[string]string{}
		for i, col := range all[0] {
			row[col] = rec[i]
		}
		out = append(out, row)
	}
	return out, nil
}
