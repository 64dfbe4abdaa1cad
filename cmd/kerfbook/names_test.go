package main

import (
	"context"
	"os"
	"strings"
	"testing"

	"kerfbook/site"
)

// TestPublicPages: every page address on the list of public names is published,
// and every page that is published stands on the list.
func TestPublicPages(t *testing.T) {
	o := options("../../content")
	o.Wasm = []byte("no page needs the calculators to have an address")
	files := &lockedFiles{files: site.Files{}}
	if _, err := site.Publish(context.Background(), o, files); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../../testdata/public-names.txt")
	if err != nil {
		t.Fatal(err)
	}
	kept := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "page "); ok {
			kept[name] = true
			if files.files[name] == nil {
				t.Errorf("the page %s is gone: keep its address as an alias", name)
			}
		}
	}
	for name := range files.files {
		if strings.HasSuffix(name, ".html") && !kept[name] {
			t.Errorf("the page %s is not in testdata/public-names.txt", name)
		}
	}
}
