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
	// limit is the heap at which the next answer ends with a collection.
	limit uint64
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
		shared.desk.Trusted = catalog.Shipped
	}
	shared.bytes = append([]byte(shared.desk.Ask(string(shared.bytes[:n]))), 0)
	collect()
	return int32(len(shared.bytes) - 1)
}

// collect frees what the last answers left once the heap has doubled. The
// runtime's own collections need idle goroutines to finish in, and an export
// has none: without this every answer would stay in memory for good.
func collect() {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.HeapAlloc > shared.limit {
		runtime.GC()
		runtime.ReadMemStats(&m)
		shared.limit = max(2*m.HeapAlloc, 16<<20)
	}
}

func address() int32 { return int32(uintptr(unsafe.Pointer(unsafe.SliceData(shared.bytes)))) }
