package output

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// A file of things that can be made anew: always whole, however many write it at
// once, and the newest few stay.
func TestKeepFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	name := filepath.Join(dir, "answers-00.bin")
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			for range 40 {
				if err := KeepFile(Disk(), name, bytes.Repeat([]byte{byte('a' + i)}, 10_000), 20); err != nil {
					t.Error(err)
				}
				data, err := os.ReadFile(name)
				if err != nil || len(data) != 10_000 || bytes.Count(data, data[:1]) != len(data) {
					t.Errorf("%d bytes of several writers: %v", len(data), err)
				}
			}
		})
	}
	wg.Wait()
	must(t, os.WriteFile(filepath.Join(dir, "other.txt"), nil, 0o600))
	for i := range 9 {
		at := filepath.Join(dir, fmt.Sprintf("answers-0%d.bin", i))
		must(t, KeepFile(Disk(), at, []byte("x"), 20))
		old := time.Date(2026, 1, 1+i, 0, 0, 0, 0, time.UTC)
		must(t, os.Chtimes(at, old, old))
	}
	must(t, KeepFile(Disk(), filepath.Join(dir, "answers-99.bin"), []byte("x"), 4))
	list, err := os.ReadDir(dir)
	must(t, err)
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	if got := strings.Join(names, " "); got != "answers-06.bin answers-07.bin answers-08.bin answers-99.bin other.txt" {
		t.Errorf("there stay %s", got)
	}
}

// An error at any one call: what has the name is whole, the former or the new.
func TestKeepFileFails(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "answers-00.bin")
	must(t, KeepFile(Disk(), name, []byte("former"), 4))
	count := &script{on: Disk()}
	must(t, KeepFile(count, name, []byte("former"), 4))
	for n := range count.calls {
		_ = KeepFile(&script{on: Disk(), at: n + 1, err: syscall.ENOSPC}, name, []byte("newest"), 4)
		data, err := os.ReadFile(name)
		if err != nil || string(data) != "former" && string(data) != "newest" {
			t.Errorf("%s fails: %q, %v", count.calls[n], data, err)
		}
	}
	list, err := os.ReadDir(dir)
	must(t, err)
	if len(list) != 1 {
		t.Errorf("%d files stay", len(list))
	}
}
