package record

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
)

// mutated is a record read from data and changed in some places by chance.
func mutated(t testing.TB, data []byte, rng *rand.Rand) *Edition {
	t.Helper()
	e, err := Read(data)
	if err != nil {
		t.Fatal(err)
	}
	word := func() string {
		return []string{"", "a", "b", "one", "1 mm", "2 mm", "x 1", "Yes", "how/index.html"}[rng.IntN(9)]
	}
	texts := func(list *[]NamedText) {
		switch rng.IntN(4) {
		case 0:
			name := word()
			if len(*list) > 0 && rng.IntN(2) == 0 {
				name = (*list)[rng.IntN(len(*list))].Name
			}
			*list = append(*list, NamedText{name, word()})
		case 1:
			cut(rng, list)
		case 2:
			exchange(rng, *list)
		default:
			if len(*list) > 0 {
				(*list)[rng.IntN(len(*list))].Text = word()
			}
		}
	}
	for range rng.IntN(7) {
		switch rng.IntN(16) {
		case 0:
			e.Wasm = word() + "w"
		case 1:
			e.Title, e.Revision = word(), word()
		case 2:
			e.Pages = append(e.Pages, Page{word() + ".html", word(), word(), word(), word(), word()})
		case 3:
			cut(rng, &e.Pages)
		case 4:
			exchange(rng, e.Pages)
		case 5:
			if len(e.Pages) > 0 {
				p := &e.Pages[rng.IntN(len(e.Pages))]
				*[]*string{&p.Address, &p.Number, &p.Title, &p.Check, &p.Text, &p.Printed}[rng.IntN(6)] = word()
			}
		case 6:
			cut(rng, &e.Tables)
		case 7:
			if len(e.Tables) > 0 {
				e.Tables[rng.IntN(len(e.Tables))].Digest = word()
			}
		case 8:
			cut(rng, &e.Rows)
		case 9:
			if len(e.Rows) > 0 {
				r := &e.Rows[rng.IntN(len(e.Rows))]
				r.Digest = word()
				texts(&r.Cells)
			}
		case 10:
			e.Rows = append(e.Rows, Row{Table: "sizes", Key: word(), Digest: word()})
		case 11:
			cut(rng, &e.Answers)
		case 12:
			exchange(rng, e.Answers)
		case 13:
			if len(e.Answers) > 0 {
				a := e.Answers[rng.IntN(len(e.Answers))]
				a.ID += " " + word()
				if rng.IntN(2) == 0 {
					a.ID = word() + "#" + word() + " worked double"
				}
				e.Answers = append(e.Answers, a)
			}
		default:
			if len(e.Answers) > 0 {
				a := &e.Answers[rng.IntN(len(e.Answers))]
				switch rng.IntN(4) {
				case 0:
					a.Verdict = word()
				case 1:
					a.Rows = append(a.Rows, "sizes "+word())
				case 2:
					a.Inputs = slices.Clone(a.Inputs)
					texts(&a.Inputs)
				default:
					a.Values = slices.Clone(a.Values)
					texts(&a.Values)
				}
			}
		}
	}
	return e
}

func cut[T any](rng *rand.Rand, list *[]T) {
	if n := len(*list); n > 0 {
		i := rng.IntN(n)
		*list = slices.Delete(slices.Clone(*list), i, i+1)
	}
}

func exchange[T any](rng *rand.Rand, list []T) {
	if n := len(list); n > 1 {
		i, j := rng.IntN(n), rng.IntN(n)
		list[i], list[j] = list[j], list[i]
	}
}

// mirrored is a state seen from the other side: what came is gone.
func mirrored(s State) State {
	switch s {
	case Came:
		return Gone
	case Gone:
		return Came
	}
	return s
}

