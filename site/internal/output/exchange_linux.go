package output

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two names by renameat2(2), whose manual page lists EINVAL for a file system that
// does not know the flag and ENOSYS for a kernel that does not know the call.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if err == nil {
		return nil
	}
	for _, no := range [...]error{unix.EINVAL, unix.ENOSYS, unix.ENOTSUP, unix.EXDEV} {
		if errors.Is(err, no) {
			return fmt.Errorf("%w: %w", errors.ErrUnsupported, err)
		}
	}
	return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
}
