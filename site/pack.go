package site

import (
	"context"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/output"
)

// Target is a system that programs are packed for.
type Target = bundle.Target

// Targets is everything that is packed for.
func Targets() []Target { return bundle.Targets() }

// BuildProgram builds the command of the module at dir for a target into the
// file out, with the handbook and the compiled calculators inside.
func BuildProgram(ctx context.Context, dir string, t Target, wasm []byte, out string) error {
	return bundle.Program(ctx, dir, t, wasm, out)
}

// MakeFolder makes a folder and what is missing above it.
func MakeFolder(dir string) error { return output.MakeFolder(output.Disk(), dir) }

// ReplaceFile writes a file that belongs to no edition; its name always holds a
// whole file.
func ReplaceFile(name string, data []byte) error {
	return output.ReplaceFile(output.Disk(), name, data)
}

// Notices is the licence texts of everything that the command and the wasm of
// the module at dir link.
func Notices(ctx context.Context, dir string) (string, error) { return bundle.Notices(ctx, dir) }
