// Package bundle makes the published programs: the calculators as wasm from the
// Go toolchain, the page's host and style from TypeScript and CSS with
// esbuild's Go API. It is the only package that knows either. It may import
// esbuild and the standard library.
package bundle

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// Wasm builds the calculators of the module at dir as a wasip1 reactor and
// returns its bytes. The same sources and toolchain give the same bytes. Without
// inlining the bytes pack a tenth smaller, and an answer stays far below a frame;
// Slim takes a quarter of that.
func Wasm(ctx context.Context, dir string) ([]byte, error) {
	built, err := linked(ctx, dir)
	if err != nil {
		return nil, err
	}
	return Slim(built)
}

// linked is what the toolchain makes.
func linked(ctx context.Context, dir string) ([]byte, error) {
	tmp, err := os.MkdirTemp("", "kerfbook-wasm-")
	if err != nil {
		return nil, fmt.Errorf("a temporary folder for the calculators cannot be made: %w", err)
	}
	defer os.RemoveAll(tmp)
	out := filepath.Join(tmp, "calc.wasm")
	err = goBuild(ctx, dir, []string{"GOOS=wasip1", "GOARCH=wasm"}, "the calculators do not compile",
		"-buildmode=c-shared", "-trimpath", "-buildvcs=false", "-gcflags=all=-l", "-ldflags=-w -buildid=", "-o", out, "./wasm")
	if err != nil {
		return nil, err
	}
	built, err := os.ReadFile(out)
	if err != nil {
		return nil, fmt.Errorf("the compiled calculators cannot be read back: %w", err)
	}
	return built, nil
}

// goBuild runs the toolchain in dir; bad is what it means when that fails.
func goBuild(ctx context.Context, dir string, env []string, bad string, args ...string) error {
	cmd := exec.CommandContext(ctx, "go", append([]string{"build"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(append(os.Environ(), "GOFLAGS=-mod=readonly", "CGO_ENABLED=0"), env...)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	err := cmd.Run()
	if errors.Is(err, exec.ErrNotFound) {
		return errors.New("the Go toolchain is not on the path: the calculators are compiled when the handbook is published")
	}
	if err != nil {
		return fmt.Errorf("%s: %w\n%s", bad, err, strings.TrimSpace(said.String()))
	}
	return nil
}

// Packed returns bytes gzipped in base64, as a page opened from disk carries
// them: browsers decompress gzip, and a script file loads where fetch does not.
func Packed(data []byte) string {
	var zipped bytes.Buffer
	w, _ := gzip.NewWriterLevel(&zipped, gzip.DefaultCompression)
	_, _ = w.Write(data) // a bytes.Buffer never fails
	_ = w.Close()
	return base64.StdEncoding.EncodeToString(zipped.Bytes())
}
