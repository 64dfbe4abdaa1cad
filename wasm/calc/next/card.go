package next

import (
	"strconv"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/process"
	"kerfbook/wasm/unit"
)

// columns are those of the table of cuts, in its order.
const columns = "cut,pass,passes,machine,material,thickness_mm,wire_mm,dielectric,flushing,rate_mm2min,speed_mmmin,gap_um,left_um,ra_um,by,on,job,remark,source,place,provenance"

// card is the text of a card to print: what to set, what to read, and the rows to
// type afterwards. Empty places are for the pen.
func (in *form) card(b process.Taught) string {
	p := calc.LawOf(in.book).Plan(in.cut(b.Wire, b.Height), b.Passes)
	mm := func(v unit.Length, decimals int) string {
		return unit.Number(float64(v), unit.Style{Decimals: decimals, Trim: true})
	}
	machine := in.machine
	if r, ok := in.book.Find("machines", in.machine); ok {
		machine = r.Cell("name")
	}
	material := in.material
	if r, ok := in.book.Find("materials", in.material); ok {
		material = r.Cell("name")
	}
	out := "TEST CUT CARD\n\n" +
		"Date ____________   By ____________   Job or card no. ____________\n" +
		"Machine: " + machine + "   Fluid: " + in.dielectric + "   Conductivity ________   Temperature ________\n" +
		"Material: " + material + "   Height: " + mm(b.Height, 3) + " mm, measured ________\n" +
		"Wire: " + mm(b.Wire, 4) + " mm, measured ________   Kind and spool ____________\n" +
		"Flushing: ____________   Nozzle distance ________\n" +
		"Settings, in this shop's own words, pass by pass:\n"
	for i := range p.Passes {
		out += "  " + strconv.Itoa(i+1) + ". ________________________________________________\n"
	}
	shape := "a straight slot " + mm(process.TestPath, 0) + " mm long"
	if b.Passes > 1 {
		shape = "a square opening of " + mm(process.TestPath/4, 1) + " mm, " + mm(process.TestPath, 0) + " mm around, its slug held or caught as usual,"
	}
	out += "\nCUT " + shape + " in waste of this height.\n" +
		"About " + unit.Fixed(b.Hours, 2) + " h, a quarter of an hour for clamping, threading and reading in it.\n\n" +
		"pass   offset mm   leaves µm   takes µm   begun   ended   path mm\n"
	for i, x := range p.Passes {
		takes := "the slot"
		if i > 0 {
			takes = unit.Fixed(float64(x.Takes)*1000, 1)
		}
		out += pad(strconv.Itoa(i+1), 7) + pad(unit.Fixed(float64(x.Offset), 4), 12) + pad(unit.Fixed(float64(x.Left)*1000, 1), 12) + pad(takes, 11) + "______  ______  ______\n"
	}
	last := strconv.Itoa(b.Passes)
	out += "\nThe offsets are the law's plan: the wire's middle from the finished wall, to start with. Your machine's own\n" +
		"settings win; write what you set.\n\n" +
		"READ\n" +
		"  Every pass, by the clock and not by the display: path / time = feed, mm/min.\n" +
		"  Area rate of pass 1 = feed x height:                       ________ mm2/min\n"
	for i := 2; i <= b.Passes; i++ {
		out += "  Feed of pass " + strconv.Itoa(i) + ":                                            ________ mm/min\n"
	}
	out += "  Gap of pass " + last + ", each side, at three heights:  ______  ______  ______ um\n"
	if b.Passes == 1 {
		out += "    (width of the slot - wire as measured) / 2\n"
	} else {
		out += "    offset set - wire as measured / 2 + half of what the opening came out too wide\n"
	}
	out += "  Ra of the wall after pass " + last + ", cut-off noted:  ______  ______  ______ um\n" +
		"  Read with: ____________________   Odd: ______________________________\n\n" +
		"AFTERWARDS, a line a pass for the table of cuts (cuts.csv): fill in the empty ones that you read, and leave the rest empty.\n" +
		columns + "\n"
	for i, x := range p.Passes {
		left := unit.Number(float64(x.Left)*1000, unit.Style{Decimals: 1, Trim: true})
		n := strconv.Itoa(i + 1)
		out += "____," + n + "," + last + "," + in.machine + "," + in.material + "," + mm(b.Height, 3) + "," + mm(b.Wire, 4) + "," + in.dielectric + ",____,"
		rate, speed, gap, ra := "", "", "", ""
		if i == 0 {
			rate = "____"
		} else {
			speed = "____"
		}
		if i == len(p.Passes)-1 {
			gap, ra = "____", "____"
		}
		out += rate + "," + speed + "," + gap + "," + left + "," + ra + ",____,____,____,test cut,,,measured\n"
	}
	return out + "\nA test cut is a cut like any other: the machine's manual and the shop's own rules stand above this card.\n"
}

func pad(s string, to int) string {
	for len(s) < to {
		s += " "
	}
	return s
}
