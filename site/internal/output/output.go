// Package output writes an edition to disk, and is the only package that writes there. The new
// edition grows in a staging folder beside its place; when it is complete the two folders are exchanged
// in one step, so that the place holds one whole edition at every moment, the former or the new one,
// whatever stops the program. Where a system or a file system cannot exchange folders two renames are
// used, and what an interruption leaves is put right by the next command.
//
// It imports the standard library, golang.org/x/sys and a brotli encoder; it knows nothing of pages.
//
//	e, err := output.Open(output.Disk(), dir, output.Options{Protect: []string{content}})
//	defer e.Abort()
//	err = e.Put("handbook/offsets.html", page) // any number of them, also at once
//	err = e.Put(output.Record, record)         // last; it names all the others
//	err = e.Commit()
package output

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// Options of an edition.
type Options struct {
	// Protect lists the folders that are read to make the edition. The edition may neither replace nor
	// hold nor lie in one of them. Folders that do not exist are allowed.
	Protect []string
	// Compress also writes compressed copies, "x.html.gz" and "x.html.br", of files that get smaller.
	Compress bool
}

// Edition is an edition being written. Its methods may be called from several goroutines.
type Edition struct {
	files    FS
	place    place
	stage    string // path of the staging folder
	lock     Lock
	compress bool

	use    sync.RWMutex // held for reading by Put, for writing by what ends the edition
	closed bool

	mu     sync.Mutex      // guards what follows
	names  map[string]bool // files put so far
	dirs   map[string]bool // folders made so far
	listed map[string]bool // what the record lists; nil before it is put
	broken error           // the first file that could not be written
	said   []string
}

// Open prepares a new edition for the folder dir, which may be absent, empty, or hold an edition. It
// heals first what an interrupted publication left. The error is always an *Error.
func Open(files FS, dir string, o Options) (*Edition, error) {
	p, err := find(files, dir)
	if err != nil {
		return nil, err
	}
	if err := guard(files, p, o.Protect); err != nil {
		return nil, err
	}
	what := "publish to " + p.dir()
	if err := files.MkdirAll(p.parent); err != nil {
		return nil, explain(what, p.parent, err)
	}
	held, err := acquire(files, p)
	if err != nil {
		return nil, err
	}
	e := &Edition{
		files: files, place: p, lock: held, compress: o.Compress,
		names: map[string]bool{}, dirs: map[string]bool{},
	}
	e.say(p.said)
	if err := e.prepare(what); err != nil {
		if e.stage != "" {
			removeTree(files, e.stage) // what cannot be removed now is removed by the next command
		}
		held.Release()
		return nil, err
	}
	return e, nil
}

func (e *Edition) prepare(what string) error {
	said, err := heal(e.files, e.place)
	if err != nil {
		return err
	}
	e.say(said)
	if _, err := inspect(e.files, e.place.dir()); err != nil {
		return err
	}
	if e.stage, err = newStage(e.files, e.place); err != nil {
		return explain(what, filepath.Join(e.place.parent, e.place.stagePrefix()+strings.Repeat("0", 2*randomBytes), markName), err)
	}
	return nil
}

// acquire makes sure that one publication at a time is at work on a place.
func acquire(files FS, p place) (Lock, error) {
	l, err := files.Lock(p.lockPath(), fmt.Sprintf("process %d\n", os.Getpid()))
	if held := (*heldError)(nil); errors.As(err, &held) {
		who := "another kerfbook command"
		if held.text != "" {
			who += " (" + held.text + ")"
		}
		return nil, &Error{Busy, fmt.Sprintf("cannot use %s: %s is writing there; wait until it is done", p.dir(), who), err}
	}
	if err != nil {
		return nil, explain("publish to "+p.dir(), p.lockPath(), err)
	}
	return l, nil
}

// Dir returns the folder that the edition goes to, as a full path with all links resolved.
func (e *Edition) Dir() string { return e.place.dir() }

// Notes returns what the user should know beside success, one plain sentence each: a link that was
// followed, what was healed, what could not be cleaned up.
func (e *Edition) Notes() []string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return slices.Clone(e.said)
}

func (e *Edition) say(s string) {
	if s != "" {
		e.mu.Lock()
		e.said = append(e.said, s)
		e.mu.Unlock()
	}
}

func (e *Edition) next() string   { return filepath.Join(e.stage, nextName) }
func (e *Edition) former() string { return filepath.Join(e.stage, formerName) }
