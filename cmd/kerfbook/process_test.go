package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// TestProcessData: the process of a sheet as numbers is the one of its lines, its offsets
// are half the wire, the gap and what is left, and its limits add up.
func TestProcessData(t *testing.T) {
	var out, errs bytes.Buffer
	args := []string{"work", "--content", "../../content", "job", "radius=0.12 mm", "thickness=30 mm", "finish=0.5 µm", "machine=quay", "slot=0.5 mm", "--json"}
	if code := run(args, &out, &errs); code != 0 {
		t.Fatal(code, errs.String())
	}
	var d struct {
		Values map[string]struct{ Likely any }
		Sheet  struct {
			Tables  []jsonTable
			Process *jsonProcess
		}
	}
	if err := json.Unmarshal(out.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	p := d.Sheet.Process
	if p == nil || len(p.Passes) != p.jsonWay.Passes || len(p.Limits) < 5 || len(p.Lost) == 0 || len(p.Demands) != 8 {
		t.Fatalf("the process is not whole: %+v", p)
	}
	if p.Wire != d.Values["wire"].Likely || float64(p.jsonWay.Passes) != d.Values["passes"].Likely || p.Fluid != d.Values["dielectric"].Likely {
		t.Errorf("%g mm in %s, %d passes, the values say %v", p.Wire, p.Fluid, p.jsonWay.Passes, d.Values)
	}
	last := p.Passes[len(p.Passes)-1]
	if math.Abs(float64(last.Offset.Likely-p.Left.Likely)) > 1e-3 || last.Leaves.Likely != 0 {
		t.Errorf("the last offset is %v, the radius left %v", last.Offset, p.Left)
	}
	sum := 0.0
	for _, l := range p.Limits {
		sum += float64(l.Fail)
		if l.Asks != nil && math.Abs(float64(*l.Margin)-float64(*l.Asks)+float64(l.Gets.Likely)) > 1e-9 {
			t.Errorf("%s: the margin is %v of %v and %v", l.Name, *l.Margin, *l.Asks, l.Gets.Likely)
		}
	}
	if math.Abs(sum-float64(p.Fail)) > 1e-9 {
		t.Errorf("what may fail adds up to %g, it says %g", sum, p.Fail)
	}
	for _, table := range d.Sheet.Tables {
		if table.Title == "Passes" && len(table.Rows) != len(p.Passes) {
			t.Error("the table has another number of passes")
		}
	}
}

// TestVerdictExit: a verdict has an exit code of its own where it is asked for, and the
// answer is printed all the same.
func TestVerdictExit(t *testing.T) {
	for _, c := range []struct {
		in   string
		want int
	}{{"radius=0.2 mm", 0}, {"use-passes=3", 3}, {"asks=sharp", 4}, {"radius=no", 1}} {
		for _, asked := range []bool{false, true} {
			var out, errs bytes.Buffer
			args, want := []string{"work", "--content", "../../content", "job", c.in}, c.want
			if asked {
				args = append(args, "--verdict")
			} else if want > 1 {
				want = 0
			}
			if code := run(args, &out, &errs); code != want || want != 1 && !strings.Contains(out.String(), "To check and sign") {
				t.Errorf("%s, asked %v: exit %d, want %d\n%s", c.in, asked, code, want, errs.String())
			}
		}
	}
}
