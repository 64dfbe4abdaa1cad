// Package packed tries the programs that `kerfbook pack` makes, as a shop's PC
// would run them: alone in a folder, with no environment and no network. It
// stands here and not in cmd/kerfbook because it builds several programs.
package packed

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"debug/buildinfo"
	"debug/macho"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"kerfbook/site"
	"kerfbook/site/record"
)

// TestPacked packs for this machine and for an office's PCs.
func TestPacked(t *testing.T) {
	at := slices.IndexFunc(site.Targets(), site.Target.Here)
	if at < 0 {
		t.Fatal("nothing is packed for this machine, so nothing can be tried")
	}
	here := site.Targets()[at]
	dir := t.TempDir()
	first := filepath.Join(dir, "first")
	pack(t, root(t), first, "", here.Name(), "windows-amd64", "macos-amd64")
	program := filepath.Join(first, here.File())

	t.Run("digests", func(t *testing.T) { digests(t, first) })
	t.Run("inside", func(t *testing.T) { inside(t, first) })
	t.Run("the same bytes from another folder", func(t *testing.T) { again(t, program, here) })
	t.Run("publish", func(t *testing.T) { publish(t, program) })
	t.Run("shop", func(t *testing.T) { shop(t, program) })
	t.Run("check", func(t *testing.T) { check(t, program) })
	t.Run("work", func(t *testing.T) { work(t, program) })
	t.Run("preview", func(t *testing.T) { preview(t, program) })
	t.Run("pack", func(t *testing.T) {
		_, errs, code := alone(t, t.TempDir(), program, "pack")
		if want := "kerfbook: this program is packed itself and carries no sources; pack needs the source folder of Kerfbook and the Go toolchain: in that folder run go run ./cmd/kerfbook pack\n"; code != 1 || errs != want {
			t.Errorf("exit %d, %q", code, errs)
		}
	})
}

func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// pack runs the command of a source folder; cache is a build cache of its own, or "".
func pack(t *testing.T, source, to, cache string, systems ...string) {
	t.Helper()
	args := []string{"run", "./cmd/kerfbook", "pack", "--to", to}
	for _, s := range systems {
		args = append(args, "--only", s)
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = source
	if cache != "" {
		cmd.Env = append(os.Environ(), "GOCACHE="+cache)
	}
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("pack: %v\n%s", err, out)
	} else {
		t.Logf("%s", out)
	}
}

// alone runs a program with no environment and no network.
func alone(t *testing.T, dir, program string, args ...string) (out, errs string, code int) {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir, cmd.Env = dir, []string{}
	var o, e bytes.Buffer
	cmd.Stdout, cmd.Stderr = &o, &e
	isolate(cmd)
	err := cmd.Run()
	if errors.Is(err, syscall.EPERM) { // root of a container that may not
		o.Reset()
		e.Reset()
		cmd = exec.Command(program, args...)
		cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = dir, []string{}, &o, &e
		err = cmd.Run()
	}
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		return o.String(), e.String(), exit.ExitCode()
	}
	if err != nil {
		t.Fatal(err)
	}
	return o.String(), e.String(), 0
}

