package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kerfbook/site"
	"kerfbook/site/record"
)

// smallEdition publishes the real tables with two small pages of its own, after
// a change to one of the tables.
func smallEdition(t *testing.T, to, revision string, table, old, new string) {
	t.Helper()
	dir := t.TempDir()
	put := func(name string, data []byte) {
		t.Helper()
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	get := func(name string) []byte {
		t.Helper()
		data, err := os.ReadFile(filepath.Join("../../content", name))
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	if err := os.CopyFS(filepath.Join(dir, "data"), os.DirFS("../../content/data")); err != nil {
		t.Fatal(err)
	}
	put("bibliography.yaml", get("bibliography.yaml"))
	put("glossary.yaml", []byte("terms:\n  - term: \"wire\"\n    text: \"The tool.\"\n"))
	put("edition.yaml", []byte("title: Trial\nowner: Nobody (invented)\ndocument: Trial\nscheme: T-\nrevision: "+revision+"\ndate: \"2026-01-01\"\nlanguage: en\ncreator: me\napproval: none\n"))
	put("first.md", []byte("---\ntitle: First\nnumber: \"001\"\n---\nStart [here](handbook/10-how/index.md).\n"))
	put("handbook/10-how/index.md", []byte("---\ntitle: How?\nnumber: \"010\"\n---\nLike this.\n\n```figure corner\nradius = 0.2 mm\nwire = 0.3 mm\ndielectric = oil\npass = fine\ncaption: A corner.\n```\n"))
	data := get("data/" + table)
	if !bytes.Contains(data, []byte(old)) {
		t.Fatalf("%s has no %s", table, old)
	}
	put("data/"+table, bytes.Replace(data, []byte(old), []byte(new), 1))
	o := options(dir)
	o.Wasm, o.Evidence, o.Toolchain = []byte("calculators are not run from a page here"), nil, "go0"
	ed, err := site.OpenFolder(to, site.FolderOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if res, err := site.Publish(context.Background(), o, ed); err != nil {
		t.Fatal(err, res.Messages)
	}
	if err := ed.Commit(); err != nil {
		t.Fatal(err)
	}
}

// TestChanges: two published folders, a changed row, saved jobs, and everything
// that can be wrong with a folder.
func TestChanges(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	const head = "remark,source,place,provenance\n"
	smallEdition(t, at("old"), "A", "gaps.csv", head, head+"0.3,oil,fine,4,8,12,,,,common practice\n")
	smallEdition(t, at("new"), "A", "gaps.csv", head, head+"0.3,oil,fine,4,9,13,,,,common practice\n")
	if err := os.Mkdir(at("jobs"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"comb.json":    `{"kerfbook-job":"1","calculator":"corner","units":"metric","in.radius":"0.2 mm","in.wire":"0.3 mm","in.dielectric":"oil","in.pass":"fine"}`,
		"plain.txt":    "kerfbook-job\t1\ncalculator\tcorner\nin.radius\t0.2 mm\nin.wire\t0.1 mm\nshape\tround\n",
		"renamed.json": `{"kerfbook-job":"1","calculator":"cornr"}`,
		"bare.json":    `{"kerfbook-job":"1","calculator":"corner","in.radius":"3"}`,
		"later.json":   `{"kerfbook-job":"7"}`,
	} {
		if err := os.WriteFile(filepath.Join(at("jobs"), name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const because = "because: gaps 0.3/oil/fine: gap_likely_um 8 → 9, gap_high_um 12 → 13\n"
	values := func(lead string) string {
		return lead + "radius-left     0.158 mm (0.154 to 0.162) → 0.159 mm (0.154 to 0.163)\n" + lead + "uncut-distance  0.0654 mm (0.0638 to 0.0671) → 0.0659 mm (0.0638 to 0.0675)\n" +
			lead + "uncut-area      0.00536 mm² (0.00509 to 0.00563) → 0.00543 mm² (0.00509 to 0.0057)\n" + lead + "kerf            0.316 mm (0.308 to 0.324) → 0.318 mm (0.308 to 0.326)\n" + lead
	}
	body := "\nAnswers: 1 changed\n  T-010 “How?”\n    corner radius = 0.2 mm, wire = 0.3 mm, dielectric = oil, pass = fine\n" + values("      ") + because +
		"\nTables\n  gaps “Your own spark gaps on each side, by wire, dielectric and pass”: 1 changed; 1 row\n    0.3/oil/fine  gap_likely_um 8 → 9, gap_high_um 12 → 13\n" +
		"\nPages: 1 changed\n  T-010 “How?”  numbers, figures or links\n"
	jobs := "\nSaved jobs: 4 answered again, 1 changed, 2 unanswered\n" +
		"  bare.json: corner\n    refused by both: radius: “3” has no unit; write a number and mm, µm, thou, tenths or in, for example 3 thou\n" +
		"  comb.json: corner\n" + values("    ") + because +
		"  renamed.json: cornr\n    refused by both: there is no calculator cornr; did you mean corner?\n" +
		"\nNotes\n  later.json: it was written by a newer handbook: it has version 7, this kerfbook reads version 1\n  plain.txt: this handbook does not know shape; the job was answered without\n"

	code, out, errs := command("changes", at("old"), at("new"))
	if _, got, _ := strings.Cut(out, ")\nto   Trial, revision A of 2026-01-01 ("); code != 0 || errs != "" || len(got) < 12 || got[12:] != body {
		t.Errorf("exit %d %s\n%s\nwant\n%s", code, errs, out, body)
	}
	code, out, errs = command("changes", at("old"), at("new"), "--jobs", at("jobs"), "--page", at("page.html"))
	if _, got, _ := strings.Cut(out, "figures or links\n"); code != 1 || got != jobs || errs != "kerfbook: "+at("jobs")+" holds files that are no saved jobs (1); the report names them\n" {
		t.Errorf("exit %d %s\n%s\nwant\n%s", code, errs, out, jobs)
	}
	if page, err := os.ReadFile(at("page.html")); err != nil || !bytes.Contains(page, []byte("<td>0.158 mm (0.154 to 0.162)</td><td>0.159 mm (0.154 to 0.163)</td>")) {
		t.Errorf("the page does not hold the change: %v", err)
	}
	e, _, err := openEdition(at("new"))
	if err != nil {
		t.Fatal(err)
	}
	old, _, err := openEdition(at("old"))
	if err != nil {
		t.Fatal(err)
	}
	how := func(e *record.Edition) string {
		for _, p := range e.Pages {
			if p.Number == "010" {
				return p.Check
			}
		}
		return ""
	}
	const needs = "; name a folder made by kerfbook publish, or the edition.json of one\n"
	record := filepath.Join(at("old"), "edition.json")
	for _, c := range []struct {
		args []string
		code int
		out  string
		errs string
	}{
		{[]string{"changes", at("new"), filepath.Join(at("new"), "edition.json")}, 0, "nothing changed: Trial, revision A of 2026-01-01 (" + e.Digest[:10] + ")\n", ""},
		{[]string{"changes", at("old"), at("new"), "--quiet"}, 0, "", ""},
		{[]string{"changes", at("none"), at("new")}, 1, "", "kerfbook: there is no " + at("none") + needs},
		{[]string{"changes", at("old"), at("jobs")}, 1, "", "kerfbook: " + at("jobs") + ": there is no edition.json in it" + needs},
		{[]string{"changes", at("page.html"), at("new")}, 1, "", "kerfbook: " + at("page.html") + ": this is not the record of a handbook: edition.json of a published folder begins with {\"kerfbook\":\n"},
		{[]string{"changes", record, at("new"), "--jobs", at("jobs")}, 1, "", "kerfbook: saved jobs cannot be answered again with " + record + " alone: its tables are in the published folder; name the folder\n"},
		{[]string{"changes", at("old"), at("new"), "--jobs", at("none")}, 1, "", "kerfbook: there is no folder " + at("none") + " of saved jobs\n"},
		{[]string{"current", how(e), at("new")}, 0, "sheet T-010 “How?”, revision A of 2026-01-01: current\n", ""},
		{[]string{"current", how(old), at("new")}, 0, "sheet T-010 “How?” has changed since that print; that of revision A of 2026-01-01 is the current one\n", ""},
		{[]string{"current", "00000-00000", at("new")}, 0, "no sheet of this edition (revision A of 2026-01-01) has the code 00000-00000: the print is from another edition or another handbook\n", ""},
		{[]string{"current", "000", at("new")}, 1, "", "kerfbook: \"000\" is no check code: it has 3 letters and digits; a check code is ten letters and digits from the title block, for example 3f0a2-9c41e\n"},
	} {
		code, out, errs := command(c.args...)
		if code != c.code || out != c.out || errs != c.errs {
			t.Errorf("%v: exit %d\n%q\n%q", c.args, code, out, errs)
		}
	}
	if err := os.WriteFile(filepath.Join(at("old"), "index.html"), []byte("edited"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, f := range old.Files {
		if want := "kerfbook: " + at("old") + ": it is not whole: index.html has 6 bytes, the record says "; f.Name == "index.html" {
			if code, out, errs := command("changes", at("old"), at("new")); code != 1 || out != "" || !strings.HasPrefix(errs, want) {
				t.Errorf("exit %d %q %q", code, out, errs)
			}
		}
	}
}
