package output

import (
	"errors"
	"os"
	"runtime"
	"strings"
)

// fileLock is a file held by the operating system's own lock. The system lets go of it when the
// process ends, however it ends; a process number in a file could by then belong to somebody else.
type fileLock struct {
	file *os.File
	name string
}

func lock(name, text string) (Lock, error) {
	for {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return nil, err
		}
		held, err := hold(f)
		if err != nil {
			f.Close()
			return nil, &os.PathError{Op: "lock", Path: name, Err: err}
		}
		if !held {
			by, _ := os.ReadFile(name) // only said to the user; the file may be empty or gone by now
			f.Close()
			return nil, &heldError{strings.TrimSpace(string(by))}
		}
		// Who held it before removes the file when done. A lock on a file without a name keeps
		// nobody out, so the file that is held must still be the one that others will open.
		mine, err := f.Stat()
		if err != nil {
			f.Close()
			return nil, err
		}
		if there, err := os.Stat(name); err != nil || !os.SameFile(mine, there) {
			f.Close()
			continue
		}
		// The text is only said to others. On a full disk it cannot be written, and just there the
		// lock must be had: healing removes what an interrupted publication filled the disk with.
		_ = f.Truncate(0)
		_, _ = f.WriteString(text)
		return &fileLock{f, name}, nil
	}
}

func (l *fileLock) Release() error {
	if runtime.GOOS == "windows" { // an open file cannot be removed there
		return errors.Join(l.file.Close(), os.Remove(l.name))
	}
	return errors.Join(os.Remove(l.name), l.file.Close())
}
