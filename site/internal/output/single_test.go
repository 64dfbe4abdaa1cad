package output

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// TestReplaceFile: whatever call fails, and wherever the process dies, the name
// holds the old file or the new one; the next run leaves nothing beside it.
func TestReplaceFile(t *testing.T) {
	const before, after = "before", "after, and longer"
	for _, die := range []moment{ahead, amid, behind, never} {
		for at := 1; ; at++ {
			dir := t.TempDir()
			name := filepath.Join(dir, "digests.txt")
			must(t, MakeFolder(Disk(), dir))
			must(t, ReplaceFile(Disk(), name, []byte(before)))
			s := &script{on: Disk(), at: at, die: die, err: syscall.EIO}
			err := ReplaceFile(s, name, []byte(after))
			data, reading := os.ReadFile(name)
			must(t, reading)
			if err == nil && string(data) != after || string(data) != before && string(data) != after {
				t.Errorf("call %d, died %s: %q, %v", at, die, data, err)
			}
			must(t, ReplaceFile(Disk(), name, []byte(after)))
			if list, _ := os.ReadDir(dir); len(list) != 1 {
				t.Errorf("call %d, died %s: %d files are left", at, die, len(list))
			}
			if err == nil && at > len(s.calls) {
				if at < 6 {
					t.Errorf("only %d calls were tried", at-1)
				}
				break
			}
		}
	}
	if err := ReplaceFile(Disk(), filepath.Join(t.TempDir(), "con.txt"), nil); reason(err) != BadName {
		t.Errorf("a device's name: %v", err)
	}
	file := filepath.Join(t.TempDir(), "file")
	must(t, os.WriteFile(file, nil, 0o644))
	if err := MakeFolder(Disk(), file); err == nil || !errors.As(err, new(*Error)) {
		t.Errorf("a folder where a file stands: %v", err)
	}
}
