package main

import (
	"errors"
	"fmt"
	"slices"

	"kerfbook/site"
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc/job"
)

type checkCmd struct {
	Content string `help:"${content}" placeholder:"DIR" type:"path"`
	Shop    string `help:"A shop's own folder, laid over the handbook." placeholder:"DIR" type:"path"`
	Count   bool   `help:"Print what the handbook holds: one line \"name: value\" each."`
	Numbers bool   `help:"List the numbers in the text that nothing explains yet."`
}

// Run checks the content and says everything that is wrong.
func (c *checkCmd) Run(s *streams) error {
	h, err := openWith(s, c.Content, c.Shop)
	if err != nil {
		return err
	}
	o := h.options()
	o.Sweep = sweepRules(c.Shop != "")
	res, err := site.Check(o)
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

// sweepJobs is how many seeded jobs the rules of the job sheet are run over.
const sweepJobs = 100_000

// sweepRules names every rule of the job sheet that no job fires and every pair
// that disagrees without an order. In a shop's edition only what the shop's own
// rules have to do with it: its machines and tables leave rules of the handbook idle.
func sweepRules(shop bool) func(b *book.Book, recorded []site.Recorded) book.Faults {
	return func(b *book.Book, recorded []site.Recorded) book.Faults { return sweep(b, recorded, shop) }
}

func sweep(b *book.Book, recorded []site.Recorded, shop bool) book.Faults {
	ours := func(names ...string) bool {
		return !shop || slices.ContainsFunc(names, func(name string) bool {
			row, _ := b.Find("rules", name)
			return row.Ours
		})
	}
	var jobs []map[string]string
	for _, r := range recorded {
		if r.Calculator == "job" {
			jobs = append(jobs, r.Values)
		}
	}
	a := job.Sweep(b, jobs, sweepJobs, 1)
	var out book.Faults
	for _, r := range a.Unfired {
		if !ours(r.Name) {
			continue
		}
		out = append(out, r.Row.Fault("rule", "", fmt.Sprintf("none of %d jobs fires the rule %s", a.Cases, r.Name)))
	}
	for _, p := range a.Pairs {
		if row, ok := b.Find("rules", p[1]); ok && ours(p[0], p[1]) {
			out = append(out, row.Fault("rule", "", "the rules "+p[0]+" and "+p[1]+" ask for different things on the same job, and neither is over the other"))
		}
	}
	return out
}
