//go:build !linux

package packed

import "os/exec"

// isolate does nothing: other systems have no call for it.
func isolate(*exec.Cmd) {}
