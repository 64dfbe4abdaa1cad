package rules

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/book"
)

// An outing, so that nothing here is of the trade.
const (
	factRain Fact = iota
	factWay
	factHeat
	factWater
	factPlace
	factCoat
	factFlasks
	factGo
)

func outing() Language {
	return Language{
		Decisions: "coat flasks:count go!worst against!against note!all",
		Vocabulary: `rain of yes no | rain
way length | way
heat temperature | heat
water count | way heat
place in huts | place
coat decision |
flasks count @flasks | way
go decision |`,
	}
}

const decisionsCSV = `# title: What is decided
# key: decision option
decision,option,what,range
coat,light,a light coat,
coat,heavy,a heavy coat for {way},[of {rain} {kit.size}]
flasks,,{flasks} flasks,
go,yes,go,
go,maybe,perhaps,
go,no,stay,
`

const rulesHead = "# title: Rules\n# key: rule\nrule,decides,asks,when,over,text\n"

const rulesCSV = `light,coat,light,,,it is light
wet,coat,heavy,rain = yes,light,it rains
one,flasks,>= 1,,,one always
far,flasks,>= 3,way > 10 m,,it is far
drunk,flasks,>= water,,,so much is drunk
strong,flasks,<= 4,place = hut,,more is not carried
fine,go,yes,,,why not
hot,go,maybe,heat >= 30 °C,,it is hot
flood,go,no,rain = yes and way > 1000 m,,too wet
soaked,against,coat,rain = yes,,it soaks
hat,note,,heat > 25 °C,,take a hat
`

// wide adds the columns that every table has.
func wide(text string) string {
	var out strings.Builder
	head := true
	for line := range strings.Lines(text) {
		switch line = strings.TrimSuffix(line, "\n"); {
		case strings.HasPrefix(line, "#"):
		case head:
			line, head = line+",page,source,place,provenance", false
		default:
			line += ",,,,invented"
		}
		out.WriteString(line + "\n")
	}
	return out.String()
}

func readTable(t testing.TB, rows string) *Table {
	t.Helper()
	b, err := book.Read([]book.File{
		{Name: "decisions.csv", Text: wide(decisionsCSV)}, {Name: "rules.csv", Text: wide(rulesHead + rows)},
		{Name: "huts.csv", Text: wide("# title: Huts\n# key: hut\nhut,name\nhut,the hut\nlake,the lake\n")},
	})
	if err != nil {
		t.Fatal(err)
	}
	return Read(b, outing())
}

// walk is the domain of an outing: as few flasks as the limits allow, six at most.
type walk struct{ *Case }

func (w walk) Begin()                                         { w.Facts.SetNumber(factWater, 2) }
func (w walk) Settle(_ *Decision, o *Outcome) float64         { return o.Least(1, 6) }
func (w walk) Binds(*Decision, string, float64, float64) bool { return false }
func (w walk) Learn(*Decision, *Outcome)                      {}

func (w walk) names(list []int) []string {
	var out []string
	for _, k := range list {
		out = append(out, w.Table.List[k].Name)
	}
	return out
}

// TestDecides: one decision of each manner, with what fires, what speaks against the
// user's own, and what clashes.
func TestDecides(t *testing.T) {
	type want struct {
		coat   string
		flasks float64
		go_    string
		fired  string // by decision, between bars
	}
	for _, c := range []struct {
		name string
		set  func(w walk)
		want want
	}{
		{"dry", func(w walk) { w.Facts.SetWord(factRain, "no"); w.Facts.SetNumber(factWay, 10_000) }, want{"light", 2, "yes", "light|drunk|fine||"}},
		{"wet and far", func(w walk) { w.Facts.SetWord(factRain, "yes"); w.Facts.SetNumber(factWay, 1_000_000.5) }, want{"heavy", 3, "no", "wet|far|flood||"}},
		{"a hair under", func(w walk) { w.Facts.SetNumber(factWay, 10_000+1e-9) }, want{"light", 2, "yes", "light|drunk|fine||"}}, // as far as 10 m: sums of decimals
		{"nothing is known", func(w walk) {}, want{"light", 2, "yes", "light|drunk|fine||"}},
		{"hot", func(w walk) { w.Facts.SetNumber(factHeat, 30) }, want{"light", 2, "maybe", "light|drunk|hot||hat"}},
		{"own coat", func(w walk) { w.Facts.SetWord(factRain, "yes"); w.Own["coat"] = "light" }, want{"light", 2, "yes", "|drunk|fine|soaked|"}},
		{"own flasks", func(w walk) { w.Facts.SetNumber(factWay, 20_000); w.OwnNum["flasks"] = 2 }, want{"light", 2, "yes", "light||fine||"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := walk{readTable(t, rulesCSV).NewCase()}
			c.set(w)
			w.Run(w)
			var fired []string
			for i := range w.Out {
				fired = append(fired, strings.Join(w.names(w.Out[i].Fired), " "))
			}
			got := want{w.Facts.Word(factCoat), w.Facts.Number(factFlasks), w.Facts.Word(factGo), strings.Join(fired, "|")}
			if got != c.want {
				t.Errorf("comes to %+v, want %+v", got, c.want)
			}
		})
	}
	w := walk{readTable(t, rulesCSV).NewCase()}
	w.Facts.SetNumber(factWay, 20_000)
	w.OwnNum["flasks"] = 2
	w.Run(w)
	if got := w.names(w.Out[1].Against); !slices.Equal(got, []string{"far"}) {
		t.Errorf("against two flasks speak %v", got)
	}
}

