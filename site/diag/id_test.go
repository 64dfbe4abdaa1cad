package diag

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestIDs: no two kinds of message share a name, each is told somewhere, and no
// message is made without one.
func TestIDs(t *testing.T) {
	files := token.NewFileSet()
	list, err := parser.ParseFile(files, "id.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	told, named := map[string]bool{}, map[string]string{}
	for name, o := range list.Scope.Objects {
		spec, ok := o.Decl.(*ast.ValueSpec)
		if !ok {
			continue
		}
		value := spec.Values[0].(*ast.BasicLit).Value
		if before := named[value]; before != "" {
			t.Errorf("%s and %s are both %s", before, name, value)
		}
		named[value], told[name] = name, false
	}
	messages := 0
	err = fs.WalkDir(os.DirFS(".."), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(files, filepath.Join("..", path), nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if lit, ok := n.(*ast.CompositeLit); ok && isDiag(lit.Type, "Message") {
				messages++
				if len(lit.Elts) == 0 || lit.Elts[0].(*ast.KeyValueExpr).Key.(*ast.Ident).Name != "ID" {
					t.Errorf("%s: a message begins with its ID", files.Position(lit.Pos()))
				}
			}
			if s, ok := n.(*ast.SelectorExpr); ok && isDiag(s, s.Sel.Name) {
				if _, is := told[s.Sel.Name]; is {
					told[s.Sel.Name] = true
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(told) < 50 || messages < 10 {
		t.Errorf("%d names and %d messages were found", len(told), messages)
	}
	for name, is := range told {
		if !is {
			t.Errorf("nothing is told under the name %s", name)
		}
	}
}

func isDiag(n ast.Expr, name string) bool {
	s, ok := n.(*ast.SelectorExpr)
	if !ok || s.Sel.Name != name {
		return false
	}
	x, ok := s.X.(*ast.Ident)
	return ok && x.Name == "diag"
}
