//go:build !darwin && !dragonfly && !freebsd && !linux && !netbsd && !openbsd && !windows

package output

import (
	"errors"
	"os"
)

// hold has no counterpart here.
func hold(f *os.File) (bool, error) { return false, errors.ErrUnsupported }
