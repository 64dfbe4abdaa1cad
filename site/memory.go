package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"sync"

	"kerfbook/site/internal/memo"
	"kerfbook/site/internal/output"
	"kerfbook/site/internal/source"
)

// Memory remembers what the calculators answered, from one publication to the next
// and, in a folder, from one command to the next. An answer is found again by the
// program that computed it, the tables and the inputs, so nothing in it can be out
// of date; a file in the folder that is damaged or foreign is evaluated anew and
// replaced. Several commands may use one folder at once.
type Memory struct {
	dir, code string
	answers   *memo.Memory
	mu        sync.Mutex
	read      map[string]bool // files that were looked for
	said      error
}

// mostRemembered is how many files the folder holds: one for each program and set
// of tables; the newest stay.
const mostRemembered = 12

// OpenMemory returns a memory. dir is the folder that keeps it, "" for none; code
// names the program that computes, a digest of its bytes.
func OpenMemory(dir, code string) *Memory {
	return &Memory{dir: dir, code: code, answers: memo.New(), read: map[string]bool{}}
}

// Err is why the folder could not keep the answers, or nil: a publication is whole
// without it.
func (m *Memory) Err() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.said
}

// begin remembers for a publication of this content. A nil memory remembers nothing.
func (m *Memory) begin(c *source.Content) *memo.Run {
	if m == nil || c.Book == nil {
		return nil
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if name := m.file(c); m.dir != "" && !m.read[name] {
		m.read[name] = true
		if data, err := output.Disk().ReadFile(name); err == nil {
			_ = m.answers.Read(data) // what cannot be read is evaluated anew, and written anew
		}
	}
	return m.answers.Begin(c.Book, c.Base)
}

// keep writes what a publication used, if some of it is new.
func (m *Memory) keep(c *source.Content, run *memo.Run) {
	if m == nil || m.dir == "" || run.Fresh() == 0 {
		return
	}
	data, err := run.Write()
	if err == nil {
		err = output.KeepFile(output.Disk(), m.file(c), data, mostRemembered)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.said = err; errors.Is(err, fs.ErrPermission) {
		m.dir = "" // it will not be allowed later either
	}
}

// file is where the answers on these tables are kept.
func (m *Memory) file(c *source.Content) string {
	h := sha256.New()
	h.Write([]byte(m.code + "\n" + c.Book.Canonical()))
	if c.Base != nil {
		h.Write([]byte(c.Base.Canonical()))
	}
	return filepath.Join(m.dir, "answers-"+hex.EncodeToString(h.Sum(nil)[:16])+".bin")
}
