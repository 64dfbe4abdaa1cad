package output

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"syscall"
	"testing"
)

const (
	fullText     = "the disk is full; make room on it and publish again, what was published before is untouched"
	readOnlyText = "the folder is read-only or belongs to somebody else; publish to a folder that you may write to"
)

// refusals lists what a publication of after() to dir may answer when the system refuses for this reason.
func refusals(dir, why string) []string {
	all := []string{"cannot publish to " + dir + ": " + why, "cannot put the new edition in place at " + dir + ": " + why}
	for name := range after() {
		all = append(all, "cannot write "+name+" for "+dir+": "+why)
	}
	return all
}

// needsRoom reports whether a call can fail on a full disk.
func needsRoom(call string) bool {
	op, _, _ := strings.Cut(call, " ")
	return slices.Contains([]string{"lock", "create", "write", "mkdir", "mkdirall", "sync", "synctree"}, op)
}

// changes reports whether a call fails on a disk that is read-only.
func changes(call string) bool {
	op, _, _ := strings.Cut(call, " ")
	return needsRoom(call) || slices.Contains([]string{"rename", "exchange", "remove", "release"}, op)
}

// The disk is full at any one call that needs room, or from that call on: the former edition stands, the
// unfinished one is gone, since it takes the room, and the message says what to do.
func TestFullDiskAtEveryWrite(t *testing.T) {
	for _, twoWay := range []bool{false, true} {
		for _, first := range []bool{false, true} {
			refused, said := 0, map[string]bool{}
			place, was := clean, before()
			if first {
				place, was = newPlace, nil
			}
			all := calls(t, place(t), twoWay)
			for i, call := range all {
				for _, once := range []bool{true, false} {
					if !needsRoom(call) {
						continue
					}
					dir := place(t)
					files := &script{on: Disk(), twoWay: twoWay, err: syscall.ENOSPC}
					files.fails = func(call string) bool {
						n := len(files.calls) - 1
						return needsRoom(call) && (n == i || n > i && !once)
					}
					err := publish(files, dir, after(), Options{})
					if err == nil {
						t.Errorf("%s: nothing is said", call)
					} else if text := err.Error(); !slices.Contains(refusals(dir, fullText), text) || reason(err) != Full {
						t.Errorf("%s: %s", call, text)
					} else {
						said[strings.ReplaceAll(text, dir, "DIR")] = true
					}
					holds(t, dir, was)
					alone(t, dir)
					must(t, publish(&script{on: Disk(), twoWay: twoWay}, dir, after(), Options{}))
					holds(t, dir, after())
					drop(t, dir)
					refused++
				}
			}
			t.Logf("two renames %v, first %v: full %d times, %d texts", twoWay, first, refused, len(said))
			if len(said) != 2+len(after()) {
				t.Errorf("not every text was met: %v", slices.Sorted(maps.Keys(said)))
			}
		}
	}
}

// The disk turns read-only at any call and stays so, as a disk with faults does. What a reader finds is
// whole, with two renames perhaps missing; when the disk can be written again one command puts it right.
func TestReadOnlyFromAnyCall(t *testing.T) {
	for _, no := range []error{syscall.EROFS, syscall.EACCES} {
		for _, twoWay := range []bool{false, true} {
			missing, met := 0, 0
			for i, call := range calls(t, clean(t), twoWay) {
				if !changes(call) {
					continue
				}
				met++
				dir := clean(t)
				files := &script{on: Disk(), twoWay: twoWay, err: no}
				files.fails = func(call string) bool { return len(files.calls) > i && changes(call) }
				err := publish(files, dir, after(), Options{})
				got, odd := seen(dir)
				switch {
				case odd != nil:
					t.Errorf("%s: %v", call, odd)
				case err == nil && got != "new", err != nil && got == "new":
					t.Errorf("%s: %q stands, said %v", call, got, err)
				case got == "":
					// The former edition is where the message says.
					missing++
					if !strings.HasPrefix(err.Error(), "the new edition could not be put in place at "+dir+" (") || !twoWay {
						t.Errorf("%s: %v", call, err)
					}
				case err != nil && !slices.Contains(refusals(dir, readOnlyText), err.Error()):
					t.Errorf("%s: %v", call, err)
				}
				healed(t, dir)
				if now, err := seen(dir); err != nil || now == "" || got != "" && now != got {
					t.Errorf("%s: %q became %q, %v", call, got, now, err)
				}
				drop(t, dir)
			}
			t.Logf("%v, two renames %v: read-only from %d calls on, folder missing after %d", no, twoWay, met, missing)
			if met < 30 || twoWay != (missing > 0) {
				t.Error("the moments that matter were not met")
			}
		}
	}
}

// A publication that is refused from its first call, and a healing.
func TestReadOnlyFolder(t *testing.T) {
	dir := clean(t)
	files := &script{on: Disk(), err: syscall.EROFS, fails: changes}
	says(t, publish(files, dir, after(), Options{}), ReadOnly, fmt.Sprintf("cannot publish to %s: %s", dir, readOnlyText))
	holds(t, dir, before())
	alone(t, dir)
	// Where nothing is to be healed, reading needs no right to write.
	said, err := Heal(files, dir)
	if said != "" || err != nil {
		t.Errorf("%q, %v", said, err)
	}
}
