package check

import (
	"maps"
	"slices"
	"testing"

	"kerfbook/wasm/book"
)

// TestSuffixes: every unit that a column's name may end in can be printed, and
// no other.
func TestSuffixes(t *testing.T) {
	printed, read := slices.Sorted(maps.Keys(suffixes)), slices.Sorted(slices.Values(book.Units()))
	if !slices.Equal(printed, read) {
		t.Errorf("the pages print %v, the tables have %v", printed, read)
	}
}

// TestSmallNumbersOfATable: the other system keeps what the usual decimals would
// round to nothing. 0.1 mm²/min are 0.0093 in²/h (1 in²/h is 645.16/60 mm²/min).
func TestSmallNumbersOfATable(t *testing.T) {
	b, err := book.Read([]book.File{{Name: "rates.csv", Text: "# title: Rates\n# key: wire\nwire,rate_low_mm2min,rate_likely_mm2min,rate_high_mm2min,source,place,provenance\na,0.1,0.4,1,,,common practice\nb,60,130,250,,,common practice\n"}})
	if err != nil {
		t.Fatal(err)
	}
	table := b.Table("rates")
	k := columns(table)[1]
	for i, want := range []string{"0.037 (0.009 to 0.093) in²/h", "12.1 (5.6 to 23.3) in²/h"} {
		if got := k.cell(table.Rows[i]).Other; got != want {
			t.Errorf("row %d: %s, %s is wanted", i+1, got, want)
		}
	}
}

// TestOtherUnits: 10 bar are 145 psi (1 psi is 6.894757 kPa), 5 kg are 11.0 lb
// (1 lb is 0.45359237 kg): NIST SP 811, appendix B.
func TestOtherUnits(t *testing.T) {
	b, err := book.Read([]book.File{{Name: "things.csv", Text: "# title: Things\n# key: thing\nthing,pressure_likely_bar,mass_likely_kg,life_likely_h,flow_likely_lmin,source,place,provenance\na,10,5,80,6,,,common practice\n"}})
	if err != nil {
		t.Fatal(err)
	}
	table := b.Table("things")
	for i, want := range []Cell{{Text: "10", Other: "145 psi"}, {Text: "5", Other: "11 lb"}, {Text: "80"}, {Text: "6"}} {
		if got := columns(table)[i+1].cell(table.Rows[0]); got != want {
			t.Errorf("column %d: %v, %v is wanted", i+2, got, want)
		}
	}
}
