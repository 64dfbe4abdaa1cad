package calc

import (
	"math"
	"testing"
	"time"
)

// TestDay: two dates are as many days apart as the standard library's calendar says.
func TestDay(t *testing.T) {
	first := time.Date(1999, 12, 25, 0, 0, 0, 0, time.UTC)
	zero := day("1999-12-25")
	for n := 0; n < 20_000; n += 13 {
		at := first.AddDate(0, 0, n)
		if got := day(at.Format("2006-01-02")) - zero; got != float64(n) {
			t.Fatalf("%s is %g days after, %d is wanted", at.Format("2006-01-02"), got, n)
		}
	}
	if day("2026-03") != day("2026-03-15") {
		t.Error("a month counts from its middle")
	}
	for _, text := range []string{"", "soon", "2026", "2026-x-01"} {
		if !math.IsNaN(day(text)) {
			t.Errorf("%q is taken for a date", text)
		}
	}
}
