package rate

import (
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

func (in *form) say(r *calc.Result, a *calc.Answer) {
	a.General = !in.rateGiven && !in.feedGiven
	a.Headline = r.Text("{total} for the job, {rough-feed} in roughing")
	a.Lead = r.Text("Area rate {rate}. Roughing {rough-time}, skims {skim-time}, everything else {other-time}. It costs {cost}, in ") + in.currency() + "."
	if a.General {
		a.Note("A rate from the law is a range that nine in ten shops lie in, never a promise: generator, nozzles, water and wire move it. Each measured cut of your own narrows it.")
	}
	if in.wire < 0.2 {
		a.Note("Two things are true of finer wire and must be kept apart. At the same small energy the finer wire is faster, for its kerf is narrower: a study of 0.15 to 0.25 mm on a nickel alloy says so. At the most a wire bears, the rate goes with the root of the diameter, and precision practice stays far below that: the low figures for fine wire are those of people who want a face, not a speed.")
	} else {
		a.Note("Above 0.25 to 0.33 mm a thicker wire brings no more speed; below about 0.25 mm the most it bears goes with the root of its diameter. The rate printed here falls faster, about with the square, for finer wire is run for a face and not for speed.")
	}
	if in.regime == "energy" && in.wire < 0.25 && a.General {
		a.Note("“At the same pulse energy” takes the full rate of 0.25 mm wire and its kerf. A thin wire bears that energy only in part: the number is a ratio to hold against another, not a rate to plan with.")
	}
	a.Note(r.Text("Roughing takes {main-share} of the time of cutting. About half is what a research plan names as usual."))
	if in.flushing != "both" {
		a.Note("With nozzles off the work the current at which a wire breaks falls, on tall parts more. A published control that followed it cut the time of a job with cross holes from 107 to 37 minutes.")
	}
	if in.sinks() {
		a.Note(r.Text("The textbooks' law of die-sinking gives {textbook} for this current and melting point, against {volume-rate} here. It knows nothing of wire, water or flushing, and ranks copper, graphite, diamond and carbide wrongly: a comparison, no plan."))
	}
	a.Note(r.Text("Wire: {wire-length}, {wire-mass} of {kind}. Resin: {resin} of a charge. Spent resin and filters hold heavy metals and cost money to get rid of."))
	in.prices(a)
	a.Cites(`kalpakjian-schmid; wire EDM text, place not seen; volume rate and two area rates
		groover; chapter 26, from memory; metal removal law
		schacht-2004; chapter III; the root law and the plateau @ a thicker wire brings no more speed
		ijmperd-2019-in718; abstract; smaller wire faster at small energy @ a study of 0.15 to 0.25 mm on a nickel alloy
		sato-2013; tables 2 to 7, seen; breaks and flushing @ A published control that followed it`)
	if row, ok := in.book.Find("wiretypes", in.kind); ok {
		a.Used(row)
	}
	in.table(r, a)
	in.draw(r, a)
}

// table lists the passes with their times.
func (in *form) table(r *calc.Result, a *calc.Answer) {
	t := calc.Table{Title: "Where the time goes", Columns: []calc.Column{{Head: "What"}, {Head: "Time", Right: true}}}
	for _, row := range [...][2]string{{"roughing", "{rough-time}"}, {"skims", "{skim-time}"}, {"threading, approach, tabs, breaks", "{other-time}"}, {"all", "{total}"}} {
		t.Rows = append(t.Rows, []calc.Cell{{Text: row[0]}, {Text: r.Text(row[1]), Strong: row[0] == "all"}})
	}
	a.Tables = append(a.Tables, t)
}

// draw sets the times on one scale.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	top := figure.Nice(r.Of("total").High / 60)
	d := figure.New("Where the time goes", r.Text("Ranges on one scale in minutes: roughing {rough-time}, skims {skim-time}, everything else {other-time}, the whole job {total:min 0}."), 360, 262, true)
	s := figure.NewScale(d, 0, top, false, 32)
	for i, name := range [...]string{"rough-time", "skim-time", "other-time", "total"} {
		v := r.Of(name)
		s.Row([...]string{"roughing", "skims", "everything else", "the whole job"}[i], v.Low/60, v.Likely/60, v.High/60, [...]uint8{1, 1, 0, 2}[i])
	}
	s.Close("min", []float64{0, top / 2, top}, []string{"0", unit.Fixed(top/2, places(top/2)), unit.Fixed(top, places(top))})
	a.Figure = d
}

func places(v float64) int {
	switch {
	case v < 1:
		return 2
	case v < 10:
		return 1
	}
	return 0
}
