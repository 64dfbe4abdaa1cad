package output

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
)

// note is the content of the file that lies beside a folder while it is replaced in two renames. It
// is written for a person too, who may find the folder gone and no program at hand.
type note struct {
	Folder string // name of the folder that is replaced
	Stage  string // name of the staging folder, beside it
}

const noteHead = "kerfbook is replacing a folder in two steps. Any kerfbook command for the folder ends this and removes the note."

func (n note) text() string {
	return fmt.Sprintf(`%s
By hand: if the folder is missing, move the new or the former edition to its place.
folder: %s
staging: %s
new: %s
former: %s
end
`, noteHead, strconv.Quote(n.Folder), strconv.Quote(n.Stage),
		strconv.Quote(n.Stage+"/"+nextName), strconv.Quote(n.Stage+"/"+formerName))
}

// write puts the note on the disk, name and all, before anything is renamed.
func (n note) write(files FS, p place) error {
	if err := writeFile(files, p.notePath(), []byte(n.text()), true); err != nil {
		return err
	}
	return files.SyncDir(p.parent)
}

// readNote returns the note of a place and whether there is one. A note cut short was never followed by a
// rename; it is returned empty.
func readNote(files FS, p place) (note, bool, error) {
	data, err := files.ReadFile(p.notePath())
	if errors.Is(err, fs.ErrNotExist) {
		return note{}, false, nil
	}
	if err != nil {
		return note{}, false, err
	}
	n := note{}
	for line := range strings.Lines(string(data)) {
		key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
		value, err := strconv.Unquote(value)
		switch {
		case err != nil:
		case key == "folder":
			n.Folder = value
		case key == "staging":
			n.Stage = value
		}
	}
	if n.text() == string(data) && n.Stage == filepath.Base(n.Stage) {
		return n, true, nil
	}
	if strings.HasPrefix(n.text(), string(data)) || strings.HasPrefix(string(data), noteHead) || strings.HasPrefix(noteHead, string(data)) {
		return note{}, true, nil
	}
	return note{}, false, fail(Foreign, "cannot publish to %s: %s is not a note of kerfbook; move it away", p.dir(), p.notePath())
}
