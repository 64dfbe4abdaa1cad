package bundle

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
)

// Target is a system that programs are packed for.
type Target struct {
	System, Processor string // in our words: macos, arm64
	goos              string
	extension         string
}

// Name is the word for it on the command line: "linux-amd64".
func (t Target) Name() string { return t.System + "-" + t.Processor }

// File is the name of its program.
func (t Target) File() string { return "kerfbook-" + t.Name() + t.extension }

// Here says whether this machine runs its program.
func (t Target) Here() bool { return t.goos == runtime.GOOS && t.Processor == runtime.GOARCH }

// Targets is everything that is packed for.
func Targets() []Target {
	return []Target{
		{"linux", "amd64", "linux", ""},
		{"linux", "arm64", "linux", ""},
		{"windows", "amd64", "windows", ".exe"},
		{"windows", "arm64", "windows", ".exe"},
		{"macos", "amd64", "darwin", ""},
		{"macos", "arm64", "darwin", ""},
	}
}

// laid is where the compiled calculators are laid among the sources, as
// cmd/kerfbook/inside_packed.go names them.
const laid = "cmd/kerfbook/calc.wasm.gz"

// laidNotices is the same for the licence texts.
const laidNotices = "cmd/kerfbook/notices.txt"

// Program builds kerfbook of the module at dir for a target into the file out,
// with the handbook and the compiled calculators inside. The same sources and
// toolchain give the same bytes, wherever the sources lie: no path, no time and
// nothing of the environment goes in.
func Program(ctx context.Context, dir string, t Target, wasm []byte, out string) error {
	tmp, err := os.MkdirTemp("", "kerfbook-pack-")
	if err != nil {
		return fmt.Errorf("a temporary folder for the programs cannot be made: %w", err)
	}
	defer os.RemoveAll(tmp)
	zipped := filepath.Join(tmp, "calc.wasm.gz")
	if err := os.WriteFile(zipped, pressed(wasm), 0o600); err != nil {
		return fmt.Errorf("the compiled calculators cannot be kept for the build: %w", err)
	}
	texts, err := Notices(ctx, dir)
	if err != nil {
		return err
	}
	notices := filepath.Join(tmp, "notices.txt")
	if err := os.WriteFile(notices, []byte(texts), 0o600); err != nil {
		return fmt.Errorf("the licence texts cannot be kept for the build: %w", err)
	}
	// The place among the sources is named from the folder the build runs in: a
	// full name would have to be spelt as the toolchain spells it, links and all.
	text, err := json.Marshal(map[string]any{"Replace": map[string]string{laid: zipped, laidNotices: notices}})
	if err != nil {
		return err
	}
	overlay := filepath.Join(tmp, "overlay.json")
	if err := os.WriteFile(overlay, text, 0o600); err != nil {
		return fmt.Errorf("the list of laid files cannot be kept for the build: %w", err)
	}
	// The environment decides nothing that the bytes depend on.
	env := []string{"GOOS=" + t.goos, "GOARCH=" + t.Processor, "GOAMD64=v1", "GOARM64=v8.0", "GOEXPERIMENT=", "GOFIPS140=off", "GOWORK=off"}
	return goBuild(ctx, dir, env, "kerfbook for "+t.Name()+" does not compile",
		"-tags=packed", "-overlay="+overlay, "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid="+buildID(t, wasm), "-o", out, "./cmd/kerfbook")
}

// buildID is empty, as nothing reads it, but for macOS: there the linker makes
// the program's UUID from it and leaves the UUID out without one, and the newer
// loaders are said to refuse such a program (from memory, place not seen). The
// calculators' digest serves: it is the same for the same sources.
func buildID(t Target, wasm []byte) string {
	if t.goos != "darwin" {
		return ""
	}
	return fmt.Sprintf("%x", sha256.Sum256(wasm))
}

// pressed gzips; its head has no name and no time.
func pressed(data []byte) []byte {
	var out bytes.Buffer
	w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression)
	_, _ = w.Write(data) // a bytes.Buffer never fails
	_ = w.Close()
	return out.Bytes()
}
