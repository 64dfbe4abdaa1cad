package output

import (
	"bytes"
	"path"
	"path/filepath"
)

// Put writes a file of the edition. The name is checked by CheckName and may be used once. Record is put
// last; it begins with RecordHead, is JSON, and holds the name of each other file as a string under
// "files". Copies made by compression are not named. After an error the edition cannot be committed.
func (e *Edition) Put(name string, data []byte) error {
	e.use.RLock()
	defer e.use.RUnlock()
	err := e.put(name, data)
	if err != nil {
		e.mu.Lock()
		defer e.mu.Unlock()
		if e.broken == nil {
			e.broken = err
		}
	}
	return err
}

func (e *Edition) put(name string, data []byte) error {
	if e.closed {
		return fail(BadName, "cannot write %s: the edition is closed", name)
	}
	if err := CheckName(name); err != nil {
		return err
	}
	if err := e.enter(name, data); err != nil {
		return err
	}
	what := "write " + name + " for " + e.place.dir()
	full := filepath.Join(e.next(), filepath.FromSlash(name))
	if err := e.makeDir(path.Dir(name)); err != nil {
		return explain(what, full, err)
	}
	if e.compress && compressible(name) {
		copies, err := compressed(data)
		if err != nil {
			return explain(what, full, err)
		}
		for _, v := range copies {
			if err := writeFile(e.files, full+v.suffix, v.data, false); err != nil {
				return explain(what, full+v.suffix, err)
			}
		}
	}
	if err := writeFile(e.files, full, data, false); err != nil {
		return explain(what, full, err)
	}
	return nil
}

// enter takes the name, and reads the record.
func (e *Edition) enter(name string, data []byte) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	switch {
	case e.names[name]:
		return fail(BadName, "cannot write %s for %s: it is there already; two pages have one address", name, e.place.dir())
	case e.listed != nil:
		return fail(BadName, "cannot write %s for %s: %s is written last", name, e.place.dir(), Record)
	case name == Record:
		if !bytes.HasPrefix(data, []byte(RecordHead)) {
			return fail(BadName, "cannot write %s for %s: it must begin with %s", name, e.place.dir(), RecordHead)
		}
		listed, err := filesIn(data)
		if err != nil {
			return fail(BadName, "cannot write %s for %s: %v", name, e.place.dir(), err)
		}
		e.listed = listed
	}
	e.names[name] = true
	return nil
}

func (e *Edition) makeDir(dir string) error {
	e.mu.Lock()
	made := dir == "." || e.dirs[dir]
	e.mu.Unlock()
	if made {
		return nil
	}
	if err := e.files.MkdirAll(filepath.Join(e.next(), filepath.FromSlash(dir))); err != nil {
		return err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.dirs[dir] = true
	return nil
}
