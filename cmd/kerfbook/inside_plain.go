//go:build !packed

package main

// inside is what this program carries: nothing. It works on folders, and
// compiles the calculators when it publishes.
func inside() *carried { return nil }
