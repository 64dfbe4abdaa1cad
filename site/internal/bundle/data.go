package bundle

import (
	"encoding/binary"
	"errors"
)

// Words of the runtime's module data (Go 1.26 for wasm) that are used here, by their
// place from its start. The first is the address of the program table.
const (
	findTable = 19 // the table by which a function is found from a program counter
	leastPC   = 20
	mostPC    = 21
	textBase  = 22
)

// A bucket of the table of functions covers so many program counters and has so many
// bytes: the number of its first function and 16 steps from it.
const (
	bucketPCs  = 4096
	bucketSize = 20
)

// unread empties what is never read of the table by which a function is found. On wasm
// a program counter is the function's number times 65536 and a block in it, and it is
// looked up without the block: so of each function's sixteen buckets only the first is
// read, and it is a megabyte of copies. The buckets must be what a lookup would find
// there; another form is an error, never a guess.
func (m *memory) unread(program int) error {
	at := -1
	for i := 0; i+8*(textBase+1) <= len(m.image); i += 8 {
		if m.u64(i) == uint64(program) && m.u64(i+8) == uint64(program)+m.u64(program+32) {
			if at >= 0 {
				return errors.New("the calculators have two module tables")
			}
			at = i
		}
	}
	if at < 0 {
		return errors.New("the calculators have no module table of the known form")
	}
	word := func(i int) int { return int(m.u64(at + 8*i)) }
	const function = 1 << 16
	first, base := word(leastPC), word(textBase)
	table, count := word(findTable), (word(mostPC)-first)/function
	if first%function != 0 || base%function != 0 || count <= 0 || table < 0 || table+count*function/bucketPCs*bucketSize > len(m.image) {
		return errors.New("the calculators' module table is not of the known form")
	}
	for i := range count * function / bucketPCs {
		b := table + i*bucketSize
		if m.u32(b) != uint32(i*bucketPCs/function) && m.u32(b) != 0 || m.u64(b+4) != 0 || m.u64(b+12) != 0 {
			return errors.New("the calculators' table of functions is not of the known form")
		}
		if i*bucketPCs%function != 0 {
			m.clear(b, b+bucketSize)
		}
	}
	return nil
}

// gap is how many zeros between two runs of data are written rather than left out: a
// run of its own costs about as much, and each packs worse than zeros.
const gap = 32

// segments writes the memory's data section anew: runs of what is not zero, since
// memory begins as zeros. The linker writes one for every few bytes, and their heads
// were a quarter of the packed data.
func (m *memory) segments() []byte {
	var body []byte
	count := 0
	for at := 0; at < len(m.image); {
		if m.image[at] == 0 {
			at++
			continue
		}
		end, zeros := at, 0
		for k := at; k < len(m.image) && zeros <= gap; k++ {
			if zeros++; m.image[k] != 0 {
				end, zeros = k+1, 0
			}
		}
		body = append(body, 0, 0x41) // into memory 0, at a constant
		body = append(appendSigned(body, at), 0x0b)
		body = binary.AppendUvarint(body, uint64(end-at))
		body = append(body, m.image[at:end]...)
		at, count = end, count+1
	}
	return append(binary.AppendUvarint(nil, uint64(count)), body...)
}

// appendSigned appends a number in signed base 128.
func appendSigned(to []byte, v int) []byte {
	for {
		b := byte(v & 0x7f)
		v >>= 7
		if v == 0 && b&0x40 == 0 {
			return append(to, b)
		}
		to = append(to, b|0x80)
	}
}
