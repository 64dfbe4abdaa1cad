package book_test

import (
	"fmt"

	"kerfbook/wasm/book"
)

// A table is a CSV with its title and key in comments; the end of a column's name is
// its unit. A row is found by its key and read as a range.
func ExampleRead() {
	b, err := book.Read([]book.File{{Name: "pushes.csv", Text: `# title: Pushes
# key: case
case,load_low_npm,load_likely_npm,load_high_npm,source,place,provenance
rough,0.1,0.3,1,,,our estimate
`}})
	if err != nil {
		fmt.Println(err)
		return
	}
	row, ok := b.Find("pushes", "rough")
	fmt.Println(ok, row.Range("load", "npm", 1), row.Provenance)
	// Output:
	// true {0.1 0.3 1} our estimate
}
