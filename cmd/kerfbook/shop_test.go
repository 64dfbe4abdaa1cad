package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site"
	"kerfbook/site/diag"
	"kerfbook/wasm/book"
)

const exampleShop = "../../content/shop"

// example is the handbook with the example shop laid over it.
func example(t *testing.T, shop string) site.Options {
	t.Helper()
	h := folder("../../content")
	if err := h.withShop(shop); err != nil {
		t.Fatal(err)
	}
	return h.options()
}

// TestExampleShop: the example of a shop's folder shows each feature, is clean, and
// is published; its digest of a handbook's row is current.
func TestExampleShop(t *testing.T) {
	o := example(t, exampleShop)
	o.Wasm = []byte("the answers of an edition are computed natively")
	sink := &lockedFiles{files: site.Files{}}
	res, err := site.Publish(context.Background(), o, sink)
	var told bytes.Buffer
	if err := diag.Render(&told, res.Messages, res.Texts, res.Pages); err != nil {
		t.Fatal(err)
	}
	if err != nil || len(res.Messages) > 0 {
		t.Fatalf("%v\n%s", err, told.String())
	}
	structured(t, sink.files)
	ours := string(sink.files["ours.html"])
	for _, want := range []string{
		"10 table rows, 2 rules, 5 pages, 1 chapter left out.",
		"<tr><td>gaps 0.25/water/fine</td><td>added</td>",
		"<tr><td>flushings one-off</td><td>replaced</td><td>share low 0.5; share likely 0.7; share high 0.85; remark empty; provenance common practice</td><td>share low 0.55; share likely 0.65; share high 0.75; remark three plates on Quay, upper nozzle 3 mm off; provenance invented</td><td>data/flushings.csv, line 2</td></tr>",
		"<dd>process lead 2026-11-20; quality 2026-11-21</dd>", "<tr><td>cuts LQ-44/1</td><td>added</td>", "<tr><td>wires 0.33</td><td>deleted</td>", "<td>shop.yaml, line 21</td>",
		"Cut LQ-45, pass 1 of 1 on loft: bench 2, 2026-11-03, S-060.",
	} {
		if !strings.Contains(ours, want) {
			t.Errorf("the page of differences lacks %s\n%s", want, ours)
		}
	}
	for page, want := range map[string]string{
		"carbide/index.html":    `Our shop: how we rinse carbide`,
		"passes/index.html":     `Our shop: how we prove a plan`,
		"use/first-day.html":    `Our shop: this page stands in the place of the handbook’s`,
		"wire/our-spools.html":  `class="shop-figure"`,
		"our-shop/index.html":   `carbide slots of 0.3 mm and less go to Loft in this shop`,
		"bibliography.html":     `Test slots on Quay, autumn`,
		"glossary.html":         `evening plate`,
		"wire/index.html":       `<dd>LQT-W-`,
		"calculators/rate.html": `crowns`,
	} {
		if !strings.Contains(string(sink.files[page]), want) {
			t.Errorf("%s lacks %s", page, want)
		}
	}
	if sink.files["taper/index.html"] != nil {
		t.Error("the chapter that is left out is published")
	}
	b, err := loadBook("../../content")
	if err != nil {
		t.Fatal(err)
	}
	row, _ := b.Find("flushings", "one-off")
	text, err := os.ReadFile(filepath.Join(exampleShop, "data", "flushings.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if digest := row.Digest(b.Table("flushings").Columns); !strings.HasSuffix(string(text), ";"+digest+"\n") {
		t.Errorf("the example's since is not %s:\n%s", digest, text)
	}
}

// TestBegin: the example is written whole, checks clean where it is written, and a
// folder that holds something is left alone.
func TestBegin(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "ours")
	if code, _, errs := command("begin", "--content", "../../content", dir); code != 0 {
		t.Fatal(errs)
	}
	if code, out, errs := command("check", "--content", "../../content", "--shop", dir); code != 0 {
		t.Errorf("the written example: %s%s", out, errs)
	}
	if code, _, errs := command("begin", "--content", "../../content", dir); code != 1 || !strings.Contains(errs, "holds something already") {
		t.Errorf("a second time: %d %s", code, errs)
	}
	if code, _, errs := command("check", "--content", "../../content", "--shop", filepath.Join(dir, "none")); code != 1 || !strings.Contains(errs, "there is no shop's folder ") {
		t.Errorf("no folder: %d %s", code, errs)
	}
}

