package output

import (
	"cmp"
	"crypto/rand"
	"encoding/hex"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// KeepFile writes one file of a folder of things that can be made anew, and makes
// the folder. Several processes may write the same name at once: each writes a file
// of its own and renames it, so the name always holds one whole file. Of the files
// with the same first word and ending, "answers-….bin", the newest stay, most of
// them. The disk is not waited for: a file that a dead machine cut short is known by
// its digest.
func KeepFile(files FS, name string, data []byte, most int) error {
	if err := CheckName(filepath.Base(name)); err != nil {
		return err
	}
	dir, what := filepath.Dir(name), "keep "+name
	if err := files.MkdirAll(dir); err != nil {
		return explain(what, dir, err)
	}
	var random [randomBytes]byte
	rand.Read(random[:]) // never fails, see crypto/rand
	stem, ext := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)), filepath.Ext(name)
	first, _, _ := strings.Cut(stem, "-")
	next := filepath.Join(dir, first+"-new-"+hex.EncodeToString(random[:])+ext)
	err := writeFile(files, next, data, false)
	if err == nil {
		err = files.Rename(next, name)
	}
	if err != nil {
		_ = remove(files, next) // else it is one of the old ones, some day
		return explain(what, next, err)
	}
	return prune(files, dir, first+"-", ext, most)
}

// prune removes the oldest files of a kind. One that another process removed first,
// or reads just now, is no fault.
func prune(files FS, dir, prefix, ext string, most int) error {
	list, err := files.ReadDir(dir)
	if err != nil {
		return explain("keep files in "+dir, dir, err)
	}
	var kind []fs.FileInfo
	for _, e := range list {
		if strings.HasPrefix(e.Name(), prefix) && strings.HasSuffix(e.Name(), ext) && e.Type().IsRegular() {
			if info, err := e.Info(); err == nil {
				kind = append(kind, info)
			}
		}
	}
	slices.SortFunc(kind, func(a, b fs.FileInfo) int {
		return cmp.Or(b.ModTime().Compare(a.ModTime()), strings.Compare(a.Name(), b.Name()))
	})
	for _, old := range kind[min(most, len(kind)):] {
		_ = files.Remove(filepath.Join(dir, old.Name()))
	}
	return nil
}
