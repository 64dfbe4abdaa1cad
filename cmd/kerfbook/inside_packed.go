//go:build packed

package main

import (
	_ "embed"

	"kerfbook/content"
	"kerfbook/testdata"
)

// calculators is the gzipped wasm. The file stands nowhere among the sources:
// `kerfbook pack` compiles it and lays it here by `go build -overlay`.
//
//go:embed calc.wasm.gz
var calculators string

// notices is the licence texts of what is linked, laid here in the same way.
//
//go:embed notices.txt
var notices string

// inside is what a packed program carries: the handbook, its evidence and the
// compiled calculators.
func inside() *carried {
	return &carried{content: content.FS, evidence: testdata.Evidence, calculators: calculators, notices: notices}
}
