package unit_test

import (
	"fmt"

	"kerfbook/wasm/unit"
)

// What people say is read, and printed in the reader's system.
func ExampleRead() {
	for _, text := range []string{"3 thou", "0,15 mm", "5 to 12 µm", "0.06 ±0.01 mm", "1,250 mm"} {
		r, err := unit.Read(text, unit.LengthKind, unit.Options{Ranges: true})
		if err != nil {
			fmt.Println(text, "is refused:", err)
			continue
		}
		fmt.Println(text, "=", unit.PrintRange(unit.LengthKind, r.Range, unit.LengthKind.Style(unit.Metric)))
	}
	// Output:
	// 3 thou = 0.0762 mm
	// 0,15 mm = 0.15 mm
	// 5 to 12 µm = 0.0085 mm (0.005 to 0.012)
	// 0.06 ±0.01 mm = 0.06 mm (0.05 to 0.07)
	// 1,250 mm is refused: “1,250” can mean 1.250 or 1250; write a number and mm, µm, thou, tenths or in, for example 3 thou
}
