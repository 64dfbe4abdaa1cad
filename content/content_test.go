package content

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"testing"
)

// TestWhole: a packed program carries every file of the folder and nothing else.
func TestWhole(t *testing.T) {
	inside, folder := files(t, FS), files(t, os.DirFS("."))
	for name, data := range folder {
		if path.Ext(name) == ".go" {
			continue
		}
		if got, ok := inside[name]; !ok {
			t.Errorf("%s is not carried: name it in the embed line of content.go", name)
		} else if !bytes.Equal(got, data) {
			t.Errorf("%s is carried with other bytes", name)
		}
	}
	for name := range inside {
		if folder[name] == nil || path.Ext(name) == ".go" {
			t.Errorf("%s is carried and is no content", name)
		}
	}
	if inside["first.md"] == nil {
		t.Error("the first page is not there: nothing was compared")
	}
}

func files(t *testing.T, fsys fs.FS) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		out[name], err = fs.ReadFile(fsys, name)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
