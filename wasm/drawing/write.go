package drawing

import (
	"math"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

func coordinate(v float64) string {
	v = math.Round(v*1e6) / 1e6
	if v == 0 {
		v = 0 // no minus before nothing
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Named is a group of contours with the name of its layer.
type Named struct {
	Name     string
	Contours []geom.Contour
}

// DXF writes contours as DXF of R12, in millimetres: lines and arcs, one layer for
// each group.
func DXF(groups []Named) string {
	var s strings.Builder
	put := func(code int, value string) {
		s.WriteString(strconv.Itoa(code) + "\n" + value + "\n")
	}
	num := func(code int, v float64) { put(code, coordinate(v)) }
	put(999, "millimetres")
	put(0, "SECTION")
	put(2, "HEADER")
	put(9, "$ACADVER")
	put(1, "AC1009")
	put(9, "$INSUNITS")
	put(70, "4")
	put(0, "ENDSEC")
	put(0, "SECTION")
	put(2, "ENTITIES")
	for _, g := range groups {
		for _, c := range g.Contours {
			for _, p := range c {
				if p.R == 0 {
					put(0, "LINE")
					put(8, g.Name)
					num(10, p.A.X)
					num(20, p.A.Y)
					num(11, p.B.X)
					num(21, p.B.Y)
					continue
				}
				put(0, "ARC")
				put(8, g.Name)
				num(10, p.C.X)
				num(20, p.C.Y)
				num(40, p.R)
				a, b := p.Start, p.Start+p.Sweep
				if p.Sweep < 0 {
					a, b = b, a
				}
				num(50, degrees(a))
				num(51, degrees(b))
			}
		}
	}
	put(0, "ENDSEC")
	put(0, "EOF")
	return s.String()
}

func degrees(a float64) float64 {
	d := math.Mod(a*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// SVG writes contours as SVG text in millimetres, y upward as drawn.
func SVG(groups []Named) string {
	b := geom.Nothing()
	for _, g := range groups {
		for _, c := range g.Contours {
			q := c.Box()
			b.Take(geom.Point{X: q.X0, Y: q.Y0})
			b.Take(geom.Point{X: q.X1, Y: q.Y1})
		}
	}
	w, h := coordinate(b.X1-b.X0), coordinate(b.Y1-b.Y0)
	var s strings.Builder
	s.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="` + w + `mm" height="` + h + `mm" viewBox="` + coordinate(b.X0) + " " + coordinate(-b.Y1) + " " + w + " " + h + "\">\n")
	for _, g := range groups {
		s.WriteString(`<path id="` + g.Name + `" fill="none" stroke="black" stroke-width="` + coordinate(b.Wide()/800) + `" d="`)
		for _, c := range g.Contours {
			for i, p := range c {
				if i == 0 {
					s.WriteString("M" + coordinate(p.A.X) + " " + coordinate(-p.A.Y))
				}
				if p.R == 0 {
					s.WriteString("L" + coordinate(p.B.X) + " " + coordinate(-p.B.Y))
					continue
				}
				large, sweep := "0", "0"
				if math.Abs(p.Sweep) > math.Pi {
					large = "1"
				}
				if p.Sweep < 0 {
					sweep = "1"
				}
				s.WriteString("A" + coordinate(p.R) + " " + coordinate(p.R) + " 0 " + large + " " + sweep + " " + coordinate(p.B.X) + " " + coordinate(-p.B.Y))
			}
			s.WriteString("Z")
		}
		s.WriteString("\"/>\n")
	}
	s.WriteString("</svg>\n")
	return s.String()
}

// Words writes contours as ISO 6983 blocks: the path only. The first block is
// one that no control executes, so that nobody runs it as it is.
func Words(groups []Named) string {
	var s strings.Builder
	s.WriteString("NOT A PROGRAM: A PATH ONLY. POST-PROCESS IT FOR YOUR MACHINE AND PROVE IT OUT.\n")
	s.WriteString("G21 G90\n")
	for _, g := range groups {
		s.WriteString("(" + strings.ToUpper(g.Name) + ")\n")
		for _, c := range g.Contours {
			for i, p := range c {
				if i == 0 {
					s.WriteString("G00 X" + fixed(p.A.X) + " Y" + fixed(p.A.Y) + "\n")
				}
				switch {
				case p.R == 0:
					s.WriteString("G01 X" + fixed(p.B.X) + " Y" + fixed(p.B.Y) + "\n")
				case p.Sweep > 0:
					s.WriteString("G03 X" + fixed(p.B.X) + " Y" + fixed(p.B.Y) + " I" + fixed(p.C.X-p.A.X) + " J" + fixed(p.C.Y-p.A.Y) + "\n")
				default:
					s.WriteString("G02 X" + fixed(p.B.X) + " Y" + fixed(p.B.Y) + " I" + fixed(p.C.X-p.A.X) + " J" + fixed(p.C.Y-p.A.Y) + "\n")
				}
			}
		}
	}
	return s.String()
}

// fixed always has a point: a control may read a number without one in its
// smallest unit.
func fixed(v float64) string {
	t := coordinate(math.Round(v*1e5) / 1e5)
	if !strings.Contains(t, ".") {
		t += "."
	}
	return t
}
