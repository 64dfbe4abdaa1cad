//go:build linux || darwin

package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Where folders can be exchanged, exactly the former or the new edition stands whole, at whichever
// moment of whichever call the process dies; from the exchange on it is the new one.
func TestKillExchange(t *testing.T) {
	published := 0
	all := points(calls(t, clean(t), false))
	for _, p := range all {
		dir := clean(t)
		publish(&script{on: Disk(), at: p.n, die: p.when}, dir, after(), Options{})
		got, err := seen(dir)
		switch {
		case err != nil:
			t.Errorf("killed %s call %d, %s: %v", p.when, p.n, p.call, err)
		case got == "new":
			if published++; published == 1 && (p.when != behind || !strings.HasPrefix(p.call, "exchange ")) {
				t.Errorf("the new edition appeared %s %s", p.when, p.call)
			}
		case got != "former" || published > 0:
			t.Errorf("killed %s call %d, %s: %q", p.when, p.n, p.call, got)
		}
		healed(t, dir)
		if now, err := seen(dir); err != nil || now != got {
			t.Errorf("killed %s call %d, %s: heal made %q of %q, %v", p.when, p.n, p.call, now, got, err)
		}
		drop(t, dir)
	}
	if published == 0 {
		t.Error("the new edition never appeared")
	}
	t.Logf("%d calls, killed at %d moments; new edition after %d", all[len(all)-1].n, len(all), published)
}

// A reader that looks all the time finds a whole edition each time.
func TestReaderNeverMissesAnEdition(t *testing.T) {
	dir := clean(t)
	reader := look(t, dir, false)
	for i := range 400 {
		content := before()
		if i%2 == 0 {
			content = after()
		}
		must(t, publish(&script{on: Disk()}, dir, content, Options{}))
		if i%5 == 0 { // however busy the machine is, the reader has its turn: of one edition, then of the other
			reader.again()
		}
	}
	reader.end(t, 20)
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
