package process

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"kerfbook/testdata/sweep"
	"kerfbook/wasm/unit"
)

// TestAbove: five, fifty and ninety-five in a hundred lie where the range says; one
// standard deviation up lie 15.8655 in a hundred (normal table; from memory, place not
// seen). What is known lies on one side.
func TestAbove(t *testing.T) {
	r := unit.Range{Low: math.Exp(-1.6448536269514722), Likely: 1, High: math.Exp(1.6448536269514722)}
	for _, c := range []struct{ limit, want float64 }{{r.Low, 0.95}, {1, 0.5}, {r.High, 0.05}, {math.E, 0.15865525393145707}, {0, 1}} {
		if got := Above(r, c.limit); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("above %g lie %g, want %g", c.limit, got, c.want)
		}
	}
	if Above(unit.Exactly(2), 1.9) != 1 || Above(unit.Exactly(2), 2) != 0 {
		t.Error("a known value lies on both sides")
	}
	skew := unit.Range{Low: 0.9, Likely: 1, High: 4}
	if a, b := Above(skew, 2), Above(skew, 0.95); math.Abs(a-0.2055) > 5e-4 || math.Abs(b-0.7884) > 5e-4 {
		t.Errorf("skewed: %g and %g", a, b) // each side a bell of its own: z = 1.6449 ln 2 / ln 4 and -1.6449 ln 0.95 / ln 0.9, normal table
	}
}

