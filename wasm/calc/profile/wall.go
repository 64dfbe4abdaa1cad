package profile

import (
	"math"

	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// stood is the slenderness, length over thickness, up to which fins stood in a
// study: they were 117 to 500 µm thick, and those longer than 2 mm lost their
// shape. 2 mm over 500 µm and over 117 µm are the ends; the middle is that of
// the ratios. Ahmed 2021, abstract; the divisions are ours.
func stood() unit.Range {
	low, high := 2/0.5, 2/0.117
	return unit.Range{Low: low, Likely: math.Sqrt(low * high), High: high}
}

// askStand declares the slenderness that a wall bears.
func (in *form) askStand(f *calc.Form) {
	calc.AskGiven(f, &in.stand, new(bool), `stand: Walls stand up to, length over thickness
		advanced
		help Leave it empty for what one study of fins in tool steel tells. A comb of your own tells more.
		above 0: a wall has a length
		max 1000: this is a foil`).Fallback = func() calc.Fallback {
		return calc.Fallback{Range: stood(), Note: "from one study: " + unit.PrintRange(unit.RatioKind, stood(), unit.Style{Decimals: 1, Trim: true})}
	}
}

func (in *form) tellWall(f *calc.Form) {
	calc.Tell(f, &in.slender, "slenderness: Most slender wall, length over thickness\ndigits 1").Applies = func() bool { return in.slender > 0 }
	calc.TellChoice(f, &in.wall, "wall: The most slender wall\nword stands: stands\nword bends: breaks, bends or merges\nword not-asked: no wall runs straight")
}

// mostSlender finds the wall that is longest for its thickness, among those
// that run straight.
func (in *form) mostSlender() {
	if x := in.finds.Slender; x.Value > 0 && x.Long > 0 {
		in.slender, in.wallLong, in.wallThick = unit.Ratio(x.Long/x.Value), unit.Length(x.Long), unit.Length(x.Value)
	}
}

// judgeWall holds the most slender wall against what a wall bears.
func (in *form) judgeWall() {
	switch {
	case in.slender == 0:
		in.wall = "not-asked"
	case in.slender <= in.stand:
		in.wall = "stands"
	default:
		in.wall = "bends"
	}
}
