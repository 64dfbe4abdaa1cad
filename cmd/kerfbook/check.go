package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"kerfbook/site"
)

type checkCmd struct {
	Content string `help:"Folder of the handbook's content." default:"content" placeholder:"DIR" type:"path"`
	Count   bool   `help:"Print what the handbook holds: one line \"name: value\" each."`
	Numbers bool   `help:"List the numbers in the text that nothing explains yet."`
}

// Run checks the content and says everything that is wrong.
func (c *checkCmd) Run(s *streams) error {
	if info, err := os.Stat(c.Content); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no content folder %s: run kerfbook in the folder that holds it, or name it with --content", c.Content)
	}
	res, err := site.Check(options(c.Content))
	if err != nil && !errors.Is(err, site.ErrContent) {
		return err
	}
	if err := show(s, res); err != nil {
		return err
	}
	if err != nil {
		return errShown
	}
	if res.Warnings > 0 && !c.Numbers {
		return errShown
	}
	if c.Numbers {
		for _, n := range res.Unexplained {
			fmt.Fprintln(s.out, n)
		}
	}
	if !c.Count {
		if !c.Numbers {
			fmt.Fprintf(s.out, "%d pages, nothing wrong\n", res.Pages)
		}
		return nil
	}
	counts, err := site.WithChecks(res.Counts, filepath.Join(filepath.Dir(c.Content), "testdata"))
	if err != nil {
		return err
	}
	for _, n := range counts {
		fmt.Fprintf(s.out, "%s: %d\n", n.Name, n.Value)
	}
	return nil
}
