package process

import (
	"math"

	"kerfbook/wasm/unit"
)

// Gradient is the derivative of a quantity's logarithm by the logarithm of each
// constant: how many per cent it moves for one per cent of the constant.
type Gradient [Constants]float64

// Quantity is a value of the law with its gradient.
type Quantity struct {
	Value float64
	By    Gradient
}

// The numbers that are settings or electrostatics, not constants with a spread.
const (
	pi2eps0    = 2 * math.Pi * 8.8541878128e-12 // F/m
	waterTimes = 80.0                           // relative permittivity
	oilTimes   = 2.1
	stockFirst = 0.264 // stock left by roughing, times the wire: a setting, common practice
	stockShare = 0.24  // each skim leaves this share of the stock before it
	reference  = 0.25  // mm, the wire that the constants are given for
	rateHeight = 160.0 // heights over diameter for which the rate is given
	halfRz     = 3.0   // half of Rz over Ra
)

// laws are what one setup makes of the constants, before any pass.
type laws struct {
	_             [0]func() // never compared, so no code for comparing is made
	l             *Law
	s             Setup
	volt, store   Constant
	e0            float64 // mJ
	gr, gv        float64 // mm, before the material's factor
	er, esr       float64 // mJ: the roughing spark with its charge, and the charge
	energy0, full Gradient
	area          Quantity // mm²/min
	kerf          Quantity // mm
	cm            float64  // pF
}

func (l *Law) at(s Setup) *laws {
	c := &l.Likely
	d := float64(s.Wire)
	t := &laws{l: l, s: s, volt: VoltWater, store: StoreWater}
	switch {
	case s.Fluid == Oil:
		t.volt, t.store = VoltOil, StoreOil
		t.gr, t.gv = (0.9+100*d)/1000, (1.5+7*d)/1000
	default:
		if s.LowSupply {
			t.volt, t.store = VoltWaterLow, StoreWaterLow
		}
		t.gr, t.gv = 178*d/1000, (2+12*d)/1000
	}
	t.gr *= c[GapFactor]
	t.gv *= c[GapFactor]
	t.e0 = c[RoughEnergy] * math.Pow(d/reference, c[EnergyPower])
	t.energy0[RoughEnergy] = 1
	t.energy0[EnergyPower] = c[EnergyPower] * math.Log(d/reference)
	t.cm = c[t.store]
	if s.Stored > 0 {
		t.cm = s.Stored
	}
	t.esr = t.charge(t.gr)
	t.er = t.e0 + t.esr
	t.full = t.energyBy(0, t.gr, t.esr, t.er)
	t.full[GapFactor] += t.fall(t.gr, t.esr, t.er)
	t.area = t.rate()
	t.kerf = t.slot()
	return t
}

// charge is the energy in mJ of the charge that cannot be switched off, at a gap
// in mm: half of C V², C what the machine holds and what wire and wall hold, a
// cylinder before a plane (electrostatics, exact).
func (t *laws) charge(g float64) float64 {
	v := t.l.Likely[t.volt]
	return (t.cm*1e-12 + t.wall(g)) * v * v / 2 * 1000
}

// wall is the capacitance in F of the wire before the wall.
func (t *laws) wall(g float64) float64 {
	times := waterTimes
	if t.s.Fluid == Oil {
		times = oilTimes
	}
	return pi2eps0 * times * float64(t.s.Height) / 1000 / math.Acosh(1+2*g/float64(t.s.Wire))
}

// fall is the derivative of ln E by ln g at a gap whose charge is es of e.
func (t *laws) fall(g, es, e float64) float64 {
	x := 1 + 2*g/float64(t.s.Wire)
	w := t.wall(g)
	return -es / e * w / (w + t.cm*1e-12) * 2 * g / float64(t.s.Wire) / (math.Acosh(x) * math.Sqrt(x*x-1))
}

// energyBy is the gradient of ln E at a fixed gap.
func (t *laws) energyBy(k int, g, es, e float64) Gradient {
	var by Gradient
	share := es / e
	for i, v := range t.energy0 {
		by[i] = (1 - share) * v
	}
	by[SkimShare] -= (1 - share) * float64(k)
	by[t.volt] += 2 * share
	if t.s.Stored == 0 {
		by[t.store] += share * t.cm * 1e-12 / (t.cm*1e-12 + t.wall(g))
	}
	return by
}

// gap solves gap and energy of pass k, which hang on one another: a wider gap
// holds less charge. The right side falls as the gap grows, so that there is one
// solution between the least gap and the roughing gap.
func (t *laws) gap(k int) (g, e, es float64) {
	return t.solve(t.e0 * math.Pow(t.l.Likely[SkimShare], -float64(k)))
}

// solve finds the gap for what is left of the roughing energy: Newton's steps,
// kept between the ends that bisection would keep.
func (t *laws) solve(first float64) (g, e, es float64) {
	power := t.l.Likely[GapPower]
	low, high := t.gv, t.gr
	g = t.gv + (t.gr-t.gv)*math.Pow((first+t.charge(t.gr))/t.er, power)
	for range 60 {
		es = t.charge(g)
		e = first + es
		rise := (t.gr - t.gv) * math.Pow(e/t.er, power)
		miss := t.gv + rise - g
		if miss > 0 {
			low = g
		} else {
			high = g
		}
		step := miss / (1 - rise*power*t.fall(g, es, e)/g)
		if math.Abs(step) <= 1e-15*g {
			break
		}
		g += step
		if g <= low || g >= high {
			g = (low + high) / 2
		}
	}
	es = t.charge(g)
	return g, first + es, es
}

