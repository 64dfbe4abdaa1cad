package check

import (
	"maps"
	"slices"
	"testing"

	"kerfbook/wasm/book"
)

// TestSuffixes: every unit that a column's name may end in can be printed, and
// no other.
func TestSuffixes(t *testing.T) {
	printed, read := slices.Sorted(maps.Keys(suffixes)), slices.Sorted(slices.Values(book.Units()))
	if !slices.Equal(printed, read) {
		t.Errorf("the pages print %v, the tables have %v", printed, read)
	}
}
