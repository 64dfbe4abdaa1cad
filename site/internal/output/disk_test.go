package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
)

func TestDiskNeverOverwrites(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a")
	must(t, os.WriteFile(name, []byte("kept"), 0o644))
	if f, err := Disk().Create(name); !errors.Is(err, fs.ErrExist) || f != nil {
		t.Errorf("got %v, %v", f, err)
	}
	if err := Disk().Mkdir(name); !errors.Is(err, fs.ErrExist) {
		t.Errorf("got %v", err)
	}
}

// Both ways to wait for the disk go through a tree, and both notice that it is not there.
func TestSync(t *testing.T) {
	dir := diskPlace(t)
	for name, sync := range map[string]func(string) error{"tree": syncTree, "each": syncEach, "dir": syncDir} {
		if err := sync(dir); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := sync(dir + "-gone"); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s of nothing: %v", name, err)
		}
	}
	holds(t, dir, before())
}

// The lock file that its holder has just removed must not let two in.
func TestLockChangesHands(t *testing.T) {
	name := filepath.Join(t.TempDir(), "lock")
	first, err := lock(name, "first\n")
	must(t, err)
	held := (*heldError)(nil)
	if _, err := lock(name, "second\n"); !errors.As(err, &held) || held.text != "first" {
		t.Errorf("got %v", err)
	}
	late, err := os.OpenFile(name, os.O_RDWR, 0) // opened before the release, locked after it
	must(t, err)
	defer late.Close()
	must(t, first.Release())
	if got, err := hold(late); !got || err != nil {
		t.Fatalf("the file without a name cannot be held: %v", err)
	}
	third, err := lock(name, "third\n")
	must(t, err)
	text, err := os.ReadFile(name)
	must(t, err)
	if string(text) != "third\n" {
		t.Errorf("the lock says %q", text)
	}
	must(t, third.Release())
	if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the lock stays: %v", err)
	}
}

// Locks taken and left as fast as can be: at no moment do two hold one.
func TestLockStress(t *testing.T) {
	name := filepath.Join(t.TempDir(), "lock")
	var inside, taken atomic.Int32
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for range 3000 {
				l, err := lock(name, "x\n")
				if held := (*heldError)(nil); errors.As(err, &held) {
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				if inside.Add(1) > 1 {
					t.Error("two hold the lock")
				}
				taken.Add(1)
				inside.Add(-1)
				if err := l.Release(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	if taken.Load() == 0 {
		t.Error("never taken")
	}
}
