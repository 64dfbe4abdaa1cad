package job

import (
	"slices"
	"strings"
	"testing"

	"kerfbook/wasm/book"
)

// changed reads the shipped tables with one row of the rules put in or changed.
func changed(t *testing.T, old, new string) *book.Book {
	t.Helper()
	list := files(t)
	for i, f := range list {
		if f.Name == "rules.csv" {
			if !strings.Contains(f.Text, old) {
				t.Fatalf("the rules do not hold %q", old)
			}
			list[i].Text = strings.Replace(f.Text, old, new, 1)
		}
	}
	b, err := book.Read(list)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestFaults: a wrong word, unit, option or order is a fault at its place.
func TestFaults(t *testing.T) {
	const head = "water-usual,dielectric,water,,,"
	row := func(s string) string { return s + "\n" + head }
	for _, c := range []struct{ name, row, want string }{
		{"fact", `x,dielectric,oil,hieght > 40 mm,,t,p,,,invented`, `rules.csv:10:18: there is no fact "hieght"; did you mean height?`},
		{"unit", `x,dielectric,oil,height > 40 µSv,,t,p,,,invented`, `rules.csv:10:27: `},
		{"no unit", `x,dielectric,oil,height > 40,,t,p,,,invented`, `rules.csv:10:27: `},
		{"option", `x,dielectric,oil,kind = punsh,,t,p,,,invented`, `rules.csv:10:25: kind is one of opening, punch, not "punsh"; did you mean punch?`},
		{"material", `x,dielectric,oil,material = carbid,,t,p,,,invented`, `rules.csv:10:29: the table of materials has no "carbid"; did you mean carbide?`},
		{"asks", `x,dielectric,oyl,,,t,p,,,invented`, `rules.csv:10:14: dielectric is one of water, oil, not "oyl"; did you mean oil?`},
		{"bound", `x,passes,3,,,t,p,,,invented`, `rules.csv:10:10: passes is bounded by <= or >= and a value, for example ">= 3"; this is "3"`},
		{"decision", `x,dielektric,oil,,,t,p,,,invented`, `rules.csv:10:3: nothing is decided under "dielektric"; did you mean dielectric?`},
		{"order", `x,dielectric,oil,passes > 3,,t,p,,,invented`, `rules.csv:10:18: passes is not known before dielectric is decided: it comes after passes`},
		{"over", `x,dielectric,oil,height > 4 mm,water-usuel,t,p,,,invented`, `rules.csv:10:32: there is no rule water-usuel; did you mean water-usual?`},
		{"over another", `x,dielectric,oil,height > 4 mm,brass-usual,t,p,,,invented`, `rules.csv:10:32: brass-usual decides wire-type, so x cannot outrank it`},
		{"sign", `x,dielectric,oil,kind > punch,,t,p,,,invented`, `rules.csv:10:23: kind is compared by = or !=, not by ">"`},
		{"half", `x,dielectric,oil,height >,,t,p,,,invented`, `rules.csv:10:18: a comparison is a fact, a sign and a value: "height > 40 mm"`},
		{"text", `x,dielectric,oil,height > 4 mm,,"a {hight}, b",p,,,invented`, `rules.csv:10:37: there is no fact "hight" to print; did you mean height?`},
		{"no text", `x,dielectric,oil,height > 4 mm,,,p,,,invented`, `rules.csv:10:33: a rule says why: its text is empty`},
		{"note asks", `x,note,oil,,,t,p,,,invented`, `rules.csv:10:8: a note asks for nothing: leave this empty`},
		{"against", `x,against,wyre,,,t,p,,,invented`, `rules.csv:10:11: there is no decision "wyre" to speak against; did you mean wire?`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := Rules(changed(t, head, row(c.row)))
			if len(faults) != 1 {
				t.Fatalf("%d faults: %v", len(faults), faults)
			}
			if got := faults.Error(); !strings.HasPrefix(got, c.want) || strings.HasSuffix(c.want, ": ") == (got == c.want) {
				t.Errorf("says  %s\nwants %s", got, c.want)
			}
		})
	}
	_, faults := Rules(changed(t, "water-usual,dielectric,water,,", "water-usual,dielectric,water,height > 1 mm,"))
	if len(faults) != 1 || !strings.Contains(faults.Error(), "no rule without a condition decides dielectric") {
		t.Errorf("a decision without a rule that always fires: %v", faults)
	}
}

// TestAuditFinds: a rule that cannot fire and a pair without an order are named.
func TestAuditFinds(t *testing.T) {
	const head = "water-usual,dielectric,water,,,"
	a := Sweep(changed(t, head, "never,dielectric,oil,height > 399.99 mm,water-usual,t,p,,,invented\nquarrel,start,edge,height > 100 mm,,t,p,,,invented\n"+head), nil, 2000, 3)
	found := false
	for _, r := range a.Unfired {
		found = found || r.Name == "never"
	}
	if !found {
		t.Errorf("the rule that never fires is not named: %v", a.Unfired)
	}
	if !slices.Contains(a.Pairs, [2]string{"quarrel", "start-opening"}) {
		t.Errorf("the pair is not named: %v", a.Pairs)
	}
	// A recorded job fires it.
	b := changed(t, head, "never,dielectric,oil,height > 399.99 mm,water-usual,t,p,,,invented\n"+head)
	for _, r := range Sweep(b, []map[string]string{{"thickness": "400 mm"}}, 2000, 3).Unfired {
		if r.Name == "never" {
			t.Error("a recorded job fires the rule, and it is named all the same")
		}
	}
}
