package catalog

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// lookUps are what a package's source looks up by a literal, with the place, and
// all words of its other literals.
type lookUps struct {
	columns, tables map[string]string
	words, texts    map[string]bool
}

// readSource reads the look-ups out of a package's files, tests left out.
func readSource(t *testing.T, dir string) lookUps {
	t.Helper()
	out := lookUps{map[string]string{}, map[string]string{}, map[string]bool{}, map[string]bool{}}
	files, err := filepath.Glob(dir + "/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no source in %s: %v", dir, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		text := func(e ast.Expr) (string, bool) {
			l, ok := e.(*ast.BasicLit)
			if !ok || l.Kind != token.STRING {
				return "", false
			}
			s, err := strconv.Unquote(l.Value)
			return s, err == nil
		}
		note := func(into map[string]string, e ast.Expr, more string) {
			if s, ok := text(e); ok {
				into[s+more] = set.Position(e.Pos()).String()
			}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.KeyValueExpr:
				if k, ok := n.Key.(*ast.Ident); ok && k.Name == "Tables" {
					return false // the declaration itself
				}
			case *ast.BasicLit:
				if s, ok := text(n); ok {
					out.texts[s] = true
					for _, w := range strings.FieldsFunc(s, func(c rune) bool { return c == ' ' || c == '\n' || c == '\t' || c == ':' }) {
						out.words[w] = true
					}
				}
			case *ast.CallExpr:
				called := ""
				switch f := n.Fun.(type) {
				case *ast.SelectorExpr:
					called = f.Sel.Name
				case *ast.Ident:
					called = f.Name
				}
				switch {
				case (called == "Cell" || called == "Num") && len(n.Args) == 1:
					note(out.columns, n.Args[0], "")
				case called == "Range" && len(n.Args) == 3:
					if unit, ok := text(n.Args[1]); ok {
						note(out.columns, n.Args[0], "_likely_"+unit)
					}
				case (called == "Find" || called == "Table") && len(n.Args) > 0:
					note(out.tables, n.Args[0], "")
				case called == "AskRows" && len(n.Args) == 5:
					note(out.tables, n.Args[2], "")
				}
			}
			return true
		})
	}
	return out
}

// TestColumns: every column and table that a calculator looks up by a literal is
// declared, so that NewSet knows whether it is there, and what is declared is looked
// up.
func TestColumns(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	rules, laws := readSource(t, "../rules"), readSource(t, "../laws") // what topics have read for them
	for _, c := range set.All() {
		declared := c.Columns(b)
		all := slices.Concat(slices.Collect(maps.Values(declared))...)
		src := readSource(t, "../calc/"+c.ID)
		for name, place := range src.columns {
			if !slices.Contains(all, name) {
				t.Errorf("%s: the calculator %s reads the column %q, and its Tables do not say so", place, c.ID, name)
			}
		}
		for name, place := range src.tables {
			if _, ok := declared[name]; !ok {
				t.Errorf("%s: the calculator %s reads the table %q, and its Tables do not say so", place, c.ID, name)
			}
		}
		for _, line := range c.Tables {
			for _, w := range strings.Fields(line)[1:] {
				stem, unit, three := strings.Cut(w, "_*_")
				read := src.words[w] || src.columns[w] != ""
				if three {
					read = src.words[stem] && src.words[unit] || src.words[stem+"_likely_"+unit] || src.words[stem+"_low_"+unit]
				}
				if step, _ := strings.CutSuffix(w, "_um"); strings.HasPrefix(step, "to_") {
					_, err := strconv.Atoi(step[len("to_"):]) // the steps of sizes are taken by their number
					read = read || err == nil
				}
				for _, shared := range []lookUps{rules, laws} {
					read = read || shared.words[w] || shared.columns[w] != "" || three && shared.words[stem] && shared.words[unit]
				}
				if !read && w != "name" { // the names of rows that are offered as choices
					t.Errorf("the calculator %s says that it reads %q of %q, and nothing of its source does", c.ID, w, line)
				}
			}
		}
	}
	// What calc and book read for any calculator is in the shipped tables' columns
	// that some calculator reads.
	all := slices.Concat(slices.Collect(maps.Values(set.Columns(b)))...)
	for _, dir := range []string{"../calc", "../book", "../rules", "../laws"} {
		for name, place := range readSource(t, dir).columns {
			if !slices.Contains(all, name) {
				t.Errorf("%s: the column %q is read, and no declaration says so", place, name)
			}
		}
	}
}

