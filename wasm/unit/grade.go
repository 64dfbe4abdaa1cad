package unit

import (
	"math"
	"strconv"
	"strings"
)

// GradeLimit is the Ra in µm that an N grade allows at most: N1 = 0.025 µm,
// about doubling to N12 = 50 µm (ISO 1302, table; the steps are rounded there).
func GradeLimit(n int) (Roughness, bool) {
	list := [...]Roughness{0.025, 0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.3, 12.5, 25, 50}
	if n < 1 || n > len(list) {
		return 0, false
	}
	return list[n-1], true
}

// Nominal is the Ra in µm that a print means: where it stands at the rounded
// microinches that the table of N grades prints beside a grade, 32 µin beside N6,
// that grade's own limit, 0.8 µm; else the value as it is. A print that says 32 µin
// and one that says 0.8 µm ask for the same face (ISO 1302, table).
func Nominal(ra Roughness) Roughness {
	for i, uin := range [...]float64{1, 2, 4, 8, 16, 32, 63, 125, 250, 500, 1000, 2000} {
		if math.Abs(float64(ra)-uin*0.0254) < 1e-9*uin {
			ra, _ = GradeLimit(i + 1)
			break
		}
	}
	return ra
}

// VDIRoughness is the Ra in µm of a VDI 3400 class: 0.1 · 10^(K/20).
func VDIRoughness(k float64) Roughness { return Roughness(0.1 * math.Pow(10, k/20)) }

// grade reads "N5" and "VDI 24", alone or as the ends of a range; ok is false where the
// text is neither.
func (p *parser) grade() (ok bool, err error) {
	parts := strings.Split(upper(p.s), " TO ")
	if len(parts) > 2 || !strings.HasPrefix(parts[0], "N") && !strings.HasPrefix(parts[0], "VDI") {
		return false, nil
	}
	if len(parts) == 2 && !p.o.Ranges {
		return false, p.fail(0, len(p.s), "one value is wanted here, not a range")
	}
	rd := &p.rd
	for i, part := range parts {
		v, text, name, err := p.oneGrade(part)
		if err != nil {
			return false, err
		}
		if rd.Range.High = v; i == 0 {
			rd.Range.Low = v
		} else {
			text = " to " + text
		}
		rd.Text, rd.Unit = rd.Text+text, name
	}
	low, high := rd.Range.Low, rd.Range.High
	if low > high {
		return false, p.fail(0, len(p.s), "the range “"+rd.Text+"” runs downwards: the smaller value stands first")
	}
	rd.Range.Likely = low + (high-low)/2
	rd.Notes = []string{"a grade is an upper limit; the Ra it allows is used here"}
	if rd.Unit == "VDI" {
		rd.Notes[0] = "a VDI class stands for one Ra: 0.1 µm × 10^(class/20)"
	}
	return true, nil
}

func (p *parser) oneGrade(part string) (v float64, text, name string, err error) {
	if rest, ok := strings.CutPrefix(part, "VDI"); ok {
		rest, _ = strings.CutPrefix(strings.TrimSpace(rest), "3400 ") // the guideline's number
		k, e := strconv.ParseFloat(strings.TrimSpace(rest), 64)
		if e != nil || math.IsNaN(k) || k < 0 || k > 60 {
			return 0, "", "", p.fail(0, len(p.s), "“"+part+"” is not a VDI 3400 class; they run from 0 to 45")
		}
		return float64(VDIRoughness(k)), "VDI " + strconv.FormatFloat(k, 'g', -1, 64), "VDI", nil
	}
	n, e := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(part, "N")))
	limit, ok := GradeLimit(n)
	if e != nil || !ok {
		return 0, "", "", p.fail(0, len(p.s), "“"+part+"” is not a roughness grade; they run from N1 to N12")
	}
	return float64(limit), "N" + strconv.Itoa(n), "N", nil
}

// upper makes the letters a to z capital. Grades have no others, and the
// library's way brings the case of every alphabet.
func upper(s string) string {
	return turned(s, 'a')
}

// turned changes the case of 26 letters from the given one on.
func turned(s string, from byte) string {
	b := []byte(s)
	for i, c := range b {
		if c >= from && c < from+26 {
			b[i] = c ^ 0x20
		}
	}
	return string(b)
}
