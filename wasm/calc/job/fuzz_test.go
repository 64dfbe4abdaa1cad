package job

import (
	"strings"
	"testing"

	"kerfbook/wasm/book"
)

// FuzzRules puts any row into the table of rules: it is a message at its place or a
// rule that runs. Nothing panics, a message names the file and a line and says
// something, and jobs are decided all the same.
func FuzzRules(f *testing.F) {
	list := files(f)
	at := -1
	for i, file := range list {
		if file.Name == "rules.csv" {
			at = i
		}
	}
	shipped := list[at].Text
	lines := strings.Count(shipped, "\n")
	for _, row := range []string{
		"x,dielectric,oil,hieght > 40 mm,,t,p,,,invented", "x,dielectric,oil,height > 40,,t,p,,,invented", "x,passes,>= height,,,t,p,,,invented",
		"x,passes,>= finish-passes,passes > 3 and and height = ,x y,{rate.total.likely}[{],p,,,invented", "x,wire,<= 1e309 mm,,,t,,,,invented", "x,can,no,radius != radius,x,\"[{radius}\",,,,invented",
		"x,caution,,,,DANGER,,,,invented", "x,against,wire,wire > NaN mm,,{ladder},,,,invented", ",,,,,,,,,invented", "x,polarity,wire-plus,hours >= 3,x,{:}{.}{a.b.c:small},,,,invented",
		"x,note,,material = carbide and cobalt > 5 %,,{cobalt:pass}{passes:pass},,,,invented",
	} {
		f.Add(row)
	}
	f.Fuzz(func(t *testing.T, row string) {
		if len(row) > 2000 {
			return
		}
		with := append([]book.File{}, list...)
		with[at].Text = shipped + row + "\n"
		b, err := book.Read(with)
		if err != nil {
			if err.Error() == "" {
				t.Error("the table is refused without a reason")
			}
			return
		}
		list, faults := Rules(b)
		for _, one := range faults {
			if one.Text == "" || one.Line < 1 || one.Line > lines+2+strings.Count(row, "\n")+strings.Count(row, "\r") || one.Col < 1 {
				t.Errorf("%q: %+v", row, one)
			}
		}
		if len(list) < lines-6 {
			t.Errorf("%q: only %d of %d rules are left", row, len(list), lines)
		}
		if a := Sweep(b, nil, 3, 1); a.Cases != 3 {
			t.Errorf("%q: %d jobs were decided", row, a.Cases)
		}
	})
}
