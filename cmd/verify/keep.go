//go:build keep

package main

// The browser harness stands under testdata, which `go mod tidy` does not look
// into; this import, never compiled, keeps its modules in go.mod.
import _ "kerfbook/testdata/browse"
