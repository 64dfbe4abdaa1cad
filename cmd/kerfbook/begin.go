package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"kerfbook/site"
)

type beginCmd struct {
	Dir     string `arg:"" help:"Folder to make; it must not be there yet, or be empty." type:"path"`
	Content string `help:"${content}" placeholder:"DIR" type:"path"`
}

// Run writes the example of a shop's own folder, to be changed into the reader's.
func (c *beginCmd) Run(s *streams) error {
	h, err := open(s, c.Content)
	if err != nil {
		return err
	}
	example, err := fs.Sub(h.content, "shop")
	if err != nil {
		return err
	}
	if held, err := os.ReadDir(c.Dir); err == nil && len(held) > 0 {
		return fmt.Errorf("%s holds something already: name a folder that is empty or not there yet", c.Dir)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s cannot be used: %w", c.Dir, err)
	}
	n := 0
	err = fs.WalkDir(example, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(c.Dir, filepath.FromSlash(name))
		if d.IsDir() {
			return site.MakeFolder(to)
		}
		n++
		data, err := fs.ReadFile(example, name)
		if err != nil {
			return err
		}
		return site.ReplaceFile(to, data)
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "%d files of an invented shop written to %s; change them into yours, then: kerfbook publish --shop %s\n", n, c.Dir, c.Dir)
	return nil
}
