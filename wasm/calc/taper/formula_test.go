package taper

import (
	"math"
	"testing"

	"kerfbook/testdata/near"
	"kerfbook/wasm/unit"
)

// TestLaws: no taper changes nothing; a flat angle leans as the wall does; limit
// undoes shift; the gouge factor has its known values.
func TestLaws(t *testing.T) {
	near.To(t, "no taper", float64(Shift(20, 0)), 0, 1e-9)
	near.Share(t, "no taper", float64(Level(0.15, 0)), 0.15, 1e-9)
	near.To(t, "no taper", float64(True(0, 60)), 0, 1e-9)
	for _, tau := range []unit.Angle{0.5, 3, 10, 30} {
		near.Share(t, "two walls in one plane", float64(True(tau, 180)), float64(tau), 1e-9)
		near.Share(t, "the limit of its own shift", float64(Limit(Shift(40, tau), 40)), float64(tau), 1e-9)
		near.Share(t, "twice the height", float64(Shift(80, tau)), 2*float64(Shift(40, tau)), 1e-9)
		near.Share(t, "a right angle's gouge factor", float64(Gouge(tau, 90)), 1, 1e-9)
		if k := float64(Gouge(tau, 179.9)); math.Abs(k-math.Cos(float64(tau)*math.Pi/180)) > 1e-5 {
			t.Errorf("a nearly flat corner's gouge factor is %g", k)
		}
		near.Share(t, "a nearly closed corner's", float64(Gouge(tau, 1e-4)), 1/math.Cos(float64(tau)*math.Pi/180), 1e-9)
		if s := True(tau, 60); s <= tau {
			t.Errorf("a sharp corner leans %g, the wall %g", s, tau)
		}
	}
	for _, c := range []struct{ theta, want float64 }{{60, 1.00773}, {120, 0.99233}} {
		if got := float64(Gouge(10, unit.Angle(c.theta))); math.Abs(got-c.want) > 1e-5 {
			t.Errorf("the gouge factor at %g° is %.6f, %g is wanted", c.theta, got, c.want)
		}
	}
}

// TestStiffWire: the closed forms of a beam under tension against a solution by
// parts, and their scalings.
func TestStiffWire(t *testing.T) {
	near.Share(t, "four times the tension, half the length", float64(Pivot(105000, 0.25, 48)), float64(Pivot(105000, 0.25, 12))/2, 1e-9)
	near.Share(t, "twice the diameter, four times the length", float64(Pivot(105000, 0.5, 12)), 4*float64(Pivot(105000, 0.25, 12)), 1e-9)
	// At the same stress the length goes with the diameter, and not faster.
	near.Share(t, "twice the diameter at the same stress", float64(Pivot(105000, 0.5, 48)), 2*float64(Pivot(105000, 0.25, 12)), 1e-9)
	for _, c := range []struct {
		young   unit.Stress
		d, span unit.Length
		tension unit.Force
		tau     unit.Angle
	}{{105000, 0.25, 50, 12, 3}, {405000, 0.05, 20, 1.5, 2}, {200000, 0.1, 25, 4, 1}, {105000, 0.25, 120, 6, 10}} {
		l := Pivot(c.young, c.d, c.tension)
		got := Clamped(c.tau, c.span, l)
		if got <= c.tau {
			t.Errorf("the clamped wire leans %g for %g: it is steeper, never less", got, c.tau)
		}
		if want := leaning(float64(c.young), float64(c.d), float64(c.tension), float64(c.span), float64(c.tau)); math.Abs(float64(got)-want) > 2e-4*want {
			t.Errorf("the clamped wire leans %g°, by parts %g°", got, want)
		}
		near.Share(t, "a wire without stiffness", float64(Clamped(c.tau, c.span, 1e-9)), float64(c.tau), 1e-9)
		if Clamped(c.tau, c.span*2, l) >= got {
			t.Error("a longer span does not lessen the error of the angle")
		}
	}
	// The stress at the clamp, by the moment T λ tan τ over the section's modulus.
	const e, uts, d, pull = 105000.0, 900.0, 0.25, 12.0
	a := float64(Springs(e, uts, d, pull)) * math.Pi / 180
	moment := pull * float64(Pivot(e, d, pull)) * math.Tan(a)
	near.Share(t, "stress at the clamp", moment/(math.Pi*d*d*d/32)+pull/(math.Pi*d*d/4), uts, 1e-9)
	if Springs(e, 100, d, pull) != 0 {
		t.Error("a wire that is pulled beyond its strength springs back")
	}
}

// leaning solves EI y″″ = T y″ for y′ = s on a chain of parts, EI s″ = T s - V with
// s = 0 at both clamps and the integral of s given, and returns the slope at the
// middle in degrees.
func leaning(e, d, tension, span, tau float64) float64 {
	const n = 40000
	h := span / n
	k := h * h * tension / (e * math.Pi * math.Pow(d, 4) / 64)
	c, y := make([]float64, n-1), make([]float64, n-1)
	for i := range c { // V/T is 1: the other solutions are multiples
		m, f := 2+k, k
		if i > 0 {
			m, f = m+c[i-1], f+y[i-1]
		}
		c[i], y[i] = -1/m, f/m
	}
	sum := y[n-2]
	for i := n - 3; i >= 0; i-- {
		y[i] -= c[i] * y[i+1]
		sum += y[i]
	}
	return math.Atan(y[n/2-1]*span*math.Tan(tau*math.Pi/180)/(sum*h)) * 180 / math.Pi
}

// TestCard: a card's own points give its own angles; no height asks for more travel
// than the points show; the limit never rises with the height or with the guides'
// distance, and never passes what the guides lean.
func TestCard(t *testing.T) {
	for _, x := range []struct {
		flatLean, tallLean unit.Angle
		flat, tall         unit.Length
	}{{30, 8, 80, 250}, {3, 1, 20, 60}, {10, 3, 60, 150}, {20, 20, 40, 100}} {
		c := CardOf(x.flatLean, x.tallLean, x.flat, x.tall)
		for _, p := range []struct {
			height unit.Length
			want   unit.Angle
		}{{x.flat, x.flatLean}, {x.tall, x.tallLean}, {x.flat / 2, x.flatLean}} {
			_, most := c.at(p.height, cardFree)
			near.Share(t, "the card's own point", float64(most), float64(p.want), 1e-9)
		}
		before, wide := unit.Angle(90), max(c.low, c.high)
		for h := unit.Length(1); h < 2*x.tall; h++ {
			sure, most := c.at(h, cardFree)
			if sure > most || most > before+1e-12 || most > c.lean {
				t.Fatalf("at %g mm the card gives %g° and %g°, after %g°", h, sure, most, before)
			}
			if travel := Shift(h+cardFree, most); travel > wide+1e-9 {
				t.Errorf("at %g mm the guides would travel %g mm, the card shows %g", h, travel, wide)
			}
			if h > x.flat {
				if travel := Shift(h+cardFree, sure); travel > min(c.low, c.high)+1e-9 {
					t.Errorf("at %g mm %g mm of travel are vouched for", h, travel)
				}
			}
			if _, far := c.at(h, cardFree+20); far > most {
				t.Errorf("at %g mm farther guides lean more", h)
			}
			before = most
		}
	}
}