// TestMissingColumn: a column that is gone is a fault when the set is made, with the
// name that is near, and reading one that the table never had panics.
func TestMissingColumn(t *testing.T) {
	b := renamed(t, "wiretypes.csv", "density_likely_kgm3", "density_likley_kgm3")
	_, err := New(b)
	const want = "calculator \"bow\" reads a column that is not there: the table “wiretypes” has no column “density_likely_kgm3”, did you mean “density_likley_kgm3”?"
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("says %v", err)
	}
	b = renamed(t, "materials.csv", "name", "nome") // the choices of a field
	if _, err = New(b); err == nil || !strings.Contains(err.Error(), "the table “materials” has no column “name”") {
		t.Errorf("says %v", err)
	}
	b = renamed(t, "machines.csv", "bore_mm", "borr_mm")
	if _, err = New(b); err == nil || !strings.Contains(err.Error(), `calculator "slug" reads a column that is not there: the table “machines” has no column “bore_mm”, did you mean “borr_mm”?`) {
		t.Errorf("says %v", err)
	}
	b = readBook(t)
	row, _ := b.Find("wiretypes", "tungsten")
	for _, c := range []struct {
		read func()
		want string
	}{
		{func() { row.Num("uts_likely_mpaa") }, "the table wiretypes has no column uts_likely_mpaa"},
		{func() { row.Cell("tempre") }, "the table wiretypes has no column tempre"},
		{func() { row.Range("uts", "gpa", 1) }, "the table wiretypes has no column uts_low_gpa"},
		{func() { row.Num("temper") }, "the column temper of the table wiretypes holds no numbers"},
	} {
		func() {
			defer func() {
				if got := recover(); got != c.want {
					t.Errorf("says %v, want %s", got, c.want)
				}
			}()
			c.read()
		}()
	}
	if gone := (book.Row{}); gone.Num("anything_mm") != 0 || gone.Cell("anything") != "" {
		t.Error("a row that was not found is empty")
	}
}

// renamed reads the shipped tables with one column under another name.
func renamed(t *testing.T, file, old, new string) *book.Book {
	t.Helper()
	list := shippedFiles(t)
	for i, f := range list {
		if f.Name == file {
			list[i].Text = strings.Replace(f.Text, ","+old+",", ","+new+",", 1)
		}
	}
	b, err := book.Read(list)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestDeclaredFault: a calculator that names a column the table lacks, or holds a
// field against one, does not get into a set.
func TestDeclaredFault(t *testing.T) {
	b := readBook(t)
	c := &calc.Calculator{ID: "made", Title: "T", Question: "Q?", Summary: "S.", Build: func(f *calc.Form, b *book.Book) calc.Run {
		var machine string
		var v unit.Length
		calc.AskMachine(f, b, &machine)
		calc.Ask(f, &v, "wire: Wire\nis 0.2 mm\ncard wire_form_mm wire_to_mm")
		calc.Tell(f, &v, "out: Out")
		return calc.Run{Point: func(*calc.Point) {}, Say: func(*calc.Result, *calc.Answer) {}}
	}}
	_, err := calc.NewSet(b, c)
	const want = `calculator "made": field "wire" is held against a machine card: the table “machines” has no column “wire_form_mm”, did you mean “wire_from_mm”?`
	if err == nil || err.Error() != want {
		t.Errorf("says  %v\nwants %s", err, want)
	}
}
