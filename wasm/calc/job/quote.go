package job

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// quote is the table of what a job costs in all, line by line, and what a piece of it
// costs over the quantity. Each line names its row; the cutting is the sheet's own.
func (in *form) quote(a *calc.Answer, j *job, s *subs) {
	t := in.book.Table("quote")
	cutting, ok := s.value("rate", "cost")
	if t == nil || !ok {
		return
	}
	quantity := j.Facts.Number(factQuantity)
	var once, each, least float64 // for the job, for a piece, and the least that is charged
	leastName := ""
	out := newTable("Quote", "In "+currency(in.book)+", likely values; the cutting as nine in ten. Without material, heat treatment, transport, what the shop costs besides, and profit.", "Line|A piece|All "+strconv.Itoa(int(quantity))+"|From")
	out.Columns[3].Right = false
	add(out, []string{"cutting", whole(cutting.Likely) + " (" + whole(cutting.Low) + " to " + whole(cutting.High) + ")", whole(quantity * cutting.Likely), "the hours above, machine, wire, resin"}, 0)
	for i := range t.Rows {
		r := &t.Rows[i]
		v := r.Num("amount_n0") + r.Num("machine_n0")/60*j.prices.Machine + r.Num("work_n0")/60*j.prices.Work
		from := "row " + r.Key + " of the table of quotes"
		if r.Provenance == "invented" {
			from += ", invented"
		}
		switch r.Cell("each") {
		case "opening":
			if !j.Facts.Is(factStart, "hole") {
				continue
			}
			v *= j.Facts.Number(factOpenings)
			each += v
			add(out, []string{r.Cell("name"), whole(v), whole(quantity * v), from}, 0)
		case "piece":
			each += v
			add(out, []string{r.Cell("name"), whole(v), whole(quantity * v), from}, 0)
		default:
			if r.Key == "minimum" {
				least, leastName = v, r.Cell("name")
				break
			}
			once += v
			add(out, []string{r.Cell("name"), whole(v / quantity), whole(v), from}, 0)
		}
		a.Used(*r)
	}
	sum := func(cut, n float64) float64 { return math.Max(least, once+n*(each+cut)) }
	if sum(cutting.Likely, quantity) > least {
		leastName = ""
	}
	add(out, []string{"in all", whole(sum(cutting.Likely, quantity)/quantity) + " (" + whole(sum(cutting.Low, quantity)/quantity) + " to " + whole(sum(cutting.High, quantity)/quantity) + ")", whole(sum(cutting.Likely, quantity)), leastName}, 0)
	out.Screen = true // a price is not for the machine
	a.Tables = append(a.Tables, *out)
	over := newTable("A piece over the quantity", "Everything else as it stands.", "Pieces|1|2|5|10|20|50|100")
	row := []string{"a piece"}
	counts := [...]float64{1, 2, 5, 10, 20, 50, 100}
	var ys []float64
	for _, n := range counts {
		ys = append(ys, sum(cutting.Likely, n)/n)
		row = append(row, whole(sum(cutting.Likely, n)/n))
	}
	d := figure.New("What a piece costs over the quantity", "From "+row[1]+" for one piece to "+row[len(counts)]+" each for a hundred.", 360, 300, false)
	g := figure.NewPlot(d, decades(1, 100, 1, "pieces"), decades(ys[len(ys)-1], ys[0], 1, "a piece, "+currency(in.book)))
	g.Curve(figure.Outline, counts[:], ys)
	if quantity <= 100 {
		g.Mark(quantity, sum(cutting.Low, quantity)/quantity, sum(cutting.Likely, quantity)/quantity, sum(cutting.High, quantity)/quantity)
	}
	over.Figure, over.Screen = d, true
	add(over, row, 0)
	a.Tables = append(a.Tables, *over)
}

// whole is an amount to what a range bears: three figures, and no cents.
func whole(v float64) string {
	if v <= 0 {
		return "0"
	}
	scale := math.Pow(10, math.Max(0, math.Floor(math.Log10(v))-2))
	return unit.Number(math.Round(v/scale)*scale, unit.Style{Decimals: 0})
}
