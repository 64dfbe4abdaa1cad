package bundle

import (
	"bytes"
	"context"
	"encoding/binary"
	"strings"
	"testing"
)

// plain is the wasm as the linker leaves it.
func plain(t *testing.T) []byte {
	t.Helper()
	wasm, err := linked(context.Background(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	return wasm
}

// TestSegments: the data written anew sets memory as the linker's does, but for what is
// emptied, which is zero; and it is in few pieces.
func TestSegments(t *testing.T) {
	was, err := readMemory(plain(t))
	if err != nil {
		t.Fatal(err)
	}
	slim, err := Wasm(context.Background(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	now, err := readMemory(slim)
	if err != nil {
		t.Fatal(err)
	}
	if len(now.image) > len(was.image) {
		t.Fatalf("memory of %d bytes became %d", len(was.image), len(now.image))
	}
	emptied := 0
	for i, b := range was.image {
		n := byte(0)
		if i < len(now.image) {
			n = now.image[i]
		}
		if n != b {
			if emptied++; n != 0 {
				t.Fatalf("byte %d of memory is %d, was %d", i, n, b)
			}
		}
	}
	if emptied < 100_000 {
		t.Errorf("only %d bytes are emptied", emptied)
	}
	again := (&memory{image: now.image}).segments()
	n, _ := binary.Uvarint(again)
	if n > 20_000 {
		t.Errorf("the data is in %d pieces", n)
	}
}

// TestUnread: the buckets that are read stay, the others are empty, and a table of another
// form is an error.
func TestUnread(t *testing.T) {
	wasm := plain(t)
	m, err := readMemory(append([]byte{}, wasm...))
	if err != nil {
		t.Fatal(err)
	}
	program, err := m.table()
	if err != nil {
		t.Fatal(err)
	}
	was := bytes.Clone(m.image)
	if err := m.unread(program); err != nil {
		t.Fatal(err)
	}
	at := bytes.Index(was, binary.LittleEndian.AppendUint64(binary.LittleEndian.AppendUint64(nil, uint64(program)), uint64(program)+m.u64(program+32)))
	table := int(m.u64(at + 8*findTable))
	for _, function := range []int{1, 7, 1000, 2999} {
		b := table + function*16*bucketSize
		if got := binary.LittleEndian.Uint32(m.image[b:]); got != uint32(function) {
			t.Errorf("function %d is found as %d", function, got)
		}
		if !bytes.Equal(m.image[b+bucketSize:b+16*bucketSize], make([]byte, 15*bucketSize)) {
			t.Errorf("function %d: buckets that nobody reads are not empty", function)
		}
	}
	for _, c := range []struct {
		name  string
		spoil func(m *memory)
	}{
		{"table of functions", func(m *memory) { m.image[table+5*16*bucketSize+6] = 1 }},
		{"module table", func(m *memory) { m.image[at+8*leastPC] = 1 }},
		{"no module table", func(m *memory) { m.image[at] ^= 1 }},
	} {
		bad := &memory{image: bytes.Clone(was), place: m.place, file: bytes.Clone(wasm)}
		c.spoil(bad)
		if err := bad.unread(program); err == nil || !strings.Contains(err.Error(), c.name) {
			t.Errorf("%s: the error is %v", c.name, err)
		}
	}
}
