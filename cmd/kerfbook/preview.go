package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"mime"
	"net"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"kerfbook/site"
)

type previewCmd struct {
	Content string `help:"${content}" placeholder:"DIR" type:"path"`
	Shop    string `help:"A shop's own folder, laid over the handbook." placeholder:"DIR" type:"path"`
	Port    int    `help:"Port on this computer; 0 takes a free one." default:"8017"`
	Memory  string `help:"${memory}" placeholder:"DIR" type:"path" env:"KERFBOOK_MEMORY"`

	wasm []byte // compiled calculators; nil compiles them
}

// policy is the header every page is sent with: nothing from outside, no inline
// script, wasm allowed.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'"

// refreshScript waits for the next edition and loads the page anew.
const refreshScript = `new EventSource("/preview-events").addEventListener("edition",()=>location.reload());`

// preview holds the newest good edition in memory.
type preview struct {
	mu      sync.RWMutex
	files   site.Files
	waiting map[chan struct{}]bool
	host    string
}

// Run serves the handbook on loopback and makes it anew at every save.
func (c *previewCmd) Run(ctx context.Context, s *streams) error {
	h, err := openWith(s, c.Content, c.Shop)
	if err != nil {
		return err
	}
	if c.wasm == nil {
		if c.wasm, err = h.wasm(ctx, s); err != nil {
			return err
		}
	}
	l, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", c.Port))
	if err != nil {
		return fmt.Errorf("port %d on this computer is taken: try --port 0 for a free one: %w", c.Port, err)
	}
	p := &preview{waiting: map[chan struct{}]bool{}, host: l.Addr().String()}
	o := h.options()
	o.Wasm, o.Packed, o.Memory = c.wasm, site.Pack(c.wasm), remember(c.Memory)
	p.publish(ctx, s, o)
	notKept(s, o.Memory)
	if dirs := h.folders(); len(dirs) > 0 { // the handbook inside a program never changes
		watch, err := watchTree(dirs...)
		if err != nil {
			return err
		}
		defer watch.Close()
		go p.follow(ctx, watch, s, o)
	}
	server := &http.Server{Handler: p, ReadHeaderTimeout: 10 * time.Second}
	go func() {
		<-ctx.Done()
		stop, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		p.release()
		_ = server.Shutdown(stop)
	}()
	fmt.Fprintf(s.out, "preview at http://%s/ ; stop with Ctrl-C\n", p.host)
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

func watchTree(dirs ...string) (*fsnotify.Watcher, error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	for _, dir := range dirs {
		err = errors.Join(err, filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() {
				return w.Add(name)
			}
			return err
		}))
	}
	if err != nil {
		_ = w.Close()
		return nil, err
	}
	return w, nil
}

// follow publishes after each save; saves that come close together count once.
func (p *preview) follow(ctx context.Context, w *fsnotify.Watcher, s *streams, o site.Options) {
	var due <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return
		case ev, ok := <-w.Events:
			if !ok {
				return
			}
			if info, err := os.Stat(ev.Name); err == nil && info.IsDir() {
				_ = w.Add(ev.Name)
			}
			due = time.After(20 * time.Millisecond)
		case err, ok := <-w.Errors:
			if ok {
				fmt.Fprintf(s.err, "watching the content: %v\n", err)
			}
		case <-due:
			due = nil
			p.publish(ctx, s, o)
		}
	}
}

// publish makes an edition in memory; a faulty one is told and not shown.
func (p *preview) publish(ctx context.Context, s *streams, o site.Options) {
	start := time.Now()
	files := site.Files{}
	res, err := site.Publish(ctx, o, &lockedFiles{files: files})
	if res != nil {
		_ = show(s, res)
	}
	if err != nil {
		fmt.Fprintln(s.err, err)
		return
	}
	fmt.Fprintf(s.out, "%d pages in %d ms\n", res.Pages, time.Since(start).Milliseconds())
	p.mu.Lock()
	p.files = files
	p.mu.Unlock()
	p.release()
}

// lockedFiles lets several pages be handed over at once.
type lockedFiles struct {
	mu    sync.Mutex
	files site.Files
}

// Put keeps a file.
func (l *lockedFiles) Put(name string, data []byte) error {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.files.Put(name, data)
}

func (p *preview) release() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for ch := range p.waiting {
		close(ch)
	}
	p.waiting = map[chan struct{}]bool{}
}

// ServeHTTP answers this computer only. The Host header is checked, so that a
// page of another site cannot reach the preview through a name it controls.
func (p *preview) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	_, port, _ := net.SplitHostPort(p.host)
	if r.Host != p.host && r.Host != "localhost:"+port {
		http.Error(w, "this preview answers to http://"+p.host+"/ only", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		http.Error(w, "the preview only shows pages", http.StatusMethodNotAllowed)
		return
	}
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	switch name {
	case "":
		name = "index.html"
	case "preview-events":
		p.events(w, r)
		return
	case "preview-refresh.js":
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
		_, _ = w.Write([]byte(refreshScript))
		return
	}
	p.mu.RLock()
	data, ok := p.files[name]
	p.mu.RUnlock()
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Security-Policy", policy)
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.Header().Set("Cache-Control", "no-store")
	switch path.Ext(name) {
	case ".html":
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		data = append(data[:len(data):len(data)], "<script defer src=\"/preview-refresh.js\"></script>\n"...)
	case ".wasm":
		w.Header().Set("Content-Type", "application/wasm")
	case ".js":
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	default:
		w.Header().Set("Content-Type", mime.TypeByExtension(path.Ext(name)))
	}
	_, _ = w.Write(data)
}

// events holds the line open until the next edition.
func (p *preview) events(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	ch := make(chan struct{})
	p.mu.Lock()
	p.waiting[ch] = true
	p.mu.Unlock()
	_, _ = w.Write([]byte(": waiting\n\n"))
	_ = http.NewResponseController(w).Flush()
	select {
	case <-ch:
		_, _ = w.Write([]byte("event: edition\ndata: new\n\n"))
	case <-r.Context().Done():
		p.mu.Lock()
		delete(p.waiting, ch)
		p.mu.Unlock()
	}
}
