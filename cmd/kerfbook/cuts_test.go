package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestStaleCut: a cut older than its rebuilt machine is named, until it is withdrawn or holds
// again; a day that cannot be read is refused at its place.
func TestStaleCut(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "data"), 0o755); err != nil {
		t.Fatal(err)
	}
	put("shop.yaml", "owner: Lantern Quay (invented)\nscheme: LQ-\nrevision: C\ndate: \"2026-02-03\"\n")
	put(filepath.Join("data", "machines.csv"), "machine,rebuilt\nquay,2026-03-01\n")
	for _, c := range []struct {
		columns, row, says string
		code               int
	}{
		{"withdrawn", "1.5.2026", "data/cuts.csv:2:9: error: the column “withdrawn” wants a day written as 2026-02-11, this is “1.5.2026”", 1},
		{"remark", "odd", "data/cuts.csv:2:1: warning: the cut “LQ-12/1” counts no more: ", 1},
		{"withdrawn", "2026-05-01", "", 0},
		{"valid_from", "2026-03-02", "", 0},
	} {
		put(filepath.Join("data", "cuts.csv"), "cut,pass,"+c.columns+"\nLQ-12,1,"+c.row+"\n")
		var out, errs bytes.Buffer
		code := run([]string{"check", "--content", "../../content", "--shop", dir}, &out, &errs)
		if said := out.String() + errs.String(); code != c.code || !strings.Contains(said, c.says) || c.says == "" && strings.Contains(said, "LQ-12/1") {
			t.Errorf("%s %q: exit %d\n%s", c.columns, c.row, code, said)
		}
	}
}
