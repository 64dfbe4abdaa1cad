package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

// script is a file system that counts calls and interferes at one of them.
type script struct {
	on FS

	at     int                    // the call to interfere with, from 1; 0 for none
	die    moment                 // as if the process died there: nothing is done from then on
	err    error                  // else: the call fails with this, once
	fails  func(call string) bool // if set: every call for which it is true fails with err
	twoWay bool                   // as if folders could not be exchanged
	waits  bool                   // waits for the disk, as the command does
	look   func()                 // if set: called wherever the disk may have changed since the last look

	mu    sync.Mutex
	calls []string
	dying bool // the call that is under way is the last one
	dead  bool
	locks []Lock
}

// moment is where in a call a process dies.
type moment uint8

const (
	never  moment = iota
	ahead         // before the call
	amid          // when the call is half done, for the calls of which that can be seen
	behind        // after the call, before its caller learns of it
)

func (m moment) String() string { return [...]string{"never", "before", "amid", "after"}[m] }

// halves reports whether a call can be seen half done: a write cut short, some of the folders made, a
// lock file made and not yet held.
func halves(call string) bool {
	op, _, _ := strings.Cut(call, " ")
	return op == "write" || op == "mkdirall" || op == "lock"
}

// point is a moment of the n-th call.
type point struct {
	n    int
	call string
	when moment
}

// points lists every moment at which a process can die that makes these calls.
func points(calls []string) []point {
	var all []point
	for i, call := range calls {
		all = append(all, point{i + 1, call, ahead})
		if halves(call) {
			all = append(all, point{i + 1, call, amid})
		}
		all = append(all, point{i + 1, call, behind})
	}
	return all
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
	case s.die == ahead:
		s.bury()
		return errDead
	case s.die != never:
		s.dying = true
		return nil
	}
	return &fs.PathError{Op: op, Path: names[0], Err: s.err}
}

// reads ends a call that changes nothing on the disk.
func (s *script) reads(err error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dying {
		s.bury()
		return errDead
	}
	return err
}

// half runs do, the visible half of a call, and reports whether the process dies now.
func (s *script) half(do func()) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	dies := s.dying && s.die == amid
	if dies || s.look != nil {
		do()
	}
	if dies {
		s.bury()
	}
	if s.look != nil {
		s.look()
	}
	return dies
}

// after ends a call that gave err.
func (s *script) after(err error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dying {
		s.bury()
		err = errDead
	}
	if s.look != nil {
		s.look()
	}
	return err
}

// bury ends the process. The system closes what it had open, and so ends its locks; the files stay.
func (s *script) bury() {
	s.dying, s.dead = false, true
	for _, l := range s.locks {
		l.(*fileLock).file.Close()
	}
}

func (s *script) Resolve(name string) (string, error) {
	if err := s.before("resolve", name); err != nil {
		return "", err
	}
	got, err := s.on.Resolve(name)
	return got, s.reads(err)
}

func (s *script) Stat(name string) (fs.FileInfo, error) {
	if err := s.before("stat", name); err != nil {
		return nil, err
	}
	got, err := s.on.Stat(name)
	return got, s.reads(err)
}

func (s *script) Lstat(name string) (fs.FileInfo, error) {
	if err := s.before("lstat", name); err != nil {
		return nil, err
	}
	got, err := s.on.Lstat(name)
	return got, s.reads(err)
}

func (s *script) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := s.before("readdir", name); err != nil {
		return nil, err
	}
	got, err := s.on.ReadDir(name)
	return got, s.reads(err)
}

func (s *script) ReadFile(name string) ([]byte, error) {
	if err := s.before("readfile", name); err != nil {
		return nil, err
	}
	got, err := s.on.ReadFile(name)
	return got, s.reads(err)
}

func (s *script) Mkdir(name string) error {
	if err := s.before("mkdir", name); err != nil {
		return err
	}
	return s.after(s.on.Mkdir(name))
}

func (s *script) MkdirAll(name string) error {
	if err := s.before("mkdirall", name); err != nil {
		return err
	}
	if s.half(func() { s.on.MkdirAll(filepath.Dir(name)) }) {
		return errDead
	}
	return s.after(s.on.MkdirAll(name))
}

func (s *script) Rename(from, to string) error {
	if err := s.before("rename", from, to); err != nil {
		return err
	}
	return s.after(s.on.Rename(from, to))
}

func (s *script) Exchange(a, b string) error {
	if err := s.before("exchange", a, b); err != nil {
		return err
	}
	if s.twoWay {
		return s.after(fmt.Errorf("%w: invalid argument", errors.ErrUnsupported))
	}
	return s.after(s.on.Exchange(a, b))
}

func (s *script) Remove(name string) error {
	if err := s.before("remove", name); err != nil {
		return err
	}
	return s.after(s.on.Remove(name))
}

// A dead process takes nothing that it wrote with it, only a dead machine does; waiting for the disk
// would make thousands of runs slow.
func (s *script) SyncTree(dir string) error {
	return s.sync("synctree", dir, func() error { return s.on.SyncTree(dir) })
}

func (s *script) SyncDir(dir string) error {
	return s.sync("syncdir", dir, func() error { return s.on.SyncDir(dir) })
}

func (s *script) sync(op, name string, do func() error) error {
	err := s.before(op, name)
	if err == nil && s.waits {
		err = do()
	} else if err != nil {
		return err
	}
	return s.reads(err)
}

func (s *script) Create(name string) (File, error) {
	if err := s.before("create", name); err != nil {
		return nil, err
	}
	f, err := s.on.Create(name)
	if err := s.after(err); err != nil {
		if f != nil {
			f.Close()
		}
		return nil, err
	}
	return &scriptFile{f, s, name}, nil
}

type scriptFile struct {
	on     File
	script *script
	name   string
}

// Write fails after half of the data, as a full disk does.
func (f *scriptFile) Write(data []byte) (int, error) {
	s, half := f.script, len(data)/2
	if err := s.before("write", f.name); err != nil {
		if errors.Is(err, errDead) {
			f.on.Close()
			return 0, err
		}
		n, _ := f.on.Write(data[:half])
		return n, err
	}
	done := 0
	if s.half(func() { done, _ = f.on.Write(data[:half]) }) {
		f.on.Close()
		return done, errDead
	}
	n, err := f.on.Write(data[done:])
	if err = s.after(err); errors.Is(err, errDead) {
		f.on.Close()
	}
	return done + n, err
}

func (f *scriptFile) Sync() error { return f.script.sync("sync", f.name, f.on.Sync) }

func (f *scriptFile) Close() error {
	if err := f.script.before("close", f.name); err != nil {
		f.on.Close()
		return err
	}
	return f.script.reads(f.on.Close())
}

func (s *script) Lock(name, text string) (Lock, error) {
	if err := s.before("lock", name); err != nil {
		return nil, err
	}
	if s.half(func() {
		if f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644); err == nil {
			f.Close()
		}
	}) {
		return nil, errDead
	}
	l, err := s.on.Lock(name, text)
	if err != nil {
		return nil, s.after(err)
	}
	s.mu.Lock()
	s.locks = append(s.locks, l)
	s.mu.Unlock()
	return &scriptLock{l, s, name}, s.after(nil)
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
	return l.script.after(l.on.Release())
}
