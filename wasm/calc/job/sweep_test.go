package job

import (
	"testing"
	"time"
)

// TestSweep: every shipped rule fires somewhere in 100,000 jobs, and no two
// disagree without an order.
func TestSweep(t *testing.T) {
	start := time.Now()
	a := Sweep(readBook(t), nil, N, 1)
	t.Logf("%d jobs in %v", a.Jobs, time.Since(start))
	for _, r := range a.Unfired {
		t.Errorf("no job fires the rule %s", r.Name)
	}
	for _, p := range a.Pairs {
		t.Errorf("%s and %s disagree and have no order", p[0], p[1])
	}
}
