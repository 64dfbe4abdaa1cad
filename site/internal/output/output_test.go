package output

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
)

// tree is a folder as names and contents.
type tree map[string]string

// made returns the files of an edition, its record among them.
func made(word string, names ...string) tree {
	files := tree{}
	var quoted []string
	for _, name := range names {
		files[name] = word + " " + name + strings.Repeat(".", 100)
		quoted = append(quoted, fmt.Sprintf(`{"name": %q, "digest": "%x"}`, name, sha256.Sum256([]byte(files[name]))))
	}
	slices.Sort(quoted)
	files[Record] = RecordHead + fmt.Sprintf(` %q, "files": [%s]}`, word, strings.Join(quoted, ", "))
	return files
}

func before() tree {
	return made("former", "about/gone.html", "index.html", "handbook/offsets.html", "handbook/gone.html", "look/sheet.css")
}

func after() tree {
	return made("new", "index.html", "handbook/offsets.html", "drawing/added.html", "look/sheet.css")
}

// publish writes an edition and puts it in place.
func publish(files FS, dir string, content tree, o Options) error {
	e, err := Open(files, dir, o)
	if err != nil {
		return err
	}
	defer e.Abort()
	if err := fill(e, content); err != nil {
		return err
	}
	return e.Commit()
}

func fill(e *Edition, content tree) error {
	for _, name := range slices.Sorted(maps.Keys(content)) {
		if name != Record {
			if err := e.Put(name, []byte(content[name])); err != nil {
				return err
			}
		}
	}
	return e.Put(Record, []byte(content[Record]))
}

