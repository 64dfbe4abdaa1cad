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

// Work is counted in looks at a piece or a cell of a grid, never by a clock. What
// a part needs is some hundred looks a piece, and up to a few thousand where its
// curves come as fine chords; the bounds leave several times that, and what is
// above them is no part: thousands of slivers across each other, thousands of
// pieces in one place.
const (
	looksAtLeast  = 2e7
	looksPerPiece = 3000
	cutsAtLeast   = 2e5
	cutsPerPiece  = 24
)

func looks(pieces int) int { return looksAtLeast + looksPerPiece*pieces }

// crowded names a place where too much meets.
func crowded(what string, at geom.Point) *Fault {
	return &Fault{"too many pieces meet or cross " + what + ": draw that place with fewer, or leave out what is no contour of the part", at}
}
