package main

import (
	"context"
	"html"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"kerfbook/site"
	"kerfbook/wasm/catalog"
)

// TestCases: every published case has the verdict that its list states, so that a
// changed constant which loses a case is seen; and a published value that is moved
// out of our range is missed.
func TestCases(t *testing.T) {
	b, _ := canonicalBook(t)
	set, err := catalog.New(b)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := site.Cases(os.DirFS("../../testdata"), b, set)
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, c := range cases {
		count[c.Verdict]++
		if c.Verdict != c.Recorded {
			t.Errorf("%s: published %s, ours %s: it is %q, the list says %q", c.ID, c.Published, c.Ours, c.Verdict, c.Recorded)
		}
	}
	t.Logf("%d cases: %v", len(cases), count)
	if count["copied"] == 0 || count["overlaps"] == 0 {
		t.Errorf("what overlaps or was copied is told apart: %v", count)
	}
	if len(cases) < 10 || count["missed"] == 0 || count["too wide"] == 0 {
		t.Errorf("at least ten cases are wanted, some of them against us: %v", count)
	}
	for _, c := range []struct{ published, limit, want string }{{"0.80 mm", "5", "holds"}, {"1.52 mm", "5", "missed"}, {"0.34 to 0.5 mm", "5", "overlaps"}, {"0.1 to 0.2 mm", "5", "missed"}, {"0.80 mm", "3", "too wide"}} {
		list := "id,title,source,place,evidence,calculator,inputs,answer,published,limit,verdict,note\na,A,s,p,seen,start,wire=0.25 mm,smallest," + c.published + "," + c.limit + ",,\n"
		got, err := site.Cases(fstest.MapFS{"cases.csv": {Data: []byte(list)}}, b, set)
		if err != nil || got[0].Verdict != c.want {
			t.Errorf("%s within %s times: %v (%v), want %s", c.published, c.limit, got, err, c.want)
		}
	}
}

// TestCaseOfChoice: an outcome that is a choice is missed where ours cannot take
// it, too wide where ours can be every option, and an option that says that
// nobody asked is no outcome.
func TestCaseOfChoice(t *testing.T) {
	b, _ := canonicalBook(t)
	set, err := catalog.New(b)
	if err != nil {
		t.Fatal(err)
	}
	const head = "id,title,source,place,evidence,calculator,inputs,answer,published,limit,verdict,note\n"
	one := func(row string) (site.Case, error) {
		got, err := site.Cases(fstest.MapFS{"cases.csv": {Data: []byte(head + row + "\n")}}, b, set)
		if err != nil {
			return site.Case{}, err
		}
		return got[0], nil
	}
	for _, c := range []struct{ inputs, outcome, verdict, published, ours string }{
		{"wire=0.25 mm; hole=0.9 mm", "yes", "holds", "fits", "fits or too small to thread"},
		{"wire=0.25 mm; hole=2 mm", "too-small", "missed", "too small to thread", "fits"},
		{"wire=0.25 mm; hole=1.5 mm", "yes", "holds", "fits", "fits"},
		{"wire=0.25 mm; distance=0.6 mm; hole=0.3 to 1.1 mm", "yes", "too wide", "fits", ""},
	} {
		got, err := one("a,A,s,p,seen,start," + c.inputs + ",fits," + c.outcome + ",,,")
		if err != nil || got.Verdict != c.verdict || got.Published != c.published || c.ours != "" && got.Ours != c.ours {
			t.Errorf("%s as %s: %q, published %q, ours %q (%v); want %q, %q, %q", c.inputs, c.outcome, got.Verdict, got.Published, got.Ours, err, c.verdict, c.published, c.ours)
		}
	}
	if got, err := one("a,A,,,,,,,,,not made,nothing was printed"); err != nil || got.Verdict != "not made" {
		t.Errorf("a case without number: %v (%v)", got, err)
	}
	for _, c := range []struct{ row, want string }{
		{"a,A,,,,,,,,,not made,", "the case a names no calculator: then it has a reason and nothing to compute"},
		{"a,A,,,,,,,0.3 mm,,not made,why", "the case a names no calculator: then it has a reason and nothing to compute"},
		{"a,A,s,p,seen,start,hole=1 mm,fits,not-asked,,,", "the case a: the answer fits is one of yes, too-small, too-large, the published \"not-asked\" is none of them"},
	} {
		if _, err := one(c.row); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.row, err, c.want)
		}
	}
}

// TestTrustPage: the page names every case, every publication that a check rests
// on and every table row's key, and nothing of it is hidden.
func TestTrustPage(t *testing.T) {
	o := options("../../content")
	o.Wasm = []byte("wasm")
	o.Evidence = os.DirFS("../../testdata")
	sink := &lockedFiles{files: site.Files{}}
	if _, err := site.Publish(context.Background(), o, sink); err != nil {
		t.Fatal(err)
	}
	page := html.UnescapeString(string(sink.files["trust.html"]))
	b, _ := canonicalBook(t)
	set, err := catalog.New(b)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := site.Cases(o.Evidence, b, set)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		if c.Verdict == "not made" {
			if !strings.Contains(page, "<td>"+c.Title+"</td>") || !strings.Contains(page, "<td>"+c.Note+"</td>") {
				t.Errorf("the case %s, which was not made, is not on the page with its reason", c.ID)
			}
		} else if !strings.Contains(page, "<td>"+c.Title+"</td><td>"+c.Published+"</td><td>"+c.Ours+"</td>") {
			t.Errorf("the case %s is not on the page with both values", c.ID)
		}
	}
	for _, table := range b.Tables() {
		for _, r := range table.Rows {
			if !strings.Contains(page, r.Key) {
				t.Errorf("%s %s is not on the page", table.Name, r.Key)
			}
		}
	}
	for _, k := range set.All() {
		if !strings.Contains(page, "checks-"+k.ID+`"`) {
			t.Errorf("the calculator %s is not on the page", k.ID)
		}
	}
}
