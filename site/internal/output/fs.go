package output

import (
	"io"
	"io/fs"
)

// FS is every call on the file system that this package makes. Disk is the real one; tests put one in
// between that fails, or stops as if the process had died, at a chosen call.
type FS interface {
	// Resolve returns the name without symbolic links; all of it must exist.
	Resolve(name string) (string, error)
	// Stat follows a symbolic link, Lstat does not; os.SameFile must understand what they return.
	Stat(name string) (fs.FileInfo, error)
	Lstat(name string) (fs.FileInfo, error)
	ReadDir(name string) ([]fs.DirEntry, error)
	ReadFile(name string) ([]byte, error)
	// Mkdir fails when the name exists; MkdirAll makes what is missing.
	Mkdir(name string) error
	MkdirAll(name string) error
	// Create makes a new file and fails when the name exists.
	Create(name string) (File, error)
	Rename(from, to string) error
	// Exchange swaps two folders in one step that nobody can see half done. When the system or the
	// file system has no such step the error matches errors.ErrUnsupported and nothing has changed.
	Exchange(a, b string) error
	// Remove removes a file or an empty folder.
	Remove(name string) error
	// SyncTree returns when everything below the folder is on the disk, SyncDir when the names in it are.
	SyncTree(dir string) error
	SyncDir(dir string) error
	// Lock makes a file that says text and holds it until Release, which removes it, or until the
	// process ends. When somebody else holds it the error is a *heldError with their text.
	Lock(name, text string) (Lock, error)
}

// File is a file being written.
type File interface {
	io.WriteCloser
	Sync() error
}

// Lock is a lock that is held.
type Lock interface {
	Release() error
}

// heldError is the answer of FS.Lock when another process, or another edition in this one, holds it.
type heldError struct{ text string }

func (e *heldError) Error() string { return "held by " + e.text }
