// Package oracle holds the offsets against two geometry libraries that share no
// line with ours, GEOS through Shapely, and Clipper, and what a shop's cuts teach
// against scipy. They are wanted for tests only. It may import geom, drawing, fit,
// offset and the standard library.
package oracle

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"kerfbook/wasm/drawing"
	"kerfbook/wasm/geom"
	"kerfbook/wasm/offset"
)

type job struct {
	Name     string         `json:"name"`
	Reach    float64        `json:"reach"`
	Opening  bool           `json:"opening"`
	Contours [][][2]float64 `json:"contours"`
	ours     *offset.Result
	exact    bool // a slot exactly as wide as the tool: only the area is compared
}

// answer is what a library says. Shapely 1.8.5 with GEOS 3.11.1: buffer(-r, 512)
// and buffer(r, 512), difference. Pyclipper 1.2.1: PyclipperOffset with round
// joins, arc tolerance 1e-5 mm, coordinates of 2^-24 mm, one offset: the second,
// of arcs in many chords, takes it minutes.
type answer struct {
	Name string `json:"name"`
	Geos struct {
		Area, Length float64
		Parts        int
	} `json:"geos"`
	Clipper struct{ Area float64 } `json:"clipper"`
}

// gear is an internal or external toothing as path data, its flanks involutes in
// many chords: a fixture of its own, so that a fault in ours shows.
func gear(z int, m float64, internal bool) string {
	alpha := 20 * math.Pi / 180
	inv := func(a float64) float64 { return math.Tan(a) - a }
	r := m * float64(z) / 2
	rb := r * math.Cos(alpha)
	half := func(d float64) float64 {
		return math.Pi/(2*float64(z)) + inv(alpha) - inv(math.Acos(rb/d))
	}
	lo, hi := math.Max(rb*1.0005, r-1.1*m), r+1.1*m
	var s strings.Builder
	const steps = 60
	put := func(d, a float64) {
		word := "L"
		if s.Len() == 0 {
			word = "M"
		}
		fmt.Fprintf(&s, "%s%.9f %.9f", word, d*math.Cos(a), d*math.Sin(a))
	}
	for i := range z {
		mid := 2 * math.Pi * float64(i) / float64(z)
		for k := 0; k <= steps; k++ {
			d := lo + (hi-lo)*float64(k)/steps
			put(d, mid-half(d))
		}
		for k := steps; k >= 0; k-- {
			d := lo + (hi-lo)*float64(k)/steps
			put(d, mid+half(d))
		}
	}
	_ = internal
	return s.String() + "Z"
}

func circleOfChords(n int, r float64, notch string) string {
	var s strings.Builder
	for i := range n {
		word := "L"
		if i == 0 {
			word = "M"
		}
		a := 2 * math.Pi * float64(i) / float64(n)
		fmt.Fprintf(&s, "%s%.9f %.9f", word, r*math.Cos(a), r*math.Sin(a))
	}
	return s.String() + "Z" + notch
}

