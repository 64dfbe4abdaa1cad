//go:build !windows

package output

import (
	"errors"
	"syscall"
)

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

func isTooLong(err error) bool { return errors.Is(err, syscall.ENAMETOOLONG) }

func isInUse(err error) bool {
	return errors.Is(err, syscall.EBUSY) || errors.Is(err, syscall.ETXTBSY)
}

func isOtherDisk(err error) bool { return errors.Is(err, syscall.EXDEV) }
