package catalog

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// readBook reads the handbook's own tables.
func readBook(t testing.TB) *book.Book {
	t.Helper()
	b, err := book.Read(shippedFiles(t))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// shippedFiles are the tables of the handbook as they stand.
func shippedFiles(t testing.TB) []book.File {
	t.Helper()
	names, err := filepath.Glob("../../content/data/*.csv")
	if err != nil || len(names) == 0 {
		t.Fatalf("no tables: %v", err)
	}
	var files []book.File
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, book.File{Name: filepath.Base(name), Text: string(text)})
	}
	return files
}

// row is one published value held against a calculator; the source stands on it.
type row map[string]string

func readRows(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, rec := range all[1:] {
		x := row{}
		for i, col := range all[0] {
			x[col] = rec[i]
		}
		out = append(out, x)
	}
	return out
}

func bibliography(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile("../../content/bibliography.yaml")
	if err != nil {
		t.Fatal(err)
	}
	keys := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^\s*(?:- )?key:\s*"?([a-z0-9-]+)`).FindAllStringSubmatch(string(text), -1) {
		keys[m[1]] = true
	}
	return keys
}

// TestOutsideChecks holds every published value in testdata/checks.csv against
// the calculator it names. The source, its place and how the value was come by
// stand on the row.
func TestOutsideChecks(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	works, pairs, ids := bibliography(t), map[string]bool{}, map[string]bool{}
	rows := readRows(t, "../../testdata/checks.csv")
	for _, r := range rows {
		t.Run(r["id"], func(t *testing.T) {
			if ids[r["id"]] {
				t.Errorf("the id stands twice")
			}
			ids[r["id"]] = true
			if !works[r["source"]] {
				t.Errorf("the bibliography has no %q", r["source"])
			}
			switch r["evidence"] {
			case "seen", "memory", "library":
			default:
				t.Errorf("evidence is %q", r["evidence"])
			}
			if r["place"] == "" {
				t.Errorf("no place; write \"place not seen\" where nobody saw it")
			}
			pairs[r["pair"]] = true
			checkRow(t, b, set, r)
		})
	}
	if len(rows) < 120 || len(pairs) < 45 {
		t.Errorf("%d rows and %d independent pairs; at least 120 and 45 are wanted", len(rows), len(pairs))
	}
}

func checkRow(t *testing.T, b *book.Book, set *calc.Set, r row) {
	c, ok := set.Find(r["calculator"])
	if !ok {
		t.Fatalf("no calculator %q", r["calculator"])
	}
	in := calc.Input{Values: map[string]string{}, Strict: true}
	for _, pair := range strings.Split(r["inputs"], ";") {
		if name, value, ok := strings.Cut(pair, "="); ok {
			in.Values[strings.TrimSpace(name)] = strings.TrimSpace(value)
		}
	}
	rep := c.Eval(b, in)
	if rep.Answer == nil {
		t.Fatalf("refused: %v", rep.Problems)
	}
	if p, ok := rep.Answer.Pick(r["answer"]); ok {
		var all []string
		for _, o := range p.All {
			all = append(all, o.Value)
		}
		if got := strings.Join(all, " or "); got != r["expected"] {
			t.Errorf("%s is %s; %s gives %s", r["answer"], got, r["source"], r["expected"])
		}
		return
	}
	f, ok := rep.Answer.Value(r["answer"])
	if !ok {
		t.Fatalf("no answer %q", r["answer"])
	}
	checkValue(t, f, r)
}

func checkValue(t *testing.T, f calc.Finding, r row) {
	rd, err := unit.Read(r["expected"], f.Kind, unit.Options{Ranges: true, Unit: f.Kind.Base()})
	if err != nil {
		t.Fatalf("expected %q: %v", r["expected"], err)
	}
	want := rd.Range
	near := func(got, want float64) bool {
		tol := 0.0
		switch text := r["tolerance"]; {
		case text == "":
			// the printed precision: half of the last digit printed
			n := regexp.MustCompile(`[0-9]+\.?([0-9]*)`).FindStringSubmatch(r["expected"])
			scale := unit.In(f.Kind, 1, rd.Unit)
			if scale != scale {
				scale = 1
			}
			tol = 0.5000001 * pow10(-len(n[1])) / scale
		case strings.HasSuffix(text, "%"):
			p, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "%")), 64)
			if err != nil {
				t.Fatalf("tolerance %q", text)
			}
			tol = p / 100 * abs(want)
		default:
			p, err := unit.Read(strings.TrimSpace(strings.TrimPrefix(text, "±")), f.Kind, unit.Options{Unit: f.Kind.Base()})
			if err != nil {
				t.Fatalf("tolerance %q: %v", text, err)
			}
			tol = p.Range.Likely
		}
		return abs(got-want) <= tol
	}
	switch {
	case r["tolerance"] == "inside":
		// the published range and ours overlap, and the published likely value lies in ours
		if f.Range.High < want.Low || f.Range.Low > want.High {
			t.Errorf("%s is %s, outside the published %s", f.Name, f.Text, r["expected"])
		}
	case want.Low == want.High:
		if !near(f.Range.Likely, want.Likely) {
			t.Errorf("%s is %s (%.9g); %s gives %s", f.Name, f.Text, f.Range.Likely, r["source"], r["expected"])
		}
	case !near(f.Range.Low, want.Low) || !near(f.Range.High, want.High):
		t.Errorf("%s is %s; %s gives %s", f.Name, f.Text, r["source"], r["expected"])
	}
}

func abs(v float64) float64 { return max(v, -v) }

func pow10(n int) float64 {
	v, _ := strconv.ParseFloat("1e"+strconv.Itoa(n), 64)
	return v
}
