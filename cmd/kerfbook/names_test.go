package main

import (
	"context"
	"maps"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/site/record"
	"kerfbook/wasm/border"
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
	b, err := loadBook("../../content")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range b.Table("rules").Rows { // where a line of the job sheet says “read more”
		if files.files[r.Cell("page")] == nil {
			t.Errorf("the rule %s sends to the page %s, which is not published", r.Key, r.Cell("page"))
		}
	}
	for name := range files.files {
		if strings.HasSuffix(name, ".html") && !kept[name] {
			t.Errorf("the page %s is not in testdata/public-names.txt", name)
		}
	}
}

// TestPublicJSON: the names in edition.json, in the JSON of changes and in a
// saved job stand on the list of public names, and every name on it is there.
func TestPublicJSON(t *testing.T) {
	have := map[string]bool{}
	for root, v := range map[string]any{"edition": record.Edition{}, "changes": record.Changes{}} {
		jsonNames(have, root, reflect.TypeOf(v))
	}
	for _, p := range (border.Saved{Calculator: "corner", Edition: "x", Inputs: []border.Pair{{Name: "FIELD"}}}).Pairs() {
		have["json job "+p.Name] = true
	}
	text, err := os.ReadFile("../../testdata/public-names.txt")
	if err != nil {
		t.Fatal(err)
	}
	kept := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "json ") {
			kept[line] = true
			if !have[line] {
				t.Errorf("the name %q is gone; programs read it", line)
			}
		}
	}
	for _, line := range slices.Sorted(maps.Keys(have)) {
		if !kept[line] {
			t.Errorf("the public name %q is not in testdata/public-names.txt", line)
		}
	}
}

// jsonNames collects the names of a struct and of what it holds.
func jsonNames(out map[string]bool, path string, of reflect.Type) {
	for of.Kind() == reflect.Slice || of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	if of.Kind() != reflect.Struct {
		return
	}
	for i := range of.NumField() {
		name, _, _ := strings.Cut(of.Field(i).Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		out["json "+path+" "+name] = true
		jsonNames(out, path+"."+name, of.Field(i).Type)
	}
}
