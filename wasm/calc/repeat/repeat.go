package repeat

import (
	"strconv"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

type form struct {
	_                          [0]func() // never compared, so no code for comparing is made
	sizes                      []unit.Length
	lower, upper               unit.Length
	goal                       unit.Ratio
	sure                       string
	count                      unit.Count
	mean, meanLow, meanHigh    unit.Length
	sd, sdLow, sdHigh, off     unit.Length
	drift, driftLow, driftHigh unit.Length
	cp, cpLow, cpHigh          unit.Ratio
	cpk, cpkLow, cpkHigh       unit.Ratio
	outside                    unit.Count
	verdict, trend             string
	done, spread, drifts       bool
	fault                      string
}

// Calculator declares the question of repeating.
func Calculator() *calc.Calculator {
	return &calc.Calculator{
		ID: "repeat", Title: "Will it repeat?", Question: "Will a run of parts keep its limits?",
		Summary: "Mean, spread, Cp and Cpk of a run of parts, with the confidence that so few parts allow, and whether the size drifts.",
		Build: func(f *calc.Form, b *book.Book) calc.Run {
			in := &form{}
			in.fields(f)
			in.answers(f)
			return calc.Run{Point: in.point, Say: in.say}
		},
	}
}

func (in *form) fields(f *calc.Form) {
	size := "\nkeys length\nmin 0 mm: a size is not negative\nmax 5000 mm: no machine takes more"
	calc.AskList(f, &in.sizes, `sizes: Sizes, in the order they were cut
		mark -
		group Parts
		ordered
		is 10.002; 10.001; 10.003; 10.002; 10.001; 10.004; 10.002; 10.003; 10.002; 10.003 mm
		help One feature, one setting, one wire. The ten sizes here are invented.`+size)
	calc.Ask(f, &in.lower, "lower: Lower limit of size\nmark from\ngroup Limits\nis 9.995 mm\nusual 0.05 mm to 500 mm"+size)
	calc.Ask(f, &in.upper, "upper: Upper limit of size\nmark to\nis 10.01 mm\nusual 0.05 mm to 500 mm"+size)
	calc.Ask(f, &in.goal, `goal: Cpk wanted
		is 1.33
		help 1.33 leaves four standard deviations to the nearer limit: a common demand of customers.
		usual 1 to 2
		above 0: nothing wanted is always reached
		max 5: no run of parts proves this`)
	calc.AskChoice(f, &in.sure, "confidence: Confidence\noption 95: 95 %\noption 90: 90 %\noption 99: 99 %")
}

func (in *form) answers(f *calc.Form) {
	spread := func() bool { return in.spread }
	drifts := func() bool { return in.drifts }
	calc.TellChoice(f, &in.verdict, "verdict: The run keeps its limits as wanted\nword yes: yes\nword no: no\nword open: too few parts to say")
	calc.Tell(f, &in.count, "count: Parts")
	calc.Tell(f, &in.outside, "outside: Of them outside the limits")
	calc.Tell(f, &in.mean, "mean: Mean\nmain\nunit mm 5\ninch in 6")
	calc.Tell(f, &in.meanLow, "mean-low: Its lower limit\nunit mm 5\ninch in 6")
	calc.Tell(f, &in.meanHigh, "mean-high: Its upper limit\nunit mm 5\ninch in 6")
	calc.Tell(f, &in.off, "off-middle: Mean off the middle of the limits\nunit µm 2\ninch thou 3")
	calc.Tell(f, &in.sd, "sd: Standard deviation\nmain\nunit µm 3\ninch thou 4")
	calc.Tell(f, &in.sdLow, "sd-low: Its lower limit\nunit µm 3\ninch thou 4")
	calc.Tell(f, &in.sdHigh, "sd-high: Its upper limit\nunit µm 3\ninch thou 4")
	calc.Tell(f, &in.cp, "cp: Cp\ndigits 3").Applies = spread
	calc.Tell(f, &in.cpLow, "cp-low: Its lower limit\ndigits 3").Applies = spread
	calc.Tell(f, &in.cpHigh, "cp-high: Its upper limit\ndigits 3").Applies = spread
	calc.Tell(f, &in.cpk, "cpk: Cpk\nmain\ndigits 3").Applies = spread
	calc.Tell(f, &in.cpkLow, "cpk-low: Its lower limit\ndigits 3").Applies = spread
	calc.Tell(f, &in.cpkHigh, "cpk-high: Its upper limit\ndigits 3").Applies = spread
	calc.TellChoice(f, &in.trend, "trend: The size drifts\nword yes: yes\nword no: not that these parts show\nword unknown: too few parts to say")
	calc.Tell(f, &in.drift, "drift: Drift from part to part\nunit µm 3\ninch thou 4").Applies = drifts
	calc.Tell(f, &in.driftLow, "drift-low: Its lower limit\nunit µm 3\ninch thou 4").Applies = drifts
	calc.Tell(f, &in.driftHigh, "drift-high: Its upper limit\nunit µm 3\ninch thou 4").Applies = drifts
}

// most is the longest run: beyond, the sums of chi-square lose digits.
const most = 500

func (in *form) point(p *calc.Point) {
	if !in.done {
		in.evaluate()
		in.done = true
	}
	if in.fault != "" {
		p.Impossible(in.fault)
		return
	}
	if p.Stepping() {
		in.steps(p)
	}
}

func (in *form) evaluate() {
	n := len(in.sizes)
	switch {
	case in.lower >= in.upper:
		in.fault = "the lower limit is not below the upper one"
	case n < 2:
		in.fault = "at least two parts are wanted to see a spread, and five to say much"
	case n > most:
		in.fault = "at most " + strconv.Itoa(most) + " parts are taken, here are " + strconv.Itoa(n)
	}
	if in.fault != "" {
		return
	}
	var v []float64
	for _, s := range in.sizes {
		v = append(v, float64(s))
		if s < in.lower-1e-9 || s > in.upper+1e-9 {
			in.outside++
		}
	}
	share, _ := strconv.ParseFloat(in.sure, 64)
	share /= 100
	in.count = unit.Count(n)
	mean, sd := Mean(v)
	half := MeanHalf(sd, n, share)
	in.mean, in.meanLow, in.meanHigh = unit.Length(mean), unit.Length(mean-half), unit.Length(mean+half)
	in.off = in.mean - (in.lower+in.upper)/2
	low, high := Spread(sd, n, share)
	in.sd, in.sdLow, in.sdHigh = unit.Length(sd), unit.Length(low), unit.Length(high)
	in.trend = "unknown"
	in.verdict = "open"
	in.spread = sd > 1e-9
	if in.outside > 0 {
		in.verdict = "no"
	}
	if !in.spread {
		return
	}
	in.able(mean, sd, low, high, n, share)
	slope, half, ok := Drift(v, share)
	if ok {
		in.drifts, in.trend = true, "no"
		in.drift, in.driftLow, in.driftHigh = unit.Length(slope), unit.Length(slope-half), unit.Length(slope+half)
		if in.driftLow > 0 || in.driftHigh < 0 {
			in.trend = "yes"
			if in.verdict == "yes" { // the spread of a run that moves says nothing about the next
				in.verdict = "open"
			}
		}
	}
}

// able judges by the limits of Cpk, not by Cpk.
func (in *form) able(mean, sd, sdLow, sdHigh float64, n int, share float64) {
	lo, up := float64(in.lower), float64(in.upper)
	in.cp, in.cpLow, in.cpHigh = unit.Ratio(Cp(lo, up, sd)), unit.Ratio(Cp(lo, up, sdHigh)), unit.Ratio(Cp(lo, up, sdLow))
	cpk := Cpk(mean, lo, up, sd)
	half := CpkHalf(cpk, n, share)
	in.cpk, in.cpkLow, in.cpkHigh = unit.Ratio(cpk), unit.Ratio(cpk-half), unit.Ratio(cpk+half)
	switch {
	case in.cpkHigh < in.goal:
		in.verdict = "no"
	case in.cpkLow >= in.goal && in.verdict == "open":
		in.verdict = "yes"
	}
}

func (in *form) steps(p *calc.Point) {
	p.Work(`mean | mean | sum / n | {1} parts | definition
		mean-high | upper limit of the mean | x + t s / √n | {mean} + t × {sd} / √{1} | abramowitz-stegun
		sd | standard deviation | √(Σ(x - mean)² / (n - 1)) | {1} parts | definition
		sd-high | upper limit of the spread | s √((n - 1) / χ²) | {sd} × √({2} / χ²) | abramowitz-stegun
		cp | Cp | (U - L) / (6 s) | ({upper} - {lower}) / (6 × {sd}) | definition
		cpk | Cpk | distance to the nearer limit / (3 s) | {3} / (3 × {sd}) | definition
		cpk-low | lower limit of Cpk | Cpk - z √(1/(9n) + Cpk²/(2(n - 1))) | {cpk} - z √(1/(9 × {1}) + {cpk}²/(2 × {2})) | bissell-1990
		drift | drift | slope of size against number | {1} parts, line by least squares | nist-strd`,
		strconv.Itoa(len(in.sizes)), strconv.Itoa(len(in.sizes)-1), calc.Put(min(in.upper-in.mean, in.mean-in.lower), "mm", 5))
}

func (in *form) say(r *calc.Result, a *calc.Answer) {
	switch {
	case in.outside > 0:
		a.Verdict, a.Headline = calc.No, r.Text("No: outside the limits already, {outside} of {count} parts")
	case !in.spread:
		a.Headline = "All parts read the same: the gauge is too coarse to show the spread"
	case in.verdict == "yes":
		a.Verdict, a.Headline = calc.Yes, r.Text("Yes: Cpk is {cpk}, and {cpk-low} at least")
	case in.verdict == "no":
		a.Verdict, a.Headline = calc.No, r.Text("No: Cpk is {cpk}, and {cpk-high} at most")
	case in.trend == "yes":
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if the drift is stopped: {drift} from part to part")
	default:
		a.Verdict, a.Headline = calc.OnlyIf, r.Text("Only if more parts bear it out: Cpk is {cpk}, between {cpk-low} and {cpk-high}")
	}
	a.Lead = r.Text("Mean {mean}, standard deviation {sd}, from {count} parts. The limits hold at {confidence}.")
	if !in.spread {
		a.Note("Take a gauge with a tenth of the step. Until then nothing is known about Cp and Cpk.")
	}
	if in.spread && in.cp-in.cpk > 0.1 {
		a.Note(r.Text("Cp is {cp}: the mean lies {off-middle} off the middle. Put it there first. A width changes by twice what the offset changes, so half of this goes into the offset; the test cut tells its sign."))
	}
	switch in.trend {
	case "yes":
		a.Note(r.Text("The size drifts by {drift} from part to part, between {drift-low} and {drift-high}. Then Cp and Cpk mean little: find the cause first. Water temperature, guides, resin and a warming machine are the usual ones."))
	case "no":
		a.Note(r.Text("No drift that these parts would show: {drift} from part to part, between {drift-low} and {drift-high}."))
	}
	if len(in.sizes) < 20 {
		a.Note("Below about twenty parts the limits of Cpk are wide, and a good value may be luck: common practice asks for 25 to 50 parts.")
	}
	a.Note("The spread holds the gauge's own. A gauge whose repeats spread by a third of the parts' own adds a twentieth to it; one that spreads as much makes Cpk its own.")
	a.Note("All this takes sizes that scatter as the bell curve does, in one lot. Sizes that were sorted, corrected in between or cut on two machines do not.")
	a.Note("The limits of Cpk are an approximation; with fewer than ten parts take them as a hint.")
	a.Cites("bissell-1990; from memory; limits of Cpk\nabramowitz-stegun; §26.4 and §26.7, place not seen; chi-square and Student's t\nnist-strd; data seen; the certified lines that the drift's fit is held against")
	in.draw(r, a)
}

// draw shows the sizes in order between their limits.
func (in *form) draw(r *calc.Result, a *calc.Answer) {
	d := figure.New("Sizes in the order they were cut, between their limits", r.Text("{count} sizes between {lower} and {upper}; their mean is {mean}, {outside} lie outside."), 360, 236, false)
	low, high := in.lower, in.upper
	for _, s := range in.sizes {
		low, high = min(low, s), max(high, s)
	}
	const top, bottom = 40.0, 180.0
	y := func(v unit.Length) float64 { return bottom - (bottom-top)*float64((v-low)/(high-low)) }
	d.Line(figure.Outline, 20, y(in.upper), 340, y(in.upper))
	d.Line(figure.Outline, 20, y(in.lower), 340, y(in.lower))
	d.Line(figure.Centre, 20, y(in.mean), 340, y(in.mean))
	step := 300 / float64(max(1, len(in.sizes)-1))
	for i, s := range in.sizes {
		d.Circle(figure.Accent, 30+step*float64(i), y(s), min(3.5, max(1, step/3)), true)
	}
	d.Label(20, 22, r.Text("upper {upper}"), -1)
	d.Label(20, 206, r.Text("lower {lower}"), -1)
	d.Label(20, 228, r.Text("mean {mean}"), -1)
	a.Figure = d
}
