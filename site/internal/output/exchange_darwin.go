package output

import (
	"errors"
	"fmt"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two names by renamex_np(2), whose manual page lists ENOTSUP for a file system that
// does not know the flag.
func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
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
