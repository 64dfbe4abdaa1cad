//go:build wasip1

// Command main is the calculators as a wasip1 reactor. Beside _initialize it
// exports buf, which makes room for a request, and ask, which answers it. It
// converts between memory and text and does nothing else.
package main

import (
	"runtime"
	"unsafe"

	"kerfbook/wasm/border"
	"kerfbook/wasm/catalog"
)

// shared is the one buffer of the border: the request comes in and the reply
// goes out through it, because an export can return neither.
var shared struct {
	bytes []byte
	desk  border.Desk
	// limit is the heap at which an answer ends with a collection, low the one at
	// which a rest is used for it.
	limit, low uint64
	// Asking the runtime what it holds stops everything, so that it is not done
	// after each answer: the next look comes after so many more. made is what had
	// been allocated, and answers what had been answered since, at the last look.
	look, answers, made uint64
}

func main() {}

// buf makes room for n bytes and returns where they start.
//
//go:wasmexport buf
func buf(n int32) int32 {
	if n < 0 {
		n = 0
	}
	if cap(shared.bytes) < int(n)+1 {
		shared.bytes = make([]byte, int(n)+1)
	}
	shared.bytes = shared.bytes[:cap(shared.bytes)]
	return address()
}

// ask answers the first n bytes of the buffer and returns the reply's length;
// where it starts is asked by buf(0).
//
//go:wasmexport ask
func ask(n int32) int32 {
	if n < 0 || int(n) > len(shared.bytes) {
		n = 0
	}
	if shared.desk.Trusted == nil {
		shared.desk.Trusted, shared.desk.Rest = catalog.Shipped, rest
	}
	shared.bytes = append([]byte(shared.desk.Ask(string(shared.bytes[:n]))), 0)
	collect()
	return int32(len(shared.bytes) - 1)
}

// collect frees what the last answers left once the heap has doubled. The
// runtime's own collections need idle goroutines to finish in, and an export
// has none: without this every answer would stay in memory for good.
func collect() {
	const often, bytes = 8, 2 << 20 // a look after eight answers, or sooner if they allocate much
	shared.answers++
	if shared.look > shared.answers {
		return
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	each := max((m.TotalAlloc-shared.made)/shared.answers, 1)
	shared.look, shared.answers, shared.made = min(max(bytes/each, 1), often), 0, m.TotalAlloc
	if m.HeapAlloc > shared.limit {
		free(&m)
	}
}

// rest uses a moment in which nobody types: a collection then keeps no key waiting.
func rest() {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.HeapAlloc > shared.low {
		free(&m)
	}
}

func free(m *runtime.MemStats) {
	runtime.GC()
	runtime.ReadMemStats(m)
	shared.limit, shared.low = max(2*m.HeapAlloc, 16<<20), max(m.HeapAlloc+m.HeapAlloc/2, 8<<20)
}

func address() int32 { return int32(uintptr(unsafe.Pointer(unsafe.SliceData(shared.bytes)))) }
