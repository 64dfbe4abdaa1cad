// Package testdata is the evidence as a packed program carries it inside: what
// the computing was held against, for the page that says how far to trust it.
// It holds no test code.
package testdata

import "embed"

// Evidence is checks.csv and cases.csv.
//
//go:embed *.csv
var Evidence embed.FS
