//go:build !unix

package site

import "time"

// processorTime is not asked of this system: 0 is told.
func processorTime() time.Duration { return 0 }
