package job

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/rules"
	"kerfbook/wasm/unit"
)

// aims are the other processes for the same print, with what each gives up. As decided
// is the cheapest good piece.
var aims = [...][3]string{
	{"as-decided", "As decided", ""},
	{"soonest", "Soonest", "money: the shortest time that nine in ten keep"},
	{"finest", "Finest", "time and money, for a finish beyond the print"},
	{"surest", "Surest", "time and money, for less that may fail"},
	{"safest", "Safest for the carbide", "speed; in oil also a tank that may burn"},
}

// alternatives weighs with other aims and sets what it comes to side by side.
func (in *form) alternatives(e *cache, r *calc.Result, a *calc.Answer, first *subs) {
	for _, aim := range aims {
		if aim[0] == "safest" && in.material != "carbide" {
			continue
		}
		s := first
		if aim[0] != "as-decided" {
			j := in.job(e)
			j.Own, j.OwnNum = map[string]string{}, map[string]float64{} // another aim, not the reader's own decisions
			copyInputs(j.Facts, first.job.Facts)
			j.Facts.SetWord(factAim, aim[0])
			j.asks, j.near = first.job.asks, first.job.near // the same cuts
			j.Run(j)
			s = in.subs(j, r.System)
			s.asked = first.asked
		}
		alt := calc.Alternative{Name: aim[0], Label: aim[1], Cells: s.cells(), GivesUp: aim[2]}
		if len(a.Sheet.Alternatives) > 0 && slices.Equal(alt.Cells, a.Sheet.Alternatives[0].Cells) {
			alt.GivesUp = "nothing: it comes to the same"
		}
		a.Sheet.Alternatives = append(a.Sheet.Alternatives, alt)
	}
	heads := "Aim"
	for _, c := range a.Sheet.Alternatives[0].Cells {
		heads += "|" + c.Label
	}
	t := newTable("Alternatives", "Likely values. As decided is the cheapest good piece; the others weigh the same processes with another aim. The cobalt loss is an upper bound, nothing taken off by the skims.", heads+"|Gives up")
	for _, alt := range a.Sheet.Alternatives {
		texts := []string{alt.Label}
		for _, c := range alt.Cells {
			texts = append(texts, c.Text)
		}
		add(t, append(texts, alt.GivesUp), 0)
	}
	a.Tables = append(a.Tables, *t)
}

// copyInputs takes over the facts that are the reader's, before anything is
// worked out.
func copyInputs(to, from *rules.Facts) {
	for _, i := range [...]rules.Fact{factAsks, factRadius, factAngle, factHeight, factSlot, factTooth, factMaterial, factCondition, factCobalt, factSize, factTolerance, factFinish, factMeasured, factDatum, factTaper, factKind, factLength, factOpenings, factQuantity, factOil, factStartHole, factUnattended, factNozzles, factSlugWidth, factDrawing} {
		to.Copy(from, i)
	}
}

// compared is what alternatives are compared by: name, heading, text.
const compared = `can|Can it be cut|{can}
wire|Wire|{wire}
dielectric|Dielectric|{dielectric}
passes|Passes|{passes}
ra|Ra|{ra}
time|Time|{rate.total.likely}
cost|Cost|{rate.cost.likely}
layer|Recast layer|[{recast.layer.likely}]
cobalt|Cobalt loss|[{leach.depth.likely}]`

// cells are what an alternative comes to, in the order of compared.
func (s *subs) cells() []calc.Entry {
	var list []calc.Entry
	for _, line := range strings.Split(compared, "\n") {
		w := strings.Split(line, "|")
		if w[0] == "cobalt" && !s.job.Facts.Is(factMaterial, "carbide") {
			continue
		}
		if w[0] == "cobalt" && s.job.Facts.Is(factCobaltLoss, "none") {
			w[2] = "none by current"
		}
		list = append(list, calc.Entry{Name: w[0], Label: w[1], Text: s.fill(w[2])})
	}
	return list
}

