package border

import (
	"maps"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// teller is a desk with two invented calculators whose replies differ in what they
// hold: a file, a table's text and a field come and go.
func teller(t *testing.T) *Desk {
	t.Helper()
	one := func(id string, times unit.Length) *calc.Calculator {
		return &calc.Calculator{ID: id, Title: "Times", Question: "How much?", Summary: "So many times.", Build: func(f *calc.Form, b *book.Book) calc.Run {
			var size, out unit.Length
			calc.Ask(f, &size, "size: Size\nis 1 mm\nkeys mm thou; thou\nmax 100 mm: the bench ends there")
			calc.Tell(f, &out, "out: Out")
			return calc.Run{Point: func(*calc.Point) { out = times * size }, Say: func(r *calc.Result, a *calc.Answer) {
				a.Headline = r.Text("{out}")
				if size > 10 {
					a.Files = append(a.Files, calc.File{Name: id + " size.txt", What: "The size", Text: r.Text("{out}")})
				}
				if size > 20 {
					a.Notes = append(a.Notes, "A\tlarge\none.")
				}
			}}
		}}
	}
	d := &Desk{Calculators: func(b *book.Book) (*calc.Set, error) { return calc.NewSet(b, one("twice", 2), one("thrice", 3)) }}
	if reply := d.Ask(Encode([]Pair{{"book", ""}, {"book", ""}})); !strings.HasPrefix(reply, "ok") {
		t.Fatal(reply)
	}
	return d
}

// slotsOf reads a reply as a page does; a name that stands twice fails.
func slotsOf(t *testing.T, reply string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, p := range Decode(reply) {
		if _, twice := out[p.Name]; twice {
			t.Fatalf("the slot %s stands twice in %q", p.Name, reply)
		}
		out[p.Name] = p.Value
	}
	return out
}

// TestOnlyChangedSlots: a page that keeps what it was sent and changes it by what
// comes holds at every turn the reply that one gets who asks for all, whatever is
// asked in between: other places, replies that come too late to be taken, a desk
// made anew, a question that is refused.
func TestOnlyChangedSlots(t *testing.T) {
	type place struct {
		id, name, have string
		held           map[string]string
	}
	r := rand.New(rand.NewPCG(7, 70))
	places := []*place{{id: "twice", name: "1"}, {id: "thrice", name: "2"}, {id: "twice", name: "3"}}
	sizes := []string{"1 mm", "2 mm", "3 thou", "11 mm", "12 mm", "30 mm", "31 mm", "abc", "200 mm", ""}
	d, turns, short, taken, remade := teller(t), 0, 0, 0, 0
	for range 4000 {
		if r.IntN(50) == 0 {
			d = teller(t)
			remade++
		}
		p := places[r.IntN(len(places))]
		turns++
		asked := []Pair{{"answer", ""}, {"calculator", p.id}, {"units", []string{"metric", "inch"}[r.IntN(2)]}, {"in.size", sizes[r.IntN(len(sizes))]}}
		if r.IntN(20) == 0 {
			asked[1].Value = "nobody"
		}
		all := slotsOf(t, d.Ask(Encode(asked)))
		turn := strconv.Itoa(turns)
		sent := slotsOf(t, d.Ask(Encode(append(asked, Pair{"place", p.name}, Pair{"turn", turn}, Pair{"have", p.have}))))
		if r.IntN(4) == 0 {
			continue // it comes too late: a newer question was asked
		}
		if _, refused := sent["error"]; refused {
			if !maps.Equal(sent, all) {
				t.Fatalf("refused with %v, want %v", sent, all)
			}
			continue
		}
		taken++
		whole := map[string]string{}
		if since, ok := sent["since"]; ok {
			if since != p.have {
				t.Fatalf("turn %s is told as what changed since %q; the page holds %q", turn, since, p.have)
			}
			short++
			whole = maps.Clone(p.held)
		}
		for _, name := range strings.Split(sent["gone"], "\n") {
			delete(whole, name)
		}
		delete(sent, "since")
		delete(sent, "gone")
		for name, text := range sent {
			if was, ok := whole[name]; ok && was == text && name != "ok" {
				t.Errorf("turn %s: %s is sent again and has not changed", turn, name)
			}
		}
		maps.Copy(whole, sent)
		if !maps.Equal(whole, all) {
			t.Fatalf("turn %s, place %s: the page holds\n%v\nwant\n%v", turn, p.name, whole, all)
		}
		p.held, p.have = whole, turn
	}
	t.Logf("%d replies taken, %d of them short, %d desks made anew", taken, short, remade)
	if taken < 2000 || short < taken/3 || taken-short < 300 || remade < 30 {
		t.Error("too little was tried")
	}
}
