// Package catalog lists the calculators of the handbook. A new topic is one
// folder under calc and one line here. It may import book, calc and the topics.
package catalog

import (
	"slices"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/bow"
	"kerfbook/wasm/calc/carbide"
	"kerfbook/wasm/calc/clearance"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/finish"
	"kerfbook/wasm/calc/floor"
	"kerfbook/wasm/calc/inspect"
	"kerfbook/wasm/calc/job"
	"kerfbook/wasm/calc/ladder"
	"kerfbook/wasm/calc/leach"
	"kerfbook/wasm/calc/metal"
	"kerfbook/wasm/calc/next"
	"kerfbook/wasm/calc/pickup"
	"kerfbook/wasm/calc/profile"
	"kerfbook/wasm/calc/rate"
	"kerfbook/wasm/calc/recast"
	"kerfbook/wasm/calc/repeat"
	"kerfbook/wasm/calc/size"
	"kerfbook/wasm/calc/slot"
	"kerfbook/wasm/calc/slug"
	"kerfbook/wasm/calc/spark"
	"kerfbook/wasm/calc/start"
	"kerfbook/wasm/calc/taper"
	"kerfbook/wasm/calc/thread"
	"kerfbook/wasm/calc/tooth"
	"kerfbook/wasm/calc/trial"
	"kerfbook/wasm/calc/water"
	"kerfbook/wasm/calc/wire"
)

// New returns the validated set of all calculators on a book.
func New(b *book.Book) (*calc.Set, error) {
	set, err := calc.NewSet(b, list()...)
	set.Faults = func(b *book.Book) book.Faults {
		_, faults := job.Rules(b)
		return faults
	}
	return set, err
}

// Shipped finds the same calculators without validating them, for the browser:
// the publisher has validated them on the same book. The form of each is read
// when it is first asked for, so that a page's first answer waits for no other.
func Shipped(b *book.Book) func(id string) (*calc.Calculator, bool) {
	sets := map[string]*calc.Set{}
	ready := func(c *calc.Calculator) *calc.Calculator {
		if sets[c.ID] == nil {
			sets[c.ID] = calc.Trusted(b, c)
		}
		return c
	}
	all := listed(ready)
	return func(id string) (*calc.Calculator, bool) {
		for _, c := range all {
			if c.ID == id || slices.Contains(c.Aliases, id) {
				return ready(c), true
			}
		}
		return nil, false
	}
}

func list() []*calc.Calculator {
	return listed(func(c *calc.Calculator) *calc.Calculator { return c })
}

// listed are all calculators; the job asks others, each as ready gives it.
func listed(ready func(*calc.Calculator) *calc.Calculator) []*calc.Calculator {
	all := single()
	return append(all, job.Calculator(func(id string) *calc.Calculator {
		for _, c := range all {
			if c.ID == id {
				return ready(c)
			}
		}
		return nil
	}))
}

// single are those that answer one question each.
func single() []*calc.Calculator {
	return []*calc.Calculator{
		corner.Calculator(),
		profile.Calculator(),
		ladder.Calculator(),
		floor.Calculator(),
		finish.Calculator(),
		water.Calculator(),
		leach.Calculator(),
		slot.Calculator(),
		tooth.Calculator(),
		wire.Calculator(),
		thread.Calculator(),
		start.Calculator(),
		slug.Calculator(),
		rate.Calculator(),
		taper.Calculator(),
		clearance.Calculator(),
		bow.Calculator(),
		pickup.Calculator(),
		inspect.Calculator(),
		spark.Calculator(),
		recast.Calculator(),
		size.Calculator(),
		carbide.Calculator(),
		metal.Calculator(),
		trial.Calculator(),
		next.Calculator(),
		repeat.Calculator(),
	}
}
