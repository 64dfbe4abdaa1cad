package rate

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

type form struct {
	_                                             [0]func() // never compared, so no code for comparing is made
	book                                          *book.Book
	machine, material, dielectric, flushing       string
	regime, kind                                  string
	thickness, wire, path, approach, gap          unit.Length
	gapGiven, rateGiven, feedGiven                bool
	rate                                          unit.AreaRate
	typedFeed, skimFeed, wireFeed                 unit.Speed
	passes, starts, tabs                          unit.Count
	threading, tabTime, recover                   unit.Time
	breaks                                        unit.Ratio
	machineRate, labourRate, wirePrice, resinCost unit.Money
	attended                                      unit.Percent
	resinLife                                     unit.Time
	density                                       unit.Density
	current                                       unit.Current
	currentGiven                                  bool
	melting                                       unit.Temperature

	area                       unit.AreaRate
	feed                       unit.Speed
	kerf                       unit.Length
	volume, textbook, second   unit.VolumeRate
	rough, skims, other, total unit.Time
	main, resin                unit.Percent
	expected                   unit.Ratio
	used                       unit.Length
	mass                       unit.Mass
	cost                       unit.Money
}

// Calculator declares the rate calculator.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "rate", Title: "Rate, time and cost", Question: "How long will it take, and what does it cost?",
		Summary: "Area rate and feed by material, thickness, wire and flushing, always as a bracket; time of every pass, wire, resin and cost.",
		Tables:  []string{"law", "wiretypes name density_likely_kgm3", "flushings name", "materials name melting_likely_degc", "machines", "wires", "prices amount_n0 currency"},
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{book: b}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	calc.AskMachine(f, in.book, &in.machine)
	calc.AskRows(f, in.book, "materials", &in.material, "material: Material\nmark -\ngroup Cut")
	calc.AskThickness(f, &in.thickness).Default = "50 mm"
	calc.AskWire(f, in.book, &in.wire)
	calc.AskRows(f, in.book, "wiretypes", &in.kind, "kind: What it is made of\nhelp For the mass of the wire used. The rate is the law's, whatever the wire is made of.")
	calc.AskDielectric(f, &in.dielectric)
	calc.AskRows(f, in.book, "flushings", &in.flushing, "flushing: Flushing")
	calc.AskChoice(f, &in.regime, `regime: What limits a finer wire
		option practice: precision practice
		option thermal: its own heat
		option energy: nothing, at the same pulse energy`)
	calc.AskGiven(f, &in.typedFeed, &in.feedGiven, `feed: Feed of roughing
		help Leave feed and area rate empty for the law and your own cuts.
		keys mm/min in/min; in/min
		usual 0.1 mm/min to 20 mm/min
		above 0 mm/min: then it never ends
		max 500 mm/min: no wire cuts this fast
		ranges`)
	calc.AskGiven(f, &in.rate, &in.rateGiven, `area-rate: Area rate of roughing
		keys mm²/min in²/h mm²/h; in²/h
		usual 0.1 mm²/min to 400 mm²/min
		above 0 mm²/min: then it never ends
		max 2000 mm²/min: no wire cuts this fast
		ranges`).Fallback = in.bracket
	calc.AskGap(f, &in.gap, &in.gapGiven, "gap: Spark gap of roughing, each side\nadvanced", func() calc.Fallback {
		return calc.GapOf(in.book, in.cut(), "rough")
	})
	in.job(f)
	in.money(f)
}

