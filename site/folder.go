package site

import "kerfbook/site/internal/output"

// Folder is a sink that writes an edition beside the old one and exchanges the
// two in one step.
type Folder = output.Edition

// FolderOptions says how a folder is written.
type FolderOptions = output.Options

// OpenFolder prepares the writing of an edition into dir.
func OpenFolder(dir string, o FolderOptions) (*Folder, error) {
	return output.Open(output.Disk(), dir, o)
}

// HealFolder puts right what an interrupted publication left; it says what it
// did, or nothing.
func HealFolder(dir string) (string, error) { return output.Heal(output.Disk(), dir) }
