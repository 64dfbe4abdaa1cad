package output

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
)

// syncEach puts every file below dir on the disk, then the folders that hold their names.
func syncEach(dir string) error {
	return filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			return syncDir(name)
		}
		// Windows flushes only what is open for writing.
		f, err := os.OpenFile(name, os.O_RDWR, 0)
		if err != nil {
			return err
		}
		if err := f.Sync(); err != nil {
			f.Close()
			return err
		}
		return f.Close()
	})
}

// syncDir puts the names in dir on the disk. Windows has no such call and keeps names in a journal.
func syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
