package main

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
)

// TestFullAndReadOnlyDisk: on a small disk in memory that is really full, then really read-only. Where
// none can be mounted the same messages are tested in site/internal/output, on a test file system.
func TestFullAndReadOnlyDisk(t *testing.T) {
	base := realTemp(t)
	content, disk := filepath.Join(base, "content"), filepath.Join(base, "disk")
	smallContent(t, content)
	if err := os.Mkdir(disk, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("kerfbook-test", disk, "tmpfs", 0, "size=16m"); err != nil {
		t.Logf("no disk can be mounted here (%v)", err)
		return
	}
	defer func() {
		if err := syscall.Unmount(disk, 0); err != nil {
			t.Error(err)
		}
	}()
	to := filepath.Join(disk, "site")
	if _, errs, err := publishSmall(content, to); err != nil {
		t.Fatal(err, errs)
	}
	ballast := filepath.Join(disk, "ballast")
	f, err := os.Create(ballast)
	if err != nil {
		t.Fatal(err)
	}
	for full := false; !full; {
		_, err := f.Write(make([]byte, 4096))
		full = err != nil
	}
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	for _, free := range []int64{0, 16 << 10, 200 << 10} {
		if err := f.Truncate(info.Size() - free); err != nil {
			t.Fatal(err)
		}
		was := all(t, disk)
		_, _, err := publishSmall(content, to)
		form := regexp.MustCompile("^cannot (publish to|write [a-z0-9/.-]+ for) " + regexp.QuoteMeta(to) +
			": the disk is full; make room on it and publish again, what was published before is untouched$")
		if err == nil || !form.MatchString(err.Error()) {
			t.Errorf("%d bytes free: %v", free, err)
		}
		if now := all(t, disk); !maps.Equal(now, was) {
			t.Errorf("%d bytes free: something changed, or the unfinished edition stays", free)
		}
	}
	f.Close()
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if _, errs, err := publishSmall(content, to); err != nil {
		t.Fatal(err, errs)
	}

	if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	was := all(t, disk)
	code, out, errs := command("publish", "--content", content, "--to", to)
	want := "kerfbook: cannot publish to " + to + ": the folder is read-only or belongs to somebody else; publish to a folder that you may write to\n"
	if code != 1 || out != "" || !strings.HasSuffix(errs, want) {
		t.Errorf("exit %d, %q\ngot  %s\nwant %s", code, out, errs, want)
	}
	if now := all(t, disk); !maps.Equal(now, was) {
		t.Error("something changed")
	}
}
