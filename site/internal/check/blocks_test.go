package check

import (
	"os"
	"regexp"
	"slices"
	"testing"
)

// TestBlocksAreTold: the table of blocks for authors names every block of ours, and no
// other. That each is counted, looked at and printed is held by the compiler.
func TestBlocksAreTold(t *testing.T) {
	text, err := os.ReadFile("../../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	part := regexp.MustCompile(`(?s)\| block \| does \|\n(.*?)\n\n`).FindSubmatch(text)
	if part == nil {
		t.Fatal("DEVELOPERS.md has no table of blocks")
	}
	var told []string
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z]+)").FindAllSubmatch(part[1], -1) {
		told = append(told, string(m[1]))
	}
	have := ourWords()
	slices.Sort(told)
	slices.Sort(have)
	if !slices.Equal(told, have) {
		t.Errorf("DEVELOPERS.md names the blocks %v, there are %v", told, have)
	}
}
