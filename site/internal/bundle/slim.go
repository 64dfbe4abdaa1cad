package bundle

import (
	"encoding/binary"
	"errors"
)

// Slim empties the parts of the Go runtime's program table that only name
// things in a stack trace: function names, file names and line numbers. They
// are a tenth of the packed bytes and no page can show them: what a reader is
// told of a fault is its message. What the runtime itself needs (stack sizes,
// pointer maps) stays. Emptied bytes are zero and keep their place, so every
// address stays good; then the data is written anew without its zeros. It returns a
// changed copy.
//
// The table's form is that of Go 1.20 to 1.26 for wasm (magic 0xfffffff1, 8-byte
// words); another form is an error, never a guess.
func Slim(wasm []byte) ([]byte, error) {
	m, err := readMemory(append([]byte(nil), wasm...))
	if err != nil {
		return nil, err
	}
	at, err := m.table()
	if err != nil {
		return nil, err
	}
	word := func(i int) int { return int(m.u64(at + 8*i)) }
	functions, names, units, files, steps, pcln := word(1), at+word(4), at+word(5), at+word(6), at+word(7), at+word(8)
	if !(names < units && units <= files && files < steps && steps < pcln) || pcln+8*functions > len(m.image) {
		return nil, errors.New("the calculators' program table is not of the known form")
	}
	m.clear(names, files) // function names and the units' file lists
	m.clear(files, steps) // file names
	// Tables of steps are shared between functions: what a needed one uses stays.
	needed := make([]bool, pcln-steps)
	for i := range functions {
		f := pcln + int(m.u32(pcln+8*i+4))
		if f+44 > len(m.image) {
			return nil, errors.New("the calculators' program table points outside itself")
		}
		keep := func(off int) error {
			end, err := m.stepsEnd(steps+off, pcln)
			for k := off; k < end-steps; k++ {
				needed[k] = true
			}
			return err
		}
		offs := []int{int(m.u32(f + 16))}
		for k := range int(m.u32(f + 28)) {
			if k != stackMaps {
				m.clear(f+44+4*k, f+48+4*k)
				continue
			}
			offs = append(offs, int(m.u32(f+44+4*k)))
		}
		for _, off := range offs {
			if off != 0 {
				if err := keep(off); err != nil {
					return nil, err
				}
			}
		}
		m.clear(f+4, f+8)   // name
		m.clear(f+20, f+28) // file and line tables: none
		m.clear(f+32, f+40) // unit and first line
	}
	for k, n := range needed {
		if !n {
			m.clear(steps+k, steps+k+1)
		}
	}
	if err := m.unread(at); err != nil {
		return nil, err
	}
	return strip(m.file, m.segments())
}

// stackMaps is the one of a function's tables by program counter that is read: which of
// its pointer maps holds. The others tell where a signal may stop it (there are no
// signals), what was inlined, and which arguments a trace may print.
const stackMaps = 1

// memory is the linear memory as the data section sets it, with the place of
// each byte in the file.
type memory struct {
	file  []byte
	image []byte
	place []int32 // 0 where no byte of the file stands
}

func (m *memory) u32(at int) uint32 { return binary.LittleEndian.Uint32(m.image[at:]) }
func (m *memory) u64(at int) uint64 { return binary.LittleEndian.Uint64(m.image[at:]) }

func (m *memory) clear(from, to int) {
	for i := from; i < to; i++ {
		m.image[i] = 0
		if p := m.place[i]; p != 0 {
			m.file[p] = 0
		}
	}
}

// stepsEnd returns the place after a table of steps: pairs of numbers in
// base 128, a zero ends it, but not as the first.
func (m *memory) stepsEnd(at, limit int) (int, error) {
	for first := true; at < limit; first = false {
		zero := m.image[at] == 0
		for range 2 {
			for at < limit && m.image[at]&0x80 != 0 {
				at++
			}
			at++
			if zero && !first {
				return at, nil
			}
		}
	}
	return at, errors.New("a table of steps in the calculators does not end")
}

func (m *memory) table() (int, error) {
	head := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}
	at := -1
	for i := 0; i+72 <= len(m.image); i += 8 {
		if string(m.image[i:i+8]) == string(head) {
			if at >= 0 {
				return 0, errors.New("the calculators have two program tables")
			}
			at = i
		}
	}
	if at < 0 {
		return 0, errors.New("the calculators have no program table of the known form: another Go toolchain?")
	}
	return at, nil
}

func readMemory(file []byte) (*memory, error) {
	m := &memory{file: file}
	if len(file) < 8 || string(file[:4]) != "\x00asm" {
		return nil, errors.New("this is not WebAssembly")
	}
	r := &reader{file: file, at: 8}
	for r.at < len(file) && r.err == nil {
		kind := r.byte()
		size := r.number()
		end := r.at + size
		if end > len(file) {
			return nil, errors.New("the WebAssembly is cut off")
		}
		if kind == 11 {
			for range r.number() {
				if r.number() != 0 || r.byte() != 0x41 {
					return nil, errors.New("the data of the WebAssembly is not of the known form")
				}
				to := r.signed()
				if r.byte() != 0x0b {
					return nil, errors.New("the data of the WebAssembly is not of the known form")
				}
				n := r.number()
				if r.err != nil || to < 0 || n < 0 || r.at+n > len(file) {
					return nil, errors.New("the WebAssembly is cut off")
				}
				if need := to + n; need > len(m.image) {
					m.image = append(m.image, make([]byte, need-len(m.image))...)
					m.place = append(m.place, make([]int32, need-len(m.place))...)
				}
				for k := range n {
					m.image[to+k], m.place[to+k] = file[r.at+k], int32(r.at+k)
				}
				r.at += n
			}
		}
		r.at = end
	}
	return m, r.err
}

// reader reads the numbers of a WebAssembly file.
type reader struct {
	file []byte
	at   int
	err  error
}

func (r *reader) byte() byte {
	if r.at >= len(r.file) {
		r.err = errors.New("the WebAssembly is cut off")
		return 0
	}
	r.at++
	return r.file[r.at-1]
}

func (r *reader) number() int {
	v := 0
	for shift := 0; shift < 35; shift += 7 {
		b := r.byte()
		v |= int(b&0x7f) << shift
		if b < 0x80 {
			break
		}
	}
	return v
}

func (r *reader) signed() int {
	v, shift := 0, 0
	for shift < 35 {
		b := r.byte()
		v |= int(b&0x7f) << shift
		shift += 7
		if b < 0x80 {
			if b&0x40 != 0 {
				v -= 1 << shift
			}
			break
		}
	}
	return v
}