// job declares what else takes time.
func (in *form) job(f *calc.Form) {
	calc.Ask(f, &in.path, `path: Length of the contour
		group Job
		is 100 mm
		keys mm in; in
		usual 5 mm to 3000 mm
		above 0 mm: a contour has a length
		max 1000000 mm: this is a kilometre
		ranges`)
	calc.Ask(f, &in.passes, `passes: Passes, roughing included
		mark passes
		is 4
		usual 1 to 6
		min 1: there is at least the roughing pass
		max 9: nobody makes more
		option 1: 1
		option 2: 2
		option 3: 3
		option 4: 4
		option 5: 5`)
	calc.AskGiven(f, &in.skimFeed, new(bool), `skim-feed: Feed of a skim, over all of them
		help Leave it empty to take the law's: the feed that takes as long as all skims together.
		keys mm/min in/min; in/min
		usual 0.5 mm/min to 20 mm/min
		above 0 mm/min: then it never ends
		max 500 mm/min: no skim runs this fast
		ranges`).Fallback = func() calc.Fallback { return in.plan(int(in.passes)).ToldSkims() }
	calc.Ask(f, &in.starts, `starts: Openings to start
		is 1
		usual 1 to 100
		min 0: none is 0
		max 10000: this is a sieve`)
	calc.Ask(f, &in.threading, `threading: Threading, each start
		advanced
		is 1 to 3 min
		keys min s
		usual 0.3 min to 10 min
		min 0 min: time does not run back
		max 600 min: then something is wrong
		ranges`)
	calc.Ask(f, &in.approach, `approach: Approach and overlap, each start
		advanced
		is 3 mm
		keys mm in; in
		usual 0 mm to 10 mm
		min 0 mm: a length is not negative
		max 1000 mm: this is a contour
		ranges`)
	calc.Ask(f, &in.tabs, `tabs: Tabs to cut
		advanced
		is 0
		usual 0 to 20
		min 0: none is 0
		max 10000: this is a sieve`)
	calc.Ask(f, &in.tabTime, `tab-time: Time for each tab, with holding the slug
		advanced
		is 10 min
		keys min
		usual 2 min to 30 min
		min 0 min: time does not run back
		max 600 min: then something is wrong
		ranges`)
	calc.Ask(f, &in.breaks, `breaks: Wire breaks in ten hours of cutting
		advanced
		is 0 to 3
		help Your own count. The default is a guess.
		usual 0 to 10
		min 0: a count is not negative
		max 1000: then it does not cut
		ranges`)
	calc.Ask(f, &in.recover, `recover: Time lost by each break
		advanced
		is 10 min
		keys min
		usual 2 min to 60 min
		min 0 min: time does not run back
		max 6000 min: somebody must look at it
		ranges`)
}

// priced is a price of the edition's table, as text.
func (in *form) priced(key string) string {
	r, _ := in.book.Find("prices", key)
	return r.Cell("amount_n0")
}

// currency is what the prices are in, as words.
func (in *form) currency() string {
	if r, ok := in.book.Find("prices", "machine-hour"); ok && r.Cell("currency") != "" {
		return r.Cell("currency")
	}
	return "your currency"
}

// prices notes the rows of the table that the cost rests on.
func (in *form) prices(a *calc.Answer) {
	for _, p := range [...]struct {
		key string
		is  unit.Money
	}{{"machine-hour", in.machineRate}, {"work-hour", in.labourRate}, {"wire-kilogram", in.wirePrice}, {"resin-charge", in.resinCost}} {
		if r, ok := in.book.Find("prices", p.key); ok && unit.Money(r.Num("amount_n0")) == p.is {
			a.Used(r)
		}
	}
}

// money declares wire, resin, rates and the textbook's current.
func (in *form) money(f *calc.Form) {
	price := `
		usual 0 to 200
		min 0: a price is not negative
		max 100000: in your own currency`
	calc.Ask(f, &in.wireFeed, `wire-feed: Wire speed
		group Cost
		is 10 m/min
		keys m/min in/min; in/min
		usual 0.1 m/min to 20 m/min
		min 0 m/min: wire does not run back
		max 100 m/min: no machine runs wire this fast
		ranges`)
	calc.Ask(f, &in.machineRate, "machine-rate: Machine, each hour, "+in.currency()+"\nis "+in.priced("machine-hour")+price)
	calc.Ask(f, &in.labourRate, "labour-rate: Work, each hour\nis "+in.priced("work-hour")+price)
	calc.Ask(f, &in.attended, "attended: Share of the time somebody is there\nis 20 %\nkeys %\nusual 0 % to 100 %\nmin 0 %: nobody is 0\nmax 100 %: all of it is 100\nranges")
	calc.Ask(f, &in.wirePrice, "wire-price: Wire, each kg\nis "+in.priced("wire-kilogram")+price)
	calc.Ask(f, &in.resinLife, "resin-life: One charge of resin lasts\nadvanced\nis 300 h\nhelp From your own log.\nkeys h\nusual 50 h to 1500 h\nabove 0 h: then there is none\nmax 100000 h: no resin lasts this\nranges")
	calc.Ask(f, &in.resinCost, "resin-price: One charge of resin, with its disposal\nadvanced\nis "+in.priced("resin-charge")+"\nusual 0 to 2000\nmin 0: a price is not negative\nmax 1000000: in your own currency")
	calc.AskGiven(f, &in.current, &in.currentGiven, "current: Mean current, for the textbook's law\nadvanced\nkeys A\nusual 1 A to 100 A\nabove 0 A: without current nothing is cut\nmax 10000 A: this is a welder\nranges")
	calc.AskGiven(f, &in.melting, new(bool), "melting: Melting point, for the textbook's law\nadvanced\nkeys °C °F; °F\nusual 200 °C to 3500 °C\nmin 50 °C: this is no metal\nmax 4000 °C: nothing melts above").Fallback = func() calc.Fallback {
		r, ok := in.book.Find("materials", in.material)
		v := r.Num("melting_likely_degc")
		if !ok || v == 0 {
			return calc.Fallback{Note: "the table has none: the textbook's law says nothing here"}
		}
		return calc.Fallback{Range: unit.Exactly(v), Rows: []book.Row{r}, Note: "from the table: " + calc.Put(unit.Temperature(v), "°C", 0)}
	}
}