// files reads a folder.
func files(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// digests: the list names every program with what it is.
func digests(t *testing.T, dir string) {
	all := files(t, dir)
	list := all["digests.txt"]
	delete(all, "digests.txt")
	for name := range all {
		if !strings.Contains(all["modules.txt"], name+"\n  go ") && name != "modules.txt" {
			t.Errorf("the list of modules lacks %s", name)
		}
	}
	delete(all, "modules.txt")
	if n := strings.Count(list, "\n"); n != len(all) || n != 3 {
		t.Errorf("%d lines for %d programs", n, len(all))
	}
	for name, data := range all {
		if line := fmt.Sprintf("%x  %s\n", sha256.Sum256([]byte(data)), name); !strings.Contains(list, line) {
			t.Errorf("the list lacks %s", line)
		}
	}
}

// inside: nothing of the tests and nothing of this machine goes in, and a macOS
// program has the UUID that its loader wants.
func inside(t *testing.T, dir string) {
	const loadUUID = 0x1b // LC_UUID
	for name, data := range files(t, dir) {
		if name == "digests.txt" || name == "modules.txt" {
			continue
		}
		info, err := buildinfo.Read(strings.NewReader(data))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, m := range info.Deps {
			for _, test := range []string{"chromedp", "wazero", "golang.org/x/net"} {
				if strings.Contains(m.Path, test) {
					t.Errorf("%s carries %s, which is for tests", name, m.Path)
				}
			}
		}
		for _, place := range []string{root(t), os.Getenv("HOME") + "/", os.TempDir() + "/kerfbook-pack-"} {
			if len(place) > 6 && // a shorter one may stand in anything
				strings.Contains(data, place) {
				t.Errorf("%s names %s", name, place)
			}
		}
		if !strings.Contains(name, "macos") {
			continue
		}
		m, err := macho.NewFile(strings.NewReader(data))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !slices.ContainsFunc(m.Loads, func(l macho.Load) bool { return m.ByteOrder.Uint32(l.Raw()) == loadUUID }) {
			t.Errorf("%s has no UUID", name)
		}
	}
}

// again packs from a copy of the sources in another folder. With
// KERFBOOK_FRESH set the copy is compiled with an empty build cache too: that
// takes minutes.
func again(t *testing.T, program string, here site.Target) {
	dir := filepath.Join(t.TempDir(), "copied sources")
	for _, name := range []string{"cmd", "content", "site", "wasm", "testdata"} {
		if err := os.CopyFS(filepath.Join(dir, name), os.DirFS(filepath.Join(root(t), name))); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"go.mod", "go.sum"} {
		data, err := os.ReadFile(filepath.Join(root(t), name))
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, name), data, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	cache := ""
	if os.Getenv("KERFBOOK_FRESH") != "" {
		cache = t.TempDir()
	}
	to := t.TempDir()
	pack(t, dir, to, cache, here.Name())
	one, err := os.ReadFile(program)
	if err != nil {
		t.Fatal(err)
	}
	two, err := os.ReadFile(filepath.Join(to, here.File()))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one, two) {
		t.Errorf("the same sources in two folders give two programs, of %d and %d bytes", len(one), len(two))
	}
}

// publish: the program alone makes the handbook that its sources make.
func publish(t *testing.T, program string) {
	dir := t.TempDir()
	out, errs, code := alone(t, dir, program, "publish", "--to", "handbook")
	if code != 0 || errs != "using the handbook inside this program\n" {
		t.Fatalf("exit %d\n%s%s", code, out, errs)
	}
	asOrdinary(t, filepath.Join(dir, "handbook"))
	if list, err := os.ReadDir(dir); err != nil || len(list) != 1 {
		t.Errorf("beside the handbook stand other files: %v, %v", list, err)
	}
}

// shop: in an empty folder the program writes the example of a shop's own folder
// and publishes that shop's edition, as the sources do.
func shop(t *testing.T, program string) {
	dir := t.TempDir()
	const inside = "using the handbook inside this program\n"
	out, errs, code := alone(t, dir, program, "begin", "ours")
	ours, example := files(t, filepath.Join(dir, "ours")), files(t, filepath.Join(root(t), "content", "shop"))
	if said := fmt.Sprintf("%d files of an invented shop written to %[2]s; change them into yours, then: kerfbook publish --shop %[2]s\n", len(example), filepath.Join(dir, "ours")); code != 0 || errs != inside || out != said || !maps.Equal(ours, example) {
		t.Fatalf("exit %d, %q %q\n%d files, the example has %d", code, out, errs, len(ours), len(example))
	}
	if out, errs, code = alone(t, dir, program, "publish", "--shop", "ours", "--to", "handbook"); code != 0 || errs != inside {
		t.Fatalf("exit %d\n%s%s", code, out, errs)
	}
	asOrdinary(t, filepath.Join(dir, "handbook"), "--shop", filepath.Join(root(t), "content", "shop"))
	if now := files(t, filepath.Join(dir, "ours")); !maps.Equal(now, example) {
		t.Error("publishing changed the shop's folder")
	}
	if list, err := os.ReadDir(dir); err != nil || len(list) != 2 {
		t.Errorf("beside the shop's folder and the handbook stand other files: %v, %v", list, err)
	}
}