// TestJudge: the verdict by the worst limit and by the sum.
func TestJudge(t *testing.T) {
	may := func(shares ...float64) (list []Bound) {
		for _, s := range shares {
			list = append(list, above(Finish, 1, unit.Exactly(1), s))
		}
		return list
	}
	for _, c := range []struct {
		name string
		list []Bound
		want Verdict
	}{
		{"nothing", nil, Yes}, {"all hold", may(0.05, 0.04), Yes}, {"the sum is above a tenth", may(0.04, 0.04, 0.04), OnlyIf},
		{"one may fail", may(0.06), OnlyIf}, {"one word is needed", []Bound{{State: Asks}}, OnlyIf},
		{"one fails", may(0.51), No}, {"the sum is above a half", may(0.3, 0.3), No}, {"a half", may(0.5), OnlyIf},
	} {
		if got, _ := Judge(c.list); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// thrown is a list of processes by chance, and a print that some of them may meet.
func thrown(r *rand.Rand) ([]*Process, Print) {
	around := func(v, spread float64) unit.Range { return unit.Range{Low: v / spread, Likely: v, High: v * spread} }
	var list []*Process
	for range 1 + r.IntN(40) {
		d := []unit.Length{0.05, 0.1, 0.2, 0.25}[r.IntN(4)]
		n := 1 + r.IntN(6)
		g := around(0.04*math.Pow(0.6, float64(n))*math.Exp(r.NormFloat64()/5), 1.3)
		p := &Process{Wire: d, Fluid: Fluid(r.IntN(2)), Passes: n, Even: r.IntN(2) == 0, Useful: r.IntN(8) > 0, Asked: r.IntN(8) > 0, Stock: d / 4,
			Left:  unit.Range{Low: float64(d)/2 + g.Low, Likely: float64(d)/2 + g.Likely, High: float64(d)/2 + g.High},
			Rough: unit.Range{Low: float64(d) + 0.02, Likely: float64(d) + 0.04, High: float64(d) + 0.07},
			Ra:    around(3*math.Pow(0.55, float64(n))*math.Exp(r.NormFloat64()/4), 1.5), Shape: unit.Length(r.Float64() / 100),
			Hours: around(math.Exp(r.NormFloat64()), 1.4), Cost: 50 * math.Exp(r.NormFloat64()), Skim: 10}
		if r.IntN(6) == 0 {
			p.Others = []Bound{{Limit: Height, State: Asks, Asks: 10, Gets: unit.Exactly(12)}}
		}
		list = append(list, p)
	}
	of := Print{Radius: unit.Length(0.03 * math.Exp(2*r.Float64())), Ra: unit.Roughness(0.1 * math.Exp(3*r.Float64())), Width: unit.Length(0.002 * math.Exp(3*r.Float64()))}
	if r.IntN(2) == 0 {
		of.Slot = unit.Length(0.1 * math.Exp(2*r.Float64()))
	}
	return list, of
}

// TestWeigh: over lists by chance the chosen process is as sure as any, and for its aim no
// other that is as sure goes before it, as the aims are written down.
func TestWeigh(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 17))
	for range sweep.Part(20_000) {
		list, of := thrown(r)
		for _, aim := range []Aim{Cheapest, Soonest, Finest, Surest} {
			best, all := Weigh(list, of, aim)
			some := slices.ContainsFunc(list, func(p *Process) bool { return p.Useful && p.Asked })
			if !some {
				if best >= 0 {
					t.Fatal("a process was chosen that may not be")
				}
				continue
			}
			b := all[best]
			finest := math.Inf(1)
			for _, w := range all {
				if w.Useful && w.Asked && w.Verdict == b.Verdict {
					finest = min(finest, w.Ra.Likely)
				}
			}
			for i, w := range all {
				if !w.Useful || !w.Asked || i == best {
					continue
				}
				if w.Verdict < b.Verdict {
					t.Fatalf("aim %d: a surer verdict was left out", aim)
				}
				if w.Verdict > b.Verdict {
					continue
				}
				share := func(w Weighed) float64 { return math.Round(w.Share / 0.02) }
				switch aim {
				case Cheapest:
					if w.Verdict == Yes && w.Good < b.Good*(1-1e-9) {
						t.Fatalf("a good piece for %g was left for one of %g", w.Good, b.Good)
					}
				case Soonest:
					if w.Verdict == Yes && w.Hours.High < b.Hours.High*(1-1e-9) {
						t.Fatalf("%g h were left for %g", w.Hours.High, b.Hours.High)
					}
				case Finest:
					if b.Ra.Likely > 1.08*finest {
						t.Fatalf("Ra %g was chosen, %g is to be had", b.Ra.Likely, finest)
					}
				case Surest:
					if w.Verdict < No && w.Words == b.Words && share(w) < share(b) {
						t.Fatalf("%g may fail, %g was to be had", b.Share, w.Share)
					}
				}
				if w.Verdict == OnlyIf && aim != Finest && (w.Words < b.Words || w.Words == b.Words && share(w) < share(b)) {
					t.Fatalf("aim %d: what is not sure is chosen by words and sureness: %d and %g, not %d and %g", aim, w.Words, w.Share, b.Words, b.Share)
				}
				if w.Verdict == No && aim != Finest && w.Miss < b.Miss-0.051 {
					t.Fatalf("aim %d: what fails by %g was left for %g", aim, w.Miss, b.Miss)
				}
			}
		}
	}
}

// eachThrown runs a check over lists by chance of which one process may be chosen.
func eachThrown(n int, seed uint64, check func(r *rand.Rand, list []*Process, of Print, best int, all []Weighed)) {
	r := rand.New(rand.NewPCG(seed, 17))
	for range sweep.Part(n) {
		list, of := thrown(r)
		if best, all := Weigh(list, of, Cheapest); best >= 0 {
			check(r, list, of, best, all)
		}
	}
}

// TestOrder: the order of the list does not decide which process is chosen.
func TestOrder(t *testing.T) {
	eachThrown(5_000, 2, func(r *rand.Rand, list []*Process, of Print, best int, _ []Weighed) {
		is := list[best]
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if again, _ := Weigh(list, of, Cheapest); list[again] != is {
			t.Fatal("another order chooses another process")
		}
	})
}