// gapBy returns the gradients of ln gap, without the material's factor, and of
// ln energy, through the fixed point.
func (t *laws) gapBy(k int, g, e, es float64) (gap, energy Gradient) {
	c := &t.l.Likely
	share := (g - t.gv) / g // of the gap, that follows the energy
	power := c[GapPower]
	energy = t.energyBy(k, g, es, e)
	fall := t.fall(g, es, e)
	for i := range gap {
		gap[i] = share * power * (energy[i] - t.full[i])
	}
	gap[GapFactor]++
	gap[GapPower] += share * power * math.Log(e/t.er)
	for i := range gap {
		gap[i] /= 1 - share*power*fall
		energy[i] += fall * gap[i]
	}
	return gap, energy
}

// Stored returns the charge in pF that the finest face of a card tells: the one that
// leaves this Ra when nothing but the charge is left. At least a tenth of a
// picofarad stays.
func (l *Law) Stored(s Setup, finest unit.Roughness) float64 {
	s.Stored = 0
	t := l.at(s)
	c := &l.Likely
	e := math.Pow(float64(finest)/(c[RaFactor]*c[RaMaterial]), 1/c[RaPower]) // mJ
	v := c[t.volt]
	cm := c[t.store]
	for range 50 { // the gap hangs on the charge, a little
		t.cm = cm
		t.esr = t.charge(t.gr)
		t.er = t.e0 + t.esr
		g := t.gv + (t.gr-t.gv)*math.Pow(e/t.er, c[GapPower])
		next := max(0.1, (2*e/1000/(v*v)-t.wall(g))*1e12)
		if math.Abs(next-cm) < 1e-9*cm {
			break
		}
		cm = next
	}
	return cm
}

// ra is the roughness in µm of a spark of e mJ.
func (t *laws) ra(e float64, by *Gradient) Quantity {
	c := &t.l.Likely
	q := Quantity{Value: c[RaFactor] * c[RaMaterial] * math.Pow(e, c[RaPower])}
	if by != nil {
		for i, v := range by {
			q.By[i] = c[RaPower] * v
		}
		q.By[RaFactor]++
		q.By[RaMaterial]++
		q.By[RaPower] += c[RaPower] * math.Log(e)
	}
	return q
}

// layer is the molten layer in mm that a roughness tells of.
func (t *laws) layer(ra Quantity, by bool) Quantity {
	if t.s.NoLayer {
		return Quantity{}
	}
	c := &t.l.Likely
	q := Quantity{Value: c[LayerFactor] * c[LayerMaterial] * math.Pow(ra.Value, c[LayerPower]) / 1000}
	if by {
		for i, v := range ra.By {
			q.By[i] = c[LayerPower] * v
		}
		q.By[LayerFactor]++
		q.By[LayerMaterial]++
		q.By[LayerPower] += c[LayerPower] * math.Log(ra.Value)
	}
	return q
}

// share is the material's share of the rate of steel with this wire.
func (t *laws) share() float64 {
	rate := t.l.Likely[RateMaterial]
	if t.s.RatePower == 0 {
		return rate
	}
	return min(1, rate*math.Pow(min(float64(t.s.Wire), reference)/reference, t.s.RatePower))
}

// tall is how the rate follows the height over the diameter, before it is put in
// proportion to what it is at the height the constants are given for.
func tall(c *[Constants]float64, u float64) (f float64, byRise, byFall float64) {
	x, y := u/c[RateRise], u/c[RateFall]
	up := -math.Expm1(-x)
	return up / (1 + y*y), -x * math.Exp(-x) / up, 2 * y * y / (1 + y*y)
}

// rate is the area rate of roughing in mm²/min.
func (t *laws) rate() Quantity {
	c := &t.l.Likely
	d := float64(t.s.Wire)
	f, rise, down := tall(c, float64(t.s.Height)/d)
	f0, rise0, down0 := tall(c, rateHeight)
	fluid, flush := 1.0, t.s.Flushing
	if t.s.Fluid == Oil {
		fluid = min(1, 0.63*math.Pow(d/reference, -0.25))
	}
	if flush == 0 {
		flush = 1
	}
	thin := min(d, reference) / reference // above it a thicker wire gains nothing: Schacht 2004, chapter III, as text
	q := Quantity{Value: c[RoughRate] * math.Pow(thin, c[RatePower]) * t.s.Class * fluid * t.share() * flush * f / f0}
	q.By[RoughRate] = 1
	q.By[RatePower] = c[RatePower] * math.Log(thin)
	q.By[RateRise] = rise - rise0
	q.By[RateFall] = down - down0
	q.By[RateMaterial] = 1
	return q
}

// slot is the kerf of roughing in mm.
func (t *laws) slot() Quantity {
	g := t.gr * t.l.Likely[GapMaterial]
	q := Quantity{Value: float64(t.s.Wire) + 2*g}
	q.By[GapFactor] = 2 * g / q.Value
	q.By[GapMaterial] = 2 * g / q.Value
	return q
}
