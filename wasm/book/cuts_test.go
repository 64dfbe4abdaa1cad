package book

import "testing"

// TestStale: a cut that was withdrawn, or that is older than the rebuild of its
// machine, counts no more, unless it was found to hold again.
func TestStale(t *testing.T) {
	const machines = "# title: Machines\n# key: machine\nmachine,rebuilt,source,place,provenance\nnew,2026-03-01,,,invented\nold,,,,invented\n"
	for _, c := range []struct{ machine, on, withdrawn, from, want string }{
		{"old", "2020-01-01", "", "", ""},
		{"old", "2020-01-01", "2026-04-02", "", "withdrawn on 2026-04-02"},
		{"new", "2026-02-28", "", "", "older than the rebuild of new on 2026-03-01"},
		{"new", "2026-03-01", "", "", ""},
		{"new", "2025-12-31", "", "2026-03-02", ""},
		{"new", "2026-05-01", "", "2026-02-01", "older than the rebuild of new on 2026-03-01"},
		{"new", "", "", "", "without a date, and new was rebuilt on 2026-03-01"},
		{"unknown", "2020-01-01", "", "", ""},
	} {
		b, err := Read([]File{{"machines.csv", machines},
			{"cuts.csv", "# title: Cuts\n# key: cut\ncut,machine,on,withdrawn,valid_from,source,place,provenance\nA," +
				c.machine + "," + c.on + "," + c.withdrawn + "," + c.from + ",,,measured\n"}})
		if err != nil {
			t.Fatal(err)
		}
		r, _ := b.Find("cuts", "A")
		if got := b.Stale(r); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
	if _, err := Read([]File{{"cuts.csv", "# title: Cuts\n# key: cut\ncut,machine,source,place,provenance\nA,old,,,measured\n"}}); err != nil {
		t.Fatal(err)
	}
}

// TestDate: a day is written in one way.
func TestDate(t *testing.T) {
	for text, want := range map[string]bool{"2026-02-11": true, "11.02.2026": false, "2026-2-11": false, "2026-13-01": false, "2026-02-32": false, "2026/02/11": false, "": false} {
		if Date(text) != want {
			t.Errorf("%q is taken for %v", text, Date(text))
		}
	}
}