// TestEasier: an easier demand never makes a sure piece dearer, nor the verdict worse, and
// a harder one never the other way.
func TestEasier(t *testing.T) {
	eachThrown(5_000, 3, func(_ *rand.Rand, list []*Process, of Print, _ int, _ []Weighed) {
		for d := range Demand(Demands) {
			if of.Value(d) <= 0 {
				continue
			}
			chain := []Print{of.Notch(d, true), of, of.Notch(d, false)}
			for i := 1; i < len(chain); i++ {
				h, was := Weigh(list, chain[i-1], Cheapest)
				e, now := Weigh(list, chain[i], Cheapest)
				if now[e].Verdict > was[h].Verdict {
					t.Fatalf("demand %d: an easier print is worse", d)
				}
				if was[h].Verdict == Yes && now[e].Good > was[h].Good*(1+1e-9) {
					t.Fatalf("demand %d: easier costs %g, harder %g", d, now[e].Good, was[h].Good)
				}
			}
		}
	})
}

// TestFront: on the front nothing is both faster and finer; off it something is, or it
// takes ten times the hours.
func TestFront(t *testing.T) {
	eachThrown(5_000, 4, func(_ *rand.Rand, _ []*Process, _ Print, best int, all []Weighed) {
		front := Front(all, best)
		for i, w := range all {
			stands := func(o Weighed) bool {
				b := all[best]
				return o.Useful && o.Asked && o.Verdict == b.Verdict && (b.Verdict == Yes || o.Words <= b.Words && o.Share <= b.Share+0.02)
			}
			if !stands(w) {
				if slices.Contains(front, i) {
					t.Fatal("what may not be chosen stands on the front")
				}
				continue
			}
			beaten := w.Hours.Likely > 10*all[best].Hours.Likely
			for _, o := range all {
				beaten = beaten || stands(o) && o.Hours.Likely < w.Hours.Likely && o.Ra.Likely < w.Ra.Likely
			}
			if beaten == slices.Contains(front, i) {
				t.Fatalf("beaten %v, on the front %v", beaten, !beaten)
			}
		}
		if !slices.IsSortedFunc(front, func(i, j int) int {
			if all[i].Hours.Likely < all[j].Hours.Likely {
				return -1
			}
			return 1
		}) {
			t.Fatal("the front does not rise by hours")
		}
	})
}

// TestLosers: each wire in each fluid once, never the chosen process, the nearest first.
func TestLosers(t *testing.T) {
	eachThrown(5_000, 5, func(_ *rand.Rand, _ []*Process, _ Print, best int, all []Weighed) {
		seen := map[[2]float64]bool{}
		last := -1
		for _, i := range Losers(all, best, 5) {
			k := [2]float64{float64(all[i].Wire), float64(all[i].Fluid)}
			if i == best || seen[k] || !all[i].Useful || !all[i].Asked {
				t.Fatal("a loser twice, or the winner among them")
			}
			seen[k] = true
			for o := range all {
				if o != best && all[o].Useful && all[o].Asked && all[o].Wire == all[i].Wire && all[o].Fluid == all[i].Fluid && Nearer(&all[o], &all[i]) {
					t.Fatal("a wire does not stand at its best")
				}
			}
			if last >= 0 && Nearer(&all[i], &all[last]) {
				t.Fatal("a nearer one stands below")
			}
			last = i
		}
	})
}

// TestNotch: radii go along series R 20 of ISO 3 (from memory), both ways.
func TestNotch(t *testing.T) {
	want := []float64{0.1, 0.112, 0.125, 0.14, 0.16, 0.18, 0.2, 0.224, 0.25, 0.28, 0.315, 0.355, 0.4, 0.45, 0.5, 0.56, 0.63, 0.71, 0.8, 0.9, 1, 1.12}
	up := Print{Radius: 0.1}
	for _, v := range want[1:] {
		if up = up.Notch(AskRadius, false); math.Abs(up.Value(AskRadius)-v) > 1e-12 {
			t.Fatalf("after %g", up.Value(AskRadius))
		}
	}
	for i := len(want) - 2; i >= 0; i-- {
		if up = up.Notch(AskRadius, true); math.Abs(up.Value(AskRadius)-want[i]) > 1e-12 {
			t.Fatalf("back at %g, want %g", up.Value(AskRadius), want[i])
		}
	}
	if got := (Print{Radius: 0.15}).Notch(AskRadius, true).Radius; got != 0.14 {
		t.Errorf("from 0.15 down to %g", got)
	}
	if of := (Print{Ra: 0.8, Width: 0.04}); of.Notch(AskRa, true).Ra != 0.64 || of.Notch(AskRa, false).Ra != 1 || of.Notch(AskWidth, false).Width != 0.064 || of.Notch(AskWidth, true).Width != 0.025 {
		t.Error("a notch of Ra is a quarter, of a tolerance a grade of 1.6")
	}
}

