package main

import (
	"context"
	"io"

	"kerfbook/site"
)

type noticesCmd struct{}

// Run prints the licence texts of everything that is shipped: those that the
// program carries, or, among the sources, those of the toolchain and its modules.
func (*noticesCmd) Run(ctx context.Context, s *streams) error {
	if s.inside != nil {
		_, err := io.WriteString(s.out, s.inside.notices)
		return err
	}
	root, err := sourceRoot(".")
	if err != nil {
		return err
	}
	text, err := site.Notices(ctx, root)
	if err == nil {
		_, err = io.WriteString(s.out, text)
	}
	return err
}
