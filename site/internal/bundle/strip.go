package bundle

import (
	"encoding/binary"
	"errors"
	"slices"
	"strings"
)

// tool reports whether a function belongs to the runtime's tools for its own
// makers: execution tracing, profiling, heap and hex dumps, scheduler reports,
// printing of stack traces. They run only when a program or its environment asks
// for them, and no page can. Names are those of the name section. The two named
// first are called to find out whether a tool is on.
func tool(name string) bool {
	if name == "runtime.traceLocker.ok" || name == "runtime.traceStackTable" {
		return false
	}
	rest, ok := strings.CutPrefix(name, "runtime.")
	return ok && slices.ContainsFunc([]string{"traceAdvance", "traceLocker.", "traceWriter.", "__traceMap_", "__traceStackTable_", "__traceStringTable_",
		"__traceTypeTable_", "__traceRegionAlloc_", "traceStack", "traceReadCPU", "traceStopReadCPU", "traceSyncBatch", "traceRegisterLabelsAndReasons",
		"makeTraceFrame", "fpTracebackPartialExpand", "schedtrace", "__profBuf_", "__hexdumper_", "hexdump", "gcDumpObject", "dump", "printAncestorTraceback",
		"printOneCgoTraceback", "printCgoTraceback", "printScavTrace", "traceback1", "traceback2", "goroutineheader", "tracebacksomeothers", "tracebackHexdump",
		"startCheckmarks", "runCheckmark", "doRecordGoroutineProfile", "tryRecordGoroutineProfile"}, func(t string) bool { return strings.HasPrefix(rest, t) })
}

// strip puts one instruction that stops in the place of every tool's code and
// leaves out the sections of names; data is the new data section. Should a tool run after all, the page says
// that the calculator stopped; it never answers wrongly.
func strip(file, data []byte) ([]byte, error) {
	out := slices.Clone(file[:8])
	imports, names := 0, map[int]string{}
	var code []byte
	r := &reader{file: file, at: 8}
	type section struct {
		kind byte
		body []byte
	}
	var sections []section
	for r.at < len(file) && r.err == nil {
		kind, size := r.byte(), r.number()
		body := file[r.at : r.at+size]
		r.at += size
		switch kind {
		case 0:
			readNames(body, names)
			continue
		case 2:
			imports = (&reader{file: body}).number()
		case 10:
			code = body
		}
		sections = append(sections, section{kind, body})
	}
	if r.err != nil {
		return nil, r.err
	}
	if len(names) > 0 {
		c := &reader{file: code}
		n := c.number()
		slim := binary.AppendUvarint(nil, uint64(n))
		for i := range n {
			size := c.number()
			body := code[c.at : c.at+size]
			c.at += size
			if tool(names[i+imports]) {
				body = []byte{0, 0x00, 0x0b} // no locals, unreachable, end
			}
			slim = append(binary.AppendUvarint(slim, uint64(len(body))), body...)
		}
		if c.err != nil || c.at != len(code) {
			return nil, errors.New("the code of the WebAssembly is not of the known form")
		}
		code = slim
	}
	for _, s := range sections {
		switch s.kind {
		case 10:
			s.body = code
		case 11:
			s.body = data
		}
		out = append(out, s.kind)
		out = append(binary.AppendUvarint(out, uint64(len(s.body))), s.body...)
	}
	return out, nil
}

// readNames takes the functions' names from a custom section, if it is that of
// names.
func readNames(body []byte, names map[int]string) {
	r := &reader{file: body}
	if text := r.text(); text != "name" {
		return
	}
	for r.at < len(body) && r.err == nil {
		kind, size := r.byte(), r.number()
		end := r.at + size
		if kind == 1 {
			for range r.number() {
				i := r.number()
				names[i] = r.text()
			}
		}
		r.at = end
	}
}

func (r *reader) text() string {
	n := r.number()
	if r.at+n > len(r.file) {
		r.err = errors.New("the WebAssembly is cut off")
		return ""
	}
	r.at += n
	return string(r.file[r.at-n : r.at])
}
