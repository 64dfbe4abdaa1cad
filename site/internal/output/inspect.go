package output

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

const (
	// Record is the file that every edition holds; it is written last and names all others.
	Record = "edition.json"
	// RecordHead is how a record begins, byte for byte. A folder without it was not made by kerfbook.
	RecordHead = `{"kerfbook":`
)

// state is what stands at a place.
type state uint8

const (
	absent state = iota
	empty
	edition
)

// inspect tells what stands at dir and refuses everything that an edition must not replace.
func inspect(files FS, dir string) (state, error) {
	info, err := files.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return absent, nil
	case err != nil:
		return 0, explain("look at "+dir, dir, err)
	case !info.IsDir():
		return 0, fail(Foreign, "cannot publish to %s: it is not a folder; choose another name", dir)
	}
	record, found, err := readRecord(files, dir)
	if err != nil {
		return 0, explain("look at "+dir, dir, err)
	}
	if !found {
		entries, err := files.ReadDir(dir)
		if err != nil {
			return 0, explain("look at "+dir, dir, err)
		}
		if strange := strangers(entries); len(strange) > 0 {
			return 0, fail(Foreign, "cannot publish to %s: the folder holds %s and was not made by kerfbook; choose an empty folder or a new name", dir, few(strange))
		}
		return empty, nil
	}

	listed, err := filesIn(record)
	if err != nil {
		return 0, fail(Foreign, "cannot publish to %s: its %s cannot be read (%v), so it is not certain what kerfbook wrote there; move the folder away or choose another", dir, Record, err)
	}
	strange, err := unlisted(files, dir, "", listed)
	if err != nil {
		return 0, explain("look at "+dir, dir, err)
	}
	if len(strange) > 0 {
		return 0, fail(Foreign, "cannot publish to %s: kerfbook did not write %s, and publishing would delete it; move it out of the folder first", dir, few(strange))
	}
	return edition, nil
}

// readRecord returns the record of the edition at dir, or false when dir holds no edition.
func readRecord(files FS, dir string) ([]byte, bool, error) {
	data, err := files.ReadFile(filepath.Join(dir, Record))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	return data, err == nil && bytes.HasPrefix(data, []byte(RecordHead)), err
}

// whole reports whether dir holds an edition or is empty; removal takes the record first, so what has
// been removed in part is neither.
func whole(files FS, dir string) (bool, error) {
	if _, found, err := readRecord(files, dir); found || err != nil {
		return found, err
	}
	entries, err := files.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && len(strangers(entries)) == 0, err
}

// filesIn returns every string that stands under "files" in a record. How the files are listed there is
// the writer's affair. Words elsewhere in the record do not count: keys of tables and names of inputs
// such as "wire" are what somebody may call a file of his own.
func filesIn(text []byte) (map[string]bool, error) {
	if !json.Valid(text) {
		return nil, errors.New("it is not one whole JSON text")
	}
	var record struct {
		Files json.RawMessage `json:"files"`
	}
	if err := json.Unmarshal(text, &record); err != nil {
		return nil, err
	}
	all := map[string]bool{}
	d := json.NewDecoder(bytes.NewReader(record.Files))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		if s, ok := token.(string); ok {
			all[s] = true
		}
	}
}

// unlisted returns the files below dir that kerfbook did not write. A folder that no published name
// can have is returned as one, and so is an empty one: kerfbook makes no folder without a file.
func unlisted(files FS, dir, prefix string, listed map[string]bool) ([]string, error) {
	entries, err := files.ReadDir(filepath.Join(dir, filepath.FromSlash(prefix)))
	if err != nil {
		return nil, err
	}
	var strange []string
	for _, e := range entries {
		name := path.Join(prefix, e.Name())
		switch {
		case byDesktop(e):
		case e.IsDir() && only(e.Name(), "-"):
			more, err := unlisted(files, dir, name, listed)
			if err != nil {
				return nil, err
			}
			if len(more) == 0 && !holdsListed(name, listed) {
				more = []string{name + "/"}
			}
			strange = append(strange, more...)
		case e.IsDir():
			strange = append(strange, name+"/")
		case !e.Type().IsRegular() || !ours(name, listed):
			strange = append(strange, name)
		}
	}
	return strange, nil
}

func ours(name string, listed map[string]bool) bool {
	for _, suffix := range suffixes() {
		if plain, cut := strings.CutSuffix(name, suffix); cut && CheckName(plain) == nil {
			name = plain
		}
	}
	return name == Record || listed[name] && CheckName(name) == nil
}

// holdsListed reports whether a listed file lies below the folder.
func holdsListed(folder string, listed map[string]bool) bool {
	for name := range listed {
		if strings.HasPrefix(name, folder+"/") {
			return true
		}
	}
	return false
}

// byDesktop reports whether the desktop of macOS or Windows puts such a file into every folder it shows.
func byDesktop(e fs.DirEntry) bool {
	return e.Type().IsRegular() && slices.Contains([]string{".DS_Store", "Thumbs.db", "desktop.ini"}, e.Name())
}

// strangers names the entries that a desktop did not make.
func strangers(entries []fs.DirEntry) []string {
	var names []string
	for _, e := range entries {
		if !byDesktop(e) {
			names = append(names, e.Name())
		}
	}
	return names
}
