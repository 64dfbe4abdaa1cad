package output

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"sync"
	"testing"
	"time"
)

// seen tells what a reader finds at dir: the word of a whole edition, or "" for no folder or an empty
// one. Anything else is an error: a mixed edition, one cut short, one without its record.
func seen(dir string) (string, error) {
	root, err := os.OpenRoot(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer root.Close()
	return seenIn(root)
}

// seenIn reads a folder as seen does; every file must be in the record, with its digest, and every
// file of the record must be there.
func seenIn(root *os.Root) (string, error) {
	digests := map[string]string{}
	err := fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || name == Record {
			return err
		}
		data, err := root.ReadFile(name)
		digests[name] = fmt.Sprintf("%x", sha256.Sum256(data))
		return err
	})
	if err != nil {
		return "", err
	}
	text, err := root.ReadFile(Record)
	if errors.Is(err, fs.ErrNotExist) && len(digests) == 0 {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	var record struct {
		Kerfbook string
		Files    []struct{ Name, Digest string }
	}
	if err := json.Unmarshal(text, &record); err != nil {
		return "", err
	}
	for _, f := range record.Files {
		if digests[f.Name] != f.Digest {
			return "", fmt.Errorf("the %s edition has another %s than its record, or none", record.Kerfbook, f.Name)
		}
		delete(digests, f.Name)
	}
	if len(digests) > 0 {
		return "", fmt.Errorf("the %s edition holds what its record does not name: %v", record.Kerfbook, digests)
	}
	return record.Kerfbook, nil
}

// watch is a reader that opens a folder over and over while others publish to it.
type watch struct {
	mu                        sync.Mutex
	looked                    *sync.Cond // after every look, and when the reader ends
	looks, overtaken, missing int
	words                     map[string]int
	ended                     bool
	stop                      chan struct{}
	wg                        sync.WaitGroup
}

// look starts a reader. Between two renames the folder may be missing; it is never mixed either way.
func look(t *testing.T, dir string, mayMiss bool) *watch {
	w := &watch{words: map[string]int{}, stop: make(chan struct{})}
	w.looked = sync.NewCond(&w.mu)
	w.wg.Go(func() {
		defer func() {
			w.mu.Lock()
			w.ended = true
			w.mu.Unlock()
			w.looked.Broadcast()
		}()
		for {
			select {
			case <-w.stop:
				return
			case <-time.After(200 * time.Microsecond): // leaves the processor to those that publish
			}
			if err := w.once(dir, mayMiss); err != nil {
				t.Errorf("look %d: %v", w.looks, err)
				return
			}
		}
	})
	return w
}

func (w *watch) once(dir string, mayMiss bool) error {
	note := func(do func()) {
		w.mu.Lock()
		w.looks++
		do()
		w.mu.Unlock()
		w.looked.Broadcast()
	}
	root, err := os.OpenRoot(dir)
	if errors.Is(err, fs.ErrNotExist) && mayMiss {
		note(func() { w.missing++ })
		return nil
	}
	if err != nil {
		return err
	}
	defer root.Close()
	word, err := seenIn(root)
	if err == nil && word != "" {
		note(func() { w.words[word]++ })
		return nil
	}
	// What was opened may have been replaced since, and is then removed; what stands there now counts.
	mine, gone := root.Stat(".")
	if now, there := os.Stat(dir); gone == nil && (there == nil && !os.SameFile(mine, now) || errors.Is(there, fs.ErrNotExist) && mayMiss) {
		note(func() { w.overtaken++ })
		return nil
	}
	return fmt.Errorf("found %q, %v", word, err)
}

// wait returns when a state is reached, or the reader ended on an error.
func (w *watch) wait(reached func() bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for !w.ended && !reached() {
		w.looked.Wait()
	}
}

// again waits for a look that began after the call: not the one at hand, the next.
func (w *watch) again() {
	w.mu.Lock()
	want := w.looks + 2
	w.mu.Unlock()
	w.wait(func() bool { return w.looks >= want })
}

// met waits until the reader has seen both editions whole n times each.
func (w *watch) met(n int) {
	w.wait(func() bool { return w.words["former"] >= n && w.words["new"] >= n })
}

// end stops the reader and fails when it did not see both editions whole, n times at least.
func (w *watch) end(t *testing.T, n int) {
	t.Helper()
	close(w.stop)
	w.wg.Wait()
	if w.words["former"] < n || w.words["new"] < n || len(w.words) != 2 {
		t.Errorf("the reader found whole: %v", w.words)
	}
	t.Logf("%d looks: whole %v, %d times overtaken, %d times missing", w.looks, w.words, w.overtaken, w.missing)
}
