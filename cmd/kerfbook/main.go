// Command kerfbook publishes the wire-EDM handbook and answers its calculators
// on the command line.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/alecthomas/kong"
)

// program is the command's words; the help is what a machinist reads.
type program struct {
	Publish publishCmd `cmd:"" help:"Make the whole handbook: a folder of pages that works from disk, with no server."`
	Preview previewCmd `cmd:"" help:"Show the handbook in a browser on this computer and refresh it when a file is saved."`
	Begin   beginCmd   `cmd:"" help:"Begin a shop's own folder: writes the example of an invented shop, to be changed."`
	Check   checkCmd   `cmd:"" help:"Look for everything that can be wrong in the content, and say where."`
	Pack    packCmd    `cmd:"" help:"Make programs that carry the handbook inside: one file for a PC with no Go and no network."`
	Changes changesCmd `cmd:"" help:"Say what moved between two published editions, for the person who signs."`
	Current currentCmd `cmd:"" help:"Say by the check code of a print whether its sheet is still current: kerfbook current 3f0a2-9c41e published."`
	Notices noticesCmd `cmd:"" help:"Print the licences of everything that this program and its pages hold of others."`
	Work    workCmd    `cmd:"" help:"Answer one calculator here: kerfbook work corner radius=\"3 thou\" wire=\"0.1 mm\"."`
}

// streams are where a command reads and writes; tests give their own.
type streams struct {
	out, err io.Writer
	in       *os.File // standard input; nil for none
	terminal bool     // progress may be drawn
	inside   *carried // what this program carries; nil for nothing
}

// errShown ends the command with exit code 1 after its messages were printed.
var errShown = errors.New("")

func main() { os.Exit(runWith(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is runWith with nothing on standard input.
func run(args []string, out, errs io.Writer) int { return runWith(args, nil, out, errs) }

func runWith(args []string, stdin *os.File, out, errs io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	var p program
	code, exited := 0, false
	in := inside()
	parser, err := kong.New(&p, kong.Name("kerfbook"), kong.Description("The wire-EDM process handbook that computes."),
		kong.Writers(out, errs), kong.Exit(func(c int) { code, exited = c, true }), kong.UsageOnError(),
		kong.Vars{"content": contentHelp(in), "memory": memoryHelp, "systems": strings.Join(systems(), ", ")},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		_, _ = io.WriteString(errs, "kerfbook: "+err.Error()+"\n")
		return 2
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	k, err := parser.Parse(args)
	if exited {
		return code
	}
	if err != nil {
		_, _ = io.WriteString(errs, "kerfbook: "+err.Error()+"; see kerfbook --help\n")
		return 2
	}
	s := &streams{out: out, err: errs, in: stdin, terminal: isTerminal(errs), inside: in}
	k.BindTo(ctx, (*context.Context)(nil))
	if err := k.Run(s); err != nil {
		if code, is := errors.AsType[exitCode](err); is {
			return int(code)
		}
		if !errors.Is(err, errShown) {
			_, _ = io.WriteString(errs, "kerfbook: "+err.Error()+"\n")
		}
		return 1
	}
	return code
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