// compare sets the cut's own results beside what was predicted, and says the
// correction in words.
func (in *form) compare(r *calc.Result, a *calc.Answer, j *job, s *subs) {
	if !in.got[0] && !in.got[1] && !in.got[2] && !in.got[3] && !in.got[4] {
		return
	}
	t := newTable("After the cut", "", "What|Predicted|Found|It says")
	within := "as predicted"
	row := func(what string, k unit.Kind, predicted unit.Range, found float64, st unit.Style) {
		says := within
		within = "as predicted"
		switch {
		case found < predicted.Low-same:
			says = "below what was predicted"
		case found > predicted.High+same:
			says = "above what was predicted"
		}
		add(t, []string{what, unit.PrintRange(k, predicted, st), unit.Print(k, found, st), says}, 2)
	}
	small := unit.Style{Unit: "µm", Decimals: 1, Trim: true}
	if r.System == unit.Inch {
		small = unit.Style{Unit: "thou", Decimals: 3, Trim: true}
	}
	length := unit.LengthKind.Style(r.System)
	half := j.Facts.Number(factTolerance) / 2
	if in.got[0] {
		within = "inside the tolerance"
		row("Size, off by", unit.LengthKind, unit.Range{Low: -half, Likely: 0, High: half}, float64(in.gotError), small)
	}
	if in.got[1] {
		row("Inside radius", unit.LengthKind, j.left(), float64(in.gotRadius), length)
	}
	if in.got[2] {
		row("Ra", unit.RoughnessKind, j.ra(), float64(in.gotRa), unit.RoughnessKind.Style(r.System))
	}
	if v, ok := s.value("rate", "total"); ok && in.got[3] {
		row("Time of one piece", unit.TimeKind, v, float64(in.gotTime), unit.Style{Unit: "h", Decimals: 2})
	}
	if in.got[4] {
		row("Gap of the last pass", unit.LengthKind, j.lastGap(), float64(in.gotGap), small)
	}
	a.Tables = append(a.Tables, *t)
	in.correct(a, j, s)
}

// cutName makes a name for the table of cuts of what the print is called: the
// first that is given, with the signs that such a name may hold.
func cutName(names ...string) string {
	for _, name := range names {
		var out strings.Builder
		for _, c := range name {
			if (c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.ContainsRune(" -./_#", c)) && out.Len() < 40 {
				out.WriteRune(c)
			}
		}
		if text := strings.TrimSpace(out.String()); text != "" {
			return text
		}
	}
	return ""
}

// correct asks the calculator of test cuts for the correction and for the line
// of the table of cuts.
func (in *form) correct(a *calc.Answer, j *job, s *subs) {
	plan := s.ask("ladder")
	if plan == nil || !in.got[0] && !in.got[4] {
		return
	}
	n := int(j.Facts.Number(factPasses))
	offsets, gaps := "", ""
	for i := 1; i <= n; i++ {
		p := strconv.Itoa(i)
		o, leaves := s.likely("ladder", "offset-"+p), s.likely("ladder", "leaves-"+p)
		if i == n {
			leaves = 0
		}
		if i > 1 {
			offsets, gaps = offsets+"; ", gaps+"; "
		}
		offsets += unit.Fixed(o, 6)
		gaps += unit.Fixed(o-j.Facts.Number(factWire)/2-leaves, 6)
	}
	t := s.typed
	t["offsets"], t["gaps"] = offsets+" mm", gaps+" mm"
	t["trial"], t["nominal"] = in.kind, inUnit(float64(in.size.Likely), "mm")
	t["found"] = inUnit(float64(in.size.Likely+in.gotError), "mm")
	if !in.got[0] {
		t["trial"], t["test-slot"] = "slot", inUnit(j.Facts.Number(factWire)+2*float64(in.gotGap), "mm")
	}
	if name := cutName(in.number, in.part); name != "" {
		t["cut-name"] = name
	}
	if in.got[2] {
		t["got-ra"] = inUnit(float64(in.gotRa), "µm")
	}
	if trial := s.ask("trial"); trial != nil {
		a.Note(strings.TrimSpace(trial.Headline + ". " + trial.Lead))
		a.Files = append(a.Files, trial.Files...)
	}
}