func jobs(t *testing.T) []*job {
	var list []*job
	add := func(name, path string, opening bool, reaches ...float64) {
		d, err := drawing.Read(path, drawing.Options{Unit: "mm"})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		region, _, err := offset.Nested(d.Contours, opening)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, reach := range reaches {
			r, err := offset.Of(region, reach)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			j := &job{Name: fmt.Sprintf("%s R %g", name, reach), Reach: reach, Opening: opening, ours: r, exact: !r.Exact}
			for _, c := range d.Contours {
				j.Contours = append(j.Contours, points(c))
			}
			list = append(list, j)
		}
	}
	// True arcs.
	add("rounded slot", "M0 0H8A0.9 0.9 0 0 1 8 1.8H0A0.9 0.9 0 0 1 0 0Z", true, 0.15, 0.6)
	add("keyhole", "M0 0A2 2 0 1 1 1 0V-3H0Z", true, 0.13, 0.49)
	add("punch with arcs", "M0 0H6V1A1 1 0 0 0 8 1V0H14V6A3 3 0 0 1 11 9H9A2 2 0 0 0 5 9H0Z", false, 0.2, 0.9)
	// Involute teeth.
	add("internal gear", gear(24, 0.5, true), true, 0.08, 0.2)
	add("external gear", gear(18, 0.8, false), false, 0.1, 0.3)
	// Necks.
	add("two chambers", "M0 0H4V1.8H6V0H10V4H6V2.2H4V4H0Z", true, 0.15, 0.3)
	add("slanted neck", "M0 0L4 1L5 2.1L8 0L10 5L6 4L5.1 2.5L3 5Z", true, 0.1, 0.3)
	add("short neck", "M0 0H4V1.8H4.05V0H8.05V4H4.05V2.2H4V4H0Z", true, 0.3)
	// Slots at exactly 2 R.
	add("slot of 0.3", "M0 0H10V6H6.15V2H5.85V6H0Z", false, 0.15)
	add("slit of 0.5", "M0 0H5V2H9V0H12V4.5H9V2.5H5V4.5H0Z", true, 0.25)
	// Nested islands.
	add("frame with islands", "M0 0H20V12H0ZM3 3H7V9H3ZM11 2L17 5L12 10Z", true, 0.2, 0.9)
	add("ring in ring", "M0 0A6 6 0 1 0 12 0A6 6 0 1 0 0 0ZM2 0A4 4 0 1 0 10 0A4 4 0 1 0 2 0ZM4 0A2 2 0 1 0 8 0A2 2 0 1 0 4 0Z", true, 0.3, 0.8)
	// Curves drawn as chords.
	add("circle of chords", circleOfChords(720, 4, "M-1 -1H1V1H-1Z"), true, 0.2, 1.2)
	add("ratchet of chords", circleOfChords(360, 5, "M0 -3L1 -1L3 0L1 1L0 3L-1 1L-3 0L-1 -1Z"), false, 0.15, 0.4)
	return list
}

// points is a contour as a polygon, its arcs in chords of less than 1e-6 mm off.
func points(c geom.Contour) [][2]float64 {
	var out [][2]float64
	for _, p := range c {
		n := 1
		if p.IsArc() {
			n = max(2, int(math.Abs(p.Sweep)/math.Sqrt(8*1e-6/p.R))+1)
		}
		for i := range n {
			q := p.At(float64(i) / float64(n))
			out = append(out, [2]float64{q.X, q.Y})
		}
	}
	return out
}

// TestOracles: leftover area, path length and number of parts. The bounds are the
// libraries' own: GEOS drops points that stand less than a hundredth of the
// distance off, which makes its areas right to some 1e-5; Clipper rounds.
func TestOracles(t *testing.T) {
	list := jobs(t)
	var in bytes.Buffer
	enc := json.NewEncoder(&in)
	for _, j := range list {
		if err := enc.Encode(j); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("/usr/bin/python3", "oracle.py")
	cmd.Stdin = &in
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the libraries did not run: %v\n%s", err, said.String())
	}
	at := 0
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); at++ {
		var a answer
		if err := json.Unmarshal(lines.Bytes(), &a); err != nil {
			t.Fatal(err)
		}
		j := list[at]
		tol := 2e-4*j.ours.Leftover + 1.5e-5*j.ours.Length
		if d := math.Abs(a.Geos.Area - j.ours.Leftover); d > tol && !j.exact {
			t.Errorf("%s: %.9g mm² stays, GEOS says %.9g", j.Name, j.ours.Leftover, a.Geos.Area)
		}
		inside := 0.0
		for _, c := range j.ours.Path {
			inside += c.Area()
		}
		if d := math.Abs(a.Clipper.Area - inside); d > 1e-5*math.Abs(inside)+1e-4 && !j.exact {
			t.Errorf("%s: the tool's middle has %.9g mm², Clipper says %.9g", j.Name, inside, a.Clipper.Area)
		}
		if j.exact {
			// The rule is ours: as wide as the tool counts as cut. A hair less reach
			// makes the libraries say the same.
			continue
		}
		if d := math.Abs(a.Geos.Length - j.ours.Length); d > 1e-5*j.ours.Length+1e-4 {
			t.Errorf("%s: the path is %.9g mm long, GEOS says %.9g", j.Name, j.ours.Length, a.Geos.Length)
		}
		if a.Geos.Parts != len(j.ours.Path) {
			t.Errorf("%s: the path has %d parts, GEOS says %d", j.Name, len(j.ours.Path), a.Geos.Parts)
		}
	}
	if at != len(list) {
		t.Errorf("%d of %d profiles were answered", at, len(list))
	}
}
