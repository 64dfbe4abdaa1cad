package job

import (
	"os"
	"path/filepath"
	"testing"

	"kerfbook/wasm/book"
)

func files(t testing.TB) []book.File {
	t.Helper()
	names, err := filepath.Glob("../../../content/data/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	var out []book.File
	for _, n := range names {
		text, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, book.File{Name: filepath.Base(n), Text: string(text)})
	}
	return out
}

func readBook(t testing.TB) *book.Book {
	t.Helper()
	b, err := book.Read(files(t))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestShippedRules: the table that ships has nothing wrong in it.
func TestShippedRules(t *testing.T) {
	list, faults := Rules(readBook(t))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if len(list) < 50 {
		t.Errorf("only %d rules", len(list))
	}
}
