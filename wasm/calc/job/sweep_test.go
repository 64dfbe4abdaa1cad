package job

import (
	"testing"

	"kerfbook/testdata/sweep"
)

// TestSweep: every shipped rule fires somewhere in the sweep's jobs, in the tenth
// of them too, and no two disagree without an order.
func TestSweep(t *testing.T) {
	a := Sweep(readBook(t), nil, sweep.Part(100_000), 1)
	for _, r := range a.Unfired {
		t.Errorf("no job fires the rule %s", r.Name)
	}
	for _, p := range a.Pairs {
		t.Errorf("%s and %s disagree and have no order", p[0], p[1])
	}
}
