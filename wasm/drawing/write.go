package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/geom"
)

// coordinate adds a number in six decimals at most.
func coordinate(s []byte, v float64) []byte {
	v = math.Round(v*1e6) / 1e6
	if v == 0 {
		v = 0 // no minus before nothing
	}
	return strconv.AppendFloat(s, v, 'f', -1, 64)
}

// room is how many bytes some groups take, when a piece takes so many.
func room(groups []Named, each int) int {
	n := 1024
	for _, g := range groups {
		for _, c := range g.Contours {
			n += len(c) * each
		}
	}
	return n
}

// Named is a group of contours with the name of its layer.
type Named struct {
	Name     string
	Contours []geom.Contour
}

// DXF writes contours as DXF of R12, in millimetres: lines and arcs, one layer for
// each group.
func DXF(groups []Named) string {
	s := make([]byte, 0, room(groups, 96))
	put := func(code, value string) {
		s = append(append(append(append(s, code...), '\n'), value...), '\n')
	}
	num := func(code string, v float64) {
		s = append(coordinate(append(append(s, code...), '\n'), v), '\n')
	}
	put("999", "millimetres")
	put("0", "SECTION")
	put("2", "HEADER")
	put("9", "$ACADVER")
	put("1", "AC1009")
	put("9", "$INSUNITS")
	put("70", "4")
	put("0", "ENDSEC")
	put("0", "SECTION")
	put("2", "ENTITIES")
	for _, g := range groups {
		for _, c := range g.Contours {
			for i := range c {
				p := &c[i]
				if p.R == 0 {
					put("0", "LINE")
					put("8", g.Name)
					num("10", p.A.X)
					num("20", p.A.Y)
					num("11", p.B.X)
					num("21", p.B.Y)
					continue
				}
				put("0", "ARC")
				put("8", g.Name)
				num("10", p.C.X)
				num("20", p.C.Y)
				num("40", p.R)
				a, b := p.Start, p.Start+p.Sweep
				if p.Sweep < 0 {
					a, b = b, a
				}
				num("50", degrees(a))
				num("51", degrees(b))
			}
		}
	}
	put("0", "ENDSEC")
	put("0", "EOF")
	return string(s)
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
			b.TakeBox(&q)
		}
	}
	s := make([]byte, 0, room(groups, 24))
	put := func(text string, v float64) { s = coordinate(append(s, text...), v) }
	put(`<svg xmlns="http://www.w3.org/2000/svg" width="`, b.X1-b.X0)
	put(`mm" height="`, b.Y1-b.Y0)
	put(`mm" viewBox="`, b.X0)
	put(" ", -b.Y1)
	put(" ", b.X1-b.X0)
	put(" ", b.Y1-b.Y0)
	s = append(s, "\">\n"...)
	for _, g := range groups {
		put(`<path id="`+g.Name+`" fill="none" stroke="black" stroke-width="`, b.Wide()/800)
		s = append(s, `" d="`...)
		for _, c := range g.Contours {
			for i := range c {
				p := &c[i]
				if i == 0 {
					put("M", p.A.X)
					put(" ", -p.A.Y)
				}
				if p.R == 0 {
					put("L", p.B.X)
					put(" ", -p.B.Y)
					continue
				}
				put("A", p.R)
				put(" ", p.R)
				large, sweep := byte('0'), byte('0')
				if math.Abs(p.Sweep) > math.Pi {
					large = '1'
				}
				if p.Sweep < 0 {
					sweep = '1'
				}
				s = append(s, " 0 "...)
				s = append(s, large, ' ', sweep)
				put(" ", p.B.X)
				put(" ", -p.B.Y)
			}
			s = append(s, 'Z')
		}
		s = append(s, "\"/>\n"...)
	}
	return string(append(s, "</svg>\n"...))
}

// Words writes contours as ISO 6983 blocks: the path only. The first block is
// one that no control executes, so that nobody runs it as it is.
func Words(groups []Named) string {
	s := make([]byte, 0, room(groups, 24))
	put := func(text string, v float64) { s = fixed(append(s, text...), v) }
	s = append(s, "NOT A PROGRAM: A PATH ONLY. POST-PROCESS IT FOR YOUR MACHINE AND PROVE IT OUT.\nG21 G90\n"...)
	for _, g := range groups {
		s = append(s, "("+strings.ToUpper(g.Name)+")\n"...)
		for _, c := range g.Contours {
			for i := range c {
				p := &c[i]
				if i == 0 {
					put("G00 X", p.A.X)
					put(" Y", p.A.Y)
					s = append(s, '\n')
				}
				word := "G02 X"
				switch {
				case p.R == 0:
					word = "G01 X"
				case p.Sweep > 0:
					word = "G03 X"
				}
				put(word, p.B.X)
				put(" Y", p.B.Y)
				if p.R != 0 {
					put(" I", p.C.X-p.A.X)
					put(" J", p.C.Y-p.A.Y)
				}
				s = append(s, '\n')
			}
		}
	}
	return string(s)
}

// fixed always has a point: a control may read a number without one in its
// smallest unit.
func fixed(s []byte, v float64) []byte {
	n := len(s)
	if s = coordinate(s, math.Round(v*1e5)/1e5); !slices.Contains(s[n:], '.') {
		s = append(s, '.')
	}
	return s
}
