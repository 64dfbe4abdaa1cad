package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// place is where an edition goes: base in the folder parent, all links on the way resolved.
type place struct {
	parent, base string
	said         string // what the user should know about the way there, or ""
}

func (p place) dir() string { return filepath.Join(p.parent, p.base) }

// find resolves dir, of which only the head needs to exist. A link on the way is followed; dir itself
// must not be one, since exchanging it would put a folder where the link was.
func find(files FS, dir string) (place, error) {
	if dir == "" {
		return place{}, fail(Protected, "no folder is named; name the folder that the edition goes to")
	}
	full, err := filepath.Abs(dir)
	if err != nil {
		return place{}, explain("find "+dir, dir, err)
	}
	parent, base := filepath.Dir(full), filepath.Base(full)
	if parent == full {
		return place{}, fail(Protected, "cannot publish to %s: it is the root of a disk; choose a folder of its own for the edition", full)
	}

	info, err := files.Lstat(full)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return place{}, explain("find "+full, full, err)
	case info.Mode()&fs.ModeSymlink != 0:
		target, err := files.Resolve(full)
		if err != nil {
			return place{}, fail(Foreign, "cannot publish to %s: it is a link that leads nowhere; remove it or choose another folder", full)
		}
		return place{}, fail(Foreign, "cannot publish to %s: it is a link to %s; publish to that folder itself", full, target)
	}

	real, err := resolve(files, parent)
	if err != nil {
		return place{}, explain("find "+parent, full, err)
	}
	p := place{parent: real, base: base}
	if real != parent {
		p.said = parent + " leads through a link: the edition is at " + p.dir()
	}
	return p, nil
}

// resolve resolves the links in the part of a full name that exists.
func resolve(files FS, name string) (string, error) {
	rest := ""
	for {
		real, err := files.Resolve(name)
		if err == nil {
			return filepath.Join(real, rest), nil
		}
		up := filepath.Dir(name)
		if !errors.Is(err, fs.ErrNotExist) || up == name {
			return "", err
		}
		name, rest = up, filepath.Join(filepath.Base(name), rest)
	}
}

// guard refuses to publish where that would replace something else than an edition: the user's home,
// the folder where the command was started, the folders in protect, and all that hold one of them; nor
// does an edition go into a folder in protect, where the next publication would read it.
func guard(files FS, p place, protect []string) error {
	type kept struct {
		name, what string
		inside     bool // nothing may be written inside it either
	}
	var all []kept
	if home, err := os.UserHomeDir(); err == nil && home != "" {
		all = append(all, kept{home, "your home folder", false})
	}
	if here, err := os.Getwd(); err == nil {
		all = append(all, kept{here, "the folder where the command was started", false})
	}
	for _, name := range protect {
		all = append(all, kept{name, name + ", which is read to make the edition", true})
	}
	for _, k := range all {
		full, err := filepath.Abs(k.name)
		if err == nil {
			full, err = resolve(files, full)
		}
		if err != nil {
			return explain("find "+k.name, k.name, err)
		}
		same, err := reaches(files, full, p.dir())
		if err != nil {
			return explain("find "+k.name, full, err)
		}
		if same == full {
			return fail(Protected, "cannot publish to %s: it is %s; choose a folder of its own for the edition", p.dir(), k.what)
		}
		if same != "" {
			return fail(Protected, "cannot publish to %s: it holds %s; choose a folder of its own for the edition", p.dir(), k.what)
		}
		if !k.inside {
			continue
		}
		if same, err = reaches(files, p.dir(), full); err != nil {
			return explain("find "+p.dir(), p.dir(), err)
		}
		if same != "" {
			return fail(Protected, "cannot publish to %s: it lies in %s; choose a folder outside it", p.dir(), k.what)
		}
	}
	return nil
}

// reaches walks up from name until it meets the folder top and returns the name it has there, "" when
// it never does. The files themselves are compared, since two spellings may name one folder.
func reaches(files FS, name, top string) (string, error) {
	want, err := files.Stat(top)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	for {
		if strings.EqualFold(name, top) && want == nil {
			return name, nil
		}
		if want != nil {
			have, err := files.Stat(name)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return "", err
			}
			if err == nil && os.SameFile(want, have) {
				return name, nil
			}
		}
		up := filepath.Dir(name)
		if up == name {
			return "", nil
		}
		name = up
	}
}
