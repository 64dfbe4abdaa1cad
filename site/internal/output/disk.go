package output

import (
	"io/fs"
	"os"
	"path/filepath"
)

// Disk returns the file system of the machine.
func Disk() FS { return disk{} }

type disk struct{}

var _ FS = disk{}

func (disk) Resolve(name string) (string, error)        { return filepath.EvalSymlinks(name) }
func (disk) Stat(name string) (fs.FileInfo, error)      { return os.Stat(name) }
func (disk) Lstat(name string) (fs.FileInfo, error)     { return os.Lstat(name) }
func (disk) ReadDir(name string) ([]fs.DirEntry, error) { return os.ReadDir(name) }
func (disk) ReadFile(name string) ([]byte, error)       { return os.ReadFile(name) }
func (disk) Mkdir(name string) error                    { return os.Mkdir(name, 0o755) }
func (disk) MkdirAll(name string) error                 { return os.MkdirAll(name, 0o755) }
func (disk) Rename(from, to string) error               { return os.Rename(from, to) }
func (disk) Exchange(a, b string) error                 { return exchange(a, b) }
func (disk) Remove(name string) error                   { return os.Remove(name) }
func (disk) SyncTree(dir string) error                  { return syncTree(dir) }
func (disk) SyncDir(dir string) error                   { return syncDir(dir) }
func (disk) Lock(name, text string) (Lock, error)       { return lock(name, text) }

func (disk) Create(name string) (File, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return nil, err // not f: a nil *os.File in an interface is not nil
	}
	return f, nil
}
