// Package memo remembers what calculators answered, so that a publication
// evaluates only what changed since the last one. An answer is found again by a
// digest of the program that computed it, of the tables, and of the inputs; what
// is remembered is the answer as values, and every byte of a page comes out as if
// it had been computed anew. It may import calc, book and the standard library;
// it writes nothing to disk.
package memo

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"sync"

	"kerfbook/wasm/book"
	"kerfbook/wasm/calc"
)

// Memory holds answers. It may be used by several goroutines.
type Memory struct {
	mu   sync.Mutex
	kept map[key]*kept
}

type key [sha256.Size]byte

// kept is one answer without what belongs to the set and the book that gave it:
// the declarations of the fields and the rows of the tables, which are put back.
type kept struct {
	Fields []calc.State // their Field is left out
	Answer calc.Answer  // its Rows are left out
	Rows   []rowName
}

type rowName struct{ Table, Key string }

// New returns a memory that remembers nothing yet.
func New() *Memory { return &Memory{kept: map[key]*kept{}} }

// Run is one publication's use of a memory. A nil run evaluates everything.
type Run struct {
	memory *Memory
	mu     sync.Mutex
	books  map[*book.Book]key
	fields map[*calc.Calculator][]calc.Field
	used   map[key]bool
	fresh  int
}

// Begin starts a publication on these books.
func (m *Memory) Begin(books ...*book.Book) *Run {
	r := &Run{memory: m, books: map[*book.Book]key{}, fields: map[*calc.Calculator][]calc.Field{}, used: map[key]bool{}}
	for _, b := range books {
		if b != nil {
			r.books[b] = sha256.Sum256([]byte(b.Canonical()))
		}
	}
	return r
}

// Eval is k.Eval(b, in), remembered.
func (r *Run) Eval(k *calc.Calculator, b *book.Book, in calc.Input) *calc.Reply {
	if r == nil {
		return k.Eval(b, in)
	}
	tables, known := r.books[b]
	if !known {
		return k.Eval(b, in)
	}
	name := keyOf(tables, k.ID, in)
	r.memory.mu.Lock()
	was := r.memory.kept[name]
	r.memory.mu.Unlock()
	if was != nil {
		if rep := r.recall(was, k, b); rep != nil {
			r.mark(name, 0)
			return rep
		}
	}
	rep := k.Eval(b, in)
	if now := r.keep(rep, b); now != nil {
		r.memory.mu.Lock()
		r.memory.kept[name] = now
		r.memory.mu.Unlock()
		r.mark(name, 1)
	}
	return rep
}

func (r *Run) mark(name key, fresh int) {
	r.mu.Lock()
	r.used[name] = true
	r.fresh += fresh
	r.mu.Unlock()
}

// Fresh is how many answers were evaluated because nobody remembered them.
func (r *Run) Fresh() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.fresh
}

// keyOf names an answer by everything that it depends on beside the program.
func keyOf(tables key, id string, in calc.Input) key {
	h := sha256.New()
	h.Write(tables[:])
	put := func(text string) {
		var n [8]byte
		binary.LittleEndian.PutUint64(n[:], uint64(len(text))) // with its length: no two inputs run together alike
		h.Write(n[:])
		h.Write([]byte(text))
	}
	put(id)
	put(fmt.Sprint(in.System, in.Strict, len(in.Values), len(in.Keys)))
	for _, m := range []map[string]string{in.Values, in.Keys} {
		for _, name := range slices.Sorted(maps.Keys(m)) {
			put(name)
			put(m[name])
		}
	}
	return key(h.Sum(nil))
}

// declared are the fields of a calculator, described once for each publication.
func (r *Run) declared(k *calc.Calculator, b *book.Book) []calc.Field {
	r.mu.Lock()
	fields, ok := r.fields[k]
	r.mu.Unlock()
	if !ok {
		fields, _ = k.Describe(b)
		r.mu.Lock()
		r.fields[k] = fields
		r.mu.Unlock()
	}
	return fields
}

// keep takes a reply apart; nil when it cannot be put together again as it was.
func (r *Run) keep(rep *calc.Reply, b *book.Book) *kept {
	fields := r.declared(rep.Calculator, b)
	if rep.Answer == nil || len(rep.Problems) > 0 || len(fields) != len(rep.Fields) {
		return nil
	}
	out := &kept{Answer: *rep.Answer}
	for i, st := range rep.Fields {
		if !same(st.Field, fields[i]) {
			return nil
		}
		st.Field = calc.Field{}
		out.Fields = append(out.Fields, st)
	}
	for _, row := range rep.Answer.Rows {
		if found, ok := b.Find(row.Table, row.Key); !ok || found.File != row.File || found.Line != row.Line {
			return nil
		}
		out.Rows = append(out.Rows, rowName{row.Table, row.Key})
	}
	out.Answer.Rows = nil
	return out
}

// same compares two declarations but for their closures.
func same(a, b calc.Field) bool {
	a.Fallback, b.Fallback, a.ShowIf, b.ShowIf = nil, nil, nil, nil
	return reflect.DeepEqual(a, b)
}

// recall puts a reply together again; nil when this calculator is not the one that
// gave it.
func (r *Run) recall(was *kept, k *calc.Calculator, b *book.Book) *calc.Reply {
	fields := r.declared(k, b)
	if len(fields) != len(was.Fields) {
		return nil
	}
	answer := was.Answer
	rep := &calc.Reply{Calculator: k, Answer: &answer, Fields: slices.Clone(was.Fields)}
	for i := range rep.Fields {
		rep.Fields[i].Field = fields[i]
	}
	for _, name := range was.Rows {
		row, ok := b.Find(name.Table, name.Key)
		if !ok {
			return nil
		}
		answer.Rows = append(answer.Rows, row)
	}
	return rep
}

// entry is one remembered answer in a file.
type entry struct {
	Name key
	Kept *kept
}

// head begins a file of answers; the digest of what follows stands after it.
const head = "kerfbook answers 1\n"

// Write returns the answers that the publication used, for Read.
func (r *Run) Write() ([]byte, error) {
	r.mu.Lock()
	names := slices.SortedFunc(maps.Keys(r.used), func(a, b key) int { return bytes.Compare(a[:], b[:]) })
	r.mu.Unlock()
	r.memory.mu.Lock()
	defer r.memory.mu.Unlock()
	var list []entry
	for _, name := range names {
		list = append(list, entry{name, r.memory.kept[name]})
	}
	var body bytes.Buffer
	if err := gob.NewEncoder(&body).Encode(list); err != nil {
		return nil, fmt.Errorf("the answers cannot be kept: %w", err)
	}
	digest := sha256.Sum256(body.Bytes())
	return slices.Concat([]byte(head), digest[:], body.Bytes()), nil
}

// Read adds what Write returned. Anything else, or a file that was cut off or
// changed, is an error and adds nothing.
func (m *Memory) Read(data []byte) error {
	rest, ok := bytes.CutPrefix(data, []byte(head))
	if !ok || len(rest) < sha256.Size {
		return errors.New("this is no file of remembered answers")
	}
	digest, body := rest[:sha256.Size], rest[sha256.Size:]
	if sum := sha256.Sum256(body); !bytes.Equal(sum[:], digest) {
		return errors.New("the file of remembered answers is damaged")
	}
	var list []entry
	if err := gob.NewDecoder(bytes.NewReader(body)).Decode(&list); err != nil {
		return fmt.Errorf("the remembered answers cannot be read: %w", err)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, e := range list {
		if e.Kept != nil {
			m.kept[e.Name] = e.Kept
		}
	}
	return nil
}
