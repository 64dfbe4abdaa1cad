// Package names holds the list of public names, which may only grow. Tests only.
package names

import (
	"flag"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

// Hold compares the names that there are with those of the list that belong to the
// test. A name that is gone fails, always. One that is new fails too, or is put in its
// place where the test runs with -update. The list stands in order, each name once.
func Hold(t *testing.T, list string, have map[string]bool, belongs func(name string) bool) {
	t.Helper()
	text, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	grown, added, gone := Grow(string(text), have, belongs)
	for _, name := range gone {
		t.Errorf("the public name %q is gone: keep it as an alias", name)
	}
	if grown == string(text) {
		return
	}
	if f := flag.Lookup("update"); f != nil && f.Value.String() == "true" {
		if err := os.WriteFile(list, []byte(grown), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	for _, name := range added {
		t.Errorf("the public name %q is not on the list %s", name, list)
	}
	t.Errorf("%s lacks names or is out of order; %s with -args -update mends it, and takes no name out", list, t.Name())
}

// Grow returns the list with the names that it lacks, in order; what was added, and
// what belongs to the test and is there no more.
func Grow(text string, have map[string]bool, belongs func(name string) bool) (grown string, added, gone []string) {
	var head strings.Builder
	kept := map[string]bool{}
	for line := range strings.Lines(text) {
		switch name := strings.TrimSpace(line); {
		case strings.HasPrefix(name, "#"):
			head.WriteString(name + "\n")
		case name != "":
			kept[name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(kept)) {
		if belongs(name) && !have[name] {
			gone = append(gone, name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(have)) {
		if !kept[name] {
			kept[name] = true
			added = append(added, name)
		}
	}
	return head.String() + strings.Join(slices.Sorted(maps.Keys(kept)), "\n") + "\n", added, gone
}