// TestEmptiedTables: a shop that deletes every row of a table is told what lacks it,
// or is published; nothing panics.
func TestEmptiedTables(t *testing.T) {
	page := func(number string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("---\ntitle: T" + number + "\nnumber: \"" + number + "\"\npassed: [{lint: figure, because: t}, {lint: source, because: t}]\n---\nText.\n")}
	}
	files := fstest.MapFS{"first.md": page("000"), "handbook/10-none/index.md": page("001")}
	for _, name := range []string{"edition.yaml", "bibliography.yaml", "glossary.yaml"} {
		text, err := os.ReadFile(filepath.Join("../../content", name))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: text}
	}
	b, err := loadBook("../../content")
	if err != nil {
		t.Fatal(err)
	}
	var tables []string
	times := map[string]int{}
	for _, table := range b.Tables() {
		tables = append(tables, table.Name)
		text, err := os.ReadFile(filepath.Join("../../content/data", table.Name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		files["data/"+table.Name+".csv"] = &fstest.MapFile{Data: text}
	}
	// All rows, all but the first, all but the last, of the tables that have any.
	tables = slices.DeleteFunc(tables, func(name string) bool { return len(b.Table(name).Rows) == 0 })
	for _, name := range slices.Concat(tables, tables, tables) {
		times[name]++
		o := example(t, exampleShop)
		o.Content = files
		o.Shop = fstest.MapFS{"shop.yaml": {Data: []byte("owner: x\nrevision: A\ndate: \"2026-01-01\"\n")}, "data/" + name + ".csv": {Data: []byte(emptied(b.Table(name), times[name]))}}
		res, err := site.Check(o)
		if err != nil && !errors.Is(err, site.ErrContent) {
			t.Errorf("%s: %v", name, err)
		}
		var told bytes.Buffer
		_ = diag.Render(&told, res.Messages, res.Texts, res.Pages)
		empty := strings.Contains(told.String(), "shop/data/"+name+".csv:2:1: error: no row of the table “"+name+"” is left: calculators need one at least, so keep a row or put your own in their place\n")
		switch {
		case times[name] == 1 && empty != (name != "cuts" && name != "machines"), times[name] > 1 && empty,
			err != nil && !empty && !strings.Contains(told.String(), "deletes the row") && !strings.Contains(told.String(), "does not answer its own defaults"):
			t.Errorf("%s, %d: %v, told\n%s", name, times[name], err, told.String())
		}
		if err != nil && !empty {
			t.Logf("%s, %d: told\n%s", name, times[name], told.String())
		}
	}
}

// emptied is a shop's table that deletes every row, or all but the first or the last.
func emptied(t *book.Table, which int) string {
	rows := t.Rows
	switch {
	case which == 2:
		rows = rows[1:]
	case which == 3:
		rows = rows[:len(rows)-1]
	}
	var s strings.Builder
	s.WriteString(strings.Join(t.Keys, ";") + ";delete\n")
	for _, r := range rows {
		for _, k := range t.Keys {
			s.WriteString("\"" + strings.ReplaceAll(r.Cell(k), "\"", "\"\"") + "\";")
		}
		s.WriteString("yes\n")
	}
	return s.String()
}

// TestNearKey: a row that adds because a word of its key is misspelt is asked about.
func TestNearKey(t *testing.T) {
	o := example(t, exampleShop)
	o.Shop = fstest.MapFS{"shop.yaml": {Data: []byte("owner: x\nrevision: A\ndate: \"2026-01-01\"\n")},
		"data/properties.csv": {Data: []byte("material,property,unit,value_low_n0,value_likely_n0,value_high_n0,provenance\nsteel,expantion,ppm/K,10,10.5,11,measured\nbronze,heat,W/(m·K),50,60,70,measured\n")}}
	res, err := site.Check(o)
	if err != nil {
		t.Fatal(err)
	}
	var told bytes.Buffer
	_ = diag.Render(&told, res.Messages, res.Texts, res.Pages)
	want := "shop/data/properties.csv:2:1: warning: this row adds “steel/expantion”; did you mean “expansion” where it says “expantion”?\n" +
		"    2 | steel,expantion,ppm/K,10,10.5,11,measured\n      | ~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~~\n"
	if len(res.Messages) != 1 || !strings.HasPrefix(told.String(), want) {
		t.Errorf("got\n%swant\n%s", told.String(), want)
	}
}
