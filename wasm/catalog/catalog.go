// Package catalog lists the calculators of the handbook. A new topic is one
// folder under calc and one line here. It may import book, calc and the topics.
package catalog

import (
	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/calc/bow"
	"kerfbook/wasm/calc/carbide"
	"kerfbook/wasm/calc/clearance"
	"kerfbook/wasm/calc/corner"
	"kerfbook/wasm/calc/finish"
	"kerfbook/wasm/calc/inspect"
	"kerfbook/wasm/calc/job"
	"kerfbook/wasm/calc/ladder"
	"kerfbook/wasm/calc/leach"
	"kerfbook/wasm/calc/metal"
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

// Shipped returns the same set without validating it, for the browser: the
// publisher has validated it on the same book.
func Shipped(b *book.Book) (*calc.Set, error) { return calc.Trusted(b, list()...), nil }

func list() []*calc.Calculator {
	all := single()
	return append(all, job.Calculator(func(id string) *calc.Calculator {
		for _, c := range all {
			if c.ID == id {
				return c
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
		repeat.Calculator(),
	}
}
