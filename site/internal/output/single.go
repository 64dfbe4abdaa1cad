package output

import (
	"path/filepath"
)

// MakeFolder makes a folder and what is missing above it.
func MakeFolder(files FS, dir string) error {
	if err := files.MkdirAll(dir); err != nil {
		return explain("make the folder "+dir, dir, err)
	}
	return nil
}

// ReplaceFile writes one file that belongs to no edition in place of what has
// its name. The new file grows beside the old one and is renamed over it, so
// that the name always holds a whole file.
func ReplaceFile(files FS, name string, data []byte) error {
	if err := CheckName(filepath.Base(name)); err != nil {
		return err
	}
	what, next := "write "+name, filepath.Join(filepath.Dir(name), ".kerfbook-new-"+filepath.Base(name))
	err := remove(files, next) // of a run that was interrupted
	if err == nil {
		err = writeFile(files, next, data, true)
	}
	if err == nil {
		err = files.Rename(next, name)
	}
	if err != nil {
		_ = remove(files, next) // else the next run does it
		return explain(what, next, err)
	}
	return nil
}