// read returns what a folder holds, nil when it is not there. Folders are listed with a slash.
func read(t *testing.T, dir string) tree {
	t.Helper()
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	found := tree{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == dir {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		found[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// alone fails when something stands beside the folder.
func alone(t *testing.T, dir string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

func holds(t *testing.T, dir string, want tree) {
	t.Helper()
	if got := read(t, dir); !maps.Equal(got, want) || (got == nil) != (want == nil) {
		t.Errorf("%s holds\n%v\nwant\n%v", dir, got, want)
	}
}

// newPlace returns a folder that does not exist yet, in an empty folder of its own.
func newPlace(t *testing.T) string {
	t.Helper()
	parent, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(parent, "site")
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// says compares an error with its whole text and its reason.
func says(t *testing.T, err error, reason Reason, want string) {
	t.Helper()
	e := (*Error)(nil)
	if !errors.As(err, &e) {
		t.Fatalf("got %v, want %s", err, want)
	}
	if e.Reason != reason || err.Error() != want {
		t.Errorf("reason %d\ngot  %s\nreason %d\nwant %s", e.Reason, err, reason, want)
	}
}

func TestPublish(t *testing.T) {
	for _, twoWay := range []bool{false, true} {
		t.Run(fmt.Sprintf("two renames %v", twoWay), func(t *testing.T) {
			dir := newPlace(t)
			files := &script{on: Disk(), twoWay: twoWay}
			must(t, publish(files, dir, before(), Options{}))
			holds(t, dir, before())
			alone(t, dir)
			must(t, publish(files, dir, after(), Options{}))
			holds(t, dir, after())
			alone(t, dir)
		})
	}
}

// The real disk, with all its waiting.
func TestPublishOnDisk(t *testing.T) {
	dir := diskPlace(t)
	for _, content := range []tree{before(), after(), before()} {
		must(t, publish(Disk(), dir, content, Options{}))
		holds(t, dir, content)
		alone(t, dir)
	}
}

func TestPublishToEmptyFolderAndMissingParents(t *testing.T) {
	dir := newPlace(t)
	must(t, os.Mkdir(dir, 0o755))
	must(t, os.WriteFile(filepath.Join(dir, ".DS_Store"), nil, 0o644)) // macOS looked into it
	must(t, publish(Disk(), dir, before(), Options{}))
	holds(t, dir, before())
	alone(t, dir)

	deep := filepath.Join(newPlace(t), "a", "b")
	must(t, publish(Disk(), deep, before(), Options{}))
	holds(t, deep, before())
	alone(t, deep)
}

func TestAbort(t *testing.T) {
	dir := newPlace(t)
	must(t, publish(Disk(), dir, before(), Options{}))
	e, err := Open(Disk(), dir, Options{})
	must(t, err)
	must(t, fill(e, after()))
	e.Abort()
	e.Abort()
	holds(t, dir, before())
	alone(t, dir)
	says(t, e.Commit(), BadName, "cannot publish to "+dir+": the edition is closed")
	says(t, e.Put("a.html", nil), BadName, "cannot write a.html: the edition is closed")

	e, err = Open(Disk(), dir, Options{})
	must(t, err)
	must(t, fill(e, after()))
	must(t, e.Commit())
	e.Abort()
	holds(t, dir, after())
	alone(t, dir)
}

func TestPutConcurrently(t *testing.T) {
	dir := newPlace(t)
	var names []string
	for i := range 400 {
		names = append(names, fmt.Sprintf("part-%d/page-%d.html", i%7, i))
	}
	content := made("many", names...)
	e, err := Open(Disk(), dir, Options{})
	must(t, err)
	defer e.Abort()
	var wg sync.WaitGroup
	for worker := range 8 {
		wg.Go(func() {
			for i := worker; i < len(names); i += 8 {
				if err := e.Put(names[i], []byte(content[names[i]])); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	must(t, e.Put(Record, []byte(content[Record])))
	must(t, e.Commit())
	holds(t, dir, content)
}

func TestPutRefuses(t *testing.T) {
	dir := newPlace(t)
	open := func() *Edition {
		e, err := Open(Disk(), dir, Options{})
		must(t, err)
		t.Cleanup(e.Abort)
		return e
	}
	e := open()
	must(t, e.Put("a.html", nil))
	says(t, e.Put("a.html", nil), BadName, "cannot write a.html for "+dir+": it is there already; two pages have one address")
	says(t, e.Commit(), BadName, "nothing is published to "+dir+", because one file is missing: cannot write a.html for "+dir+": it is there already; two pages have one address")
	e.Abort()

	e = open()
	must(t, e.Put("a.html", nil))
	says(t, e.Commit(), BadName, "cannot publish to "+dir+": the edition has no edition.json")
	must(t, e.Put(Record, []byte(`{"kerfbook": 1, "files": ["b.html"]}`)))
	says(t, e.Commit(), BadName, "cannot publish to "+dir+": edition.json does not name a.html")
	says(t, e.Put("b.html", nil), BadName, "cannot write b.html for "+dir+": edition.json is written last")
	e.Abort()

	e = open()
	says(t, e.Put(Record, []byte(`{ "kerfbook": 1}`)), BadName, "cannot write edition.json for "+dir+`: it must begin with {"kerfbook":`)
	says(t, e.Put(Record, []byte(`{"kerfbook":`)), BadName, "cannot write edition.json for "+dir+": it is not one whole JSON text")
	e.Abort()
	holds(t, dir, nil)
	alone(t, dir)
}

func TestTwoAtOnce(t *testing.T) {
	dir := newPlace(t)
	must(t, publish(Disk(), dir, before(), Options{}))
	first, err := Open(Disk(), dir, Options{})
	must(t, err)
	busy := fmt.Sprintf("cannot use %s: another kerfbook command (process %d) is writing there; wait until it is done", dir, os.Getpid())
	_, err = Open(Disk(), dir, Options{})
	says(t, err, Busy, busy)
	_, err = Heal(Disk(), dir)
	says(t, err, Busy, busy)
	must(t, fill(first, after()))
	must(t, first.Commit())
	holds(t, dir, after())
	must(t, publish(Disk(), dir, before(), Options{}))
	holds(t, dir, before())
	alone(t, dir)
}

// Many at once: each is either refused or publishes whole.
func TestManyAtOnce(t *testing.T) {
	dir := newPlace(t)
	must(t, publish(Disk(), dir, before(), Options{}))
	files := &script{on: Disk()}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 20 {
				err := publish(files, dir, after(), Options{})
				if e := (*Error)(nil); err != nil && (!errors.As(err, &e) || e.Reason != Busy) {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	holds(t, dir, after())
	alone(t, dir)
}
