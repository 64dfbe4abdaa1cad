package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"syscall"
	"unicode/utf8"
)

// Reason says why an edition could not be written.
type Reason uint8

const (
	Other     Reason = iota
	BadName          // a file name that must not be published, or a wrong use of this package
	Foreign          // the folder, or something in it, was not made by kerfbook
	Protected        // the folder holds, or lies in, something that must not be replaced
	Busy             // another publication is at work on the folder
	Full             // no room on the disk
	ReadOnly         // no right to write
	TooLong          // the path is longer than the system allows
	InUse            // the folder cannot be moved
)

// Error is every error of this package: what could not be done, where, and what would be right.
type Error struct {
	Reason Reason
	Text   string
	Err    error // the answer of the system, or nil
}

func (e *Error) Error() string { return e.Text }
func (e *Error) Unwrap() error { return e.Err }

func fail(r Reason, format string, args ...any) error {
	return &Error{Reason: r, Text: fmt.Sprintf(format, args...)}
}

func reason(err error) Reason {
	if e := (*Error)(nil); errors.As(err, &e) {
		return e.Reason
	}
	return Other
}

// explain turns the system's answer to an attempt into a sentence. what follows the word "cannot";
// path is the longest path that took part.
func explain(what, path string, err error) error {
	if known := (*Error)(nil); errors.As(err, &known) {
		return err
	}
	reason, why := Other, cause(err).Error()
	switch {
	case isFull(err):
		reason, why = Full, "the disk is full; make room on it and publish again, what was published before is untouched"
	case isTooLong(err):
		reason, why = TooLong, fmt.Sprintf("a path of %d characters is longer than this system allows; publish to a folder with a shorter path", utf8.RuneCountInString(path))
	case errors.Is(err, syscall.ENOTDIR):
		reason, why = Foreign, "a part of the path is a file, not a folder; choose another path"
	case isReadOnly(err), errors.Is(err, fs.ErrPermission):
		reason, why = ReadOnly, "the folder is read-only or belongs to somebody else; publish to a folder that you may write to"
	case isInUse(err), isOtherDisk(err):
		reason, why = InUse, "the folder is in use, or is a disk of its own; close what uses it, or publish to a folder inside it"
	}
	return &Error{Reason: reason, Text: "cannot " + what + ": " + why, Err: err}
}

// cause drops the path and the call from the system's answer, since the sentence around it names both.
func cause(err error) error {
	if e := (*fs.PathError)(nil); errors.As(err, &e) {
		return e.Err
	}
	if e := (*os.LinkError)(nil); errors.As(err, &e) {
		return e.Err
	}
	return err
}

// few lists the first three of names and counts the rest.
func few(names []string) string {
	const most = 3
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