// TestBounds: limits that contradict each other clash, and the upper one holds.
func TestBounds(t *testing.T) {
	w := walk{readTable(t, rulesCSV+"many,flasks,>= 5,way > 10 m,,very far\n").NewCase()}
	w.Facts.SetNumber(factWay, 20_000)
	w.Facts.SetWord(factPlace, "hut")
	w.Run(w)
	if got := w.names(w.Out[1].Clash); w.Facts.Number(factFlasks) != 4 || !slices.Equal(got, []string{"strong", "many"}) {
		t.Errorf("%v flasks, clash %v", w.Facts.Number(factFlasks), got)
	}
	for _, c := range [][5]float64{{math.Inf(-1), math.Inf(1), 1, 6, 1}, {3, 9, 1, 6, 3}, {9, 20, 1, 6, 6}, {3, 2, 1, 6, 2}, {0, 0.5, 1, 6, 1}} {
		if got := (&Outcome{Low: c[0], Top: c[1]}).Least(c[2], c[3]); got != c[4] {
			t.Errorf("the least of %v to %v within %v to %v is %v, want %v", c[0], c[1], c[2], c[3], got, c[4])
		}
	}
}

// TestAgainstPlain runs seeded outings through the engine and through a plain
// reading of the same table: a rule fires when Go's own operators say that its
// condition holds.
func TestAgainstPlain(t *testing.T) {
	table := readTable(t, rulesCSV)
	rng := Dice(7)
	coats := map[string]int{}
	for range sweep.Part(20_000) {
		w := walk{table.NewCase()}
		rain, way, heat, place := rng.One([]string{"yes", "no"}), rng.Span(1, 1e7), -10+50*rng.Part(), rng.One([]string{"hut", "lake"})
		w.Facts.SetWord(factRain, rain)
		w.Facts.SetNumber(factWay, way)
		w.Facts.SetNumber(factHeat, heat)
		w.Facts.SetWord(factPlace, place)
		w.Run(w)
		coat, flasks, goes := "light", 2.0, "yes"
		if rain == "yes" {
			coat = "heavy"
		}
		if way > 10_000 {
			flasks = 3
		}
		if heat >= 30 {
			goes = "maybe"
		}
		if rain == "yes" && way > 1e6 {
			goes = "no"
		}
		coats[coat+goes]++
		if w.Facts.Word(factCoat) != coat || w.Facts.Number(factFlasks) != flasks || w.Facts.Word(factGo) != goes {
			t.Fatalf("rain %s, %v mm, %v °C, %s: %s, %v, %s", rain, way, heat, place, w.Facts.Word(factCoat), w.Facts.Number(factFlasks), w.Facts.Word(factGo))
		}
		if hat := heat > 25; (len(w.Out[4].Fired) == 1) != hat {
			t.Fatalf("%v °C: the notes are %v", heat, w.names(w.Out[4].Fired))
		}
	}
	if len(coats) < 5 {
		t.Errorf("only %v came up", coats)
	}
}

