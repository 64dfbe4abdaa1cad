// Package browse drives the two browsers the handbook is held to, for tests
// only: Chromium through its own protocol and WebKitGTK through W3C WebDriver.
// One interface, so that one suite runs on both. It may import chromedp and the
// standard library.
package browse

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// Browser is one engine with one page open.
type Browser interface {
	Name() string
	Size(w, h int) error
	Open(url string) error
	// Eval evaluates a JavaScript expression and decodes its JSON value.
	Eval(expression string, out any) error
	// Type waits for a field, selects what it holds and types over it, key by key. A
	// tab or a line feed at the end leaves the field.
	Type(selector, text string) error
	Press(key string) error // by its name in the UI Events standard: Tab, Enter, Escape, ArrowLeft …
	Screenshot(file string) error
	Console() []string // what the page complained about since Open
	Close() error
}

// Options of a browser.
type Options struct {
	Dark      bool   // prefers-color-scheme: dark (Chromium)
	NoScript  bool   // scripts do not run (Chromium)
	NoStorage bool   // localStorage throws (Chromium)
	Before    string // a script that runs before those of the page (Chromium)
}

// Need is something that a machine lacks.
type Need struct{ Program, Package string }

// Missing lists the programs and Debian packages that the browsers need and
// this machine does not have.
func Missing() []Need {
	var out []Need
	for _, n := range []Need{{"chromium", "chromium"}, {"WebKitWebDriver", "webkit2gtk-driver"}, {"Xvfb", "xvfb"}} {
		if _, err := exec.LookPath(n.Program); err != nil {
			out = append(out, n)
		}
	}
	return out
}

// patience is how long anything is waited for. It is far longer than any machine
// needs, however busy: what has not come by then does not come.
const patience = 4 * time.Minute

// Wait evaluates a condition until it holds.
func Wait(b Browser, condition string) error {
	return until(func() error {
		var ok bool
		if err := b.Eval("!!("+condition+")", &ok); err != nil || !ok {
			return fmt.Errorf("this does not hold: %s (%v)", condition, err)
		}
		return nil
	})
}

// Ready waits until the page's script has set up what it shows: the fields hear
// what is typed, and in the one file the first sheet stands.
func Ready(b Browser) error {
	return Wait(b, `document.readyState === "complete" && document.documentElement.classList.contains("script") && (!document.documentElement.classList.contains("one-file") || document.querySelector("article.sheet.shown") !== null)`)
}

// until tries again and again until it succeeds.
func until(try func() error) error {
	end := time.Now().Add(patience)
	for {
		err := try()
		if err == nil {
			return nil
		}
		if time.Now().After(end) {
			return fmt.Errorf("after %v %w", patience, err)
		}
		time.Sleep(25 * time.Millisecond)
	}
}

// Policy is the header a server sends with every page.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'"

// Server serves a folder on loopback with the policy and keeps what was missing.
type Server struct {
	URL     string
	server  *httptest.Server
	mu      sync.Mutex
	missing []string
}

// Serve starts a server of a folder.
func Serve(dir string) *Server {
	s := &Server{}
	files := http.FileServer(http.Dir(dir))
	s.server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", Policy)
		w.Header().Set("X-Content-Type-Options", "nosniff")
		if strings.HasSuffix(r.URL.Path, ".wasm") {
			w.Header().Set("Content-Type", "application/wasm")
		}
		if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(r.URL.Path))); err != nil {
			s.mu.Lock()
			s.missing = append(s.missing, r.URL.Path)
			s.mu.Unlock()
		}
		files.ServeHTTP(w, r)
	}))
	s.URL = s.server.URL
	return s
}

// Missing lists what was asked for and not there.
func (s *Server) Missing() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.missing...)
}

// Close stops the server.
func (s *Server) Close() { s.server.Close() }

func decode(raw json.RawMessage, out any) error {
	if out == nil {
		return nil
	}
	if len(raw) == 0 {
		return errors.New("the page answered nothing")
	}
	return json.Unmarshal(raw, out)
}

// field waits for a form's field to stand on the page and makes it the one that is
// typed into. In a frame WebKitGTK's driver gives no focus: there a click does.
func field(b Browser, selector string) error {
	quoted, err := json.Marshal(selector)
	if err != nil {
		return err
	}
	return Wait(b, "(e => { if (!e || e.getClientRects().length === 0) return false; e.focus(); e.select(); return true; })(document.querySelector("+string(quoted)+"))")
}