// cut is what the law is asked about.
func (in *form) cut() book.Cut {
	return book.Cut{Machine: in.machine, Material: in.material, Dielectric: in.dielectric, Flushing: in.flushing, Thickness: in.thickness, Wire: in.wire}
}

func (in *form) plan(passes int) *calc.Plan { return calc.LawOf(in.book).Plan(in.cut(), passes) }

// bracket is the area rate by the law and the shop's own cuts, or that of a 0.25 mm
// wire, brought to this wire by what is taken to limit it. Without a rate there is
// no answer, unless a feed was typed.
func (in *form) bracket() calc.Fallback {
	if in.feedGiven {
		return calc.Fallback{}
	}
	if in.regime == "practice" {
		return calc.RateOf(in.book, in.cut())
	}
	q := in.cut()
	q.Wire = base
	fb := calc.RateOf(in.book, q)
	k, note := thermal(in.wire), "the rate of 0.25 mm wire, times the root of the diameters' ratio"
	if in.regime == "energy" {
		thick, thin := calc.GapRange(in.book, q, "rough"), calc.GapRange(in.book, in.cut(), "rough")
		k, note = (base+2*thick.Likely)/(float64(in.wire)+2*thin.Likely), "the rate of 0.25 mm wire, times the ratio of the kerfs"
	}
	fb.Range, fb.Note, fb.Measured, fb.Taught = calc.Times(fb.Range, unit.Exactly(k)), note+" "+fb.Note, false, false
	return fb
}

// base is the wire in mm from which the two laws of the regimes start.
const base = 0.25

func (in *form) answers(f *calc.Form) {
	calc.Tell(f, &in.area, "rate: Area rate of roughing\nmain\nrises area-rate feed")
	calc.Tell(f, &in.feed, "rough-feed: Feed of roughing\nmain\nrises area-rate feed")
	calc.Tell(f, &in.volume, "volume-rate: Volume cut in a minute\nrises gap area-rate feed")
	calc.Tell(f, &in.kerf, "kerf: Kerf\nrises gap")
	calc.Tell(f, &in.rough, "rough-time: Roughing\nunit min 1\nrises path\nfalls area-rate feed")
	calc.Tell(f, &in.skims, "skim-time: All skims\nunit min 1\nrises path\nfalls skim-feed")
	calc.Tell(f, &in.other, "other-time: Threading, approach, tabs, breaks\nunit min 1\nrises threading approach tab-time breaks recover path\nfalls area-rate feed skim-feed")
	calc.Tell(f, &in.total, "total: The whole job\nmain\nunit h 2\nrises path threading approach tab-time breaks recover\nfalls skim-feed area-rate feed")
	calc.Tell(f, &in.main, "main-share: Share of roughing in the time of cutting\nunit % 0\nrises skim-feed\nfalls area-rate feed")
	calc.Tell(f, &in.expected, "break-count: Wire breaks to expect\ndigits 2\nrises breaks path\nfalls area-rate feed skim-feed")
	calc.Tell(f, &in.used, "wire-length: Wire used\nunit m 0\nrises wire-feed path\nfalls area-rate feed skim-feed")
	calc.Tell(f, &in.mass, "wire-mass: That weighs\nunit kg 3\ninch lb 3\nrises wire-feed path\nfalls area-rate feed skim-feed")
	calc.Tell(f, &in.resin, "resin: Share of a charge of resin\nunit % 2\nrises path threading approach tab-time breaks recover\nfalls resin-life area-rate feed skim-feed")
	calc.Tell(f, &in.cost, "cost: Cost, "+in.currency()+"\nmain\nrises wire-feed path attended threading approach tab-time breaks recover\nfalls resin-life area-rate feed skim-feed")
	calc.Tell(f, &in.textbook, "textbook: Textbook's law of die-sinking\nrises current").Applies = in.sinks
	calc.Tell(f, &in.second, "textbook-2: Another textbook's\nrises current").Applies = in.sinks
}

