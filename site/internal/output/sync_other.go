//go:build !linux

package output

func syncTree(dir string) error { return syncEach(dir) }
