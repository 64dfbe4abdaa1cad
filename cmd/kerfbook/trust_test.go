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
	if len(cases) < 10 || count["missed"] == 0 || count["too wide"] == 0 {
		t.Errorf("at least ten cases are wanted, some of them against us: %v", count)
	}
	for _, c := range []struct{ published, limit, want string }{{"0.8 mm", "3", "holds"}, {"0.96 mm", "3", "missed"}, {"0.34 to 0.5 mm", "3", "missed"}, {"0.8 mm", "2", "too wide"}} {
		list := "id,title,source,place,evidence,calculator,inputs,answer,published,limit,verdict,note\na,A,s,p,seen,start,wire=0.25 mm,smallest," + c.published + "," + c.limit + ",,\n"
		got, err := site.Cases(fstest.MapFS{"cases.csv": {Data: []byte(list)}}, b, set)
		if err != nil || got[0].Verdict != c.want {
			t.Errorf("%s within %s times: %v (%v), want %s", c.published, c.limit, got, err, c.want)
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
		if !strings.Contains(page, "<td>"+c.Title+"</td><td>"+c.Published+"</td><td>"+c.Ours+"</td>") {
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
