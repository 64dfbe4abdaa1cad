// Package spent counts what a piece of work allocates, which is the same on a busy
// machine as on an idle one: a bound on time is none. Tests only.
package spent

import "runtime"

// Bytes returns how many bytes were allocated while do ran. Nothing else may be
// at work in the process.
func Bytes(do func()) int {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	do()
	runtime.ReadMemStats(&after)
	return int(after.TotalAlloc - before.TotalAlloc)
}
