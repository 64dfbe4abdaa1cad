package main

import (
	"context"
	"crypto/sha256"
	"debug/buildinfo"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"kerfbook/site"
	"kerfbook/wasm/spell"
)

type packCmd struct {
	To   string   `help:"Folder that will hold the programs." default:"packed" placeholder:"DIR"`
	Only []string `help:"Pack for this system only; may be given several times. There are ${systems}." placeholder:"SYSTEM"`
}

// errNoSources is told where there is nothing to pack from.
var errNoSources = errors.New("pack needs the source folder of Kerfbook and the Go toolchain: in that folder run go run ./cmd/kerfbook pack")

// systems lists what can be packed for, by name.
func systems() []string {
	var out []string
	for _, t := range site.Targets() {
		out = append(out, t.Name())
	}
	return out
}

// Run builds one program for each system, with the handbook and the calculators
// inside, and lists their digests.
func (c *packCmd) Run(ctx context.Context, s *streams) error {
	// A packed program is perhaps of other sources than the folder, and then has
	// other targets and other calculators; so it never packs.
	if s.inside != nil {
		return fmt.Errorf("this program is packed itself and carries no sources; %w", errNoSources)
	}
	targets, err := c.targets()
	if err != nil {
		return err
	}
	root, err := sourceRoot(".")
	if err != nil {
		return err
	}
	h := folder(filepath.Join(root, contentFolder))
	to, err := filepath.Abs(c.To)
	if err != nil {
		return err
	}
	if in, err := filepath.Rel(h.dir, to); err == nil && filepath.IsLocal(in) {
		return fmt.Errorf("cannot pack to %s: it lies in %s, which goes into the programs; choose a folder outside it", c.To, h.dir)
	}
	res, err := site.Check(h.options())
	if errors.Is(err, site.ErrContent) {
		if err := show(s, res); err != nil {
			return err
		}
		fmt.Fprintln(s.err, "nothing was packed")
		return errShown
	}
	if err != nil {
		return err
	}
	wasm, err := h.wasm(ctx, s)
	if err != nil {
		return err
	}
	if err := site.MakeFolder(to); err != nil {
		return err
	}
	var digests, modules strings.Builder
	for _, t := range targets {
		begin := time.Now()
		s.progress("building "+t.File(), 0, 0)
		name := filepath.Join(to, t.File())
		if err := site.BuildProgram(ctx, root, t, wasm, name); err != nil {
			return err
		}
		sum, size, err := digest(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(&digests, "%s  %s\n", sum, t.File())
		held, err := moduleList(name)
		if err != nil {
			return err
		}
		fmt.Fprintf(&modules, "%s\n%s\n", t.File(), held)
		s.progress("", 0, 0)
		fmt.Fprintf(s.out, "%s: %.1f MB, in %.1f s\n", t.File(), float64(size)/1e6, time.Since(begin).Seconds())
	}
	list := filepath.Join(to, "digests.txt")
	if err := site.ReplaceFile(list, []byte(digests.String())); err != nil {
		return err
	}
	if err := site.ReplaceFile(filepath.Join(to, "modules.txt"), []byte(modules.String())); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "their digests (sha256) stand in %s, what they are linked of in %s\n", filepath.Join(c.To, "digests.txt"), filepath.Join(c.To, "modules.txt"))
	return nil
}

// targets is the systems asked for, in the order of the table.
func (c *packCmd) targets() ([]site.Target, error) {
	if len(c.Only) == 0 {
		return site.Targets(), nil
	}
	asked := map[string]bool{}
	for _, name := range c.Only {
		asked[name] = true
	}
	var out []site.Target
	for _, t := range site.Targets() {
		if asked[t.Name()] {
			out = append(out, t)
			delete(asked, t.Name())
		}
	}
	for _, name := range c.Only {
		if !asked[name] {
			continue
		}
		text := "nothing is packed for " + name
		if near, ok := spell.Nearest(name, systems()); ok {
			return nil, errors.New(text + "; did you mean " + near + "?")
		}
		return nil, errors.New(text + "; there are " + strings.Join(systems(), ", "))
	}
	return out, nil
}

// sourceRoot finds the source folder that dir is in.
func sourceRoot(dir string) (string, error) {
	root, err := moduleRoot(dir)
	if errors.Is(err, errNoModule) {
		return "", errNoSources
	}
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	if first, _, _ := strings.Cut(string(text), "\n"); strings.TrimSpace(first) != "module kerfbook" {
		return "", fmt.Errorf("%s holds other sources; %w", root, errNoSources)
	}
	return root, nil
}

// digest reads a file that was built.
func digest(name string) (sum string, size int64, err error) {
	f, err := os.Open(name)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	h := sha256.New()
	if size, err = io.Copy(h, f); err != nil {
		return "", 0, err
	}
	return fmt.Sprintf("%x", h.Sum(nil)), size, nil
}

// moduleList is what a built program is linked of, as the linker wrote it there:
// Go with its version, then each module with its version and its digest as in go.sum.
func moduleList(name string) (string, error) {
	info, err := buildinfo.ReadFile(name)
	if err != nil {
		return "", fmt.Errorf("what %s is linked of cannot be read: %w", name, err)
	}
	var out strings.Builder
	fmt.Fprintf(&out, "  go %s\n", strings.TrimPrefix(info.GoVersion, "go"))
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		fmt.Fprintf(&out, "  %s %s %s\n", m.Path, m.Version, m.Sum)
	}
	return out.String(), nil
}
