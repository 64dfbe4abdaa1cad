package main

import (
	"errors"
	"fmt"

	"kerfbook/site"
)

type checkCmd struct {
	Content string `help:"${content}" placeholder:"DIR" type:"path"`
	Count   bool   `help:"Print what the handbook holds: one line \"name: value\" each."`
	Numbers bool   `help:"List the numbers in the text that nothing explains yet."`
}

// Run checks the content and says everything that is wrong.
func (c *checkCmd) Run(s *streams) error {
	h, err := open(s, c.Content)
	if err != nil {
		return err
	}
	if err := h.stands(); err != nil {
		return err
	}
	res, err := site.Check(h.options())
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
	counts, err := site.WithChecks(res.Counts, h.evidence)
	if err != nil {
		return err
	}
	for _, n := range counts {
		fmt.Fprintf(s.out, "%s: %d\n", n.Name, n.Value)
	}
	return nil
}
