package main

import (
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"kerfbook/site"
	"kerfbook/wasm/book"
	"kerfbook/wasm/catalog"
)

// carried is what a packed program has inside.
type carried struct {
	content, evidence fs.FS
	calculators       string // wasm, gzipped
	notices           string // licence texts of what is linked
}

// handbook is the content that a command works on, and what goes with it.
type handbook struct {
	dir               string // the content folder; "" when the handbook is the one inside
	content, evidence fs.FS
	shopDir           string // a shop's own folder, laid over the content; "" for none
	shop              fs.FS
	inside            *carried // nil when the program carries nothing
}

// openWith is open for a folder that must stand, with a shop's own laid over it.
func openWith(s *streams, named, shop string) (*handbook, error) {
	h, err := open(s, named)
	if err == nil {
		err = h.stands()
	}
	if err == nil {
		err = h.withShop(shop)
	}
	return h, err
}

// withShop lays a shop's own folder over the handbook.
func (h *handbook) withShop(dir string) error {
	shop, err := openShop(dir)
	h.shopDir, h.shop = dir, shop
	return err
}

// contentFolder is the folder that is looked for when none is named.
const contentFolder = "content"

// contentHelp explains --content; a packed program has one more place to look.
func contentHelp(in *carried) string {
	if in == nil {
		return "Folder of the handbook's content; if none is named, content."
	}
	return "Folder of the handbook's content; if none is named, content, and where there is none the handbook inside this program."
}

// open finds the handbook: the folder that was named, else the folder content
// here, else the one that the program carries. A program that carries one says
// which it took, since both are at hand.
func open(s *streams, named string) (*handbook, error) {
	dir := named
	if dir == "" {
		dir = contentFolder
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	h := folder(dir)
	h.inside = s.inside
	if s.inside == nil {
		return h, nil
	}
	if named == "" && h.stands() != nil {
		h.dir, h.content, h.evidence = "", s.inside.content, s.inside.evidence
		fmt.Fprintln(s.err, "using the handbook inside this program")
		return h, nil
	}
	fmt.Fprintf(s.err, "using the handbook in %s with the calculators inside this program\n", dir)
	return h, nil
}

// folder is the handbook of a content folder. Its evidence is the list of checks
// in testdata beside it, if one is there.
func folder(dir string) *handbook {
	return &handbook{dir: dir, content: os.DirFS(dir), evidence: os.DirFS(filepath.Join(filepath.Dir(dir), "testdata"))}
}

// stands says what to do when there is no such content folder.
func (h *handbook) stands() error {
	if h.dir == "" {
		return nil
	}
	if info, err := os.Stat(h.dir); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no content folder %s: run kerfbook in the folder that holds it, or name it with --content", h.dir)
	}
	return nil
}

// options is what the site is made of, but for the calculators' wasm.
func (h *handbook) options() site.Options {
	return site.Options{Content: h.content, Shop: h.shop, Toolchain: runtime.Version(), Calculators: catalog.New, Evidence: h.evidence}
}

// folders are those that are read and must not be written over.
func (h *handbook) folders() []string {
	var out []string
	for _, dir := range []string{h.dir, h.shopDir} {
		if dir != "" {
			out = append(out, dir)
		}
	}
	return out
}

// book reads the data tables, the shop's laid over them.
func (h *handbook) book(s *streams) (*book.Book, error) {
	if names, err := fs.Glob(h.content, "data/*.csv"); err != nil || len(names) == 0 {
		return nil, fmt.Errorf("there are no tables in %s: run kerfbook in the folder that holds content, or name it with --content", filepath.Join(h.dir, "data"))
	}
	b, res := site.Tables(h.content, h.shop)
	if b == nil {
		if err := show(s, res); err != nil {
			return nil, err
		}
		return nil, errShown
	}
	return b, nil
}

// wasm returns the calculators for the browser: those that the program carries,
// which are of the same sources as its own, or freshly compiled ones.
func (h *handbook) wasm(ctx context.Context, s *streams) ([]byte, error) {
	if h.inside != nil {
		r, err := gzip.NewReader(strings.NewReader(h.inside.calculators))
		if err == nil {
			var data []byte
			if data, err = io.ReadAll(r); err == nil {
				return data, nil
			}
		}
		return nil, fmt.Errorf("the calculators inside this program are damaged; copy the program anew: %w", err)
	}
	root, err := moduleRoot(h.dir)
	if err != nil {
		return nil, err
	}
	s.progress("compiling the calculators", 0, 0)
	return site.BuildWasm(ctx, root)
}

// errNoModule is what moduleRoot finds above a folder that is not among the sources.
var errNoModule = errors.New("run kerfbook in its own source folder")

// moduleRoot finds the folder with go.mod, where the calculators are compiled.
func moduleRoot(content string) (string, error) {
	dir, err := filepath.Abs(content)
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", fmt.Errorf("no go.mod stands in or above %s: %w", content, errNoModule)
		}
		dir = up
	}
}
