package output

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// Around a folder "site" the following may stand, all gone when nothing is at work and nothing went
// wrong. They lie beside the folder, since a rename works within one file system only.
//
//	.kerfbook-lock-site                     held while a publication is at work
//	.kerfbook-swap-site.note                a replacement in two renames is under way
//	.kerfbook-new-site-0123456789abcdef/    the staging folder
//	    kerfbook-staging.txt                says whose the folder is
//	    edition/                            the new edition; after an exchange, the former one
//	    former/                             the former edition, when two renames are used
const (
	markName    = "kerfbook-staging.txt"
	nextName    = "edition"
	formerName  = "former"
	markText    = "kerfbook keeps an unfinished edition here. The next publication to the folder beside it removes this one.\n"
	randomBytes = 8
)

// tag stands for the folder's name in the names around it; a long name is shortened to a digest, so
// that no name gets longer than file systems allow.
func (p place) tag() string {
	if len(p.base) <= 100 {
		return p.base
	}
	sum := sha256.Sum256([]byte(p.base))
	return "digest-" + hex.EncodeToString(sum[:16])
}

func (p place) lockPath() string { return filepath.Join(p.parent, ".kerfbook-lock-"+p.tag()) }
func (p place) notePath() string { return filepath.Join(p.parent, ".kerfbook-swap-"+p.tag()+".note") }
func (p place) stagePrefix() string {
	return ".kerfbook-new-" + p.tag() + "-"
}

// isStage reports whether a name is that of a staging folder of this place. The digits at the end have
// a fixed number, so the staging folders of "site" and "site-b" are never confused.
func (p place) isStage(name string) bool {
	digits, cut := strings.CutPrefix(name, p.stagePrefix())
	raw, err := hex.DecodeString(digits)
	return cut && err == nil && len(raw) == randomBytes && digits == strings.ToLower(digits)
}

// newStage makes a staging folder and returns its path.
func newStage(files FS, p place) (string, error) {
	var random [randomBytes]byte
	rand.Read(random[:]) // never fails, see crypto/rand
	stage := filepath.Join(p.parent, p.stagePrefix()+hex.EncodeToString(random[:]))
	if err := files.Mkdir(stage); err != nil {
		return "", err
	}
	if err := writeFile(files, filepath.Join(stage, markName), []byte(markText), false); err != nil {
		return stage, err
	}
	return stage, files.Mkdir(filepath.Join(stage, nextName))
}

// owned reports whether a folder with the name of a staging folder is one. An edition that died early
// leaves it empty or with the head of the mark only.
func owned(files FS, stage string) (bool, error) {
	entries, err := files.ReadDir(stage)
	if err != nil {
		return false, err
	}
	if len(entries) == 0 {
		return true, nil
	}
	mark, err := files.ReadFile(filepath.Join(stage, markName))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && (string(mark) == markText || len(entries) == 1 && strings.HasPrefix(markText, string(mark))), err
}

// writeFile writes a new file.
func writeFile(files FS, name string, data []byte, sync bool) error {
	f, err := files.Create(name)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil && sync {
		err = f.Sync()
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	return err
}

// removeTree removes a folder and all in it, or nothing when it is not there. The record goes first, so
// that what is left after an interruption is never taken for an edition. Links are removed, not followed.
func removeTree(files FS, dir string) error {
	entries, err := files.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	slices.SortStableFunc(entries, func(a, b fs.DirEntry) int {
		return cmp.Compare(rank(a), rank(b))
	})
	for _, e := range entries {
		name := filepath.Join(dir, e.Name())
		if e.IsDir() {
			err = removeTree(files, name)
		} else {
			err = remove(files, name)
		}
		if err != nil {
			return err
		}
	}
	return remove(files, dir)
}

func rank(e fs.DirEntry) int {
	if e.Name() == Record {
		return 0
	}
	return 1
}

func remove(files FS, name string) error {
	if err := files.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
