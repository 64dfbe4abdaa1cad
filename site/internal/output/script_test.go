package output

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"sync"
)

// script is a file system that counts calls and interferes at one of them.
type script struct {
	on FS

	at     int                    // the call to interfere with, from 1; 0 for none
	die    bool                   // as if the process died before that call: nothing is done from then on
	err    error                  // else: the call fails with this, once
	fails  func(call string) bool // if set: every call for which it is true fails with err
	twoWay bool                   // as if folders could not be exchanged

	mu    sync.Mutex
	calls []string
	dead  bool
	locks []Lock
}

var errDead = errors.New("the process is dead")

// before counts a call and returns the error it has to fail with.
func (s *script) before(op string, names ...string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dead {
		return errDead
	}
	call := op + " " + strings.Join(names, " ")
	s.calls = append(s.calls, call)
	switch {
	case s.fails != nil && s.fails(call):
		return &fs.PathError{Op: op, Path: names[0], Err: s.err}
	case s.at != len(s.calls):
		return nil
	case s.die:
		s.dead = true
		// The system closes what a dead process had open, and so ends its locks; the files stay.
		for _, l := range s.locks {
			l.(*fileLock).file.Close()
		}
		return errDead
	}
	return &fs.PathError{Op: op, Path: names[0], Err: s.err}
}

func (s *script) Resolve(name string) (string, error) {
	if err := s.before("resolve", name); err != nil {
		return "", err
	}
	return s.on.Resolve(name)
}

func (s *script) Stat(name string) (fs.FileInfo, error) {
	if err := s.before("stat", name); err != nil {
		return nil, err
	}
	return s.on.Stat(name)
}

func (s *script) Lstat(name string) (fs.FileInfo, error) {
	if err := s.before("lstat", name); err != nil {
		return nil, err
	}
	return s.on.Lstat(name)
}

func (s *script) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := s.before("readdir", name); err != nil {
		return nil, err
	}
	return s.on.ReadDir(name)
}

func (s *script) ReadFile(name string) ([]byte, error) {
	if err := s.before("readfile", name); err != nil {
		return nil, err
	}
	return s.on.ReadFile(name)
}

func (s *script) Mkdir(name string) error {
	if err := s.before("mkdir", name); err != nil {
		return err
	}
	return s.on.Mkdir(name)
}

func (s *script) MkdirAll(name string) error {
	if err := s.before("mkdirall", name); err != nil {
		return err
	}
	return s.on.MkdirAll(name)
}

func (s *script) Rename(from, to string) error {
	if err := s.before("rename", from, to); err != nil {
		return err
	}
	return s.on.Rename(from, to)
}

func (s *script) Exchange(a, b string) error {
	if err := s.before("exchange", a, b); err != nil {
		return err
	}
	if s.twoWay {
		return fmt.Errorf("%w: invalid argument", errors.ErrUnsupported)
	}
	return s.on.Exchange(a, b)
}

func (s *script) Remove(name string) error {
	if err := s.before("remove", name); err != nil {
		return err
	}
	return s.on.Remove(name)
}

// A dead process takes nothing that it wrote with it, only a dead machine does; waiting for the disk
// would make thousands of runs slow.
func (s *script) SyncTree(dir string) error { return s.before("synctree", dir) }
func (s *script) SyncDir(dir string) error  { return s.before("syncdir", dir) }

func (s *script) Create(name string) (File, error) {
	if err := s.before("create", name); err != nil {
		return nil, err
	}
	f, err := s.on.Create(name)
	if err != nil {
		return nil, err
	}
	return &scriptFile{f, s, name}, nil
}

type scriptFile struct {
	on     File
	script *script
	name   string
}

// Write fails after half of the data, as a full disk and a dying process do.
func (f *scriptFile) Write(data []byte) (int, error) {
	if err := f.script.before("write", f.name); err != nil {
		if errors.Is(err, errDead) {
			f.on.Write(data[:len(data)/2])
			f.on.Close()
			return 0, err
		}
		n, _ := f.on.Write(data[:len(data)/2])
		return n, err
	}
	return f.on.Write(data)
}

func (f *scriptFile) Sync() error { return f.script.before("sync", f.name) }

func (f *scriptFile) Close() error {
	if err := f.script.before("close", f.name); err != nil {
		f.on.Close()
		return err
	}
	return f.on.Close()
}

func (s *script) Lock(name, text string) (Lock, error) {
	if err := s.before("lock", name); err != nil {
		return nil, err
	}
	l, err := s.on.Lock(name, text)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.locks = append(s.locks, l)
	return &scriptLock{l, s, name}, nil
}

type scriptLock struct {
	on     Lock
	script *script
	name   string
}

func (l *scriptLock) Release() error {
	if err := l.script.before("release", l.name); err != nil {
		if !errors.Is(err, errDead) {
			l.on.(*fileLock).file.Close()
		}
		return err
	}
	return l.on.Release()
}
