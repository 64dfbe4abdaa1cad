//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package output

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// hold takes the lock on f, or returns false when somebody else has it.
func hold(f *os.File) (bool, error) {
	for {
		err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, unix.EWOULDBLOCK):
			return false, nil
		case !errors.Is(err, unix.EINTR):
			return false, err
		}
	}
}
