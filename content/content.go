// Package content is the handbook as a packed program carries it inside. Only
// such a program imports it; everything else reads the folder.
package content

import "embed"

// FS is the content folder. A test holds it against the folder, so that a new
// file or folder cannot be left out.
//
//go:embed first.md bibliography.yaml glossary.yaml edition.yaml data handbook shop
var FS embed.FS
