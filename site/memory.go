package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"path"
	"path/filepath"
	"strings"
	"sync"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/check"
	"kerfbook/site/internal/memo"
	"kerfbook/site/internal/output"
	"kerfbook/site/internal/source"
	"kerfbook/site/record"
	"kerfbook/site/theme"
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
	former    *Draft  // what this process published last
	made      *assets // what its pages share
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
	if name := m.file(m.dir, c); m.dir != "" && !m.read[name] {
		m.read[name] = true
		if data, err := output.Disk().ReadFile(name); err == nil {
			_ = m.answers.Read(data) // what cannot be read is evaluated anew, and written anew
		}
	}
	return m.answers.Begin(c.Book, c.Base)
}

// last is what this process published last, free of errors, or nil.
func (m *Memory) last() *Draft {
	if m == nil {
		return nil
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.former
}

// keep takes what a draft found, and writes its answers if some are new.
func (m *Memory) keep(d *Draft) {
	if m == nil {
		return
	}
	c, run := d.site.Content, d.run
	d.before = nil // else every former one would be kept
	m.mu.Lock()
	m.former = d
	dir := m.dir
	m.mu.Unlock()
	if dir == "" || run.Fresh() == 0 {
		return
	}
	data, err := run.Write()
	if err == nil {
		err = output.KeepFile(output.Disk(), m.file(dir, c), data, mostRemembered)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.said = err; err != nil {
		m.dir = "" // it will not be possible later either, and is said once
	}
}

// checked is the site of a draft; nil of none.
func (d *Draft) checked() *check.Site {
	if d == nil {
		return nil
	}
	return d.site
}

// sameTables reports whether the handbook's tables are those of the draft, to the
// byte. With a shop's laid over them they are read anew.
func (d *Draft) sameTables(c *source.Content) bool {
	if d == nil || c.Shop != nil || d.site.Content.Shop != nil {
		return false
	}
	tables := func(c *source.Content) map[string][]byte {
		out := map[string][]byte{}
		for name, text := range c.Texts {
			if path.Dir(name) == "data" {
				out[name] = text
			}
		}
		return out
	}
	return maps.EqualFunc(tables(c), tables(d.site.Content), bytes.Equal)
}

// assets are what all pages share and no content changes: the theme, and the
// programs that the pages load.
type assets struct {
	theme                               *theme.Theme
	style, script, work, wasm, wasmText asset
	packed                              string // the wasm, as a page opened from disk carries it
}

// asset is a file with its name in the edition, which holds its digest.
type asset struct {
	name, sum string
	data      []byte
}

func newAsset(stem, ending string, data []byte) asset {
	digest := record.Sum(data)
	return asset{stem + record.Short(digest) + ending, digest, data}
}

// bundled makes the assets, once for each program in the life of a memory.
func (m *Memory) bundled(wasm []byte, packed string) (*assets, error) {
	if m == nil {
		return newAssets(wasm, packed)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.made == nil || !bytes.Equal(m.made.wasm.data, wasm) {
		made, err := newAssets(wasm, packed)
		if err != nil {
			return nil, err
		}
		m.made = made
	}
	return m.made, nil
}

func newAssets(wasm []byte, packed string) (*assets, error) {
	a := &assets{wasm: newAsset("calc-", ".wasm", wasm), packed: packed}
	var err error
	if a.theme, err = theme.New(); err != nil {
		return nil, err
	}
	style, err := bundle.Style(theme.Sources(), "css/style.css")
	if err != nil {
		return nil, err
	}
	work, err := bundle.Script(theme.Sources(), "ts/work.ts", nil)
	if err != nil {
		return nil, err
	}
	a.style, a.work = newAsset("style-", ".css", style), newAsset("work-", ".js", work)
	script, err := bundle.Script(theme.Sources(), "ts/host.ts", map[string]string{"WORK_TEXT": string(work), "WORK_NAME": a.work.name})
	if err != nil {
		return nil, err
	}
	a.script = newAsset("host-", ".js", script)
	if a.packed == "" {
		a.packed = Pack(wasm)
	}
	a.wasmText = newAsset("", "", []byte("self.kerfbookWasm=\""+a.packed+"\";\n"))
	a.wasmText.name = strings.TrimSuffix(a.wasm.name, ".wasm") + ".js" // beside the wasm, under its digest
	return a, nil
}

// file is where the answers on these tables are kept.
func (m *Memory) file(dir string, c *source.Content) string {
	h := sha256.New()
	h.Write([]byte(m.code + "\n" + c.Book.Canonical()))
	if c.Base != nil {
		h.Write([]byte(c.Base.Canonical()))
	}
	return filepath.Join(dir, "answers-"+hex.EncodeToString(h.Sum(nil)[:16])+".bin")
}
