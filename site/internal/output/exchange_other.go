//go:build !linux && !darwin

package output

import "errors"

// exchange has no counterpart here.
func exchange(a, b string) error { return errors.ErrUnsupported }
