package main

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/site/record"
	"kerfbook/testdata/names"
	"kerfbook/wasm/border"
)

const publicNames = "../../testdata/public-names.txt"

// TestPublicPages: every page address on the list of public names is published,
// and every page that is published stands on the list.
func TestPublicPages(t *testing.T) {
	o := options("../../content")
	o.Wasm = []byte("no page needs the calculators to have an address")
	files := &lockedFiles{files: site.Files{}}
	if _, err := site.Publish(context.Background(), o, files); err != nil {
		t.Fatal(err)
	}
	structured(t, files.files)
	have := map[string]bool{}
	for name := range files.files {
		if strings.HasSuffix(name, ".html") {
			have["page "+name] = true
		}
	}
	names.Hold(t, publicNames, have, func(name string) bool { return strings.HasPrefix(name, "page ") })
	b, err := loadBook("../../content")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range b.Table("rules").Rows { // where a line of the job sheet says “read more”
		if files.files[r.Cell("page")] == nil {
			t.Errorf("the rule %s sends to the page %s, which is not published", r.Key, r.Cell("page"))
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
	names.Hold(t, publicNames, have, func(name string) bool { return strings.HasPrefix(name, "json ") })
}

// TestNamesOnlyGrow: a name that is new takes its place, one that is gone is told and
// stays on the list, and a list that is whole stays as it is.
func TestNamesOnlyGrow(t *testing.T) {
	const list = "# Names.\npage a.html\npage c.html\ntable wires wire\n"
	pages := func(name string) bool { return strings.HasPrefix(name, "page ") }
	for _, c := range []struct {
		name, text, want string
		have             []string
		added, gone      []string
	}{
		{"whole", list, list, []string{"page a.html", "page c.html"}, nil, nil},
		{"new", list, "# Names.\npage a.html\npage b.html\npage c.html\ntable wires wire\n", []string{"page a.html", "page b.html", "page c.html"}, []string{"page b.html"}, nil},
		{"gone", list, list, []string{"page a.html"}, nil, []string{"page c.html"}},
		{"renamed", list, "# Names.\npage a.html\npage c.html\npage d.html\ntable wires wire\n", []string{"page a.html", "page d.html"}, []string{"page d.html"}, []string{"page c.html"}},
		{"out of order and twice", "# Names.\npage c.html\npage a.html\ntable wires wire\npage c.html\n", list, []string{"page a.html", "page c.html"}, nil, nil},
	} {
		have := map[string]bool{}
		for _, name := range c.have {
			have[name] = true
		}
		if got, added, gone := names.Grow(c.text, have, pages); got != c.want || !slices.Equal(added, c.added) || !slices.Equal(gone, c.gone) {
			t.Errorf("%s: %q, added %q, gone %q", c.name, got, added, gone)
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