// asOrdinary compares a published folder with what the sources publish.
func asOrdinary(t *testing.T, dir string, more ...string) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "handbook")
	cmd := exec.Command("go", append([]string{"run", "./cmd/kerfbook", "publish", "--to", to}, more...)...)
	cmd.Dir = root(t)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("publish: %v\n%s", err, said)
	}
	packed, ordinary := files(t, dir), files(t, to)
	for _, name := range slices.Sorted(maps.Keys(ordinary)) {
		if packed[name] != ordinary[name] {
			t.Errorf("%s differs from the ordinary publication, %d bytes for %d", name, len(packed[name]), len(ordinary[name]))
		}
	}
	if len(packed) != len(ordinary) || len(packed) < 100 {
		t.Errorf("%d files for %d", len(packed), len(ordinary))
	}
	a, errA := record.ReadFolder(os.DirFS(dir))
	b, errB := record.ReadFolder(os.DirFS(to))
	if errA != nil || errB != nil || a.Digest != b.Digest || !record.Compare(a, b).Same {
		t.Errorf("%v, %v: the records are not one edition", errA, errB)
	}
}

// check: the handbook inside is without fault, its evidence is there, and
// another content folder is read where one is named.
func check(t *testing.T, program string) {
	out, errs, code := alone(t, t.TempDir(), program, "check", "--count")
	if code != 0 || errs != "using the handbook inside this program\n" || !strings.Contains(out, "\noutside checks: ") || strings.Contains(out, "\noutside checks: 0\n") {
		t.Errorf("exit %d, %q\n%s", code, errs, out)
	}
	dir := t.TempDir()
	own := filepath.Join(dir, "own")
	if err := os.CopyFS(own, os.DirFS(filepath.Join(root(t), "content"))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(own, "first.md"), []byte("no front matter"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, errs, code = alone(t, dir, program, "check", "--content", "own")
	if head := "using the handbook in " + own + " with the calculators inside this program\n"; code != 1 || !strings.HasPrefix(errs, head) || !strings.Contains(errs, "first.md") {
		t.Errorf("exit %d, %q", code, errs)
	}
}

// work: the answer is the ordinary one.
func work(t *testing.T, program string) {
	question := []string{"work", "corner", "radius=3 thou", "wire=5 thou", "gap=3 to 10 µm"}
	out, errs, code := alone(t, t.TempDir(), program, question...)
	cmd := exec.Command("go", append([]string{"run", "./cmd/kerfbook"}, question...)...)
	cmd.Dir = root(t)
	ordinary, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if code != 0 || errs != "using the handbook inside this program\n" || out != string(ordinary) || out == "" {
		t.Errorf("exit %d, %q\n%s\nordinary:\n%s", code, errs, out, ordinary)
	}
}

// preview: the handbook inside is shown. It needs the loopback, so it is not
// isolated.
func preview(t *testing.T, program string) {
	cmd := exec.Command(program, "preview", "--port", "0")
	cmd.Dir, cmd.Env = t.TempDir(), []string{}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}()
	for lines := bufio.NewScanner(out); lines.Scan(); {
		_, rest, ok := strings.Cut(lines.Text(), "preview at ")
		if !ok {
			continue
		}
		address, _, _ := strings.Cut(rest, " ;")
		resp, err := http.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		body, _ := io.ReadAll(resp.Body)
		if resp.StatusCode != http.StatusOK || !strings.Contains(string(body), "<h1") {
			t.Errorf("%d\n%s", resp.StatusCode, body)
		}
		return
	}
	t.Error("the preview ended before it said its address")
}
