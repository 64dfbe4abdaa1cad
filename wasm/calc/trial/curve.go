package trial

import (
	"math"
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/figure"
	"kerfbook/wasm/unit"
)

// The frame of the curve, in drawing units: left, right and height.
const (
	frameLeft, frameRight, frameHigh = 70.0, 330.0, 160.0
	curveHigh                        = 280.0 // what the curve adds to a drawing
)

// plot is a frame on logarithmic scales, for a law that is a straight line there.
type plot struct {
	d              *figure.Drawing
	top            float64
	x0, x1, y0, y1 float64 // logarithms of the ends
}

// bound keeps a value within what a logarithm and a drawing bear.
func bound(v float64) float64 { return math.Log(math.Min(math.Max(v, 1e-300), 1e300)) }

func (p *plot) at(x, y float64) figure.Point {
	return figure.Point{X: frameLeft + (bound(x)-p.x0)/(p.x1-p.x0)*(frameRight-frameLeft),
		Y: p.top + frameHigh - (bound(y)-p.y0)/(p.y1-p.y0)*frameHigh}
}

// curve draws y over the energies, as far as it lies in the frame.
func (p *plot) curve(kind figure.Line, y func(e float64) float64) {
	const steps = 32
	var pts []figure.Point
	var last figure.Point
	for i := range steps + 1 {
		e := math.Exp(p.x0 + (p.x1-p.x0)*float64(i)/steps)
		now := p.at(e, y(e))
		if i > 0 {
			a, b, ok := p.clip(last, now)
			if ok && len(pts) == 0 {
				pts = append(pts, a)
			}
			if ok {
				pts = append(pts, b)
			}
			if !ok || b != now {
				p.d.Poly(kind, false, pts...)
				pts = nil
			}
		}
		last = now
	}
	p.d.Poly(kind, false, pts...)
}

// clip keeps the part of a piece that lies between the frame's foot and head.
func (p *plot) clip(a, b figure.Point) (from, to figure.Point, ok bool) {
	low, high := p.top, p.top+frameHigh
	if math.Max(a.Y, b.Y) < low || math.Min(a.Y, b.Y) > high {
		return a, b, false
	}
	cut := func(q figure.Point) figure.Point {
		y := math.Min(math.Max(q.Y, low), high)
		if y == q.Y {
			return q
		}
		return figure.Point{X: a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), Y: y}
	}
	return cut(a), cut(b), true
}

// ends are round numbers, 1, 2 or 5 times a power of ten, a little outside of
// low and high.
func ends(low, high float64) (from, to float64) {
	return 1 / figure.Nice(1/(low/1.1)), figure.Nice(high * 1.1)
}

// ticks are the round numbers from low to high: 1, 2, 5 and so on while the scale
// is shorter than dense decades, else whole decades, at most five.
func ticks(low, high, dense float64) []float64 {
	span := math.Log10(high / low)
	every := max(1, int(math.Ceil(span/4)))
	var out []float64
	for n := int(math.Floor(math.Log10(low))) - 1; n <= int(math.Ceil(math.Log10(high))); n++ {
		for _, k := range [...]float64{1, 2, 5} {
			v := k * math.Pow(10, float64(n))
			if v < low*(1-1e-9) || v > high*(1+1e-9) || span > dense && (k > 1 || n%every != 0) {
				continue
			}
			out = append(out, v)
		}
	}
	return out
}

// number prints a tick: plain, or with a power of ten where that is long.
func number(v float64) string {
	n := int(math.Floor(math.Log10(v) + 1e-9))
	if n >= -3 && n <= 3 {
		return unit.Number(v, unit.Style{Decimals: 3, Trim: true})
	}
	text := ""
	if k := math.Round(v / math.Pow(10, float64(n))); k > 1 {
		text = strconv.Itoa(int(k)) + "×"
	}
	text += "10"
	for _, c := range strconv.Itoa(n) {
		if c == '-' {
			text += "⁻"
			continue
		}
		text += string([...]rune{'⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'}[c-'0'])
	}
	return text
}

// drawLaw draws the readings of roughness over energy, the fitted curve and its
// limits under a drawing.
func (in *form) drawLaw(r *calc.Result, d *figure.Drawing) {
	name := "µm"
	if r.System == unit.Inch {
		name = "µin"
	}
	ra := func(v float64) float64 { return unit.In(unit.RoughnessKind, v, name) }
	e0, e1 := math.Inf(1), 0.0
	low, high := math.Inf(1), 0.0
	for i, e := range in.energies {
		e0, e1 = math.Min(e0, float64(e)), math.Max(e1, float64(e))
		low, high = math.Min(low, ra(float64(in.readings[i]))), math.Max(high, ra(float64(in.readings[i])))
	}
	asked := float64(in.energy)
	shown := asked >= e0/10 && asked <= e1*10 // farther out it would press the readings together
	if shown {
		e0, e1 = math.Min(e0, asked), math.Max(e1, asked)
	}
	least, most := low/3, high*3 // limits of few readings run out of all bounds
	e0, e1 = ends(e0, e1)
	for _, e := range [...]float64{e0, e1} {
		a, b := in.law.Limits(e, false)
		low, high = math.Min(low, math.Max(ra(a), least)), math.Max(high, math.Min(ra(b), most))
	}
	low, high = ends(low, high)
	p := &plot{d: d, top: d.H + 34, x0: math.Log(e0), x1: math.Log(e1), y0: math.Log(low), y1: math.Log(high)}
	foot := p.top + frameHigh
	d.Poly(figure.Thin, true, figure.Point{X: frameLeft, Y: p.top}, figure.Point{X: frameRight, Y: p.top}, figure.Point{X: frameRight, Y: foot}, figure.Point{X: frameLeft, Y: foot})
	d.Label(16, p.top-14, "Ra, "+name, -1)
	for _, v := range ticks(low, high, 1.8) {
		y := p.at(e0, v).Y
		d.Line(figure.Thin, frameLeft-5, y, frameLeft, y)
		d.Label(frameLeft-9, y+5, number(v), 1)
	}
	for _, v := range ticks(e0, e1, 1.2) {
		x := p.at(v, low).X
		d.Line(figure.Thin, x, foot, x, foot+5)
		d.Label(x, foot+22, number(v), 0)
	}
	d.Label(frameRight, foot+42, "energy, mJ", 1)
	p.curve(figure.Thin, func(e float64) float64 { v, _ := in.law.Limits(e, false); return ra(v) })
	p.curve(figure.Thin, func(e float64) float64 { _, v := in.law.Limits(e, false); return ra(v) })
	p.curve(figure.Accent, func(e float64) float64 { return ra(in.law.At(e)) })
	for i, e := range in.energies {
		q := p.at(float64(e), ra(float64(in.readings[i])))
		d.Circle(figure.Wire, q.X, q.Y, 3.5, true)
	}
	d.Label(16, foot+62, "dots: read; thick line: fitted", -1)
	d.Label(16, foot+82, r.Text("thin lines: its limits at {confidence}"), -1)
	ring := ""
	if q := p.at(asked, ra(float64(in.raAt))); shown && q.Y >= p.top && q.Y <= foot {
		d.Circle(figure.Outline, q.X, q.Y, 7, false)
		ring = "; a ring stands there"
	}
	d.H += curveHigh
	d.Title += "; below, Ra over energy, both scales in decades"
	d.Alt += r.Text(" Below, {1} readings of Ra over energy on scales of decades, with the fitted curve between thin lines, its limits at {confidence}. At {energy} it gives {ra-fit}, between {ra-low} and {ra-high}{2}.", strconv.Itoa(len(in.readings)), ring)
}
