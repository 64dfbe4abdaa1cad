package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site"
	"kerfbook/wasm/book"
)

// options and loadBook are what tests make of a content folder.
func options(content string) site.Options { return folder(content).options() }

func loadBook(content string) (*book.Book, error) {
	return folder(content).book(&streams{out: io.Discard, err: io.Discard})
}

// TestOpen: the named folder, else the one here, else the one inside; and one
// line that says which, where there was a choice.
func TestOpen(t *testing.T) {
	var zipped bytes.Buffer
	w := gzip.NewWriter(&zipped)
	_, _ = w.Write([]byte("calculators"))
	_ = w.Close()
	inner := fstest.MapFS{"first.md": {Data: []byte("inside")}}
	in := &carried{content: inner, evidence: fstest.MapFS{}, calculators: zipped.String()}
	here, empty := t.TempDir(), t.TempDir()
	for _, dir := range []string{"content", "other"} {
		if err := os.CopyFS(filepath.Join(here, dir), fstest.MapFS{"first.md": {Data: []byte(dir)}}); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		name, in, named string
		inside          *carried
		page, said, bad string
		wasm            string
	}{
		{"packed, nothing here", empty, "", in, "inside", "using the handbook inside this program\n", "", "calculators"},
		{"packed, content here", here, "", in, "content", "using the handbook in " + filepath.Join(here, "content") + " with the calculators inside this program\n", "", "calculators"},
		{"packed, named", here, "other", in, "other", "using the handbook in " + filepath.Join(here, "other") + " with the calculators inside this program\n", "", "calculators"},
		{"packed, named and not there", empty, "other", in, "", "using the handbook in " + filepath.Join(empty, "other") + " with the calculators inside this program\n",
			"there is no content folder " + filepath.Join(empty, "other") + ": run kerfbook in the folder that holds it, or name it with --content", "calculators"},
		{"plain, content here", here, "", nil, "content", "", "", ""},
		{"plain, nothing here", empty, "", nil, "", "", "there is no content folder " + filepath.Join(empty, "content") + ": run kerfbook in the folder that holds it, or name it with --content", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Chdir(c.in)
			var said bytes.Buffer
			s := &streams{out: &said, err: &said, inside: c.inside}
			h, err := open(s, c.named)
			if err != nil {
				t.Fatal(err)
			}
			bad := ""
			if err := h.stands(); err != nil {
				bad = err.Error()
			}
			page := ""
			if f, err := h.content.Open("first.md"); err == nil {
				var b bytes.Buffer
				_, _ = b.ReadFrom(f)
				page = b.String()
			}
			if said.String() != c.said || bad != c.bad || page != c.page {
				t.Errorf("said %q, error %q, page %q", said.String(), bad, page)
			}
			wasm, err := h.wasm(context.Background(), s)
			if string(wasm) != c.wasm || (err == nil) != (c.wasm != "") {
				t.Errorf("calculators %q, %v", wasm, err)
			}
		})
	}
	damaged := &handbook{inside: &carried{calculators: zipped.String()[:20]}}
	if _, err := damaged.wasm(context.Background(), &streams{}); err == nil || !strings.HasPrefix(err.Error(), "the calculators inside this program are damaged; copy the program anew: ") {
		t.Errorf("damaged calculators: %v", err)
	}
}

// TestPackRefuses: a mistake in packing is told before anything is compiled.
func TestPackRefuses(t *testing.T) {
	const needs = "pack needs the source folder of Kerfbook and the Go toolchain: in that folder run go run ./cmd/kerfbook pack"
	content, err := filepath.Abs("../../content")
	if err != nil {
		t.Fatal(err)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "go.mod"), []byte("module other\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, in string
		cmd      packCmd
		inside   *carried
		want     string
	}{
		{"packed itself", ".", packCmd{}, &carried{}, "this program is packed itself and carries no sources; " + needs},
		{"no sources", t.TempDir(), packCmd{}, nil, needs},
		{"other sources", other, packCmd{}, nil, other + " holds other sources; " + needs},
		{"misspelt", ".", packCmd{Only: []string{"linux-amd46"}}, nil, "nothing is packed for linux-amd46; did you mean linux-amd64?"},
		{"unknown", ".", packCmd{Only: []string{"linux-amd64", "toaster"}}, nil, "nothing is packed for toaster; there are linux-amd64, linux-arm64, windows-amd64, windows-arm64, macos-amd64, macos-arm64"},
		{"into the content", ".", packCmd{To: "../../content/data/packed"}, nil, "cannot pack to ../../content/data/packed: it lies in " + content + ", which goes into the programs; choose a folder outside it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Chdir(c.in)
			var said bytes.Buffer
			err := c.cmd.Run(context.Background(), &streams{out: &said, err: &said, inside: c.inside})
			if err == nil || err.Error() != c.want || said.Len() > 0 {
				t.Errorf("%v\n%s", err, said.String())
			}
		})
	}
}
