package offset

import (
	"math"
	"strconv"

	"kerfbook/wasm/geom"
)

// Fault is why a contour was not answered, and where.
type Fault struct {
	Text string
	At   geom.Point // in the drawing's own coordinates
}

func (f *Fault) Error() string {
	n := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64) }
	return f.Text + ", at (" + n(f.At.X) + ", " + n(f.At.Y) + ")"
}

// Work is counted in looks at a piece or a cell of a grid, never by a clock. The
// bounds leave several times what parts were seen to need, with thousands of holes
// or with curves in fine chords; what is above them is no part: thousands of
// slivers across each other, thousands of pieces in one place.
const (
	looksAtLeast  = 8e6
	looksPerPiece = 400
	cutsAtLeast   = 5e4
	cutsPerPiece  = 4
)

func looks(pieces int) int { return looksAtLeast + looksPerPiece*pieces }

// crowded names a place where too much meets.
func crowded(what string, at geom.Point) *Fault {
	return &Fault{"too many pieces meet or cross " + what + ": draw that place with fewer, or leave out what is no contour of the part", at}
}
