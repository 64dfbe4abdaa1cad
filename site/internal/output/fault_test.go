package output

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What the user reads when the system refuses, wherever it does.
func TestSystemRefuses(t *testing.T) {
	tests := []struct {
		err    error
		call   string // how the call that fails begins, the place's parent written as P
		reason Reason
		want   string
	}{
		{syscall.ENOSPC, "write P/.kerfbook-new-site-", Full,
			"cannot publish to P/site: the disk is full; make room on it and publish again, what was published before is untouched"},
		{syscall.ENOSPC, "write STAGE/edition/index.html", Full,
			"cannot write index.html for P/site: the disk is full; make room on it and publish again, what was published before is untouched"},
		{syscall.EDQUOT, "mkdirall STAGE/edition/handbook", Full,
			"cannot write handbook/offsets.html for P/site: the disk is full; make room on it and publish again, what was published before is untouched"},
		{syscall.ENOSPC, "synctree", Full,
			"cannot put the new edition in place at P/site: the disk is full; make room on it and publish again, what was published before is untouched"},
		{syscall.ENOSPC, "create P/.kerfbook-swap-site.note", Full,
			"cannot put the new edition in place at P/site: the disk is full; make room on it and publish again, what was published before is untouched"},
		{syscall.EROFS, "lock", ReadOnly,
			"cannot publish to P/site: the folder is read-only or belongs to somebody else; publish to a folder that you may write to"},
		{syscall.EACCES, "mkdir P/.kerfbook-new", ReadOnly,
			"cannot publish to P/site: the folder is read-only or belongs to somebody else; publish to a folder that you may write to"},
		{syscall.EACCES, "rename P/site", ReadOnly,
			"cannot put the new edition in place at P/site: the folder is read-only or belongs to somebody else; publish to a folder that you may write to"},
		{syscall.EBUSY, "rename P/site", InUse,
			"cannot put the new edition in place at P/site: the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it"},
		{syscall.EXDEV, "rename P/site", InUse,
			"cannot put the new edition in place at P/site: the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it"},
		{syscall.EBUSY, "exchange", InUse,
			"cannot put the new edition in place at P/site: the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it"},
		{syscall.EIO, "readdir P", Other,
			"cannot tidy up beside P/site: " + syscall.EIO.Error()},
	}
	for _, tt := range tests {
		t.Run(fmt.Sprint(tt.err, " at ", tt.call), func(t *testing.T) {
			dir := clean(t)
			parent := filepath.Dir(dir)
			files := &script{on: Disk(), twoWay: tt.call != "exchange", err: tt.err}
			stage := ""
			files.fails = func(call string) bool {
				if at := strings.Index(call, ".kerfbook-new-site-"); at >= 0 && stage == "" {
					stage = filepath.Join(parent, call[at:at+len(".kerfbook-new-site-0123456789abcdef")])
				}
				want := strings.ReplaceAll(tt.call, "P", parent)
				if stage != "" {
					want = strings.ReplaceAll(want, "STAGE", stage)
				}
				return strings.HasPrefix(filepath.ToSlash(call), filepath.ToSlash(want))
			}
			err := publish(files, dir, after(), Options{})
			says(t, err, tt.reason, strings.ReplaceAll(tt.want, "P/site", dir))
			holds(t, dir, before())
			files.fails = nil
			healed(t, dir)
			holds(t, dir, before())
		})
	}
}

// The system's own limit, not an injected one.
func TestPathTooLong(t *testing.T) {
	dir := newPlace(t)
	long := filepath.Join(filepath.Dir(dir), strings.Repeat("x", 300))
	_, err := Open(Disk(), long, Options{})
	says(t, err, TooLong, fmt.Sprintf("cannot find %s: a path of %d characters is longer than this system allows; publish to a folder with a shorter path", long, len(long)))

	// The longest name that the system allows works, though names are made from it.
	longest := filepath.Join(filepath.Dir(dir), strings.Repeat("x", 255))
	must(t, publish(Disk(), longest, before(), Options{}))
	must(t, publish(&script{on: Disk(), twoWay: true}, longest, after(), Options{}))
	holds(t, longest, after())
	alone(t, longest)
}

// What cannot be tidied up does not undo a publication; the user is told and the next command does it.
func TestTidyFails(t *testing.T) {
	dir := clean(t)
	files := &script{on: Disk(), err: syscall.EBUSY}
	e, err := Open(files, dir, Options{})
	must(t, err)
	must(t, fill(e, after()))
	files.fails = func(call string) bool {
		return strings.HasPrefix(call, "remove ") || strings.HasPrefix(call, "syncdir ")
	}
	must(t, e.Commit())
	holds(t, dir, after())
	notes := strings.Join(e.Notes(), "\n")
	want := "the new edition is in place, but the system does not confirm that it is on the disk yet: " + syscall.EBUSY.Error() + "\n" +
		"cannot tidy up beside " + dir + ": the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it"
	if notes != want {
		t.Errorf("got  %s\nwant %s", notes, want)
	}
	said, err := Heal(Disk(), dir)
	must(t, err)
	if want := "removed what an interrupted publication had left beside " + dir; said != want {
		t.Errorf("said %q", said)
	}
	alone(t, dir)
}

func TestForeignNote(t *testing.T) {
	dir := clean(t)
	must(t, os.WriteFile(filepath.Join(filepath.Dir(dir), ".kerfbook-swap-site.note"), []byte("my own notes"), 0o644))
	err := publish(Disk(), dir, after(), Options{})
	says(t, err, Foreign, "cannot publish to "+dir+": "+filepath.Join(filepath.Dir(dir), ".kerfbook-swap-site.note")+" is not a note of kerfbook; move it away")
	holds(t, dir, before())
}
