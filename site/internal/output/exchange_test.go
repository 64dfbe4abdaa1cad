//go:build linux || darwin

package output

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Where folders can be exchanged, exactly the former or the new edition stands whole, before whichever
// call the process dies; from the exchange on it is the new one.
func TestKillExchange(t *testing.T) {
	turned := 0
	for n := 1; n <= steps(t, false); n++ {
		dir := clean(t)
		killed := &script{on: Disk(), at: n, die: true}
		publish(killed, dir, after(), Options{})
		got := read(t, dir)
		switch {
		case maps.Equal(got, after()):
			if turned == 0 {
				turned = n
				if last := killed.calls[n-2]; !strings.HasPrefix(last, "exchange ") {
					t.Errorf("the new edition appeared by %s", last)
				}
			}
		case !maps.Equal(got, before()) || turned > 0:
			t.Errorf("killed before call %d, %s:\n%v", n, killed.calls[n-1], got)
		}
		if whole := healed(t, dir); !maps.Equal(whole, got) {
			t.Errorf("call %d: heal changed a whole edition", n)
		}
		drop(t, dir)
	}
	if turned == 0 {
		t.Error("the new edition never appeared")
	}
}

// A reader that looks all the time never finds the folder missing or without its record.
func TestReaderNeverMissesAnEdition(t *testing.T) {
	dir := clean(t)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for i := range 150 {
			content := before()
			if i%2 == 0 {
				content = after()
			}
			if err := publish(&script{on: Disk()}, dir, content, Options{}); err != nil {
				t.Error(err)
			}
		}
	}()
	for looks := 0; ; looks++ {
		select {
		case <-done:
			if looks < 100 {
				t.Errorf("only %d looks", looks)
			}
			return
		default:
		}
		record, err := os.ReadFile(filepath.Join(dir, Record))
		if err != nil {
			t.Fatalf("look %d: %v", looks, err)
		}
		if s := string(record); s != before()[Record] && s != after()[Record] {
			t.Fatalf("look %d: %q", looks, s)
		}
	}
}

func TestExchange(t *testing.T) {
	parent := t.TempDir()
	a, b := filepath.Join(parent, "a"), filepath.Join(parent, "b")
	must(t, os.MkdirAll(filepath.Join(a, "in-a"), 0o755))
	if err := exchange(a, b); !errors.Is(err, fs.ErrNotExist) || errors.Is(err, errors.ErrUnsupported) {
		t.Errorf("exchange with nothing: %v", err)
	}
	must(t, os.Mkdir(b, 0o755))
	must(t, exchange(a, b))
	if _, err := os.Stat(filepath.Join(b, "in-a")); err != nil {
		t.Error(err)
	}
}
