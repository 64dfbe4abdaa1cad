package output

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// hold takes the lock on f, or returns false when somebody else has it. The locked byte lies far behind
// the text, because a locked byte cannot be read by others.
func hold(f *os.File) (bool, error) {
	at := windows.Overlapped{OffsetHigh: 1 << 30}
	const flags = windows.LOCKFILE_EXCLUSIVE_LOCK | windows.LOCKFILE_FAIL_IMMEDIATELY
	err := windows.LockFileEx(windows.Handle(f.Fd()), flags, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return false, nil
	}
	return err == nil, err
}
