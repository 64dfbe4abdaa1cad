package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kerfbook/site"
)

// smallContent is a handbook of two pages without numbers, quick to check and to publish.
func smallContent(t *testing.T, dir string) {
	t.Helper()
	page := func(number, title string) string {
		return fmt.Sprintf("---\ntitle: %s\nnumber: %q\ndescription: A page without numbers.\n---\nNothing is computed here.\n", title, number)
	}
	put(t, dir, map[string]string{"first.md": page("000", "First"), "handbook/10-none/index.md": page("001", "Nothing")})
	for _, name := range []string{"bibliography.yaml", "edition.yaml", "glossary.yaml"} {
		text, err := os.ReadFile(filepath.Join("../../content", name))
		if err != nil {
			t.Fatal(err)
		}
		put(t, dir, map[string]string{name: string(text)})
	}
	if err := os.CopyFS(filepath.Join(dir, "data"), os.DirFS("../../content/data")); err != nil {
		t.Fatal(err)
	}
}

// put writes files below dir.
func put(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// all returns everything below dir: folders end in a slash, links in their target.
func all(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch {
		case d.IsDir():
			found[name+"/"] = ""
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			found[name], err = os.Readlink(name)
			return err
		}
		text, err := os.ReadFile(name)
		found[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// realTemp is a temporary folder without links in its name.
func realTemp(t *testing.T) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// publishSmall publishes with calculators that nobody asks.
func publishSmall(content, to string) (out, errs string, err error) {
	var o, e bytes.Buffer
	c := &publishCmd{To: to, Content: content, wasm: []byte("nobody asks the calculators here")}
	err = c.Run(context.Background(), &streams{out: &o, err: &e})
	return o.String(), e.String(), err
}

// TestBadPlaces: each place that is not right for an edition ends the command with exit 1 and a sentence
// that says what would be right, and everything stays as it was.
func TestBadPlaces(t *testing.T) {
	base := realTemp(t)
	content := filepath.Join(base, "project", "content")
	smallContent(t, content)
	ours := filepath.Join(base, "ours")
	if _, _, err := publishSmall(content, ours); err != nil {
		t.Fatal(err)
	}
	put(t, base, map[string]string{
		"ours/notes.txt": "mine", "ours/wire": "mine", "letters/a.txt": "a", "letters/b.txt": "b", "other/edition.json": `{"number": 3}`,
		"torn/edition.json": `{"kerfbook":1, "files": [`, "file": "not a folder", "here/deep/x": "x", "home/me/x": "x",
	})
	if err := os.Symlink(ours, filepath.Join(base, "link")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("nowhere", filepath.Join(base, "lost")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Join(base, "here", "deep"))
	t.Setenv("HOME", filepath.Join(base, "home", "me"))
	t.Setenv("USERPROFILE", filepath.Join(base, "home", "me"))
	held, err := site.OpenFolder(filepath.Join(base, "busy"), site.FolderOptions{})
	if err != nil {
		t.Fatal(err)
	}
	defer held.Abort()
	root := filepath.VolumeName(base) + string(filepath.Separator)
	was := all(t, base)

	const own = "; choose a folder of its own for the edition"
	for _, c := range []struct{ to, want string }{
		{"BASE/letters", "cannot publish to BASE/letters: the folder holds a.txt, b.txt and was not made by kerfbook; choose an empty folder or a new name"},
		{"BASE/other", "cannot publish to BASE/other: the folder holds edition.json and was not made by kerfbook; choose an empty folder or a new name"},
		{"BASE/torn", "cannot publish to BASE/torn: its edition.json cannot be read (it is not one whole JSON text), so it is not certain what kerfbook wrote there; move the folder away or choose another"},
		{"BASE/ours", "cannot publish to BASE/ours: kerfbook did not write notes.txt, wire, and publishing would delete it; move it out of the folder first"},
		{"BASE/file", "cannot publish to BASE/file: it is not a folder; choose another name"},
		{"BASE/file/site", "cannot find BASE/file/site: a part of the path is a file, not a folder; choose another path"},
		{"BASE/link", "cannot publish to BASE/link: it is a link to BASE/ours; publish to that folder itself"},
		{"BASE/lost", "cannot publish to BASE/lost: it is a link that leads nowhere; remove it or choose another folder"},
		{"BASE/project/content", "cannot publish to BASE/project/content: it is BASE/project/content, which is read to make the edition" + own},
		{"BASE/project", "cannot publish to BASE/project: it holds BASE/project/content, which is read to make the edition" + own},
		{"BASE/project/content/site", "cannot publish to BASE/project/content/site: it lies in BASE/project/content, which is read to make the edition; choose a folder outside it"},
		{".", "cannot publish to BASE/here/deep: it is the folder where the command was started" + own},
		{"..", "cannot publish to BASE/here: it holds the folder where the command was started" + own},
		{"BASE/home/me", "cannot publish to BASE/home/me: it is your home folder" + own},
		{"BASE", "cannot publish to BASE: it holds your home folder" + own},
		{root, "cannot publish to " + root + ": it is the root of a disk" + own},
		{"BASE/busy", fmt.Sprintf("cannot use BASE/busy: another kerfbook command (process %d) is writing there; wait until it is done", os.Getpid())},
	} {
		full := func(s string) string { return filepath.FromSlash(strings.ReplaceAll(s, "BASE", base)) }
		code, out, errs := command("publish", "--content", content, "--to", full(c.to))
		if want := "kerfbook: " + strings.ReplaceAll(c.want, "BASE", base) + "\n"; code != 1 || out != "" || errs != want {
			t.Errorf("--to %s: exit %d, %q\ngot  %swant %s", c.to, code, out, errs, want)
		}
	}
	if now := all(t, base); !maps.Equal(now, was) {
		t.Error("something changed")
	}
	held.Abort()

	// Where nothing is in the way it works, and says on the way what the user should know.
	for _, name := range []string{"notes.txt", "wire"} {
		if err := os.Remove(filepath.Join(ours, name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(base, filepath.Join(base, "here", "by")); err != nil {
		t.Fatal(err)
	}
	by := filepath.Join(base, "here", "by")
	out, errs, err := publishSmall(content, filepath.Join(by, "ours"))
	if want := by + " leads through a link: the edition is at " + ours + "\n"; err != nil || !strings.HasSuffix(errs, want) || !strings.HasPrefix(out, filepath.Join(by, "ours")+": ") {
		t.Errorf("%v\n%s%s", err, out, errs)
	}
}

// TestNextCommandRestores: a command for a folder puts the edition back that an interrupted one left
// aside, even when the command itself can do nothing.
func TestNextCommandRestores(t *testing.T) {
	base := realTemp(t)
	content, to := filepath.Join(base, "content"), filepath.Join(base, "site")
	smallContent(t, content)
	if _, _, err := publishSmall(content, to); err != nil {
		t.Fatal(err)
	}
	was := all(t, base)
	stage := filepath.Join(base, ".kerfbook-new-site-0123456789abcdef")
	put(t, stage, map[string]string{"kerfbook-staging.txt": "kerfbook keeps an unfinished edition here. The next publication to the folder beside it removes this one.\n",
		"edition/index.html": "half"})
	if err := os.Rename(to, filepath.Join(stage, "former")); err != nil {
		t.Fatal(err)
	}
	nowhere := filepath.Join(base, "nowhere")
	code, out, errs := command("publish", "--content", nowhere, "--to", to)
	want := "put back the former edition of " + to + ", because a publication was interrupted\n" +
		"kerfbook: there is no content folder " + nowhere + ": run kerfbook in the folder that holds it, or name it with --content\n"
	if code != 1 || out != "" || errs != want {
		t.Errorf("exit %d, %q\ngot  %s\nwant %s", code, out, errs, want)
	}
	if now := all(t, base); !maps.Equal(now, was) {
		t.Error("the edition is not as it was, or something is left beside it")
	}
}
