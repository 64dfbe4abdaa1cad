package offset_test

import (
	"fmt"

	"kerfbook/wasm/geom"
	"kerfbook/wasm/offset"
)

// A die opening of 10 by 10 mm, cut from inside with a reach of 0.15 mm: how long the
// path of the wire's middle is, and what stays in the four corners.
func ExampleOf() {
	square := geom.Contour{}
	at := []geom.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	for i, p := range at {
		square = append(square, geom.Line(p, at[(i+1)%4]))
	}
	r, err := offset.Of([]geom.Contour{square}, 0.15)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("path %.2f mm, %.6f mm² left in %d corners\n", r.Length, r.Leftover, len(r.Pockets))
	// Output:
	// path 38.80 mm, 0.019314 mm² left in 4 corners
}
