// Command verify passes every test of the project and installs what they need.
// CI runs it and nothing else.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"

	"github.com/alecthomas/kong"
)

type options struct {
	Only      []string `help:"Run only these steps." placeholder:"STEP"`
	NoInstall bool     `help:"Install nothing, even as root."`
	List      bool     `help:"List the steps and end."`
	All       bool     `help:"Run seeded sweeps whole, not their fixed tenth."`
}

// runner runs programs; tests give a false one.
type runner interface {
	// run streams a program's output to out and returns its error.
	run(ctx context.Context, out io.Writer, env []string, name string, args ...string) error
	has(program string) bool
	root() bool
}

type system struct{}

func (system) run(ctx context.Context, out io.Writer, env []string, name string, args ...string) error {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Env = append(append(os.Environ(), asPacked(os.Getenv("GOFLAGS"))...), env...)
	cmd.Stdout, cmd.Stderr = out, out
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

// asPacked makes the toolchain compile as it does for a packed program: without
// C and without paths. So what is tested is what a shop gets, and packing finds
// it compiled: on two cores that is two minutes for each system.
func asPacked(flags string) []string {
	return []string{"CGO_ENABLED=0", strings.TrimRight("GOFLAGS=-trimpath "+flags, " ")}
}

func (system) has(program string) bool {
	if filepath.IsAbs(program) { // a file that a package brings, perhaps with more in its name
		list, err := filepath.Glob(program)
		return err == nil && len(list) > 0
	}
	_, err := exec.LookPath(program)
	return err == nil
}

func (system) root() bool { return os.Geteuid() == 0 }

func main() {
	var o options
	kong.Parse(&o, kong.Name("verify"), kong.Description("Pass every test of Kerfbook, installing what the tests need."))
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := verify(ctx, os.Stdout, system{}, o)
	stop()
	os.Exit(code)
}
