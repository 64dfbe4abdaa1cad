package browse

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// webkit speaks W3C WebDriver to Debian's WebKitGTK driver.
type webkit struct {
	base, session  string
	screen, driver *exec.Cmd
	frame          [2]int // size of the frame a page stands in, zero for none
	dir            string
}

var _ Browser = (*webkit)(nil)

// WebKit starts WebKitGTK on a screen that nobody sees.
func WebKit(Options) (Browser, error) {
	mini, err := filepath.Glob("/usr/lib/*/webkit2gtk-4*/MiniBrowser")
	if err != nil || len(mini) == 0 {
		return nil, errors.New("there is no MiniBrowser of WebKitGTK (Debian package webkit2gtk-driver)")
	}
	w := &webkit{}
	if err := w.start(mini[len(mini)-1]); err != nil {
		_ = w.Close()
		return nil, fmt.Errorf("WebKitGTK does not start (Debian packages webkit2gtk-driver and xvfb): %w", err)
	}
	return w, nil
}

// start runs a screen, the driver and a session.
func (w *webkit) start(mini string) error {
	display, err := w.startScreen()
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	port := l.Addr().(*net.TCPAddr).Port
	_ = l.Close()
	w.base = fmt.Sprintf("http://127.0.0.1:%d", port)
	w.driver = exec.Command("WebKitWebDriver", fmt.Sprintf("--port=%d", port))
	w.driver.Env = append(os.Environ(), "DISPLAY=:"+display, "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "GDK_BACKEND=x11", "LIBGL_ALWAYS_SOFTWARE=1")
	w.driver.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := w.driver.Start(); err != nil {
		return err
	}
	if err := until(func() error { _, err := w.call(http.MethodGet, "/status", nil); return err }); err != nil {
		return err
	}
	raw, err := w.call(http.MethodPost, "/session", map[string]any{"capabilities": map[string]any{"alwaysMatch": map[string]any{
		"browserName": "MiniBrowser", "webkitgtk:browserOptions": map[string]any{"binary": mini, "args": []string{"--automation"}}}}})
	if err != nil {
		return err
	}
	var s struct{ SessionID string }
	if err := json.Unmarshal(raw, &s); err != nil {
		return err
	}
	w.session = "/session/" + s.SessionID
	return nil
}

// startScreen starts Xvfb, which picks a free display and tells it.
func (w *webkit) startScreen() (string, error) {
	r, pipe, err := os.Pipe()
	if err != nil {
		return "", err
	}
	defer r.Close()
	w.screen = exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1600x1500x24", "-nolisten", "tcp")
	w.screen.ExtraFiles = []*os.File{pipe}
	w.screen.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	err = w.screen.Start()
	_ = pipe.Close()
	if err != nil {
		return "", err
	}
	_ = r.SetReadDeadline(time.Now().Add(patience))
	line, err := bufio.NewReader(r).ReadString('\n')
	return strings.TrimSpace(line), err
}

// call makes one WebDriver call and returns its value.
func (w *webkit) call(method, path string, body any) (json.RawMessage, error) {
	var in io.Reader
	if body != nil {
		data, err := json.Marshal(body)
		if err != nil {
			return nil, err
		}
		in = bytes.NewReader(data)
	}
	req, err := http.NewRequest(method, w.base+path, in)
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/json")
	client := &http.Client{Timeout: patience}
	resp, err := client.Do(req)
	if err != nil {
		return nil, err
	}
	defer resp.Body.Close()
	var out struct{ Value json.RawMessage }
	if err := json.NewDecoder(resp.Body).Decode(&out); err != nil {
		return nil, err
	}
	if resp.StatusCode >= 400 {
		return nil, fmt.Errorf("WebDriver %s: %.400s", path, out.Value)
	}
	return out.Value, nil
}

func (w *webkit) post(path string, body any) (json.RawMessage, error) {
	return w.call(http.MethodPost, w.session+path, body)
}

func (w *webkit) Name() string { return "webkitgtk" }

// Size makes the page itself that large. The window has edges of its own, and a
// least width above a phone's: there the page is put into a frame of the size,
// which is its viewport.
func (w *webkit) Size(width, height int) error {
	if _, err := w.post("/frame", map[string]any{"id": nil}); err != nil {
		return err
	}
	w.frame = [2]int{}
	if width < 600 {
		w.frame = [2]int{width, height}
		width, height = 768, max(height, 600)
	}
	return until(func() error {
		inner, err := w.inner()
		if err != nil || inner == [2]int{width, height} {
			return err
		}
		raw, err := w.call(http.MethodGet, w.session+"/window/rect", nil)
		if err != nil {
			return err
		}
		var rect struct{ Width, Height float64 }
		if err := json.Unmarshal(raw, &rect); err != nil {
			return err
		}
		if _, err := w.post("/window/rect", map[string]any{"width": int(rect.Width) + width - inner[0], "height": int(rect.Height) + height - inner[1]}); err != nil {
			return err
		}
		// The window takes a size when it is drawn next. Asked too early it gives
		// the old one, and what that lacks would be added twice.
		for range 40 {
			if now, err := w.inner(); err != nil || now != inner {
				break
			}
			time.Sleep(25 * time.Millisecond)
		}
		return fmt.Errorf("the window does not take the size %dx%d, it has %v", width, height, inner)
	})
}

// inner is the size of the page.
func (w *webkit) inner() (size [2]int, err error) {
	err = w.Eval("[innerWidth, innerHeight]", &size)
	return size, err
}

func (w *webkit) Open(url string) error {
	if _, err := w.post("/url", map[string]any{"url": "about:blank"}); err != nil {
		return err
	}
	if w.frame == [2]int{} {
		_, err := w.post("/url", map[string]any{"url": url})
		return err
	}
	if w.dir == "" {
		dir, err := os.MkdirTemp("", "kerfbook-frame-")
		if err != nil {
			return err
		}
		w.dir = dir
	}
	page := fmt.Sprintf("<!doctype html><title>frame</title><iframe id=\"f\" width=\"%d\" height=\"%d\" frameborder=\"0\" src=\"%s\"></iframe>", w.frame[0], w.frame[1], url)
	name := filepath.Join(w.dir, "frame.html")
	if err := os.WriteFile(name, []byte(page), 0o644); err != nil {
		return err
	}
	if _, err := w.post("/url", map[string]any{"url": "file://" + name}); err != nil {
		return err
	}
	_, err := w.post("/frame", map[string]any{"id": 0})
	return err
}

func (w *webkit) Eval(expression string, out any) error {
	raw, err := w.post("/execute/sync", map[string]any{"script": "return JSON.stringify(" + expression + ") ?? 'null'", "args": []any{}})
	if err != nil {
		return err
	}
	var text string
	if err := json.Unmarshal(raw, &text); err != nil {
		return err
	}
	return decode(json.RawMessage(text), out)
}

func (w *webkit) Type(selector, text string) error {
	if err := field(w, selector); err != nil {
		return err
	}
	raw, err := w.post("/element", map[string]any{"using": "css selector", "value": selector})
	if err != nil {
		return err
	}
	var el map[string]string
	if err := json.Unmarshal(raw, &el); err != nil {
		return err
	}
	quoted, _ := json.Marshal(selector)
	if w.frame != [2]int{} {
		if err := w.Eval("(document.querySelector("+string(quoted)+").scrollIntoView({block: \"center\"}), 1)", nil); err != nil {
			return err
		}
		for _, id := range el {
			if _, err := w.post("/element/"+id+"/click", map[string]any{}); err != nil {
				return err
			}
		}
	}
	if err := w.Eval("(() => { const e = document.querySelector("+string(quoted)+"); e.focus(); e.select(); return true; })()", nil); err != nil {
		return err
	}
	if w.frame != [2]int{} { // the driver does not focus inside a frame; the keys themselves do
		return w.keys(text)
	}
	for _, id := range el {
		if _, err := w.post("/element/"+id+"/value", map[string]any{"text": strings.ReplaceAll(text, "\t", "\ue004")}); err != nil {
			return err
		}
	}
	return nil
}

func (w *webkit) Press(key string) error {
	return w.keys(map[string]string{"Tab": "\t", "Enter": "\r", "Escape": "\ue00c", "ArrowLeft": "\ue012", "ArrowRight": "\ue014", "ArrowUp": "\ue013", "ArrowDown": "\ue015", "Home": "\ue011", "End": "\ue010"}[key])
}

// keys presses the keys of a text, whatever has the focus.
func (w *webkit) keys(text string) error {
	var list []any
	for _, r := range strings.NewReplacer("\t", "\ue004", "\r", "\ue007").Replace(text) {
		list = append(list, map[string]any{"type": "keyDown", "value": string(r)}, map[string]any{"type": "keyUp", "value": string(r)})
	}
	_, err := w.post("/actions", map[string]any{"actions": []any{map[string]any{"type": "key", "id": "k", "actions": list}}})
	return err
}

func (w *webkit) Screenshot(file string) error {
	raw, err := w.call(http.MethodGet, w.session+"/screenshot", nil)
	if err != nil {
		return err
	}
	var text string
	if err := json.Unmarshal(raw, &text); err != nil {
		return err
	}
	png, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		return err
	}
	return os.WriteFile(file, png, 0o644)
}

// Console: WebKitGTK's driver has no log to ask for; what a page cannot do
// shows in what it answers.
func (w *webkit) Console() []string { return nil }

func (w *webkit) Close() error {
	if w.session != "" {
		_, _ = w.call(http.MethodDelete, w.session, nil)
	}
	if w.dir != "" {
		_ = os.RemoveAll(w.dir)
	}
	for _, c := range []*exec.Cmd{w.driver, w.screen} {
		if c != nil && c.Process != nil {
			_ = syscall.Kill(-c.Process.Pid, syscall.SIGKILL)
			_ = c.Wait()
		}
	}
	return nil
}
