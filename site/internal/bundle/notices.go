package bundle

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Notices is the licence texts of everything that the command and the wasm of
// the module at dir link on any target: first Go's own, whose runtime and library
// are in both, then each module's, in the order of their names. It is an error if
// a module has no text.
func Notices(ctx context.Context, dir string) (string, error) {
	goroot, err := goTell(ctx, dir, "", "env", "GOROOT")
	if err != nil {
		return "", err
	}
	folders := map[string][]string{} // of a module with its version, those that may hold a text
	for _, t := range Targets() {
		// -e, since the calculators are laid among the sources by packing only.
		const form = "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}\t{{$.Dir}}{{end}}{{end}}"
		text, err := goTell(ctx, dir, t.goos+"/"+t.Processor, "list", "-e", "-deps", "-tags=packed", "-f", form, "./cmd/kerfbook")
		if err != nil {
			return "", err
		}
		for line := range strings.Lines(text) {
			part := strings.Split(strings.TrimSpace(line), "\t")
			if len(part) != 3 {
				continue
			}
			for _, f := range part[1:] {
				if !slices.Contains(folders[part[0]], f) {
					folders[part[0]] = append(folders[part[0]], f)
				}
			}
		}
	}
	var out strings.Builder
	if err := notice(&out, "Go, its runtime and its library", []string{strings.TrimSpace(goroot)}); err != nil {
		return "", err
	}
	var names []string
	for name := range folders {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		slices.Sort(folders[name])
		if err := notice(&out, name, folders[name]); err != nil {
			return "", err
		}
	}
	return out.String(), nil
}

// notice writes the texts found in the folders under a line that names whose they are.
func notice(out *strings.Builder, name string, folders []string) error {
	fmt.Fprintf(out, "==== %s\n\n", name)
	found := false
	for _, folder := range folders {
		files, err := os.ReadDir(folder)
		if err != nil {
			return fmt.Errorf("the licence of %s cannot be looked for: %w", name, err)
		}
		for _, f := range files {
			first, _, _ := strings.Cut(strings.ToUpper(f.Name()), ".")
			if f.IsDir() || !slices.Contains([]string{"LICENSE", "LICENCE", "COPYING", "NOTICE", "PATENTS"}, first) {
				continue
			}
			text, err := os.ReadFile(filepath.Join(folder, f.Name()))
			if err != nil {
				return fmt.Errorf("the licence of %s cannot be read: %w", name, err)
			}
			found = found || first != "NOTICE" && first != "PATENTS"
			fmt.Fprintf(out, "%s\n\n", bytes.TrimSpace(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))))
		}
	}
	if !found {
		return fmt.Errorf("%s has no licence text in %s", name, strings.Join(folders, ", "))
	}
	return nil
}

// goTell asks the toolchain, for a system such as linux/arm64 or, with "", for this one.
func goTell(ctx context.Context, dir, system string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = dir
	cmd.Env = append(cmd.Environ(), "GOWORK=off", "CGO_ENABLED=0")
	if goos, arch, ok := strings.Cut(system, "/"); ok {
		cmd.Env = append(cmd.Env, "GOOS="+goos, "GOARCH="+arch)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	text, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w: %s", args[0], err, bytes.TrimSpace(errs.Bytes()))
	}
	return string(text), nil
}
