package figure

import "math"

// Scale is one axis with named rows of range bars above it, for what has no
// shape to draw. Rows are added from the top; Close draws the axis.
type Scale struct {
	D        *Drawing
	Low      float64 // value at the left end
	High     float64 // value at the right end
	Log      bool    // decades; Low is above zero
	Top      float64 // base of the next row
	scaleL   float64
	scaleR   float64
	rowSpace float64
}

// NewScale starts a scale on a drawing of 360 units' width, the first row at the
// given height.
func NewScale(d *Drawing, low, high float64, log bool, top float64) *Scale {
	return &Scale{D: d, Low: low, High: high, Log: log, Top: top, scaleL: 20, scaleR: 340, rowSpace: 44}
}

// At is where a value stands, from 0 to 1 along the scale; what is beyond stays
// at the end.
func (s *Scale) At(v float64) float64 {
	t := (v - s.Low) / (s.High - s.Low)
	if s.Log {
		t = math.Log(math.Max(v, 1e-300)/s.Low) / math.Log(s.High/s.Low)
	}
	return math.Min(1, math.Max(0, t))
}

// Row adds a named range. Weight is the pattern: open, hatched, filled.
func (s *Scale) Row(name string, low, likely, high float64, weight uint8) {
	s.D.Label(s.scaleL, s.Top-14, name, -1)
	s.D.Bars = append(s.D.Bars, Bar{At: Point{s.scaleL, s.Top}, Length: s.scaleR - s.scaleL, Height: 11,
		From: s.At(low), To: s.At(high), Likely: s.At(likely), Weight: weight})
	s.Top += s.rowSpace
}

// Close draws the axis with its named ticks and the unit under its right end.
func (s *Scale) Close(unit string, at []float64, names []string) {
	y := s.Top - 10
	s.D.Line(Thin, s.scaleL, y, s.scaleR, y)
	for i, v := range at {
		x := s.scaleL + s.At(v)*(s.scaleR-s.scaleL)
		s.D.Line(Thin, x, y-5, x, y+5)
		anchor := 0
		if x < s.scaleL+12 {
			anchor = -1
		} else if x > s.scaleR-12 {
			anchor = 1
		}
		s.D.Label(x, y+21, names[i], anchor)
	}
	s.D.Label(s.scaleR, y+43, unit, 1)
}

// Nice returns a round number at or above v: 1, 2 or 5 times a power of ten.
func Nice(v float64) float64 {
	if v <= 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range [...]float64{1, 2, 5, 10} {
		if k*p >= v*(1-1e-12) {
			return k * p
		}
	}
	return 10 * p
}
