package output

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
)

// Commit puts the edition in place of what stood there and removes that. When it returns an error the
// former edition stands; when it returns nil the new one does, and Notes says what could not be tidied
// up.
func (e *Edition) Commit() error {
	e.use.Lock()
	defer e.use.Unlock()
	if err := e.complete(); err != nil {
		return err
	}
	dir := e.place.dir()
	what := "put the new edition in place at " + dir
	if err := e.files.SyncTree(e.stage); err != nil {
		return explain(what, e.next(), err)
	}
	// What stands there is looked at again, since somebody may have put a file into it meanwhile.
	now, err := inspect(e.files, dir)
	if err != nil {
		return err
	}
	if now == absent {
		err = e.files.Rename(e.next(), dir)
	} else {
		err = e.replace(dir)
	}
	if err != nil {
		return explain(what, dir, err)
	}
	e.closed = true
	if err := e.files.SyncDir(e.place.parent); err != nil {
		e.say(fmt.Sprintf("the new edition is in place, but the system does not confirm that it is on the disk yet: %v", cause(err)))
	}
	e.tidy()
	return nil
}

// complete reports what is missing for a whole edition.
func (e *Edition) complete() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	dir := e.place.dir()
	switch {
	case e.closed:
		return fail(BadName, "cannot publish to %s: the edition is closed", dir)
	case e.broken != nil:
		return &Error{reason(e.broken), fmt.Sprintf("nothing is published to %s, because one file is missing: %v", dir, e.broken), e.broken}
	case e.listed == nil:
		return fail(BadName, "cannot publish to %s: the edition has no %s", dir, Record)
	}
	var missing []string
	for _, name := range slices.Sorted(maps.Keys(e.names)) {
		if name != Record && !e.listed[name] {
			missing = append(missing, name)
		}
	}
	if len(missing) > 0 {
		return fail(BadName, "cannot publish to %s: %s does not name %s", dir, Record, few(missing))
	}
	return nil
}

// replace exchanges the new edition with what stands at dir.
func (e *Edition) replace(dir string) error {
	err := e.files.Exchange(e.next(), dir)
	if !errors.Is(err, errors.ErrUnsupported) {
		return err
	}

	// Between the two renames the folder is missing; the note and the staging folder hold what heal
	// needs to end that.
	n := note{Folder: e.place.base, Stage: filepath.Base(e.stage)}
	if err := n.write(e.files, e.place); err != nil {
		return errors.Join(err, remove(e.files, e.place.notePath()))
	}
	if err := e.files.Rename(dir, e.former()); err != nil {
		return errors.Join(err, remove(e.files, e.place.notePath()))
	}
	if err := e.files.Rename(e.next(), dir); err != nil {
		if back := e.files.Rename(e.former(), dir); back != nil {
			return &Error{Text: fmt.Sprintf("the new edition could not be put in place at %s (%v), nor the former one put back (%v); it is whole at %s, and any kerfbook command for the folder tries again",
				dir, cause(err), cause(back), e.former()), Err: errors.Join(err, back)}
		}
		return errors.Join(err, remove(e.files, e.place.notePath()))
	}
	return nil
}

// Abort gives the edition up: what stood at its place stays there, the staging folder goes. After
// Commit it does nothing, so it can be deferred.
func (e *Edition) Abort() {
	e.use.Lock()
	defer e.use.Unlock()
	if e.closed && e.lock == nil {
		return
	}
	e.closed = true
	e.tidy()
}

// tidy removes what lies around the place, as heal does, and lets others in.
func (e *Edition) tidy() {
	if _, err := heal(e.files, e.place); err != nil {
		e.say(err.Error())
	}
	if err := e.lock.Release(); err != nil {
		e.say(fmt.Sprintf("%s could not be removed; the next publication does it", e.place.lockPath()))
	}
	e.lock = nil
}