// ledger lists everything that a comparison says, in an order of its own; with back
// it is told from the other side.
func ledger(c *Changes, back bool) []string {
	var out []string
	state := func(s State) State {
		if back {
			return mirrored(s)
		}
		return s
	}
	moves := func(list []Moved) string {
		var all []string
		for _, m := range list {
			if back {
				m.Old, m.New = m.New, m.Old
			}
			all = append(all, fmt.Sprintf("%q:%q:%q", m.Name, m.Old, m.New))
		}
		slices.Sort(all)
		return strings.Join(all, ",")
	}
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	add("same %v", c.Same)
	add("edition %s", moves(c.Edition))
	old, now, came, gone := c.Calculators.Old, c.Calculators.New, c.Calculators.Came, c.Calculators.Gone
	if back {
		old, now, came, gone = now, old, gone, came
	}
	add("calculators %q %q %q %q", old, now, came, gone)
	for _, p := range c.Pages {
		from, to := p.Was, p.Address
		if from == "" {
			from = to
		}
		if back {
			from, to = to, from
		}
		add("page %s %q %q %q", state(p.State), from, to, p.What)
	}
	for _, t := range slices.Concat(c.Tables, c.Rules) {
		a, b := t.OldCount, t.NewCount
		if back {
			a, b = b, a
		}
		add("table %s %q %d %d %v", state(t.State), t.Name, a, b, t.Moved)
		for _, r := range t.Rows {
			add("row %s %q %q %s", state(r.State), t.Name, r.Key, moves(r.Cells))
		}
	}
	for _, a := range c.Answers {
		var causes []string
		for _, k := range a.Causes {
			causes = append(causes, fmt.Sprintf("%s %q %q %s %s", k.Kind, k.Table, k.Key, state(k.State), moves(k.Cells)))
			if k.Kind == "page" { // named by its address in the newer of the two
				causes[len(causes)-1] = fmt.Sprintf("page %s", state(k.State))
			}
		}
		slices.Sort(causes)
		add("answer %s %s %s %s %q", state(a.State), a.Kind, a.Calculator, moves(a.Values), causes)
	}
	slices.Sort(out)
	return out
}

// comparable holds what must be true of every two records.
func comparable(t *testing.T, old, now *Edition) {
	t.Helper()
	for _, e := range []*Edition{old, now} {
		if c := Compare(e, e); !c.Same || len(ledger(c, false)) != 3 {
			t.Fatalf("a record differs from itself: %q", ledger(c, false))
		}
	}
	there, back := ledger(Compare(old, now), false), ledger(Compare(now, old), true)
	if !slices.Equal(there, back) {
		for _, x := range there {
			if !slices.Contains(back, x) {
				t.Errorf("only from old to new: %s", x)
			}
		}
		for _, x := range back {
			if !slices.Contains(there, x) {
				t.Errorf("only from new to old: %s", x)
			}
		}
		t.Fatalf("the comparison is not the same from both sides\nold %s\nnew %s", recordText(t, old), recordText(t, now))
	}
	said := Compare(old, now)
	if said.Text() == "" || said.Lead() == "" {
		t.Fatal("the comparison says nothing")
	}
	for _, s := range said.Sections() {
		for _, row := range s.Rows {
			if len(row) != len(s.Heads) {
				t.Fatalf("%s: the row %q does not fit under %q", s.Title, row, s.Heads)
			}
		}
	}
}

// TestComparePairs: of pairs of records that were changed by chance a comparison says
// from both sides the same, and nothing of a record and itself.
func TestComparePairs(t *testing.T) {
	good := []byte(recordText(t, record()))
	compared := 0
	for seed := range sweep.Part(20_000) {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		old, err := Read([]byte(recordText(t, mutated(t, good, rng))))
		if err != nil {
			continue
		}
		now, err := Read([]byte(recordText(t, mutated(t, good, rng))))
		if err != nil {
			continue
		}
		compared++
		comparable(t, old, now)
	}
	if n := sweep.Part(20_000); compared < n/2 {
		t.Errorf("only %d of %d pairs could be read", compared, n)
	}
}

// FuzzCompare: whatever two records say, comparing them does not panic, says the same
// from both sides, and nothing of a record and itself.
func FuzzCompare(f *testing.F) {
	good := recordText(f, record())
	f.Add([]byte(good), []byte(strings.Replace(good, "2 mm", "3 mm", 1)), uint64(1))
	f.Add([]byte(good), []byte(strings.Replace(good, `{"kerfbook":2`, `{"kerfbook":1`, 1)), uint64(2))
	f.Add([]byte(strings.ReplaceAll(good, "how/index.html", "old.html")), []byte(good), uint64(3))
	f.Fuzz(func(t *testing.T, a, b []byte, seed uint64) {
		old, err := Read(a)
		if err != nil {
			return
		}
		now, err := Read(b)
		if err != nil {
			return
		}
		comparable(t, old, now)
		rng := rand.New(rand.NewPCG(seed, 5))
		again, err := Read(bytes.Clone([]byte(recordText(t, mutated(t, b, rng)))))
		if err == nil {
			comparable(t, now, again)
		}
	})
}
