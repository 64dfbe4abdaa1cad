package output

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// Heal puts right what an interrupted publication to dir left: it ends a replacement that was half done
// and removes staging folders, only those that kerfbook made. Every command that reads or writes dir calls
// it first. It returns what it did as one sentence, "" when there was nothing to do. The error is an
// *Error; its Reason is Busy while a publication is at work, which needs no healing.
func Heal(files FS, dir string) (string, error) {
	// Unlike a publication, a reader may come through a link.
	if info, err := files.Lstat(dir); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		real, err := files.Resolve(dir)
		if errors.Is(err, fs.ErrNotExist) {
			return "", nil
		}
		if err != nil {
			return "", explain("find "+dir, dir, err)
		}
		dir = real
	}
	p, err := find(files, dir)
	if err != nil {
		return "", err
	}
	// Reading needs no right to write, so nothing is locked before something is seen.
	entries, err := files.ReadDir(p.parent)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", explain("look beside "+p.dir(), p.parent, err)
	}
	if !slices.ContainsFunc(entries, func(e fs.DirEntry) bool {
		full := filepath.Join(p.parent, e.Name())
		return full == p.lockPath() || full == p.notePath() || p.isStage(e.Name())
	}) {
		return "", nil
	}
	held, err := acquire(files, p)
	if err != nil {
		return "", err
	}
	said, err := heal(files, p)
	if releasing := held.Release(); err == nil && releasing != nil {
		err = explain("tidy up beside "+p.dir(), p.lockPath(), releasing)
	}
	return said, err
}

// heal works under the lock, so whatever staging folder it finds has no owner any more.
func heal(files FS, p place) (string, error) {
	what := "tidy up beside " + p.dir()
	n, noted, err := readNote(files, p)
	if err != nil {
		return "", explain(what, p.notePath(), err)
	}
	entries, err := files.ReadDir(p.parent)
	if err != nil {
		return "", explain(what, p.parent, err)
	}
	var stages []string
	for _, e := range entries {
		// The note knows its staging folder also where the folder's name is now spelt in other case.
		if e.IsDir() && (p.isStage(e.Name()) || n.Stage == e.Name()) {
			stages = append(stages, filepath.Join(p.parent, e.Name()))
		}
	}
	var said []string
	add := func(s string) {
		if s != "" && !slices.Contains(said, s) {
			said = append(said, s)
		}
	}
	for _, stage := range stages {
		s, err := settle(files, p, stage)
		if err != nil {
			return strings.Join(said, "; "), explain(what, stage, err)
		}
		add(s)
	}
	if noted {
		if err := remove(files, p.notePath()); err != nil {
			return strings.Join(said, "; "), explain(what, p.notePath(), err)
		}
		add("removed what an interrupted publication had left beside " + p.dir())
	}
	return strings.Join(said, "; "), nil
}

// settle makes sure that a whole edition stands at the place, as far as the staging folder has one, and
// removes the staging folder. It goes by what it finds, so it may itself be interrupted anywhere.
func settle(files FS, p place, stage string) (string, error) {
	if mine, err := owned(files, stage); err != nil {
		return "", err
	} else if !mine {
		return fmt.Sprintf("left %s alone, because kerfbook did not make it", stage), nil
	}
	said, err := restore(files, p, stage)
	if err != nil {
		return "", err
	}
	// The former edition goes last but for the mark: while it is there, it is known to be replaced.
	for _, name := range [...]string{nextName, formerName} {
		if err := removeTree(files, filepath.Join(stage, name)); err != nil {
			return said, err
		}
	}
	if err := remove(files, filepath.Join(stage, markName)); err != nil {
		return said, err
	}
	if err := remove(files, stage); err != nil {
		return said, err
	}
	if said == "" {
		said = "removed what an interrupted publication had left beside " + p.dir()
	}
	return said, nil
}

// restore ends a replacement by two renames that stopped between them.
func restore(files FS, p place, stage string) (string, error) {
	dir, next, former := p.dir(), filepath.Join(stage, nextName), filepath.Join(stage, formerName)
	if _, err := files.Lstat(former); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	} else if err != nil {
		return "", err
	}
	if _, err := files.Lstat(dir); err == nil {
		// Something stands there. If it is an edition the replacement was done; if it is something
		// else somebody put it there since, and the former edition may be the only one left.
		_, found, err := readRecord(files, dir)
		if err != nil || found {
			return "", err
		}
		return "", fail(Foreign, "cannot put back the edition of %s, which an interrupted publication left in %s: something else stands at its place; move that away", dir, stage)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	// The former edition is preferred: nobody was told yet that the new one is published.
	if good, err := whole(files, former); err != nil {
		return "", err
	} else if good {
		if err := files.Rename(former, dir); err != nil {
			return "", err
		}
		return "put back the former edition of " + dir + ", because a publication was interrupted", files.SyncDir(p.parent)
	}
	if _, found, err := readRecord(files, next); err != nil || !found {
		return "", err
	}
	if err := files.Rename(next, dir); err != nil {
		return "", err
	}
	return "finished the publication to " + dir + " that was interrupted", files.SyncDir(p.parent)
}
