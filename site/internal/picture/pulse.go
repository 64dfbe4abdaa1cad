package picture

import "kerfbook/wasm/figure"

// pulse draws the voltage and the current of the gap over two pulses, with the
// words that the settings of a generator have.
func pulse() *figure.Drawing {
	d := figure.New("Voltage and current of two pulses. Not to scale.",
		"Above, the voltage: it waits at the open voltage, falls to the burning voltage when the spark ignites, and is off during the pause; a dashed line marks the mean that the servo holds. Below, the current: it rises to its peak and falls to nothing while the spark burns.",
		400, 372, false)
	p := func(x, y float64) figure.Point { return figure.Point{X: x, Y: y} }
	// Voltage.
	const zero, open, burn, mean = 180.0, 50.0, 140.0, 112.0
	d.Line(figure.Thin, 40, 24, 40, zero)
	d.Line(figure.Thin, 40, zero, 390, zero)
	head(d, 40, 22, 0, -1)
	d.Poly(figure.Outline, false, p(40, zero), p(52, zero), p(52, open), p(130, open), p(138, burn), p(176, burn), p(180, zero),
		p(250, zero), p(250, open), p(300, open), p(308, burn), p(346, burn), p(350, zero), p(388, zero))
	d.Line(figure.Hidden, 40, mean, 388, mean)
	d.Label(28, 34, "U", 0)
	d.Label(60, 42, "open voltage", -1)
	d.Label(199, 104, "mean", -1)
	d.Line(figure.Thin, 176, 140, 184, 149)
	d.Label(187, 158, "burning", -1)
	// Current.
	const base, peak = 320.0, 232.0
	d.Line(figure.Thin, 40, 206, 40, base)
	d.Line(figure.Thin, 40, base, 390, base)
	head(d, 40, 204, 0, -1)
	d.Poly(figure.Accent, false, p(40, base), p(130, base), p(166, peak), p(180, base), p(300, base), p(336, peak), p(350, base), p(388, base))
	d.Label(28, 218, "I", 0)
	d.Line(figure.Thin, 166, peak, 210, peak)
	d.Label(214, 237, "peak current", -1)
	// Times.
	d.Line(figure.Thin, 130, base, 130, 350)
	d.Line(figure.Thin, 180, base, 180, 350)
	d.Line(figure.Thin, 250, base, 250, 350)
	d.Line(figure.Thin, 52, base, 52, 350)
	d.Line(figure.Thin, 52, 340, 250, 340)
	for _, x := range []float64{52, 130, 180} {
		head(d, x, 340, -1, 0)
	}
	for _, x := range []float64{130, 180, 250} {
		head(d, x, 340, 1, 0)
	}
	d.Label(91, 362, "waiting", 0)
	d.Label(155, 362, "on", 0)
	d.Label(215, 362, "pause", 0)
	return d
}
