package output

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// syncTree asks for the whole file system once: for thousands of small files that is far quicker than
// to ask for each, and since Linux 5.8 it reports what could not be written (syncfs(2)).
func syncTree(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	err = unix.Syncfs(int(f.Fd()))
	if errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.EINVAL) {
		return syncEach(dir)
	}
	if err != nil {
		return &os.PathError{Op: "syncfs", Path: dir, Err: err}
	}
	return nil
}
