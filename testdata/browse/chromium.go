package browse

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"sync"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

type chromium struct {
	ctx    context.Context
	cancel []context.CancelFunc
	mu     sync.Mutex
	said   []string
}

var _ Browser = (*chromium)(nil)

// Chromium starts Debian's Chromium without a window.
func Chromium(o Options) (Browser, error) {
	base, stop := context.WithCancel(context.Background())
	list := append(append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...), chromedp.Headless, chromedp.DisableGPU, chromedp.WSURLReadTimeout(patience),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("hide-scrollbars", true))
	if os.Geteuid() == 0 {
		list = append(list, chromedp.NoSandbox) // Chromium's own rule for root
	}
	actx, stopAlloc := chromedp.NewExecAllocator(base, list...)
	ctx, stopTab := chromedp.NewContext(actx)
	c := &chromium{ctx: ctx, cancel: []context.CancelFunc{stopTab, stopAlloc, stop}}
	if err := c.prepare(o); err != nil {
		_ = c.Close()
		return nil, fmt.Errorf("chromium does not start (Debian package chromium): %w", err)
	}
	return c, nil
}

func (c *chromium) prepare(o Options) error {
	if err := chromedp.Do(c.ctx, chromedp.Navigate("about:blank")); err != nil {
		return err
	}
	err := chromedp.Listen(c.ctx, func(ev any) {
		c.mu.Lock()
		defer c.mu.Unlock()
		switch e := ev.(type) {
		case *runtime.EventConsoleAPICalled:
			if e.Type == "error" || e.Type == "warning" {
				text, _ := json.Marshal(e.Args)
				c.said = append(c.said, string(text))
			}
		case *runtime.EventExceptionThrown:
			text, _ := json.Marshal(e.ExceptionDetails)
			c.said = append(c.said, string(text))
		}
	})
	if err != nil {
		return err
	}
	if o.Dark {
		if _, err := chromedp.Call(c.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}}); err != nil {
			return err
		}
	}
	if o.NoScript {
		if _, err := chromedp.Call(c.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
			return err
		}
	}
	before := o.Before
	if o.NoStorage {
		before += `;Object.defineProperty(window, "localStorage", {get() { throw new DOMException("refused", "SecurityError"); }})`
	}
	if before == "" {
		return nil
	}
	_, err = chromedp.Call(c.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: before})
	return err
}

func (c *chromium) Name() string { return "chromium" }

func (c *chromium) Size(w, h int) error {
	return chromedp.Do(c.ctx, chromedp.EmulateViewport(int64(w), int64(h)))
}

func (c *chromium) Open(url string) error {
	c.mu.Lock()
	c.said = nil
	c.mu.Unlock()
	return chromedp.Do(c.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(url))
}

func (c *chromium) Eval(expression string, out any) error {
	text, err := chromedp.Run(c.ctx, chromedp.Evaluate[string]("JSON.stringify("+expression+") ?? 'null'"))
	if err != nil {
		return err
	}
	return decode(json.RawMessage(text), out)
}

func (c *chromium) Type(selector, text string) error {
	if err := field(c, selector); err != nil {
		return err
	}
	return chromedp.Do(c.ctx, chromedp.KeyEvent(text))
}

// keys types a text into whatever has the focus; \b takes the sign before away.
func (c *chromium) keys(text string) error { return chromedp.Do(c.ctx, chromedp.KeyEvent(text)) }

func (c *chromium) Press(key string) error {
	return chromedp.Do(c.ctx, chromedp.KeyEvent(map[string]string{"Tab": "\t", "Enter": "\r", "Escape": kb.Escape, "ArrowLeft": kb.ArrowLeft, "ArrowRight": kb.ArrowRight, "ArrowUp": kb.ArrowUp, "ArrowDown": kb.ArrowDown, "Home": kb.Home, "End": kb.End}[key]))
}

func (c *chromium) Screenshot(file string) error {
	png, err := chromedp.Run(c.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		return err
	}
	return os.WriteFile(file, png, 0o644)
}

func (c *chromium) Console() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return append([]string(nil), c.said...)
}

func (c *chromium) Close() error {
	for _, f := range c.cancel {
		f()
	}
	return nil
}
