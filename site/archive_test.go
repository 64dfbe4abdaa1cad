package site

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// archived is one file of an archive of texts.
type archived struct{ name, text string }

// unpack reads an archive: what stands before the first line “-- name --” is about it,
// and each such line begins a file.
func unpack(text string) (about string, files []archived) {
	for line := range strings.Lines(text) {
		name, begins := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "-- ")
		if name, ends := strings.CutSuffix(name, " --"); begins && ends {
			files = append(files, archived{name: name})
		} else if len(files) == 0 {
			about += line
		} else {
			files[len(files)-1].text += line
		}
	}
	return about, files
}

func TestUnpack(t *testing.T) {
	about, files := unpack("a case\nrefused\n-- a.md --\n---\ntitle: x\n---\n-- b --\n-- said: x --\n--- no --\nlast")
	want := []archived{{"a.md", "---\ntitle: x\n---\n"}, {"b", ""}, {"said: x", "--- no --\nlast"}}
	if about != "a case\nrefused\n" || len(files) != len(want) {
		t.Fatalf("%q %q", about, files)
	}
	for i := range want {
		if files[i] != want[i] {
			t.Errorf("%q, want %q", files[i], want[i])
		}
	}
}

// saidMark begins the part of a case that says what a person sees.
const saidMark = "-- said: "

// hostileFiles are the cases of testdata/shops, one a file: its name, the word
// published or refused, the shop's files (shop.yaml is sound where none stands there),
// and what is said.
func hostileFiles(t testing.TB) []hostileCase {
	t.Helper()
	list, err := filepath.Glob("testdata/shops/*.txtar")
	if err != nil || len(list) == 0 {
		t.Fatal("there are no cases in testdata/shops", err)
	}
	var out []hostileCase
	for _, file := range list {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		about, files := unpack(string(text))
		name, state, _ := strings.Cut(strings.TrimSuffix(about, "\n"), "\n")
		if state != "published" && state != "refused" {
			t.Fatalf("%s: a case begins with its name and a line that says published or refused", file)
		}
		shop := shopFolder()
		for _, f := range files {
			if !strings.HasPrefix("-- "+f.name, saidMark) {
				shop[f.name] = &fstest.MapFile{Data: []byte(f.text)}
			}
		}
		out = append(out, hostileCase{name, shop, state == "published", file})
	}
	return out
}

// holdSaid compares what was said with what the case's file says, or writes it there.
func holdSaid(t *testing.T, file, said string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	made, want, _ := strings.Cut(string(text), saidMark)
	want = saidMark + want
	switch {
	case want == said:
	case update():
		if err := os.WriteFile(file, []byte(made+said), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("%s: said is\n%s\nwant\n%s", file, said, want)
	}
}
