//go:build !wasip1

package catalog

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// TestQuote: the lines of a quote add up to its last, to the figures printed; a piece never
// costs more in a larger lot; and a small job is charged the least.
func TestQuote(t *testing.T) {
	b := readBook(t)
	set, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	amount := func(text string) float64 {
		word, _, _ := strings.Cut(text, " ")
		v, err := strconv.ParseFloat(strings.ReplaceAll(word, ",", ""), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	table := func(a *calc.Answer, title string) calc.Table {
		for _, one := range a.Tables {
			if one.Title == title {
				return one
			}
		}
		t.Fatalf("no table %s", title)
		return calc.Table{}
	}
	for _, in := range []map[string]string{{"quantity": "8", "radius": "0.2 mm"}, {"quantity": "1", "openings": "24", "length": "12 mm", "slug-width": "3 mm"}, {"kind": "punch", "start-hole": "no", "quantity": "40", "length": "300 mm"}} {
		a := sheetOf(t, set, b, in)
		q := table(a, "Quote")
		sum, last := 0.0, len(q.Rows)-1
		for _, row := range q.Rows[:last] {
			sum += amount(row[2].Text)
			if row[0].Text == "a start hole" && in["kind"] == "punch" {
				t.Error("a start hole where none is drilled")
			}
		}
		if all := amount(q.Rows[last][2].Text); math.Abs(sum/all-1) > 0.02 {
			t.Errorf("%v: the lines add up to %g, it says %g", in, sum, all)
		}
		over := table(a, "A piece over the quantity").Rows[0][1:]
		for i := 1; i < len(over); i++ {
			if amount(over[i].Text) > amount(over[i-1].Text) {
				t.Errorf("%v: a piece costs %s after %s", in, over[i].Text, over[i-1].Text)
			}
		}
	}
	dear := overlaid(t, book.File{Name: "quote.csv", Text: "item,amount_n0\nminimum,900\n"})
	if set, err = New(dear); err != nil {
		t.Fatal(err)
	}
	small := table(sheetOf(t, set, dear, map[string]string{"quantity": "2"}), "Quote")
	if end := small.Rows[len(small.Rows)-1]; amount(end[1].Text) != 450 || amount(end[2].Text) != 900 || end[3].Text == "" {
		t.Errorf("a small job is charged %s, %s: %q", end[1].Text, end[2].Text, end[3].Text)
	}
}
