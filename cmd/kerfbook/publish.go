package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"kerfbook/site"
	"kerfbook/site/diag"
)

type publishCmd struct {
	To       string `help:"Folder that will hold the handbook." default:"published" placeholder:"DIR"`
	Content  string `help:"${content}" placeholder:"DIR" type:"path"`
	Shop     string `help:"A shop's own folder, laid over the handbook." placeholder:"DIR" type:"path"`
	OneFile  bool   `help:"Also make handbook-one-file.html: the whole handbook in one file, for a tablet." default:"true" negatable:""`
	Compress bool   `help:"Also write .gz and .br copies for a web server."`
	Forget   bool   `help:"Work out every answer anew. Else what was worked out before, by this program, with these tables and inputs, is taken from the memory: the pages are the same."`
	Memory   string `help:"${memory}" placeholder:"DIR" type:"path" env:"KERFBOOK_MEMORY"`

	wasm []byte // compiled calculators; nil compiles them
}

// Run makes the edition beside the old one and exchanges the two.
func (c *publishCmd) Run(ctx context.Context, s *streams) error {
	start := time.Now()
	if healed, err := site.HealFolder(c.To); err != nil {
		return err
	} else if healed != "" {
		fmt.Fprintln(s.err, healed)
	}
	h, err := openWith(s, c.Content, c.Shop)
	if err != nil {
		return err
	}
	o := h.options()
	o.OneFile = c.OneFile
	o.Progress = s.progress
	if !c.Forget {
		o.Memory = remember(c.Memory)
	}
	draft, res, err := site.Prepare(o)
	if err != nil {
		return c.fail(s, res, err)
	}
	// The folder is looked at before the long work, so that a refusal comes at once.
	ed, err := site.OpenFolder(c.To, site.FolderOptions{Compress: c.Compress, Protect: h.folders()})
	if err != nil {
		return err
	}
	// Also after a failed Commit: an unfinished edition must not stay and fill the disk.
	defer func() {
		ed.Abort()
		for _, note := range ed.Notes() {
			fmt.Fprintln(s.err, note)
		}
	}()
	wasm := c.wasm
	if wasm == nil {
		if wasm, err = h.wasm(ctx, s); err != nil {
			return err
		}
	}
	if res, err = draft.Publish(ctx, wasm, ed); err != nil {
		return c.fail(s, res, err)
	}
	notKept(s, o.Memory)
	if err := ed.Commit(); err != nil {
		return err
	}
	s.progress("", 0, 0)
	_ = show(s, res)
	size := 0
	for _, f := range res.Edition.Files {
		size += f.Size
	}
	fmt.Fprintf(s.out, "%s: %d files, %.1f MB, revision %s of %s, check code %s, in %.1f s\n", c.To, len(res.Edition.Files)+1, float64(size)/1e6,
		res.Edition.Revision, res.Edition.Date, res.Edition.Digest[:10], time.Since(start).Seconds())
	fmt.Fprintf(s.out, "open %s in a browser", filepath.Join(c.To, "index.html"))
	if c.OneFile {
		fmt.Fprintf(s.out, "; for a tablet carry %s alone", filepath.Join(c.To, "handbook-one-file.html"))
	}
	fmt.Fprintln(s.out)
	return nil
}

func (c *publishCmd) fail(s *streams, res *site.Result, err error) error {
	if !errors.Is(err, site.ErrContent) {
		return err
	}
	s.progress("", 0, 0)
	if err := show(s, res); err != nil {
		return err
	}
	fmt.Fprintf(s.err, "nothing was published; %s is as it was\n", c.To)
	return errShown
}

// show prints the messages, if there are any.
func show(s *streams, res *site.Result) error {
	if res == nil || len(res.Messages) == 0 {
		return nil
	}
	return diag.Render(s.err, res.Messages, res.Texts, res.Pages)
}

// progress draws one line that overwrites itself when the output is a terminal.
func (s *streams) progress(step string, done, of int) {
	if !s.terminal {
		return
	}
	switch {
	case step == "":
		fmt.Fprint(s.err, "\r\x1b[K")
	case of == 0:
		fmt.Fprintf(s.err, "\r\x1b[K%s …", step)
	default:
		fmt.Fprintf(s.err, "\r\x1b[K%s %d of %d", step, done, of)
	}
}