// sinks tells whether the textbook's law is asked, and of a material that melts.
func (in *form) sinks() bool { return in.currentGiven && in.melting > 0 }

func (in *form) point(p *calc.Point) {
	in.area = in.rate
	if in.feedGiven && !in.rateGiven {
		in.area = Area(in.typedFeed, in.thickness)
	}
	if in.area <= 0 {
		p.Impossible("no rate is known for this material and wire: type an area rate or a feed")
		in.area = 1
	}
	in.feed = Feed(in.area, in.thickness)
	in.kerf = in.wire + 2*in.gap
	in.volume = Volume(in.area, in.kerf)
	in.rough = Along(in.path, in.feed)
	in.skims = Along(in.path*unit.Length(in.passes-1), in.skimFeed)
	cutting := in.rough + in.skims
	in.expected = in.breaks * unit.Ratio(cutting/36000)
	in.other = unit.Time(in.starts)*(in.threading+Along(in.approach, in.feed)) + unit.Time(in.tabs)*in.tabTime + unit.Time(in.expected)*in.recover
	in.total = cutting + in.other
	in.main = unit.Percent(in.rough / cutting * 100)
	in.used = unit.Length(float64(in.wireFeed) * float64(cutting) / 60)
	if in.density == 0 {
		row, _ := in.book.Find("wiretypes", in.kind)
		in.density = unit.Density(row.Num("density_likely_kgm3") / 1000)
	}
	in.mass = unit.Mass(float64(in.density) * float64(in.used) * 3.141592653589793 * float64(in.wire*in.wire) / 4 / 1000)
	in.resin = unit.Percent(in.total / in.resinLife * 100)
	in.cost = unit.Money(float64(in.total)/3600)*(in.machineRate+in.labourRate*unit.Money(in.attended)/100) + in.wirePrice*unit.Money(in.mass)/1000 + in.resinCost*unit.Money(in.resin)/100
	in.textbook, in.second = Textbook(in.current, in.melting), Second(in.current, in.melting)
	if p.Stepping() {
		in.work(p)
	}
}

// work writes the working down.
func (in *form) work(p *calc.Point) {
	p.Work(`rough-feed | feed of roughing | A' / T | {rate} / {thickness} | definition
		volume-rate | volume cut in a minute | A' (d + 2 g) | {rate} × {kerf} | kalpakjian-schmid
		rough-time | roughing | L / feed | {path} / {rough-feed} | definition
		skim-time | all skims | (n - 1) L / feed | {1} × {path} / {skim-feed} | definition
		other-time | threading, approach, tabs, breaks | sum | {starts} × ({threading:min 2} + {approach} / {rough-feed}) + {tabs} × {tab-time:min 2} + {break-count} × {recover:min 2} | definition
		wire-length | wire used | wire speed × time of cutting | {wire-feed:m/min 2} × ({rough-time} + {skim-time}) | definition
		cost | cost | hours × (machine + share × work) + wire + resin | {total} × ({machine-rate} + {attended} × {labour-rate}) + {wire-mass} × {wire-price} + {resin} × {resin-price} | definition
		textbook | textbook's law | 4e4 I T^-1.23 | 40000 × {current} × {melting}^-1.23 | kalpakjian-schmid
		textbook-2 | another textbook's | 664 I T^-1.23, mm³/s | 664 × {current} × {melting}^-1.23 | groover`, strconv.Itoa(int(in.passes)-1))
}
