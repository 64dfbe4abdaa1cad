package output

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/sys/unix"
)

// mount puts a small disk in memory at dir, or returns false where the system does not let us. The same
// cases then run on the test file system only, in full_test.go and fault_test.go.
func mount(t *testing.T, dir, options string) bool {
	t.Helper()
	if err := unix.Mount("kerfbook-test", dir, "tmpfs", 0, options); err != nil {
		t.Logf("no disk can be mounted here (%v): only the test file system is full or read-only", err)
		return false
	}
	t.Cleanup(func() {
		if err := unix.Unmount(dir, unix.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return true
}

// stuff fills a disk with a file, but for some bytes.
func stuff(t *testing.T, name string, free int64) {
	t.Helper()
	f, err := os.Create(name)
	must(t, err)
	defer f.Close()
	page := bytes.Repeat([]byte("x"), 4096)
	for {
		if _, err := f.Write(page); errors.Is(err, unix.ENOSPC) {
			break
		} else {
			must(t, err)
		}
	}
	info, err := f.Stat()
	must(t, err)
	must(t, f.Truncate(max(0, info.Size()-free)))
}

// A disk that is really full.
func TestRealFullDisk(t *testing.T) {
	dir := newPlace(t)
	parent := filepath.Dir(dir)
	if !mount(t, parent, "size=256k") {
		return
	}
	ballast := filepath.Join(parent, "ballast")
	said := map[string]bool{}
	for _, twoWay := range []bool{false, true} {
		must(t, publish(Disk(), dir, before(), Options{}))
		for free := int64(0); free <= 7*4096; free += 4096 {
			stuff(t, ballast, free)
			err := publish(&script{on: Disk(), twoWay: twoWay}, dir, after(), Options{})
			if err == nil {
				holds(t, dir, after())
			} else {
				if text := err.Error(); !slices.Contains(refusals(dir, fullText), text) || reason(err) != Full {
					t.Errorf("%d bytes free: %s", free, text)
				}
				said[strings.ReplaceAll(err.Error(), dir, "DIR")] = true
				holds(t, dir, before())
			}
			must(t, os.Remove(ballast))
			alone(t, dir)
			must(t, publish(Disk(), dir, before(), Options{}))
			holds(t, dir, before())
		}
	}
	t.Logf("%d texts", len(said))
	if len(said) < 4 {
		t.Errorf("met only %v", said)
	}
}

// A publication that was killed has filled the disk. The next command heals, though not one byte can be
// written, also where the lock's file is gone.
func TestHealOnRealFullDisk(t *testing.T) {
	dir := newPlace(t)
	parent := filepath.Dir(dir)
	if !mount(t, parent, "size=256k") {
		return
	}
	met := 0
	for _, twoWay := range []bool{false, true} {
		must(t, publish(Disk(), dir, before(), Options{}))
		for i, p := range points(calls(t, dir, twoWay)) {
			must(t, publish(Disk(), dir, before(), Options{}))
			publish(&script{on: Disk(), twoWay: twoWay, at: p.n, die: p.when}, dir, after(), Options{})
			if i%2 == 1 {
				os.Remove(filepath.Join(parent, ".kerfbook-lock-site"))
			}
			ballast := filepath.Join(parent, "ballast")
			stuff(t, ballast, 0)
			if _, err := Heal(Disk(), dir); err != nil {
				t.Fatalf("killed %s %s: %v", p.when, p.call, err)
			}
			must(t, os.Remove(ballast))
			alone(t, dir)
			if word, err := seen(dir); word == "" || err != nil {
				t.Fatalf("killed %s %s: %q, %v", p.when, p.call, word, err)
			}
			met++
		}
	}
	t.Logf("healed on a full disk %d times", met)
}

// A disk that is really read-only, for root as well.
func TestRealReadOnlyDisk(t *testing.T) {
	dir := newPlace(t)
	parent := filepath.Dir(dir)
	if !mount(t, parent, "size=1m") {
		return
	}
	set := func(flags uintptr) { t.Helper(); must(t, unix.Mount("", parent, "", unix.MS_REMOUNT|flags, "")) }
	must(t, publish(Disk(), dir, before(), Options{}))
	set(unix.MS_RDONLY)
	want := "cannot publish to " + dir + ": " + readOnlyText
	says(t, publish(Disk(), dir, after(), Options{}), ReadOnly, want)
	holds(t, dir, before())
	said, err := Heal(Disk(), dir)
	if said != "" || err != nil {
		t.Errorf("%q, %v", said, err)
	}
	deep := filepath.Join(parent, "new", "site")
	says(t, publish(Disk(), deep, after(), Options{}), ReadOnly, "cannot publish to "+deep+": "+readOnlyText)

	// What was interrupted cannot be healed there; nothing changes until it can.
	set(0)
	lay(t, parent, merge(tree{".kerfbook-new-site-0123456789abcdef/" + markName: markText}, at(".kerfbook-new-site-0123456789abcdef/former/", before())))
	must(t, os.RemoveAll(dir))
	set(unix.MS_RDONLY)
	_, err = Heal(Disk(), dir)
	says(t, err, ReadOnly, want)
	set(0)
	said, err = Heal(Disk(), dir)
	if must(t, err); said != "put back the former edition of "+dir+", because a publication was interrupted" {
		t.Errorf("said %q", said)
	}
	holds(t, dir, before())
	alone(t, dir)
}

// The folder is a disk of its own, which cannot be moved.
func TestFolderIsADisk(t *testing.T) {
	dir := newPlace(t)
	must(t, os.Mkdir(dir, 0o755))
	if !mount(t, dir, "size=1m") {
		return
	}
	says(t, publish(Disk(), dir, after(), Options{}), InUse, "cannot put the new edition in place at "+dir+
		": the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it")
	holds(t, dir, tree{})
	alone(t, dir)
	inside := filepath.Join(dir, "site")
	must(t, publish(Disk(), inside, after(), Options{}))
	holds(t, inside, after())
}
