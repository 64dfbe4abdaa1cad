//go:build !unix

package site

import "errors"

// pipe makes a named pipe, which a folder cannot hold here.
func pipe(string) error { return errors.ErrUnsupported }