// TestLeastChange: the change found lets the print through, and no other demand does with
// fewer notches.
func TestLeastChange(t *testing.T) {
	helped := 0
	eachThrown(2_000, 6, func(_ *rand.Rand, list []*Process, of Print, best int, all []Weighed) {
		ways := func(Print) []*Process { return list }
		if all[best].Verdict == Yes {
			return
		}
		p, ok := LeastChange(of, all[best].Verdict, ways)
		least := map[Verdict]int{}
		for d := range Demand(Demands) {
			asks := of
			for n := 1; n < notches && of.Value(d) > 0; n++ {
				asks = asks.Notch(d, false)
				b, now := Weigh(list, asks, Cheapest)
				if v := now[b].Verdict; least[v] == 0 || n < least[v] {
					least[v] = n
				}
			}
		}
		want, n := Yes, least[Yes]
		if n == 0 && all[best].Verdict == No {
			want, n = OnlyIf, least[OnlyIf]
		}
		if ok != (n > 0) {
			t.Fatalf("found %v, %d notches help", ok, n)
		}
		if !ok {
			return
		}
		helped++
		asks, took := of, 0
		for asks.Value(p.Demand) != p.Asks && took < notches {
			asks, took = asks.Notch(p.Demand, false), took+1
		}
		if p.Best.Verdict > want || took != n {
			t.Fatalf("verdict %d after %d notches, %d do", p.Best.Verdict, took, n)
		}
	})
	if helped == 0 {
		t.Error("no change was ever found")
	}
}

// TestTies: what is equal goes to fewer passes, then to the thicker wire, and stands once
// on the front.
func TestTies(t *testing.T) {
	same := func(d unit.Length, n int) *Process {
		return &Process{Wire: d, Passes: n, Useful: true, Asked: true, Ra: unit.Exactly(1), Hours: unit.Exactly(2), Cost: 30}
	}
	list := []*Process{same(0.1, 4), same(0.2, 3), same(0.25, 3), same(0.25, 4)}
	best, all := Weigh(list, Print{Ra: 2}, Cheapest)
	if best != 2 {
		t.Errorf("wire %g in %d passes", list[best].Wire, list[best].Passes)
	}
	if f := Front(all, best); len(f) != 1 {
		t.Errorf("%d stand on the front for one point", len(f))
	}
}

// TestPrices: each demand is asked easier first, then harder, and costs what the weighing
// says.
func TestPrices(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 17))
	list, of := thrown(r)
	out := Prices(of, func(Print) []*Process { return list })
	for i := 0; i+1 < len(out); i += 2 {
		easy, hard := out[i], out[i+1]
		if easy.Demand != hard.Demand || easy.Asks <= of.Value(easy.Demand) || hard.Asks >= of.Value(hard.Demand) {
			t.Errorf("demand %d: %g, then %g for %g", easy.Demand, easy.Asks, hard.Asks, of.Value(easy.Demand))
		}
		best, all := Weigh(list, of.With(easy.Demand, easy.Asks), Cheapest)
		if all[best].Process != easy.Best.Process {
			t.Error("another process than the weighing's")
		}
	}
	if len(out) < 4 {
		t.Errorf("%d prices", len(out))
	}
}