// TestCheck: what is wrong with a row is said at its place; the table as it is has
// nothing wrong in it.
func TestCheck(t *testing.T) {
	asked := func(id string) bool { return id == "kit" }
	if faults := readTable(t, rulesCSV).Check(asked); len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, c := range []struct{ row, want string }{
		{`x,coat,light,rian = yes,,t`, `rules.csv:15:14: there is no fact "rian"; did you mean rain?`},
		{`x,coat,light,place = hit,,t`, `rules.csv:15:22: the table of huts has no "hit"; did you mean hut?`},
		{`x,coat,light,rain > yes,,t`, `rules.csv:15:19: rain is compared by = or !=, not by ">"`},
		{`x,coat,light,go = no,,t`, `rules.csv:15:14: go is not known before coat is decided: it comes after go`},
		{`x,flasks,3,,,t`, `rules.csv:15:10: flasks is bounded by <= or >= and a value, for example ">= 3"; this is "3"`},
		{`x,note,,,,{kid.size}`, `rules.csv:15:12: no calculator "kid" is asked for an answer to print`},
		{`x,note,,,,{heet}`, `rules.csv:15:12: there is no fact "heet" to print; did you mean heat?`},
		{`x,against,coet,,,t`, `rules.csv:15:11: there is no decision "coet" to speak against; did you mean coat?`},
		{`x,go,no,,hot wett,t`, `rules.csv:15:14: there is no rule wett; did you mean wet?`},
	} {
		faults := readTable(t, rulesCSV+c.row+"\n").Check(asked)
		if len(faults) != 1 || faults.Error() != c.want {
			t.Errorf("%s\nsays  %v\nwants %s", c.row, faults, c.want)
		}
	}
}

// TestFrom: what a decision depends on, through rules, texts and the calculators
// that they print.
func TestFrom(t *testing.T) {
	got := readTable(t, rulesCSV).From(func(d string) []string {
		if d == "note" {
			return []string{"place"}
		}
		return nil
	}, func(id string) []string { return map[string][]string{"kit": {"heat"}}[id] })
	want := map[string][]string{
		"coat": {"heat", "rain", "way"}, "flasks": {"heat", "place", "way"}, "go": {"heat", "rain", "way"}, "against": {"rain"}, "note": {"heat", "place"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("depends on %v, want %v", got, want)
	}
}

// TestSweep: a rule that no case fires and a pair that disagrees are named.
func TestSweep(t *testing.T) {
	table := readTable(t, rulesCSV+"never,note,,heat > 900 °C,,t\nquarrel,coat,heavy,heat > 35 °C,,t\n")
	s := table.NewSweep()
	rng := Dice(3)
	for range 500 {
		w := walk{table.NewCase()}
		w.Facts.SetWord(factRain, rng.One([]string{"yes", "no"}))
		w.Facts.SetNumber(factWay, rng.Span(1, 1e8))
		w.Facts.SetNumber(factHeat, -10+50*rng.Part())
		w.Facts.SetWord(factPlace, "hut")
		w.Run(w)
		s.Note(w.Case)
	}
	a := s.Audit()
	var unfired []string
	for _, r := range a.Unfired {
		unfired = append(unfired, r.Name)
	}
	// One flask never decides, since two are drunk; four are never reached; nobody took a coat of his own.
	if !slices.Equal(unfired, []string{"one", "strong", "soaked", "never"}) || a.Cases != 500 {
		t.Errorf("of %d cases none fires %v", a.Cases, unfired)
	}
	if !slices.Equal(a.Pairs, [][2]string{{"light", "quarrel"}}) {
		t.Errorf("the pairs are %v", a.Pairs)
	}
}

// TestFill: a piece between square brackets is left out when a name in it is not known.
func TestFill(t *testing.T) {
	word := func(inner string) (string, bool) {
		v, ok := map[string]string{"a": "1", "b.c": "2"}[inner]
		if !ok {
			v = "—"
		}
		return v, ok
	}
	for _, c := range [][2]string{{"", ""}, {"x {a} y {b.c}", "x 1 y 2"}, {"x[ of {a}][ of {z}]", "x of 1"}, {"{z}!", "—!"}, {"[{a}", "1"}, {"{a", "1"}, {"a]", "a]"}} {
		if got := Fill(c[0], word); got != c[1] {
			t.Errorf("%q became %q, want %q", c[0], got, c[1])
		}
	}
}

// TestUnknown: a name of a list of the program's own that is not in the vocabulary
// stops the program; it is not the fact that stands first.
func TestUnknown(t *testing.T) {
	table := readTable(t, rulesCSV)
	for name, c := range map[string]func(){
		`rules: there is no fact "rian"`:       func() { table.Fact("rian") },
		`rules: there is no quantity "lenght"`: func() { kindOf("lenght") },
	} {
		func() {
			defer func() {
				if text, _ := recover().(string); text != name {
					t.Errorf("says %q, want %q", text, name)
				}
			}()
			c()
		}()
	}
}

// TestDice holds the generator to the first numbers of splitmix64 for the seed
// 1234567, as published with it by its author; from memory, place not seen.
func TestDice(t *testing.T) {
	d := Dice(1234567)
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		if got := d.Next(); got != want {
			t.Errorf("number %d is %d, want %d", i+1, got, want)
		}
	}
}
