package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/site/record"
)

// recordOf publishes a content folder and returns its record.
func recordOf(t *testing.T, dir string) *record.Edition {
	t.Helper()
	o := options(dir)
	o.Wasm = []byte("the answers of an edition are computed natively")
	r, err := site.Publish(context.Background(), o, &lockedFiles{files: site.Files{}})
	if err != nil {
		t.Fatal(err)
	}
	return r.Edition
}

// TestPlantedRow: one changed number in one row of the handbook's own tables
// changes the recorded answers that name the row, and no other.
func TestPlantedRow(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	// The pages' own examples would stop the publication: their numbers are the
	// old ones. The calculators' defaults are what is compared here.
	if err := os.RemoveAll(filepath.Join(dir, "handbook")); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "handbook", "10-none"), 0o755); err != nil {
		t.Fatal(err)
	}
	none := "---\ntitle: Nothing\nnumber: \"001\"\ndescription: A chapter without numbers.\n---\nNothing is computed here either.\n"
	if err := os.WriteFile(filepath.Join(dir, "handbook", "10-none", "index.md"), []byte(none), 0o644); err != nil {
		t.Fatal(err)
	}
	first := "---\ntitle: Planted\nnumber: \"000\"\ndescription: A first page without numbers.\n---\nNothing is computed here.\n"
	if err := os.WriteFile(filepath.Join(dir, "first.md"), []byte(first), 0o644); err != nil {
		t.Fatal(err)
	}
	before := recordOf(t, dir)
	for _, c := range []struct {
		file, from, to, row string
		all                 bool // every answer that names the row prints the number, or what follows from it
	}{
		{"factors.csv", "steel,0.9,1,1.1,", "steel,0.92,1.02,1.12,", "factors steel", false},
		{"flushings.csv", "both nozzles close,1,1,1", "both nozzles close,0.8,0.9,1", "flushings both", false},
		{"wiretypes.csv", "brass-hard,\"brass, hard\",850,900,1000", "brass-hard,\"brass, hard\",860,910,1010", "wiretypes brass-hard", false},
		{"clearances.csv", ",7.5,7.5,7.5,textbook", ",7.6,7.6,7.6,textbook", "clearances group-3", true},
		{"materials.csv", "7.6,7.7,7.75", "7.6,7.71,7.75", "materials steel", false},
		{"racks.csv", "A,1.25,0.38", "A,1.25,0.37", "racks A", true},
	} {
		name := filepath.Join(dir, "data", c.file)
		old, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Count(string(old), c.from) != 1 {
			t.Fatalf("%s holds %q %d times", c.file, c.from, strings.Count(string(old), c.from))
		}
		if err := os.WriteFile(name, []byte(strings.Replace(string(old), c.from, c.to, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		after := recordOf(t, dir)
		if err := os.WriteFile(name, old, 0o644); err != nil {
			t.Fatal(err)
		}
		named := 0
		for i, a := range before.Answers {
			names, changed := slices.Contains(a.Rows, c.row), !slices.Equal(a.Values, after.Answers[i].Values)
			if names {
				named++
			}
			if changed && !names {
				t.Errorf("%s: the answer %q changed and does not name the row; it names %v", c.row, a.ID, a.Rows)
			}
			if c.all && names && !changed {
				t.Errorf("%s: the answer %q names the row and did not change", c.row, a.ID)
			}
		}
		if named == 0 {
			t.Errorf("no recorded answer names %s", c.row)
		}
	}
}
