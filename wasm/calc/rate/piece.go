package rate

import (
	"math"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// What the form takes where nobody says otherwise: threading 2 min and approach 3 mm
// for each start, 10 min for a tab, 1.5 breaks in ten hours at 10 min, 10 m of wire a
// minute, somebody there a fifth of the time, 300 h for a charge of resin. A test
// holds them against the form.
const (
	usualThreading = 120.0  // s
	usualApproach  = 3.0    // mm
	usualTab       = 600.0  // s
	usualBreaks    = 1.5    // in ten hours
	usualRecover   = 600.0  // s
	usualWireFeed  = 10_000 // mm/min
	usualAttended  = 0.2
	usualResin     = 300.0 // h
)

// Prices are what an hour, a kilogram of wire and a charge of resin cost.
type Prices struct{ Machine, Work, Wire, Resin float64 }

// PricesOf reads the prices of an edition.
func PricesOf(b *book.Book) Prices {
	of := func(key string) float64 {
		r, _ := b.Find("prices", key)
		return r.Num("amount_n0")
	}
	return Prices{of("machine-hour"), of("work-hour"), of("wire-kilogram"), of("resin-charge")}
}

// Piece is what one piece takes beside its passes.
type Piece struct {
	Prices
	Path, Thickness, Diameter unit.Length
	Density                   float64 // of the wire, kg/m³
	Starts, Tabs              unit.Count
}

// Costs returns the time in s and the cost of a piece that is roughed at an area rate and
// whose skims take so long in s, as the form has it with its own defaults.
func (p Piece) Costs(rate unit.AreaRate, skims unit.Time) (unit.Time, float64) {
	feed := Feed(rate, p.Thickness)
	cutting := float64(Along(p.Path, feed) + skims)
	other := float64(p.Starts)*(usualThreading+float64(Along(usualApproach, feed))) + float64(p.Tabs)*usualTab + usualBreaks*cutting/36000*usualRecover
	return unit.Time(cutting + other), p.price(cutting, cutting+other)
}

// Skim returns the cost of one more skim that takes so long in s.
func (p Piece) Skim(skim unit.Time) float64 {
	return p.price(float64(skim), float64(skim)+float64(p.Starts)*usualThreading)
}

// price is machine, work, wire and resin of so many seconds of cutting and in all.
func (p Piece) price(cutting, all float64) float64 {
	metres := usualWireFeed * cutting / 60 / 1000
	kg := p.Density * metres * math.Pi / 4 * float64(p.Diameter*p.Diameter) * 1e-6
	return all/3600*(p.Machine+usualAttended*p.Work) + kg*p.Wire + all/3600/usualResin*p.Resin
}
