package process

import (
	"math"

	"kerfbook/wasm/unit"
)

// Pass is one pass of a plan: its likely values, and how they move.
type Pass struct {
	Energy   float64        // mJ
	Gap      unit.Length    // a side
	Left     unit.Length    // stock a side left for the passes after it
	Offset   unit.Length    // of the wire's middle from the finished wall
	Takes    unit.Length    // a side; roughing takes the slot
	Ra       unit.Roughness // of the face it leaves
	Layer    unit.Length    // molten layer it leaves
	Rate     unit.AreaRate  // of roughing, and feed times height of a skim
	Feed     unit.Speed
	Covers   bool // the stock is decided by the layer and the roughness, not by the usual share
	Gradient *Gradients
}

// Gradients are the gradients of a pass's quantities.
type Gradients struct{ Energy, Gap, Left, Ra, Layer, Feed Gradient }

// Ladder returns the passes of a plan, roughing first. passes is 1 at least. The
// law must cover the setup. Gradients are made where spreads is true.
func (l *Law) Ladder(s Setup, passes int, spreads bool) []Pass {
	t := l.at(s)
	out := make([]Pass, passes)
	for k := range out {
		out[k] = t.pass(k, spreads)
	}
	out[passes-1].last()
	for k := range out {
		t.settle(out, k)
	}
	return out
}

// pass works out what does not hang on the passes beside it.
func (t *laws) pass(k int, spreads bool) Pass {
	g, e, es := t.gap(k)
	var p Pass
	var by *Gradient
	if spreads {
		p.Gradient = &Gradients{}
		p.Gradient.Gap, p.Gradient.Energy = t.gapBy(k, g, e, es)
		p.Gradient.Gap[GapMaterial]++
		by = &p.Gradient.Energy
	}
	ra := t.ra(e, by)
	layer := t.layer(ra, spreads)
	p.Energy, p.Gap, p.Ra, p.Layer = e, unit.Length(g*t.l.Likely[GapMaterial]), unit.Roughness(ra.Value), unit.Length(layer.Value)
	usual := stockFirst * float64(t.s.Wire) * math.Pow(stockShare, float64(k))
	rough := halfRz * ra.Value / 1000
	cover := layer.Value + rough + float64(t.s.Shape)
	p.Left = unit.Length(max(usual, cover))
	p.Covers = cover > usual
	if spreads {
		p.Gradient.Ra, p.Gradient.Layer = ra.By, layer.By
		if p.Covers {
			for i := range p.Gradient.Left {
				p.Gradient.Left[i] = (layer.Value*layer.By[i] + rough*ra.By[i]) / cover
			}
		}
	}
	return p
}

// last leaves nothing.
func (p *Pass) last() {
	p.Left, p.Covers = 0, false
	if p.Gradient != nil {
		p.Gradient.Left = Gradient{}
	}
}

// settle works out what hangs on the pass before: what it takes, and its feed.
func (t *laws) settle(list []Pass, k int) {
	p := &list[k]
	p.Offset = t.s.Wire/2 + p.Gap + p.Left
	h := float64(t.s.Height)
	if k == 0 {
		p.Takes = unit.Length(t.kerf.Value)
		p.Rate = unit.AreaRate(t.area.Value)
		p.Feed = unit.Speed(t.area.Value / h)
		if p.Gradient != nil {
			p.Gradient.Feed = t.area.By
		}
		return
	}
	t.feed(p, list[k-1])
}

// feed works out what a skim takes and how fast it goes: its top feed, and the
// volume that its sparks remove.
func (t *laws) feed(p *Pass, was Pass) {
	h := float64(t.s.Height)
	takes, least := float64(was.Left-p.Left), float64(was.Ra)/1000
	p.Takes = unit.Length(max(takes, least))
	c := &t.l.Likely
	share := t.share()
	volume := t.area.Value / share * math.Sqrt(share) * t.kerf.Value // mm³/min
	power := c[SkimPower]
	ratio := p.Energy / t.er
	slow := float64(p.Takes) * h / (volume * math.Pow(ratio, power)) // min/mm
	top := 1 / c[TopFeed]
	v := 1 / (top + slow)
	p.Feed, p.Rate = unit.Speed(v), unit.AreaRate(v*h)
	if p.Gradient == nil {
		return
	}
	g := &p.Gradient.Feed
	for i := range g {
		by := t.area.By[i] + t.kerf.By[i] + power*(p.Gradient.Energy[i]-t.full[i])
		if Constant(i) == RateMaterial {
			by -= 0.5
		}
		if Constant(i) == SkimPower {
			by += power * math.Log(ratio)
		}
		if takes < least {
			by -= was.Gradient.Ra[i]
		} else {
			by -= (float64(was.Left)*was.Gradient.Left[i] - float64(p.Left)*p.Gradient.Left[i]) / float64(p.Takes)
		}
		g[i] = slow * v * by
	}
	g[TopFeed] += top * v
}

// Floor returns the roughness in µm that no number of passes can pass below: that
// of a spark that has nothing but the charge which cannot be switched off.
func (l *Law) Floor(s Setup, spreads bool) Quantity {
	t := l.at(s)
	g, e, es := t.solve(0)
	if !spreads {
		return t.ra(e, nil)
	}
	_, by := t.gapBy(0, g, e, es)
	return t.ra(e, &by)
}

// Range returns the nine in ten of a value whose logarithm moves with the
// constants as by says. What one cause moves, moves together.
func (l *Law) Range(value float64, by *Gradient) unit.Range {
	if value == 0 {
		return unit.Range{}
	}
	f := math.Exp(nineInTen / 2 * l.Deviation(by))
	return unit.Range{Low: value / f, Likely: value, High: value * f}
}

// Deviation returns the standard deviation of the logarithm.
func (l *Law) Deviation(by *Gradient) float64 {
	sum := 0.0
	for i, v := range by {
		x := v * l.Spread[i]
		sum += x * x
	}
	return math.Sqrt(sum)
}

// Ends tells why a ladder ends before a pass.
type Ends uint8

// The reasons.
const (
	GoesOn Ends = iota
	GainsNothing
	TakesNothing
)

// leastGain is the share by which a pass must lower the roughness to be planned.
const leastGain = 0.08

// Repeats is what a machine is taken to repeat where its card says nothing.
const Repeats unit.Length = 0.0005

// Useful returns how many passes of at most most are worth cutting, and why the
// next one is not: it would lower Ra by less than 8 %, or take less than the
// machine repeats. Each pass is judged as the last of its own plan.
func (l *Law) Useful(s Setup, most int, repeats unit.Length) (int, Ends) {
	return Useful(l.Ladder(s, most, false), repeats)
}

// Useful is how many passes of a ladder are worth cutting: what a pass leaves does not
// hang on those after it.
func Useful(list []Pass, repeats unit.Length) (int, Ends) {
	for n := 1; n < len(list); n++ {
		switch was := list[n-1]; {
		case float64(list[n].Ra) > (1-leastGain)*float64(was.Ra):
			return n, GainsNothing
		case was.Left < repeats:
			return n, TakesNothing
		}
	}
	return len(list), GoesOn
}
